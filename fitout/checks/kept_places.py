"""Whether a hand comes to what must stay free, and whether jack and spare wheel come out.

What lies in a kept-clear place, or the hand that reaches for it, goes straight on: upwards,
towards the middle, out at the tailgate. Of those ways the one is told that asks for least.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import partial

import numpy as np

from fitout.checks.subject import Subject
from fitout.checks.tool_room import REACH, Box, Room
from fitout.checks.verdict import COMMON_PRACTICE, at_least, fact
from fitout.model.bay import Obstacle
from fitout.model.finding import Finding, Severity
from fitout.model.placement import Vector
from fitout.survey.room import half_width, rear_face

PLAY = 5.0
"""Room round what is taken out, mm (common practice)."""

OUTSIDE = 50.0
"""How far behind the sill a thing has to come to be out, mm."""

HAND = (45.0, 100.0)
"""Thickness and width of the room a flat hand goes through, mm (common practice)."""

OFF_WALL = 1.0
TRIES = 3
FIXED, MOVING, NOTHING = 2, 1, 0


def check_kept_places(subject: Subject) -> Iterator[Finding]:
    """One finding for each kept-clear place that a hand comes to or something comes out of."""
    places = [o for o in subject.obstacles.values() if o.reached]
    room = Room(subject)
    for place in places:
        question = ("kept place", place.id, subject.bodies[place.id].key, room.key())
        cost, standing = subject.memory.recall(question, partial(_easiest, subject, room, place))
        yield _told(subject, place, cost, standing)


def _easiest(subject: Subject, room: Room, place: Obstacle) -> tuple[int, tuple[str, ...]]:
    """How hard the easiest way is, and the parts in it; 3 where the vehicle bars every way."""
    best: tuple[int, int, tuple[str, ...]] = (FIXED + 1, 0, ())
    starts = _hands(subject, place) if place.reached == "hand" else [_thing(subject, place)]
    # A buckle lies in the seat, an eye in the lining: what the place lies in does not bar it.
    around = room.within(_thing(subject, place)) & subject.obstacles.keys()
    most = REACH if place.reached == "hand" else math.inf
    for way in (w for start in starts for w in _ways(subject, start, most)):
        inside: set[str] = set().union(*(room.within(box) for box in way))
        inside -= around
        if any(i in subject.obstacles for i in inside):
            continue
        fixed = {subject.parts[i].module for i in inside if not subject.parts[i].moves}
        cost = FIXED if fixed else MOVING if inside else NOTHING
        best = min(best, (cost, len(fixed) or len(inside), tuple(sorted(inside))))
        if cost == NOTHING:
            break
    return best[0], best[2]


def _thing(subject: Subject, place: Obstacle) -> Box:
    """What lies in the place: the block, as far as the wall leaves it room."""
    body = subject.bodies[place.id]
    (x0, y0, z0), (x1, y1, z1) = body.lo.tolist(), body.hi.tolist()
    bay = subject.fitout.bay
    for side, sign in (("left", 1.0), ("right", -1.0)):
        wall = half_width(bay, side, (x0, x1), (z0, z1), arches=False, clear=OFF_WALL)
        if sign * y0 >= 0.0 and sign * y1 >= 0.0:
            near, far = min(abs(y0), abs(y1)), min(max(abs(y0), abs(y1)), wall)
            y0, y1 = sorted((sign * near, sign * max(far, near + OFF_WALL)))
    return (x0, y0, max(z0, bay.floor)), (x1, y1, z1)


def _hands(subject: Subject, place: Obstacle) -> list[Box]:
    """A hand at the place's face towards the middle, upright and flat; over it on the floor."""
    (x0, y0, z0), (x1, y1, z1) = _thing(subject, place)
    found: list[Box] = []
    for wide, high in (HAND, HAND[::-1]):
        z = max((z0 + z1) / 2.0, subject.fitout.bay.floor + PLAY + high / 2.0)
        if y0 < 0.0 < y1:
            y, z = (y0 + y1) / 2.0, z1 + high / 2.0
        else:
            y = y0 - wide / 2.0 if y0 >= 0.0 else y1 + wide / 2.0
        deep = min(HAND[1], x1 - x0)
        rear = rear_face(subject.fitout.bay, z - high / 2.0, z + high / 2.0, clear=OFF_WALL)
        x = max((x0 + x1) / 2.0, rear + deep / 2.0)
        half = deep / 2.0, wide / 2.0, high / 2.0
        low, top = np.subtract((x, y, z), half).tolist(), np.add((x, y, z), half).tolist()
        found.append(((low[0], low[1], low[2]), (top[0], top[1], top[2])))
    return found


def _ways(subject: Subject, start: Box, most: float) -> Iterator[list[Box]]:
    """The swept blocks of each way from `start` out at the tailgate, or `most` mm towards it."""
    bay = subject.fitout.bay
    lift = max(0.0, bay.lip + PLAY - start[0][2])
    head = bay.opening[-1][0] - PLAY - start[1][2]
    over = {float(subject.bodies[i].hi[2]) + PLAY - start[0][2] for i in subject.parts}
    for rise in [lift, *sorted(o for o in over if lift < o <= head)[-TRIES:]]:
        inward = _inward(subject, start, start[1][2] + rise)
        up, aside = (0.0, 0.0, rise), (0.0, inward, 0.0)
        for order in ((up, aside), (aside, up)):
            box, way = start, [start]
            for step in order:
                way.append(_swept(box, step))
                box = _moved(box, step)
            way.append(_swept(box, (-min(most, box[1][0] + OUTSIDE), 0.0, 0.0)))
            yield way


def _inward(subject: Subject, box: Box, top: float) -> float:
    """How far towards the middle a block has to go to pass between the opening's jambs."""
    rows = np.array(subject.fitout.bay.opening)
    heights = (top - (box[1][2] - box[0][2]), top)
    levels = [*heights, *(z for z, _, _ in rows.tolist() if heights[0] < z < heights[1])]
    right = min(float(np.interp(z, rows[:, 0], rows[:, 1])) for z in levels) - PLAY
    left = min(float(np.interp(z, rows[:, 0], rows[:, 2])) for z in levels) - PLAY
    if box[1][1] > left:
        return left - box[1][1]
    return max(0.0, -right - box[0][1])


def _moved(box: Box, step: Vector) -> Box:
    low, high = (np.add(corner, step).tolist() for corner in box)
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])


def _swept(box: Box, step: Vector) -> Box:
    to = _moved(box, step)
    low, high = np.minimum(box[0], to[0]).tolist(), np.maximum(box[1], to[1]).tolist()
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])


def _told(subject: Subject, place: Obstacle, cost: int, standing: tuple[str, ...]) -> Finding:
    what = "A hand comes to" if place.reached == "hand" else "What is kept at"
    does = "" if place.reached == "hand" else " comes out at the tailgate"
    if cost == NOTHING:
        sentence = f"{what} {place.name}{does} with nothing in the way."
        return fact("kept place", place.name, 0.0, "mm", sentence, COMMON_PRACTICE)
    if cost > FIXED:
        sentence = f"{what} {place.name}{does} by no straight way: the vehicle itself is in it."
        return Finding(
            code="kept place",
            severity=Severity.UNCHECKED,
            where=place.name,
            sentence=f"{sentence} Try it in the vehicle.",
            source=COMMON_PRACTICE,
        )
    if cost == MOVING:
        names = sorted({f"{subject.parts[i].module}/{subject.parts[i].moves}" for i in standing})
        sentence = f"{what} {place.name}{does} with {', '.join(names)} out of the way."
        return fact("kept place", place.name, 0.0, "mm", sentence, COMMON_PRACTICE)
    modules = sorted({subject.parts[i].module for i in standing if not subject.parts[i].moves})
    sentence = (
        f"{what} {place.name}{does} only with {' and '.join(modules)} unbolted: leave a way to it, "
        "or keep what you need on the road elsewhere."
    )
    found = at_least("kept place", place.name, -1.0, 0.0, "mm", sentence, COMMON_PRACTICE)
    return replace(found, value=None, limit=None, margin=None, unit="", severity=Severity.CAUTION)
