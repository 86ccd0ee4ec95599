"""The few first cuts that a timber yard makes, so that the pieces go into the car."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fitout.cutting.fits import CLOSE
from fitout.cutting.plan import Cut, Rect, Sheet
from fitout.cutting.purchases import sheet_kg
from fitout.model.cutting import CuttingSpec, YardSpec
from fitout.model.stock import Board

MUCH = 0.9
"""The yard's cuts leave at most this share of a piece in one (common practice)."""

SAWDUST = 0.01
"""What is left beyond a blade is nothing if it is less, mm."""

LEAST_OFF = 5.0
"""No saw of a yard is set to take less off beyond its blade, mm (common practice)."""


@dataclass(frozen=True, slots=True)
class _Piece:
    cut: Cut
    raw: Rect


def yard_cuts(sheet: Sheet, spec: CuttingSpec) -> tuple[Cut, ...]:
    """Which of a bought sheet's cuts the yard makes, in order: the largest piece first.

    It cuts until every piece can be taken along or its cuts are used up; without limits
    of size or mass as often as it does. It takes a mere strip off only where that makes way
    for a cut that helps; one that is too thin for it stays on, to be cut off at home.
    """
    return tuple(cut for cut, _ in _made(sheet, spec))


def too_large_to_carry(sheet: Sheet, spec: CuttingSpec) -> tuple[tuple[Rect, bool], ...]:
    """The pieces that can't be taken along although the yard has made its cuts.

    Each with whether further cuts would make it smaller.
    """
    yard = spec.saw.yard
    if yard is None or sheet.cuts is None or sheet.origin != "bought":
        return ()
    made = _made(sheet, spec)
    pieces = made[-1][1] if made else (_whole(sheet),)
    return tuple((p.raw, _divides(p, spec.kerf)) for p in pieces if _too_large(p.raw, sheet, yard))


def _whole(sheet: Sheet) -> _Piece:
    assert sheet.cuts is not None
    return _Piece(sheet.cuts, Rect(0.0, 0.0, sheet.board.length, sheet.board.width))


def past_strips(cut: Cut, raw: Rect, kerf: float) -> Cut:
    """What comes after cuts that would take off but thin waste, which stays on the piece."""
    while cut.first is not None and _too_thin(cut, raw, kerf):
        wide = cut.at - (raw.x if cut.across else raw.y) >= LEAST_OFF
        kept, strip = (cut.first, cut.second) if wide else (cut.second, cut.first)
        if kept is None or (strip is not None and (strip.part or strip.first)):
            return cut
        cut = kept
    return cut


def _too_thin(cut: Cut, raw: Rect, kerf: float) -> bool:
    """Whether a cut takes off less than a yard can."""
    first, second = raw_parts(cut, raw, kerf)
    sides = [first] if second is None else [first, second]
    least = min(side.length if cut.across else side.width for side in sides)
    return second is None or least < LEAST_OFF


def _made(sheet: Sheet, spec: CuttingSpec) -> list[tuple[Cut, tuple[_Piece, ...]]]:
    """Each cut of the yard and the pieces there are after it."""
    yard = spec.saw.yard
    if yard is None or sheet.cuts is None or sheet.origin != "bought":
        return []
    limited = (yard.longest, yard.widest, yard.heaviest) != (None, None, None)
    pieces: tuple[_Piece, ...] = (_bare(_whole(sheet), spec.kerf),)
    made: list[tuple[Cut, tuple[_Piece, ...]]] = []
    while len(made) < yard.cuts:
        able = [
            piece
            for piece in pieces
            if _can_be_made(piece, spec.kerf)
            and (
                _parts_well(piece, spec.kerf)
                or (limited and _cures(piece, sheet, spec))
                or (limited and _divides(piece, spec.kerf, yard.cuts - len(made)))
            )
            and (not limited or _too_large(piece.raw, sheet, yard))
        ]
        if not able:
            break
        piece = max(able, key=lambda piece: piece.raw.area)
        pieces = (*(p for p in pieces if p is not piece), *_parts(piece, spec.kerf))
        made.append((piece.cut, pieces))
    return made


def _bare(piece: _Piece, kerf: float) -> _Piece:
    """The piece with its next cut that a yard can make."""
    return _Piece(past_strips(piece.cut, piece.raw, kerf), piece.raw)


def _can_be_made(piece: _Piece, kerf: float) -> bool:
    """Whether a yard can make the piece's next cut."""
    return piece.cut.first is not None and not _too_thin(piece.cut, piece.raw, kerf)


def _parts_well(piece: _Piece, kerf: float) -> bool:
    """Whether a piece's next cut makes it much smaller: a yard is not asked to trim."""
    if piece.cut.first is None:
        return False
    return max(p.raw.area for p in _parts(piece, kerf)) < MUCH * piece.raw.area


def _divides(piece: _Piece, kerf: float, cuts: float = math.inf) -> bool:
    """Whether so many cuts make a piece much smaller, be it after strips are cut off."""
    while _can_be_made(piece, kerf) and cuts >= 1:
        if _parts_well(piece, kerf):
            return True
        piece = max(_parts(piece, kerf), key=lambda part: part.raw.area)
        cuts -= 1
    return False


def _cures(piece: _Piece, sheet: Sheet, spec: CuttingSpec) -> bool:
    """Whether a piece's next cut leaves nothing of it that is too large."""
    yard = spec.saw.yard
    if piece.cut.first is None or yard is None:
        return False
    return not any(_too_large(part.raw, sheet, yard) for part in _parts(piece, spec.kerf))


def _parts(piece: _Piece, kerf: float) -> tuple[_Piece, ...]:
    cut = piece.cut
    assert cut.first is not None
    first, second = raw_parts(cut, piece.raw, kerf)
    low = _bare(_Piece(cut.first, first), kerf)
    if cut.second is None or second is None:
        return (low,)
    return low, _bare(_Piece(cut.second, second), kerf)


def raw_parts(cut: Cut, raw: Rect, kerf: float) -> tuple[Rect, Rect | None]:
    """What a cut makes of a piece that may still have the sheet's edges."""
    end = raw.x + raw.length if cut.across else raw.y + raw.width
    beyond = end - cut.at - kerf
    if cut.across:
        first = Rect(raw.x, raw.y, cut.at - raw.x, raw.width)
        second = Rect(cut.at + kerf, raw.y, beyond, raw.width)
    else:
        first = Rect(raw.x, raw.y, raw.length, cut.at - raw.y)
        second = Rect(raw.x, cut.at + kerf, raw.length, beyond)
    return first, second if beyond > SAWDUST else None


def _too_large(raw: Rect, sheet: Sheet, yard: YardSpec) -> bool:
    return not can_be_carried((raw.length, raw.width), sheet.board, yard)


def can_be_carried(size: tuple[float, float], board: Board, yard: YardSpec) -> bool:
    """Whether a piece of that size goes into the car."""
    share = size[0] * size[1] / (board.length * board.width)
    return (
        (yard.longest is None or max(size) <= yard.longest + CLOSE)
        and (yard.widest is None or min(size) <= yard.widest + CLOSE)
        and (yard.heaviest is None or share * sheet_kg(board) <= yard.heaviest + CLOSE)
    )
