"""What a moving body passes through."""

from __future__ import annotations

import math

import numpy as np

from fitout.clearance.body import Body, body_of_shape, key_of_arrays
from fitout.clearance.convex import Array
from fitout.clearance.shape import Blocks, Hulls, rounded
from fitout.model.placement import Vector

SWING_GROWTH = 0.08
"""Greatest distance (mm) by which a swing's hulls stand out of what the body passes."""


def sweep(body: Body, direction: Vector, travel: float) -> Body:
    """All the room `body` passes through when shifted `travel` mm along unit `direction`.

    Exact but for arcs that bulge inwards: the union, over its convex pieces, of the hull of
    the piece before and after. Cut-outs and pockets are taken off, their round parts up to
    1 mm too tight; drill holes are not taken off.
    """
    shift = np.asarray(direction, dtype=np.float64) * travel
    if isinstance(body.shape, Blocks) and np.count_nonzero(shift) <= 1:
        shift = rounded(shift)
        swept = np.stack([shift.clip(max=0.0), shift.clip(min=0.0)])
        boxes = rounded(body.shape.boxes + swept)
        return body_of_shape(body.id, Blocks(boxes, body.growth), key_of_arrays("sweep", [boxes]))
    hulls = [rounded(np.vstack([piece, piece + shift])) for piece in body.shape.eased]
    return body_of_shape(body.id, Hulls(hulls, body.growth), key_of_arrays("sweep", hulls))


def swing(body: Body, point: Vector, axis: Vector, angle_deg: float) -> Body:
    """All the room `body` passes through when turned about an axis (right-hand rule).

    The union of hulls of successive poses, each with the pose between pushed outwards
    so that the hull contains every pose; it stands out by at most 0.08 mm. A panel that is
    not made of blocks turns with its cut-outs and pockets filled.
    """
    centre = np.asarray(point, dtype=np.float64)
    unit = np.asarray(axis, dtype=np.float64) / np.linalg.norm(axis)
    hulls: list[Array] = []
    for piece in body.shape.filled:
        arm = piece - centre
        along = (arm @ unit)[:, None] * unit
        out = arm - along
        side = np.cross(unit, out)
        radius = float(np.linalg.norm(out, axis=1).max())
        finest = 2.0 * math.acos(radius / (radius + SWING_GROWTH))
        steps = max(1, math.ceil(abs(math.radians(angle_deg)) / min(finest, math.pi / 4.0)))
        step = math.radians(angle_deg) / steps

        def pose(
            angle: float, push: float = 1.0, out: Array = out, side: Array = side,
            base: Array = centre + along,
        ) -> Array:  # fmt: skip
            return base + push * (math.cos(angle) * out + math.sin(angle) * side)

        for i in range(steps):
            between = pose((i + 0.5) * step, 1.0 / math.cos(step / 2.0))
            hulls.append(rounded(np.vstack([pose(i * step), pose((i + 1) * step), between])))
    return body_of_shape(
        body.id, Hulls(hulls, body.growth + SWING_GROWTH), key_of_arrays("swing", hulls)
    )
