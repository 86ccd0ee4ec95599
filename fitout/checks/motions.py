"""Drawers, slides and lids in the vehicle as it is parked: the tailgate open."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from fitout.checks.gaps import place, wanted
from fitout.checks.subject import Subject
from fitout.checks.verdict import at_least
from fitout.clearance.body import Body
from fitout.clearance.contact import Pairs, contacts, near_pairs_between
from fitout.clearance.sweep import sweep, swing
from fitout.model.finding import Finding
from fitout.model.module import Module, Motion, MotionKind

SOURCE = "swept volume; least gap: common practice"


def check_motions(subject: Subject) -> Iterator[Finding]:
    """The room each motion passes through against all that stays where it is."""
    shut = {o.id for o in subject.obstacles.values() if o.kind == "tailgate"}
    for module in subject.fitout.modules:
        for motion in module.motions:
            if motion.kind is MotionKind.REMOVE:
                continue
            moving = [p.id for p in module.parts() if p.moves == motion.name]
            still = [i for i in _bay_bodies(subject) if i not in moving and i not in shut]
            yield _moves_free(subject, module, motion, moving, still)


def _bay_bodies(subject: Subject) -> Iterator[str]:
    for id_, part in subject.parts.items():
        if subject.modules[part.module].berth is not None:
            yield id_
    yield from subject.obstacles


def _moves_free(
    subject: Subject, module: Module, motion: Motion, moving: list[str], still: list[str]
) -> Finding:
    limit = subject.setting.rules.moving
    passed = [_swept(subject, subject.bodies[i], motion) for i in moving]
    others = [subject.bodies[i] for i in still]
    pairs = near_pairs_between(passed, others, limit)
    bodies = [*passed, *others]
    worst: tuple[float, str, str] | None = None
    allowed = [
        (i, j + len(passed)) for i, j in pairs.tolist() if _apart(subject, moving[i], still[j])
    ]
    found = contacts(bodies, limit, subject.memory.pairs, _as_pairs(allowed))
    for (i, j), contact in found.items():
        gap = -contact.depth if contact.clashes else contact.gap
        # A part may start as near as its rest position allows; only the way out is judged.
        least = min(limit, wanted(subject, moving[i], bodies[j].id) or limit)
        if gap < least - 1e-3 and (worst is None or gap < worst[0]):
            worst = (gap, moving[i], bodies[j].id)
    unit = "mm" if motion.kind is MotionKind.SLIDE else "°"
    word = "comes out" if motion.kind is MotionKind.SLIDE else "opens"
    where = f"{module.name}/{motion.name}"
    if worst is None:
        sentence = (
            f"{where} {word} by its full {motion.travel:.0f} {unit} with the tailgate open, "
            f"keeping {limit:g} mm or more from everything it passes."
        )
        return at_least("motion", where, limit, limit, "mm", sentence, SOURCE)
    gap, part, other = worst
    verb = f"runs {-gap:.1f} mm into" if gap < 0 else f"comes within {gap:.1f} mm of"
    sentence = (
        f"{where} does not move freely: on its way {part} {verb} {other}"
        f"{place(subject, part, other)} (nearest at rest); {limit:g} mm are wanted."
    )
    return at_least("motion", where, gap, limit, "mm", sentence, SOURCE)


def _swept(subject: Subject, body: Body, motion: Motion) -> Body:
    way = (motion.direction, motion.travel)
    if motion.kind is MotionKind.SLIDE:
        return subject.memory.recall(("sweep", body.key, *way), lambda: sweep(body, *way))
    question = ("swing", body.key, motion.point, *way)
    return subject.memory.recall(question, lambda: swing(body, motion.point, *way))


def _apart(subject: Subject, moving: str, still: str) -> bool:
    """Declared joints (a drawer on its slides, a lid on its hinge) are no obstacle."""
    return (moving, still) not in subject.joined


def _as_pairs(listed: list[tuple[int, int]]) -> Pairs:
    return np.array(listed, dtype=np.int64).reshape(-1, 2)
