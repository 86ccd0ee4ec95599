"""Outlines: closed loops of straight and arc segments, exact, in a panel's own plane (mm).

A loop is stored as vertices with a bulge, the convention of DXF LWPOLYLINE: the bulge of
a vertex belongs to the segment that starts there and is tan(sweep / 4), positive when the
arc turns anticlockwise. Area and centroid are exact (Green's theorem, arcs included);
only `Loop.chords` approximates, and says on which side.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Point = tuple[float, float]
Array = npt.NDArray[np.float64]

CHORD_SAGITTA = 0.004
"""Greatest distance (mm) between an arc and the chords that stand for it."""


@dataclass(frozen=True, slots=True)
class Vertex:
    """A corner of a loop and the bulge of the segment that starts at it."""

    x: float
    y: float
    bulge: float = 0.0


@dataclass(frozen=True, slots=True)
class Arc:
    """The circle an arc segment lies on: centre, radius, start angle and sweep in radians."""

    centre: Point
    radius: float
    start: float
    sweep: float

    def at(self, angle: float) -> Point:
        """The point of the circle at `angle` radians."""
        return (
            self.centre[0] + self.radius * math.cos(angle),
            self.centre[1] + self.radius * math.sin(angle),
        )


def arc_of(start: Vertex, end: Vertex) -> Arc:
    """The arc of the segment from `start` (whose bulge is not zero) to `end`."""
    bulge = start.bulge
    chord_x, chord_y = end.x - start.x, end.y - start.y
    # The centre lies on the chord's perpendicular bisector, at (1 - b²) / 4b chord lengths.
    offset = (1.0 - bulge * bulge) / (4.0 * bulge)
    centre = (
        (start.x + end.x) / 2.0 - offset * chord_y,
        (start.y + end.y) / 2.0 + offset * chord_x,
    )
    radius = math.hypot(chord_x, chord_y) * (1.0 + bulge * bulge) / (4.0 * abs(bulge))
    angle = math.atan2(start.y - centre[1], start.x - centre[0])
    return Arc(centre, radius, angle, 4.0 * math.atan(bulge))


@dataclass(frozen=True, slots=True)
class Loop:
    """A closed loop; the last vertex joins the first."""

    vertices: tuple[Vertex, ...]

    def segments(self) -> Iterator[tuple[Vertex, Vertex]]:
        """Each segment as its start and end vertex."""
        following = (*self.vertices[1:], self.vertices[0])
        return zip(self.vertices, following, strict=True)

    @property
    def _signed_moments(self) -> tuple[float, float, float]:
        """Signed area and first moments, exact."""
        area = moment_x = moment_y = 0.0
        for a, b in self.segments():
            cross = a.x * b.y - b.x * a.y
            area += cross / 2.0
            moment_x += cross * (a.x + b.x) / 6.0
            moment_y += cross * (a.y + b.y) / 6.0
            if a.bulge:
                # The circular segment between chord and arc: area r²(φ - sin φ)/2, its
                # centroid 4 r sin³(φ/2) / 3(φ - sin φ) from the centre.
                arc = arc_of(a, b)
                turn = arc.sweep
                part = arc.radius**2 * (turn - math.sin(turn)) / 2.0
                reach = 2.0 * arc.radius**3 * math.sin(turn / 2.0) ** 3 / 3.0
                middle = arc.start + turn / 2.0
                area += part
                moment_x += part * arc.centre[0] + reach * math.cos(middle)
                moment_y += part * arc.centre[1] + reach * math.sin(middle)
        return area, moment_x, moment_y

    @property
    def signed_area(self) -> float:
        """Area in mm², positive when the loop runs anticlockwise."""
        area = 0.0
        for a, b in self.segments():
            area += (a.x * b.y - b.x * a.y) / 2.0
            if a.bulge:
                # The circular segment between chord and arc, r²(φ - sin φ) / 2.
                turn = 4.0 * math.atan(a.bulge)
                radius = math.hypot(b.x - a.x, b.y - a.y) * (1.0 + a.bulge**2) / (4.0 * a.bulge)
                area += radius**2 * (turn - math.sin(turn)) / 2.0
        return area

    @property
    def moments(self) -> tuple[float, float, float]:
        """Enclosed area in mm² and its first moments, ∫x and ∫y, in mm³."""
        area, moment_x, moment_y = self._signed_moments
        return (area, moment_x, moment_y) if area > 0.0 else (-area, -moment_x, -moment_y)

    @property
    def area(self) -> float:
        """Enclosed area in mm²."""
        return abs(self.signed_area)

    @property
    def centroid(self) -> Point:
        """Centroid of the enclosed area."""
        area, moment_x, moment_y = self._signed_moments
        return moment_x / area, moment_y / area

    @property
    def length(self) -> float:
        """Length of the loop, arcs included."""
        total = 0.0
        for a, b in self.segments():
            if a.bulge:
                arc = arc_of(a, b)
                total += arc.radius * abs(arc.sweep)
            else:
                total += math.hypot(b.x - a.x, b.y - a.y)
        return total

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least x, least y, greatest x, greatest y; exact for arcs."""
        xs = [v.x for v in self.vertices]
        ys = [v.y for v in self.vertices]
        for a, b in self.segments():
            if not a.bulge:
                continue
            arc = arc_of(a, b)
            for quarter in range(4):
                angle = quarter * math.pi / 2.0
                turned = (angle - arc.start) * math.copysign(1.0, arc.sweep) % (2.0 * math.pi)
                if turned < abs(arc.sweep):
                    x, y = arc.at(angle)
                    xs.append(x)
                    ys.append(y)
        return min(xs), min(ys), max(xs), max(ys)

    def reversed(self) -> Loop:
        """The same loop run the other way round."""
        count = len(self.vertices)
        order = [self.vertices[-i % count] for i in range(count)]
        return Loop(
            tuple(
                Vertex(v.x, v.y, -self.vertices[(-i - 1) % count].bulge)
                for i, v in enumerate(order)
            )
        )

    def anticlockwise(self) -> Loop:
        """This loop, run anticlockwise."""
        return self if self.signed_area > 0 else self.reversed()

    def moved(self, dx: float, dy: float) -> Loop:
        """This loop shifted by (dx, dy)."""
        return Loop(tuple(Vertex(v.x + dx, v.y + dy, v.bulge) for v in self.vertices))

    def turned(self, quarter_turns: int) -> Loop:
        """This loop turned about the origin by quarter turns anticlockwise, exactly."""
        cos, sin = ((1, 0), (0, 1), (-1, 0), (0, -1))[quarter_turns % 4]
        return Loop(
            tuple(Vertex(cos * v.x - sin * v.y, sin * v.x + cos * v.y, v.bulge)
                  for v in self.vertices)
        )  # fmt: skip

    def mirrored(self) -> Loop:
        """This loop mirrored in the y axis, still run the way round it was."""
        flipped = Loop(tuple(Vertex(-v.x, v.y, -v.bulge) for v in self.vertices))
        return flipped.reversed()

    def chords(self, *, grows: bool, sagitta: float = CHORD_SAGITTA) -> Array:
        """The loop as straight chords, shape (n, 2), run anticlockwise.

        With `grows` the polygon contains the loop (arcs that bulge outwards are
        circumscribed, arcs that bulge inwards inscribed); without, it lies inside. Either
        way it is nowhere further than `sagitta` mm from the loop.
        """
        loop = self.anticlockwise()
        points: list[Point] = []
        for a, b in loop.segments():
            points.append((a.x, a.y))
            if a.bulge:
                points.extend(_arc_points(arc_of(a, b), grows == (a.bulge > 0), sagitta))
        return np.array(points, dtype=np.float64)


def _arc_points(arc: Arc, circumscribe: bool, sagitta: float) -> list[Point]:
    """The points strictly between an arc's ends of the polyline that stands for it."""
    half = math.acos(max(0.0, 1.0 - sagitta / (arc.radius + sagitta)))
    steps = max(2, math.ceil(abs(arc.sweep) / (2.0 * half)))
    step = arc.sweep / steps
    (x, y), radius = arc.centre, arc.radius
    angles = [arc.start + i * step for i in range(1, steps)]
    if circumscribe:
        # Corners of the tangent polygon stand between the touching points.
        radius /= math.cos(step / 2.0)
        angles = [arc.start + (i + 0.5) * step for i in range(steps)]
    return [(x + radius * math.cos(angle), y + radius * math.sin(angle)) for angle in angles]


@dataclass(frozen=True, slots=True)
class Outline:
    """The shape of a flat part: an outer loop and the loops cut right through it."""

    outer: Loop
    inner: tuple[Loop, ...] = ()

    @property
    def moments(self) -> tuple[float, float, float]:
        """Area in mm² and its first moments, ∫x and ∫y, in mm³, cut-outs taken off."""
        area, moment_x, moment_y = self.outer.moments
        for loop in self.inner:
            taken, taken_x, taken_y = loop.moments
            area, moment_x, moment_y = area - taken, moment_x - taken_x, moment_y - taken_y
        return area, moment_x, moment_y

    @property
    def area(self) -> float:
        """Area in mm², cut-outs taken off."""
        return self.moments[0]

    @property
    def centroid(self) -> Point:
        """Centroid of the area, cut-outs taken off."""
        area, moment_x, moment_y = self.moments
        return moment_x / area, moment_y / area

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least x, least y, greatest x, greatest y."""
        return self.outer.bounds

    @property
    def size(self) -> tuple[float, float]:
        """Extent along the panel's own x and y."""
        x0, y0, x1, y1 = self.bounds
        return x1 - x0, y1 - y0

    def moved(self, dx: float, dy: float) -> Outline:
        """This outline shifted by (dx, dy)."""
        return Outline(self.outer.moved(dx, dy), tuple(i.moved(dx, dy) for i in self.inner))

    def turned(self, quarter_turns: int) -> Outline:
        """This outline turned about the origin by quarter turns anticlockwise."""
        return Outline(
            self.outer.turned(quarter_turns), tuple(i.turned(quarter_turns) for i in self.inner)
        )


def polygon(points: Sequence[Point]) -> Loop:
    """A loop of straight segments, run anticlockwise, repeated points dropped."""
    kept: list[Vertex] = []
    for x, y in points:
        if not kept or math.hypot(x - kept[-1].x, y - kept[-1].y) > 1e-6:
            kept.append(Vertex(float(x), float(y)))
    if math.hypot(kept[0].x - kept[-1].x, kept[0].y - kept[-1].y) <= 1e-6:
        kept.pop()
    return Loop(tuple(kept)).anticlockwise()


def rectangle(width: float, height: float, x: float = 0.0, y: float = 0.0) -> Loop:
    """A rectangle with its lower left corner at (x, y)."""
    return polygon([(x, y), (x + width, y), (x + width, y + height), (x, y + height)])


def circle(x: float, y: float, diameter: float) -> Loop:
    """A full circle, as two half-circle segments."""
    radius = diameter / 2.0
    return Loop((Vertex(x - radius, y, 1.0), Vertex(x + radius, y, 1.0)))


def rounded(loop: Loop, radius: float) -> Loop:
    """`loop` (straight segments only) with every convex and concave corner rounded.

    The radius is reduced at corners whose neighbouring segments are too short for it.
    """
    corners = loop.anticlockwise().vertices
    count = len(corners)
    result: list[Vertex] = []
    for i, corner in enumerate(corners):
        before, after = corners[i - 1], corners[(i + 1) % count]
        result.extend(_rounded_corner(before, corner, after, radius))
    return Loop(tuple(result))


def _rounded_corner(before: Vertex, corner: Vertex, after: Vertex, radius: float) -> list[Vertex]:
    to_before = (before.x - corner.x, before.y - corner.y)
    to_after = (after.x - corner.x, after.y - corner.y)
    length_before, length_after = math.hypot(*to_before), math.hypot(*to_after)
    unit_before = (to_before[0] / length_before, to_before[1] / length_before)
    unit_after = (to_after[0] / length_after, to_after[1] / length_after)
    turn = math.pi - math.acos(
        max(-1.0, min(1.0, unit_before[0] * unit_after[0] + unit_before[1] * unit_after[1]))
    )
    if turn < 1e-6:
        return [corner]
    setback = min(radius * math.tan(turn / 2.0), 0.499 * length_before, 0.499 * length_after)
    cross = unit_before[1] * unit_after[0] - unit_before[0] * unit_after[1]
    bulge = math.copysign(math.tan(turn / 4.0), cross)
    return [
        Vertex(corner.x + setback * unit_before[0], corner.y + setback * unit_before[1], bulge),
        Vertex(corner.x + setback * unit_after[0], corner.y + setback * unit_after[1]),
    ]


def slot(x0: float, y0: float, x1: float, y1: float, width: float) -> Loop:
    """A slot with round ends whose centre line runs from (x0, y0) to (x1, y1)."""
    length = math.hypot(x1 - x0, y1 - y0)
    along = ((x1 - x0) / length, (y1 - y0) / length)
    side = (-along[1] * width / 2.0, along[0] * width / 2.0)
    return Loop(
        (
            Vertex(x0 - side[0], y0 - side[1]),
            Vertex(x1 - side[0], y1 - side[1], 1.0),
            Vertex(x1 + side[0], y1 + side[1]),
            Vertex(x0 + side[0], y0 + side[1], 1.0),
        )
    )
