"""What a moving body passes through."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from fitout.clearance.body import Body, body_of_shape, key_of_arrays
from fitout.clearance.convex import Array, hull_of, mesh_of
from fitout.clearance.depth import polytope
from fitout.clearance.shape import Blocks, Hulls, Prism, rounded
from fitout.model.placement import Vector

ARC_GROWTH = 0.08
"""How far (mm) the pose between two others is pushed outwards, at most."""

ROUGH_STEP_DEG = 5.0
"""The angle between poses of a rough swing, at most."""

SWING_GROWTH = 0.1
"""Greatest distance (mm) by which a swing's hulls stand out of what the body passes."""


def sweep(body: Body, direction: Vector, travel: float) -> Body:
    """All the room `body` passes through when shifted `travel` mm along unit `direction`.

    A panel that moves square to its faces, as drawer fronts do, passes through a thicker
    panel. Else it is exact but for arcs that bulge inwards: the union, over its convex pieces,
    of the hull of the piece before and after. Cut-outs and pockets are taken off, their round
    parts up to 0.1 mm too tight; drill holes are not taken off.
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


def swing(
    body: Body, point: Vector, axis: Vector, angle_deg: float, *, filled: bool = False
) -> Body:
    """All the room `body` passes through when turned about an axis (right-hand rule).

    The union of hulls of successive poses, each with the pose between pushed outwards so
    that the hull contains every pose: it stands out by at most 0.1 mm. With `filled` a panel
    that is not made of blocks turns with its cut-outs and pockets filled, which takes far
    fewer hulls and contains the other.
    """
    centre = np.asarray(point, dtype=np.float64)
    unit = np.asarray(axis, dtype=np.float64) / np.linalg.norm(axis)
    whole = math.radians(angle_deg)
    hulls: list[Array] = []
    for piece in body.shape.filled if filled else body.shape.eased:
        step = _step(piece, centre, unit, whole)
        for part in _beside(piece, centre, unit, step):
            hulls += _turned(part, centre, unit, (whole, step))
    key = key_of_arrays("swing", hulls)
    return body_of_shape(body.id, Hulls(hulls, body.growth + SWING_GROWTH), key)


def rough_swing(pieces: Sequence[Array], centre: Array, turn: tuple[Array, float]) -> list[Array]:
    """Corners of few hulls that together contain convex pieces turned about a unit axis.

    `turn` is the axis through `centre` and the angle in degrees. They stand out of what the
    pieces pass through by up to a thousandth of their distance from the axis, and fill what
    faces on both sides of it leave free.
    """
    unit, angle = turn[0], math.radians(turn[1])
    step = angle / max(1, math.ceil(abs(turn[1]) / ROUGH_STEP_DEG))
    return [hull for p in pieces for hull in _turned(p, centre, unit, (angle, step))]


def _step(piece: Array, centre: Array, unit: Array, angle: float) -> float:
    """The angle between poses: as large as the growth allows at the piece's farthest corner."""
    arm = piece - centre
    out = arm - (arm @ unit)[:, None] * unit
    radius = float(np.linalg.norm(out, axis=1).max())
    finest = min(2.0 * math.acos(radius / (radius + ARC_GROWTH)), math.pi / 4.0)
    return angle / max(1, math.ceil(abs(angle) / finest))


def _beside(piece: Array, centre: Array, unit: Array, step: float) -> list[Array]:
    """The piece, cut by planes through the axis wherever one of its faces lies on both sides.

    One half of such a face turns outwards while the other turns inwards, and the hull of two
    poses would fill the corners between them: by half the step times a·b / (a + b), where a
    and b are how far the face reaches on either side.
    """
    parts = [piece]
    for normal in polytope(piece).normals:
        across = np.cross(normal, unit)
        slope = float(np.linalg.norm(across))
        if slope < 1e-9:
            continue
        across /= slope
        if max(_filled(piece, centre, n, across) for n in (normal, -normal)) * abs(
            step
        ) * slope > 2.0 * (SWING_GROWTH - ARC_GROWTH):
            halves = [
                half
                for part in parts
                for half in hull_of(part).split_by_plane(tuple(across), float(across @ centre))
            ]
            parts = [rounded(mesh_of(half)[0]) for half in halves if half.volume() > 0.0]
    return parts


def _filled(piece: Array, centre: Array, normal: Array, across: Array) -> float:
    """a·b / (a + b) of the piece's face that `normal` points out of; 0 if it is on one side."""
    height = piece @ normal
    face = piece[height > height.max() - 1e-5]
    reach = (face - centre) @ across
    a, b = float(reach.max()), float(-reach.min())
    return a * b / (a + b) if a > 0.0 and b > 0.0 else 0.0


def _turned(piece: Array, centre: Array, unit: Array, turn: tuple[float, float]) -> Iterator[Array]:
    """Corners of hulls that together contain the piece from 0 to an angle, in steps of another."""
    angle, step = turn
    arm = piece - centre
    along = (arm @ unit)[:, None] * unit
    out = arm - along
    side = np.cross(unit, out)
    base = centre + along
    steps = round(angle / step) if step else 1
    poses = [base + math.cos(k * step) * out + math.sin(k * step) * side for k in range(steps + 1)]
    for k in range(steps):
        middle, push = (k + 0.5) * step, 1.0 / math.cos(step / 2.0)
        between = base + push * (math.cos(middle) * out + math.sin(middle) * side)
        yield rounded(np.vstack([poses[k], poses[k + 1], between]))
