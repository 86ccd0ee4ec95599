"""Bodies elsewhere than where their parts stand shut: shifted, or turned about an axis."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from fitout.clearance.body import Body, body_of_shape, key_of_arrays
from fitout.clearance.convex import Array
from fitout.clearance.shape import NO_BLOCKS, Blocks, Hulls, Mesh, Prism, Shape, rounded
from fitout.model.placement import Vector, turned


def shifted(body: Body, shift: Array) -> Body:
    """The body, moved by `shift`, shape (3,), mm."""
    shape, by = body.shape, rounded(np.asarray(shift, dtype=np.float64))
    moved: Shape
    if isinstance(shape, Blocks):
        moved = Blocks(rounded(shape.boxes + by), shape.growth)
    elif isinstance(shape, Hulls):
        moved = Hulls([rounded(piece + by) for piece in shape.pieces], shape.growth)
    elif isinstance(shape, Mesh):
        moved = Mesh(rounded(shape.vertices + by), shape.triangles, shape.growth)
    else:
        matrix = shape.matrix.copy()
        matrix[:, 3] += by
        core, cover = rounded(shape.core + by), rounded(shape.cover + by)
        moved = replace(shape, matrix=matrix, core=core, cover=cover)
    return body_of_shape(body.id, moved, key_of_arrays(f"shifted {body.key.hex()}", [by]))


def turned_body(body: Body, point: Vector, axis: Vector, angle_deg: float) -> Body:
    """The body, turned about the axis through `point` (right-hand rule)."""

    def placed(points: Array) -> Array:
        return rounded(turned(points, point, axis, angle_deg))

    shape = body.shape
    now: Shape
    if isinstance(shape, Blocks | Hulls):
        now = Hulls([placed(piece) for piece in shape.pieces], shape.growth)
    elif isinstance(shape, Mesh):
        now = Mesh(placed(shape.vertices), shape.triangles, shape.growth)
    else:
        now = _turned_prism(shape, point, axis, angle_deg)
    turn = np.array([*point, *axis, angle_deg], dtype=np.float64)
    return body_of_shape(body.id, now, key_of_arrays(f"turned {body.key.hex()}", [turn]))


def _turned_prism(prism: Prism, point: Vector, axis: Vector, angle_deg: float) -> Prism:
    matrix = prism.matrix.copy()
    matrix[:, 3] = turned(matrix[None, :, 3], point, axis, angle_deg)[0]
    matrix[:, :3] = turned(matrix[:, :3].T, (0.0, 0.0, 0.0), axis, angle_deg).T
    flat = prism.loops[0]
    ends = [np.column_stack([flat, np.full(len(flat), w)]) for w in (0.0, prism.thickness)]
    points = rounded(np.vstack(ends) @ matrix[:, :3].T + matrix[:, 3])
    cover = np.array([[points.min(axis=0), points.max(axis=0)]])
    return replace(prism, matrix=matrix, core=NO_BLOCKS, cover=cover)
