"""Cutting shapes into convex pieces: polygons by merging triangles, solids by planes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np
import numpy.typing as npt
from manifold3d import Manifold, triangulate

Array = npt.NDArray[np.float64]
Indices = npt.NDArray[np.int64]
Solid = Any
"""A `manifold3d.Manifold`, whose package carries no types."""

ROUNDING = 2e-6
"""How far (mm) a surface may be out because vertices are rounded to 1e-6 mm."""

MOST_AT_ONCE = 60_000
"""Multiplications of one matrix product that are still done in one thread."""


def mesh_of(solid: Solid) -> tuple[Array, Indices]:
    """Vertices, shape (n, 3), and triangles, shape (m, 3), of a solid's surface."""
    mesh = solid.to_mesh64()
    return (
        np.asarray(mesh.vert_properties, dtype=np.float64)[:, :3],
        np.asarray(mesh.tri_verts, dtype=np.int64),
    )


def hull_of(points: Array) -> Solid:
    """The convex hull of points, shape (n, 3)."""
    return Manifold.hull_points(np.ascontiguousarray(points))


def convex_polygons(loops: Sequence[Array]) -> list[Array]:
    """Convex polygons, each shape (n, 2), that together fill the loops without overlapping.

    Outer loops run anticlockwise, holes clockwise. The triangles of a triangulation are
    joined across their common edges, longest edge first, wherever the union is convex.
    """
    points = np.vstack(loops)
    polygons = {i: [int(k) for k in t] for i, t in enumerate(triangulate(list(loops)))}
    owner = {edge: i for i, polygon in polygons.items() for edge in _edges(polygon)}
    inner = [edge for edge in owner if edge[0] < edge[1] and edge[::-1] in owner]
    corners: list[list[float]] = points.tolist()
    runs = points[[a for a, _ in inner]] - points[[b for _, b in inner]]
    longest = sorted(zip((-np.hypot(*runs.T)).tolist(), inner, strict=True))
    for _, (a, b) in longest:
        first, second = owner[a, b], owner[b, a]
        union = _joined(polygons[first], polygons[second], a, b)
        if first == second or not _is_convex([corners[k] for k in union]):
            continue
        polygons[first] = union
        for edge in _edges(polygons.pop(second)):
            owner[edge] = first
    return [points[p] for p in polygons.values() if _doubled_area(points[p]) > ROUNDING]


def eased(loop: Array, by: float = 1.0) -> Array:
    """The anticlockwise polygon without inward corners less than `by` mm off a straight line.

    The result contains the polygon, and takes far fewer convex pieces where arcs bulge
    inwards. Of a hole, run clockwise, outward corners go: the hole shrinks.
    """
    before, after = np.roll(loop, 1, axis=0), np.roll(loop, -1, axis=0)
    inward = _cross(loop - before, after - loop) < 0.0
    kept = [i for i in range(len(loop)) if not inward[i]] or [0]
    count, start = len(loop), kept[0]
    result, i = [start], start
    while i < start + count:
        j = i + 1
        while j < start + count and inward[j % count] and _near(loop, i, j + 1, by):
            j += 1
        result.append(j % count)
        i = j
    return loop[result[:-1]]


def blunted(polygon: Array, by: float) -> Array:
    """A convex polygon with fewer corners that contains an anticlockwise one, shape (n, 2).

    Edges go whose neighbours, drawn on, meet near by: no corner is more than `by` mm outside.
    """
    corners, outs = list(polygon), [0.0] * len(polygon)
    i, kept = 0, 0
    while kept < len(corners) > 4:
        a, b, c, d = (corners[(i + k) % len(corners)] for k in range(-1, 3))
        tip = _meeting(b, b - a, c, d - c)
        along = c - b
        after = (i + 1) % len(corners)
        out = max(outs[i], outs[after])
        if tip is not None:
            out += float(-_cross(along, tip - b)) / float(np.hypot(*along))
        if tip is not None and out <= by:
            corners[i], outs[i] = tip, out
            del corners[after], outs[after]
            i, kept = i % len(corners), 0
        else:
            i, kept = after, kept + 1
    return np.array(corners)


def _meeting(a: Array, ahead: Array, b: Array, behind: Array) -> Array | None:
    """Where the line from a along `ahead` meets that which runs along `behind` into b."""
    turn = float(_cross(ahead, behind))
    if turn <= 1e-9 * float(np.hypot(*ahead) * np.hypot(*behind)):
        return None
    share = float(_cross(b - a, behind)) / turn
    return a + share * ahead if share >= 0.0 else None


def _near(loop: Array, i: int, j: int, by: float) -> bool:
    """Whether the corners strictly between i and j lie within `by` of the line from i to j."""
    start, end = loop[i % len(loop)], loop[j % len(loop)]
    between = loop[np.arange(i + 1, j) % len(loop)]
    away = np.abs(_cross(end - start, between - start))
    return bool(np.all(away <= by * np.hypot(*(end - start))))


def _cross(u: Array, v: Array) -> Array:
    return np.asarray(u[..., 0] * v[..., 1] - u[..., 1] * v[..., 0])


def _edges(polygon: list[int]) -> list[tuple[int, int]]:
    return list(zip(polygon, polygon[1:] + polygon[:1], strict=True))


def _joined(first: list[int], second: list[int], a: int, b: int) -> list[int]:
    """The polygon round both, which share the edge a→b of `first`."""
    i, j = first.index(b), second.index(a)
    return first[i:] + first[:i] + (second[j:] + second[:j])[1:-1]


def _is_convex(polygon: Sequence[Sequence[float]]) -> bool:
    """Whether a polygon turns left, or goes straight on, at each of its few corners."""
    (ax, ay), (bx, by) = polygon[-2], polygon[-1]
    for cx, cy in polygon:
        if (bx - ax) * (cy - by) - (by - ay) * (cx - bx) <= -1e-9:
            return False
        ax, ay, bx, by = bx, by, cx, cy
    return True


def _doubled_area(polygon: Array) -> float:
    x, y = (polygon - polygon[0]).T
    return float(abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))))


def convex_solids(solid: Solid) -> list[Solid]:
    """Convex solids that together fill `solid`; exact to the rounding of its vertices.

    The solid is cut at its sharpest inward edge by the plane that halves the angle there,
    and so on with both parts until none has an inward edge left. A cut that takes off no
    more than rounding is no cut: slivers would go on for ever.
    """
    done: list[Solid] = []
    pending = list(solid.decompose())
    while pending:
        part = pending.pop()
        if part.hull().volume() - part.volume() <= ROUNDING * part.surface_area():
            if part.volume() > 0.0:
                done.append(part)
            continue
        for normal, point in _cutting_planes(*mesh_of(part)):
            halves = part.split_by_plane(tuple(normal), float(normal @ point))
            parts = [p for half in halves for p in half.decompose()]
            parts = [p for p in parts if p.volume() > ROUNDING * p.surface_area()]
            if len(parts) > 1:
                pending.extend(parts)
                break
        else:
            # Every plane only grazes the part, whose inward edges are then within rounding.
            done.append(part.hull())
    return done


def _cutting_planes(vertices: Array, triangles: Indices) -> Iterator[tuple[Array, Array]]:
    """Normal and a point of the planes through inward edges, halving their angles.

    The sharpest comes first. It may be a seeming one, of a triangle so thin that rounding
    has turned it.
    """
    a, b, c = (vertices[triangles[:, k]] for k in range(3))
    normals = np.cross(b - a, c - a)
    normals /= np.maximum(np.linalg.norm(normals, axis=1), 1e-12)[:, None]
    first, second, start, end = shared_edges(triangles)
    along = vertices[end] - vertices[start]
    turn = np.cross(normals[first], normals[second])
    inward = -np.einsum("ij,ij->i", turn, along) / np.linalg.norm(along, axis=1)
    for edge in np.argsort(-inward, kind="stable"):
        normal = normals[first[edge]] - normals[second[edge]]
        length = float(np.linalg.norm(normal))
        if inward[edge] <= 0.0 or not length:
            return
        yield normal / length, vertices[start[edge]]


def shared_edges(triangles: Indices) -> tuple[Indices, Indices, Indices, Indices]:
    """Each edge of a closed surface once: the triangles at it, its start and its end.

    The edge runs from start to end in the first triangle and back in the second.
    """
    starts = triangles.ravel()
    ends = np.roll(triangles, -1, axis=1).ravel()
    faces = np.repeat(np.arange(len(triangles)), 3)
    size = int(triangles.max()) + 1
    forward, backward = starts * size + ends, ends * size + starts
    order = np.argsort(forward, kind="stable")
    twin = order[np.searchsorted(forward[order], backward)]
    once = starts < ends
    return faces[once], faces[twin[once]], starts[once], ends[once]


def facets(points: Array) -> list[Array]:
    """The flat faces of the convex hull of `points`, each its corners in turn, shape (n, 3).

    Corners run anticlockwise seen from outside; faces come in order of their planes. Points
    that enclose no volume have none.
    """
    hull = hull_of(points)
    if hull.volume() <= 0.0:
        return []
    corners, triangles = mesh_of(hull)
    a, b, c = (corners[triangles[:, k]] for k in range(3))
    normals = np.cross(b - a, c - a)
    normals /= np.linalg.norm(normals, axis=1)[:, None]
    planes = np.column_stack([normals, np.einsum("ij,ij->i", normals, a)])
    faces: list[Array] = []
    left = np.ones(len(planes), dtype=bool)
    for k in np.lexsort(np.round(planes, 5).T[::-1]):
        if not left[k]:
            continue
        flat = np.abs(corners @ normals[k] - planes[k, 3]) < 1e-5
        left &= ~flat[triangles].all(axis=1)
        faces.append(_in_turn(corners[flat], normals[k]))
    return faces


def _in_turn(corners: Array, normal: Array) -> Array:
    """The corners of a convex face in anticlockwise order about its normal."""
    middle = corners.mean(axis=0)
    first = corners[0] - middle
    across = np.cross(normal, first)
    arms = corners - middle
    return corners[np.argsort(np.arctan2(arms @ across, arms @ first))]
