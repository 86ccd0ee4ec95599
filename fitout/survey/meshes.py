"""Closed surfaces for the things the vehicle puts in the way."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Mesh = tuple[Array, npt.NDArray[np.uint32]]


def block_mesh(low: Sequence[float], high: Sequence[float]) -> Mesh:
    """An axis-aligned block from corner `low` to corner `high`."""
    (x0, y0, z0), (x1, y1, z1) = low, high
    return column([[(x0, y0, z), (x1, y0, z), (x1, y1, z), (x0, y1, z)] for z in (z0, z1)])


def column(rings: Sequence[Sequence[tuple[float, float, float]]]) -> Mesh:
    """A solid through successive rings of four corners, closed at both ends."""
    points = np.array(rings, dtype=np.float64).reshape(-1, 3)
    last = 4 * (len(rings) - 1)
    triangles = [(0, 2, 1), (0, 3, 2), (last, last + 1, last + 2), (last, last + 2, last + 3)]
    for ring in range(len(rings) - 1):
        below, above = 4 * ring, 4 * ring + 4
        for i in range(4):
            j = (i + 1) % 4
            triangles.append((below + i, below + j, above + j))
            triangles.append((below + i, above + j, above + i))
    return _outward(points, np.array(triangles, dtype=np.uint32))


def beam(start: Sequence[float], end: Sequence[float], width: float) -> Mesh:
    """A bar of square section `width` between the middles of its ends, two faces upright.

    Raises:
        ValueError: where both ends are one point.
    """
    first, last = np.asarray(start, dtype=np.float64), np.asarray(end, dtype=np.float64)
    way = last - first
    length = float(np.linalg.norm(way))
    if length < 1e-9:
        raise ValueError("a bar between two equal points has no direction")
    way = way / length
    level = np.cross((0.0, 0.0, 1.0), way)
    if np.linalg.norm(level) < 1e-9:
        level = np.array([0.0, 1.0, 0.0])
    level = level / np.linalg.norm(level) * width / 2.0
    up = np.cross(way, level)
    corners = (-level - up, level - up, level + up, -level + up)
    return column([[tuple(end + c) for c in corners] for end in (first, last)])


def slab(
    along: Sequence[float],
    across: Sequence[float],
    surface: Array,
    far: float,
    axes: tuple[int, int, int],
) -> Mesh:
    """The solid between a surface over a grid and the plane at `far` behind it.

    `surface[i, j]` is the surface's coordinate at `along[i]`, `across[j]`. `axes` says
    which bay axis (0 x, 1 y, 2 z) along, across and the surface's coordinate are. Each
    grid cell is two triangles, parted from its least corner to its greatest.
    """
    rows, columns = len(along), len(across)
    points = np.zeros((2, rows, columns, 3))
    points[..., axes[0]] = np.array(along)[None, :, None]
    points[..., axes[1]] = np.array(across)[None, None, :]
    points[0, ..., axes[2]] = surface
    points[1, ..., axes[2]] = far
    # The corner at row i and column j is number i * columns + j, behind it lies `offset` more.
    offset = rows * columns
    triangles: list[tuple[int, int, int]] = []
    for i in range(rows - 1):
        for a in range(i * columns, (i + 1) * columns - 1):
            b, c, d = a + columns, a + columns + 1, a + 1
            triangles += [(a, b, c), (a, c, d)]
            triangles += [
                (a + offset, c + offset, b + offset),
                (a + offset, d + offset, c + offset),
            ]
    rim = [
        *range(0, offset, columns),
        *range(offset - columns + 1, offset),
        *range(offset - columns - 1, 0, -columns),
        *range(columns - 2, 0, -1),
    ]
    for near, following in zip(rim, [*rim[1:], rim[0]], strict=True):
        triangles += [
            (near, near + offset, following + offset),
            (near, following + offset, following),
        ]
    return _outward(points.reshape(-1, 3), np.array(triangles, dtype=np.uint32))


def _outward(points: Array, triangles: npt.NDArray[np.uint32]) -> Mesh:
    """The mesh with its triangles turned so that normals point out of the solid."""
    # Six times the volume: each triangle's corners as the rows of a determinant.
    if np.linalg.det(points[triangles]).sum() < 0.0:
        triangles = triangles[:, ::-1].copy()
    return points, triangles
