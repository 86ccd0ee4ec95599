"""A page of templates: rulers both ways, what to do first, and room for tiles.

┌────────────────────────────┐
│ what it is, page of pages  │
│ ├┬ tiles                   │   the rulers stand in margins of their own, so that no tile
│ ├┤                         │   covers them, and are 100 mm long whatever the unit: a
│ └┴┬┬┬┬┬┬┬┬┤                │   printer that scales shows it on either
└────────────────────────────┘
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fitout.documents.paper.fonts import shortened, text_width
from fitout.documents.paper.marks import MEDIUM, NARROW, Mark, Text, line

MARGIN = 8.0
"""No printer prints nearer to the paper's edge than this, mm (common practice: 4 to 6)."""

RULER = 100.0
RULER_ROOM = 10.0
HEAD_ROOM = 7.0


@dataclass(frozen=True, slots=True)
class Sheet:
    """A page's size, upright or lying, mm."""

    width: float
    height: float

    @property
    def corner(self) -> tuple[float, float]:
        """The lower left corner of the room for tiles."""
        return MARGIN + RULER_ROOM, MARGIN + RULER_ROOM

    @property
    def room(self) -> tuple[float, float]:
        """Width and height of the room for tiles."""
        return (
            self.width - 2.0 * MARGIN - RULER_ROOM,
            self.height - 2.0 * MARGIN - RULER_ROOM - HEAD_ROOM,
        )


def furniture(sheet: Sheet, title: str, advice: str, page: str) -> Iterator[Mark]:
    """Rulers, and above the tiles whose they are, how to print them and the page's number."""
    x, y = MARGIN + RULER_ROOM, MARGIN + RULER_ROOM
    yield from _ruler((x, MARGIN + 4.0), upright=False)
    yield from _ruler((MARGIN + 4.0, y), upright=True)
    top = sheet.height - MARGIN - 2.5
    right = sheet.width - MARGIN
    yield Text((right, top), page, 2.5, "right")
    room = right - MARGIN - text_width(page, 2.5) - 4.0
    told = shortened(title, 2.5, max(room - text_width(advice, 1.8, bold=True) - 4.0, 20.0))
    yield Text((MARGIN, top), told, 2.5)
    yield Text((MARGIN + text_width(told, 2.5) + 4.0, top), advice, 1.8, bold=True)


def _ruler(at: tuple[float, float], *, upright: bool) -> Iterator[Mark]:
    """A line with a stroke at each centimetre from 0 to 100 mm."""

    def place(along: float, off: float) -> tuple[float, float]:
        return (at[0] - off, at[1] + along) if upright else (at[0] + along, at[1] + off)

    yield line(place(0.0, 0.0), place(RULER, 0.0), NARROW, "RULER")
    for i in range(11):
        high = 3.5 if i in (0, 5, 10) else 2.0
        yield line(place(10.0 * i, 0.0), place(10.0 * i, high), MEDIUM, "RULER")
    turned = 90.0 if upright else 0.0
    for value in (0, 100):
        yield Text(place(float(value), -3.0), f"{value}", 1.8, "middle", turned, layer="RULER")
    yield Text(place(50.0, -3.0), "100 mm", 1.8, "middle", turned, layer="RULER")
