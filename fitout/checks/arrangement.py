"""Wishes that contradict each other, remarks of modules, and parts no sheet can give."""

from __future__ import annotations

from collections.abc import Iterator

from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, at_least, fact, remark
from fitout.cutting.cut_list import cut_list
from fitout.cutting.fits import excess
from fitout.model.finding import Finding, Severity


def check_arrangement(subject: Subject) -> Iterator[Finding]:
    """Whether every module has the room it asked for."""
    for conflict in subject.conflicts:
        where = ", ".join(dict.fromkeys(str(w.path[1]) for w in conflict.wishes if len(w.path) > 1))
        yield at_least(
            "arrangement",
            where or "bay",
            -conflict.by,
            0.0,
            "mm",
            conflict.sentence,
            COMMON_PRACTICE,
        )
    if subject.conflicts:
        sentence = "Nothing else was checked: first every module must have the room it needs."
        yield remark("all else", subject.fitout.name, Severity.UNCHECKED, sentence)
    else:
        count = sum(1 for m in subject.fitout.modules if m.berth is not None)
        sentence = f"Modules with the room they asked for: {count} of {count}."
        yield fact("arrangement", subject.fitout.name, count, "modules", sentence, COMMON_PRACTICE)


def check_notes(subject: Subject) -> Iterator[Finding]:
    """What a module itself had to say."""
    for module in subject.fitout.modules:
        for code, sentence in module.notes:
            yield remark(code, module.name, Severity.CAUTION, sentence)


def check_sheets(subject: Subject) -> Iterator[Finding]:
    """Whether each part can be cut from its sheet in a turn its grain allows."""
    large = [p for p in subject.fitout.panels() if excess(p, subject.cutting) is not None]
    for line in cut_list(large).lines:
        too_long, too_wide = excess(line.panel, subject.cutting) or (0.0, 0.0)
        sentence = (
            f"{line.name} ({line.length:.0f} × {line.width:.0f}) does not go on a sheet of "
            f"{line.board.key} ({line.board.length:g} × {line.board.width:g}, edges trimmed by "
            f"{subject.cutting.trim:g}): it is {too_long:.0f} mm too long and "
            f"{too_wide:.0f} mm too wide. Use a larger sheet, or a smaller module."
        )
        over = -max(too_long, too_wide)
        where = line.panels[0].id
        yield at_least("sheet size", where, over, 0.0, "mm", sentence, COMMON_PRACTICE)
