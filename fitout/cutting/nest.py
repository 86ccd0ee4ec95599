"""Nesting: every part of a cut list laid on as few sheets as can be found.

Parts are laid by the bounding rectangles of their outlines; a router may lay small parts
in the notches and cut-outs of larger ones (see `rooms`), and where parts are no rectangles
its sheets are then filled by true shapes if that is better (see `shapes_nest`). For each
board some orders of the parts are tried with the engines' simple rules, which gives a plan
at once; unless a bound proves that no plan takes fewer sheets (see `bounds`), a search
follows (see `search`). The plan with the fewest sheets is kept; among those the one that
leaves the largest offcut, and then the one that is easiest cut (see `tries`). Work is limited
by counting it and nothing hangs on a clock, so the same list gives the same plan.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial

from fitout.cutting import search, skyline, staged
from fitout.cutting.bounds import least_sheets
from fitout.cutting.cut_list import CutLine, CutList
from fitout.cutting.fits import usable_size
from fitout.cutting.layout import Layout
from fitout.cutting.plan import (
    BoardUse,
    CutPlan,
    Sheet,
    Unplaced,
    gap_between,
    usable,
)
from fitout.cutting.search import Limits, Progress, layouts
from fitout.cutting.shapes_bound import least_by_shape
from fitout.cutting.shapes_nest import SHARE, improved, shaped
from fitout.cutting.sheets import blanks_of, sheet_of, too_large
from fitout.cutting.stocked import Limit, from_stock
from fitout.cutting.stocks import is_plain, sources
from fitout.cutting.task import Stock, task
from fitout.cutting.tries import best_of, fills_of, polished, tried
from fitout.cutting.yard_nest import all_go, to_be_carried
from fitout.model.cutting import CuttingSpec, StockSpec
from fitout.model.stock import Board

NO_STOCK = StockSpec()

WORK = 20_000_000
"""Work of the search for one board of up to a hundred parts: about a second."""

MANY_PARTS = 100
"""With more parts the work grows as their number."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Effort:
    """How long to search, in steps for each board (some twenty million a second), and how.

    `progress` is called now and then with the board in hand, `check` often; where one of them
    raises `beam.Enough`, the best plan found so far is given. Another `seed` is another search.
    """

    work: int = WORK
    seed: int = 1
    progress: Callable[[Board, Progress], None] = lambda *_: None
    check: Callable[[], None] = lambda: None


def nest(
    cuts: CutList,
    spec: CuttingSpec,
    effort: Effort = Effort(),
    stock: StockSpec = NO_STOCK,
) -> CutPlan:
    """Lay every part of the cut list on sheets of its board.

    Between parts lies the kerf (saw) or the bit's diameter and the spacing (router); the
    trim is lost along each sheet edge. Parts whose grain is locked keep their length along
    the sheet's; others may be turned by a quarter. Parts larger than a sheet's usable area
    are returned as `unplaced`. What `stock` has on hand is used first.
    """
    whole = spec
    by_board: dict[Board, list[CutLine]] = {}
    for line in cuts.lines:
        by_board.setdefault(line.board, []).append(line)
    sheets: list[Sheet] = []
    unplaced: list[Unplaced] = []
    uses: list[BoardUse] = []
    stopped = False
    for board, lines in by_board.items():
        spec = whole.of(board.key)
        had = sources(board, stock, spec)
        if not is_plain(had):
            work = 0 if stopped else effort.work
            tell = partial(effort.progress, board)
            laid_there = from_stock(lines, had, spec, Limit(work, effort.seed, tell, effort.check))
            sheets += laid_there.numbered(len(sheets))
            unplaced += laid_there.unplaced
            uses.append(laid_there.use(board))
            stopped = stopped or laid_there.stopped
            continue
        beyond = {line.number: too_large(line, [usable_size(board, spec)]) for line in lines}
        unplaced += [large for large in beyond.values() if large is not None]
        fitting = [line for line in lines if beyond[line.number] is None]
        # Once ended, the boards that are left get what the rules give.
        found = _best_layouts(fitting, board, spec, replace(effort, work=0) if stopped else effort)
        laid = [sheet_of(layout, "", board, spec) for layout in found.layouts]
        least = found.least
        if spec.by == "router" and any(shaped(line, spec) for line in fitting):
            done = found.stopped or stopped
            work, alike = 0 if done else effort.work // SHARE, [(1.0, sheet) for sheet in laid]
            filled, ended = improved(fitting, alike, spec, work, effort.seed, effort.check)
            laid, stopped = [sheet for _, sheet in filled], stopped or ended
            least = least_by_shape(fitting, gap_between(spec), usable_size(board, spec))
        uses.append(replace(_use(board, fitting, len(laid), least), carried=found.carried))
        sheets += (
            replace(sheet, number=f"S{i:02}") for i, sheet in enumerate(laid, len(sheets) + 1)
        )
        stopped = stopped or found.stopped
    return CutPlan(
        cut_list=cuts,
        spec=whole,
        sheets=tuple(sheets),
        unplaced=tuple(unplaced),
        boards=tuple(uses),
        stopped=stopped,
    )


@dataclass(frozen=True, slots=True)
class _Found:
    """The layouts of a board, the least number of sheets there can be, whether it was ended.

    `carried` sheets it would take if every piece had to go into the car, where that is more.
    """

    layouts: list[Layout]
    least: int
    stopped: bool
    carried: int | None = None


def _best_layouts(
    lines: Sequence[CutLine], board: Board, spec: CuttingSpec, effort: Effort
) -> _Found:
    """The best layouts found for one board."""
    if not lines:
        return _Found([], 0, stopped=False)
    gap = gap_between(spec)
    room = usable(board, spec)
    # Grown by the gap, parts that touch lie one gap apart; the sheet grows with them.
    size = (room.length + gap, room.width + gap)
    blanks = [blank for line in lines for blank in blanks_of(line, gap, routed=spec.by == "router")]
    least = least_sheets(blanks, size)
    best, stopped = best_of(tried(blanks, fills_of(size, spec)), spec, effort.check)
    if len(best) > least and not stopped and effort.work > 0:
        job = task(blanks, [Stock(*size)])
        outcome = search.search(
            job,
            [staged.fill] if spec.by == "saw" else [staged.fill, skyline.fill],
            _limits(board, effort, len(blanks), least),
        )
        stopped = outcome.stopped
        if outcome.chosen and outcome.cost <= len(best):
            searched = polished([(size, lay) for _, lay in layouts(job, outcome.chosen)], spec)
            best, _ = best_of([best, searched], spec)
    best = polished([(size, layout) for layout in best], spec, effort.check)
    best.sort(key=lambda layout: -sum(laid.blank.area for laid in layout.laid))
    if all_go((sheet_of(layout, "", board, spec) for layout in best), spec):
        return _Found(best, least, stopped)
    job = task(blanks, [Stock(*size)])
    limits = _limits(board, effort, len(blanks), len(best))
    instead = to_be_carried(job, [board], spec, replace(limits, work=0) if stopped else limits)
    if instead is None:
        return _Found(best, least, stopped)
    stopped = stopped or instead.stopped
    if instead.cost > len(best):
        return _Found(best, least, stopped, round(instead.cost))
    return _Found([layout for _, layout in layouts(job, instead.chosen)], least, stopped)


def _limits(board: Board, effort: Effort, blanks: int, least: float) -> Limits:
    """How far to search for the sheets of one board, until there are as few as `least`."""
    return Limits(
        least_cost=least,
        work=effort.work * max(MANY_PARTS, blanks) // MANY_PARTS,
        seed=effort.seed,
        progress=partial(effort.progress, board),
        check=effort.check,
    )


def _use(board: Board, lines: Sequence[CutLine], sheets: int, least: int) -> BoardUse:
    blanks = sum(line.length * line.width * line.quantity for line in lines)
    whole = sheets * board.length * board.width
    return BoardUse(
        board=board,
        sheets=sheets,
        least_sheets=least,
        used_share=blanks / whole if sheets else 0.0,
    )
