"""What a moving body passes through."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from fitout.clearance.body import Body, body_of_shape, key_of_arrays
from fitout.clearance.convex import Array, hull_of, mesh_of
from fitout.clearance.shape import Blocks, Hulls, Prism, rounded
from fitout.model.placement import Vector

SWING_GROWTH = 0.08
"""Greatest distance (mm) by which a swing's hulls stand out of what the body passes."""


def sweep(body: Body, direction: Vector, travel: float) -> Body:
    """All the room `body` passes through when shifted `travel` mm along unit `direction`.

    A panel that moves square to its faces, as drawer fronts do, passes through a thicker
    panel. Else it is exact but for arcs that bulge inwards: the union, over its convex pieces,
    of the hull of the piece before and after. Cut-outs and pockets are taken off, their round
    parts up to 1 mm too tight; drill holes are not taken off.
    """
    shift = np.asarray(direction, dtype=np.float64) * travel
    if isinstance(body.shape, Prism):
        along = float(shift @ body.shape.matrix[:, 2])
        if abs(abs(along) - np.linalg.norm(shift)) < 1e-9:
            key = key_of_arrays(f"sweep {body.key.hex()}", [shift])
            return body_of_shape(body.id, _thickened(body.shape, shift, along), key)
    if isinstance(body.shape, Blocks) and np.count_nonzero(shift) <= 1:
        shift = rounded(shift)
        swept = np.stack([shift.clip(max=0.0), shift.clip(min=0.0)])
        boxes = rounded(body.shape.boxes + swept)
        return body_of_shape(body.id, Blocks(boxes, body.growth), key_of_arrays("sweep", [boxes]))
    hulls = [rounded(np.vstack([piece, piece + shift])) for piece in body.shape.eased]
    return body_of_shape(body.id, Hulls(hulls, body.growth), key_of_arrays("sweep", hulls))


def _thickened(prism: Prism, shift: Array, along: float) -> Prism:
    """What a prism passes through, shifted square to its faces by `along` mm."""
    more = abs(along)
    matrix = prism.matrix.copy()
    matrix[:, 3] += shift if along < 0.0 else 0.0
    # What a pocket leaves of the thickness grows; where it leaves nothing, nothing passes.
    cuts = [(loop, low, high + more if high > low else high) for loop, low, high in prism.cuts]
    beside = np.stack([shift.clip(max=0.0), shift.clip(min=0.0)])
    return Prism(
        loops=prism.loops,
        thickness=prism.thickness + more,
        cuts=tuple(cuts),
        matrix=matrix,
        core=rounded(prism.core + beside),
        cover=rounded(prism.cover + beside),
        growth=prism.growth,
    )


def swing(body: Body, point: Vector, axis: Vector, angle_deg: float) -> Body:
    """All the room `body` passes through when turned about an axis (right-hand rule).

    The union of hulls of successive poses, each with the pose between pushed outwards so
    that the hull contains every pose. It stands out by at most 0.08 mm if the axis runs
    along the body's own faces, as hinges do; askew it stands out more, never less. A panel
    that is not made of blocks turns with its cut-outs and pockets filled.
    """
    centre = np.asarray(point, dtype=np.float64)
    unit = np.asarray(axis, dtype=np.float64) / np.linalg.norm(axis)
    whole = math.radians(angle_deg)
    hulls = [
        hull
        for piece in body.shape.filled
        for half in _beside(piece, centre, unit)
        for hull in _turned(half, centre, unit, whole)
    ]
    key = key_of_arrays("swing", hulls)
    return body_of_shape(body.id, Hulls(hulls, body.growth + SWING_GROWTH), key)


def _beside(piece: Array, centre: Array, unit: Array) -> list[Array]:
    """The piece, cut in two if the axis passes under it.

    The hull of two poses of a piece on both sides of the axis would fill the corners that
    the poses leave beside the axis.
    """
    out = piece.mean(axis=0) - centre
    out -= (out @ unit) * unit
    if np.linalg.norm(out) < 1e-6:
        out = np.cross(unit, np.eye(3)[np.argmin(np.abs(unit))])
    if np.all((piece - centre) @ out >= -1e-6 * np.linalg.norm(out)):
        return [piece]
    halves = hull_of(piece).split_by_plane(tuple(out), float(centre @ out / np.linalg.norm(out)))
    return [mesh_of(half)[0] for half in halves if not half.is_empty()]


def _turned(piece: Array, centre: Array, unit: Array, angle: float) -> Iterator[Array]:
    """Corners of hulls that together contain the piece at every angle from 0 to `angle`."""
    arm = piece - centre
    along = (arm @ unit)[:, None] * unit
    out = arm - along
    side = np.cross(unit, out)
    base = centre + along
    radius = float(np.linalg.norm(out, axis=1).max())
    finest = min(2.0 * math.acos(radius / (radius + SWING_GROWTH)), math.pi / 4.0)
    steps = max(1, math.ceil(abs(angle) / finest))
    step = angle / steps
    poses = [base + math.cos(k * step) * out + math.sin(k * step) * side for k in range(steps + 1)]
    for k in range(steps):
        middle, push = (k + 0.5) * step, 1.0 / math.cos(step / 2.0)
        between = base + push * (math.cos(middle) * out + math.sin(middle) * side)
        yield rounded(np.vstack([poses[k], poses[k + 1], between]))
