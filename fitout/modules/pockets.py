r"""Pockets for tools: a tool's outline, grown by its play, with round cuts for fingers.

            ___
      _____/   \_____       a rectangle with play all round and finger cuts at the middle
     |               |     of its long sides
     |_____     _____|
           \___/

Rectangles, circles and convex polygons keep exact arcs; hollow polygons and tools of
several shapes become chords no further than `SAGITTA` from the true edge, to which the
finger cuts are added as exact arcs. A pocket is always one closed loop without islands.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from typing import Any

import numpy as np
from manifold3d import CrossSection, FillRule, JoinType

from fitout.model.outline import Arc, Loop, Point, Vertex, arc_of, circle, polygon

FINGER = 28.0
"""Diameter of a finger cut, mm (common practice)."""

SAGITTA = 0.05
"""Greatest distance between chords and the true edge where chords stand for it, mm."""

NUDGE = 0.01
"""By how much a finger cut grows to keep off a corner of the tool, mm."""

NEAR = 1e-6
DIGITS = 6


def is_simple(points: Sequence[Point]) -> bool:
    """Whether points make a closed shape that encloses room and nowhere crosses itself."""
    if len(set(points)) < 3 or polygon(points).area < NEAR:
        return False
    corners = [(v.x, v.y) for v in polygon(points).vertices]
    edges = list(zip(corners, [*corners[1:], corners[0]], strict=True))
    for (i, a), (j, b) in itertools.combinations(enumerate(edges), 2):
        beside = j - i in (1, len(edges) - 1)
        if not beside and _cross(a, b):
            return False
    return True


def _cross(a: tuple[Point, Point], b: tuple[Point, Point]) -> bool:
    def side(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    apart = side(*a, b[0]) * side(*a, b[1]) > 0.0 or side(*b, a[0]) * side(*b, a[1]) > 0.0
    if apart:
        return False
    return all(
        max(min(a[0][k], a[1][k]), min(b[0][k], b[1][k]))
        <= min(max(a[0][k], a[1][k]), max(b[0][k], b[1][k]))
        for k in (0, 1)
    )


def grown(loop: Loop, by: float) -> Loop:
    """A loop pushed outwards by `by` mm, corners rounded: exact for circles and convex shapes."""
    loop = loop.anticlockwise()
    if by <= 0.0:
        return loop
    if all(v.bulge == 1.0 for v in loop.vertices) and len(loop.vertices) == 2:
        a, b = loop.vertices
        middle = ((a.x + b.x) / 2.0, (a.y + b.y) / 2.0)
        return circle(*middle, math.dist((a.x, a.y), (b.x, b.y)) + 2.0 * by)
    if not any(v.bulge for v in loop.vertices) and _is_convex(loop):
        return _grown_convex(loop, by)
    section = _section([loop]).offset(by, JoinType.Round, 2.0, _segments(by))
    return _outer(section)


def _is_convex(loop: Loop) -> bool:
    corners = loop.vertices
    for i, corner in enumerate(corners):
        before, after = corners[i - 1], corners[(i + 1) % len(corners)]
        cross = (corner.x - before.x) * (after.y - corner.y)
        if cross - (corner.y - before.y) * (after.x - corner.x) < -NEAR:
            return False
    return True


def _grown_convex(loop: Loop, by: float) -> Loop:
    vertices: list[Vertex] = []
    corners = loop.vertices
    for i, corner in enumerate(corners):
        before, after = corners[i - 1], corners[(i + 1) % len(corners)]
        come = math.atan2(corner.y - before.y, corner.x - before.x)
        leave = math.atan2(after.y - corner.y, after.x - corner.x)
        turn = (leave - come) % (2.0 * math.pi)
        if turn < NEAR or turn > 2.0 * math.pi - NEAR:
            vertices.append(
                Vertex(corner.x + by * math.sin(leave), corner.y - by * math.cos(leave))
            )
            continue
        for angle, bulge in ((come, math.tan(turn / 4.0)), (leave, 0.0)):
            x, y = corner.x + by * math.sin(angle), corner.y - by * math.cos(angle)
            vertices.append(Vertex(x, y, bulge))
    return Loop(tuple(vertices))


def _segments(radius: float) -> int:
    """How many chords a full circle needs to stay within SAGITTA."""
    return max(12, math.ceil(math.pi / math.acos(1.0 - min(0.5, SAGITTA / radius))))


def _section(loops: Sequence[Loop]) -> Any:
    chords = [loop.chords(grows=True, sagitta=SAGITTA) for loop in loops]
    return CrossSection(chords, FillRule.Positive)


def _outer(section: Any) -> Loop:
    """The outer loop of a section, its islands filled."""
    loops = [polygon([(round(x, DIGITS), round(y, DIGITS)) for x, y in p.tolist()])
             for p in section.to_polygons()]  # fmt: skip
    return max(loops, key=lambda loop: loop.area)


def united(loops: Sequence[Loop]) -> Loop | None:
    """One loop round several overlapping ones; None where they do not hang together.

    A single loop comes back as it is, several as chords.
    """
    if len(loops) == 1:
        return loops[0].anticlockwise()
    section = _section([loop.anticlockwise() for loop in loops])
    outsides = [p for p in section.to_polygons() if _signed_area(p) > 0.0]
    return _outer(section) if len(outsides) == 1 else None


def _signed_area(points: Any) -> float:
    x, y = np.asarray(points).T
    return float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2.0


def with_fingers(loop: Loop, sides: int) -> Loop:
    """A pocket with finger cuts at the middle of none, one or both of its long sides."""
    x0, y0, x1, y1 = loop.bounds
    upright = y1 - y0 > x1 - x0
    if upright:
        return with_fingers(loop.turned(3), sides).turned(1)
    diameter = min(FINGER, 0.8 * (x1 - x0))
    middle = (x0 + x1) / 2.0
    edges = _edges_at(loop, middle)
    for y in (edges[-1], edges[0])[:sides]:
        loop = united_with_disc(loop, (middle, y), diameter)
    return loop


def _edges_at(loop: Loop, x: float) -> list[float]:
    """Where a vertical line crosses a loop, from below up."""
    points = loop.chords(grows=True)
    found = []
    for (xa, ya), (xb, yb) in zip(points, np.roll(points, -1, axis=0), strict=True):
        if min(xa, xb) <= x <= max(xa, xb):
            share = 0.5 if xa == xb else (x - xa) / (xb - xa)
            found.append(float(ya + share * (yb - ya)))
    return sorted(found)


def united_with_disc(loop: Loop, centre: Point, diameter: float) -> Loop:
    """One loop round `loop` and a disc that crosses its edge, with exact arcs, islands filled.

    The disc grows by hundredths of a millimetre until its edge keeps off the loop's corners.

    Raises:
        ValueError: when the disc's edge does not cross the loop's.
    """
    loop = loop.anticlockwise()
    radius = diameter / 2.0
    while _grazes(loop, centre, radius):
        radius += NUDGE
    disc = Arc(centre, radius, 0.0, 2.0 * math.pi)
    parts = _outside_parts(loop, disc)
    if not parts:
        raise ValueError("the disc's edge does not cross the loop's")
    return max(_round_trips(parts, disc), key=lambda trip: trip.area)


def _grazes(loop: Loop, centre: Point, radius: float) -> bool:
    """Whether a circle passes too near a corner, or touches a segment without crossing it."""
    for a, b in loop.segments():
        if abs(math.dist(centre, (a.x, a.y)) - radius) < NUDGE / 4.0:
            return True
        if a.bulge:
            arc = arc_of(a, b)
            apart = math.dist(centre, arc.centre)
            limits = [apart - radius - arc.radius, abs(radius - arc.radius) - apart]
        else:
            length = math.dist((a.x, a.y), (b.x, b.y))
            cross = (b.x - a.x) * (centre[1] - a.y) - (b.y - a.y) * (centre[0] - a.x)
            limits = [abs(cross) / length - radius]
        if any(abs(limit) < NUDGE / 4.0 for limit in limits):
            return True
    return False


Part = tuple[Vertex, ...]
"""A stretch of a loop outside a disc: from where it leaves the disc to where it enters it."""


def _outside_parts(loop: Loop, disc: Arc) -> list[Part]:
    """The stretches of a loop outside a disc; none where the two edges do not cross."""
    pieces: list[tuple[Vertex, Point, bool]] = []
    for a, b in loop.segments():
        cuts = [0.0, *_crossings(a, b, disc), 1.0]
        for s, t in itertools.pairwise(cuts):
            start, middle, end = (_at(a, b, share) for share in (s, (s + t) / 2.0, t))
            bulge = math.tan(math.atan(a.bulge) * (t - s))
            outside = math.dist(middle, disc.centre) > disc.radius
            pieces.append((Vertex(*start, bulge), end, outside))
    begins = [i for i, p in enumerate(pieces) if p[2] and not pieces[i - 1][2]]
    parts: list[Part] = []
    for begin in begins:
        vertices: list[Vertex] = []
        i = begin
        while pieces[i][2]:
            vertices.append(pieces[i][0])
            end = pieces[i][1]
            i = (i + 1) % len(pieces)
        parts.append((*vertices, Vertex(*end)))
    return parts


def _at(a: Vertex, b: Vertex, share: float) -> Point:
    """The point a share of the way along a segment; its ends exactly."""
    if share in (0.0, 1.0):
        return (b.x, b.y) if share else (a.x, a.y)
    if a.bulge:
        arc = arc_of(a, b)
        return arc.at(arc.start + share * arc.sweep)
    return a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)


def _crossings(a: Vertex, b: Vertex, disc: Arc) -> list[float]:
    """Where a segment crosses a circle, as shares of the segment, in order."""
    if not a.bulge:
        along = (b.x - a.x, b.y - a.y)
        length = math.hypot(*along)
        to = (disc.centre[0] - a.x, disc.centre[1] - a.y)
        foot = (to[0] * along[0] + to[1] * along[1]) / length
        off = (to[0] * along[1] - to[1] * along[0]) / length
        if abs(off) >= disc.radius:
            return []
        half = math.sqrt(disc.radius**2 - off**2)
        return [s / length for s in (foot - half, foot + half) if 0.0 < s < length]
    arc = arc_of(a, b)
    to = (disc.centre[0] - arc.centre[0], disc.centre[1] - arc.centre[1])
    apart = math.hypot(*to)
    if not abs(arc.radius - disc.radius) < apart < arc.radius + disc.radius:
        return []
    cosine = (arc.radius**2 + apart**2 - disc.radius**2) / (2.0 * arc.radius * apart)
    turn, towards = math.acos(cosine), math.atan2(to[1], to[0])
    sign = math.copysign(1.0, arc.sweep)
    swept = (
        (angle - arc.start) * sign % (2.0 * math.pi) for angle in (towards - turn, towards + turn)
    )
    return sorted(s / abs(arc.sweep) for s in swept if s < abs(arc.sweep))


def _round_trips(parts: Sequence[Part], disc: Arc) -> list[Loop]:
    """The closed loops made of the outside parts and the disc's arcs between them."""

    def angle(v: Vertex) -> float:
        return math.atan2(v.y - disc.centre[1], v.x - disc.centre[0])

    following = {}
    for i, part in enumerate(parts):
        # From where the loop enters the disc, along the disc's edge to where the loop leaves it.
        enters = angle(part[-1])
        sweeps = [(angle(p[0]) - enters) % (2.0 * math.pi) for p in parts]
        following[i] = sweeps.index(min(sweeps)), min(sweeps)
    trips: list[Loop] = []
    pending = set(following)
    while pending:
        vertices: list[Vertex] = []
        i = min(pending)
        while i in pending:
            pending.remove(i)
            j, sweep = following[i]
            last = parts[i][-1]
            vertices += [*parts[i][:-1], Vertex(last.x, last.y, math.tan(sweep / 4.0))]
            i = j
        trips.append(Loop(tuple(vertices)))
    return trips
