"""Whether something gets through a gap by being pitched as it travels, seen from the side.

A convex outline in the (x, z) plane among convex obstacles has poses (x, z, pitch). Between
two poses no point of it moves further than their distance: the shift plus the turn times the
greatest radius. A pose that keeps `s` mm from everything therefore has a bubble of free poses of
that radius round it, and two poses no further apart than both bubbles reach are joined by a
straight line of free poses. A chain of such poses is a proof. Poses are taken from a lattice,
in steps as large as their bubbles allow; that no chain is found proves nothing.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from manifold3d import CrossSection

from fitout.clearance.convex import Array, Indices

FINEST = 2.0
"""Step of the lattice, mm; a turn counts as far as it moves the farthest point."""

MOST_POSES = 150_000
"""Poses that are looked at before a search is given up."""

WIDTH_COUNTS = 400.0
"""What twice the room is worth in choosing where to look next, in mm nearer to arriving."""

AT_ONCE = 48
"""Poses whose neighbours are worked out together."""

Pose = tuple[float, float, float]
"""Shift along x and z, mm, and pitch, radians: positive lifts what is ahead."""


@dataclass(frozen=True, slots=True, eq=False)
class Outlines:
    """Convex polygons: unit outward `normals` (k, 2), `offsets` (k,), `corners` (n, 2) of all.

    `firsts` holds where each polygon's normals start; corners are listed along with them.
    """

    normals: Array
    offsets: Array
    corners: Array
    firsts: Indices


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Chain:
    """Poses from the first to the last; whatever lies straight between them is free as well."""

    poses: tuple[Pose, ...]


def outlines_of(points: Sequence[Array]) -> Outlines:
    """The convex polygons round sets of points, each shape (n, 2)."""
    polygons = [
        np.asarray(CrossSection.hull_points(np.ascontiguousarray(p)).to_polygons()[0])
        for p in points
    ]
    edges = np.vstack([np.roll(p, -1, axis=0) - p for p in polygons])
    normals = np.column_stack([edges[:, 1], -edges[:, 0]])
    normals /= np.hypot(*normals.T)[:, None]
    corners = np.vstack(polygons)
    counts = np.array([len(p) for p in polygons], dtype=np.int64)
    return Outlines(
        normals=normals,
        offsets=np.einsum("ij,ij->i", normals, corners),
        corners=corners,
        firsts=np.cumsum(counts) - counts,
    )


def kept(body: Outlines, still: Outlines, poses: Array) -> Array:
    """No more than what the body keeps from everything, mm, shape (n,), at poses (n, 3).

    By separating lines along the sides of both; below zero where it overlaps.
    """
    cos, sin = np.cos(poses[:, 2]), np.sin(poses[:, 2])
    turn = np.stack([np.stack([cos, -sin], axis=1), np.stack([sin, cos], axis=1)], axis=1)
    corners = body.corners @ turn.transpose(0, 2, 1) + poses[:, None, :2]
    theirs = (corners @ still.normals.T).min(axis=1) - still.offsets
    normals = body.normals @ turn.transpose(0, 2, 1)
    reach = body.offsets + np.einsum("nij,nj->ni", normals, poses[:, :2])
    along = np.minimum.reduceat(normals @ still.corners.T, still.firsts, axis=2)
    mine = (along - reach[:, :, None]).max(axis=1)
    least = np.maximum(mine, np.maximum.reduceat(theirs, still.firsts, axis=1)).min(axis=1)
    return np.asarray(least)


def chain_between(
    body: Outlines,
    still: Outlines,
    start: Pose,
    arrived: Callable[[Array], Array],
    limits: Array,
) -> Chain | None:
    """A chain of poses from `start` to one that has `arrived`.

    `arrived` says of poses (n, 3) how far from arriving each is, mm: 0 or less is there. The
    body's corners are relative to the point it turns about. Poses stay between the two of
    `limits`, shape (2, 3). None if none is found.
    """
    radius = float(np.hypot(*body.corners.T).max())
    steps = np.array([FINEST, FINEST, FINEST / radius])
    origin = np.array(start)

    def rooms(places: Indices) -> tuple[Array, Array]:
        poses = origin + places * steps
        inside = ((poses >= limits[0]) & (poses <= limits[1])).all(axis=1)
        return np.where(inside, kept(body, still, poses), -1.0), arrived(poses)

    first = (0, 0, 0)
    (room,), (left,) = rooms(np.array([first]))
    if room <= 0.0:
        return None
    known: dict[tuple[int, int, int], tuple[float, tuple[int, int, int]]] = {first: (room, first)}
    pending = [(0.0, first)]
    taken: set[tuple[int, int, int, int]] = set()
    while pending and len(known) < MOST_POSES:
        batch = [heapq.heappop(pending)[1] for _ in range(min(AT_ONCE, len(pending)))]
        pairs = [(new, at) for at in batch for new in _beside(at, known[at][0], taken)]
        fresh = [(new, at) for new, at in dict(pairs).items() if new not in known]
        if not fresh:
            continue
        found, lefts = rooms(np.array([new for new, _ in fresh]))
        for (new, at), room, left in zip(fresh, found.tolist(), lefts.tolist(), strict=True):
            apart = FINEST * sum(abs(a - b) for a, b in zip(new, at, strict=True))
            if room <= 0.0 or apart > room + known[at][0]:
                continue
            known[new] = room, at
            if left <= 0.0:
                poses = origin + np.array(_back(known, new)) * steps
                return Chain(poses=tuple((float(x), float(z), float(t)) for x, z, t in poses))
            # Where there is room comes first, or the search would be lost in narrow places.
            heapq.heappush(pending, (left - WIDTH_COUNTS * _level(room), new))
    return None


def _level(room: float) -> int:
    """How often the lattice's step can be doubled within a bubble."""
    return max(0, int(math.log2(max(room / FINEST, 1.0))))


def _beside(
    at: tuple[int, int, int], room: float, taken: set[tuple[int, int, int, int]]
) -> list[tuple[int, int, int]]:
    """The neighbours of a pose, as far as its bubble reaches; none if others stand for it."""
    level = _level(room)
    size = 1 << level
    place = (level, at[0] // size, at[1] // size, at[2] // size)
    if place in taken:
        return []
    taken.add(place)
    x, z, t = at
    return [
        (x + size, z, t), (x - size, z, t), (x, z + size, t),
        (x, z - size, t), (x, z, t + size), (x, z, t - size),
    ]  # fmt: skip


def _back(
    known: dict[tuple[int, int, int], tuple[float, tuple[int, int, int]]], end: tuple[int, int, int]
) -> list[tuple[int, int, int]]:
    way = [end]
    while known[way[-1]][1] != way[-1]:
        way.append(known[way[-1]][1])
    return way[::-1]
