"""The A3 sheet: frame, centring marks, grid reference (ISO 5457) and title block (ISO 7200)."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from fitout.documents.paper.fonts import shortened, text_width
from fitout.documents.paper.marks import (
    CENTRE,
    MEDIUM,
    NARROW,
    Arc,
    Mark,
    Page,
    Pen,
    Stroke,
    Text,
    box,
    line,
    moved,
)
from fitout.model.outline import Point

SHEET = (420.0, 297.0)
"""A3 (ISO 216), mm."""

MARGIN_LEFT, MARGIN = 20.0, 10.0
"""From the sheet's edge to the frame (ISO 5457, 4.3)."""

SPACE = (SHEET[0] - MARGIN_LEFT - MARGIN, SHEET[1] - 2.0 * MARGIN)
"""The drawing space: 390 x 277 (ISO 5457, Table 1)."""

FRAME = Pen(0.7)
"""Frame and centring marks (ISO 5457, 4.3 and 4.4)."""

BORDER, FIELD = 5.0, 50.0
"""Width of the grid reference border and length of its fields (ISO 5457, 4.5)."""

LETTERS, NUMERALS = "ABCDEF", range(1, 9)
"""The fields of an A3 sheet: letters from the top down, numerals from the left."""

TITLE = (180.0, 56.0)
"""The title block: 180 wide (ISO 7200), in the lower right corner of the drawing space."""

CAPTION = 1.8
"""Height of the small words that tell what a field holds, mm."""

Projection = Literal["first angle", "third angle"]


@dataclass(frozen=True, slots=True)
class Cell:
    """A field of the title block: its caption, its value, its width (mm), its letters' height."""

    caption: str
    value: str
    width: float
    height: float = 2.5
    bold: bool = False


def framed(
    marks: Iterable[Mark],
    rows: Sequence[tuple[float, Sequence[Cell]]],
    name: str,
    projection: Projection | None = None,
) -> Page:
    """A sheet with its frame around marks that are told from the drawing space's corner.

    Args:
        marks: what the sheet shows.
        rows: the title block from the top down, each row's height (mm) and fields; a row's
            last field takes what is left of 180 mm.
        name: the page's name in outlines and file names.
        projection: show the symbol of how views lie to each other, in the upper right field.
    """
    inside = [*marks, *_title_block(rows)]
    if projection:
        middle = (SPACE[0] - 12.0, TITLE[1] - rows[0][0] / 2.0)
        inside += moved(projection_symbol(projection), middle)
    whole = [*_frame(), *moved(inside, (MARGIN_LEFT, MARGIN))]
    return Page(*SHEET, tuple(whole), name)


def _frame() -> list[Mark]:
    left, bottom, right, top = MARGIN_LEFT, MARGIN, SHEET[0] - MARGIN, SHEET[1] - MARGIN
    middle_x, middle_y = SHEET[0] / 2.0, SHEET[1] / 2.0
    marks: list[Mark] = [
        box(left, bottom, *SPACE, FRAME),
        box(left - BORDER, bottom - BORDER, SPACE[0] + 2.0 * BORDER, SPACE[1] + 2.0 * BORDER,
            MEDIUM),
        line((middle_x, bottom - BORDER), (middle_x, bottom + BORDER), FRAME, "FRAME"),
        line((middle_x, top - BORDER), (middle_x, top + BORDER), FRAME, "FRAME"),
        line((left - BORDER, middle_y), (left + BORDER, middle_y), FRAME, "FRAME"),
        line((right - BORDER, middle_y), (right + BORDER, middle_y), FRAME, "FRAME"),
    ]  # fmt: skip
    # The fields are counted from the middle, so that copies of other sizes have the same.
    for i, numeral in enumerate(NUMERALS):
        start = middle_x + (i - len(NUMERALS) / 2.0) * FIELD
        at = (max(start, left) + min(start + FIELD, right)) / 2.0
        for y in (bottom - BORDER, top):
            marks += _field((at, y + BORDER / 2.0), str(numeral))
            if i and start != middle_x:
                marks.append(line((start, y), (start, y + BORDER), MEDIUM, "FRAME"))
    for i, letter in enumerate(LETTERS):
        start = middle_y - (i - len(LETTERS) / 2.0) * FIELD
        at = (min(start, top) + max(start - FIELD, bottom)) / 2.0
        for x in (left - BORDER, right):
            marks += _field((x + BORDER / 2.0, at), letter)
            if i and start != middle_y:
                marks.append(line((x, start), (x + BORDER, start), MEDIUM, "FRAME"))
    return marks


def _field(middle: Point, told: str) -> list[Mark]:
    return [Text((middle[0], middle[1] - 1.75), told, 3.5, "middle", layer="FRAME")]


def _title_block(rows: Sequence[tuple[float, Sequence[Cell]]]) -> list[Mark]:
    left, top = SPACE[0] - TITLE[0], TITLE[1]
    marks: list[Mark] = [Stroke(((left, 0.0), (left, top), (SPACE[0], top)), FRAME, layer="TITLE")]
    for i, (height, cells) in enumerate(rows):
        if i:
            marks.append(line((left, top), (SPACE[0], top), MEDIUM, "TITLE"))
        x = left
        for j, cell in enumerate(cells):
            if j:
                marks.append(line((x, top), (x, top - height), MEDIUM, "TITLE"))
            width = cell.width if j < len(cells) - 1 else SPACE[0] - x
            marks += _cell(cell, (x, top), (width, height))
            x += cell.width
        top -= height
    return marks


def _cell(cell: Cell, corner: Point, size: tuple[float, float]) -> list[Mark]:
    x, room = corner[0] + 1.5, size[0] - 3.0
    marks: list[Mark] = []
    if cell.caption:
        told = shortened(cell.caption, CAPTION, room)
        marks.append(Text((x, corner[1] - 1.0 - CAPTION), told, CAPTION, layer="TITLE"))
    if cell.value:
        height = next(
            (h for h in (5.0, 3.5, 2.5) if h <= cell.height
             and text_width(cell.value, h, bold=cell.bold) <= room),
            2.5,
        )  # fmt: skip
        told = shortened(cell.value, height, room, bold=cell.bold)
        at = (x, corner[1] - size[1] + 1.8)
        marks.append(Text(at, told, height, bold=cell.bold, layer="TITLE"))
    return marks


def projection_symbol(projection: Projection) -> list[Mark]:
    """A cut-off cone from the side and from its small end, around the origin (ISO 128-3).

    Seen from the left it shows its small end: that view lies on the right in first angle,
    on the left in third.
    """
    cone, rings = (-4.5, 4.5) if projection == "first angle" else (4.5, -4.5)
    small, large, half = 1.5, 3.0, 3.0
    corners = ((-half, -small), (half, -large), (half, large), (-half, small))
    ring = tuple((cone + x, y) for x, y in corners)
    return [
        Stroke(ring, MEDIUM, closed=True, layer="TITLE"),
        Arc((rings, 0.0), small, pen=MEDIUM, layer="TITLE"),
        Arc((rings, 0.0), large, pen=MEDIUM, layer="TITLE"),
        line((-9.0, 0.0), (9.0, 0.0), Pen(NARROW.width, CENTRE.dashes), "TITLE"),
        line((rings, -4.0), (rings, 4.0), Pen(NARROW.width, CENTRE.dashes), "TITLE"),
    ]
