r"""An outline as a draughtsman sees it: no corner on a straight side, chords told as their arc.

     ______             ______
           \_                 \      four chords of 22.5 degrees stand for a rounding R2:
             \        ->       |     it is told by its sharp corner and the radius
              |                |

The cut files keep every vertex; what is told here lies within `NEAR` mm of them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fitout.model.outline import Point, Vertex

STRAIGHT = 0.05
"""A vertex so near to the line between its neighbours is no corner, mm."""

NEAR = 0.15
"""Vertices of chords that stand for an arc lie so near to it, mm."""

FEWEST = 3
"""So many chords at least stand for an arc."""

ALIKE = 0.15
"""Chords of an arc differ in length and turn by no more than this share."""

TURNS = (math.radians(3.0), math.radians(35.0))
"""The turn from one chord to the next."""


@dataclass(frozen=True, slots=True)
class Chords:
    """Vertices from the `first` to the `last` by index that stand for an arc of that radius.

    `sharp` is the corner that the arc rounds, None where it does not run into the sides beside
    it. The radius is positive where the arc bulges outwards of the anticlockwise loop.
    """

    first: int
    last: int
    radius: float
    sharp: Point | None


def straightened(vertices: Sequence[Vertex]) -> tuple[Vertex, ...]:
    """The vertices less those that lie on a straight side."""
    count = len(vertices)
    if count <= 3:
        return tuple(vertices)
    begin = max(range(count), key=lambda i: abs(_turn_at(vertices, i)))
    kept = [begin]
    passed: list[Vertex] = []
    for step in range(1, count):
        here, before = (begin + step) % count, (begin + step - 1) % count
        after = vertices[(here + 1) % count]
        tried = [*passed, vertices[here]]
        level = not vertices[here].bulge and not vertices[before].bulge
        if level and all(_off(vertices[kept[-1]], after, one) <= STRAIGHT for one in tried):
            passed = tried
        else:
            kept.append(here)
            passed = []
    return tuple(vertices[i] for i in sorted(kept))


def chords(vertices: Sequence[Vertex]) -> Iterator[Chords]:
    """Where chords stand for arcs, in the order of an anticlockwise loop's vertices."""
    count = len(vertices)
    joined = [_alike(vertices, i) for i in range(count)]
    if all(joined) or count < FEWEST + 2:
        return  # all round: a polygon that is meant
    begin = joined.index(False)
    i = 0
    while i < count:
        long = 1
        while i + long < count and joined[(begin + i + long) % count]:
            long += 1
        if long >= FEWEST:
            first = (begin + i) % count
            found = _arc(vertices, first, long)
            if found is not None:
                yield found
        i += long


def _alike(vertices: Sequence[Vertex], i: int) -> bool:
    """Whether the side from vertex `i` goes on as the one before it: as long, turned a little."""
    before, here, after = (vertices[(i + k) % len(vertices)] for k in (-1, 0, 1))
    if before.bulge or here.bulge:
        return False
    a = math.dist((before.x, before.y), (here.x, here.y))
    b = math.dist((here.x, here.y), (after.x, after.y))
    turn = abs(_turn_at(vertices, i))
    return abs(a - b) <= ALIKE * max(a, b) and TURNS[0] <= turn <= TURNS[1]


def _arc(vertices: Sequence[Vertex], first: int, long: int) -> Chords | None:
    """The arc that `long` sides from vertex `first` on stand for, if they do."""
    count = len(vertices)
    points = [vertices[(first + k) % count] for k in range(long + 1)]
    turns = [_turn_at(vertices, (first + k) % count) for k in range(1, long)]
    mean = sum(turns) / len(turns)
    if any(abs(turn - mean) > ALIKE * abs(mean) for turn in turns):
        return None
    outer = math.dist((points[0].x, points[0].y), (points[1].x, points[1].y))
    outer /= 2.0 * math.sin(abs(mean) / 2.0)
    # Outward arcs are cut along tangents, inward ones along chords: both leave room.
    radius = outer * math.cos(mean / 2.0) if mean > 0.0 else outer
    if outer - radius > NEAR:
        return None
    sharp = _sharp(vertices, first, (first + long) % count, (radius, mean))
    radius = round(radius, 1)
    return Chords(first, (first + long) % count, math.copysign(radius, mean), sharp)


def _sharp(
    vertices: Sequence[Vertex], first: int, last: int, arc: tuple[float, float]
) -> Point | None:
    """Where the sides beside chords meet, if their arc runs into both."""
    count, (radius, mean) = len(vertices), arc
    before, start = vertices[first - 1], vertices[first]
    end, after = vertices[last], vertices[(last + 1) % count]
    if before.bulge or end.bulge:
        return None
    ends = (_turn_at(vertices, first), _turn_at(vertices, last))
    if any(not 0.3 <= turn / mean <= 1.0 + ALIKE for turn in ends):
        return None
    into = math.atan2(start.y - before.y, start.x - before.x)
    out = math.atan2(after.y - end.y, after.x - end.x)
    turn = math.remainder(out - into, 2.0 * math.pi)
    if not 0.1 < abs(turn) < 0.95 * math.pi:
        return None
    cross = math.sin(turn)
    along = ((end.x - start.x) * math.sin(out) - (end.y - start.y) * math.cos(out)) / cross
    sharp = (start.x + along * math.cos(into), start.y + along * math.sin(into))
    reach = radius * math.tan(abs(turn) / 2.0)
    chord = 2.0 * radius * math.tan(abs(mean) / 2.0)
    off = abs(reach - math.dist(sharp, (start.x, start.y)))
    return sharp if along > 0.0 and off <= chord else None


def _turn_at(vertices: Sequence[Vertex], i: int) -> float:
    """How far the way turns at a vertex, chords for arcs, radians; positive to the left."""
    before, here, after = (vertices[(i + k) % len(vertices)] for k in (-1, 0, 1))
    into = math.atan2(here.y - before.y, here.x - before.x)
    out = math.atan2(after.y - here.y, after.x - here.x)
    return math.remainder(out - into, 2.0 * math.pi)


def _off(a: Vertex, b: Vertex, point: Vertex) -> float:
    """How far a point lies off the line between two others; far where it is not between them."""
    dx, dy = b.x - a.x, b.y - a.y
    length = math.hypot(dx, dy)
    if length < STRAIGHT:
        return math.inf
    along = ((point.x - a.x) * dx + (point.y - a.y) * dy) / length
    if not -STRAIGHT <= along <= length + STRAIGHT:
        return math.inf
    return abs((point.x - a.x) * dy - (point.y - a.y) * dx) / length
