"""What governs each module's strength: panels, slides and the screws between, in one line."""

from __future__ import annotations

from collections.abc import Iterator

from fitout.checks.carcass_joints import joint_details
from fitout.checks.detail import Detail
from fitout.checks.loads import panel_details
from fitout.checks.slide_loads import slide_details
from fitout.checks.subject import Subject
from fitout.checks.verdict import at_most
from fitout.model.finding import Finding, Severity

NEXT = 2
"""How many are told besides the one that governs."""

SOURCE = "the findings on its panels, slides and joints; each names its own"


def check_strength(subject: Subject) -> Iterator[Finding]:
    """For each module what governs, how much of what is allowed it uses, the cure; then all."""
    for module in subject.fitout.modules:
        details = [
            *panel_details(subject, module),
            *slide_details(subject, module),
            *joint_details(subject, module),
        ]
        yield from _summary(module.name, details)
        yield from (detail.finding for detail in details)


def _summary(name: str, details: list[Detail]) -> Iterator[Finding]:
    shares = sorted(
        ((share, d) for d in details if (share := d.share) is not None), key=lambda s: -s[0]
    )
    if not shares:
        return
    (most, governs), others = shares[0], shares[1 : 1 + NEXT]
    sentence = f"{name}: {governs.what} governs, {100.0 * most:.0f} % of what is allowed"
    if others:
        sentence += f"; next {' and '.join(f'{d.what} ({100.0 * s:.0f} %)' for s, d in others)}"
    sentence += "."
    cures = dict.fromkeys(d.cure for _, d in shares if d.cure)
    sentence += "".join(f" {cure}" for cure in cures)
    unknown = sum(d.finding.severity is Severity.UNCHECKED for d in details)
    if unknown:
        sentence += f" {unknown} part(s) of it could not be checked."
    yield at_most("strength", name, 100.0 * most, 100.0, "%", sentence, SOURCE)
