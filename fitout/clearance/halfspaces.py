"""Convex solids as half-spaces: what plainly keeps clear of them, and what plainly does not.

Something convex keeps clear of a convex solid when all its corners lie beyond one of the solid's
planes; it runs into it when a corner lies behind them all. What neither shows (a corner of the
solid poking into it, edges that cross) is left to exact solids.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from fitout.clearance.convex import Array, Indices, hull_of, mesh_of


@dataclass(frozen=True, slots=True, eq=False)
class Halfspaces:
    """Solids' planes, one solid after the other: outward `normals` (k, 3), `offsets` (k,), mm.

    `starts` holds where each solid's planes start, `owners` whose each solid is.
    """

    normals: Array
    offsets: Array
    starts: Indices
    owners: Indices

    def not_clear(self, points: Array, slip: float) -> list[int]:
        """Owners of the solids that convex `points` (n, 3) may enter by more than `slip` mm."""
        beyond = self._beyond(points)
        clear = np.logical_or.reduceat(beyond.min(axis=1) >= -slip, self.starts)
        return list(dict.fromkeys(self.owners[~clear].tolist()))

    def entered(self, points: Array, by: float) -> bool:
        """Whether any of points (n, 3) lies deeper than `by` mm in a solid."""
        beyond = self._beyond(points)
        return bool((np.maximum.reduceat(beyond, self.starts, axis=0) < -by).any())

    def _beyond(self, points: Array) -> Array:
        """How far each point lies beyond each plane, shape (k, n)."""
        # A product of matrices would be shared out to threads, which takes longer than this.
        beyond = np.multiply.outer(self.normals[:, 0], points[:, 0]) - self.offsets[:, None]
        beyond += np.multiply.outer(self.normals[:, 1], points[:, 1])
        beyond += np.multiply.outer(self.normals[:, 2], points[:, 2])
        return np.asarray(beyond)


def halfspaces_of(bodies: Sequence[Iterable[Array]]) -> Halfspaces:
    """The half-spaces of bodies given by the corners of their convex pieces."""
    planes, owners = [], []
    for owner, pieces in enumerate(bodies):
        for piece in pieces:
            planes.append(_planes(piece))
            owners.append(owner)
    counts = np.array([len(p) for p in planes], dtype=np.int64)
    stacked = np.vstack(planes)
    return Halfspaces(
        normals=np.ascontiguousarray(stacked[:, :3]),
        offsets=np.ascontiguousarray(stacked[:, 3]),
        starts=np.cumsum(counts) - counts,
        owners=np.array(owners, dtype=np.int64),
    )


def _planes(piece: Array) -> Array:
    """The planes of a convex piece's hull, each once: normals and offsets, shape (k, 4)."""
    corners, triangles = mesh_of(hull_of(piece))
    a, b, c = (corners[triangles[:, k]] for k in range(3))
    normals = np.cross(b - a, c - a)
    sizes = np.linalg.norm(normals, axis=1)
    normals = normals[sizes > 1e-9] / sizes[sizes > 1e-9, None]
    # A sliver's normal is unsure; the farthest corner along it is not.
    planes = np.column_stack([normals, (corners @ normals.T).max(axis=0)])
    same = np.abs(planes[:, None] - planes[None]).max(axis=2) < 1e-9
    return np.asarray(planes[same.argmax(axis=0) == np.arange(len(planes))])
