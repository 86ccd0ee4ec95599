"""Where two bodies come nearest: for the few pairs a finding reports."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from fitout.clearance.body import Body
from fitout.clearance.convex import Array, mesh_of
from fitout.model.placement import Vector

Corners = tuple[Array, Array, Array]
"""The three corners of n triangles, each shape (n, 3)."""

_TIE = 1e-7
"""Feature pairs this little (mm) further apart than the nearest count as equally near."""


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

    Of several nearest places the one least in x, then y, then z. Where the bodies overlap
    the gap is 0 and both points are one corner of the room they share.
    """
    common = a.manifold ^ b.manifold
    if common.volume() > 0.0:
        corners = mesh_of(common)[0]
        middle = corners.mean(axis=0)
        point = _vector(corners[np.argmin(np.linalg.norm(corners - middle, axis=1).round(6))])
        return Witness(0.0, point, point)
    reach = float(np.linalg.norm(np.maximum(a.hi, b.hi) - np.minimum(a.lo, b.lo)))
    bound = float(a.manifold.min_gap(b.manifold, reach)) + 1e-3
    points_a, points_b = _nearest_features(*_near_triangles(a, b, bound))
    gaps = np.linalg.norm(points_a - points_b, axis=1)
    tied = np.flatnonzero(gaps <= gaps.min() + _TIE)
    places = np.round(np.hstack([points_a[tied], points_b[tied]]), 6)
    k = tied[np.lexsort(places.T[::-1])[0]]
    return Witness(float(gaps[k]), _vector(points_a[k]), _vector(points_b[k]))


def _vector(point: Array) -> Vector:
    x, y, z = point.tolist()
    return x, y, z


def _near_triangles(a: Body, b: Body, bound: float) -> tuple[Corners, Corners]:
    """Pairs of triangles, one of each body, whose boxes are within `bound` of each other."""
    near: list[tuple[Array, Array, Array]] = []
    for body, other in ((a, b), (b, a)):
        vertices, triangles = mesh_of(body.manifold)
        corners = vertices[triangles]
        lo, hi = corners.min(axis=1), corners.max(axis=1)
        kept = np.all((lo <= other.hi + bound) & (hi >= other.lo - bound), axis=1)
        near.append((corners[kept], lo[kept], hi[kept]))
    (corners_a, lo_a, hi_a), (corners_b, lo_b, hi_b) = near
    within: npt.NDArray[np.bool_] = np.ones((len(corners_a), len(corners_b)), dtype=bool)
    for axis in range(3):
        within &= lo_a[:, None, axis] <= hi_b[None, :, axis] + bound
        within &= lo_b[None, :, axis] <= hi_a[:, None, axis] + bound
    i, j = np.nonzero(within)
    p, q = corners_a[i], corners_b[j]
    return (p[:, 0], p[:, 1], p[:, 2]), (q[:, 0], q[:, 1], q[:, 2])


def _nearest_features(p: Corners, q: Corners) -> tuple[Array, Array]:
    """Nearest points of corners to faces and of edges to edges, for all pairs of triangles."""
    on_a: list[Array] = []
    on_b: list[Array] = []
    for k in range(3):
        on_a.append(p[k])
        on_b.append(_on_triangle(p[k], q))
        on_a.append(_on_triangle(q[k], p))
        on_b.append(q[k])
        for m in range(3):
            x, y = _between_edges(p[k], p[(k + 1) % 3], q[m], q[(m + 1) % 3])
            on_a.append(x)
            on_b.append(y)
    return np.vstack(on_a), np.vstack(on_b)


def _dot(u: Array, v: Array) -> Array:
    return np.asarray(np.einsum("ij,ij->i", u, v))


def _on_triangle(point: Array, triangle: Corners) -> Array:
    """The foot of each point on its triangle's face; a corner where it falls outside.

    Points whose foot lies outside the face are nearest to an edge, which edge pairs cover.
    """
    a, b, c = triangle
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
