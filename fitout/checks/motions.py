"""Drawers, slides and lids in the vehicle as it is parked, and what turns of the vehicle."""

from __future__ import annotations

from collections.abc import Iterator

from fitout.checks.courses import (
    ALL,
    BESIDE,
    FAR,
    Course,
    Near,
    course_of,
    held_states,
    moved_by,
    swing_course,
)
from fitout.checks.gaps import place_between
from fitout.checks.motion_faults import impossible
from fitout.checks.subject import Subject
from fitout.checks.verdict import at_least, remark
from fitout.model.bay import Swing
from fitout.model.finding import Finding, Severity
from fitout.model.module import Motion, MotionKind, Part

SOURCE = "swept volume; least gap: common practice"

BEHIND_SILL = (
    ("door", "motion past the tailgate", "open tailgate"),
    ("ledge", "motion past the bumper", "bumper"),
)
"""What may stand behind the sill: the obstacles' kind, the finding's code, and words."""

FULL = 1e-3
"""A motion that ends no more than this short of its range, mm or degrees, is a whole one."""


def check_motions(subject: Subject) -> Iterator[Finding]:
    """Each motion of each module, then the tailgate's leaves and the seat back."""
    faults = list(impossible(subject))
    yield from faults
    faulty = {fault.where for fault in faults}
    for motion, course in courses(subject):
        if motion.id in faulty or course is None:
            continue
        yield _whole_way(subject, course)
        yield from _behind(subject, course)
        yield from _packed(subject, course)
    for swing, course in turning(subject):
        yield _vehicle_turns(subject, swing, course)


def courses(subject: Subject) -> Iterator[tuple[Motion, Course | None]]:
    """How each motion of each module in the bay runs; None where that is not swept."""
    for module in subject.fitout.modules:
        if module.berth is None:
            continue
        for motion in module.motions:
            able = motion.travel > 0.0
            yield motion, course_of(subject, motion) if able else None


def played(subject: Subject) -> Iterator[tuple[Motion, Course | None, list[Part]]]:
    """Every motion of every module, how it runs, and the parts it moves."""
    run = {motion.id: course for motion, course in courses(subject)}
    for module in subject.fitout.modules:
        for motion in module.motions:
            yield motion, run.get(motion.id), moved_by(subject, motion)


def turning(subject: Subject) -> Iterator[tuple[Swing, Course]]:
    """Everything of the vehicle that turns, and how it runs."""
    for swing in subject.fitout.bay.swings:
        yield swing, swing_course(subject, swing)


def unit_of(motion: Motion) -> str:
    """What a motion's travel is counted in."""
    return "°" if motion.kind is MotionKind.HINGE else "mm"


def _whole_way(subject: Subject, course: Course) -> Finding:
    """Whether a motion runs its full range, against all but what stands behind the sill."""
    motion = course.motion
    where, unit = motion.id, unit_of(motion)
    limit = subject.setting.rules.moving
    if course.stop is not None and course.reaches < motion.travel - FULL:
        return _blocked(subject, course)
    when = _when(motion)
    nearest = course.nearest.get(ALL)
    if nearest is None:
        sentence = (
            f"{where} {_word(motion)} by its full {motion.travel:.0f} {unit} {when}, "
            f"keeping {limit:g} mm or more from everything it passes."
        )
        return at_least("motion", where, limit, limit, "mm", sentence, SOURCE)
    gap = max(nearest.gap, 0.0)
    sentence = (
        f"{where} {_word(motion)} by its full {motion.travel:.0f} {unit} {when}, but on its way "
        f"{nearest.part.id} comes within {gap:.1f} mm of {nearest.other.id}"
        f"{place_between(subject, nearest.part, nearest.other)}"
        f"{_in_state(subject, motion, nearest)}; "
        f"{limit:g} mm are wanted."
    )
    return at_least("motion", where, gap, limit, "mm", sentence, SOURCE)


def _blocked(subject: Subject, course: Course) -> Finding:
    motion, stop = course.motion, course.stop
    assert stop is not None
    where, unit = motion.id, unit_of(motion)
    at = place_between(subject, stop.part, stop.other)
    state = _in_state(subject, motion, stop)
    if course.reaches < FULL:
        sentence = (
            f"{where} is blocked at its very start: {stop.part.id} is against "
            f"{stop.other.id}{at}{state}."
        )
    else:
        sentence = (
            f"{where} {_word(motion)} by {course.reaches:.1f} of its {motion.travel:.0f} {unit} "
            f"only: there {stop.part.id} meets {stop.other.id}{at}{state}."
        )
    return at_least("motion", where, course.reaches, motion.travel, unit, sentence, SOURCE)


def _word(motion: Motion) -> str:
    words = {
        MotionKind.SLIDE: "comes out",
        MotionKind.HINGE: "opens",
        MotionKind.REMOVE: "lifts out",
    }
    return words[motion.kind]


def _when(motion: Motion) -> str:
    """In which states of the vehicle, and with what open."""
    words = "with the tailgate open" if motion.tailgate == "open" else "in every state"
    return f"{words} and {' and '.join(motion.needs)} open" if motion.needs else words


def _in_state(subject: Subject, motion: Motion, near: Near) -> str:
    """The state something stands in the way in, if it is not there in all that matter."""
    obstacle = subject.obstacles.get(near.other.id)
    held = held_states(subject, motion)
    if obstacle is None or not obstacle.states or set(held) <= set(obstacle.states):
        return ""
    return f" ({next(state for state in held if state in obstacle.states)})"


def _behind(subject: Subject, course: Course) -> Iterator[Finding]:
    """What comes out behind the sill against the open leaves, their loads, and the bumper."""
    limit = subject.setting.rules.moving
    reach = -min(float(body.lo[0]) for body in course.passed)
    there = {obstacle.kind for obstacle in subject.obstacles.values()}
    for kind, code, what in BEHIND_SILL:
        if kind not in there or reach <= 0.0:
            continue
        where = f"{course.motion.id}: {what}"
        start = f"{course.motion.id} reaches {reach:.0f} mm behind the sill"
        near = course.nearest.get(kind)
        if near is None:
            sentence = f"{start} and keeps {FAR:.0f} mm or more from the {what}."
            yield at_least(code, where, FAR, limit, "mm", sentence, SOURCE)
            continue
        if near.gap <= 0.0:
            how = f"runs {-near.gap:.1f} mm into"
        else:
            how = f"keeps {near.gap:.1f} mm from"
        at = place_between(subject, near.part, near.other)
        state = _in_state(subject, course.motion, near)
        sentence = f"{start}: {near.part.id} {how} {near.other.id}{at}{state}."
        yield at_least(code, where, near.gap, limit, "mm", sentence, SOURCE)


def _packed(subject: Subject, course: Course) -> Iterator[Finding]:
    """Whether a motion holds with bags on the deck, or only with the deck cleared there."""
    deck = subject.setting.deck
    if deck is None:
        return
    # Bags stand on the deck anywhere ahead of the sill; behind it there is none to stand on.
    above = [
        body.id for body in course.passed if float(body.hi[2]) > deck + 1.0 and body.hi[0] > 0.0
    ]
    where = f"{course.motion.id}: packed"
    if above:
        sentence = (
            f"{course.motion.id} needs the deck cleared over it: {above[0]} rises above the deck, "
            f"where bags may stand."
        )
    else:
        sentence = f"{course.motion.id} {_word(course.motion)} with the deck packed as well."
    yield remark("motion, packed", where, Severity.PASS, sentence)


def _vehicle_turns(subject: Subject, swing: Swing, course: Course) -> Finding:
    """A leaf of the tailgate from shut to open, or the seat's back over its range."""
    door = swing.kind == "door"
    code = "tailgate swing" if door else "seat swing"
    limit = subject.setting.rules.moving if door else subject.setting.rules.seat
    where = f"bay/{swing.name}"
    word = "opens" if door else "goes forward"
    if course.stop is not None and course.reaches < swing.travel - FULL:
        at = place_between(subject, course.stop.part, course.stop.other)
        sentence = (
            f"{where} {word} by {course.reaches:.1f} of its {swing.travel:.1f} ° only: there "
            f"{course.stop.part.id} meets {course.stop.other.id}{at}."
        )
        if course.reaches < FULL:
            sentence = (
                f"{where} is blocked at its very start: {course.stop.part.id} is against "
                f"{course.stop.other.id}{at}."
            )
        return at_least(code, where, course.reaches, swing.travel, "°", sentence, SOURCE)
    near = course.nearest.get(ALL)
    start = f"{where} {word} by its full {swing.travel:.1f} °"
    if near is None:
        sentence = f"{start}, {BESIDE:.0f} mm or more from everything that stands in the bay."
        return at_least(code, where, BESIDE, limit, "mm", sentence, SOURCE)
    gap = max(near.gap, 0.0)
    at = place_between(subject, near.part, near.other)
    sentence = f"{start}, {gap:.1f} mm from {near.other.id}{at}; {limit:g} mm are wanted."
    return at_least(code, where, gap, limit, "mm", sentence, SOURCE)
