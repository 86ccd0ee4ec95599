"""What an engine is asked: which blanks, how many of each, out of which sheets.

Alike blanks are one `Kind`; engines count kinds and learn only at the end which copy lies
where. An `Offer` is a task as an engine sees it that fills one sheet: every kind in every
turn it may lie in, the sheet as it is or mirrored at its diagonal, so that an engine that
works along the sheet works across it as well.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from fitout.cutting.fits import CLOSE
from fitout.cutting.layout import Blank

Whole = npt.NDArray[np.int64]
Flags = npt.NDArray[np.bool_]
Values = npt.NDArray[np.float64]

_GOLDEN, _FIRST, _SECOND = 0x9E3779B97F4A7C15, 0xBF58476D1CE4E5B9, 0x94D049BB133111EB
_WORD = 2**64


@dataclass(frozen=True, slots=True)
class Stock:
    """Sheets to be had: grown size, price of each, how many (None: as many as it takes).

    What is on hand already has the price 0 and is used up before anything is bought.
    """

    length: float
    width: float
    price: float = 1.0
    available: int | None = None

    @property
    def size(self) -> tuple[float, float]:
        """Length and width."""
        return self.length, self.width

    @property
    def area(self) -> float:
        """Area in mm²."""
        return self.length * self.width


@dataclass(frozen=True, slots=True)
class Kind:
    """Blanks that may take each other's place."""

    length: float
    width: float
    turnable: bool
    blanks: tuple[Blank, ...]


@dataclass(frozen=True, slots=True)
class Pieces:
    """What the first cuts of a sheet must leave, so that the pieces can be carried.

    At most `cuts` cuts, to pieces no longer than `along` as the engine sees the sheet; those
    that are longer, up to `section`, are cut again, to pieces no wider than `across`. All
    grown by the gap.
    """

    along: float
    section: float
    across: float
    cuts: int


@dataclass(frozen=True, slots=True, eq=False)
class Offer:
    """Every kind in every turn that fits one sheet, widest first.

    `length` and `width` are of the sheet as the engine sees it: `mirrored` at its diagonal
    or not. The arrays hold for each choice its kind, its extent along and across, and
    whether the blank is turned from its drawing; `tags` are numbers by which sets of kinds
    are told apart.
    """

    stock: int
    length: float
    width: float
    mirrored: bool
    kinds: Whole
    along: Values
    across: Values
    turned: Flags
    tags: Whole
    pieces: Pieces | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Task:
    """Kinds to cut, with how many of each and their areas, and the sheets to cut them from."""

    kinds: tuple[Kind, ...]
    stocks: tuple[Stock, ...]
    demand: Whole
    areas: Values
    offers: tuple[Offer, ...]


def task(blanks: Sequence[Blank], stocks: Sequence[Stock]) -> Task:
    """The task of cutting the blanks, each once; raises if one fits no sheet."""
    groups: dict[tuple[object, ...], list[Blank]] = {}
    for blank in blanks:
        turnable = len(blank.turns) > 1
        key = (round(blank.length, 6), round(blank.width, 6), turnable, blank.rooms)
        groups.setdefault(key, []).append(blank)
    kinds = tuple(
        Kind(alike[0].length, alike[0].width, len(alike[0].turns) > 1, tuple(alike))
        for alike in groups.values()
    )
    offers = tuple(
        _offer(kinds, stock, which, mirrored)
        for which, stock in enumerate(stocks)
        for mirrored in (False, True)
    )
    fitting = {int(kind) for offer in offers for kind in offer.kinds}
    for i, kind in enumerate(kinds):
        if i not in fitting:
            raise ValueError(f"{kind.blanks[0].number} is larger than a sheet")
    return Task(
        kinds,
        tuple(stocks),
        np.array([len(kind.blanks) for kind in kinds], dtype=np.int64),
        np.array([kind.length * kind.width for kind in kinds]),
        offers,
    )


def _offer(kinds: Sequence[Kind], stock: Stock, which: int, mirrored: bool) -> Offer:
    length, width = stock.size[::-1] if mirrored else stock.size
    rows = []
    for i, kind in enumerate(kinds):
        size = (kind.length, kind.width)
        for turned in (False, True) if kind.turnable else (False,):
            along, across = size[::-1] if turned != mirrored else size
            if along <= length + CLOSE and across <= width + CLOSE:
                rows.append((-across, -along, i, turned))
    rows.sort()
    return Offer(
        which,
        length,
        width,
        mirrored,
        np.array([row[2] for row in rows], dtype=np.int64),
        np.array([-row[1] for row in rows], dtype=np.float64),
        np.array([-row[0] for row in rows], dtype=np.float64),
        np.array([row[3] for row in rows], dtype=np.bool_),
        np.array([_tag(row[2]) for row in rows], dtype=np.int64),
    )


def _tag(kind: int) -> int:
    """A number that looks random; sums of tags differ for different sets (splitmix64)."""
    mixed = (kind + 1) * _GOLDEN % _WORD
    mixed = (mixed ^ (mixed >> 30)) * _FIRST % _WORD
    mixed = (mixed ^ (mixed >> 27)) * _SECOND % _WORD
    return (mixed ^ (mixed >> 31)) >> 2
