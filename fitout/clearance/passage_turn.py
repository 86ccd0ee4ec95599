"""Bodies turned about an axis, and over which angles a slack is proven to be there.

A point at distance r from the axis moves by at most r·Δ mm when the body turns by Δ radians,
so no support, and no slack, changes by more. From the slack at one angle follows what it is at
least, and at most, over an interval round it: intervals are halved until every one is decided
or too short to matter (branch and bound). What is said to fit does fit, at every angle
between; what is said not to fit does not.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from fitout.clearance.convex import MOST_AT_ONCE, Array

FINEST_DEG = 0.005
"""Intervals of angle shorter than this that are still undecided are left out."""

Slack = Callable[[Array], Array]
"""The slack, mm, at each of some angles in degrees."""


@dataclass(frozen=True, slots=True)
class Spans:
    """Angles in degrees: `sure` intervals, ends included, and `open` ones left undecided."""

    sure: tuple[tuple[float, float], ...]
    open: tuple[tuple[float, float], ...] = ()

    def round(self, angle: float) -> tuple[float, float] | None:
        """The sure interval that holds an angle."""
        return next((s for s in self.sure if s[0] - 1e-9 <= angle <= s[1] + 1e-9), None)


def turns(axis: Array, angles_deg: Array) -> Array:
    """Rotation matrices, shape (n, 3, 3), about a unit axis (Rodrigues' formula)."""
    x, y, z = axis
    cross = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    angles = np.radians(np.asarray(angles_deg, dtype=np.float64))
    sin, cos = np.sin(angles)[:, None, None], np.cos(angles)[:, None, None]
    return np.asarray(np.eye(3) + sin * cross + (1.0 - cos) * (cross @ cross))


def supports(points: Array, normals: Array, rotations: Array) -> Array:
    """How far the turned points reach along each normal, shape (n, m)."""
    turned = (normals @ rotations).reshape(-1, 3)
    farthest = np.empty(len(turned))
    count = max(1, MOST_AT_ONCE // points.size)
    for start in range(0, len(turned), count):
        # Points down, normals across: the greatest of each column is found row by row at once.
        reached = points @ turned[start : start + count].T
        farthest[start : start + count] = reached.max(axis=0)
    return farthest.reshape(len(rotations), len(normals))


def reach_from(points: Array, axis: Array) -> float:
    """The greatest distance of points from the line through the origin along a unit axis."""
    beside = points - np.outer(points @ axis, axis)
    return float(np.linalg.norm(beside, axis=1).max())


def proven(slack: Slack, between: tuple[float, float], need: float, reach: float) -> Spans:
    """Where between two angles the slack is at least `need`, mm.

    `reach` is the greatest distance of a point of the body from the axis it turns about.
    """
    count = max(1, int(np.ceil((between[1] - between[0]) / 4.0)))
    edges = np.linspace(between[0], between[1], count + 1)
    low, high = edges[:-1], edges[1:]
    sure: list[tuple[float, float]] = []
    left: list[tuple[float, float]] = []
    while len(low):
        middle, half = (low + high) / 2.0, (high - low) / 2.0
        values = slack(middle)
        change = reach * np.radians(half)
        yes = values - change >= need
        sure += zip(low[yes].tolist(), high[yes].tolist(), strict=True)
        unsure = ~yes & (values + change >= need)
        short = unsure & (high - low <= FINEST_DEG)
        left += zip(low[short].tolist(), high[short].tolist(), strict=True)
        low, middle, high = (v[unsure & ~short] for v in (low, middle, high))
        low, high = np.concatenate([low, middle]), np.concatenate([middle, high])
    return Spans(_joined(sure), _joined(left))


def greatest(
    slack: Slack,
    between: tuple[float, float],
    reach: float,
    within: float,
    least: float = -np.inf,
) -> tuple[float, float]:
    """The angle of the greatest slack between two angles, and that slack: `within` mm of it.

    If that is no more than `least`, it is only told how it stands at some angle.
    """
    count = max(2, int(np.ceil((between[1] - between[0]) / 4.0)))
    edges = np.linspace(between[0], between[1], count + 1)
    ends = slack(edges)
    best = int(np.argmax(ends))
    found, at = float(ends[best]), float(edges[best])
    low, high = edges[:-1], edges[1:]
    while len(low):
        middle, half = (low + high) / 2.0, (high - low) / 2.0
        values = slack(middle)
        best = int(np.argmax(values))
        if values[best] > found:
            found, at = float(values[best]), float(middle[best])
        more = values + reach * np.radians(half) > max(found, least) + within
        low, middle, high = low[more], middle[more], high[more]
        low, high = np.concatenate([low, middle]), np.concatenate([middle, high])
    return at, found


def _joined(spans: list[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    """Intervals that meet become one."""
    joined: list[tuple[float, float]] = []
    for low, high in sorted(spans):
        if joined and low <= joined[-1][1] + 1e-9:
            joined[-1] = joined[-1][0], max(joined[-1][1], high)
        else:
            joined.append((low, high))
    return tuple(joined)
