"""Parts by their true outline, and where two of them may not lie: for the router's nesting.

A part is grown by half the gap that must lie between parts, so that grown parts which touch
lie at least one gap apart. Its arcs become chords on the outer side, so what is grown holds
the part. It is cut into convex pieces; where one part may not lie beside another is the sum
of the pieces of one and the mirrored pieces of the other (the no-fit polygon, Minkowski sum
by convex pieces), holes kept: a small part may lie in a cut-out of a large one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from fitout.clearance.convex import convex_polygons, eased
from fitout.cutting.cut_list import CutLine
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

Area = Any
"""A shapely geometry, whose package carries no types."""


@dataclass(frozen=True, slots=True, eq=False)
class Shape:
    """A part in one turn, the lower left corner of its true bounding rectangle at the origin.

    `length` and `width` are the true extents, `pieces` the grown part in convex pieces, each
    of shape (n, 2).
    """

    quarter_turns: int
    length: float
    width: float
    pieces: tuple[Array, ...]


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
        found.append(Shape(quarters, length, width, convex_pieces(solid)))
    return tuple(found)


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
    if len(there.pieces) == len(here.pieces) == 1:
        return _sum(there.pieces[0], here.pieces[0])
    return shapely.union_all([_sum(a, b) for a in there.pieces for b in here.pieces])


def _sum(there: Array, here: Array) -> Area:
    """The Minkowski sum of a convex polygon and another one mirrored at the origin."""
    return shapely.convex_hull(
        shapely.multipoints((there[:, None, :] - here[None, :, :]).reshape(-1, 2))
    )


class Barred:
    """What `barred` gives for each pair of shapes, worked out once; lives for one search."""

    def __init__(self, shapes: Sequence[Shape]) -> None:
        self.shapes = shapes
        self._known: dict[tuple[int, int], Area] = {}

    def between(self, there: int, here: int) -> Area:
        """Where shape number `here` may not lie beside shape number `there`."""
        key = (there, here)
        if key not in self._known:
            self._known[key] = barred(self.shapes[there], self.shapes[here])
        return self._known[key]


def shifted(area: Area, x: float, y: float) -> Area:
    """The area moved by (x, y)."""
    return shapely.transform(area, lambda points: points + np.array([x, y]))


def _narrow_side(bounds: tuple[float, float, float, float]) -> float:
    x0, y0, x1, y1 = bounds
    return min(x1 - x0, y1 - y0)
