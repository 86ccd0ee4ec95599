"""What a placing engine takes and gives.

Engines know neither kerf nor trim: blanks and sheet come to them grown by the gap that must
lie between parts, so that parts which touch there lie exactly one gap apart here.
"""

from __future__ import annotations

from dataclasses import dataclass

from fitout.cutting.fits import CLOSE
from fitout.cutting.plan import Rect


@dataclass(frozen=True, slots=True)
class Blank:
    """One copy of a part as a grown rectangle; `turnable` by a quarter turn or not.

    `rooms` are rectangles in it, from its lower left corner, that are free for other parts.
    """

    number: str
    copy: int
    length: float
    width: float
    turnable: bool
    rooms: tuple[Rect, ...] = ()

    @property
    def area(self) -> float:
        """Area in mm²."""
        return self.length * self.width

    @property
    def turns(self) -> tuple[tuple[float, float, bool], ...]:
        """Extent along the sheet and across it in each turn that makes a difference."""
        as_drawn = (self.length, self.width, False)
        if not self.turnable or abs(self.length - self.width) < CLOSE:
            return (as_drawn,)
        return as_drawn, (self.width, self.length, True)


@dataclass(frozen=True, slots=True)
class Laid:
    """A blank with its lower left corner at (x, y), turned by a quarter turn or not."""

    blank: Blank
    x: float
    y: float
    turned: bool


@dataclass(slots=True, eq=False)
class Piece:
    """A rectangle of a sheet while a guillotine engine takes it apart.

    A piece that has been cut has a `first` part and, unless the cut took all the rest, a
    `second` beyond it at `at`; one that has not is either `laid` upon or free. Pieces
    change only while their engine runs.
    """

    x: float
    y: float
    length: float
    width: float
    across: bool = False
    at: float = 0.0
    first: Piece | None = None
    second: Piece | None = None
    laid: Laid | None = None


@dataclass(frozen=True, slots=True)
class Layout:
    """One filled sheet: the blanks, the free rectangles left, the pieces where it was sawn."""

    laid: tuple[Laid, ...]
    free: tuple[Rect, ...]
    pieces: Piece | None = None


def sawn(root: Piece) -> Layout:
    """The layout of a sheet that an engine has taken apart."""
    laid: list[Laid] = []
    free: list[Rect] = []
    pending = [root]
    while pending:
        piece = pending.pop()
        if piece.first is not None:
            if piece.second is not None:
                pending.append(piece.second)
            pending.append(piece.first)
        elif piece.laid is not None:
            laid.append(piece.laid)
        else:
            free.append(Rect(piece.x, piece.y, piece.length, piece.width))
    return Layout(tuple(laid), tuple(free), root)
