"""What holds each moving part shut: a latch that meets its striker, a locking slide, or nothing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from fitout.checks.courses import passed_by, way_of
from fitout.checks.latch_fit import faults, hand_room, knob, meeting, passed
from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, at_least, remark
from fitout.clearance.body import Body, body_of_pieces
from fitout.clearance.contact import Pairs, contacts, near_pairs_between
from fitout.model.finding import Finding, Severity
from fitout.model.item import Item, Piece
from fitout.model.latch import Latch
from fitout.model.module import Module, Motion, MotionKind, SlideDuty
from fitout.model.placement import Placement

LEAST_ENGAGEMENT = 5.0
"""How far a bolt must reach behind its lip, mm (common practice)."""

REARWARD_G = 0.5
"""The acceleration goods are held against rearward and sideways, in g: EN 12195-1:2010 for
roads (from memory)."""

GRAVITY = 9.81

HOLDS = "EN 12195-1:2010, 0.5 g rearward and sideways, from memory; what it holds: catalogue"
ROOM = "case swept with its panel; least gap: common practice"


def check_latches(subject: Subject) -> Iterator[Finding]:
    """Each drawer, slide and lid: what holds it, and whether that really does."""
    for module in subject.fitout.modules:
        if module.berth is None:
            continue
        lying: list[Motion] = []
        for motion in module.motions:
            moving = subject.moved(motion)
            # What lifts out as a whole is bolted down, which another check looks at.
            if not moving and motion.kind is MotionKind.REMOVE:
                continue
            found = [latch for latch in module.latches if latch.motion == motion.name]
            if not found and motion.kind is MotionKind.REMOVE:
                lying.append(motion)
            elif not found:
                only_items = all(isinstance(part, Item) for part in moving)
                yield _unlatched(subject, module, motion, only_items)
            for latch in found:
                yield from _latched(subject, module, motion, latch)
        if lying:
            yield _lying(module, lying)


def _lying(module: Module, motions: Sequence[Motion]) -> Finding:
    """One caution for all of a module that is lifted off and held by nothing."""
    names = ", ".join(motion.id for motion in motions)
    sentence = (
        f"By its own weight alone lies: {names}. It rattles on a rough road, and falls out if the "
        "vehicle turns over. Glue felt under the edges, and add a turn button or a strap."
    )
    return remark("latch", module.name, Severity.CAUTION, sentence)


def _unlatched(subject: Subject, module: Module, motion: Motion, only_items: bool) -> Finding:
    where = motion.id
    duty = _duty(module, motion)
    if only_items:
        sentence = (
            f"What holds {where} shut is part of a bought thing and was not checked: see that "
            f"it has a catch of its own."
        )
        return remark("latch", where, Severity.UNCHECKED, sentence)
    if duty is not None and duty.slide.locks:
        sentence = f"{where} is held shut by its slides {duty.slide.key}, which lock in and out."
        return remark("latch", where, Severity.PASS, sentence)
    if motion.kind is MotionKind.SLIDE:
        sentence = (
            f"Nothing holds {where} shut: it runs out by itself uphill, and in a crash. "
            f"{_instead(subject, module)}"
        )
        return remark("latch", where, Severity.FAIL, sentence)
    sentence = (
        f"{where} lies shut by its own weight alone: it rattles, and opens if the vehicle "
        f"turns over. Give it a latch, or tie down what is in it."
    )
    return remark("latch", where, Severity.CAUTION, sentence)


def _instead(subject: Subject, module: Module) -> str:
    """What a builder can do for a drawer that nothing holds, as the module's entries allow."""
    spec = subject.setting.specs.get(module.name)
    if spec is None or not hasattr(spec, "latch"):
        return "Take slides that lock."
    if spec.latch == "none":
        return "Leave out `latch: none`, or take slides that lock."
    return (
        "There is no room for its latch: make the front wider or higher, ask for another latch, "
        "or take slides that lock."
    )


def _duty(module: Module, motion: Motion) -> SlideDuty | None:
    return next((duty for duty in module.slides if duty.name == motion.id), None)


def _latched(subject: Subject, module: Module, motion: Motion, latch: Latch) -> Iterator[Finding]:
    where = motion.id
    wrong = list(faults(latch, motion, subject.parts))
    for fault in wrong:
        sentence = f"The {latch.type.key} of {where} {fault}."
        yield remark("latch", where, Severity.FAIL, sentence)
    if wrong:
        return
    met = meeting(latch)
    reaches = "reaches" if met.engagement >= LEAST_ENGAGEMENT else "reaches only"
    sentence = (
        f"The bolt of {where}'s {latch.type.key} {reaches} {met.engagement:.1f} mm behind the "
        f"striker on {latch.striker_panel}; {LEAST_ENGAGEMENT:g} mm are wanted."
    )
    yield at_least(
        "latch", where, met.engagement, LEAST_ENGAGEMENT, "mm", sentence, COMMON_PRACTICE
    )
    yield from _room(subject, motion, latch)
    duty = _duty(module, motion)
    if duty is not None and not duty.slide.locks:
        yield _holds(subject, latch, duty)


def _holds(subject: Subject, latch: Latch, duty: SlideDuty) -> Finding:
    """Whether the bolt holds drawer and contents when the vehicle leaps forward."""
    where = latch.motion_id
    mass_kg = sum(subject.loads[i].mass_kg for i in duty.moving) + duty.contents_kg
    force_n = REARWARD_G * GRAVITY * mass_kg
    if latch.type.rating_n is None:
        sentence = (
            f"Whether the {latch.type.key} holds {where} was not checked: it must bear "
            f"{force_n:.0f} N, and what it bears is not known. Enter its `rating_n`."
        )
        return remark("latch holds", where, Severity.UNCHECKED, sentence, HOLDS)
    sentence = (
        f"The {latch.type.key} of {where} holds {latch.type.rating_n:.0f} N; {mass_kg:.1f} kg of "
        f"drawer and contents pull with {force_n:.0f} N at {REARWARD_G:g} g."
    )
    return at_least("latch holds", where, latch.type.rating_n, force_n, "N", sentence, HOLDS)


def _room(subject: Subject, motion: Motion, latch: Latch) -> Iterator[Finding]:
    """Case and lip on the way, the button with everything shut, fingers with the tailgate open."""
    limit = subject.setting.rules.moving
    where, kind = latch.motion_id, latch.type.key
    thick = passed(latch, subject.parts)
    way = way_of(motion)
    moving = [part.id for part in subject.moved(motion)]
    gone = [o.id for o in subject.obstacles.values() if o.kind == "tailgate"]
    inside = (i for i in subject.parts if subject.in_bay(i))
    around = [i for i in (*inside, *subject.obstacles) if i not in moving]
    still = [subject.bodies[i] for i in around if i not in gone]
    own = (latch.panel, *latch.passes)
    beside = [subject.bodies[i] for i in moving if i not in own]
    case, lip = _body("case", latch.case), _body("lip", latch.lip)
    passing = [passed_by(subject, subject.bodies[i], way) for i in moving]
    found = [
        *_near(subject, case, beside, limit),
        *_near(subject, passed_by(subject, case, way), still, limit),
        *_near(subject, lip, passing, limit),
    ]
    if latch.type.stands_out and latch.type.clearance_hole:
        shut = [subject.bodies[i] for i in around]
        found += _near(subject, _body("button", knob(latch, thick)), shut, limit)
    sentence = f"Case, button and striker of {where}'s {kind} keep {limit:g} mm from all they pass."
    gap, part, other = min(found, default=(limit, "", ""))
    if other:
        verb = f"runs {-gap:.1f} mm into" if gap < 0.0 else f"comes within {gap:.1f} mm of"
        sentence = f"The {part} of {where}'s {kind} {verb} {other}; {limit:g} mm are wanted."
    yield at_least("latch room", where, gap, limit, "mm", sentence, ROOM)
    fingers = _body("hand room", hand_room(latch, thick))
    for gap, _, other in sorted(_near(subject, fingers, [*beside, *still], limit))[:1]:
        if gap < 0.0:
            sentence = (
                f"Fingers don't get at the {kind} of {where}: {other} stands {-gap:.1f} mm into "
                f"the room they need."
            )
            yield at_least("latch hand room", where, gap, 0.0, "mm", sentence, COMMON_PRACTICE)


def _body(part: str, corners: Piece) -> Body:
    return body_of_pieces(part, [corners], Placement())


def _near(
    subject: Subject, body: Body, others: list[Body], limit: float
) -> Iterator[tuple[float, str, str]]:
    """What comes nearer to a part of a latch than it may: the gap, negative in a clash."""
    pairs: Pairs = near_pairs_between([body], others, limit) + np.array([0, 1])
    found = contacts([body, *others], limit, subject.memory.pairs, pairs)
    for (_, j), contact in found.items():
        gap = -contact.depth if contact.clashes else contact.gap
        if gap < limit - 1e-3:
            yield gap, body.id, others[j - 1].id
