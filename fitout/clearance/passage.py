"""Whether a body goes in through an opening, how it must be turned, and with how much to spare.

A `Gateway` is one way of seeing the space: `through` is what a body must fit in as it passes
the opening by a straight shift, `inside` the convex room behind in which it is then turned
to how it will stand. In a convex room all places a turned body fits in form one convex set
that changes steadily with the angle. So where the slack stays above zero over a whole
interval of angles, the body can be turned through it, moving aside as it must; and between two
places at one angle it can be shifted straight. Nothing more is needed to prove a way in.

Tried in turn: straight; turned about one axis (rolled, tilted, yawed; a quarter turn lays it
on its side); turned about a second axis once inside.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from fitout.clearance.convex import Array
from fitout.clearance.passage_room import Room
from fitout.clearance.passage_turn import (
    Slack,
    Spans,
    greatest,
    proven,
    reach_from,
    supports,
    turns,
)

AXES: tuple[Array, ...] = tuple(np.eye(3))
"""The axes a body is turned about: x rolls it, y tilts it, z yaws it."""

FIRST_HALF_DEG = 2.0
FIRST_DEG = np.arange(FIRST_HALF_DEG - 180.0, 180.0, 2.0 * FIRST_HALF_DEG)
"""Angles looked at first: any other is no further from one of them than half a step."""


@dataclass(frozen=True, slots=True, eq=False)
class Gateway:
    """What a body must fit in while it passes the opening, and where it is turned then."""

    through: Room
    inside: Room

    def drawn_in(self, by: float) -> Gateway:
        """The gateway with so much kept from the opening's edges, mm."""
        return Gateway(self.through.drawn_in(by), self.inside)


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """A turn about bay axis 0, 1 or 2 (right-hand rule), degrees."""

    axis: int
    angle_deg: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Way:
    """A proven way in: turned by `before`, one after the other, then `turn`, from how it stands.

    `gap` is what it may keep from the opening's edges at that pose, beyond what the gateway
    draws them in by; `span_deg` are the angles of `turn` round it that all pass and can be
    undone inside; `tight` names the edges that are nearest.
    """

    gateway: Gateway
    gap: float
    tight: tuple[str, ...]
    turn: Turn | None = None
    span_deg: tuple[float, float] = (0.0, 0.0)
    before: tuple[Turn, ...] = ()


def search(points: Array, gateways: Sequence[Gateway], aligned: Sequence[Turn] = ()) -> Way | None:
    """The best of the simplest `ways`: most to spare, to the millimetre, then the least turn."""
    return max(ways(points, gateways, aligned), key=_preferred, default=None)


def ways(points: Array, gateways: Sequence[Gateway], aligned: Sequence[Turn] = ()) -> Iterator[Way]:
    """The simplest ways in for a body with corners `points` (n, 3) as it stands in the bay.

    Straight if that is possible; else turned about one axis; else those for the first of
    `aligned` that works, another turn inside to lay the body flat or square to the bay.
    """
    centred = centred_at_origin(points)
    kinds = itertools.chain(
        [_straight(centred, gateways), _turned(centred, gateways)],
        (_laid(centred, gateways, before) for before in aligned),
    )
    for kind in kinds if gateways else ():
        any_found = False
        for way in kind:
            any_found = True
            yield way
        if any_found:
            return


def _laid(points: Array, gateways: Sequence[Gateway], before: Turn) -> Iterator[Way]:
    """Ways that need a turn inside first."""
    laid = points @ turns(AXES[before.axis], np.array([before.angle_deg]))[0].T
    able = [gateway for gateway in gateways if _lies_back(points, gateway.inside, before)]
    if able:
        yield from _straight(laid, able, (before,))
        yield from _turned(laid, able, (before,))


def straight_gap(points: Array, gateways: Sequence[Gateway]) -> float | None:
    """The gap with which a body goes straight through, None where it can't."""
    centred = centred_at_origin(points)
    return max((way.gap for way in _straight(centred, gateways)), default=None)


def nearest(points: Array, gateways: Sequence[Gateway]) -> tuple[float, Turn, tuple[str, ...]]:
    """How near a body comes to passing the opening turned about one axis, to a millimetre.

    The greatest slack over all angles (below zero where it fits at none), the smallest turn,
    to half a degree, that comes within a millimetre of it, and the edges nearest there.
    """
    centred = centred_at_origin(points)
    reaches = [reach_from(centred, unit) for unit in AXES]
    most, found = -math.inf, []
    for gateway, axis in itertools.product(gateways, range(3)):
        slack = slack_of(centred, gateway.through, axis)
        at, here = greatest(slack, (-180.0, 180.0), reaches[axis], 1.0, most - 1.0)
        most = max(most, here)
        found.append((here, at, gateway, axis))
    turned = [
        (
            _smallest(slack_of(centred, gateway.through, axis), reaches[axis], here, at),
            axis,
            gateway,
        )
        for here, at, gateway, axis in found
        if round(here) >= round(most)
    ]
    angle, axis, gateway = min(turned, key=lambda t: abs(t[0]))
    normals = gateway.through.normals
    held = supports(centred, normals, turns(AXES[axis], np.array([angle])))
    return most, Turn(axis=axis, angle_deg=angle), gateway.through.tight(held[0])


def _smallest(slack: Slack, reach: float, most: float, at: float) -> float:
    """The smallest of the half degrees that come within a millimetre of the most; else `at`."""
    hopeful = slack(FIRST_DEG) + reach * math.radians(FIRST_HALF_DEG) >= most - 1.0
    angles = (FIRST_DEG[hopeful, None] + np.arange(-2.0, 2.5, 0.5)).ravel()
    near = angles[slack(angles) >= most - 1.0]
    return float(min(near, key=abs, default=at))


def centred_at_origin(points: Array) -> Array:
    """The points shifted so that the middle of their bounding block is the origin."""
    return np.asarray(points - (points.min(axis=0) + points.max(axis=0)) / 2.0)


def slack_of(points: Array, room: Room, axis: int) -> Slack:
    """The slack of a body in a room as a function of its angle about an axis."""

    def slack(angles: Array) -> Array:
        return room.slack(supports(points, room.normals, turns(AXES[axis], angles)))

    return slack


def _preferred(way: Way) -> tuple[float, float]:
    """More to spare is better, to the millimetre; then a smaller turn."""
    angle = abs(way.turn.angle_deg) if way.turn else 0.0
    return round(way.gap), -angle


def _straight(
    points: Array, gateways: Sequence[Gateway], before: tuple[Turn, ...] = ()
) -> Iterator[Way]:
    """Gone through as it stands, where the room behind holds it so."""
    as_is = np.eye(3)[None]
    for gateway in gateways:
        through, inside = gateway.through, gateway.inside
        held = supports(points, through.normals, as_is)
        if (
            through.slack(held)[0] >= 0.0
            and inside.slack(supports(points, inside.normals, as_is))[0] >= 0.0
        ):
            yield Way(
                gateway=gateway,
                gap=float(through.gap(held)[0]),
                tight=through.tight(held[0]),
                before=before,
            )


def _turned(
    points: Array, gateways: Sequence[Gateway], before: tuple[Turn, ...] = ()
) -> Iterator[Way]:
    """Gone through turned about one axis, and turned back in the room behind.

    A first look at all gateways together leaves most of them out.
    """
    sizes = np.cumsum([len(gateway.through.normals) for gateway in gateways])
    listed = np.vstack([gateway.through.normals for gateway in gateways])
    normals, which = np.unique(listed, axis=0, return_inverse=True)
    places = np.split(which.ravel(), sizes[:-1])
    for axis, unit in enumerate(AXES):
        held = supports(points, normals, turns(unit, FIRST_DEG))
        reach = reach_from(points, unit)
        for gateway, place in zip(gateways, places, strict=True):
            if gateway.through.reaches(held[:, place], -reach * math.radians(FIRST_HALF_DEG)):
                yield from _turned_about(points, gateway, axis, before)


def _turned_about(
    points: Array, gateway: Gateway, axis: int, before: tuple[Turn, ...]
) -> Iterator[Way]:
    unit, reach = AXES[axis], reach_from(points, AXES[axis])
    inside = slack_of(points, gateway.inside, axis)
    if inside(np.zeros(1))[0] < 0.0:
        return
    passing = proven(slack_of(points, gateway.through, axis), (-180.0, 180.0), 0.0, reach)
    if not passing.sure:
        return
    home = _home(inside, passing, reach)
    for span in _overlaps(passing, home):
        at = _widest(points, gateway.through, axis, span)
        held = supports(points, gateway.through.normals, turns(unit, np.array([at])))
        yield Way(
            gateway=gateway,
            gap=float(gateway.through.gap(held)[0]),
            tight=gateway.through.tight(held[0]),
            turn=Turn(axis=axis, angle_deg=at),
            span_deg=span,
            before=before,
        )


def _home(slack: Slack, passing: Spans, reach: float) -> tuple[float, float] | None:
    """The angles round 0 from which the body can be turned back, as far as any passes."""
    between = min(0.0, passing.sure[0][0]), max(0.0, passing.sure[-1][1])
    return proven(slack, between, 0.0, reach).round(0.0)


def _widest(points: Array, through: Room, axis: int, span: tuple[float, float]) -> float:
    """The angle within a span that passes with the greatest gap to the opening's edges."""
    low, high = span
    at = (low + high) / 2.0
    for _ in range(3):
        angles = np.linspace(low, high, 61)
        gaps = through.gap(supports(points, through.normals, turns(AXES[axis], angles)))
        # Of equal gaps the one nearest to how the body will stand.
        best = np.flatnonzero(gaps >= gaps.max() - 1e-6)
        at = float(min(angles[best], key=abs))
        step = (high - low) / 60.0
        low, high = max(span[0], at - step), min(span[1], at + step)
    return at


def _overlaps(passing: Spans, home: tuple[float, float] | None) -> Iterator[tuple[float, float]]:
    """The parts of `passing` that lie in the interval round 0."""
    if home is None:
        return
    for low, high in passing.sure:
        if low < home[1] and high > home[0]:
            yield max(low, home[0]), min(high, home[1])


def _lies_back(points: Array, room: Room, turn: Turn) -> bool:
    """Whether the body can be turned in the room all the way from `turn` to how it will stand."""
    ends = (min(0.0, turn.angle_deg), max(0.0, turn.angle_deg))
    if slack_of(points, room, turn.axis)(np.linspace(*ends, 5)).min() < 0.0:
        return False
    reach = reach_from(points, AXES[turn.axis])
    spans = proven(slack_of(points, room, turn.axis), ends, 0.0, reach)
    return len(spans.sure) == 1 and not spans.open and spans.sure[0] == ends
