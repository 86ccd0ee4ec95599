"""Bolts to the vehicle: enough of them, and nothing beneath that a bolt must not reach."""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterator

from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, at_least, remark
from fitout.model.finding import Finding, Severity
from fitout.model.module import Module
from fitout.model.placement import Vector

CLEAR = ("clear", "nothing", "open air")


def check_fixings(subject: Subject) -> Iterator[Finding]:
    """Each module's fixings: known points used, what lies below them, and how many."""
    bay = subject.fitout.bay
    anchors = {a.name: a for a in (*bay.anchors, *bay.upper_anchors)}
    for module in subject.fitout.modules:
        if not module.needs_fixings:
            continue
        known = [f for f in module.fixings if f.anchor is not None]
        sentence = (
            f"{module.name} is bolted to {len(known)} known point(s) of the vehicle; "
            f"{module.needs_fixings} are wanted."
        )
        if len(known) < module.needs_fixings:
            sentence += _where_else(module, anchors)
        yield at_least(
            "fixing points",
            module.name,
            len(known),
            module.needs_fixings,
            "",
            sentence,
            COMMON_PRACTICE,
        )
        for fixing in (*known, *module.tops):
            anchor = anchors[fixing.anchor or ""]
            if anchor.below.strip().lower() in CLEAR:
                continue
            if anchor.below == "unknown" and fixing in module.tops:
                sentence = (
                    f"{module.name} is bolted to {anchor.name}, and what lies behind is not known: "
                    f"an airbag, wiring? Look, and enter it (`below: clear`, or what is there)."
                )
            elif anchor.below == "unknown":
                sentence = (
                    f"{module.name} is bolted at {anchor.name}, and what lies beneath is not "
                    f"known: look from below and enter it (`below: clear`, or what is there)."
                )
            else:
                sentence = (
                    f"{module.name} is bolted at {anchor.name}, towards {anchor.below}: use "
                    f"another point, or enter `below: clear` once nothing can be reached."
                )
            yield remark(
                "below a fixing", f"{module.name} – {anchor.name}", Severity.FAIL, sentence
            )


def _where_else(module: Module, taken: Collection[str]) -> str:
    """The holes that could be drilled, as entries to paste, one a line."""
    proposed = [f.point for f in module.fixings if f.anchor is None]
    if not proposed:
        return ""
    numbered = (f"{module.name} {number}" for number in itertools.count(1))
    names = itertools.islice((name for name in numbered if name not in taken), len(proposed))
    lines = [_entry(name, point) for name, point in zip(names, proposed, strict=True)]
    listed = "\n".join(lines)
    return (
        " Further holes could go here: look at what lies beneath, then enter under "
        f"`bay: anchors:` with `below: clear`:\n{listed}\n"
        "There `at` is forward of the sill and left of the centre line."
    )


def _entry(name: str, point: Vector) -> str:
    """An anchor as the design file holds it, in whole mm."""
    x, y, z = (round(value) for value in point)
    height = f"height: {z}, " if z else ""
    return f"- {{name: {name}, at: [{x}, {y}], {height}below: unknown}}"
