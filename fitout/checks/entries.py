"""Entries that only the catalogue, or the parts they are for, can cast doubt on."""

from __future__ import annotations

from collections.abc import Iterator

from fitout.checks.subject import Subject
from fitout.checks.verdict import remark
from fitout.model.finding import Finding, Severity
from fitout.model.outline import Outline

MOST_OFF = 0.15
"""A board measured further from its nominal thickness than this share is doubted: standards
allow less for all but the thinnest sheets, and those are sold as nominal 4 for 3.6."""

USUAL_TO_SCRIBE = 10.0
MOST_OF_A_PART = 0.1
"""More than the one is left on to be scribed, and more than this share of a part's smaller side:
then it is no allowance any more (common practice)."""


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


def check_left_on(subject: Subject) -> Iterator[Finding]:
    """Whether edging and what is left on to be scribed are small beside what they are put on."""
    for board in dict.fromkeys(subject.setting.boards.values()):
        edging = board.edging
        if edging is not None and edging.thickness > board.thickness:
            sentence = (
                f"Edging of {edging.thickness:g} mm is thicker than the {board.thickness:g} mm of "
                f"the {board.key} it goes on, and parts are cut smaller by it: is it the edging's "
                "width, or the unit wrong? Enter how far it stands out from the edge as "
                "`thickness`."
            )
            yield remark("entry", f"boards: {board.key}", Severity.CAUTION, sentence)
    allowance = subject.cutting.scribe_allowance
    if allowance <= USUAL_TO_SCRIBE:
        return
    small = {
        min(Outline(panel.scribe.finished).size): panel.id
        for panel in subject.cut_panels()
        if panel.scribe is not None
    }
    if small and allowance > MOST_OF_A_PART * min(small):
        least = min(small)
        sentence = (
            f"`scribe_allowance` leaves {allowance:g} mm on edges that follow the vehicle, more "
            f"than a tenth of {small[least]}, {least:.0f} mm wide: is the unit right? "
            f"{USUAL_TO_SCRIBE:g} mm or less is usual."
        )
        yield remark("entry", "cutting: scribe_allowance", Severity.CAUTION, sentence)
