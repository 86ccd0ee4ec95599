"""How the bay's surfaces move when its measured numbers do, while what was cut stays."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from fitout.model.bay import Bay
from fitout.model.design import BaySpec
from fitout.model.placement import Vector
from fitout.survey.bay import build_bay
from fitout.survey.parameters import Parameter, parameters, with_value

Array = npt.NDArray[np.float64]

STEP = 0.01
"""By how much each number is moved for the derivative, mm or degrees."""

JUMP = 150.0
"""mm per mm or degree; corners that shift faster have jumped elsewhere, not moved."""


@dataclass(frozen=True, slots=True, eq=False)
class Surfaces:
    """The derivative of every obstacle's corners: shape (numbers, corners, 3) by obstacle id."""

    bay: Bay
    shifts: Mapping[str, Array]

    def shift_at(self, obstacle: str, point: Vector) -> Array:
        """How a point on an obstacle moves, shape (numbers, 3), per mm or degree.

        The point belongs to the triangle it lies nearest to and moves with its corners.
        """
        solid = next(o for o in self.bay.obstacles if o.id == obstacle)
        corners = solid.vertices[solid.triangles]
        shares, distance = _nearest(corners, np.array(point))
        k = int(np.argmin(distance))
        shift: Array = np.einsum(
            "i,nij->nj", shares[k], self.shifts[obstacle][:, solid.triangles[k]]
        )
        return shift


def surfaces_of(spec: BaySpec) -> Surfaces:
    """Build the bay once for each number, moved by a little."""
    bay = build_bay(spec)
    moved: dict[str, list[Array]] = {o.id: [] for o in bay.obstacles}
    for number in parameters(spec):
        for obstacle, shift in _moved(spec, bay, number).items():
            moved[obstacle].append(shift)
    return Surfaces(bay, {id_: np.array(shifts) for id_, shifts in moved.items()})


def _moved(spec: BaySpec, bay: Bay, number: Parameter) -> dict[str, Array]:
    """The shift of every corner for one number: forward, or backward where that can't be told.

    One way corners may merge, or another notch become the nearest to the lean measured.
    """
    shifts: dict[str, Array] = {}
    for step in (STEP, -STEP):
        changed = build_bay(with_value(spec, number, number.value + step))
        after = {o.id: o.vertices for o in changed.obstacles}
        for solid in bay.obstacles:
            before, moved = solid.vertices, after.get(solid.id)
            if solid.id in shifts or moved is None or moved.shape != before.shape:
                continue
            shift = (moved - before) / step
            if np.abs(shift).max() < JUMP:
                shifts[solid.id] = shift
        if len(shifts) == len(bay.obstacles):
            break
    # Of what has other corners either way no derivative is known; it counts as at rest.
    return {o.id: shifts.get(o.id, np.zeros_like(o.vertices)) for o in bay.obstacles}


def _nearest(corners: Array, point: Array) -> tuple[Array, Array]:
    """Of each triangle, shape (m, 3, 3), the point nearest to `point`: shares and distance.

    The shares are those of the three corners; outside a triangle they are cut back to its
    edge, which is near enough to tell whose surface a point on the solid belongs to.
    """
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    u, v, w = b - a, c - a, point - a
    uu, uv, vv = (np.einsum("ij,ij->i", p, q) for p, q in ((u, u), (u, v), (v, v)))
    wu, wv = (np.einsum("ij,ij->i", w, q) for q in (u, v))
    area = np.maximum(uu * vv - uv * uv, 1e-12)
    share_b = (vv * wu - uv * wv) / area
    share_c = (uu * wv - uv * wu) / area
    shares = np.stack([1.0 - share_b - share_c, share_b, share_c], axis=1).clip(min=0.0)
    shares /= shares.sum(axis=1, keepdims=True)
    nearest = np.einsum("ik,ikj->ij", shares, corners)
    return shares, np.linalg.norm(nearest - point, axis=1)
