"""Whether a panel goes on a sheet at all."""

from __future__ import annotations

from collections.abc import Sequence

from fitout.cutting.frame import drawing_turn, grain_locked
from fitout.model.cutting import CuttingSpec
from fitout.model.panel import Panel
from fitout.model.stock import Board

CLOSE = 1e-6
"""Lengths that differ by less count as equal."""

Size = tuple[float, float]


def usable_size(board: Board, spec: CuttingSpec) -> Size:
    """Length and width of the sheet less the strip trimmed off each edge."""
    return board.length - 2.0 * spec.trim, board.width - 2.0 * spec.trim


def excess(panel: Panel, sizes: Sequence[Size]) -> Size | None:
    """By how many mm a panel is too long and too wide for its sheets; None if it fits one.

    `sizes` are the usable areas there are. Of them and of the turns the panel's grain allows
    the one with the least excess counts.
    """
    drawn = panel.outline.size
    if drawing_turn(panel).quarters % 2:
        drawn = drawn[::-1]
    turns = (drawn,) if grain_locked(panel) else (drawn, drawn[::-1])
    over = min(
        ((max(0.0, size[0] - length), max(0.0, size[1] - width))
         for length, width in sizes for size in turns),
        key=lambda over: (max(over), sum(over)),
    )  # fmt: skip
    return over if max(over) > CLOSE else None
