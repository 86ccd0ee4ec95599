"""What there is to cut a board from: offcuts and sheets on hand, sizes to be bought.

A source is so many sheets alike. What is on hand comes first and costs nothing. An offcut is
taken only where its thickness is that of the parts: joints are cut to it. Its edges are clean,
so nothing is trimmed from them on a saw; a router holds sheets down by the trim all the same.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from dataclasses import dataclass

from fitout.cutting.plan import Origin
from fitout.cutting.task import Stock
from fitout.model.cutting import CuttingSpec, OffcutSpec, SheetStockSpec, StockSpec
from fitout.model.stock import Board

SAME_THICKNESS = 0.2
"""How far (mm) an offcut may be off the thickness its parts are drawn at: about what a groove
has to spare (common practice)."""

WANTED = 1000.0
"""How many times dearer a sheet is that is not to be had."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Sheets alike: the board at their size and price, the trim, how many (None: any number).

    `missing` are sheets that would be needed but are not to be had.
    """

    board: Board
    trim: float
    kind: Origin = "bought"
    quantity: int | None = None
    label: str = ""

    @property
    def usable(self) -> tuple[float, float]:
        """Length and width less the trim."""
        return self.board.length - 2.0 * self.trim, self.board.width - 2.0 * self.trim


def sources(board: Board, stock: StockSpec, spec: CuttingSpec) -> tuple[Source, ...]:
    """Where a board can be cut from, offcuts first, then sheets on hand, then those to buy.

    Where no size to buy is given, the board's own size is to be had.
    """
    found = [_offcut(board, offcut, spec) for offcut in usable_offcuts(board, stock)]
    given = stock.of_sheet(board.key)
    found += [_sheets(board, sheet, spec) for sheet in given if sheet.on_hand]
    bought = [_sheets(board, sheet, spec) for sheet in given if not sheet.on_hand]
    return (*found, *(bought or [Source(board=board, trim=spec.trim)]))


def is_plain(found: Sequence[Source]) -> bool:
    """Whether there is one size alone, as many sheets as it takes."""
    return len(found) == 1 and found[0].kind == "bought" and found[0].quantity is None


def usable_offcuts(board: Board, stock: StockSpec) -> tuple[OffcutSpec, ...]:
    """The offcuts of a board that are as thick as its parts."""
    return tuple(o for o in stock.offcuts_of(board.key) if _as_thick(board, o))


def odd_offcuts(board: Board, stock: StockSpec) -> tuple[OffcutSpec, ...]:
    """The offcuts of a board that are thicker or thinner than its parts."""
    return tuple(o for o in stock.offcuts_of(board.key) if not _as_thick(board, o))


def _as_thick(board: Board, offcut: OffcutSpec) -> bool:
    return abs(offcut.thickness - board.thickness) <= SAME_THICKNESS


def _offcut(board: Board, offcut: OffcutSpec, spec: CuttingSpec) -> Source:
    return Source(
        board=_sized(board, offcut.size, 0.0),
        trim=0.0 if spec.by == "saw" else spec.trim,
        kind="offcut",
        quantity=offcut.quantity,
        label=offcut.label or "",
    )


def _sheets(board: Board, sheet: SheetStockSpec, spec: CuttingSpec) -> Source:
    same = sheet.size == (board.length, board.width)
    price = board.price if sheet.price is None and same else sheet.price
    quantity = sheet.quantity
    if sheet.on_hand:
        price, quantity = 0.0, quantity or 1
    return Source(
        board=_sized(board, sheet.size, price),
        trim=spec.trim,
        kind="on hand" if sheet.on_hand else "bought",
        quantity=quantity,
    )


def _sized(board: Board, size: tuple[float, float], price: float | None) -> Board:
    return dataclasses.replace(board, length=size[0], width=size[1], price=price)


def without_price(found: Sequence[Source]) -> bool:
    """Whether sizes can't be compared by price: several to buy, and one has none."""
    bought = [source for source in found if source.kind == "bought"]
    return len(bought) > 1 and any(source.board.price is None for source in bought)


def with_missing(found: Sequence[Source]) -> tuple[Source, ...]:
    """The sources and, where they may run out, the largest of them as not to be had."""
    if any(source.quantity is None for source in found):
        return tuple(found)
    largest = max(found, key=lambda s: s.board.length * s.board.width)
    board = dataclasses.replace(largest.board, price=None)
    return (*found, Source(board=board, trim=largest.trim, kind="missing"))


def as_stocks(found: Sequence[Source], gap: float) -> list[Stock]:
    """The sources as an engine sees them: grown by the gap, at a price.

    Where not every price is known, a sheet costs as its area.
    """
    bought = [s for s in found if s.kind == "bought"]
    priced = all(s.board.price is not None for s in bought)

    def price(source: Source) -> float:
        if source.kind in ("offcut", "on hand"):
            return 0.0
        if source.kind == "missing":
            return WANTED * max([1.0, *(price(s) for s in bought)])
        known = source.board.price if priced else None
        return source.board.length * source.board.width * 1e-6 if known is None else known

    # What costs nothing but has to be bought is still no free offcut.
    floor = 1e-3
    return [
        Stock(
            source.usable[0] + gap,
            source.usable[1] + gap,
            price(source) if source.kind in ("offcut", "on hand") else max(floor, price(source)),
            source.quantity,
        )
        for source in found
    ]


def sizes_of(board: Board, stock: StockSpec, spec: CuttingSpec) -> tuple[tuple[float, float], ...]:
    """The usable areas of all that a board can be cut from."""
    return tuple(source.usable for source in sources(board, stock, spec.of(board.key)))
