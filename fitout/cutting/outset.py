"""Moving some edges of an outline outwards, for material that is left on them.

a corner of two edges that move     mitred, or cut off where it would be a long spike
a corner with one that stays        the moved edge runs to the line of the one that stays;
                                    where the two run nearly the same way, a step
a rounded corner                    sharpened, moved, then rounded by its radius again
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fitout.cutting.distance import crosses_itself
from fitout.model.outline import Loop, Outline, Point, Vertex, arc_of

STEP_BELOW = math.radians(15.0)
"""A moved edge and one that stays meet in a step if they turn by less than this."""

SPIKE = 3.0
"""A mitre no farther from its corner than so many times what the edges move is no spike."""

NO_LENGTH = 1e-6
"""An edge no longer than this is none, mm."""

TANGENT = 1e-3
"""So far (mm) an arc may miss being a rounded corner of the edges beside it."""


@dataclass(frozen=True, slots=True)
class _Side:
    """An edge as moved, by a point of it and its direction, or an arc that stays.

    `start` and `end` are its ends before it moved, `radius` is that of the rounded corner
    after it, 0 where there is none.
    """

    at: Point
    way: Point
    start: Vertex
    end: Vertex
    depth: float
    radius: float = 0.0

    @property
    def bulge(self) -> float:
        return self.start.bulge


def outset(loop: Loop, depths: Mapping[int, float]) -> Loop | None:
    """An outline run anticlockwise, straight segments moved outwards by what `depths` says.

    None where that is no outline any more: a curve other than a rounded corner at a moved
    edge, an inner corner that loses its round, or edges that run into each other.
    """
    sides = _sides(list(loop.segments()), depths)
    if sides is None:
        return None
    while True:
        corners = [_corner(sides[i - 1], side) for i, side in enumerate(sides)]
        back = [
            i
            for i, side in enumerate(sides)
            if not side.bulge and not _runs_on(side, corners[i][-1], _after(corners, i)[0])
        ]
        if not back:
            break
        sides = _without(sides, back[0])
        if len(sides) < 3 or any(_turn_back(sides[i - 1], s) for i, s in enumerate(sides)):
            return None
    made = _joined(sides, corners)
    if made is None:
        return None
    good = made.signed_area > loop.signed_area and not crosses_itself(Outline(made))
    return made if good else None


def _sides(
    segments: Sequence[tuple[Vertex, Vertex]], depths: Mapping[int, float]
) -> list[_Side] | None:
    """The edges as moved; rounded corners beside a moved one are told by their radius alone."""
    sides: list[_Side] = []
    count = len(segments)
    dropped: set[int] = set()
    radii: dict[int, float] = {}
    for i, (a, b) in enumerate(segments):
        before, after = (i - 1) % count, (i + 1) % count
        if not a.bulge or not (depths.get(before) or depths.get(after)):
            continue
        if not _rounds(segments[before], (a, b), segments[after]):
            return None
        dropped.add(i)
        radii[before] = arc_of(a, b).radius
    for i, (a, b) in enumerate(segments):
        if i in dropped:
            continue
        depth, length = depths.get(i, 0.0), math.hypot(b.x - a.x, b.y - a.y)
        if length <= NO_LENGTH:
            continue
        way = ((b.x - a.x) / length, (b.y - a.y) / length)
        at = (a.x + depth * way[1], a.y - depth * way[0])
        sides.append(_Side(at, way, a, b, depth, radii.get(i, 0.0)))
    return sides


def _rounds(
    before: tuple[Vertex, Vertex], arc: tuple[Vertex, Vertex], after: tuple[Vertex, Vertex]
) -> bool:
    """Whether an arc is the rounded corner of the straight edges before and after it."""
    if before[0].bulge or after[0].bulge:
        return False
    ring = arc_of(*arc)
    return all(abs(_off(a, b, ring.centre) - ring.radius) < TANGENT for a, b in (before, after))


def _off(a: Vertex, b: Vertex, point: Point) -> float:
    """How far a point lies from the line through two others."""
    dx, dy = b.x - a.x, b.y - a.y
    length = math.hypot(dx, dy)
    away = abs(dx * (point[1] - a.y) - dy * (point[0] - a.x))
    return away / length if length > NO_LENGTH else math.inf


def _without(sides: Sequence[_Side], used_up: int) -> list[_Side]:
    """The sides without one that the others close over; its rounded corners go with it."""
    before = (used_up - 1) % len(sides)
    return [
        _Side(s.at, s.way, s.start, s.end, s.depth) if i == before else s
        for i, s in enumerate(sides)
        if i != used_up
    ]


def _turn_back(first: _Side, second: _Side) -> bool:
    """Whether one edge runs straight back along the other: a slot has closed."""
    return first.way[0] * second.way[0] + first.way[1] * second.way[1] < -1.0 + 1e-9


def _after(corners: Sequence[list[Point]], i: int) -> list[Point]:
    return corners[(i + 1) % len(corners)]


def _runs_on(side: _Side, here: Point, there: Point) -> bool:
    """Whether an edge still runs its way."""
    along = side.way[0] * (there[0] - here[0]) + side.way[1] * (there[1] - here[1])
    return along > NO_LENGTH


def _corner(first: _Side, second: _Side) -> list[Point]:
    """Where one side ends and the next begins: one point, or the two ends of a step."""
    joint = (second.start.x, second.start.y)
    joined = math.dist(joint, (first.end.x, first.end.y)) <= NO_LENGTH
    if not first.depth and not second.depth and joined:
        return [joint]
    turn = first.way[0] * second.way[1] - first.way[1] * second.way[0]
    angle = math.atan2(turn, first.way[0] * second.way[0] + first.way[1] * second.way[1])
    if abs(turn) < 1e-9:
        ends = [_foot(first, (first.end.x, first.end.y)), _foot(second, joint)]
        return ends[1:] if math.dist(*ends) < NO_LENGTH else ends
    # Where the corner is rounded, the sharp one: what is cut there holds the round one.
    corner = _meet((first.start.x, first.start.y), first.way, joint, second.way)
    ends = [_foot(first, corner), _foot(second, corner)]
    if abs(first.depth - second.depth) > NO_LENGTH and abs(angle) < STEP_BELOW:
        return ends
    met = _meet(first.at, first.way, second.at, second.way)
    if turn < 0.0 or math.dist(corner, met) <= SPIKE * max(first.depth, second.depth):
        return [met]
    return _past_the_round(first, second, corner) if first.radius else ends


def _past_the_round(first: _Side, second: _Side, corner: Point) -> list[Point]:
    """The ends of a spike's cut where it was rounded: just beyond the round, not at its point."""
    reach = min(first.radius, math.dist((first.end.x, first.end.y), corner))
    out = (first.end.x + reach * first.way[0], first.end.y + reach * first.way[1])
    back = (second.start.x - reach * second.way[0], second.start.y - reach * second.way[1])
    return [_foot(first, out), _foot(second, back)]


def _meet(at: Point, way: Point, other: Point, other_way: Point) -> Point:
    """Where two lines meet that are not parallel."""
    turn = way[0] * other_way[1] - way[1] * other_way[0]
    reach = ((other[0] - at[0]) * other_way[1] - (other[1] - at[1]) * other_way[0]) / turn
    return at[0] + reach * way[0], at[1] + reach * way[1]


def _foot(side: _Side, point: Point) -> Point:
    """The point of a moved side beside a point of it before it moved."""
    return point[0] + side.depth * side.way[1], point[1] - side.depth * side.way[0]


def _joined(sides: Sequence[_Side], corners: Sequence[list[Point]]) -> Loop | None:
    """The outline through the corners, rounded where it was.

    An outer corner whose round has no room any more stays sharp; an inner one can't, for what
    filled it would be lost: then there is none.
    """
    vertices: list[Vertex] = []
    for i, side in enumerate(sides):
        here = corners[i]
        radius = sides[i - 1].radius
        if radius and len(here) == 1:
            room = [
                math.dist(corners[i - 1][-1], here[0]),
                math.dist(here[0], _after(corners, i)[0]),
            ]
            round_ = _rounded(sides[i - 1], side, here[0], radius, min(room) / 2.0)
            if round_ is None:
                return None
            vertices += round_
            continue
        vertices += [Vertex(*point) for point in here[:-1]]
        vertices.append(Vertex(*here[-1], side.bulge))
    return Loop(tuple(vertices))


def _rounded(
    first: _Side, second: _Side, at: Point, radius: float, room: float
) -> list[Vertex] | None:
    """A corner's round, its sharp point, or None where an inner one's round has no room."""
    turn = math.atan2(
        first.way[0] * second.way[1] - first.way[1] * second.way[0],
        first.way[0] * second.way[0] + first.way[1] * second.way[1],
    )
    setback = radius * math.tan(abs(turn) / 2.0)
    if setback > room:
        return [Vertex(*at)] if turn > 0.0 else None
    (x, y), (u, v), (p, q) = at, first.way, second.way
    return [
        Vertex(x - setback * u, y - setback * v, math.tan(turn / 4.0)),
        Vertex(x + setback * p, y + setback * q),
    ]
