"""Which drawers and lids can't stand open together."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from functools import partial

import numpy as np

from fitout.checks.courses import Course, all_motions, opened_before, way_of
from fitout.checks.gaps import place_between
from fitout.checks.motions import courses
from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, remark
from fitout.clearance.body import Body
from fitout.clearance.contact import contacts, near_pairs_between
from fitout.model.finding import Finding, Severity

Pair = tuple[Body, Body]


def check_open_together(subject: Subject) -> Iterator[Finding]:
    """Each two motions that hit each other once both are open, or on the way there.

    What is opened one at a time is told as such, and not looked at.
    """
    run = [course for _, course in courses(subject) if course is not None]
    free = 0
    singly: dict[str, None] = {}
    for first, second in itertools.combinations(run, 2):
        if _follows(subject, first, second):
            continue
        a, b = first.motion, second.motion
        if b.id in a.shut or a.id in b.shut:
            singly |= {a.id: None, b.id: None}
            continue
        met = _meet(subject, first.passed, second.passed)
        if met is None:
            free += 1
            continue
        yield _finding(subject, first, second, met)
    if singly:
        names = ", ".join(singly)
        sentence = f"{names} are opened one at a time, as they must be: the others stay shut."
        yield remark("open together", next(iter(singly)), Severity.PASS, sentence)
    if free:
        pairs = "one pair" if free == 1 else f"{free} pairs"
        sentence = f"Of {pairs} of motions both may stand open: they keep out of each other's way."
        yield remark("open together", subject.fitout.name, Severity.PASS, sentence)


def _follows(subject: Subject, first: Course, second: Course) -> bool:
    """Whether one is opened only once the other is: then its own check has looked at both."""
    motions = all_motions(subject)
    return first.motion in opened_before(motions, second.motion) or second.motion in opened_before(
        motions, first.motion
    )


def _finding(subject: Subject, first: Course, second: Course, met: Pair) -> Finding:
    a, b = first.motion, second.motion
    where = f"{a.id} – {b.id}"
    at = place_between(subject, *met)
    both = _meet(subject, _open(subject, first), _open(subject, second))
    if both is None:
        how = "hit each other on the way: open one fully before the other, and shut it last"
    else:
        how = "can't stand open together"
    sentence = f"{a.id} and {b.id} {how}: {met[0].id} meets {met[1].id}{at}."
    return remark("open together", where, Severity.CAUTION, sentence, COMMON_PRACTICE)


def _open(subject: Subject, course: Course) -> tuple[Body, ...]:
    """What moves, where it stands at the end of its way."""
    way = way_of(course.motion)
    return tuple(
        subject.memory.recall(("open", b.key, way), partial(way.pose, b, way.travel))
        for b in course.moving
    )


def _meet(subject: Subject, first: tuple[Body, ...], second: tuple[Body, ...]) -> Pair | None:
    """Two bodies, one of each, that run deepest into each other; None if none do."""
    bodies = [*first, *second]
    pairs = near_pairs_between(first, second, 0.0) + np.array([0, len(first)])
    found = contacts(bodies, 1.0, subject.memory.pairs, pairs)
    deep = [(contact.depth, pair) for pair, contact in found.items() if contact.clashes]
    if not deep:
        return None
    _, (i, j) = max(deep)
    return bodies[i], bodies[j]
