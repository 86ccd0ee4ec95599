"""How far apart two outlines lie, straight from their edges."""

from __future__ import annotations

import numpy as np

from fitout.model.outline import Outline
from fitout.model.placement import Array

SAGITTA = 0.004
"""How far (mm) the edges of an arc may stray, always to the side of the material."""

Edges = tuple[Array, Array]
"""Start and end points, each of shape (n, 2)."""


def edges(outline: Outline) -> Edges:
    """The outline's edges, those of its cut-outs too; arcs as chords."""
    rings = [outline.outer.chords(grows=True, sagitta=SAGITTA)]
    rings += [loop.chords(grows=False, sagitta=SAGITTA) for loop in outline.inner]
    return np.vstack(rings), np.vstack([np.roll(ring, -1, axis=0) for ring in rings])


def distance(a: Edges, b: Edges) -> float:
    """Least distance between two outlines' material; 0 where they overlap."""
    if _cross(a, b) or _holds(a, b[0][0]) or _holds(b, a[0][0]):
        return 0.0
    return min(_points_to_edges(a[0], b), _points_to_edges(b[0], a))


def _points_to_edges(points: Array, edges: Edges) -> float:
    starts, ends = edges
    along = ends - starts
    squared = np.maximum((along**2).sum(axis=1), 1e-18)
    away = points[:, None, :] - starts[None, :, :]
    share = np.clip((away * along).sum(axis=2) / squared, 0.0, 1.0)
    off = away - share[:, :, None] * along
    return float(np.sqrt((off**2).sum(axis=2).min()))


def crosses_itself(outline: Outline) -> bool:
    """Whether edges of an outline cross each other elsewhere than where they join."""
    own = edges(outline)
    return _cross(own, own)


def _cross(a: Edges, b: Edges) -> bool:
    """Whether an edge of one properly crosses an edge of the other."""
    b_sides = _side(a, b[0]) * _side(a, b[1])
    a_sides = _side(b, a[0]) * _side(b, a[1])
    return bool(((b_sides < 0.0) & (a_sides.T < 0.0)).any())


def _side(edges: Edges, points: Array) -> Array:
    """The sign of the side of each edge that each point lies on, shape (edges, points)."""
    starts, ends = edges
    along = ends - starts
    x = points[None, :, 0] - starts[:, None, 0]
    y = points[None, :, 1] - starts[:, None, 1]
    return np.sign(along[:, None, 0] * y - along[:, None, 1] * x)


def _holds(edges: Edges, point: Array) -> bool:
    """Whether a point lies on the material: an odd number of edges to its right."""
    starts, ends = edges
    spans = (starts[:, 1] > point[1]) != (ends[:, 1] > point[1])
    rise = np.where(spans, ends[:, 1] - starts[:, 1], 1.0)
    at = starts[:, 0] + (point[1] - starts[:, 1]) / rise * (ends[:, 0] - starts[:, 0])
    return int((spans & (point[0] < at)).sum()) % 2 == 1
