"""How each motion runs, the vehicle's own included: what it passes, and how far it gets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from fitout.checks.gaps import wanted
from fitout.checks.subject import Subject
from fitout.clearance.body import Body, body_of_obstacle, body_of_pieces
from fitout.clearance.contact import Contact, contact, contacts, near_pairs_between
from fitout.clearance.reach import Way, free_travel
from fitout.clearance.shape import Prism
from fitout.model.bay import Obstacle, Swing
from fitout.model.module import Motion, MotionKind, Part

FAR = 100.0
"""How far (mm) is looked for a leaf of the tailgate or the bumper beside the way."""

BESIDE = 25.0
"""How far (mm) is looked beside what turns of the vehicle."""

ALL = ""
"""Everything that has no finding of its own."""

BEHIND = ("door", "ledge")
"""Kinds of obstacles behind the sill: each with a finding of its own."""


@dataclass(frozen=True, slots=True)
class Near:
    """What comes nearest on the way: the gap (below 0: how deep), and the two by name."""

    gap: float
    part: Body
    other: Body


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """One motion from start to end, its axis where that is when it starts.

    `moving` are the bodies that move, where they start, `passed` the room of each. `nearest`
    holds what comes nearest: by kind for what stands behind the sill ("door", "ledge"), and
    for all else what comes nearer than it should. `reaches` is how far it gets, `stop` what
    it meets there, None if nothing.
    """

    motion: Motion
    moving: tuple[Body, ...]
    passed: tuple[Body, ...]
    nearest: dict[str, Near]
    reaches: float
    stop: Near | None


def way_of(motion: Motion) -> Way:
    """The way a motion takes."""
    return Way(
        turns=motion.kind is MotionKind.HINGE,
        direction=motion.direction,
        travel=motion.travel,
        point=motion.point,
    )


def all_motions(subject: Subject) -> dict[str, Motion]:
    """Every motion of the modules, by its id."""
    return {motion.id: motion for module in subject.fitout.modules for motion in module.motions}


def opened_before(motions: dict[str, Motion], motion: Motion) -> list[Motion]:
    """What must be open before a motion can start, in the order it is opened; each once."""
    found: dict[str, Motion] = {}

    def open_all(of: Motion, above: tuple[str, ...]) -> None:
        for id_ in of.needs:
            if id_ in motions and id_ not in found and id_ not in above:
                open_all(motions[id_], (*above, id_))
                found[id_] = motions[id_]

    open_all(motion, (motion.id,))
    return list(found.values())


def moved_by(subject: Subject, motion: Motion) -> list[Part]:
    """The parts a motion moves; the whole module where it is taken out as one."""
    whole = motion.kind is MotionKind.REMOVE and not motion.of
    return subject.moved(motion) or (list(subject.modules[motion.module].parts()) if whole else [])


def passed_by(subject: Subject, body: Body, way: Way, *, filled: bool = False) -> Body:
    """All the room a body passes through on a whole way; see `Way.passed`."""
    # A straight way is swept with the cut-outs as they are, asked for or not.
    what = "passed" if filled or not way.turns else "passed, not filled"
    return subject.memory.recall(
        (what, body.key, way), partial(way.passed, body, way.travel, filled=filled)
    )


def course_of(subject: Subject, motion: Motion) -> Course | None:
    """How a motion runs; None where nothing is swept: a whole module that is taken out."""
    motions = all_motions(subject)
    before = opened_before(motions, motion)
    own = subject.moved(motion)
    if not own and not motion.of:
        return None
    standing = _standing(subject, before)
    if motion.of:
        moving = [_piece(subject, motion, before)]
        ids = [motion.of]
        motion = _carried(subject, motion, before)
    else:
        ids = [p.id for p in own]
        moving = [standing[i] for i in ids if i in standing]
    still = [
        body
        for id_, body in standing.items()
        if id_ not in ids and _in_the_way(subject, motion, id_)
    ]
    return _run(subject, motion, (ids, moving), still)


def swing_course(subject: Subject, swing: Swing) -> Course:
    """How something of the vehicle turns, against all that stands in the bay."""
    motion = Motion(
        name=swing.name,
        module="bay",
        kind=MotionKind.HINGE,
        direction=swing.direction,
        travel=swing.travel,
        point=swing.point,
    )
    moving = [_vehicle_body(subject, leaf) for leaf in swing.leaves]
    still = [subject.bodies[id_] for id_ in subject.parts if subject.in_bay(id_)]
    ids = [leaf.id for leaf in swing.leaves]
    return _run(subject, motion, (ids, moving), still, BESIDE)


def _vehicle_body(subject: Subject, leaf: Obstacle) -> Body:
    return subject.memory.recall(("body", leaf), lambda: body_of_obstacle(leaf))


def _standing(subject: Subject, before: Sequence[Motion]) -> dict[str, Body]:
    """Every body in the bay and of the vehicle, with what is opened before where it then is."""
    bodies = {
        id_: body
        for id_, body in subject.bodies.items()
        if id_ not in subject.parts or subject.in_bay(id_)
    }
    for motion in before:
        for part in moved_by(subject, motion):
            if motion.kind is MotionKind.REMOVE:
                bodies.pop(part.id, None)
            elif part.id in bodies:
                bodies[part.id] = _at_end(subject, bodies[part.id], motion)
    return bodies


def _at_end(subject: Subject, body: Body, motion: Motion) -> Body:
    question = ("at end", body.key, way_of(motion))
    moved = subject.memory.recall(question, lambda: way_of(motion).pose(body, motion.travel))
    return moved if moved.id == body.id else replace(moved, id=body.id)


def _piece(subject: Subject, motion: Motion, before: Sequence[Motion]) -> Body:
    """The body of what moves of a bought-in part, where that stands when it starts."""
    part = subject.parts[motion.of]
    body = body_of_pieces(motion.id, motion.pieces, part.placement)
    for earlier in before:
        if part.moves == earlier.name and part.module == earlier.module:
            body = _at_end(subject, body, earlier)
    return body


def _carried(subject: Subject, motion: Motion, before: Sequence[Motion]) -> Motion:
    """The motion with its axis where the part that bears it stands when it starts."""
    part, point = subject.parts[motion.of], np.asarray(motion.point)
    for earlier in before:
        slides = earlier.kind is MotionKind.SLIDE
        if slides and part.moves == earlier.name and part.module == earlier.module:
            unit = np.asarray(earlier.direction) / np.linalg.norm(earlier.direction)
            point = point + earlier.travel * unit
    x, y, z = point.tolist()
    return replace(motion, point=(x, y, z))


def _in_the_way(subject: Subject, motion: Motion, id_: str) -> bool:
    """Whether a body is there in one of the states the motion must hold in."""
    obstacle = subject.obstacles.get(id_)
    if obstacle is None or not obstacle.states:
        return True
    held = held_states(subject, motion)
    return any(state in held for state in obstacle.states)


def held_states(subject: Subject, motion: Motion) -> tuple[str, ...]:
    """The states of the vehicle a motion must hold in, by name."""
    any_state = motion.tailgate == "any"
    return tuple(s.name for s in subject.fitout.bay.states if any_state or s.tailgate_open)


def _run(
    subject: Subject,
    motion: Motion,
    movers: tuple[list[str], list[Body]],
    still: list[Body],
    beside: float | None = None,
) -> Course:
    ids, moving = movers
    way = way_of(motion)
    passed = [passed_by(subject, body, way, filled=True) for body in moving]
    pairs = list(_pairs(subject, ids, passed, still, beside))
    nearest: dict[str, Near] = {}
    blocking: list[tuple[float, int, int, bool]] = []
    for (i, j, far, joined), rough in _contacts(subject, passed, still, pairs):
        if joined and not rough.clashes:
            continue
        found = _finer(subject, way, moving[i], still[j], (far, rough))
        gap = -found.depth if found.clashes else found.gap
        if joined and not found.clashes:
            continue
        if gap <= 0.0:
            blocking.append((gap, i, j, joined))
        kind = _kind(subject, still[j].id)
        if gap < far - 1e-3 and (kind not in nearest or gap < nearest[kind].gap):
            nearest[kind] = Near(gap, passed[i], still[j])
    reaches, stop = _stopped(subject, way, moving, still, blocking)
    return Course(
        motion=motion,
        moving=tuple(moving),
        passed=tuple(passed),
        nearest=nearest,
        reaches=reaches,
        stop=stop,
    )


def _kind(subject: Subject, id_: str) -> str:
    obstacle = subject.obstacles.get(id_)
    return obstacle.kind if obstacle is not None and obstacle.kind in BEHIND else ALL


Pair = tuple[int, int, float, bool]


def _pairs(
    subject: Subject,
    ids: list[str],
    passed: list[Body],
    still: list[Body],
    beside: float | None,
) -> Iterator[Pair]:
    """Pairs to look at: what moves, what stays, how far to look, whether they may meet."""
    limit = subject.setting.rules.moving
    for i, j in near_pairs_between(passed, still, FAR).tolist():
        other = still[j].id
        joined = (ids[i], other) in subject.joined
        if beside is not None:
            far = beside
        elif _kind(subject, other):
            far = FAR
        else:
            # A part may start as near as its rest position allows; only the way out is judged.
            far = limit if joined else min(limit, wanted(subject, ids[i], other) or limit)
        yield i, j, far, joined


def _contacts(
    subject: Subject, passed: list[Body], still: list[Body], pairs: list[Pair]
) -> Iterator[tuple[Pair, Contact]]:
    """How what is passed stands to each other body, no further away than is of interest."""
    bodies = [*passed, *still]
    by_reach: dict[float, list[Pair]] = {}
    for pair in pairs:
        by_reach.setdefault(pair[2], []).append(pair)
    for reach, asked in by_reach.items():
        places = np.array([(i, j + len(passed)) for i, j, _, _ in asked], dtype=np.int64)
        found = contacts(bodies, reach, subject.memory.pairs, places)
        for pair in asked:
            yield pair, found[pair[0], pair[1] + len(passed)]


def _finer(
    subject: Subject, way: Way, body: Body, other: Body, known: tuple[float, Contact]
) -> Contact:
    """The contact with a turning panel's cut-outs left free, where filled it comes too near."""
    far, rough = known
    if rough.gap >= far or not way.turns or not isinstance(body.shape, Prism):
        return rough
    return contact(passed_by(subject, body, way), other, far, subject.memory.pairs)


def _stopped(
    subject: Subject,
    way: Way,
    moving: list[Body],
    still: list[Body],
    blocking: list[tuple[float, int, int, bool]],
) -> tuple[float, Near | None]:
    """How far the motion gets, and what ends it: the deepest are asked first."""
    reaches, stop = way.travel, None
    for gap, i, j, joined in sorted(blocking):
        body, other = moving[i], still[j]
        question = ("free travel", body.key, other.key, way, joined)
        free = subject.memory.recall(
            question,
            partial(free_travel, body, other, way, may_touch=joined),
        )
        if free < reaches:
            reaches, stop = free, Near(gap, body, other)
    return reaches, stop
