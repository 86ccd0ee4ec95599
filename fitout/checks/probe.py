"""How far something may go straight on before it meets a body."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from fitout.clearance.body import Body, body_of_pieces
from fitout.clearance.contact import common_solid, near_pairs_between
from fitout.clearance.convex import mesh_of
from fitout.model.placement import Placement, Vector

SLACK = 0.05
"""What comes less far into the way is not in it, mm."""


def free_depth(
    face: Sequence[Vector], direction: Vector, most: float, others: Iterable[Body]
) -> tuple[float, Body | None]:
    """How far the convex flat `face` can be pushed along unit `direction`, `most` mm at most.

    Returns the depth and the body it then meets, None if it meets none; 0 for a body that the
    face starts in. `face` is level across the direction.
    """
    shift = np.array(direction) * most
    corners = [tuple(np.add(p, d).tolist()) for d in (np.zeros(3), shift) for p in face]
    asked = body_of_pieces("probe", [tuple(corners)], Placement())
    bodies = list(others)
    start = float(np.dot(face[0], direction))
    best: tuple[float, Body | None] = (most, None)
    for _, j in near_pairs_between([asked], bodies, 0.0).tolist():
        common = common_solid(asked, bodies[j], SLACK)
        if common is None:
            continue
        depth = max(0.0, float((mesh_of(common)[0] @ np.array(direction)).min()) - start)
        if depth < best[0]:
            best = (depth, bodies[j])
    return best
