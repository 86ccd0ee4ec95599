"""Whether a part can be cut at all: crossed outlines, and hollows the bit doesn't get into."""

from __future__ import annotations

import numpy as np
from manifold3d import CrossSection, FillRule

from fitout.model.outline import Loop, Outline, Point
from fitout.model.placement import Array

SAGITTA = 0.1
SLACK = 0.02
"""A hollow so much narrower than the bit (mm) still counts as wide enough: chords, rounding."""

IN_A_CORNER = 0.5
"""What a bit may leave of each corner, in squares of its radius: 0.21 of a square one, more of
a sharper one."""

FINEST = 0.5
"""Widths are told to so much, mm."""


def crossing(outline: Outline) -> Point | None:
    """A point where the outline's edges cross each other, None for a sound outline."""
    rings = [loop.chords(grows=False, sagitta=SAGITTA) for loop in (outline.outer, *outline.inner)]
    starts = np.vstack(rings)
    along = np.vstack([np.roll(ring, -1, axis=0) for ring in rings]) - starts
    apart = starts[None, :, :] - starts[:, None, :]
    across = _cross(along[:, None, :], along[None, :, :])
    safe = np.where(np.abs(across) < 1e-12, np.inf, across)
    first = _cross(apart, along[None, :, :]) / safe
    second = _cross(apart, along[:, None, :]) / safe
    within = (first > 1e-9) & (first < 1 - 1e-9) & (second > 1e-9) & (second < 1 - 1e-9)
    if not within.any():
        return None
    i, j = np.argwhere(within)[0]
    x, y = starts[i] + first[i, j] * along[i]
    return float(x), float(y)


def _cross(u: Array, v: Array) -> Array:
    return np.asarray(u[..., 0] * v[..., 1] - u[..., 1] * v[..., 0])


def enters(loop: Loop, bit: float) -> bool:
    """Whether a bit of that diameter clears the hollow, all but its corners."""
    x0, y0, x1, y1 = loop.bounds
    if min(x1 - x0, y1 - y0) < bit - SLACK:
        return False
    if len(loop.vertices) == 4 and not any(v.bulge for v in loop.vertices):
        full = abs((x1 - x0) * (y1 - y0) - loop.area) < 1e-6
        if full:
            return True
    hollow = CrossSection([loop.chords(grows=True, sagitta=SLACK / 4.0)], FillRule.EvenOdd)
    radius = (bit - SLACK) / 2.0
    within = hollow.offset(-radius)
    if within.is_empty():
        return False
    left: float = hollow.area() - within.offset(radius).area()
    return left < IN_A_CORNER * radius**2 * len(loop.vertices)


def widest_bit(loop: Loop, below: float) -> float:
    """The greatest diameter in half millimetres, less than `below`, that enters; 0 for none."""
    for steps in range(int(below / FINEST), 0, -1):
        if enters(loop, steps * FINEST):
            return steps * FINEST
    return 0.0
