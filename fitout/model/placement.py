"""Rigid placements: where a part's own axes (u, v, w) lie in the bay (x, y, z)."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Vector = tuple[float, float, float]

X: Vector = (1.0, 0.0, 0.0)
Y: Vector = (0.0, 1.0, 0.0)
Z: Vector = (0.0, 0.0, 1.0)


def opposite(v: Vector) -> Vector:
    """The vector pointing the other way."""
    return (0.0 - v[0], 0.0 - v[1], 0.0 - v[2])


def turned(points: Array, point: Vector, axis: Vector, angle_deg: float) -> Array:
    """`points`, shape (n, 3), turned about the axis through `point` (right-hand rule)."""
    unit = np.asarray(axis, dtype=np.float64) / np.linalg.norm(axis)
    arm = points - np.asarray(point)
    along = (arm @ unit)[:, None] * unit
    angle = math.radians(angle_deg)
    out = arm - along
    arm = along + math.cos(angle) * out + math.sin(angle) * np.cross(unit, out)
    return np.asarray(arm + np.asarray(point), dtype=np.float64)


@dataclass(frozen=True, slots=True)
class Placement:
    """A rotation and a shift: a part's point (u, v, w) lies at origin + u·U + v·V + w·W.

    `u` and `v` are the unit vectors of the part's own axes in bay coordinates; W = U × V,
    so a part can't be mirrored by placing it.
    """

    origin: Vector = (0.0, 0.0, 0.0)
    u: Vector = X
    v: Vector = Y

    @property
    def w(self) -> Vector:
        """The part's third axis: the normal of a panel's face A."""
        a, b = self.u, self.v
        return (
            a[1] * b[2] - a[2] * b[1],
            a[2] * b[0] - a[0] * b[2],
            a[0] * b[1] - a[1] * b[0],
        )

    @property
    def matrix(self) -> Array:
        """The 3 × 4 matrix [U V W origin]."""
        return np.column_stack([self.u, self.v, self.w, self.origin])

    def apply(self, points: Array) -> Array:
        """Bay coordinates of the part's `points`, shape (n, 3)."""
        matrix = self.matrix
        return np.asarray(points @ matrix[:, :3].T + matrix[:, 3], dtype=np.float64)

    def at(self, u: float, v: float, w: float = 0.0) -> Vector:
        """Bay coordinates of one point of the part."""
        a, b, c, o = self.u, self.v, self.w, self.origin
        return (
            o[0] + u * a[0] + v * b[0] + w * c[0],
            o[1] + u * a[1] + v * b[1] + w * c[1],
            o[2] + u * a[2] + v * b[2] + w * c[2],
        )

    def moved(self, dx: float = 0.0, dy: float = 0.0, dz: float = 0.0) -> Placement:
        """This placement shifted in the bay."""
        x, y, z = self.origin
        return Placement((x + dx, y + dy, z + dz), self.u, self.v)


def flat(x: float, y: float, z: float) -> Placement:
    """A panel lying flat, face A up: u forward, v left; its underside at height z."""
    return Placement((x, y, z), X, Y)


def flat_face_down(x: float, y: float, z: float) -> Placement:
    """A panel lying flat, face A down: u forward, v right; its upper side at height z."""
    return Placement((x, y, z), X, opposite(Y))


def along(x: float, y: float, z: float) -> Placement:
    """An upright panel running fore and aft, face A to the right (−y): u forward, v up."""
    return Placement((x, y, z), X, Z)


def along_face_left(x: float, y: float, z: float) -> Placement:
    """An upright panel running fore and aft, face A to the left (+y): u rearward, v up."""
    return Placement((x, y, z), opposite(X), Z)


def across(x: float, y: float, z: float) -> Placement:
    """An upright panel across the bay, face A forward (+x): u left, v up."""
    return Placement((x, y, z), Y, Z)


def across_face_rear(x: float, y: float, z: float) -> Placement:
    """An upright panel across the bay, face A rearward (−x): u right, v up."""
    return Placement((x, y, z), opposite(Y), Z)
