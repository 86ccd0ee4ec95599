"""Wishes that contradict each other, remarks of modules, and parts no sheet can give."""

from __future__ import annotations

import math
from collections.abc import Iterator

from fitout.checks.remedies import board_entry, larger_sheets
from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, at_least, fact, remark
from fitout.cutting.cut_list import CutLine, cut_list
from fitout.cutting.fits import Size, excess
from fitout.cutting.stocks import sizes_of
from fitout.model.finding import Finding, Severity
from fitout.model.panel import Panel

SIZES = ("depth", "width", "height")
"""The entries for a module's size along x, y and z."""

CLOSE = 0.05
"""Lengths that differ by less are the same to a builder, mm."""


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


def check_remarks(subject: Subject) -> Iterator[Finding]:
    """What a module itself had to say."""
    for module in subject.fitout.modules:
        for said in module.remarks:
            yield remark(said.code, module.name, Severity.CAUTION, said.sentence)


def check_sheets(subject: Subject) -> Iterator[Finding]:
    """Whether each part can be cut from its sheet in a turn its grain allows."""
    large = [p for p in subject.cut_panels() if excess(p, _sizes(subject, p)) is not None]
    for line in cut_list(large).lines:
        too_long, too_wide = excess(line.panel, _sizes(subject, line.panel)) or (0.0, 0.0)
        amounts = ((too_long, "long"), (too_wide, "wide"))
        told = " and ".join(f"{by:.0f} mm too {way}" for by, way in amounts if by >= CLOSE)
        sentence = (
            f"{line.name} ({line.length:.0f} × {line.width:.0f}) does not go on a sheet of "
            f"{line.board.key} ({line.board.length:g} × {line.board.width:g}, edges trimmed by "
            f"{subject.cutting.trim:g}): it is {told}. {_what_could_give(subject, line)}"
        )
        over = -max(too_long, too_wide)
        where = line.panels[0].id
        yield at_least("sheet size", where, over, 0.0, "mm", sentence, COMMON_PRACTICE)


def _sizes(subject: Subject, panel: Panel) -> tuple[Size, ...]:
    """The usable areas of all that a panel can be cut from."""
    return sizes_of(panel.board, subject.stock, subject.cutting)


def _what_could_give(subject: Subject, line: CutLine) -> str:
    """The entries that would make the part smaller or its sheet larger."""
    entries = dict.fromkeys(
        f"the {size} of {panel.module}"
        for panel in line.panels
        for size in _sizes_over(subject, panel)
    )
    larger = larger_sheets(subject, line.panel)
    sheet = f"{larger[0].key}, " if larger else ""
    where = board_entry(subject, line.panel)
    joint = _joint(subject, line)
    return (
        f"One of these could give: {', '.join(entries)}; a larger sheet ({sheet}{where}); {joint}."
    )


def _joint(subject: Subject, line: CutLine) -> str:
    """Where a part could be made of pieces, each of which goes on a sheet.

    Butted over a bearer, in equal pieces along the side that is too long (common practice).
    """
    usable = max(_sizes(subject, line.panel), key=lambda size: size[0] * size[1])
    over = excess(line.panel, [usable]) or (0.0, 0.0)
    told = []
    for way, (by, room) in zip(("length", "width"), zip(over, usable, strict=True), strict=True):
        if by >= CLOSE:
            whole = room + by
            count = math.ceil(whole / room)
            at = ", ".join(f"{whole * i / count:.0f}" for i in range(1, count))
            told.append(f"at {at} mm of its {way if line.grain_locked else f'{whole:.0f} mm'}")
    return f"a butt joint over a bearer {' and '.join(told)}"


def _sizes_over(subject: Subject, panel: Panel) -> list[str]:
    """Which of its module's sizes make a panel too large: those its excess runs along."""
    usable = max(_sizes(subject, panel), key=lambda size: size[0] * size[1])
    over = excess(panel, [usable]) or (0.0, 0.0)
    too_large = [room + by for room, by in zip(usable, over, strict=True) if by >= CLOSE]
    place = panel.placement
    found = []
    for size, axis in zip(panel.outline.size, (place.u, place.v), strict=True):
        if any(abs(size - length) < CLOSE for length in too_large):
            found.append(SIZES[max(range(3), key=lambda i: abs(axis[i]))])
    return found
