"""What is on a sheet: strokes, arcs, filled areas and text, in mm from the lower left corner."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from fitout.model.outline import Point

Colour = tuple[float, float, float]
"""Red, green, blue, each 0 to 1."""

BLACK: Colour = (0.0, 0.0, 0.0)
GREY: Colour = (0.45, 0.45, 0.45)
WHITE: Colour = (1.0, 1.0, 1.0)

Anchor = Literal["left", "middle", "right"]


@dataclass(frozen=True, slots=True)
class Pen:
    """A line's width (mm), its dashes and gaps (mm, none for a continuous line), its colour."""

    width: float
    dashes: tuple[float, ...] = ()
    colour: Colour = BLACK


# The line widths and types of ISO 128-2: a wide line of 0.5, narrow lines of half of it.
WIDE = Pen(0.5)
MEDIUM = Pen(0.35)
NARROW = Pen(0.25)
HIDDEN = Pen(0.25, (3.0, 0.75))
CENTRE = Pen(0.25, (6.0, 0.75, 0.13, 0.75))
PHANTOM = Pen(0.25, (6.0, 0.75, 0.13, 0.75, 0.13, 0.75))
FAINT = Pen(0.18, (), GREY)


@dataclass(frozen=True, slots=True)
class Stroke:
    """Straight lines from point to point; `layer` is only told to DXF."""

    points: tuple[Point, ...]
    pen: Pen = NARROW
    closed: bool = False
    layer: str = "OUTLINE"


@dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle, anticlockwise from `start` to `end` degrees; 0 to 360 is all of it."""

    centre: Point
    radius: float
    start: float = 0.0
    end: float = 360.0
    pen: Pen = NARROW
    layer: str = "OUTLINE"


@dataclass(frozen=True, slots=True)
class Area:
    """Closed rings filled by the even-odd rule, without a line around them."""

    rings: tuple[tuple[Point, ...], ...]
    colour: Colour
    layer: str = "FILL"


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text; `height` is that of its capitals (ISO 3098-1), mm.

    `at` is the baseline's left end, middle or right end; `turned` degrees anticlockwise.
    """

    at: Point
    text: str
    height: float = 2.5
    anchor: Anchor = "left"
    turned: float = 0.0
    bold: bool = False
    colour: Colour = BLACK
    layer: str = "TEXT"


Mark = Stroke | Arc | Area | Text


@dataclass(frozen=True, slots=True)
class Page:
    """A sheet of paper: its size in mm, its marks, and a name for outlines and file names."""

    width: float
    height: float
    marks: tuple[Mark, ...]
    name: str = ""


def line(a: Point, b: Point, pen: Pen = NARROW, layer: str = "OUTLINE") -> Stroke:
    """A straight line."""
    return Stroke((a, b), pen, layer=layer)


def box(  # over budget: a rectangle is four numbers
    left: float, bottom: float, width: float, height: float, pen: Pen = NARROW, layer: str = "FRAME"
) -> Stroke:
    """A rectangle's outline."""
    right, top = left + width, bottom + height
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    return Stroke(corners, pen, closed=True, layer=layer)


def moved(marks: Iterable[Mark], by: Point) -> list[Mark]:
    """The marks shifted by (x, y)."""

    def at(point: Point) -> Point:
        return (point[0] + by[0], point[1] + by[1])

    def ring(points: Sequence[Point]) -> tuple[Point, ...]:
        return tuple(at(p) for p in points)

    found: list[Mark] = []
    for mark in marks:
        match mark:
            case Stroke():
                found.append(Stroke(ring(mark.points), mark.pen, mark.closed, mark.layer))
            case Area():
                found.append(Area(tuple(ring(r) for r in mark.rings), mark.colour, mark.layer))
            case Arc(centre, radius, start, end, pen, layer):
                found.append(Arc(at(centre), radius, start, end, pen, layer))
            case Text(point, text, height, anchor, turned, bold, colour, layer):
                found.append(Text(at(point), text, height, anchor, turned, bold, colour, layer))
    return found
