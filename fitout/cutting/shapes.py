"""Parts by their true outline, and where two of them may not lie: for the router's nesting.

A part is grown by half the gap that must lie between parts, so that grown parts which touch
lie at least one gap apart. Its arcs become chords on the outer side, so what is grown holds
the part. It is cut into convex pieces; where one part may not lie beside another is the sum
of the pieces of one and the mirrored pieces of the other (the no-fit polygon, Minkowski sum
by convex pieces), holes kept: a small part may lie in a cut-out of a large one.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import shapely

from fitout.clearance.convex import convex_polygons, eased
from fitout.cutting.cut_list import CutLine
from fitout.cutting.fits import Size
from fitout.model.outline import Outline
from fitout.model.placement import Array

SAGITTA = 0.2
"""How far (mm) the chords may stand off an arc, always away from the material."""

EASED = 0.5
"""Hollows shallower than this (mm) are filled: far fewer convex pieces."""

SNUG = 2e-5
"""Parts are grown by so much less (mm), that exact fits are found: less than the judge lets
pass."""

ROUND = 0.004
"""Parts with arcs are grown by so much more (mm): the judge takes chords that far outside."""

MITRE = 1.5
"""Right angles stay square when grown; sharper corners are cut off beyond their round."""

CLOSE = 1e-6
"""How much rounding may add to an extent, mm."""

Area = Any
"""A shapely geometry, whose package carries no types."""

Box = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y."""


@dataclass(frozen=True, eq=False)
class Shape:
    """A part in one turn, the lower left corner of its true bounding rectangle at the origin.

    Without slots, for caching. `length` and `width` are the true extents, `pieces` the grown
    part in convex pieces, each of shape (n, 2); `filled` are those of the grown part without
    its cut-outs, `hollows` the extents of these.
    """

    quarter_turns: int
    length: float
    width: float
    pieces: tuple[Array, ...]
    filled: tuple[Array, ...]
    hollows: tuple[Size, ...]

    @cached_property
    def box(self) -> Box:
        """The rectangle around the grown part."""
        corners = np.concatenate(self.filled)
        (x0, y0), (x1, y1) = corners.min(axis=0).tolist(), corners.max(axis=0).tolist()
        return x0, y0, x1, y1

    def beside(self, other: Shape) -> tuple[Array, ...]:
        """Pieces to hold another part against: cut-outs that are too small for it are filled."""
        x0, y0, x1, y1 = other.box
        hold = any(x1 - x0 < a + CLOSE and y1 - y0 < b + CLOSE for a, b in self.hollows)
        return self.pieces if hold else self.filled


def grown(outline: Outline, gap: float, least: float = 0.0) -> Area:
    """The outline grown by half the gap; cut-outs narrower than `least` are filled.

    Where the outline isn't simple, shapely may raise or give a part of it: ask
    `fitout.cutting.simple` first.
    """
    holes = [
        loop.chords(grows=False, sagitta=SAGITTA)
        for loop in outline.inner
        if _narrow_side(loop.bounds) >= least + gap
    ]
    solid = shapely.Polygon(outline.outer.chords(grows=True, sagitta=SAGITTA), holes)
    arcs = any(v.bulge for loop in (outline.outer, *outline.inner) for v in loop.vertices)
    by = gap / 2.0 + (ROUND if arcs else -SNUG)
    return solid.buffer(by, join_style="mitre", mitre_limit=MITRE)


def shapes_of(line: CutLine, gap: float, least: float) -> tuple[Shape, ...]:
    """The part in every turn its grain allows that makes a difference.

    `least` is the narrow side of the smallest part there is: narrower cut-outs hold none.
    """
    turns = (0, 2) if line.grain_locked else (0, 1, 2, 3)
    found: list[Shape] = []
    known: list[Area] = []
    for quarters in turns:
        turned = line.panel.outline.turned(quarters)
        x0, y0, _, _ = turned.bounds
        turned = turned.moved(-x0, -y0)
        solid = grown(turned, gap, least)
        if any(solid.symmetric_difference(k).area < SAGITTA * solid.length for k in known):
            continue
        known.append(solid)
        length, width = turned.size
        found.append(_shape(quarters, (length, width), solid))
    return tuple(found)


def _shape(quarters: int, size: Size, solid: Area) -> Shape:
    pieces = convex_pieces(solid)
    rings = shapely.get_rings(solid)
    if shapely.get_num_geometries(solid) > 1 or len(rings) == 1:
        return Shape(quarters, *size, pieces, pieces, ())
    spans = (shapely.bounds(ring) for ring in rings[1:])
    hollows = tuple((float(x1 - x0), float(y1 - y0)) for x0, y0, x1, y1 in spans)
    return Shape(quarters, *size, pieces, convex_pieces(shapely.Polygon(rings[0])), hollows)


def convex_pieces(solid: Area) -> tuple[Array, ...]:
    """Convex polygons, each shape (n, 2), that together hold the solid."""
    pieces: list[Array] = []
    for part in shapely.get_parts(shapely.orient_polygons(solid)):
        rings = [part.exterior, *part.interiors]
        loops = [eased(shapely.get_coordinates(ring)[:-1], EASED) for ring in rings]
        pieces += convex_polygons([loop for loop in loops if len(loop) > 2])
    return tuple(pieces)


def barred(there: Shape, here: Shape) -> Area:
    """Where the origin of `here` may not lie while that of `there` lies at (0, 0)."""
    return _barred([there], here)[0]


def _barred(others: Sequence[Shape], here: Shape) -> list[Area]:
    """What `barred` gives for each of several shapes that may be there."""
    corners: list[Array] = []
    ends = [0]
    for there in others:
        mine = here.beside(there)
        corners += [
            (a[:, None, :] - b[None, :, :]).reshape(-1, 2) for a in there.beside(here) for b in mine
        ]
        ends.append(len(corners))
    # The Minkowski sums of convex polygons and others mirrored at the origin, every pair's:
    # the hulls of some lines through what their corners add up to.
    pair = np.repeat(np.arange(len(corners)), [len(points) for points in corners])
    lines = shapely.linestrings(np.concatenate(corners), indices=pair)
    sums = shapely.convex_hull(lines)
    return [
        sums[i] if j - i == 1 else shapely.union_all(sums[i:j]) for i, j in itertools.pairwise(ends)
    ]


class Barred:
    """What `barred` gives for each pair of shapes, worked out once; lives for one search."""

    def __init__(self, shapes: Sequence[Shape]) -> None:
        self.shapes = shapes
        self._known: dict[tuple[int, int], tuple[Area, Array]] = {}
        self._boxes = [shape.box for shape in shapes]

    def beyond(self, there: int, here: int, box: Box) -> bool:
        """Whether all that is barred lies outside a box; quickly told."""
        (x0, y0, x1, y1), (u0, v0, u1, v1) = self._boxes[there], self._boxes[here]
        left, low, right, top = box
        return x1 - u0 < left or x0 - u1 > right or y1 - v0 < low or y0 - v1 > top

    def beside(self, lain: Sequence[tuple[int, float, float]], here: int) -> list[Area]:
        """Where shape number `here` may not lie beside others: each one's number and origin."""
        new = {there for there, _, _ in lain if (there, here) not in self._known}
        if new:
            self._learn(sorted(new), here)
        found = [self._known[there, here] for there, _, _ in lain]
        moved = np.array([area for area, _ in found], dtype=object)
        corners = [points for _, points in found]
        origins = np.array([(x, y) for _, x, y in lain])
        shifts = np.repeat(origins, [len(points) for points in corners], axis=0)
        shapely.set_coordinates(moved, np.concatenate(corners) + shifts)
        return list(moved)

    def _learn(self, new: Sequence[int], here: int) -> None:
        """Work out what is barred by others at the origin, and the corners of that."""
        areas = _barred([self.shapes[there] for there in new], self.shapes[here])
        for there, area in zip(new, areas, strict=True):
            self._known[there, here] = area, shapely.get_coordinates(area)


def _narrow_side(bounds: tuple[float, float, float, float]) -> float:
    x0, y0, x1, y1 = bounds
    return min(x1 - x0, y1 - y0)
