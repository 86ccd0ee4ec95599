"""What would do instead: sheets of the same sort, and the entry that chooses a panel's board."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from types import MappingProxyType

from fitout.checks.subject import Subject
from fitout.cutting.fits import excess, usable_size
from fitout.model.panel import Panel
from fitout.model.stock import Board

MEANT: Mapping[str, str] = MappingProxyType({"top": "deck", "base": "carcass", "side": "carcass"})
"""The purpose that a word in a panel's name stands for, where it is not the purpose's own."""

SAME_SHEET = ("key", "length", "width", "thickness", "thickness_tolerance", "price", "source")
"""What may differ between two sheets of the same make and thickness."""


def board_entry(subject: Subject, panel: Panel) -> str:
    """Where a design says what the panel is cut from, such as `boards: deck:`.

    Where one board serves several purposes, the panel's name and its module's kind tell;
    if they don't, all those purposes are named.
    """
    roles = [role for role, board in subject.setting.boards.items() if board == panel.board]
    kind = subject.modules[panel.module].kind
    for word in (*reversed(panel.name.split()), *kind.split()):
        role = MEANT.get(word, word)
        if role in roles:
            return f"`boards: {role}:`"
    if len(roles) == 1:
        return f"`boards: {roles[0]}:`"
    return f"under `boards:`, for {' or '.join(roles)}" if roles else "under `boards:`"


def thicker_sheets(subject: Subject, board: Board) -> tuple[Board, ...]:
    """The catalogue's sheets that differ in thickness alone, thinnest first."""
    sheets = subject.setting.catalogue.sheets.values()
    alike = (s for s in sheets if _family(s) == _family(board) and s.key != board.key)
    thicker = (sheet for sheet in alike if sheet.thickness > board.thickness)
    return tuple(sorted(thicker, key=lambda sheet: sheet.thickness))


def _family(board: Board) -> tuple[str, ...]:
    """The words of a sheet's name, its thickness left out."""
    return tuple(word for word in board.key.split() if word != f"{board.nominal:g}")


def larger_sheets(subject: Subject, panel: Panel) -> tuple[Board, ...]:
    """Sheets of the same make and thickness that the panel can be cut from, smallest first."""
    fitting = [
        sheet
        for sheet in subject.setting.catalogue.sheets.values()
        if _make(sheet) == _make(panel.board)
        and excess(panel, [usable_size(sheet, subject.cutting)]) is None
    ]
    return tuple(sorted(fitting, key=lambda sheet: sheet.length * sheet.width))


def _make(board: Board) -> tuple[object, ...]:
    fields = (f.name for f in dataclasses.fields(board) if f.name not in SAME_SHEET)
    return tuple(getattr(board, name) for name in fields)
