"""The saw sequence: the cuts that take a sheet apart, in the order they are made."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fitout.cutting.plan import Cut, Rect, Sheet


@dataclass(frozen=True, slots=True)
class SawStep:
    """One cut through the piece in hand.

    `across` True: at right angles to the sheet's length. `measure` is from the piece's left
    (or lower) edge to the near side of the kerf; `keeps` names what that side then is.
    """

    number: int
    piece: Rect
    across: bool
    measure: float
    keeps: str


def saw_steps(sheet: Sheet) -> tuple[SawStep, ...]:
    """The cuts of a sheet in order, the edges trimmed beforehand; none for a router.

    What lies before a cut is finished before what lies beyond it is taken up.
    """
    if sheet.cuts is None:
        return ()
    return tuple(
        SawStep(i, cut.rect, cut.across, _measure(cut), _what(cut.first))
        for i, cut in enumerate(_in_order(sheet.cuts), start=1)
    )


def _in_order(cut: Cut) -> Iterator[Cut]:
    if cut.first is None:
        return
    yield cut
    yield from _in_order(cut.first)
    if cut.second is not None:
        yield from _in_order(cut.second)


def _measure(cut: Cut) -> float:
    return cut.at - (cut.rect.x if cut.across else cut.rect.y)


def _what(piece: Cut | None) -> str:
    if piece is None or (piece.first is None and piece.part is None):
        return "offcut"
    if piece.part is not None:
        return f"{piece.part[0]} copy {piece.part[1]}"
    return "strip"
