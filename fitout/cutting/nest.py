"""Nesting: every part of a cut list laid on as few sheets as several simple rules manage.

Parts are laid by the bounding rectangles of their outlines; a router may lay small parts
in the notches and cut-outs of larger ones (see `rooms`). For each board every order of
the parts is tried with every rule of the engine; then the orders are corrected a few times
so that parts which ended on poorly filled sheets come earlier. The plan with the fewest
sheets is kept and, among those, the one that leaves the largest offcut. Nothing is random.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from fitout.cutting import free, guillotine
from fitout.cutting.cut_list import CutLine, CutList
from fitout.cutting.fits import CLOSE, Size, excess
from fitout.cutting.layout import Blank, Layout, Piece
from fitout.cutting.plan import (
    BoardUse,
    Cut,
    CutPlan,
    Placed,
    Rect,
    Sheet,
    Unplaced,
    gap_between,
    usable,
)
from fitout.cutting.rooms import rooms
from fitout.model.design import CuttingSpec
from fitout.model.stock import Board

Fill = Callable[[Sequence[Blank]], list[Layout]]

ORDERS: tuple[Callable[[Blank], tuple[float, ...]], ...] = (
    lambda b: (b.area,),
    lambda b: (max(b.length, b.width), min(b.length, b.width)),
    lambda b: (min(b.length, b.width), max(b.length, b.width)),
    lambda b: (b.length, b.width),
    lambda b: (b.width, b.length),
    lambda b: (b.length + b.width,),
)
"""What the parts are sorted by, largest first."""

CORRECTIONS = 36
"""How often the order is corrected by how well the parts' sheets were filled."""

CORRECTION_STRENGTH = 0.3
CORRECTED_RULES = 6
"""Corrections use only the rules that did best before."""

LEAST_OFFCUT = 60.0
"""Rectangles narrower than this are waste, not offcuts (common practice)."""


def nest(cuts: CutList, spec: CuttingSpec) -> CutPlan:
    """Lay every part of the cut list on sheets of its board.

    Between parts lies the kerf (saw) or the bit's diameter and the spacing (router); the
    trim is lost along each sheet edge. Parts whose grain is locked keep their length along
    the sheet's; others may be turned by a quarter. Parts larger than a sheet's usable area
    are returned as `unplaced`.
    """
    by_board: dict[Board, list[CutLine]] = {}
    for line in cuts.lines:
        by_board.setdefault(line.board, []).append(line)
    sheets: list[Sheet] = []
    unplaced: list[Unplaced] = []
    uses: list[BoardUse] = []
    for board, lines in by_board.items():
        beyond = {line.number: too_large(line, spec) for line in lines}
        unplaced += [large for large in beyond.values() if large is not None]
        fitting = [line for line in lines if beyond[line.number] is None]
        layouts, least = _best_layouts(fitting, board, spec)
        for layout in layouts:
            sheets.append(_sheet(layout, f"S{len(sheets) + 1:02}", board, spec))
        uses.append(_use(board, fitting, len(layouts), least))
    return CutPlan(
        cut_list=cuts,
        spec=spec,
        sheets=tuple(sheets),
        unplaced=tuple(unplaced),
        boards=tuple(uses),
    )


def too_large(line: CutLine, spec: CuttingSpec) -> Unplaced | None:
    """The part as unplaced if it fits in no turn; the turn with the least excess counts."""
    over = excess(line.panel, spec)
    if over is None:
        return None
    return Unplaced(
        number=line.number,
        name=line.name,
        quantity=line.quantity,
        too_long=over[0],
        too_wide=over[1],
        locked=line.grain_locked,
    )


def _best_layouts(
    lines: Sequence[CutLine], board: Board, spec: CuttingSpec
) -> tuple[list[Layout], int]:
    """The best layouts found for one board, and the least number of sheets there can be."""
    if not lines:
        return [], 0
    gap = gap_between(spec)
    room = usable(board, spec)
    # Grown by the gap, parts that touch lie one gap apart; the sheet grows with them.
    size = (room.length + gap, room.width + gap)
    blanks = [blank for line in lines for blank in _blanks(line, gap, routed=spec.by == "router")]
    taken = sum(b.area - sum(room.area for room in b.rooms) for b in blanks)
    least = math.ceil(taken / (size[0] * size[1]) - CLOSE)
    fills = _fills(size, spec)
    best = min(_tried(blanks, fills, size, least), key=lambda layouts: _score(layouts, gap))
    best.sort(key=lambda layout: -sum(laid.blank.area for laid in layout.laid))
    return best, least


def _blanks(line: CutLine, gap: float, *, routed: bool) -> Iterator[Blank]:
    """The line's copies, grown by the gap; on a router with the rooms in them."""
    found = rooms(line.panel.outline, gap) if routed else ()
    grown = tuple(Rect(r.x, r.y, r.length + gap, r.width + gap) for r in found)
    for copy in range(1, line.quantity + 1):
        yield Blank(
            line.number, copy, line.length + gap, line.width + gap, not line.grain_locked, grown
        )


def _fills(size: Size, spec: CuttingSpec) -> list[Fill]:
    """Each rule of the engines that may be used, ready to be given the blanks."""

    def sawn(rule: guillotine.Rule) -> Fill:
        return lambda blanks: guillotine.fill(blanks, size, rule)

    def routed(rule: free.Rule) -> Fill:
        return lambda blanks: free.fill(blanks, size, rule)

    fills = [sawn(rule) for rule in guillotine.RULES]
    return fills if spec.by == "saw" else [routed(rule) for rule in free.RULES] + fills


def _tried(
    blanks: Sequence[Blank], fills: Sequence[Fill], size: Size, least: int
) -> Iterator[list[Layout]]:
    """Every layout tried: all orders with all rules, then corrected orders while it may help."""
    ranked: list[tuple[int, int]] = []
    for which, fill in enumerate(fills):
        counts = []
        for order in ORDERS:
            layouts = fill(sorted(blanks, key=order, reverse=True))
            counts.append(len(layouts))
            yield layouts
        ranked.append((min(counts), which))
    ranked.sort()
    if ranked[0][0] <= least:
        return
    weights = dict.fromkeys(blanks, 1.0)
    chosen = [fills[which] for _, which in ranked[:CORRECTED_RULES]]
    for turn in range(CORRECTIONS):
        corrected = sorted(blanks, key=lambda b: b.area * weights[b], reverse=True)
        layouts = chosen[turn % len(chosen)](corrected)
        yield layouts
        for layout in layouts:
            filled = sum(laid.blank.area for laid in layout.laid) / (size[0] * size[1])
            for laid in layout.laid:
                weights[laid.blank] *= 1.0 + CORRECTION_STRENGTH * (1.0 - filled)


def _score(layouts: Sequence[Layout], gap: float) -> tuple[int, float]:
    """Fewest sheets, then the largest offcut."""
    largest = max(
        ((r.length - gap) * (r.width - gap)
         for layout in layouts for r in layout.free if min(r.length, r.width) > gap),
        default=0.0,
    )  # fmt: skip
    return len(layouts), -largest


def _use(board: Board, lines: Sequence[CutLine], sheets: int, least: int) -> BoardUse:
    blanks = sum(line.length * line.width * line.quantity for line in lines)
    whole = sheets * board.length * board.width
    return BoardUse(
        board=board,
        sheets=sheets,
        least_sheets=least,
        used_share=blanks / whole if sheets else 0.0,
    )


def _sheet(layout: Layout, number: str, board: Board, spec: CuttingSpec) -> Sheet:
    gap, trim = gap_between(spec), spec.trim
    placed = tuple(
        Placed(p.blank.number, p.blank.copy, trim + p.x, trim + p.y, 1 if p.turned else 0)
        for p in sorted(layout.laid, key=lambda p: (p.blank.number, p.blank.copy))
    )
    spare = (_shrunk(rect, gap, trim) for rect in free.apart(layout.free))
    offcuts = tuple(r for r in spare if min(r.length, r.width) >= LEAST_OFFCUT)
    return Sheet(
        number=number,
        board=board,
        placed=placed,
        offcuts=offcuts,
        cuts=_cut(layout.pieces, gap, trim) if layout.pieces and spec.by == "saw" else None,
    )


def _shrunk(rect: Rect | Piece, gap: float, trim: float) -> Rect:
    """A grown rectangle as it really is on the sheet."""
    return Rect(trim + rect.x, trim + rect.y, rect.length - gap, rect.width - gap)


def _cut(piece: Piece, gap: float, trim: float) -> Cut:
    """The engine's tree of pieces in true sizes; a rest narrower than the kerf is gone."""
    rect = _shrunk(piece, gap, trim)
    if piece.first is None:
        laid = piece.laid
        return Cut(rect, part=None if laid is None else (laid.blank.number, laid.blank.copy))
    rest = piece.second
    return Cut(
        rect,
        across=piece.across,
        at=trim + piece.at - gap,
        first=_cut(piece.first, gap, trim),
        second=_cut(rest, gap, trim) if rest and min(rest.length, rest.width) > gap else None,
    )
