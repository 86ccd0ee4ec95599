"""Where two bodies come nearest: for the few pairs a finding reports."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from fitout.clearance.body import Body
from fitout.clearance.contact import TOUCH, common_solid, least_gap
from fitout.clearance.convex import ROUNDING, Array, Solid, mesh_of
from fitout.model.placement import Vector

_TIE = 1e-7
"""Feature pairs this little (mm) further apart than the nearest count as equally near."""

_NEAR = 30.0
"""How far (mm) is looked at first."""

_BATCH = 4096
"""Pairs of triangles looked at together."""


@dataclass(frozen=True, slots=True)
class Witness:
    """The least distance of two bodies, and a point of each that far from the other."""

    gap: float
    point_a: Vector
    point_b: Vector

    @property
    def direction(self) -> Vector | None:
        """Unit vector from a's point to b's; None when the bodies touch or overlap.

        Moving b along it by a small amount widens the gap by that amount.
        """
        if self.gap == 0.0:
            return None
        x, y, z = ((q - p) / self.gap for p, q in zip(self.point_a, self.point_b, strict=True))
        return x, y, z


def closest(a: Body, b: Body) -> Witness:
    """The least distance of two bodies and where it is.

    Of several nearest places it names one, always the same; between the faces of two blocks
    it is the middle of what they show each other. Where the bodies overlap the gap is 0 and
    both points are one corner of the room they share.
    """
    by_blocks = _block_witness(a, b)
    if by_blocks is not None:
        return by_blocks
    common = common_solid(a, b)
    if common is not None:
        corners = mesh_of(common)[0]
        away = np.linalg.norm(corners - corners.mean(axis=0), axis=1)
        point = _vector(corners[np.argmin(away.round(6))])
        return Witness(0.0, point, point)
    farthest = float(np.linalg.norm(np.maximum(a.hi, b.hi) - np.minimum(a.lo, b.lo)))
    # Looking far takes much longer than looking near, so that is tried first.
    reach = min(_NEAR, farthest)
    while (gap := least_gap(a, b, reach)) >= reach < farthest:
        reach = min(8.0 * reach, farthest)
    return _feature_witness(_near_triangles(a, b, gap + 1e-3), gap)


def _block_witness(a: Body, b: Body) -> Witness | None:
    """The witness where blocks decide it: in the middle of what two blocks show each other.

    Points of the cores are points of the bodies, and nothing is nearer than the covers are.
    """
    least = _block_gaps(a.shape.cover, b.shape.cover)
    gaps = _block_gaps(a.shape.core, b.shape.core)
    if not gaps.size or gaps.min() > max(least.min(), 0.0) + ROUNDING or least.min() < -TOUCH:
        return None
    i, j = divmod(int(np.argmin(gaps)), gaps.shape[1])
    (lo_a, hi_a), (lo_b, hi_b) = a.shape.core[i], b.shape.core[j]
    middle = (np.maximum(lo_a, lo_b) + np.minimum(hi_a, hi_b)) / 2.0
    point_a, point_b = np.clip(middle, lo_a, hi_a), np.clip(middle, lo_b, hi_b)
    gap = float(gaps[i, j])
    return Witness(gap if gap > ROUNDING else 0.0, _vector(point_a), _vector(point_b))


def _block_gaps(p: Array, q: Array) -> Array:
    """Gap of each block of `p` to each of `q`; minus the depth where they overlap."""
    apart = np.maximum(p[:, None, 0] - q[None, :, 1], q[None, :, 0] - p[:, None, 1])
    gaps = np.linalg.norm(apart.clip(min=0.0), axis=2)
    return np.asarray(np.where(gaps > 0.0, gaps, apart.max(axis=2)))


def _feature_witness(pairs: tuple[Array, Array], gap: float) -> Witness:
    """The witness among pairs of triangles, each shape (n, 3, 3), looked at batch by batch."""
    best = Witness(np.inf, (0.0, 0.0, 0.0), (0.0, 0.0, 0.0))
    for k in range(0, len(pairs[0]), _BATCH):
        points_a, points_b = _nearest_features(*(p[k : k + _BATCH] for p in pairs))
        gaps = np.linalg.norm(points_a - points_b, axis=1)
        tied = np.flatnonzero(gaps <= gaps.min() + _TIE)
        places = np.round(np.hstack([points_a[tied], points_b[tied]]), 6)
        n = tied[np.lexsort(places.T[::-1])[0]]
        if gaps[n] < best.gap - _TIE:
            best = Witness(float(gaps[n]), _vector(points_a[n]), _vector(points_b[n]))
        if best.gap <= gap + _TIE:
            break
    return best if best.gap > ROUNDING else replace(best, gap=0.0)


def _vector(point: Array) -> Vector:
    x, y, z = point.tolist()
    return x, y, z


def _near_triangles(a: Body, b: Body, bound: float) -> tuple[Array, Array]:
    """Pairs of triangles, one of each body, whose boxes are within `bound` of each other."""
    near: list[Array] = []
    for body, other in ((a, b), (b, a)):
        corners = np.vstack([_triangles(solid) for solid in body.shape.solids])
        lo, hi = corners.min(axis=1), corners.max(axis=1)
        near.append(corners[np.all((lo <= other.hi + bound) & (hi >= other.lo - bound), axis=1)])
    p, q = near
    within: npt.NDArray[np.bool_] = np.ones((len(p), len(q)), dtype=bool)
    for axis in range(3):
        p_axis, q_axis = p[:, None, :, axis], q[None, :, :, axis]
        within &= p_axis.min(axis=2) <= q_axis.max(axis=2) + bound
        within &= q_axis.min(axis=2) <= p_axis.max(axis=2) + bound
    i, j = np.nonzero(within)
    return p[i], q[j]


def _triangles(solid: Solid) -> Array:
    vertices, triangles = mesh_of(solid)
    return vertices[triangles]


def _nearest_features(p: Array, q: Array) -> tuple[Array, Array]:
    """Nearest points of corners to faces and of edges to edges, for all pairs of triangles."""
    corners_p, corners_q = (np.concatenate([t[:, 0], t[:, 1], t[:, 2]]) for t in (p, q))
    on_q = _on_triangle(corners_p, np.tile(q, (3, 1, 1)))
    on_p = _on_triangle(corners_q, np.tile(p, (3, 1, 1)))
    # Every edge of p, thrice, beside each edge of q.
    edges_p = np.concatenate([p[:, (k, (k + 1) % 3)] for k in (0, 0, 0, 1, 1, 1, 2, 2, 2)])
    edges_q = np.tile(np.concatenate([q[:, (k, (k + 1) % 3)] for k in range(3)]), (3, 1, 1))
    x, y = _between_edges(edges_p[:, 0], edges_p[:, 1], edges_q[:, 0], edges_q[:, 1])
    return np.concatenate([corners_p, on_p, x]), np.concatenate([on_q, corners_q, y])


def _dot(u: Array, v: Array) -> Array:
    return np.asarray(np.einsum("ij,ij->i", u, v))


def _on_triangle(point: Array, triangle: Array) -> Array:
    """The foot of each point on its triangle's face; a corner where it falls outside.

    Points whose foot lies outside the face are nearest to an edge, which edge pairs cover.
    """
    a, b, c = triangle[:, 0], triangle[:, 1], triangle[:, 2]
    normal = np.cross(b - a, c - a)
    square = _dot(normal, normal)
    inside = square > 1e-18
    square = np.where(inside, square, 1.0)
    foot = point - normal * (_dot(point - a, normal) / square)[:, None]
    for start, end in ((a, b), (b, c), (c, a)):
        inside &= _dot(np.cross(end - start, foot - start), normal) >= 0.0
    return np.where(inside[:, None], foot, a)


def _between_edges(a: Array, b: Array, c: Array, d: Array) -> tuple[Array, Array]:
    """Nearest points of the segments a–b and c–d."""
    u, v, w = b - a, d - c, a - c
    uu, uv, vv = _dot(u, u), _dot(u, v), _dot(v, v)
    uw, vw = _dot(u, w), _dot(v, w)
    det = uu * vv - uv * uv
    skew = det > 1e-12 * uu * vv
    s = np.where(skew, (uv * vw - vv * uw) / np.where(skew, det, 1.0), 0.0).clip(0.0, 1.0)
    t = ((uv * s + vw) / vv).clip(0.0, 1.0)
    s = ((uv * t - uw) / uu).clip(0.0, 1.0)
    return a + s[:, None] * u, c + t[:, None] * v
