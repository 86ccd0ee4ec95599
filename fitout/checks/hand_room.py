"""Room for fingers behind finger holes, and before fronts when the tailgate is shut."""

from __future__ import annotations

from collections.abc import Iterator

from fitout.checks.gaps import place
from fitout.checks.probe import free_depth
from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, at_least
from fitout.clearance.contact import contacts, near_pairs_between
from fitout.model.finding import Finding
from fitout.model.module import Module, Motion, MotionKind
from fitout.model.outline import Loop
from fitout.model.panel import Panel
from fitout.model.placement import Vector, opposite

FINGERS = 25.0
"""Free depth behind a hole that fingers pull at, mm (common practice)."""

LOOKED_AT = 60.0
LEAST_HOLE = (60.0, 20.0)
"""Length and width from which a cut-out is there for fingers, mm (common practice)."""

SHRUNK = 1.0


def check_hand_room(subject: Subject) -> Iterator[Finding]:
    """Fingers at every motion that has a finger hole; fronts against the shut tailgate."""
    for module in subject.fitout.modules:
        if module.berth is None:
            continue
        for motion in module.motions:
            yield from _fingers(subject, module, motion)
        yield from _fronts(subject, module)


def _fingers(subject: Subject, module: Module, motion: Motion) -> Iterator[Finding]:
    """The shallowest room behind the finger holes of what a motion moves."""
    found: list[tuple[float, str, str | None]] = []
    for panel in module.panels:
        if panel.moves != motion.name:
            continue
        others = [b for i, b in subject.bodies.items() if i != panel.id and _is_there(subject, i)]
        for loop in panel.outline.inner:
            face = _behind(panel, loop)
            if face is not None:
                depth, met = free_depth(face, opposite(panel.placement.w), LOOKED_AT, others)
                found.append((depth, panel.id, None if met is None else met.id))
    if not found:
        return
    depth, panel_id, stopped = min(found)
    reaches = f"up to {stopped}" if stopped else "or more"
    sentence = (
        f"Behind the finger hole of {panel_id} {depth:.0f} mm {reaches} are free for fingers; "
        f"{FINGERS:g} mm are wanted."
    )
    yield at_least("finger room", motion.id, depth, FINGERS, "mm", sentence, COMMON_PRACTICE)


def _is_there(subject: Subject, id_: str) -> bool:
    if id_ in subject.parts:
        return subject.in_bay(id_)
    return subject.obstacles[id_].kind not in ("keep clear", "tailgate", "door")


def _behind(panel: Panel, loop: Loop) -> tuple[Vector, ...] | None:
    """The straight part of a finger hole on the panel's face B; None for any other cut-out."""
    x0, y0, x1, y1 = loop.bounds
    length, width = x1 - x0, y1 - y0
    if (
        max(length, width) < LEAST_HOLE[0]
        or not LEAST_HOLE[1] <= min(length, width) < LEAST_HOLE[0]
    ):
        return None
    # Its ends are round: between them it is as wide as its bounds.
    ends = min(length, width) / 2.0
    a, b = (ends, SHRUNK) if length > width else (SHRUNK, ends)
    corners = ((x0 + a, y0 + b), (x1 - a, y0 + b), (x1 - a, y1 - b), (x0 + a, y1 - b))
    return tuple(panel.placement.at(u, v) for u, v in corners)


def _fronts(subject: Subject, module: Module) -> Iterator[Finding]:
    """What slides, shut, against the shut tailgate."""
    slides = {m.name for m in module.motions if m.kind is MotionKind.SLIDE}
    moving = [subject.bodies[p.id] for p in module.parts() if p.moves in slides]
    leaves = [o.id for o in subject.obstacles.values() if o.kind == "tailgate"]
    if not moving or not leaves:
        return
    bodies = [*moving, *(subject.bodies[i] for i in leaves)]
    pairs = near_pairs_between(moving, bodies[len(moving) :], LOOKED_AT)
    pairs[:, 1] += len(moving)
    found = contacts(bodies, LOOKED_AT, subject.memory.pairs, pairs)
    gaps = [
        (-c.depth if c.clashes else c.gap, bodies[i].id, bodies[j].id)
        for (i, j), c in found.items()
    ]
    gap, part, leaf = min(gaps, default=(LOOKED_AT, "", ""))
    limit = subject.setting.rules.wall
    if gap >= LOOKED_AT:
        sentence = f"The fronts of {module.name} keep {LOOKED_AT:g} mm or more from the tailgate."
        gap = LOOKED_AT
    else:
        sentence = (
            f"Shut, {part} keeps {gap:.1f} mm from the shut tailgate"
            f"{place(subject, part, leaf)}; {limit:g} mm are wanted, and handles or buttons that "
            "stand out need theirs."
        )
    yield at_least("front clearance", module.name, gap, limit, "mm", sentence, COMMON_PRACTICE)
