"""Laying parts on stock of several sizes: what is on hand first, then the cheapest to buy."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from fitout.cutting import search, skyline, staged
from fitout.cutting.bounds import least_cost
from fitout.cutting.cut_list import CutLine
from fitout.cutting.fits import CLOSE
from fitout.cutting.layout import Layout
from fitout.cutting.plan import ORIGINS, BoardUse, Sheet, Unplaced, gap_between
from fitout.cutting.search import Limits, Progress, layouts
from fitout.cutting.shapes_bound import blanks_within, sure_gap
from fitout.cutting.shapes_nest import SHARE, improved, shaped
from fitout.cutting.sheets import blanks_of, sheet_of, too_large
from fitout.cutting.stocks import Source, as_stocks, with_missing
from fitout.cutting.task import Stock, task
from fitout.cutting.tries import polished
from fitout.cutting.yard_nest import all_go, to_be_carried
from fitout.model.cutting import CuttingSpec
from fitout.model.stock import Board


@dataclass(frozen=True, slots=True)
class Limit:
    """How far to search (see `search.Limits`)."""

    work: int
    seed: int
    progress: Callable[[Progress], None]
    check: Callable[[], None]


@dataclass(frozen=True, slots=True)
class Stocked:
    """The sheets of a board cut from stock, what goes on none of them, and what is bought.

    `cost` and the `least_cost` there can be are in the currency of the prices, or in m² of
    sheet where not every size to buy has a price.
    """

    sheets: list[Sheet]
    unplaced: list[Unplaced]
    blanks_area: float
    cost: float
    least_cost: float
    priced: bool
    stopped: bool
    carried: float | None = None

    def numbered(self, before: int) -> Iterator[Sheet]:
        """The sheets, numbered on from those before."""
        return (replace(s, number=f"S{i:02}") for i, s in enumerate(self.sheets, before + 1))

    def use(self, board: Board) -> BoardUse:
        """How much of the board it takes."""
        whole = sum(sheet.board.length * sheet.board.width for sheet in self.sheets)
        return BoardUse(
            board=board,
            sheets=len(self.sheets),
            least_sheets=0,
            used_share=self.blanks_area / whole if self.sheets else 0.0,
            cost=self.cost,
            least_cost=self.least_cost,
            priced=self.priced,
            carried=self.carried,
        )


def from_stock(
    lines: Sequence[CutLine], sources: Sequence[Source], spec: CuttingSpec, limits: Limit
) -> Stocked:
    """The cheapest sheets found that hold the parts of one board.

    What the stock doesn't hold lies on sheets that are `missing`; parts larger than all there
    is are unplaced.
    """
    gap = gap_between(spec)
    sizes = [source.usable for source in sources]
    beyond = {line.number: too_large(line, sizes) for line in lines}
    fitting = [line for line in lines if beyond[line.number] is None]
    unplaced = [large for large in beyond.values() if large is not None]
    if not fitting:
        return Stocked([], unplaced, 0.0, 0.0, 0.0, priced=True, stopped=False)
    blanks = [b for line in fitting for b in blanks_of(line, gap, routed=spec.by == "router")]
    had = with_missing(sources)
    stocks = as_stocks(had, gap)
    job = task(blanks, stocks)
    least = least_cost(blanks, stocks)
    fills = [staged.fill] if spec.by == "saw" else [staged.fill, skyline.fill]
    work, seed, check = limits.work, limits.seed, limits.check
    till = Limits(least_cost=least, work=work, seed=seed, progress=limits.progress, check=check)
    outcome = search.search(job, fills, till)
    found = layouts(job, outcome.chosen)
    better = polished([(stocks[w].size, layout) for w, layout in found], spec, check)
    found = [(which, layout) for (which, _), layout in zip(found, better, strict=True)]
    filled, carried = _filled(found, stocks, had, spec), None
    if not all_go((sheet for _, sheet in filled), spec):
        boards = [source.board if source.kind == "bought" else None for source in had]
        instead = to_be_carried(job, boards, spec, replace(till, least_cost=outcome.cost))
        if instead is not None and instead.cost <= outcome.cost + CLOSE:
            filled = _filled(layouts(job, instead.chosen), stocks, had, spec)
        elif instead is not None:
            carried = instead.cost
    ended = outcome.stopped
    if spec.by == "router" and any(shaped(line, spec) for line in fitting):
        apart = sure_gap(gap)
        least = least_cost(blanks_within(fitting, apart), as_stocks(had, apart))
        filled, by_hand = improved(
            fitting, filled, spec, 0 if ended else work // SHARE, seed, check
        )
        ended = ended or by_hand
    sheets = [sheet for _, sheet in filled]
    sheets.sort(key=lambda sheet: ORIGINS.index(sheet.origin))
    cost = sum(price for price, _ in filled)
    area = sum(line.length * line.width * line.quantity for line in fitting)
    known = all(s.board.price is not None for s in sources if s.kind == "bought")
    return Stocked(sheets, unplaced, area, cost, min(least, cost), known, ended, carried)


def _filled(
    found: Sequence[tuple[int, Layout]],
    stocks: Sequence[Stock],
    had: Sequence[Source],
    spec: CuttingSpec,
) -> list[tuple[float, Sheet]]:
    """The sheets found as records, each with its price."""
    filled = []
    for which, layout in found:
        source = had[which]
        sheet = sheet_of(layout, "", source.board, replace(spec, trim=source.trim))
        sheet = replace(sheet, origin=source.kind, trim=source.trim, label=source.label)
        filled.append((stocks[which].price, sheet))
    return filled
