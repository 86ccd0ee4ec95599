"""The guide's paper upright: its margins, foot, headings, and text that flows downwards."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from fitout.documents.paper.fonts import shortened, wrapped
from fitout.documents.paper.marks import MEDIUM, NARROW, Mark, Page, Text, line, moved
from fitout.documents.paper.table import Block, Table, blocks
from fitout.documents.wording import Wording
from fitout.model.documents import PAPERS

LEFT, BOTTOM = 18.0, 16.0
RIGHT_MARGIN, TOP_MARGIN = 12.0, 16.0
"""What stays empty around the text, mm; wider at the left for punching."""

TEXT, LINE = 2.5, 4.1
"""Height of capitals (ISO 3098-1) and distance of lines, mm."""

HEADING = 3.5


@dataclass(slots=True)
class Flow:
    """Pages being filled from the top; `y` is how far down the last one is filled.

    `paper` is their width and height, mm.
    """

    paper: tuple[float, float] = PAPERS["A4"]
    sheets: list[list[Mark]] = field(default_factory=lambda: [[]])
    y: float = field(init=False)

    def __post_init__(self) -> None:
        self.y = self.top

    @property
    def top(self) -> float:
        """Where text begins on a page."""
        return self.paper[1] - TOP_MARGIN

    @property
    def right(self) -> float:
        """How far to the right text may stand."""
        return self.paper[0] - RIGHT_MARGIN

    def room(self, height: float) -> None:
        """Begin a new page unless so much room is left."""
        if self.y - height < BOTTOM + 6.0 and self.sheets[-1]:
            self.turn()

    def turn(self) -> None:
        """Begin a new page."""
        self.sheets.append([])
        self.y = self.top

    def draw(self, marks: Sequence[Mark]) -> None:
        """Add marks to the last page."""
        self.sheets[-1].extend(marks)

    def heading(self, words: str, height: float = HEADING) -> None:
        """A heading with a line below."""
        self.room(height + 20.0)
        text = shortened(words, height, self.right - LEFT, bold=True)
        self.draw(
            [
                Text((LEFT, self.y - height), text, height, bold=True),
                line((LEFT, self.y - height - 2.0), (self.right, self.y - height - 2.0), MEDIUM),
            ]
        )
        self.y -= height + 6.0

    def paragraph(self, words: str, mark: str = "") -> None:
        """Wrapped text; `mark` stands before its first line, in a column of its own."""
        inset = 6.0 if mark else 0.0
        lines = wrapped(words, TEXT, self.right - LEFT - inset)
        self.room(len(lines) * LINE)
        if mark:
            self.draw(_sign(mark, LEFT, self.y - TEXT))
        for one in lines:
            self.draw([Text((LEFT + inset, self.y - TEXT), one, TEXT)])
            self.y -= LINE
        self.y -= 1.6

    def table(self, table: Table) -> None:
        """A table, parted where a page ends; narrow parts stand beside each other."""
        beside: list[Block] = []
        for block in blocks(table, min(self.top - BOTTOM - 12.0, max(60.0, self.y - BOTTOM - 8.0))):
            used = sum(one.width + 4.0 for one in beside)
            if beside and LEFT + used + block.width > self.right:
                self._row(beside)
                beside = []
            beside.append(block)
        self._row(beside)

    def _row(self, row: Sequence[Block]) -> None:
        if not row:
            return
        self.room(max(block.height for block in row))
        x = LEFT
        for block in row:
            self.draw(moved(block.marks, (x, self.y)))
            x += block.width + 4.0
        self.y -= max(block.height for block in row) + 6.0

    def pages(self, title: str, wording: Wording) -> tuple[Page, ...]:
        """The pages, each with the title and its number at its foot."""
        found = []
        count = len(self.sheets)
        for number, marks in enumerate(self.sheets, start=1):
            told = wording.say("page_of", page=number, pages=count)
            foot = (
                line((LEFT, BOTTOM), (self.right, BOTTOM), NARROW),
                Text((LEFT, BOTTOM - 5.0), shortened(title, TEXT, 140.0), TEXT),
                Text((self.right, BOTTOM - 5.0), told, TEXT, "right"),
            )
            found.append(Page(*self.paper, (*marks, *foot), told))
        return tuple(found)


def _sign(mark: str, x: float, y: float) -> list[Mark]:
    """A box to tick, or a dash."""
    if mark == "box":
        corners = ((x, y - 0.4), (x + 3.4, y - 0.4), (x + 3.4, y + 3.0), (x, y + 3.0))
        ends = (*corners[1:], corners[0])
        return [line(a, b, NARROW) for a, b in zip(corners, ends, strict=True)]
    return [Text((x + 1.0, y), "–", TEXT)]
