"""What room marks take on a sheet, and which texts lie on something else.

A text's room is its own rectangle, turned as it is; a line has none of its own, so a text
is on it when the line enters the text's rectangle. Filled areas count where they are arrow
heads (layer `DIMENSION` or `LEADER`); others are grounds that are written on.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import lru_cache

from fitout.documents.paper.fonts import text_width
from fitout.documents.paper.marks import Arc, Area, Mark, Stroke, Text
from fitout.model.outline import Point

Box = tuple[float, float, float, float]
"""Left, bottom, right, top, mm."""

Shape = tuple[Point, ...]
"""Corners of a convex polygon; two for a straight line."""

DESCENDING = frozenset("gjpqyQ,;()[]{}/|@$_")
DESCENT, ASCENT = 0.33, 1.05
"""How far letters reach below the baseline and above it, of the height of capitals; the font's
accents on capitals reach higher and may."""

CELL = 8.0
"""Width of the squares that obstacles are looked up by, mm."""

CHORD_DEG = 12.0
"""Arcs count as chords of so many degrees."""

HEADS = frozenset({"DIMENSION", "LEADER"})


def text_shape(text: Text, around: float = 0.0) -> Shape:
    """The corners of a text's rectangle, grown by `around` mm on each side."""
    width = text_width(text.text, text.height, bold=text.bold)
    left = {"left": 0.0, "middle": -width / 2.0, "right": -width}[text.anchor]
    low = -DESCENT * text.height if DESCENDING.intersection(text.text) else 0.0
    x0, x1 = left - around, left + width + around
    y0, y1 = low - around, ASCENT * text.height + around
    cos, sin = math.cos(math.radians(text.turned)), math.sin(math.radians(text.turned))
    return tuple(
        (text.at[0] + x * cos - y * sin, text.at[1] + x * sin + y * cos)
        for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    )


def lines_of(mark: Mark) -> Iterator[Shape]:
    """The straight lines a mark is made of, arcs by chords; arrow heads as polygons."""
    match mark:
        case Stroke(points, _, closed):
            ends = (*points, points[0]) if closed else points
            yield from itertools.pairwise(ends)
        case Arc(centre, radius, start, end):
            (x, y), turns = centre, _turns(start, end)
            yield from itertools.pairwise([(x + radius * c, y + radius * s) for c, s in turns])
        case Area(rings, _, layer) if layer in HEADS:
            yield from rings
        case _:
            return


@lru_cache(maxsize=256)
def _turns(start: float, end: float) -> tuple[Point, ...]:
    """Where an arc's chords end on a circle of radius 1."""
    count = max(1, math.ceil((end - start) / CHORD_DEG))
    angles = [math.radians(start + (end - start) * i / count) for i in range(count + 1)]
    return tuple((math.cos(a), math.sin(a)) for a in angles)


def bounds(shapes: Iterable[Shape]) -> Box:
    """The rectangle around all of them; a box of no size at the origin around none."""
    points = tuple(point for shape in shapes for point in shape)
    return box_of(points) if points else (0.0, 0.0, 0.0, 0.0)


def box_of(shape: Shape) -> Box:
    """The rectangle around points, of which there is at least one."""
    if len(shape) == 2:
        (ax, ay), (bx, by) = shape
        return (
            ax if ax < bx else bx, ay if ay < by else by,
            bx if ax < bx else ax, by if ay < by else ay,
        )  # fmt: skip
    xs, ys = zip(*shape, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def extent(marks: Iterable[Mark]) -> Box:
    """The rectangle around marks: their lines, areas and texts, not their lines' width."""
    shapes: list[Shape] = []
    for mark in marks:
        if isinstance(mark, Text):
            shapes.append(text_shape(mark))
        elif isinstance(mark, Area):
            shapes.extend(mark.rings)
        else:
            shapes.extend(lines_of(mark))
    return bounds(shapes)


def apart(one: Shape, other: Shape) -> bool:
    """Whether two convex polygons or lines have no point in common (separating axes)."""
    left, bottom, right, top = box_of(one)
    far_left, far_bottom, far_right, far_top = box_of(other)
    if right < far_left or far_right < left or top < far_bottom or far_top < bottom:
        return True
    return _parted(one, other)


def _parted(one: Shape, other: Shape) -> bool:
    """The same where their boxes overlap."""
    # A line's own axes part it from most that its box meets, so it comes first.
    if len(other) == 2:
        one, other = other, one
    return _parts(one, other) or _parts(other, one)


def _parts(shape: Shape, other: Shape) -> bool:
    """Whether a side of a shape parts it from the other, or a line's direction does."""
    if len(shape) == 2:
        (ax, ay), (bx, by) = shape
        axes = [(ay - by, bx - ax), (bx - ax, by - ay)]
    else:
        axes = [
            (a[1] - b[1], b[0] - a[0]) for a, b in zip(shape, (*shape[1:], shape[0]), strict=True)
        ]
    for nx, ny in axes:
        # Level and upright axes part nothing whose boxes overlap.
        if nx and ny:
            here = [nx * x + ny * y for x, y in shape]
            there = [nx * x + ny * y for x, y in other]
            if max(here) < min(there) or max(there) < min(here):
                return True
    return False


ROUNDING = 1e-9
"""A line reckoned to end so near another square may lie in it, mm."""


@dataclass(slots=True)
class Taken:
    """Convex shapes looked up by where they are; each may carry the mark it comes from."""

    cells: dict[tuple[int, int], list[tuple[Box, Shape, Mark]]] = field(default_factory=dict)

    def copy(self) -> Taken:
        """The same shapes, to which others can be added."""
        return Taken({cell: list(noted) for cell, noted in self.cells.items()})

    def add(self, shape: Shape, mark: Mark) -> None:
        """Note a shape."""
        box = box_of(shape)
        for cell in _cells(shape, box):
            self.cells.setdefault(cell, []).append((box, shape, mark))

    def near(self, shape: Shape) -> Iterator[tuple[Shape, Mark]]:
        """Shapes whose boxes meet this one's, where they have a square in common.

        Each comes once or more.
        """
        box = box_of(shape)
        left, bottom, right, top = box
        for cell in _cells(shape, box):
            for (x0, y0, x1, y1), other, mark in self.cells.get(cell, ()):
                if x0 <= right and x1 >= left and y0 <= top and y1 >= bottom:
                    yield other, mark

    def meets(self, shape: Shape) -> bool:
        """Whether anything noted has a point in common with the shape."""
        box = box_of(shape)
        left, bottom, right, top = box
        noted = self.cells
        for cell in _cells(shape, box):
            for (x0, y0, x1, y1), other, _ in noted.get(cell, ()):
                near = x0 <= right and x1 >= left and y0 <= top and y1 >= bottom
                if near and not _parted(shape, other):
                    return True
        return False


def _cells(shape: Shape, box: Box) -> list[tuple[int, int]]:
    """The squares of a shape's box; of a line only those it runs through."""
    x0, y0, x1, y1 = box
    left, right = math.floor(x0 / CELL), math.floor(x1 / CELL)
    bottom, top = math.floor(y0 / CELL), math.floor(y1 / CELL)
    if left == right and bottom == top:
        return [(left, bottom)]
    if len(shape) != 2 or x1 - x0 <= CELL or y1 - y0 <= CELL:
        return [(i, j) for i in range(left, right + 1) for j in range(bottom, top + 1)]
    (ax, ay), (bx, by) = shape
    slope = (by - ay) / (bx - ax)
    found = []
    for i in range(left, right + 1):
        ends = [ay + slope * (min(max(x, x0), x1) - ax) for x in (i * CELL, (i + 1) * CELL)]
        low = math.floor((min(ends) - ROUNDING) / CELL)
        high = math.floor((max(ends) + ROUNDING) / CELL)
        found += [(i, j) for j in range(low, high + 1)]
    return found


def overlaps(marks: Iterable[Mark], around: float = 0.0) -> list[str]:
    """Each text that lies on another text or has a line through it, as a sentence.

    Args:
        marks: what stands on a page.
        around: room that is asked for around each text, mm.
    """
    marks = tuple(marks)
    lines, found = Taken(), []
    for mark in marks:
        for shape in lines_of(mark):
            lines.add(shape, mark)
    written = Taken()
    for text in marks:
        if not isinstance(text, Text) or not text.text.strip():
            continue
        shape = text_shape(text, around)
        for other, mark in written.near(shape):
            if isinstance(mark, Text) and not apart(shape, other):
                found.append(f"“{text.text}” lies on “{mark.text}” at {_at(text)}")
                break
        for other, mark in lines.near(shape):
            if not apart(shape, other):
                found.append(f"“{text.text}” has a line through it ({mark.layer}) at {_at(text)}")
                break
        written.add(shape, text)
    return found


def _at(text: Text) -> str:
    return f"{text.at[0]:.1f}, {text.at[1]:.1f}"
