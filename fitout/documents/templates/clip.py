"""What of a line or a loop lies within a rectangle, and what a loop encloses."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence

from fitout.documents.templates.content import Span
from fitout.model.outline import Loop, Point

SAGITTA = 0.02
"""Arcs are drawn as chords that are nowhere further from them, mm."""


def ring(loop: Loop) -> tuple[Point, ...]:
    """The loop's points, arcs by chords; the first is not repeated."""
    return tuple((float(x), float(y)) for x, y in loop.chords(grows=False, sagitta=SAGITTA))


def encloses(corners: Sequence[Point], point: Point) -> bool:
    """Whether a point lies in a polygon, by counting the sides to its right."""
    x, y = point
    crossed = 0
    for (ax, ay), (bx, by) in zip(corners, (*corners[1:], corners[0]), strict=True):
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            crossed += 1
    return crossed % 2 == 1


def inside(point: Point, span: Span) -> bool:
    """Whether a point lies in a rectangle or on its edge."""
    return span[0] <= point[0] <= span[2] and span[1] <= point[1] <= span[3]


def clipped(points: Iterable[Point], span: Span) -> list[tuple[Point, ...]]:
    """What of a line from point to point lies in a rectangle (Liang and Barsky's way)."""
    pieces: list[list[Point]] = []
    for a, b in itertools.pairwise(points):
        part = _clip(a, b, span)
        if part is None:
            continue
        if pieces and pieces[-1][-1] == part[0]:
            pieces[-1].append(part[1])
        else:
            pieces.append(list(part))
    return [tuple(piece) for piece in pieces]


def _clip(a: Point, b: Point, span: Span) -> tuple[Point, Point] | None:
    enter, leave = 0.0, 1.0
    dx, dy = b[0] - a[0], b[1] - a[1]
    for step, room in (
        (-dx, a[0] - span[0]),
        (dx, span[2] - a[0]),
        (-dy, a[1] - span[1]),
        (dy, span[3] - a[1]),
    ):
        if step == 0.0:
            if room < 0.0:
                return None
        elif step < 0.0:
            enter = max(enter, room / step)
        else:
            leave = min(leave, room / step)
    if enter >= leave:
        return None
    first = a if enter == 0.0 else (a[0] + enter * dx, a[1] + enter * dy)
    last = b if leave == 1.0 else (a[0] + leave * dx, a[1] + leave * dy)
    return first, last
