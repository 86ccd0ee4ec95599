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

    `starts` holds where each solid's planes start, `owners` whose each solid is, `lows` and
    `highs`, shape (m, 3), the corners of their bounding blocks.
    """

    normals: Array
    offsets: Array
    starts: Indices
    owners: Indices
    lows: Array
    highs: Array

    def not_clear(self, points: Array, slip: float) -> list[int]:
        """Owners of the solids that convex `points` (n, 3) may enter by more than `slip` mm."""
        near = self._near(points, slip)
        if not len(near):
            return []
        beyond, starts = self._beyond(points, near)
        clear = np.logical_or.reduceat(beyond.min(axis=1) >= -slip, starts)
        return list(dict.fromkeys(self.owners[near[~clear]].tolist()))

    def standing(self, points: Array, by: float) -> tuple[list[int], list[int]]:
        """What `not_clear` tells, without slip, and `entered`, deeper than `by` mm, at once."""
        near = self._near(points, 0.0)
        if not len(near):
            return [], []
        beyond, starts = self._beyond(points, near)
        clear = np.logical_or.reduceat(beyond.min(axis=1) >= 0.0, starts)
        deep = (np.maximum.reduceat(beyond, starts, axis=0) < -by).any(axis=1)
        return self.owners[near[~clear]].tolist(), self.owners[near[deep]].tolist()

    def entered(self, points: Array, by: float) -> list[int]:
        """Owners of the solids that any of points (n, 3) lies deeper in than `by` mm."""
        near = self._near(points, by)
        if not len(near):
            return []
        beyond, starts = self._beyond(points, near)
        deep = (np.maximum.reduceat(beyond, starts, axis=0) < -by).any(axis=1)
        return list(dict.fromkeys(self.owners[near[deep]].tolist()))

    def _near(self, points: Array, slip: float) -> Indices:
        """The solids whose bounding blocks the block round the points enters by more than slip."""
        low, high = points.min(axis=0) + slip, points.max(axis=0) - slip
        return np.flatnonzero(((low < self.highs) & (high > self.lows)).all(axis=1))

    def _beyond(self, points: Array, solids: Indices) -> tuple[Array, Indices]:
        """How far each point lies beyond each plane of some solids, and where each one's start."""
        counts = np.diff(self.starts, append=len(self.normals))[solids]
        starts = np.cumsum(counts) - counts
        planes = np.arange(counts.sum()) + np.repeat(self.starts[solids] - starts, counts)
        normals = self.normals[planes]
        # A product of matrices would be shared out to threads, which takes longer than this.
        beyond = np.multiply.outer(normals[:, 0], points[:, 0]) - self.offsets[planes, None]
        beyond += np.multiply.outer(normals[:, 1], points[:, 1])
        beyond += np.multiply.outer(normals[:, 2], points[:, 2])
        return beyond, starts


def halfspaces_of(bodies: Sequence[Iterable[Array]]) -> Halfspaces:
    """The half-spaces of bodies given by the corners of their convex pieces."""
    planes, owners, lows, highs = [], [], [], []
    for owner, pieces in enumerate(bodies):
        for piece in pieces:
            planes.append(_planes(piece))
            owners.append(owner)
            lows.append(piece.min(axis=0))
            highs.append(piece.max(axis=0))
    counts = np.array([len(p) for p in planes], dtype=np.int64)
    stacked = np.vstack(planes)
    return Halfspaces(
        normals=np.ascontiguousarray(stacked[:, :3]),
        offsets=np.ascontiguousarray(stacked[:, 3]),
        starts=np.cumsum(counts) - counts,
        owners=np.array(owners, dtype=np.int64),
        lows=np.array(lows),
        highs=np.array(highs),
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
