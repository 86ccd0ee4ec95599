"""How far a body gets along its way before it meets another.

Along a straight way: by halving, for what a body passes through only grows with its travel and
is exact. About an axis: first by halving with swings, each proven to contain the body at every
angle up to its own, so that up to there nothing is met; then on by the exact body, each time by
as much as its farthest point could move without closing the gap.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from fitout.clearance.body import Body
from fitout.clearance.contact import contact, least_gap
from fitout.clearance.convex import ROUNDING
from fitout.clearance.pose import shifted, turned_body
from fitout.clearance.sweep import sweep, swing
from fitout.model.placement import Vector

FINEST = 1e-3
"""How near (mm) a body comes to what stops it, or how finely (mm, degrees) that is told."""

NEAR = 2.0
"""How far (mm) is looked about a turning body for what it may meet next."""

MOST_STEPS = 2000


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A straight way (mm along `direction`) or a turn (degrees about the axis through `point`)."""

    turns: bool
    direction: Vector
    travel: float
    point: Vector = (0.0, 0.0, 0.0)

    def passed(self, body: Body, travel: float, *, filled: bool = False) -> Body:
        """All the room the body passes through on the first `travel` of the way.

        With `filled` also what its cut-outs pass through as it turns, which is found faster.
        """
        if self.turns:
            return swing(body, self.point, self.direction, travel, filled=filled)
        return sweep(body, self.direction, travel)

    def pose(self, body: Body, travel: float) -> Body:
        """The body once it has gone `travel` along the way."""
        if self.turns:
            return turned_body(body, self.point, self.direction, travel)
        return shifted(body, np.asarray(self.direction) * travel)


def free_travel(body: Body, other: Body, way: Way, *, may_touch: bool = False) -> float:
    """How far the body gets, at most the way's travel: nothing is met up to there.

    It stops where the two touch or, if they may, where they run into each other. Told to
    0.001 mm or degrees; about an axis it ends no more than 0.001 mm before they touch.
    """

    def meets(travel: float) -> bool:
        found = contact(way.passed(body, travel), other, FINEST)
        return found.clashes if may_touch else found.gap <= ROUNDING

    if not meets(way.travel):
        return way.travel
    start = contact(body, other, FINEST)
    if start.clashes or (start.gap <= ROUNDING and not may_touch):
        return 0.0
    reached = _halved(meets, way.travel)
    if way.turns and not may_touch:
        return _advanced(body, other, way, reached)
    return reached


def _halved(meets: Callable[[float], bool], travel: float) -> float:
    free, met = 0.0, travel
    while met - free > FINEST / 2.0:
        middle = (free + met) / 2.0
        if meets(middle):
            met = middle
        else:
            free = middle
    return free


def _advanced(body: Body, other: Body, way: Way, start: float) -> float:
    """On from an angle that is free, by what the gap allows, until there is none left."""
    radius = _radius(body, way)
    angle = start
    for _ in range(MOST_STEPS):
        gap = least_gap(way.pose(body, angle), other, NEAR)
        if gap <= FINEST:
            break
        # An arc of that length can't cross the gap.
        angle += math.degrees(gap / radius)
        if angle >= way.travel:
            return way.travel
    return angle


def _radius(body: Body, way: Way) -> float:
    """How far the body's farthest point lies from the axis."""
    points = np.vstack(body.pieces) - np.asarray(way.point)
    unit = np.asarray(way.direction) / np.linalg.norm(way.direction)
    return float(np.linalg.norm(points - (points @ unit)[:, None] * unit, axis=1).max())
