"""Dimensions, leaders and balloons, each placed where it lies on nothing else (ISO 129-1).

All points are on paper, mm; the texts are the caller's, since he knows the scale. Every
function tries places from the nearest outwards and draws the first that fits; it returns
whether one did. Place short dimensions before long ones: they then lie further in.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from fitout.documents.paper.fonts import text_width
from fitout.documents.paper.layout import AROUND, DIMENSION, EXTENSION, LEADER, Layout
from fitout.documents.paper.marks import BLACK, NARROW, Arc, Area, Mark, Stroke, Text, line
from fitout.documents.paper.room import DESCENDING, DESCENT
from fitout.model.outline import Point

HEIGHT = 2.5
"""Height of the capitals of dimensions (ISO 3098-1), mm."""

NEAREST, STEP, FARTHEST = 8.0, 1.0, 90.0
"""From what is dimensioned to the first dimension line, on to the next try, to the last."""

ARROW, HALF_ARROW = 2.5, 0.42
"""Length of an arrow head and half its width: 20 degrees, filled."""

OVER, OFF = 1.5, 0.8
"""How far extension lines go on beyond the dimension line, and begin off the outline."""

ABOVE = 0.5
"""Room between a dimension line and its text beside what every text keeps."""

ORIGIN = 1.0
"""Radius of the circle at the origin of running dimensions."""

KINK, STRAIGHT = 3.5, 0.05
"""How far out an extension line is led aside, and what needs no leading, mm."""

Side = Literal["below", "above", "left", "right"]
"""On which side of the drawing dimensions stand; below and above measure across."""

ANGLES_DEG = (45, 135, -45, -135, 60, 120, -60, -120, 30, 150, -30, -150, 75, 105, -75, -105)
REACHES = (7.0, 10.0, 14.0, 18.0, 24.0, 32.0, 42.0, 54.0, 70.0)
"""Directions and lengths that leaders are tried in."""


@dataclass(frozen=True, slots=True)
class Frame:
    """A side as coordinates: `along` the dimension line, `out` away from the drawing."""

    side: Side

    @property
    def across(self) -> bool:
        """Whether the dimension line lies level."""
        return self.side in ("below", "above")

    @property
    def sign(self) -> float:
        """The direction of `out` on paper."""
        return 1.0 if self.side in ("above", "right") else -1.0

    def point(self, along: float, out: float) -> Point:
        """A point on paper."""
        return (along, self.sign * out) if self.across else (self.sign * out, along)

    def of(self, point: Point) -> tuple[float, float]:
        """A point's (along, out)."""
        return (point[0], self.sign * point[1]) if self.across else (point[1], self.sign * point[0])


def arrow(tip: Point, toward: float, layer: str = DIMENSION) -> Area:
    """A filled head with its tip at `tip`, pointing in the direction `toward` (radians)."""
    cos, sin = math.cos(toward), math.sin(toward)

    def at(back: float, aside: float) -> Point:
        return tip[0] - back * cos - aside * sin, tip[1] - back * sin + aside * cos

    ring = (tip, at(ARROW, HALF_ARROW), at(ARROW, -HALF_ARROW))
    return Area((ring,), BLACK, layer)


def linear(layout: Layout, a: Point, b: Point, text: str, side: Side) -> bool:
    """The distance of two points, level for below and above, upright for left and right."""
    return chain(layout, (a, b), (text,), side)


def chain(layout: Layout, points: Sequence[Point], texts: Sequence[str], side: Side) -> bool:
    """Distances from each point to the next, on one line; points in their order along it."""
    frame = Frame(side)
    base = max(frame.of(point)[1] for point in points)

    def in_room(level: float) -> bool:
        return all(layout.holds(_reach(frame, point, level)) for point in points)

    return layout.first(
        _chain(frame, points, texts, level, outside)
        # Extension lines that have once left the room only go on.
        for level in itertools.takewhile(in_room, _levels(base))
        for outside in (False, True)
    )


def _levels(base: float) -> Iterator[float]:
    steps = int((FARTHEST - NEAREST) / STEP)
    return (base + NEAREST + i * STEP for i in range(steps))


def _chain(  # over budget: a chain is points and texts on a level of a side
    frame: Frame, points: Sequence[Point], texts: Sequence[str], level: float, outside: bool
) -> Iterator[Mark]:
    """A chain on that level: texts within their spans, or at its ends."""
    ends = [frame.of(point)[0] for point in points]
    for point in points:
        yield line(*_reach(frame, point, level), NARROW, EXTENSION)
    last = len(texts) - 1
    for i, (a, b, text) in enumerate(zip(ends, ends[1:], texts, strict=False)):
        low, high = sorted((a, b))
        wide = text_width(text, HEIGHT)
        tight = high - low < 2.0 * ARROW + 1.0
        yield from _line(frame, low, high, level, tight)
        # Where it doesn't fit between, it stands beside the arrow at the chain's end.
        beside = 2.0 * ARROW if tight else 0.0
        reach = beside + wide + 4.0 * AROUND
        if wide + 2.0 * AROUND + ABOVE <= high - low and not outside:
            yield _over(frame, (low + high) / 2.0, level, text, "middle")
        elif i == last:
            yield _shelf(frame, high, high + reach, level)
            yield _over(frame, high + beside + 3.0 * AROUND, level, text, "left")
        elif i == 0:
            yield _shelf(frame, low - reach, low, level)
            yield _over(frame, low - reach + AROUND, level, text, "left")
        else:
            yield _over(frame, (low + high) / 2.0, level, text, "middle")


def _shelf(frame: Frame, start: float, end: float, level: float) -> Stroke:
    return line(frame.point(start, level), frame.point(end, level), NARROW, DIMENSION)


def _line(frame: Frame, low: float, high: float, level: float, tight: bool) -> Iterator[Mark]:
    """The dimension line from end to end with its heads, from outside where it is tight."""
    turn = 0.0 if frame.across else math.pi / 2.0
    if tight:
        reach = (low - 2.0 * ARROW, high + 2.0 * ARROW)
        heads = ((low, turn), (high, turn + math.pi))
    else:
        reach = (low, high)
        heads = ((low, turn + math.pi), (high, turn))
    yield line(frame.point(reach[0], level), frame.point(reach[1], level), NARROW, DIMENSION)
    for at, toward in heads:
        yield arrow(frame.point(at, level), toward)


def _reach(frame: Frame, point: Point, level: float) -> tuple[Point, Point]:
    """From where to where a point's extension line reaches."""
    along, out = frame.of(point)
    return frame.point(along, out + OFF), frame.point(along, level + OVER)


def _over(  # over budget: a text's place on a line of a side
    frame: Frame, along: float, level: float, text: str, anchor: Literal["left", "middle"]
) -> Text:
    """A text on the upper side of a dimension line, to be read from below or from the right."""
    lift = AROUND + ABOVE + (DESCENT * HEIGHT if DESCENDING.intersection(text) else 0.0)
    x, y = frame.point(along, level)
    if frame.across:
        return Text((x, y + lift), text, HEIGHT, anchor, layer=DIMENSION)
    return Text((x - lift, y), text, HEIGHT, anchor, 90.0, layer=DIMENSION)


def aligned(layout: Layout, a: Point, b: Point, text: str) -> bool:
    """The true length of a slanting edge, to the left of the way from `a` to `b`."""
    length = math.dist(a, b)
    angle = math.atan2(b[1] - a[1], b[0] - a[0])
    ux, uy = math.cos(angle), math.sin(angle)
    degrees = math.degrees(angle)
    readable = degrees if -90.0 < degrees <= 90.0 else degrees - math.copysign(180.0, degrees)
    lift = AROUND + ABOVE + DESCENT * HEIGHT
    side = 1.0 if readable == degrees else -1.0

    def at(along: float, out: float) -> Point:
        return a[0] + along * ux - out * uy, a[1] + along * uy + out * ux

    def way(out: float) -> Iterator[Mark]:
        base = out + lift if side > 0.0 else out + lift + HEIGHT - DESCENT * HEIGHT
        yield line(at(0.0, OFF), at(0.0, out + OVER), NARROW, EXTENSION)
        yield line(at(length, OFF), at(length, out + OVER), NARROW, EXTENSION)
        yield line(at(0.0, out), at(length, out), NARROW, DIMENSION)
        yield arrow(at(0.0, out), angle + math.pi)
        yield arrow(at(length, out), angle)
        yield Text(at(length / 2.0, base), text, HEIGHT, "middle", readable, layer=DIMENSION)

    wide = text_width(text, HEIGHT) + 2.0
    return length > wide and layout.first(way(NEAREST + i * STEP) for i in range(40))


@dataclass(frozen=True, slots=True)
class Ordinate:
    """A running dimension: the point it belongs to and the distance from the datum as told."""

    point: Point
    text: str


def running(
    layout: Layout,
    datum: Point,
    ordinates: Sequence[Ordinate],
    side: Side,
    edge: float | None = None,
) -> bool:
    """Running dimensions from one datum: each value at its own extension line's end.

    Values that would lie on each other are spread, their extension lines with a kink.

    Args:
        layout: the drawing.
        datum: where the measuring begins; it is marked by a circle and 0.
        ordinates: one for each different distance.
        side: where the values stand.
        edge: the drawing's edge on that side, on paper, where the datum is not at it.
    """
    frame = Frame(side)
    wanted = sorted({frame.of(o.point)[0]: o for o in ordinates}.items())
    along, out = frame.of(datum)
    base = max([out] + ([] if edge is None else [frame.sign * edge]))
    deep = DESCENT if any(DESCENDING.intersection(one.text) for one in ordinates) else 0.0
    places = spread([at for at, _ in wanted] + [along], HEIGHT * (1.0 + deep) + 2.0 * AROUND + 0.2)
    told = [*(one for _, one in wanted), Ordinate(datum, "0")]
    pairs = zip(places, told, strict=True)
    moved = any(abs(place - frame.of(one.point)[0]) > STRAIGHT for place, one in pairs)
    kink = KINK if moved else 0.0
    for i in range(60):
        level = base + 6.0 + i * STEP
        marks = (
            mark
            for one, place in zip(told, places, strict=True)
            for mark in _ordinate(frame, one, place, level, kink)
        )
        if layout.first([marks]):
            layout.draw([Arc(datum, ORIGIN, pen=NARROW, layer=DIMENSION)])
            return True
    return False


def _ordinate(  # over budget: a value's place on a level of a side
    frame: Frame, one: Ordinate, place: float, level: float, kink: float
) -> list[Mark]:
    along, out = frame.of(one.point)
    end = level + kink + 1.0
    points = [frame.point(along, out + OFF)]
    if abs(place - along) > STRAIGHT:
        points += [frame.point(along, level), frame.point(place, level + kink)]
    points.append(frame.point(place, end))
    x, y = frame.point(place, end + AROUND + ABOVE)
    half = HEIGHT / 2.0
    if frame.across:
        anchor: Literal["left", "right"] = "left" if frame.side == "above" else "right"
        written = Text((x + half, y), one.text, HEIGHT, anchor, 90.0, layer=DIMENSION)
    else:
        anchor = "left" if frame.side == "right" else "right"
        written = Text((x, y - half), one.text, HEIGHT, anchor, layer=DIMENSION)
    return [Stroke(tuple(points), NARROW, layer=EXTENSION), written]


def spread(wanted: Sequence[float], pitch: float) -> list[float]:
    """Places at least `pitch` apart in the same order, moved as little as need be.

    The least sum of squared moves (pooled neighbours); the order of equal wishes is kept.
    """
    order = sorted(range(len(wanted)), key=lambda i: (wanted[i], i))
    pools: list[list[float]] = []  # sum of wishes less their places in the row, and how many
    for rank, i in enumerate(order):
        pools.append([wanted[i] - rank * pitch, 1.0])
        while len(pools) > 1 and pools[-2][0] / pools[-2][1] > pools[-1][0] / pools[-1][1]:
            total, count = pools.pop()
            pools[-1][0] += total
            pools[-1][1] += count
    row = [total / count for total, count in pools for _ in range(int(count))]
    found = [0.0] * len(wanted)
    for rank, i in enumerate(order):
        found[i] = row[rank] + rank * pitch
    return found


def leader(
    layout: Layout, tip: Point, text: str, *, dot: bool = False, radius: float = 0.0
) -> bool:
    """A text on a shelf with a leader to `tip`: an arrow, or a dot within a surface.

    `radius` is that of a circle around `tip` whose rim the arrow touches.
    """
    wide = text_width(text, HEIGHT) + 2.0 * AROUND
    lift = AROUND + ABOVE + DESCENT * HEIGHT

    def way(reach: float, degrees: float) -> Iterator[Mark]:
        angle = math.radians(degrees)
        cos, sin = math.cos(angle), math.sin(angle)
        start = (tip[0] + radius * cos, tip[1] + radius * sin)
        knee = (start[0] + reach * cos, start[1] + reach * sin)
        end = (knee[0] + (wide if cos >= 0.0 else -wide), knee[1])
        left = min(knee[0], end[0]) + AROUND
        yield Stroke((start, knee, end), NARROW, layer=LEADER)
        yield _dot(tip) if dot else arrow(start, angle + math.pi, LEADER)
        yield Text((left, knee[1] + lift), text, HEIGHT, layer=DIMENSION)

    return layout.first(way(*one) for one in itertools.product(REACHES, ANGLES_DEG))


def _dot(at: Point) -> Area:
    ring = tuple(
        (at[0] + 0.5 * math.cos(i * math.pi / 6.0), at[1] + 0.5 * math.sin(i * math.pi / 6.0))
        for i in range(12)
    )
    return Area((ring,), BLACK, LEADER)


def balloon(layout: Layout, tip: Point, text: str, centres: Iterable[Point] | None = None) -> bool:
    """A part's number in a circle with a leader that ends in a dot at `tip`.

    `centres` are tried in turn; without them, places around the tip from near to far.
    """
    tried = _around(tip) if centres is None else centres
    return layout.first(balloon_marks(tip, centre, text) for centre in tried)


def _around(tip: Point) -> Iterator[Point]:
    for reach in (10.0, *REACHES[2:]):
        for degrees in ANGLES_DEG:
            angle = math.radians(degrees)
            yield tip[0] + reach * math.cos(angle), tip[1] + reach * math.sin(angle)


def balloon_marks(tip: Point, centre: Point, text: str) -> list[Mark]:
    """The circle around a number, as wide as it needs, and its leader."""
    radius = max(3.5, text_width(text, HEIGHT) / 2.0 + 1.0)
    away = math.dist(tip, centre)
    share = max(0.0, away - radius) / max(away, 1e-9)
    rim = (tip[0] + share * (centre[0] - tip[0]), tip[1] + share * (centre[1] - tip[1]))
    return [
        Arc(centre, radius, pen=NARROW, layer=LEADER),
        line(tip, rim, NARROW, LEADER),
        _dot(tip),
        Text((centre[0], centre[1] - HEIGHT / 2.0), text, HEIGHT, "middle", layer="BALLOON"),
    ]
