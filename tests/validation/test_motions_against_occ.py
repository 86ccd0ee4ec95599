"""How far motions get, against the OCC kernel's own exact solids. Slow.

The kernel turns or shifts the moving part, holes and all, and measures its distance to what
stands still; halving its travel brackets where the two first touch. Each motion here meets
something for good once it does, so that halving finds the first touch.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from occ_kernel import mesh_solid

from fitout.clearance.body import body_of, body_of_obstacle
from fitout.clearance.reach import Way, free_travel
from fitout.model.bay import Obstacle
from fitout.model.outline import Outline, polygon, rounded, slot
from fitout.model.panel import Panel
from fitout.model.placement import Placement, Vector, turned
from fitout.model.stock import Board
from fitout.survey.meshes import block_mesh

WITHIN = 0.02
"""mm or degrees: a fifth of the tenth that findings tell."""

TOUCHING = 1e-6
"""Distances below this (mm) are the kernel's rounding."""

PLY = Board(
    key="ply", nominal=12.0, thickness=12.0, thickness_tolerance=0.3, density_kg_m3=700.0,
    length=2500.0, width=1250.0, e_along_mpa=None, e_across_mpa=None, shear_mpa=None,
    strength_along_mpa=None, strength_across_mpa=None, source="invented",
)  # fmt: skip

L_SHAPE = polygon([(0, 0), (420, 0), (420, 120), (160, 120), (160, 300), (0, 300)])


def panel_of(rng: np.random.Generator) -> Panel:
    """An L with rounded corners and a hand hole, placed at random."""
    u, v = np.linalg.qr(rng.normal(size=(3, 2)))[0].T
    x, y, z = rng.uniform(-100.0, 100.0, 3).tolist()
    outline = Outline(rounded(L_SHAPE, 15.0), (slot(40.0, 60.0, 110.0, 60.0, 30.0),))
    place = Placement((x, y, z), vector(u), vector(v))
    return Panel(name="p", module="m", outline=outline, board=PLY, placement=place)


def vector(values: Any) -> Vector:
    x, y, z = np.asarray(values).tolist()
    return x, y, z


def case_of(seed: int) -> tuple[Panel, Obstacle, Way]:
    """A panel that slides, or turns about its straight edge, towards a wall square to its way."""
    rng = np.random.default_rng(seed)
    panel = panel_of(rng)
    u, v = np.array(panel.placement.u), np.array(panel.placement.v)
    if seed % 2:
        direction = vector(rng.normal(size=3) / 2.0)
        unit = np.array(direction) / np.linalg.norm(direction)
        way = Way(turns=False, direction=vector(unit), travel=500.0)
        ahead = body_of(panel).manifold.to_mesh64().vert_properties[:, :3] @ unit
        wall = np.array(vector(unit)) * (float(ahead.max()) + rng.uniform(20.0, 450.0))
        return panel, plate(wall, unit), way
    point = panel.placement.origin
    way = Way(turns=True, direction=vector(v), travel=80.0, point=point)
    # Turned about its edge along v the panel leaves its plane towards −w; a plate lies there.
    normal = -np.cross(u, v)
    tilted = turned(normal[None], (0.0, 0.0, 0.0), vector(v), rng.uniform(5.0, 20.0))[0]
    return panel, plate(np.array(point) + tilted * rng.uniform(80.0, 250.0), tilted), way


def plate(at: Any, normal: Any) -> Obstacle:
    """A plate 2000 wide and 40 thick, its face at a point, square to a direction."""
    vertices, triangles = block_mesh((-1000.0, -1000.0, 0.0), (1000.0, 1000.0, 40.0))
    side = np.cross(normal, np.eye(3)[np.argmin(np.abs(normal))])
    side /= np.linalg.norm(side)
    frame = np.column_stack([side, np.cross(normal, side), normal])
    return Obstacle("plate", "surface", vertices @ frame.T + at, triangles)


def by_kernel(panel: Panel, still: Obstacle, way: Way) -> float:
    """Where the kernel's solids first touch, to 0.005."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
    from OCP.BRepExtrema import BRepExtrema_DistShapeShape
    from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec

    from fitout.documents.solids import solid_of

    solid, wall = solid_of(panel), mesh_solid(still)

    def distance(travel: float) -> float:
        move = gp_Trsf()
        if way.turns:
            axis = gp_Ax1(gp_Pnt(*way.point), gp_Dir(*way.direction))
            move.SetRotation(axis, math.radians(travel))
        else:
            move.SetTranslation(gp_Vec(*way.direction) * travel)
        moved = BRepBuilderAPI_Transform(solid, move, True).Shape()
        return float(BRepExtrema_DistShapeShape(moved, wall).Value())

    free, met = 0.0, way.travel
    assert distance(free) > 1.0
    assert distance(met) < TOUCHING
    while met - free > 5e-3:
        middle = (free + met) / 2.0
        if distance(middle) > TOUCHING:
            free = middle
        else:
            met = middle
    return free


@pytest.mark.thorough
@pytest.mark.parametrize("seed", range(4))
def test_first_touch(seed: int) -> None:
    panel, still, way = case_of(seed)
    found = free_travel(body_of(panel), body_of_obstacle(still), way)
    assert found < way.travel
    assert found == pytest.approx(by_kernel(panel, still, way), abs=WITHIN)
