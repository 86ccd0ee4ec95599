"""Tables of text as blocks of marks: columns as wide as they need, long ones in parts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fitout.documents.paper.fonts import text_width, wrapped
from fitout.documents.paper.marks import FAINT, MEDIUM, NARROW, Anchor, Mark, Text, line

HEIGHT = 2.5
"""Height of capitals in tables (ISO 3098-1), mm."""

LINE = 4.0
"""From one line of text in a cell to the next, mm."""

PAD, INSIDE = 1.2, 1.1
"""Room between a text and its cell's sides, and above and below the lines of a cell, mm."""

TITLE = 4.6
"""Height of each line of the title above a table, mm."""


@dataclass(frozen=True, slots=True)
class Column:
    """A heading, how cells stand under it, and the width (mm) beyond which they are wrapped."""

    heading: str
    anchor: Anchor = "left"
    most: float = 60.0


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of cells, as many as there are columns; `title` stands above in bold."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    title: str = ""


@dataclass(frozen=True, slots=True)
class Block:
    """Marks in a rectangle, told from its upper left corner: x from 0, y from -height to 0."""

    width: float
    height: float
    marks: tuple[Mark, ...]


def without_empty(table: Table) -> Table:
    """The table less its columns that no row has anything in."""
    kept = [i for i in range(len(table.columns)) if any(row[i] for row in table.rows)]
    return Table(
        tuple(table.columns[i] for i in kept),
        tuple(tuple(row[i] for i in kept) for row in table.rows),
        table.title,
    )


def blocks(table: Table, height: float, width: float | None = None) -> list[Block]:
    """The table in parts no higher than `height` mm, each with title and headings.

    Args:
        table: what to draw.
        height: room from top to bottom; each part holds at least one row, however high.
        width: stretch the last column so that the whole is so wide, if it is less.
    """
    wide = _widths(table)
    if width is not None and sum(wide) < width:
        wide[-1] += width - sum(wide)
    head = [wrapped(c.heading, HEIGHT, w - 2.0 * PAD, bold=True)
            for c, w in zip(table.columns, wide, strict=True)]  # fmt: skip
    rows = [
        [wrapped(cell, HEIGHT, w - 2.0 * PAD) for cell, w in zip(row, wide, strict=True)]
        for row in table.rows
    ]
    above = TITLE * len(_title(table, sum(wide))) + _height(head)
    found: list[Block] = []
    part: list[Cells] = []
    used = above
    for row in rows:
        high = _height(row)
        if part and used + high > height:
            found.append(_block(table, wide, head, part))
            part, used = [], above
        part.append(row)
        used += high
    if part or not found:
        found.append(_block(table, wide, head, part))
    return found


Cells = list[list[str]]
"""A row: the lines of text of each cell."""


def _widths(table: Table) -> list[float]:
    found = []
    for i, column in enumerate(table.columns):
        told = [text_width(row[i], HEIGHT) for row in table.rows]
        longest_word = max(
            (text_width(word, HEIGHT, bold=True) for word in column.heading.split()), default=0.0
        )
        heading = text_width(column.heading, HEIGHT, bold=True)
        wide = max([min(max([heading, *told]), column.most), longest_word])
        found.append(wide + 2.0 * PAD + 0.1)
    return found


def _title(table: Table, width: float) -> list[str]:
    """The title in lines no wider than the table."""
    return wrapped(table.title, HEIGHT, width, bold=True) if table.title else []


def _height(row: Cells) -> float:
    return max(len(cell) for cell in row) * LINE + 2.0 * INSIDE - (LINE - HEIGHT)


def _block(table: Table, wide: Sequence[float], head: Cells, rows: Sequence[Cells]) -> Block:
    total, y = sum(wide), 0.0
    marks: list[Mark] = []
    for words in _title(table, total):
        marks.append(Text((0.0, y - HEIGHT - 1.0), words, HEIGHT, bold=True))
        y -= TITLE
    top = y
    for i, row in enumerate([head, *rows]):
        marks.append(line((0.0, y), (total, y), MEDIUM if i < 2 else FAINT, "TABLE"))
        marks += _row(table, wide, row, y, bold=i == 0)
        y -= _height(row)
    marks.append(line((0.0, y), (total, y), MEDIUM, "TABLE"))
    x = 0.0
    for width in (0.0, *wide):
        x += width
        marks.append(line((x, top), (x, y), NARROW, "TABLE"))
    return Block(total, -y, tuple(marks))


def _row(  # over budget: cells, where they stand and how they look
    table: Table, wide: Sequence[float], row: Cells, top: float, *, bold: bool
) -> list[Mark]:
    marks: list[Mark] = []
    left = 0.0
    for column, width, cell in zip(table.columns, wide, row, strict=True):
        x = {"left": left + PAD, "middle": left + width / 2.0, "right": left + width - PAD}
        for i, words in enumerate(cell):
            y = top - INSIDE - HEIGHT - i * LINE
            if words:
                at = (x[column.anchor], y)
                marks.append(Text(at, words, HEIGHT, column.anchor, bold=bold))
        left += width
    return marks
