"""From what engines find to the sheets of a plan, and from cut-list lines to their blanks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fitout.cutting import free
from fitout.cutting.cut_list import CutLine
from fitout.cutting.fits import Size, excess
from fitout.cutting.layout import Blank, Layout, Piece
from fitout.cutting.plan import Cut, Placed, Rect, Sheet, Unplaced, gap_between
from fitout.cutting.rooms import rooms
from fitout.model.cutting import CuttingSpec
from fitout.model.stock import Board


def too_large(line: CutLine, sizes: Sequence[Size]) -> Unplaced | None:
    """The part as unplaced if it goes on none of the sizes; the least excess counts."""
    over = excess(line.panel, sizes)
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


def blanks_of(line: CutLine, gap: float, *, routed: bool) -> Iterator[Blank]:
    """The line's copies, grown by the gap; on a router with the rooms in them."""
    found = rooms(line.panel.outline, gap) if routed else ()
    grown = tuple(Rect(r.x, r.y, r.length + gap, r.width + gap) for r in found)
    for copy in range(1, line.quantity + 1):
        yield Blank(
            line.number, copy, line.length + gap, line.width + gap, not line.grain_locked, grown
        )


def sheet_of(layout: Layout, number: str, board: Board, spec: CuttingSpec) -> Sheet:
    """The layout as a sheet of a plan, in true sizes; offcuts too small to keep are left out."""
    gap, trim = gap_between(spec), spec.trim
    placed = tuple(
        Placed(p.blank.number, p.blank.copy, trim + p.x, trim + p.y, 1 if p.turned else 0)
        for p in sorted(layout.laid, key=lambda p: (p.blank.number, p.blank.copy))
    )
    spare = (_shrunk(rect, gap, trim) for rect in free.apart(layout.free))
    offcuts = tuple(rect for rect in spare if spec.worth_keeping(rect.length, rect.width))
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
