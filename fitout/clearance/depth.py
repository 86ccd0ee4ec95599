"""How deep convex pieces overlap, by separating axes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fitout.clearance.convex import Array, hull_of, mesh_of, shared_edges

_AXES_AT_ONCE = 4096


@dataclass(frozen=True, slots=True)
class Polytope:
    """A convex piece: corners (n, 3), outward normals of its faces, directions of its edges."""

    corners: Array
    normals: Array
    edges: Array


def polytope(points: Array) -> Polytope:
    """The convex hull of `points`, shape (n, 3), with each direction listed once."""
    corners, triangles = mesh_of(hull_of(points))
    a, b, c = (corners[triangles[:, k]] for k in range(3))
    normals = _units(np.cross(b - a, c - a))
    first, second, start, end = shared_edges(triangles)
    folded = np.einsum("ij,ij->i", normals[first], normals[second]) < 1.0 - 1e-12
    along = _units(corners[end[folded]] - corners[start[folded]])
    return Polytope(corners, _distinct(normals[normals.any(axis=1)]), _distinct(along))


def _units(vectors: Array) -> Array:
    """The vectors one long; what has no length, as a sliver's normal, stays nothing."""
    lengths = np.linalg.norm(vectors, axis=1)[:, None]
    return np.asarray(np.divide(vectors, lengths, out=np.zeros_like(vectors), where=lengths > 0.0))


def _distinct(directions: Array) -> Array:
    """Directions that differ by more than their sign and rounding."""
    lead = np.argmax(np.abs(directions) > 1e-6, axis=1)
    signs = np.sign(np.take_along_axis(directions, lead[:, None], axis=1))
    _, kept = np.unique(np.round(directions * signs, 9), axis=0, return_index=True)
    return directions[np.sort(kept)]


def parting(p: Polytope, q: Polytope, enough: float = 0.0) -> float:
    """The least translation that parts two convex pieces, 0 when they do not overlap.

    Exact: for convex solids it runs along a face normal of either or across an edge of
    each. Returns early, with an upper bound, once the answer can't exceed `enough`.
    """
    depth = min(_overlap(p, q, p.normals), _overlap(p, q, q.normals))
    if depth <= enough:
        return max(depth, 0.0)
    axes = np.cross(p.edges[:, None], q.edges[None]).reshape(-1, 3)
    lengths = np.linalg.norm(axes, axis=1)
    slanted = lengths > 1e-7
    axes = axes[slanted] / lengths[slanted, None]
    for i in range(0, len(axes), _AXES_AT_ONCE):
        depth = min(depth, _overlap(p, q, axes[i : i + _AXES_AT_ONCE]))
        if depth <= enough:
            break
    return max(depth, 0.0)


def _overlap(p: Polytope, q: Polytope, axes: Array) -> float:
    """The least overlap of the two shadows over the axes; negative when one parts them."""
    along_p, along_q = axes @ p.corners.T, axes @ q.corners.T
    ahead = along_p.max(axis=1) - along_q.min(axis=1)
    behind = along_q.max(axis=1) - along_p.min(axis=1)
    return float(np.minimum(ahead, behind).min(initial=np.inf))


def depth_of(pieces_a: list[Array], pieces_b: list[Array]) -> float:
    """The greatest `parting` over all pairs of convex pieces.

    No translation shorter than this parts the two bodies; where they are not convex, more
    may be needed.
    """
    built_a: dict[int, Polytope] = {}
    built_b: dict[int, Polytope] = {}
    lo_a, hi_a = _bounds(pieces_a)
    lo_b, hi_b = _bounds(pieces_b)
    # The overlap of two bounding boxes bounds the parting from above: deepest pairs first.
    across = np.minimum(hi_a[:, None] - lo_b[None], hi_b[None] - lo_a[:, None]).min(axis=2)
    deepest = 0.0
    for flat in np.argsort(-across, axis=None, kind="stable"):
        i, j = divmod(int(flat), len(pieces_b))
        if across[i, j] <= deepest:
            break
        p = built_a.get(i) or built_a.setdefault(i, polytope(pieces_a[i]))
        q = built_b.get(j) or built_b.setdefault(j, polytope(pieces_b[j]))
        deepest = max(deepest, parting(p, q, deepest))
    return deepest


def _bounds(pieces: list[Array]) -> tuple[Array, Array]:
    return np.array([p.min(axis=0) for p in pieces]), np.array([p.max(axis=0) for p in pieces])
