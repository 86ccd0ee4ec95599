"""The gaps of a fit-out that are least sure once everything is made."""

from __future__ import annotations

import math
from collections.abc import Iterable

from fitout.checks.gaps import between_modules
from fitout.checks.stack import Stack, stack_of
from fitout.checks.subject import Subject
from fitout.model.finding import Finding, Severity


def stacks(subject: Subject) -> tuple[Stack, ...]:
    """The stack-up of the tightest gap of each module to each other and to each surface."""
    found = (stack_of(subject, a, b) for a, b in between_modules(subject))
    return tuple(s for s in found if s is not None)


def tightest(subject: Subject, count: int | None = 3) -> tuple[Stack, ...]:
    """The gaps least likely to be there, least likely first; all of them if `count` is None."""
    return tuple(sorted(stacks(subject), key=_likeliness)[:count])


def left_out(subject: Subject, found: Iterable[Finding]) -> str:
    """Why gaps are missing among `stacks`, as a sentence; empty if none are."""
    if subject.conflicts:
        return (
            "There are no gaps to tell: not everything finds room, so nothing is built. "
            "`fitout check` says which wishes collide."
        )
    known = {*subject.parts, *subject.obstacles}
    clashing = (
        finding.severity is Severity.FAIL
        and finding.value is not None
        and finding.value <= 0.0
        and known.issuperset(finding.where.split(" – "))
        for finding in found
    )
    if any(clashing):
        return "Where parts run into something there is no gap: `fitout check` says where."
    return ""


def _likeliness(stack: Stack) -> tuple[float, float, str]:
    # Where all are as good as sure the probability no longer tells them apart.
    spare = stack.gap / stack.u if stack.u else math.inf
    return stack.probability, spare, stack.name
