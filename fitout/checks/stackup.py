"""The gaps of a fit-out that are least sure once everything is made."""

from __future__ import annotations

import math

from fitout.checks.gaps import between_modules
from fitout.checks.stack import Stack, stack_of
from fitout.checks.subject import Subject


def stacks(subject: Subject) -> tuple[Stack, ...]:
    """The stack-up of the tightest gap of each module to each other and to each surface."""
    found = (stack_of(subject, a, b) for a, b in between_modules(subject))
    return tuple(s for s in found if s is not None)


def tightest(subject: Subject, count: int = 3) -> tuple[Stack, ...]:
    """The gaps least likely to be there, least likely first."""
    return tuple(sorted(stacks(subject), key=_likeliness)[:count])


def _likeliness(stack: Stack) -> tuple[float, float, str]:
    # Where all are as good as sure the probability no longer tells them apart.
    spare = stack.gap / stack.u if stack.u else math.inf
    return stack.probability, spare, stack.name
