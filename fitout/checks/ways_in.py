"""How a sub-assembly gets from outside to its place in the empty bay, or what stops it.

Read backwards, as it comes out: a straight shift frees it from what it touches and brings it
into a convex room (proved by the swept volume of every part); there it is turned; so
turned it leaves through the opening by a straight shift. Forwards it is the same way in.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from functools import partial

import numpy as np

from fitout.checks.gateways import gateways
from fitout.checks.subassemblies import SubAssembly, separable, split
from fitout.checks.subject import Subject
from fitout.clearance.body import Body
from fitout.clearance.contact import contacts, near_pairs_between
from fitout.clearance.convex import Array, hull_of, mesh_of
from fitout.clearance.passage import Gateway, Turn, Way, nearest, search, straight_gap
from fitout.clearance.sweep import sweep
from fitout.model.module import Joint
from fitout.model.panel import Panel

SLIP = 0.16
"""How far a part at rest may lie within the bounds the rooms keep from walls and floor, mm."""

BLOCKED = 0.05
"""A swept volume deeper in an obstacle than this can't be passed, mm."""

MOST_SPLITS = 400
"""How many ways of leaving joints open are looked at."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Entry:
    """What came of looking for a way in: `way` if one was found keeping `hand` mm, else None.

    `straight` is the gap that it has gone through straight, None where it can't. Where there
    is no way, `placed` tells whether it would at least get to its place from within the bay,
    `short` how much is missing all round where it comes nearest to passing (negative: so
    much to spare), turned by `turn`, and `tight` what is nearest there.
    """

    hand: float
    way: Way | None
    straight: float | None = None
    placed: bool = True
    short: float = 0.0
    turn: Turn | None = None
    tight: tuple[str, ...] = ()


def way_in(subject: Subject, sub: SubAssembly) -> Entry:
    """How a sub-assembly goes in, with room for hands if possible, else as tight as it must."""
    question = ("way in", *(body.key for body in sub.bodies), _bay_key(subject))
    return subject.memory.recall(question, partial(_looked_for, subject, sub))


def smallest_split(
    subject: Subject, sub: SubAssembly
) -> tuple[tuple[Joint, ...], tuple[SubAssembly, ...]] | None:
    """The fewest parts to carry in by themselves so that all goes in: open joints and pieces.

    None where a piece that can't be taken further apart does not go in.
    """
    keys = (*(body.key for body in sub.bodies), _bay_key(subject))
    question = ("split", sub.id, sub.parts, separable(subject, sub), *keys)
    return subject.memory.recall(question, partial(_split_for, subject, sub))


def _bay_key(subject: Subject) -> tuple[object, ...]:
    """What of the bay and the rules a way in depends on."""
    bay = subject.fitout.bay
    shapes = tuple(body.key for id_, body in subject.bodies.items() if id_ in subject.obstacles)
    return (shapes, bay.opening, bay.tailgate, bay.front, bay.floor, subject.setting.rules.hand)


def _looked_for(subject: Subject, sub: SubAssembly) -> Entry:
    points = corners_of(sub)
    hand = subject.setting.rules.hand
    straight = None
    for keep in (hand, 0.0):
        legs = _reached(subject, sub, points, keep)
        way = search(points, legs, _aligning(subject, sub))
        if way is None:
            continue
        if keep == hand and way.turn is not None:
            straight = straight_gap(points, _reached(subject, sub, points, 0.0))
        return Entry(hand=keep, way=way, straight=straight)
    found = _gateways(subject, 0.0)
    most, turn, tight = nearest(points, found)
    return Entry(hand=0.0, way=None, placed=bool(legs), short=-most, turn=turn, tight=tight)


def corners_of(sub: SubAssembly) -> Array:
    """The corners of the convex hull of all its parts, shape (n, 3)."""
    points = np.vstack([piece for body in sub.bodies for piece in body.pieces])
    return mesh_of(hull_of(points))[0]


def _gateways(subject: Subject, hand: float) -> tuple[Gateway, ...]:
    question = ("gateways", hand, *_bay_key(subject))
    return subject.memory.recall(question, partial(gateways, subject.fitout.bay, hand))


def _reached(subject: Subject, sub: SubAssembly, points: Array, hand: float) -> list[Gateway]:
    """The gateways whose room a straight shift brings it into from its place."""
    reached = []
    freed: dict[tuple[float, ...], float] = {}
    for gateway in _gateways(subject, hand):
        if gateway.inside.inside_after(points, np.zeros(3), SLIP) is not None:
            reached.append(gateway)
            continue
        for direction in _directions(points):
            travel = gateway.inside.inside_after(points, np.array(direction), SLIP)
            if travel is None:
                continue
            if travel > freed.get(direction, 0.0):
                if not _free(subject, sub, direction, travel):
                    continue
                freed[direction] = travel
            reached.append(gateway)
            break
    return reached


def _directions(points: Array) -> list[tuple[float, float, float]]:
    """Ways out of its place: to the centre line, up, to the rear, and between these."""
    middle = float(points[:, 1].min() + points[:, 1].max())
    inward = -math.copysign(1.0, middle) if abs(middle) > 1.0 else 0.0
    steps = [(0, inward, 0), (0, 0, 1), (-1, 0, 0), (0, inward, 1), (-1, inward, 0), (-1, 0, 1)]
    found = []
    for step in steps:
        size = math.sqrt(sum(c * c for c in step))
        if size:
            found.append((step[0] / size, step[1] / size, step[2] / size))
    return list(dict.fromkeys(found))


def _free(
    subject: Subject, sub: SubAssembly, direction: tuple[float, float, float], travel: float
) -> bool:
    """Whether every part can be shifted so without running into the vehicle."""
    passed = [sweep(body, direction, travel) for body in sub.bodies]
    still = [subject.bodies[o.id] for o in subject.obstacles.values() if _stands(o.kind)]
    bodies: list[Body] = [*passed, *still]
    pairs = near_pairs_between(passed, still, 0.0) + np.array([0, len(passed)])
    found = contacts(bodies, 0.1, subject.memory.pairs, pairs)
    return all(c.depth <= BLOCKED for c in found.values())


def _stands(kind: str) -> bool:
    return kind not in ("tailgate", "keep clear")


def _aligning(subject: Subject, sub: SubAssembly) -> tuple[Turn, ...]:
    """Turns that lay it end first, on its side, or flat if it is a leaning panel."""
    quarter = [Turn(axis=a, angle_deg=s) for a in (2, 1, 0) for s in (90.0, -90.0)]
    panels = [p for p in map(subject.parts.get, sub.parts) if isinstance(p, Panel)]
    leaning = []
    if panels:
        x, y, z = max(panels, key=lambda p: p.mass_kg).placement.w
        if abs(y) < 1e-6 and min(abs(x), abs(z)) > 1e-3:
            lean = math.degrees(math.atan2(x, z))
            leaning = [
                Turn(axis=1, angle_deg=(to - lean + 180.0) % 360.0 - 180.0)
                for to in (0.0, 90.0, 180.0, -90.0)
            ]
            leaning.sort(key=lambda t: abs(t.angle_deg))
    return (*leaning, *quarter)


def _split_for(
    subject: Subject, sub: SubAssembly
) -> tuple[tuple[Joint, ...], tuple[SubAssembly, ...]] | None:
    may = separable(subject, sub)
    atoms = split(subject, sub, may)
    passing: list[frozenset[str]] = []
    stuck: list[frozenset[str]] = []

    def goes(piece: SubAssembly) -> bool:
        ids = frozenset(piece.parts)
        if any(ids <= known for known in passing):
            return True
        if any(known <= ids for known in stuck):
            return False
        found = way_in(subject, piece).way is not None
        (passing if found else stuck).append(ids)
        return found

    if len(atoms) == 1 or not all(map(goes, atoms)):
        return None
    tried = 0
    for count in range(1, len(atoms)):
        for alone in itertools.combinations(atoms, count):
            out = {id_ for piece in alone for id_ in piece.parts}
            left_open = tuple(j for j in may if (j.a in out) or (j.b in out))
            pieces = split(subject, sub, left_open)
            tried += 1
            if all(map(goes, pieces)):
                return left_open, pieces
            if tried >= MOST_SPLITS:
                return may, atoms
    return may, atoms
