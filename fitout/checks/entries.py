"""Entries that only the catalogue can cast doubt on."""

from __future__ import annotations

from collections.abc import Iterator

from fitout.checks.subject import Subject
from fitout.checks.verdict import remark
from fitout.model.finding import Finding, Severity

MOST_OFF = 0.15
"""A board measured further from its nominal thickness than this share is doubted: standards
allow less for all but the thinnest sheets, and those are sold as nominal 4 for 3.6."""


def check_boards(subject: Subject) -> Iterator[Finding]:
    """Whether each board was measured near the thickness its sheet is sold by."""
    doubted = {}
    for board in subject.setting.boards.values():
        sold = subject.setting.catalogue.sheets.get(board.key)
        measured = sold is not None and board.thickness != sold.thickness
        if measured and abs(board.thickness - board.nominal) > MOST_OFF * board.nominal:
            doubted[board.key, board.thickness] = board
    for board in doubted.values():
        sentence = (
            f"{board.key} is entered as {board.thickness:g} mm thick where it was measured, but "
            f"is sold as {board.nominal:g}: is it that sheet, and is the unit right?"
        )
        yield remark("entry", f"boards: {board.key}", Severity.CAUTION, sentence)
