"""Freeing a thing from what it touches at rest: into a room it can be turned and moved in.

A straight shift is tried first; where the walls hold a scribed part on both sides, a short
shift and then a turn. Either is proved by the swept volume of every part against the
vehicle, in which nothing else stands yet.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from fitout.checks.subject import Subject
from fitout.clearance.body import Body
from fitout.clearance.contact import contacts, near_pairs_between
from fitout.clearance.convex import Array, hull_of, mesh_of
from fitout.clearance.passage import AXES, Turn
from fitout.clearance.passage_room import Room
from fitout.clearance.passage_turn import turns
from fitout.clearance.pose import shifted
from fitout.clearance.sweep import sweep, swing
from fitout.model.placement import Vector

SLIP = 0.16
"""How far a part at rest may lie within the bounds the rooms keep from walls and floor, mm."""

BLOCKED = 0.05
"""A swept volume deeper in an obstacle than this can't be passed, mm, beyond its growth."""

SHIFTS = (0.0, 60.0, 120.0, 200.0, 300.0, 450.0)
ANGLES = (20.0, -20.0, 35.0, -35.0, 50.0, -50.0, 75.0, -75.0)
"""Shifts, mm, and turns, degrees, tried one after the other where a shift alone frees nothing."""

MOST_TRIED = 6
"""Turns about one axis that are followed to their end; each takes a while."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Freed:
    """The hull's corners once free, the rooms (by number) it is then in, and how it was turned."""

    points: Array
    rooms: tuple[int, ...]
    turn: Turn | None = None


def corners_of(bodies: Sequence[Body]) -> Array:
    """The corners of the convex hull of bodies, shape (n, 3)."""
    points = np.vstack([piece for body in bodies for piece in body.pieces])
    return mesh_of(hull_of(points))[0]


def out_of_place(
    subject: Subject, bodies: Sequence[Body], rooms: Sequence[Room]
) -> tuple[Freed, ...]:
    """Bodies carried as one, brought from their places into the rooms they can be brought into.

    If that takes a turn, one for each axis about which there is one.
    """
    points = corners_of(bodies)
    found = tuple(i for i, room in enumerate(rooms) if _shifted_into(subject, bodies, points, room))
    if found:
        return (Freed(points=points, rooms=found),)
    turned = (_turned_into(subject, bodies, points, (rooms, axis)) for axis in (2, 0, 1))
    return tuple(freed for freed in turned if freed is not None)


def _shifted_into(subject: Subject, bodies: Sequence[Body], points: Array, room: Room) -> bool:
    if room.inside_after(points, np.zeros(3), SLIP) is not None:
        return True
    for direction in _directions(points):
        travel = room.inside_after(points, np.array(direction), SLIP)
        if travel is not None and _shifts(subject, bodies, direction, travel):
            return True
    return False


def _turned_into(
    subject: Subject, bodies: Sequence[Body], points: Array, about: tuple[Sequence[Room], int]
) -> Freed | None:
    rooms, axis = about
    middle = (points.min(axis=0) + points.max(axis=0)) / 2.0
    rotations = turns(AXES[axis], np.array(ANGLES))
    poses = [(points - middle) @ rotation.T + middle for rotation in rotations]
    # How far each pose stays from each room's planes; a shift changes that evenly.
    kept = [[room.gaps_at(pose) for pose in poses] for room in rooms]
    tried = 0
    for direction, travel in _tried(points):
        shift = np.array(direction) * travel
        shifts = [room.normals @ shift for room in rooms]
        for k, angle in enumerate(ANGLES):
            within = tuple(
                i for i, gaps in enumerate(kept) if float((gaps[k] - shifts[i]).min()) >= 0.0
            )
            if not within:
                continue
            if travel and not _shifts(subject, bodies, direction, travel):
                break
            if _swings(subject, bodies, shift, middle + shift, (axis, angle)):
                turn = Turn(axis=axis, angle_deg=angle)
                return Freed(points=poses[k] + shift, rooms=within, turn=turn)
            tried += 1
            if tried == MOST_TRIED:
                return None
    return None


def _tried(points: Array) -> Iterator[tuple[Vector, float]]:
    yield (0.0, 0.0, 1.0), 0.0
    ways = [(-1.0, 0.0, 0.0), (0.0, 0.0, -1.0), (0.0, 0.0, 1.0), *_directions(points)]
    for travel, way in itertools.product(SHIFTS[1:], dict.fromkeys(ways)):
        yield way, travel


def _directions(points: Array) -> list[Vector]:
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


def _shifts(subject: Subject, bodies: Sequence[Body], direction: Vector, travel: float) -> bool:
    return all(_passes(subject, sweep(body, direction, travel)) for body in bodies)


def _swings(
    subject: Subject,
    bodies: Sequence[Body],
    shift: Array,
    centre: Array,
    turn: tuple[int, float],
) -> bool:
    point = (float(centre[0]), float(centre[1]), float(centre[2]))
    x, y, z = AXES[turn[0]].tolist()
    # What is largest is most likely in the way: the rest need not be looked at then.
    by_size = sorted(bodies, key=lambda body: -float(np.prod(body.hi - body.lo)))
    moved = (shifted(body, shift) for body in by_size)
    return all(_passes(subject, swing(b, point, (x, y, z), turn[1], filled=True)) for b in moved)


def _passes(subject: Subject, passed: Body) -> bool:
    """Whether a swept volume keeps out of the vehicle."""
    still = [
        subject.bodies[o.id]
        for o in subject.obstacles.values()
        if o.kind not in ("tailgate", "keep clear")
    ]
    pairs = near_pairs_between([passed], still, 0.0) + np.array([0, 1])
    found = contacts([passed, *still], 0.1, subject.memory.pairs, pairs)
    return all(c.depth <= BLOCKED for c in found.values())
