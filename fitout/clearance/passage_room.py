"""Convex rooms, and how much a rigid body turned one way or another leaves free in them.

A room is what lies behind all of a set of planes. A body turned by a rotation touches plane i
first with its support h_i, so it fits somewhere in the room with `slack` mm to spare on every
side if and only if the linear program

    max s   with   n_i · t + s ≤ b_i - h_i   for every plane

has that value. Its dual has few corners, which depend on the planes alone: mixes λ ≥ 0 of at
most four planes with Σ λ_i n_i = 0 and Σ λ_i = 1. The slack is the least of λ · (b - h) over
these mixes (linear programming duality), so thousands of poses are one matrix product.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from fitout.clearance.convex import MOST_AT_ONCE, Array, Indices

SOME = 8
"""One in so many mixes is looked at first."""

SAME = 1e-9
"""Two mixes that differ by no more than this are one."""

Plane = tuple[str, tuple[float, float, float], float]
"""Whose it is, an outward normal of any length, and the greatest normal · x behind it."""


@dataclass(frozen=True, eq=False)
class Room:
    """All points x with normals · x ≤ offsets: unit `normals` (m, 3), `offsets` (m,), mm.

    `names` says what each plane belongs to; the first `edges` of them are those a gap is
    reported to. A room `like` another has its normals and so its mixes. No slots: the mixes
    are kept in the instance.
    """

    normals: Array
    offsets: Array
    names: tuple[str, ...]
    edges: int = 0
    like: Room | None = None

    @cached_property
    def mixes(self) -> Array:
        """The corners of the dual, shape (k, m); none where the room has no end."""
        if self.like is not None:
            return self.like.mixes
        return _mixed(self._cancelling, np.ones(len(self.normals)))

    @cached_property
    def _cancelling(self) -> tuple[Indices, Array]:
        return cancelling(self.normals)

    def drawn_in(self, by: float) -> Room:
        """The room with its edges drawn in."""
        offsets = self.offsets.copy()
        offsets[: self.edges] -= by
        return Room(self.normals, offsets, self.names, self.edges, like=self)

    @cached_property
    def edge_mixes(self) -> Array:
        """The mixes that bound what is kept from the edges alone, shape (k, m)."""
        if self.like is not None:
            return self.like.edge_mixes
        weights = np.zeros(len(self.normals))
        weights[: self.edges] = 1.0
        return _mixed(self._cancelling, weights)

    def slack(self, supports: Array) -> Array:
        """The most a body may keep from every plane, shape (n,), for supports (n, m).

        Negative where it does not fit: by how much every plane would have to give way.
        Infinite in a room that does not close round it.
        """
        return _least(self.offsets - supports, self.mixes)

    def reaches(self, supports: Array, slack: float) -> bool:
        """Whether the slack is at least so much for any of supports (n, m)."""
        kept = self.offsets - supports
        # A few of the mixes rule out most poses.
        hopeful = _least(kept, self.mixes[::SOME]) >= slack
        return bool((_least(kept[hopeful], self.mixes) >= slack).any())

    def gap(self, supports: Array) -> Array:
        """The most a body that fits may keep from the edges, shape (n,), for supports (n, m)."""
        return _least(self.offsets - supports, self.edge_mixes)

    def tight(self, supports: Array) -> tuple[str, ...]:
        """The edges that keep one pose, supports (m,), from having a greater gap."""
        values = self.edge_mixes @ (self.offsets - supports)
        mix = self.edge_mixes[int(np.argmin(values)), : self.edges]
        named = [self.names[i] for i in np.flatnonzero(mix > SAME)]
        return tuple(dict.fromkeys(named))

    def gaps_at(self, points: Array) -> Array:
        """How far points (v, 3) as they stand keep from each plane, shape (m,)."""
        return np.asarray(self.offsets - (self.normals @ points.T).max(axis=1))

    def inside_after(self, points: Array, directions: Array, slip: float) -> Array:
        """The least shift along each direction (d, 3) after which `points` lie in the room.

        Infinite where they never do. `slip` is how far they may stand out of a plane all the
        same, mm.
        """
        rates = (self.normals @ directions.T).T
        gaps = self.gaps_at(points) + slip
        nearing, leaving = rates > 1e-12, rates < -1e-12
        shifts = gaps / np.where(nearing | leaving, rates, 1.0)
        low = np.where(leaving, shifts, 0.0).max(axis=1, initial=0.0)
        high = np.where(nearing, shifts, np.inf).min(axis=1, initial=np.inf)
        never = (~(nearing | leaving) & (gaps < 0.0)).any(axis=1)
        return np.where((low <= high) & ~never, low, np.inf)


def _least(kept: Array, mixes: Array) -> Array:
    """The least of each row of kept · mixesᵀ, a few rows at a time.

    Larger products would be shared out to threads, which takes longer than the work itself.
    """
    if not len(mixes):
        return np.full(len(kept), np.inf)
    rows = max(1, MOST_AT_ONCE // mixes.size)
    least = np.empty(len(kept))
    for start in range(0, len(kept), rows):
        least[start : start + rows] = (kept[start : start + rows] @ mixes.T).min(axis=1)
    return least


def room_of(edges: Sequence[Plane], others: Sequence[Plane], clear: tuple[float, float]) -> Room:
    """The room behind planes, the edges drawn in by the first of `clear`, others by the second.

    Planes parallel to a nearer one are left out, but for edges behind one of the others.
    """
    drawn = [(p, clear[0]) for p in edges] + [(p, clear[1]) for p in others]
    normals = np.array([normal for (_, normal, _), _ in drawn], dtype=np.float64)
    sizes = np.linalg.norm(normals, axis=1)
    normals /= sizes[:, None]
    offsets = np.array([offset for (_, _, offset), _ in drawn]) / sizes
    offsets -= np.array([by for _, by in drawn])
    kept: list[int] = []
    for i in np.argsort(offsets, kind="stable").tolist():
        nearer = (j for j in kept if i >= len(edges) or j < len(edges))
        if not any(float(normals[i] @ normals[j]) > 1.0 - 1e-12 for j in nearer):
            kept.append(i)
    kept.sort()
    count = sum(1 for i in kept if i < len(edges))
    return Room(normals[kept], offsets[kept], tuple(drawn[i][0][0] for i in kept), count)


def mixes_of(normals: Array, weights: Array) -> Array:
    """All mixes λ ≥ 0, Σ λ·weight = 1, of as few planes as can be whose normals cancel out."""
    return _mixed(cancelling(normals), weights)


def cancelling(normals: Array) -> tuple[Indices, Array]:
    """Sets of as few normals as can be, shape (n, rank + 1), and shares by which they cancel out.

    By Cramer's rule: what each of rank + 1 normals takes part with is the determinant of
    the others, with alternating signs. Only sets whose shares have one sign are given.
    """
    count = len(normals)
    rank, flat = _flattened(normals)
    if count < rank + 1 or not count:
        return np.empty((0, rank + 1), dtype=np.int64), np.empty((0, rank + 1))
    sets = choices(count, rank + 1)
    minors = _determinants(flat)
    ravelled = minors.ravel()
    columns = np.ascontiguousarray(sets.T)
    shares = np.empty(columns.shape)
    for k in range(rank + 1):
        others = tuple(column for i, column in enumerate(columns) if i != k)
        taken = ravelled[np.ravel_multi_index(others, minors.shape)]
        shares[k] = taken if k % 2 == 0 else -taken
    alike = (shares.min(axis=0) >= -10.0 * SAME) | (shares.max(axis=0) <= 10.0 * SAME)
    return sets[alike], np.ascontiguousarray(shares[:, alike].T)


def _mixed(sets_of: tuple[Indices, Array], weights: Array) -> Array:
    """The mixes of sets of normals that cancel out."""
    sets, shares = sets_of
    whole = (shares * weights[sets]).sum(axis=1)
    sound = np.abs(whole) > 1e-9
    sets, shares = sets[sound], shares[sound] / whole[sound, None]
    good = shares.min(axis=1) >= -SAME
    sets, shares = sets[good], shares[good]
    # Mixes of the same planes are the same: their shares follow from the planes alone.
    used = ((shares > SAME) << sets).sum(axis=1)
    ranked = np.argsort(used, kind="stable")
    first = np.concatenate([[True], np.diff(used[ranked]) != 0])[: len(used)]
    once = ranked[first]
    mixes = np.zeros((len(once), len(weights)))
    np.put_along_axis(mixes, sets[once], shares[once].clip(min=0.0), axis=1)
    return mixes


@lru_cache(maxsize=64)
def choices(count: int, size: int) -> Indices:
    """All choices of so many of 0 to count - 1, each in rising order, shape (n, size)."""
    sets = np.arange(count)[:, None]
    for _ in range(size - 1):
        more = count - 1 - sets[:, -1]
        grown = np.repeat(sets, more, axis=0)
        within = np.arange(len(grown)) - np.repeat(np.cumsum(more) - more, more)
        sets = np.column_stack([grown, grown[:, -1] + 1 + within])
    sets.setflags(write=False)
    return sets


def _flattened(normals: Array) -> tuple[int, Array]:
    """How many directions normals span, and their coordinates along so many."""
    if not len(normals):
        return 0, normals
    _, sizes, axes = np.linalg.svd(normals, full_matrices=False)
    rank = int((sizes > 1e-9).sum())
    return rank, normals if rank == 3 else normals @ axes[:rank].T


def _determinants(vectors: Array) -> Array:
    """The determinant of every choice of as many vectors, shape (n, rank), as they are long."""
    if vectors.shape[1] == 3:
        across = np.cross(vectors[:, None], vectors[None])
        return np.asarray(np.einsum("ia,jka->ijk", vectors, across))
    if vectors.shape[1] == 2:
        x, y = vectors.T
        return np.asarray(x[:, None] * y[None] - y[:, None] * x[None])
    return vectors[:, 0]
