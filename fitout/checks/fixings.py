"""Bolts to the vehicle: enough of them, and nothing beneath that a bolt must not reach."""

from __future__ import annotations

import itertools
import math
from collections.abc import Collection, Iterator, Mapping, Sequence

from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, at_least, remark
from fitout.model.bay import AnchorPoint
from fitout.model.finding import Finding, Severity
from fitout.model.module import Module
from fitout.model.placement import Vector

CLEAR = ("clear", "nothing", "open air")

NEAR = 100.0
"""Entered points this near to a proposed hole are told as not met, mm."""


def check_fixings(subject: Subject) -> Iterator[Finding]:
    """Each module's fixings: known points used, what lies below them, and how many."""
    bay = subject.fitout.bay
    anchors = {a.name: a for a in (*bay.anchors, *bay.upper_anchors)}
    used = {f.anchor for m in subject.fitout.modules for f in m.fixings}
    unused = [anchor for anchor in bay.anchors if anchor.name not in used]
    for module in subject.fitout.modules:
        if not module.needs_fixings:
            continue
        known = [f for f in module.fixings if f.anchor is not None]
        sentence = (
            f"{module.name} is bolted to {len(known)} known point(s) of the vehicle; "
            f"{module.needs_fixings} are wanted."
        )
        if len(known) < module.needs_fixings:
            sentence += _where_else(module, anchors, unused)
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


def _where_else(module: Module, taken: Collection[str], unused: Sequence[AnchorPoint]) -> str:
    """The holes that could be drilled, as entries to paste, one a line; near ones not met."""
    proposed = [f.point for f in module.fixings if f.anchor is None]
    if not proposed:
        return ""
    numbered = (f"{module.name} {number}" for number in itertools.count(1))
    names = tuple(itertools.islice((n for n in numbered if n not in taken), len(proposed)))
    lines = [_entry(name, point) for name, point in zip(names, proposed, strict=True)]
    listed = "\n".join(lines)
    return (
        " Further holes could go here: look at what lies beneath, then enter under "
        f"`bay: anchors:` with `below: clear`:\n{listed}\n"
        "There `at` is forward of the sill and left of the centre line."
        f"{_missed(dict(zip(names, proposed, strict=True)), unused)}"
    )


def _missed(proposed: Mapping[str, Vector], unused: Sequence[AnchorPoint]) -> str:
    """How far entered points that no bolt uses lie from the holes that are proposed."""
    told = []
    for anchor in unused:
        away = {n: math.dist(p[:2], (anchor.x, anchor.y)) for n, p in proposed.items()}
        name = min(away, key=away.__getitem__)
        if away[name] <= NEAR:
            told.append(f"{anchor.name}, {away[name]:.1f} mm from {name}")
    return f" Entered, but not where a bolt can be: {'; '.join(told)}." if told else ""


def _entry(name: str, point: Vector) -> str:
    """An anchor as the design file holds it, in whole mm."""
    x, y, z = (round(value) for value in point)
    height = f"height: {z}, " if z else ""
    return f"- {{name: {name}, at: [{x}, {y}], {height}below: unknown}}"
