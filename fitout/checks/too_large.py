"""Proof that something passes an opening on no path at all, however it is moved and turned.

Nothing is assumed of the path, so the bounds are coarse. Whatever passes is at some moment
half through:

- A ball in it then has its centre in the opening, and no edge nearer than its radius: the
  opening is at least as wide, and as high, as the ball.
- A convex body of volume V and diameter D that a surface parts into halves meets it with an area
  of at least V / D (M. Dyer, A. Frieze, "Computing the volume of convex bodies", 1991: the
  isoperimetric inequality of convex bodies, with the constant 2 for the smaller part). So the
  opening has that area.

Both are asked of convex pieces of single parts, never of hulls: what is hollow may be threaded
through.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fitout.clearance.body import Body
from fitout.clearance.convex import Array, hull_of
from fitout.clearance.halfspaces import halfspaces_of
from fitout.model.bay import Bay


@dataclass(frozen=True, slots=True, kw_only=True)
class Extent:
    """The greatest width of an opening, its height along the frame, mm; its area, mm²."""

    width: float
    height: float
    area: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """A part that does not pass, and why, in words."""

    part: str
    words: str


def extent_of(bay: Bay) -> Extent:
    """The opening's greatest measures, never too small, the frame leaning as the tailgate does."""
    rows = [row for row in bay.opening if row[0] >= bay.floor] or list(bay.opening)
    heights, faces = zip(*bay.tailgate, strict=True)
    low, high = rows[0][0], rows[-1][0]
    between = [z for z in heights if low < z < high]
    levels = sorted({low, high, *between, *(z for z, _, _ in rows)})
    # The sill stands at x = 0, the frame above it where the tailgate's inner face is.
    line = [(0.0, low), *((float(np.interp(z, heights, faces)), z) for z in levels)]
    widths = [
        float(np.interp(z, [r[0] for r in rows], [r[1] + r[2] for r in rows])) for z in levels
    ]
    steps = [math.dist(a, b) for a, b in itertools.pairwise(line)]
    wide = [widths[0], *(max(a, b) for a, b in itertools.pairwise(widths))]
    area = sum(step * width for step, width in zip(steps, wide, strict=True))
    return Extent(width=max(widths), height=sum(steps), area=area)


def proof_of(bay: Bay, bodies: Sequence[Body]) -> Proof | None:
    """Why one of some bodies passes the opening on no path; None where that is not proved."""
    extent = extent_of(bay)
    for body in bodies:
        for piece in body.pieces:
            words = _too_thick(piece, bay, extent) or _too_much(piece, extent)
            if words:
                return Proof(part=body.id, words=words)
    return None


def _too_thick(piece: Array, bay: Bay, extent: Extent) -> str:
    """In words if a ball in a convex piece is wider than the opening is wide, or high."""
    spaces = halfspaces_of([[piece]])
    middle = (piece.min(axis=0) + piece.max(axis=0)) / 2.0
    across = 2.0 * float((spaces.offsets - spaces.normals @ middle).min())
    # Straight above each other only where sill and upper edge are as wide as all between.
    square = len({(right, left) for _, right, left in bay.opening}) == 1
    for size, what in ((extent.width, "wide"), (extent.height if square else math.inf, "high")):
        if across > size:
            return (
                f"it is {across:.0f} mm thick in every direction, and the opening nowhere more "
                f"than {size:.0f} mm {what}"
            )
    return ""


def _too_much(piece: Array, extent: Extent) -> str:
    """In words if the least section that halves a convex piece is more than the opening's area."""
    diameter = float(np.linalg.norm(piece[:, None] - piece[None], axis=2).max())
    least = float(hull_of(piece).volume()) / diameter
    if least <= extent.area:
        return ""
    return (
        f"cut in half anywhere it shows at least {least / 100.0:.0f} cm², and the opening has "
        f"{extent.area / 100.0:.0f} cm²"
    )
