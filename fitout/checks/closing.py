"""The order in which moving parts can be shut, and where there is none.

One motion must be shut before another when the other's striker moves with it, when the other
may move only while it is shut, or when the other, once shut, stands in its way. Followed from
one to the next such reasons must never come back to where they began.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from fitout.checks.courses import passed_by, way_of
from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, remark
from fitout.clearance.contact import contacts, near_pairs_between
from fitout.model.finding import Finding, Severity
from fitout.model.module import JointKind, Motion

IN_THE_WAY = 0.2
"""Overlap from which a shut part stands in another's way, mm: more than a swing's hulls exceed."""

BRIDGED = (JointKind.HINGED, JointKind.SLIDES)
"""Joints whose two parts move past each other by design."""


@dataclass(frozen=True, slots=True)
class Before:
    """`first` must be shut before `then` can be, and why: both are motions by id."""

    first: str
    then: str
    reason: str


def check_closing(subject: Subject) -> Iterator[Finding]:
    """What must be shut before what; a fail where that goes round in a circle."""
    # One reason for each pair of motions is enough: the first found.
    reasons: dict[tuple[str, str], Before] = {}
    for rule in closing_rules(subject):
        reasons.setdefault((rule.first, rule.then), rule)
    rules = list(reasons.values())
    knots = list(circles(rules))
    for knot in knots:
        first = knot[0].first
        steps = "; ".join(
            f"{rule.first} must be shut before {rule.then}, since {rule.reason}" for rule in knot
        )
        sentence = f"{first} can't be shut in any order: {steps}."
        where = " – ".join(rule.first for rule in knot)
        yield remark("closing order", where, Severity.FAIL, sentence)
    knotted = {rule for knot in knots for rule in knot}
    for rule in rules:
        if rule not in knotted:
            sentence = f"Shut {rule.first} before {rule.then}: {rule.reason}."
            where = f"{rule.first} – {rule.then}"
            yield remark("closing order", where, Severity.PASS, sentence)
    if not rules and any(m.motions for m in subject.fitout.modules):
        sentence = "Everything that moves can be shut in any order."
        yield remark("closing order", subject.fitout.name, Severity.PASS, sentence, COMMON_PRACTICE)


def closing_rules(subject: Subject) -> Iterator[Before]:
    """Every reason why one motion must be shut before another."""
    motions = {m.id: m for module in subject.fitout.modules for m in module.motions}
    movers = {part.id: m for m in motions.values() for part in subject.moved(m)}
    for module in subject.fitout.modules:
        for latch in module.latches:
            other = movers.get(latch.striker_panel)
            if other is not None and other.id != latch.motion_id:
                reason = (
                    f"the bolt of {latch.motion_id} meets its striker on {latch.striker_panel}, "
                    f"which moves with {other.id}"
                )
                yield Before(other.id, latch.motion_id, reason)
    for motion in motions.values():
        for needed in motion.needs:
            if needed in motions:
                yield Before(motion.id, needed, f"{motion.id} moves only while {needed} is open")
        for needed in motion.shut:
            # Two that are never out at the same time have no order to be shut in.
            if needed in motions and motion.id not in motions[needed].shut:
                yield Before(needed, motion.id, f"{motion.id} moves only while {needed} is shut")
    yield from _in_the_way(subject, motions.values())


def _in_the_way(subject: Subject, motions: Iterable[Motion]) -> Iterator[Before]:
    """Motions whose parts, on their way, meet what stands shut of another motion."""
    bridged = {
        pair
        for joint in subject.fitout.all_joints()
        if joint.kind in BRIDGED
        for pair in ((joint.a, joint.b), (joint.b, joint.a))
    }
    known = [m for m in motions if subject.modules[m.module].berth is not None]
    parts = [(m, part.id) for m in known for part in subject.moved(m)]
    # What moves only while another is open does not start where it stands shut.
    ways = [(m, i) for m, i in parts if not m.needs]
    swept = [passed_by(subject, subject.bodies[i], way_of(m)) for m, i in ways]
    shut = [subject.bodies[i] for _, i in parts]
    pairs = near_pairs_between(swept, shut, 0.0)
    keep = [
        (i, j)
        for i, j in pairs.tolist()
        if ways[i][0].id != parts[j][0].id
        and ways[i][1] != parts[j][1]
        and (ways[i][1], parts[j][1]) not in bridged
        and parts[j][0].id not in ways[i][0].shut
    ]
    for i, j in keep:
        pair = [swept[i], shut[j]]
        if contacts(pair, 0.01, subject.memory.pairs)[0, 1].depth > IN_THE_WAY:
            (mover, part), (blocker, other) = ways[i], parts[j]
            reason = f"{part} would run into {other} where that stands shut"
            yield Before(mover.id, blocker.id, reason)


def circles(rules: Sequence[Before]) -> Iterator[tuple[Before, ...]]:
    """The shortest circle through each motion that is in one, each circle once."""
    after: dict[str, list[Before]] = {}
    for rule in rules:
        after.setdefault(rule.first, []).append(rule)
    told: set[frozenset[str]] = set()
    for start in after:
        circle = _way_back(after, start)
        motions = frozenset(rule.first for rule in circle)
        if circle and motions not in told:
            told.add(motions)
            yield circle


def _way_back(after: dict[str, list[Before]], start: str) -> tuple[Before, ...]:
    """The fewest rules that lead from a motion back to itself; none if there is no way."""
    ways: list[tuple[Before, ...]] = [(rule,) for rule in after[start]]
    seen: set[str] = set()
    while ways:
        longer: list[tuple[Before, ...]] = []
        for way in ways:
            at = way[-1].then
            if at == start:
                return way
            if at not in seen:
                seen.add(at)
                longer += [(*way, rule) for rule in after.get(at, ())]
        ways = longer
    return ()
