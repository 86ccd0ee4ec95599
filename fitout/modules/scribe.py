r"""Outlines that follow the vehicle: a panel's edge drawn along the measured wall.

    seen from behind: an upright panel            seen from above: a flat panel

      wall |  +-----------+  | wall                 wall \  +--------+ x1
            \ |           | /                             | |        |
       arch--+|           |+--arch                   arch--+|        | inner edge,
          |   |           |   |                         |   |        | straight
          |   +-----------+   |                         +---+--------+ x0

An edge is the polyline of `survey.room` moved towards the middle by the gap, square to
the wall, mitred round its corners. The wall is asked for over the panel's thickness and a
gap's width more on both sides, so the gap holds in every direction, not in the panel's
plane alone. Inner corners are rounded for a 6 mm router bit; no edge is shorter than
0.5 mm. Whatever is smoothed away is taken off the panel, never added to it.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from fitout.model.bay import Bay
from fitout.model.module import Berth
from fitout.model.outline import Loop, Outline, Point, Vertex, polygon
from fitout.model.placement import Placement, Vector
from fitout.survey.room import wall_line_along, wall_line_up

BIT_RADIUS = 3.0
"""Radius of the inner corners, mm: what a 6 mm router bit leaves (common practice)."""

SHORTEST_EDGE = 0.5
"""Shorter edges are smoothed away: they mark the cut without shaping the part, mm."""

LEAST_LEFT = 15.0
"""Where less than this is left between the inner edge and the wall, the panel ends, mm."""

STEP_WIDTH = 0.01
"""Points of a wall line nearer than this along it are the two ends of a step, mm."""

SURPLUS = 0.01
"""Added to every gap, so that rounding never leaves less than was asked for, mm."""

Line = tuple[Point, ...]
"""(distance along the edge, distance from the centre line), the first one rising."""


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A straight bit of a line, by its two ends."""

    s0: float
    o0: float
    s1: float
    o1: float

    def at(self, s: float) -> float:
        return self.o0 + (self.o1 - self.o0) * (s - self.s0) / (self.s1 - self.s0)

    def covers(self, s: float) -> bool:
        return self.s0 <= s <= self.s1


def upright_edge(bay: Bay, side: str, box: Berth, gap: float, limit: float | None = None) -> Line:
    """Where an upright panel across the bay may reach: (z, distance from the centre line).

    The panel fills `box` along x and z; every point of it keeps `gap` from the wall and
    the wheel arch of that side, and reaches no further than `limit` from the centre line.
    The panel's plane is x = constant.
    """
    clear = _moved_by(gap)
    top = max(z for piece in bay.walls[side] for _, z in piece.corners)
    low, high = max(0.0, box.z0 - clear), min(top, box.z1 + clear)
    line = wall_line_up(bay, side, box.x0 - clear, box.x1 + clear, low, high)
    return _scribed(line, (box.z0, box.z1), clear, limit)


def flat_edge(bay: Bay, side: str, box: Berth, gap: float) -> Line:
    """Where a flat panel may reach: (x, distance from the centre line); see `upright_edge`.

    The panel's plane is z = constant.
    """
    clear = _moved_by(gap)
    ends = [x for piece in bay.walls[side] for x, _ in piece.corners]
    low, high = max(min(ends), box.x0 - clear), min(max(ends), box.x1 + clear)
    z0, z1 = max(0.0, box.z0 - clear), box.z1 + clear
    return _scribed(wall_line_along(bay, side, z0, z1, low, high), (box.x0, box.x1), clear)


def across_outline(
    bay: Bay, box: Berth, placement: Placement, gap: float, corner: float = 0.0
) -> Outline:
    """An upright panel from wall to wall, in the axes of `placement`.

    It fills `box` along x and z and never leaves it across; a box wider than the bay gives
    a panel scribed from top to bottom. `corner` is the radius of its outer corners.
    """
    left = [(y, z) for z, y in upright_edge(bay, "left", box, gap, box.y1)]
    right = [(-y, z) for z, y in upright_edge(bay, "right", box, gap, -box.y0)]
    return _outline([*right, *reversed(left)], placement, _upright(box), corner)


def end_outline(
    bay: Bay, side: str, box: Berth, placement: Placement, gap: float, corner: float = 0.0
) -> Outline:
    """An upright panel across, from the box's inner side to the wall, stepped round the arch.

    `box` says where it lies along x and z and, by the y nearer the centre line, where its
    straight inner edge stands. Where the wall or arch leaves less than 15 mm the panel
    ends: it may start above the arch.

    Raises:
        ValueError: nothing is left of the panel.
    """
    edge = upright_edge(bay, side, box, gap)
    points = [(y, z) for z, y in _one_sided(edge, side, box)]
    return _outline(points, placement, _upright(box), corner)


def flat_outline(
    bay: Bay, side: str, box: Berth, placement: Placement, gap: float, corner: float = 0.0
) -> Outline:
    """A flat panel from the box's inner side to the wall: deck infills, lids, bottoms.

    Raises:
        ValueError: nothing is left of the panel.
    """
    edge = flat_edge(bay, side, box, gap)
    return _outline(_one_sided(edge, side, box), placement, _level(box), corner)


def flat_across_outline(
    bay: Bay, box: Berth, placement: Placement, gap: float, corner: float = 0.0
) -> Outline:
    """A flat panel from wall to wall, from x0 to x1 of the box."""
    left = list(flat_edge(bay, "left", box, gap))
    right = [(x, -y) for x, y in flat_edge(bay, "right", box, gap)]
    return _outline([*left, *reversed(right)], placement, _level(box), corner)


def _upright(box: Berth) -> Callable[[Point], Vector]:
    return lambda point: (box.x0, *point)


def _level(box: Berth) -> Callable[[Point], Vector]:
    return lambda point: (*point, box.z0)


def _moved_by(gap: float) -> float:
    """How far the edge moves off the wall so that a rounded inner corner keeps the gap too.

    At a right-angled corner of the wall the bit leaves (r - gap)(1 - 1/√2) more than the
    edges beside it.
    """
    return gap + max(0.0, BIT_RADIUS - gap) * (1.0 - math.sqrt(0.5)) + SURPLUS


def _one_sided(edge: Line, side: str, box: Berth) -> list[Point]:
    """The longest part of an edge that leaves room, closed by the straight inner edge."""
    sign = 1.0 if side == "left" else -1.0
    inner = box.y0 if side == "left" else -box.y1
    best: list[Point] = []
    run: list[Point] = []
    for a, b in itertools.pairwise(edge):
        kept = _above(a, b, inner + LEAST_LEFT)
        if not kept or (run and kept[0] != run[-1]):
            run = []
        run = [*run, *(p for p in kept if not run or p != run[-1])]
        if len(run) > 1 and (not best or run[-1][0] - run[0][0] > best[-1][0] - best[0][0]):
            best = run
    if len(best) < 2 or best[-1][0] - best[0][0] < SHORTEST_EDGE:
        raise ValueError(f"no room between y = {sign * inner:g} and the {side} wall")
    ends = [(best[-1][0], sign * inner), (best[0][0], sign * inner)]
    return [*((s, sign * o) for s, o in best), *ends]


def _above(a: Point, b: Point, limit: float) -> list[Point]:
    """The part of a stretch whose distance from the centre line is at least `limit`."""
    if a[1] >= limit and b[1] >= limit:
        return [a, b]
    if a[1] < limit and b[1] < limit:
        return []
    share = (limit - a[1]) / (b[1] - a[1])
    middle = (a[0] + share * (b[0] - a[0]), limit)
    if b[0] - a[0] < STEP_WIDTH:
        return [a] if a[1] >= limit else [b]
    return [a, middle] if a[1] >= limit else [middle, b]


def _outline(
    points: Sequence[Point], placement: Placement, lift: Callable[[Point], Vector], corner: float
) -> Outline:
    """The closed outline through `points` of the panel's plane, in the axes of `placement`."""
    flat = [_local(placement, lift(point)) for point in points]
    return Outline(softened(polygon(flat), corner))


def _local(placement: Placement, point: Vector) -> Point:
    away = [a - b for a, b in zip(point, placement.origin, strict=True)]
    u = sum(a * b for a, b in zip(away, placement.u, strict=True))
    v = sum(a * b for a, b in zip(away, placement.v, strict=True))
    return round(u, 6), round(v, 6)


def softened(loop: Loop, outer: float) -> Loop:
    """A loop of straight edges with its inner corners rounded for the bit, outer ones by `outer`.

    Corners that turn less than 30° stay. A radius is reduced where the edges are short.
    """
    corners = loop.anticlockwise().vertices
    count = len(corners)
    result: list[Vertex] = []
    for i, corner in enumerate(corners):
        before, after = corners[i - 1], corners[(i + 1) % count]
        ins = (corner.x - before.x, corner.y - before.y)
        out = (after.x - corner.x, after.y - corner.y)
        turn = math.atan2(ins[0] * out[1] - ins[1] * out[0], ins[0] * out[0] + ins[1] * out[1])
        radius = outer if turn > 0.0 else BIT_RADIUS
        shorter = min(math.hypot(*ins), math.hypot(*out))
        setback = min(radius * math.tan(abs(turn) / 2.0), shorter / 2.0 - SHORTEST_EDGE / 2.0)
        if abs(turn) < math.radians(30.0) or setback < SHORTEST_EDGE:
            result.append(corner)
            continue
        back, ahead = setback / math.hypot(*ins), setback / math.hypot(*out)
        x, y = corner.x, corner.y
        result.append(Vertex(x - back * ins[0], y - back * ins[1], math.tan(turn / 4.0)))
        result.append(Vertex(x + ahead * out[0], y + ahead * out[1]))
    return Loop(tuple(result))


def _scribed(
    line: Line, span: tuple[float, float], clear: float, limit: float | None = None
) -> Line:
    """The line moved off the wall by `clear`, over `span`, without edges too short to cut."""
    stretches = list(_moved(line, clear))
    if limit is not None and math.isfinite(limit):
        stretches.append(_Stretch(span[0] - 1.0, limit, span[1] + 1.0, limit))
    edge = lower_envelope(stretches, *span)
    return tuple(_without_short(_blunt_ends(edge)))


def _moved(line: Line, clear: float) -> Iterator[_Stretch]:
    """Each stretch of the wall moved square to itself, reaching to the mitre at its ends.

    Where the wall turns by more than a right angle round a corner, a flat bit ahead of the
    corner stands in for the long point of the mitre.
    """
    pairs = list(itertools.pairwise(line))
    angles = [_direction(a, b) for a, b in pairs]
    for i, (a, b) in enumerate(pairs):
        if b[0] - a[0] <= STEP_WIDTH:
            continue
        angle = angles[i]
        cos, sin = math.cos(angle), math.sin(angle)
        # The first and last stretch run on, so that they cover the panel's ends.
        turns = [math.pi / 2.0, math.pi / 2.0]
        if i > 0:
            turns[0] = angle - angles[i - 1]
        if i + 1 < len(pairs):
            turns[1] = angles[i + 1] - angle
        reach = [clear * min(1.0, math.tan(max(0.0, t) / 2.0)) + STEP_WIDTH for t in turns]
        yield _Stretch(
            a[0] + clear * sin - reach[0] * cos,
            a[1] - clear * cos - reach[0] * sin,
            b[0] + clear * sin + reach[1] * cos,
            b[1] - clear * cos + reach[1] * sin,
        )
        for turn, (s, o) in zip(turns, (a, b), strict=True):
            if turn > math.pi / 2.0 - 1e-9:
                yield _Stretch(s - clear - STEP_WIDTH, o - clear, s + clear + STEP_WIDTH, o - clear)


def _direction(a: Point, b: Point) -> float:
    if b[0] - a[0] <= STEP_WIDTH:
        return math.copysign(math.pi / 2.0, b[1] - a[1])
    return math.atan2(b[1] - a[1], b[0] - a[0])


def lower_envelope(stretches: Sequence[_Stretch], start: float, end: float) -> list[Point]:
    """The least of the stretches at every place from `start` to `end`, as a polyline.

    Where the least one changes without crossing, the line steps: two points at one place.
    """
    breaks = {start, end}
    breaks.update(s for p in stretches for s in (p.s0, p.s1) if start < s < end)
    for p, q in itertools.combinations(stretches, 2):
        low, high = max(p.s0, q.s0, start), min(p.s1, q.s1, end)
        if low < high:
            near, far = p.at(low) - q.at(low), p.at(high) - q.at(high)
            if near * far < 0.0:
                breaks.add(low + (high - low) * near / (near - far))
    points: list[Point] = []
    for a, b in itertools.pairwise(sorted(breaks)):
        if b - a < 1e-9:
            continue
        middle = (a + b) / 2.0
        least = min((p for p in stretches if p.covers(middle)), key=lambda p: p.at(middle))
        points += [(a, least.at(a)), (b, least.at(b))]
    return _plain(points)


def _plain(points: Sequence[Point]) -> list[Point]:
    """The polyline without repeated points and those on the straight between neighbours."""
    kept: list[Point] = []
    for point in points:
        if kept and math.dist(kept[-1], point) < 1e-6:
            continue
        while len(kept) >= 2 and abs(_bend(kept[-2], kept[-1], point)) < 1e-7:
            kept.pop()
        kept.append(point)
    return kept


def _bend(a: Point, b: Point, c: Point) -> float:
    """Sine of the turn at b: negative where the panel has an outer corner."""
    first, second = (b[0] - a[0], b[1] - a[1]), (c[0] - b[0], c[1] - b[1])
    cross = first[0] * second[1] - first[1] * second[0]
    return cross / (math.hypot(*first) * math.hypot(*second))


def _blunt_ends(points: list[Point]) -> list[Point]:
    """An edge that does not bend within the shortest edge's length of its ends."""
    for _ in range(2):
        start, second = points[0], points[1]
        if abs(second[0] - start[0]) < SHORTEST_EDGE and len(points) > 2:
            points = _level_start(points, 2.0 * SHORTEST_EDGE)
        # Look at the other end in the same way, then turn back.
        points = [(-s, o) for s, o in reversed(points)]
    return points


def _level_start(points: list[Point], length: float) -> list[Point]:
    """The edge with its first `length` made level, at the least distance found there."""
    stop = points[0][0] + length
    least, rest = points[0][1], [points[-1]]
    for i, (a, b) in enumerate(itertools.pairwise(points)):
        if b[0] <= stop:
            least = min(least, b[1])
            continue
        there = a[1] + (b[1] - a[1]) * (stop - a[0]) / (b[0] - a[0])
        least = min(least, there)
        rest = [(stop, there), *points[i + 1 :]]
        break
    return _plain([(points[0][0], least), (rest[0][0], least), *rest])


def _without_short(points: list[Point]) -> list[Point]:
    """The edge without bits too short to cut; what changes is taken off the panel."""
    points = list(points)
    while True:
        for i in range(1, len(points) - 2):
            if math.dist(points[i], points[i + 1]) < SHORTEST_EDGE:
                break
        else:
            return points
        before, a, b, after = points[i - 1 : i + 3]
        if _bend(before, a, b) < 0.0:
            points[i : i + 1] = []
        elif _bend(a, b, after) < 0.0:
            points[i + 1 : i + 2] = []
        else:
            points[i : i + 2] = [_mitre(before, a, b, after)]
        points = _plain(points)


def _mitre(before: Point, a: Point, b: Point, after: Point) -> Point:
    """Where the line from `before` through `a` meets the line from `after` through `b`."""
    first, second = (a[0] - before[0], a[1] - before[1]), (b[0] - after[0], b[1] - after[1])
    cross = first[0] * second[1] - first[1] * second[0]
    if abs(cross) < 1e-12:
        return a[0], min(a[1], b[1])
    share = ((after[0] - before[0]) * second[1] - (after[1] - before[1]) * second[0]) / cross
    return before[0] + share * first[0], before[1] + share * first[1]
