"""What a tile is laid by: the part's straight edges, and crosses at round distances from them."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import Literal, get_args

from fitout.documents.templates.clip import clipped, encloses, ring
from fitout.documents.templates.cuttings import OVERLAP, Cutting
from fitout.documents.wording import INCH, Wording
from fitout.model.outline import Point
from fitout.model.panel import Panel

CROSS = 3.0
"""Half length of a cross's strokes, mm."""

LEAST_EDGE = 15.0
"""A shorter stretch of straight edge is none to lay a tile on, mm."""

Edge = Literal["left", "right", "lower", "upper"]
EDGES: tuple[Edge, ...] = get_args(Edge)


def edges_in(panel: Panel, cutting: Cutting) -> tuple[Edge, ...]:
    """The straight edges of the part's bounding rectangle that a cutting shows a stretch of."""
    return tuple(edge for edge in EDGES if any(stretches(panel, cutting, edge)))


def stretches(panel: Panel, cutting: Cutting, edge: Edge) -> Iterator[tuple[Point, Point]]:
    """Straight stretches of one of them, long enough to lay a tile by."""
    x0, y0, x1, y1 = panel.outline.bounds
    level = {"left": x0, "right": x1, "lower": y0, "upper": y1}[edge]
    axis = 0 if edge in ("left", "right") else 1
    for a, b in panel.outline.outer.segments():
        ends = ((a.x, a.y), (b.x, b.y))
        if a.bulge or any(abs(end[axis] - level) > 1e-6 for end in ends):
            continue
        for seen in clipped(ends, cutting.span):
            if math.dist(seen[0], seen[-1]) >= LEAST_EDGE:
                yield seen[0], seen[-1]


def crosses(cutting: Cutting, panel: Panel, words: Wording) -> tuple[Point, ...]:
    """Where a cutting's crosses lie: half centimetres, or quarter inches, from the datum corner.

    Two stand in each overlap; at an end that overlaps with nothing only where the cutting shows
    no edges in both directions to lay it by.
    """
    edges = edges_in(panel, cutting)
    located = any(e in edges for e in EDGES[:2]) and any(e in edges for e in EDGES[2:])
    k = 1 if cutting.upright else 0
    low, high = cutting.span[k], cutting.span[k + 2]
    ends = []
    if cutting.follows:
        ends.append((low, low + OVERLAP))
    elif not located:
        ends.append((low + 3.0, low + 28.0))
    if cutting.goes_on:
        ends.append((high - OVERLAP, high))
    elif not located:
        ends.append((high - 28.0, high - 3.0))
    step = INCH / 4.0 if words.unit == "in" else 5.0
    rings = [ring(loop) for loop in (panel.outline.outer, *panel.outline.inner)] if ends else []
    found: list[Point] = []
    for end in ends:
        found += _pair(end, cutting, panel, step, rings)
    return tuple(dict.fromkeys(found))


def _pair(
    end: tuple[float, float],
    cutting: Cutting,
    panel: Panel,
    step: float,
    rings: Sequence[tuple[Point, ...]],
) -> Iterator[Point]:
    """Two crosses within a stretch along the band, as far apart across it as can be."""
    k = 1 if cutting.upright else 0
    bounds = panel.outline.bounds
    along = _round_values((end[0] + CROSS, end[1] - CROSS), (bounds[k], bounds[k + 2]), step)
    within = (cutting.span[1 - k] + CROSS, cutting.span[3 - k] - CROSS)
    across = _round_values(within, (bounds[1 - k], bounds[3 - k]), step)
    middle = sum(end) / 2.0
    along.sort(key=lambda value: abs(value - middle))
    taken: list[float] = []
    for wanted in (across, across[::-1]):
        for b, a in itertools.product(wanted, along):
            point = (b, a) if cutting.upright else (a, b)
            if b not in taken and _free(point, panel, rings):
                taken.append(b)
                yield point
                break


def _round_values(
    within: tuple[float, float], bounds: tuple[float, float], step: float
) -> list[float]:
    """Round distances from the datum that lie in a stretch and on the part."""
    low, high = max(within[0], bounds[0] + 2.0), min(within[1], bounds[1] - 2.0)
    first, last = math.ceil((low - bounds[0]) / step), math.floor((high - bounds[0]) / step)
    return [bounds[0] + i * step for i in range(first, last + 1)]


def _free(point: Point, panel: Panel, rings: Sequence[tuple[Point, ...]]) -> bool:
    """Whether a cross there lies on the part, and meets no hole and no contour."""
    clear = CROSS + 1.0
    if any(math.dist(point, (h.x, h.y)) <= h.diameter / 2.0 + clear for h in panel.holes):
        return False
    outer, *inner = rings
    if not encloses(outer, point) or any(encloses(hollow, point) for hollow in inner):
        return False
    around = (point[0] - clear, point[1] - clear, point[0] + clear, point[1] + clear)
    return not any(clipped((*one, one[0]), around) for one in rings)
