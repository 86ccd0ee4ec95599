"""The records of a nested plan: sheets, placed parts, cuts, offcuts, and what did not fit."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from fitout.cutting.cut_list import CutList
from fitout.cutting.fits import CLOSE, usable_size
from fitout.model.cutting import CuttingSpec
from fitout.model.stock import Board

Origin = Literal["offcut", "on hand", "bought", "missing"]
"""Where a sheet comes from; `missing` ones are needed but not to be had."""

ORIGINS: tuple[Origin, ...] = ("offcut", "on hand", "bought", "missing")


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle on a sheet: lower left corner, extent along the sheet's length and width."""

    x: float
    y: float
    length: float
    width: float

    @property
    def area(self) -> float:
        """Area in mm²."""
        return self.length * self.width


@dataclass(frozen=True, slots=True)
class Placed:
    """One copy of a part on a sheet.

    The part's drawing (see `fitout.cutting.frame`) is turned anticlockwise by
    `quarter_turns` and shifted until its bounding rectangle has its lower left corner at
    (x, y). The sheet's origin is its own lower left corner, x along the face grain.
    """

    number: str
    copy: int
    x: float
    y: float
    quarter_turns: int


@dataclass(frozen=True, slots=True)
class Cut:
    """A rectangle of the sheet and how a saw takes it apart.

    `across` True: cut at right angles to the sheet's length, at x = `at`; else lengthwise,
    at y = `at`. The kerf lies beyond `at`. `first` lies before the kerf, `second` beyond
    it, None where the kerf takes the rest. A leaf (both None) is a part's blank if `part`
    is set, an offcut otherwise.
    """

    rect: Rect
    across: bool = False
    at: float = 0.0
    first: Cut | None = None
    second: Cut | None = None
    part: tuple[str, int] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One sheet and what is cut from it; `cuts` is None where a router cuts freely.

    `board` is of the sheet's own size and price. `trim` is what its edges lose, None for
    as much as the plan says; `label` what is written on an offcut.
    """

    number: str
    board: Board
    placed: tuple[Placed, ...]
    offcuts: tuple[Rect, ...]
    cuts: Cut | None = None
    origin: Origin = "bought"
    trim: float | None = None
    label: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Unplaced:
    """A part larger than the sheet's usable area, by how much in its best allowed turn."""

    number: str
    name: str
    quantity: int
    too_long: float
    too_wide: float
    locked: bool

    @property
    def sentence(self) -> str:
        """One plain sentence."""
        amounts = [
            f"{over:.1f} mm too {word}"
            for over, word in ((self.too_long, "long"), (self.too_wide, "wide"))
            if over > 0
        ]
        turn = "with its grain along the sheet" if self.locked else "in its best turn"
        return (
            f"{self.number} ({self.name}) is {' and '.join(amounts)} "
            f"for the sheet's usable area {turn}."
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardUse:
    """How many sheets of a board the plan takes, and how few could do at the very least.

    `least_sheets` is proven (see `fitout.cutting.bounds`): with the blanks grown by the gap
    between parts and the usable area likewise, no plan that lays parts by their bounding
    rectangles can do with fewer sheets; rooms in a part that others may lie in are counted.
    `used_share` is the parts' blanks over the whole sheets. Where there is stock of several
    sizes, `cost` is what has to be bought for and `least_cost` is proven instead: in the
    currency of the prices, or in m² where one of them is not known (`priced`). Where pieces
    can't be carried from the timber yard, `carried` is how many sheets (or what cost) it would
    take to cut so that all can; None if they can be, or no such way was found.
    """

    board: Board
    sheets: int
    least_sheets: int
    used_share: float
    cost: float | None = None
    least_cost: float = 0.0
    priced: bool = True
    carried: float | None = None

    @property
    def proven_least(self) -> bool:
        """Whether no plan by bounding rectangles can do with less."""
        if self.cost is not None:
            return self.cost <= self.least_cost + CLOSE
        return self.sheets == self.least_sheets


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlan:
    """Every sheet to cut, in order; parts that fit no sheet are listed, never dropped.

    `stopped` if the search was ended from outside: the plan is whole, the best so far.
    """

    cut_list: CutList
    spec: CuttingSpec
    sheets: tuple[Sheet, ...]
    unplaced: tuple[Unplaced, ...]
    boards: tuple[BoardUse, ...]
    stopped: bool = False

    def spec_of(self, sheet: Sheet) -> CuttingSpec:
        """How one of its sheets is cut."""
        own = self.spec.of(sheet.board.key)
        return own if sheet.trim is None else replace(own, trim=sheet.trim)


def gap_between(spec: CuttingSpec) -> float:
    """Least room between two parts: the kerf, on a router the bit and the spacing."""
    return spec.kerf if spec.by == "saw" else spec.kerf + spec.spacing


def usable(board: Board, spec: CuttingSpec) -> Rect:
    """The sheet less the strip trimmed off each edge; may be empty."""
    return Rect(spec.trim, spec.trim, *usable_size(board, spec))
