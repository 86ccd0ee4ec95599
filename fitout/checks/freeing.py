"""Freeing a thing from what it touches at rest: into a room it can be turned and moved in.

A straight shift is tried first; where the walls hold a scribed part on both sides, a short
shift and then a turn. Either is proved by the swept volume of every part against the
vehicle, in which nothing else stands yet.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from fitout.checks.subject import Subject
from fitout.clearance.body import Body
from fitout.clearance.contact import TOUCH, common_solid
from fitout.clearance.convex import Array, hull_of, mesh_of
from fitout.clearance.depth import depth_of
from fitout.clearance.halfspaces import Halfspaces, halfspaces_of
from fitout.clearance.passage import AXES, Turn
from fitout.clearance.passage_room import Room
from fitout.clearance.passage_turn import turns
from fitout.clearance.pose import shifted
from fitout.clearance.shape import Hulls
from fitout.clearance.sweep import rough_swing, sweep, swing
from fitout.model.placement import Vector

SLIP = 0.16
"""How far a part at rest may lie within the bounds the rooms keep from walls and floor, mm."""

BLOCKED = 0.05
"""A swept volume deeper in an obstacle than this can't be passed, mm, beyond its growth."""

SHIFTS = (0.0, 60.0, 120.0, 200.0, 300.0, 450.0)
ANGLES = (20.0, -20.0, 35.0, -35.0, 50.0, -50.0, 75.0, -75.0)
"""Shifts, mm, and turns, degrees, tried one after the other where a shift alone frees nothing."""

LOOKED_AT = (0.1, 0.25, 0.4, 0.55, 0.7, 0.85)
"""Shares of a turn at which its corners are looked at before it is gone into."""

POKES = 0.5
"""A corner deeper than this in an obstacle, mm, needs no further look."""

LET_PASS = ("tailgate", "keep clear")
"""Kinds of obstacle that are not there, or may be passed through, while something is set in."""

MOST_TRIED = 6
"""Turns about one axis that are followed to their end; each takes a while."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Freed:
    """The hull's corners once free, the rooms (by number) it is then in, and how it was turned."""

    points: Array
    rooms: tuple[int, ...]
    turn: Turn | None = None


def corners_of(bodies: Sequence[Body]) -> Array:
    """The corners of a convex hull round bodies, shape (n, 3), rounded edges a little blunted."""
    return mesh_of(hull_of(np.vstack([body.shape.hulled for body in bodies])))[0]


@dataclass(frozen=True, slots=True, eq=False)
class Shell:
    """The vehicle's bodies while something is set in, and all of them as half-spaces."""

    still: tuple[Body, ...]
    spaces: Halfspaces

    def clears(self, pieces: Iterable[Array]) -> bool:
        """Whether convex pieces plainly keep out of the vehicle."""
        return not any(self.spaces.not_clear(piece, TOUCH) for piece in pieces)

    def passes(self, passed: Body) -> bool:
        """Whether a swept volume keeps out of the vehicle, but for its growth or a touch."""
        limit = max(BLOCKED, TOUCH + passed.growth)
        doubtful: dict[int, list[Array]] = {}
        for piece in passed.pieces:
            for owner in self.spaces.not_clear(piece, TOUCH):
                doubtful.setdefault(owner, []).append(piece)
        for owner, pieces in doubtful.items():
            near, still = (
                Body(passed.id, b"", passed.lo, passed.hi, Hulls(pieces)),
                self.still[owner],
            )
            common = common_solid(near, still, limit)
            if common is None:
                continue
            # How thick what they share is on average: if it is too much, no more need be known.
            if 2.0 * common.volume() > limit * common.surface_area():
                return False
            if depth_of(pieces, still.pieces) > limit:
                return False
        return True


def shell_of(subject: Subject) -> Shell:
    """The vehicle round an empty bay, the tailgate open, the seat as upright as it may then be."""
    bay = subject.fitout.bay
    open_at = [state for state in bay.states if state.tailgate_open]
    state = min(open_at, key=lambda s: bay.seat_lean_deg.get(s.seat, math.inf), default=None)
    still = tuple(
        subject.bodies[o.id]
        for o in subject.obstacles.values()
        if o.kind not in LET_PASS and (not o.states or state is None or state.name in o.states)
    )
    question = ("shell", *(body.key for body in still))
    return subject.memory.recall(
        question, lambda: Shell(still, halfspaces_of([body.pieces for body in still]))
    )


def shifted_out(subject: Subject, bodies: Sequence[Body], rooms: Sequence[Room]) -> Freed | None:
    """Bodies carried as one, shifted from their places into the rooms they can be shifted into."""
    points, shell = corners_of(bodies), shell_of(subject)
    free: dict[tuple[Vector, float], bool] = {}

    def shifts(direction: Vector, travel: float) -> bool:
        way = direction, travel
        if way not in free:
            end = points + np.array(direction) * travel
            free[way] = not shell.spaces.entered(end, POKES) and shifts_freely(shell, bodies, *way)
        return free[way]

    ways: list[Vector] = [(0.0, 0.0, 0.0), *_directions(points)]

    def into(room: Room) -> bool:
        stays, *travels = room.inside_after(points, np.array(ways), SLIP).tolist()
        return math.isfinite(stays) or any(
            math.isfinite(travel) and shifts(way, travel)
            for way, travel in zip(ways[1:], travels, strict=True)
        )

    found = tuple(i for i, room in enumerate(rooms) if into(room))
    return Freed(points=points, rooms=found) if found else None


def turned_out(
    subject: Subject, bodies: Sequence[Body], rooms: Sequence[Room], axis: int
) -> Freed | None:
    """Bodies carried as one, shifted a little and turned about an axis into some of the rooms."""
    points = corners_of(bodies)
    shell = shell_of(subject)
    middle = (points.min(axis=0) + points.max(axis=0)) / 2.0
    poses = [(points - middle) @ r.T + middle for r in turns(AXES[axis], np.array(ANGLES))]
    between = turns(AXES[axis], np.outer(ANGLES, LOOKED_AT).ravel())
    passed = ((points - middle) @ between.transpose(0, 2, 1) + middle).reshape(len(ANGLES), -1, 3)
    # How far each pose stays from each room's planes; a shift changes that evenly.
    kept = np.hstack([np.array([room.gaps_at(pose) for pose in poses]) for room in rooms])
    normals = np.vstack([room.normals for room in rooms])
    starts = np.cumsum([0, *(len(room.normals) for room in rooms)])[:-1]
    tried = 0
    for direction, travel in _tried(points):
        shift = np.array(direction) * travel
        held = np.minimum.reduceat(kept - normals @ shift, starts, axis=1) >= 0.0
        if not held.any() or shell.spaces.entered(points + shift, POKES):
            continue
        for k in np.flatnonzero(held.any(axis=1)).tolist():
            # A corner in a wall on the way saves working out what all passes through.
            if shell.spaces.entered(passed[k] + shift, POKES):
                continue
            if travel and not shifts_freely(shell, bodies, direction, travel):
                break
            way = shift, middle + shift, (axis, ANGLES[k])
            if _swings(shell, bodies, way):
                turn = Turn(axis=axis, angle_deg=ANGLES[k])
                within = tuple(np.flatnonzero(held[k]).tolist())
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


def shifts_freely(shell: Shell, bodies: Sequence[Body], direction: Vector, travel: float) -> bool:
    """Whether bodies can be shifted straight from their places without running into anything."""
    shift = np.array(direction) * travel
    return all(
        shell.clears([np.vstack([body.shape.hulled, body.shape.hulled + shift])])
        or shell.passes(sweep(body, direction, travel))
        for body in bodies
    )


def _swings(
    shell: Shell, bodies: Sequence[Body], way: tuple[Array, Array, tuple[int, float]]
) -> bool:
    """Whether bodies, shifted a little, can be turned about an axis through a centre."""
    shift, centre, (axis, angle) = way
    point = (float(centre[0]), float(centre[1]), float(centre[2]))
    x, y, z = AXES[axis].tolist()
    # What is largest is most likely in the way: the rest need not be looked at then.
    for body in sorted(bodies, key=lambda body: -float(np.prod(body.hi - body.lo))):
        # What fits although it is drawn larger than it is need not be drawn exactly.
        turn = AXES[axis], angle
        if shell.clears(rough_swing([body.shape.hulled + shift], centre, turn)):
            continue
        if shell.clears(rough_swing([p + shift for p in body.shape.filled], centre, turn)):
            continue
        moved = shifted(body, shift)
        if not shell.passes(swing(moved, point, (x, y, z), angle, filled=True)):
            return False
    return True
