"""What has to be dimensioned on a panel: corners, openings and sinks, holes by kind."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from fitout.documents.drawings.smoothing import Chords, chords, straightened
from fitout.model.outline import Loop, Vertex, arc_of
from fitout.model.panel import Face, Hole, Panel, Pocket

CLOSE = 1e-4
"""Coordinates nearer than this are one, mm."""

TANGENT = 1e-4
"""Greatest angle (radians) between a side and an arc that rounds its corner."""


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of an outline: where its sides meet, and the radius it is rounded with.

    `arc` is the radius of the side that starts here, where that is an arc and no rounding;
    positive when it bulges outwards from the loop's inside, negative inwards. None else.
    """

    x: float
    y: float
    radius: float = 0.0
    arc: float | None = None


def corners(loop: Loop) -> tuple[Corner, ...]:
    """The loop's corners anticlockwise; roundings are told by their sharp corner and radius."""
    vertices = straightened(loop.anticlockwise().vertices)
    count = len(vertices)
    arcs = {one.first: _on_blank(one, loop.bounds) for one in chords(vertices)}
    within = {
        (one.first + k) % count for one in arcs.values() for k in range(1, _sides(one, count))
    }
    ended = {one.last for one in arcs.values() if one.sharp is not None}
    rounds = [_within(_rounding(vertices, i), loop.bounds) for i in range(count)]
    found: list[Corner] = []
    for i, vertex in enumerate(vertices):
        sharp = rounds[i]
        if i in arcs:
            found.append(_of_chords(arcs[i], vertex))
        elif sharp is not None:
            found.append(sharp)
        elif i not in within and i not in ended and rounds[i - 1] is None:
            arc = None
            if vertex.bulge:
                radius = arc_of(vertex, vertices[(i + 1) % count]).radius
                arc = math.copysign(radius, vertex.bulge)
            found.append(Corner(vertex.x, vertex.y, arc=arc))
    return tuple(found)


def _sides(one: Chords, count: int) -> int:
    return (one.last - one.first) % count


def _on_blank(one: Chords, box: tuple[float, float, float, float]) -> Chords:
    """The same, told as an arc where the corner it rounds lies off the blank."""
    if one.sharp is None or _within(Corner(*one.sharp), box) is not None:
        return one
    return replace(one, sharp=None)


def _of_chords(one: Chords, vertex: Vertex) -> Corner:
    """Chords as a rounding, or as an arc that starts at their first vertex."""
    if one.sharp is not None:
        return Corner(*one.sharp, radius=abs(one.radius))
    return Corner(vertex.x, vertex.y, arc=one.radius)


def _rounding(vertices: Sequence[Vertex], i: int) -> Corner | None:
    """The corner that the arc from vertex `i` rounds, if it does: tangent to straight sides."""
    count = len(vertices)
    start, end = vertices[i], vertices[(i + 1) % count]
    before, after = vertices[i - 1], vertices[(i + 2) % count]
    if not start.bulge or before.bulge or end.bulge or count < 4:
        return None
    arc = arc_of(start, end)
    if abs(arc.sweep) > 0.95 * math.pi:
        return None
    into = math.atan2(start.y - before.y, start.x - before.x)
    out = math.atan2(after.y - end.y, after.x - end.x)
    quarter = math.copysign(math.pi / 2.0, arc.sweep)
    if _turn(arc.start + quarter - into) > TANGENT:
        return None
    if _turn(arc.start + arc.sweep + quarter - out) > TANGENT:
        return None
    reach = arc.radius * math.tan(abs(arc.sweep) / 2.0)
    return Corner(
        start.x + reach * math.cos(into), start.y + reach * math.sin(into), radius=arc.radius
    )


def _within(corner: Corner | None, box: tuple[float, float, float, float]) -> Corner | None:
    """The corner if it lies in the loop's box; beyond it there is no blank to mark it on."""
    if corner is None:
        return None
    inside = (
        box[0] - CLOSE <= corner.x <= box[2] + CLOSE
        and box[1] - CLOSE <= corner.y <= box[3] + CLOSE
    )
    return corner if inside else None


def _turn(angle: float) -> float:
    """The size of an angle, whole turns taken off."""
    return abs(math.remainder(angle, 2.0 * math.pi))


@dataclass(frozen=True, slots=True)
class Opening:
    """A cut-out or a sink: where it is, its kind, and how deep (None: right through).

    `box` is left, lower, right, upper. `radius` is that of all its corners; a round opening
    is as wide as high, of half of which the radius is. `free` where it is neither a
    rectangle nor rounded alike: its corners are to be told one by one.
    """

    box: tuple[float, float, float, float]
    radius: float
    free: bool
    depth: float | None
    face: Face
    purpose: str
    loop: Loop

    @property
    def round(self) -> bool:
        """Whether it is a circle."""
        left, lower, right, upper = self.box
        return (
            not self.free
            and self.radius > 0.0
            and (
                abs(right - left - 2.0 * self.radius) < CLOSE
                and abs(upper - lower - 2.0 * self.radius) < CLOSE
            )
        )

    @property
    def size(self) -> tuple[float, float]:
        """Length and width."""
        return self.box[2] - self.box[0], self.box[3] - self.box[1]


def openings(panel: Panel) -> tuple[Opening, ...]:
    """Cut-outs, then sinks, each kind from left to right."""
    cut_outs = [opening(loop, None, Face.A, "cut-out") for loop in panel.outline.inner]
    sinks = [_sink(pocket, panel) for pocket in panel.pockets]
    return (*sorted(cut_outs, key=_place), *sorted(sinks, key=_place))


def _place(one: Opening) -> tuple[float, ...]:
    return tuple(round(value, 3) for value in (*one.box, one.depth or 0.0))


def _sink(pocket: Pocket, panel: Panel) -> Opening:
    depth = None if pocket.depth >= panel.thickness else pocket.depth
    return opening(pocket.loop, depth, pocket.face, pocket.purpose)


def opening(loop: Loop, depth: float | None, face: Face, purpose: str) -> Opening:
    """What kind of opening a loop is."""
    x0, y0, x1, y1 = loop.bounds
    found = corners(loop)
    radius, free = 0.0, True
    if _box_of(found, (x0, y0, x1, y1)):
        radii = {round(corner.radius, 4) for corner in found}
        radius, free = found[0].radius, len(radii) > 1
    elif all(v.bulge for v in loop.vertices) or _is_slot(loop):
        # A circle, or a slot along an axis: round ends as wide as it is.
        radius = min(x1 - x0, y1 - y0) / 2.0
        longest = max(x1 - x0, y1 - y0)
        full = math.pi * radius**2 + 2.0 * radius * (longest - 2.0 * radius)
        free = abs(full - loop.area) > 1e-3
    return Opening((x0, y0, x1, y1), radius, free, depth, face, purpose, loop)


def _box_of(found: Sequence[Corner], box: tuple[float, float, float, float]) -> bool:
    x0, y0, x1, y1 = box
    wanted = {(x0, y0), (x1, y0), (x1, y1), (x0, y1)}
    if len(found) != 4 or any(corner.arc for corner in found):
        return False
    return all(
        any(math.dist(point, (corner.x, corner.y)) < CLOSE for corner in found) for point in wanted
    )


def _is_slot(loop: Loop) -> bool:
    bulges = sorted(abs(v.bulge) for v in loop.vertices)
    return len(bulges) == 4 and bulges[:2] == [0.0, 0.0] and min(bulges[2:]) > 0.999


@dataclass(frozen=True, slots=True)
class HoleKind:
    """Holes that are drilled alike; `letter` is told where there are several kinds."""

    letter: str
    diameter: float
    depth: float | None
    face: Face
    purpose: str
    holes: tuple[Hole, ...]


def hole_kinds(panel: Panel) -> tuple[HoleKind, ...]:
    """The panel's holes by kind, the most first; depth None for those right through."""
    groups: dict[tuple[float, float, str, str], list[Hole]] = {}
    for hole in panel.holes:
        through = hole.depth is None or hole.depth >= panel.thickness
        depth = 0.0 if through else round(hole.depth or 0.0, 3)
        face = "" if through else hole.face.value
        key = (round(hole.diameter, 3), depth, face, hole.purpose)
        groups.setdefault(key, []).append(hole)
    ranked = sorted(groups.items(), key=lambda pair: (-len(pair[1]), pair[0]))
    return tuple(
        HoleKind(
            letter_of(i),
            diameter,
            depth or None,
            Face(face) if face else Face.A,
            purpose,
            tuple(sorted(holes, key=lambda hole: (round(hole.x, 3), round(hole.y, 3)))),
        )
        for i, ((diameter, depth, face, purpose), holes) in enumerate(ranked)
    )


def letter_of(index: int) -> str:
    """a, b, ... z, aa, ab, ..."""
    rest, last = divmod(index, 26)
    return (letter_of(rest - 1) if rest else "") + chr(ord("a") + last)


def distinct(values: Iterable[float], close: float = CLOSE) -> tuple[float, ...]:
    """The values from the least on, those nearer than `close` to the one before left out."""
    found: list[float] = []
    for value in sorted(values):
        if not found or value - found[-1] > close:
            found.append(value)
    return tuple(found)
