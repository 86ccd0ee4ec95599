"""The bay about the fit-out, as it is drawn: see-through, and from inside only."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from manifold3d import triangulate

from fitout.checks.subject import Subject
from fitout.clearance.convex import Array, Indices
from fitout.documents.meshes import Mesh
from fitout.documents.pictures import floor_corners
from fitout.model.bay import Bay, Obstacle

WALL, FLOOR, ARCH, SEAT, KEPT, DOOR = (
    "#aeb4b0", "#d9d5ca", "#b9b09c", "#9aa3ad", "#c77d4f", "#9db0b8",
)  # fmt: skip

LOOKS = {"arch": (ARCH, 0.45), "seat": (SEAT, 0.3), "keep clear": (KEPT, 0.35)}
"""Colour and opacity of the obstacles that are drawn as the solids they are."""

ASKED_ONLY = 0.0
"""Opacity of what is drawn only while a finding speaks of it: the roof, another seat notch."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Surrounding:
    """A surface or solid of the vehicle; only faces that look at the viewer are drawn."""

    id: str
    mesh: Mesh
    colour: str
    opacity: float
    follows: tuple[int, ...] = ()


def surroundings(subject: Subject, leaves: Sequence[tuple[Obstacle, int]]) -> Iterator[Surrounding]:
    """Floor, walls, wheel arches, the seat as in the first state, doors; the rest when asked."""
    bay = subject.fitout.bay
    yield Surrounding(id="bay/floor", mesh=_floor(bay), colour=FLOOR, opacity=0.75)
    for side in sorted(bay.walls):
        yield Surrounding(id=f"bay/{side} wall", mesh=_wall(bay, side), colour=WALL, opacity=0.3)
    first = bay.states[0].name if bay.states else ""
    moving = dict.fromkeys(leaf.id for leaf, _ in leaves)
    drawn = {"bay/floor", *(f"bay/{side} wall" for side in bay.walls), *moving}
    for obstacle in bay.obstacles:
        if obstacle.id in drawn:
            continue
        colour, opacity = LOOKS.get(obstacle.kind, (WALL, ASKED_ONLY))
        there = not obstacle.states or first in obstacle.states
        yield _solid(obstacle, colour, opacity if there else ASKED_ONLY)
    for leaf, movement in leaves:
        yield _solid(leaf, DOOR, 0.2, (movement,))
    for swing in bay.swings:
        yield from (
            _solid(leaf, SEAT, ASKED_ONLY) for leaf in swing.leaves if leaf.id not in moving
        )


def _solid(
    obstacle: Obstacle, colour: str, opacity: float, follows: tuple[int, ...] = ()
) -> Surrounding:
    mesh = obstacle.vertices, obstacle.triangles.astype(np.int64)
    return Surrounding(id=obstacle.id, mesh=mesh, colour=colour, opacity=opacity, follows=follows)


def _floor(bay: Bay) -> Mesh:
    corners = floor_corners(bay)
    ring = corners[:, :2]
    if _turning(ring) < 0.0:
        corners, ring = corners[::-1], ring[::-1]
    triangles: Indices = np.asarray(triangulate([ring]), dtype=np.int64)
    return corners, triangles


def _turning(ring: Array) -> float:
    """Twice the ring's area, above 0 where it runs anticlockwise."""
    x, y = ring[:, 0], ring[:, 1]
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1))


def _wall(bay: Bay, side: str) -> Mesh:
    """A wall's inner face, its triangles run so that they face the centre line."""
    sign = 1.0 if side == "left" else -1.0
    points: list[tuple[float, float, float]] = []
    for piece in bay.walls[side]:
        three = [
            (x, sign * off, z) for (x, z), off in zip(piece.corners, piece.offsets, strict=True)
        ]
        (x0, _, z0), (x1, _, z1), (x2, _, z2) = three
        facing = (z1 - z0) * (x2 - x0) - (x1 - x0) * (z2 - z0)
        points += three if facing * sign < 0.0 else three[::-1]
    triangles: Indices = np.arange(len(points), dtype=np.int64).reshape(-1, 3)
    return np.array(points, dtype=np.float64), triangles
