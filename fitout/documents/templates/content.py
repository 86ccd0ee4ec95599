"""What of a part is worth a template: fittings' holes, and edges that no straightedge draws.

Straight edges are drawn with a rule. What is left are holes, arcs, slanting edges' ends, notches,
openings and pockets. Screw holes along a joint need no precision: a gauge line and distances
serve. So they are shown where tiles are made anyway, a part that has nothing else gets no
template, and what lies on no tile is told by its distances.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from fitout.cutting.cut_list import CutLine
from fitout.model.outline import Loop, Vertex, arc_of
from fitout.model.panel import Hole, Panel

JOINT = frozenset({"screw"})
"""What modules call the holes of the screws that hold a joint."""

STEP = 20.0
"""Arcs and short slanting edges are looked at in points this far apart at most, mm."""

SHORT = 120.0
"""A straight edge longer than this is drawn from end to end with a straightedge."""

NOTCH = 60.0
"""A side longer than this that runs square to the part's edges is drawn with rule and square."""

CLOSE = 1e-3
FLAT_ARC, SMALL_ARC = 1.0, 12.0
"""An arc that rises less over its chord, or rounds a corner by less, needs no template, mm."""

Span = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y."""

HOLE_AROUND = 9.0
LINE_AROUND = 5.0
"""Room shown around a hole's edge and a contour, mm."""


@dataclass(frozen=True, slots=True)
class Content:
    """What of a part is to be shown, as small boxes: contours, and single holes."""

    contours: tuple[Span, ...]
    holes: tuple[Span, ...]

    @property
    def spans(self) -> tuple[Span, ...]:
        """All of them."""
        return (*self.contours, *self.holes)


def content(line: CutLine) -> Content:
    """What a hand builder needs a template for."""
    panel = line.panel
    holes = [_hole(hole) for hole in panel.holes if hole.purpose not in JOINT]
    contours = dict.fromkeys((*_contours(panel), *_pockets(panel)))
    return Content(tuple(contours), tuple(dict.fromkeys(holes)))


def _hole(hole: Hole) -> Span:
    reach = hole.diameter / 2.0 + HOLE_AROUND
    return hole.x - reach, hole.y - reach, hole.x + reach, hole.y + reach


def _contours(panel: Panel) -> Iterator[Span]:
    bounds = panel.outline.bounds
    yield from _edge(panel.outline.outer, bounds)
    for loop in panel.outline.inner:
        yield from _edge(loop, None)


def _pockets(panel: Panel) -> Iterator[Span]:
    """Pockets that do not run from edge to edge as a groove does."""
    x0, y0, x1, y1 = panel.outline.bounds
    for pocket in panel.pockets:
        a, b, c, d = pocket.loop.bounds
        if (a <= x0 + CLOSE and c >= x1 - CLOSE) or (b <= y0 + CLOSE and d >= y1 - CLOSE):
            continue
        yield from _edge(pocket.loop, None)


def _edge(loop: Loop, bounds: Span | None) -> Iterator[Span]:
    """Points of a loop to show: of an outline only what is not on its bounding rectangle."""
    for a, b in loop.segments():
        if _is_arc(a, b):
            arc = arc_of(a, b)
            if arc.radius < SMALL_ARC and not _round(loop):
                continue
            count = max(2, math.ceil(abs(arc.sweep) * arc.radius / STEP))
            for i in range(count + 1):
                yield _around(*arc.at(arc.start + arc.sweep * i / count))
            continue
        if bounds is not None and _on(a, b, bounds):
            continue
        length = math.hypot(b.x - a.x, b.y - a.y)
        if length > NOTCH and min(abs(b.x - a.x), abs(b.y - a.y)) < CLOSE:
            continue
        count = math.ceil(length / STEP) if length <= SHORT else 1
        for i in range(count + 1):
            yield _around(a.x + (b.x - a.x) * i / count, a.y + (b.y - a.y) * i / count)


def _round(loop: Loop) -> bool:
    """Whether a loop has no straight side: a small bore that is no hole to drill."""
    return all(vertex.bulge for vertex in loop.vertices)


def _is_arc(a: Vertex, b: Vertex) -> bool:
    return abs(a.bulge) * math.hypot(b.x - a.x, b.y - a.y) / 2.0 >= FLAT_ARC


def _on(a: Vertex, b: Vertex, bounds: Span) -> bool:
    """Whether a straight segment lies on the bounding rectangle."""
    across = any(abs(a.x - x) < CLOSE and abs(b.x - x) < CLOSE for x in (bounds[0], bounds[2]))
    along = any(abs(a.y - y) < CLOSE and abs(b.y - y) < CLOSE for y in (bounds[1], bounds[3]))
    return across or along


def _around(x: float, y: float) -> Span:
    return x - LINE_AROUND, y - LINE_AROUND, x + LINE_AROUND, y + LINE_AROUND
