"""Seeing bodies from one direction: projection, visible faces, and who hides whom.

A view is a parallel one from any direction, unless told otherwise from the rear right, above:
the side that a builder sees with the tailgate open. Bodies are painted from the farthest to the
nearest; which of two is the nearer is decided by the plane that parts them best, among planes
square to the faces of any body. That is exact for convex bodies that such a plane parts, and
good enough for a tongue in its groove.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from fitout.clearance.convex import facets
from fitout.model.outline import Loop
from fitout.model.panel import Face, Panel
from fitout.model.placement import Array, Placement, Vector

SAGITTA = 1.0
"""How far (mm) a drawn arc may stray; it is a picture."""

PARTED = -0.01
"""Bodies that reach into each other by no more than this (mm) count as parted."""


def _unit(x: float, y: float, z: float) -> Array:
    vector = np.array([x, y, z], dtype=np.float64)
    return np.asarray(vector / np.linalg.norm(vector), dtype=np.float64)


@dataclass(frozen=True, slots=True, eq=False)
class Eye:
    """A direction to look from: unit vectors in the bay towards the viewer, right and up."""

    name: str
    to_viewer: Array
    rightward: Array
    upward: Array

    def on_paper(self, points: Array) -> Array:
        """Where bay coordinates, shape (n, 3), fall on a picture: rightward and down, mm."""
        return np.column_stack([points @ self.rightward, -(points @ self.upward)])

    def on_sheet(self, points: Array) -> Array:
        """Where bay coordinates, shape (n, 3), fall on a drawing: rightward and up, mm."""
        return np.column_stack([points @ self.rightward, points @ self.upward])

    def nearness(self, points: Array) -> Array:
        """How far towards the viewer points, shape (..., 3), lie."""
        return np.asarray(points @ self.to_viewer, dtype=np.float64)


def looking_from(name: str, x: float, y: float, z: float) -> Eye:
    """The eye in that direction from the bay, upright on paper.

    Raises:
        ValueError: straight from above or below, where nothing is upright.
    """
    if math.hypot(x, y) <= 1e-9 * abs(z):
        raise ValueError("seen straight from above or below, no direction is up on paper")
    to_viewer = _unit(x, y, z)
    rightward = _unit(-float(to_viewer[1]), float(to_viewer[0]), 0.0)
    return Eye(name, to_viewer, rightward, np.cross(to_viewer, rightward))


THREE_QUARTER = looking_from("rear right", -1.0, -0.9, 0.85)
CORNERS = (
    THREE_QUARTER,
    looking_from("rear left", -1.0, 0.9, 0.85),
    looking_from("front right", 1.0, -0.9, 0.85),
    looking_from("front left", 1.0, 0.9, 0.85),
)
"""From the four upper corners, the usual one first."""

PLAN = Eye("plan", np.eye(3)[2], np.eye(3)[0], np.eye(3)[1])
"""From above, forward to the right: it lies above or below the side view as the angle asks."""

SIDE = looking_from("side", 0.0, -1.0, 0.0)
"""From the vehicle's right, forward to the right on paper."""

LEFT_SIDE = looking_from("left side", 0.0, 1.0, 0.0)
REAR = looking_from("rear", -1.0, 0.0, 0.0)
FRONT = looking_from("front", 1.0, 0.0, 0.0)
LIGHT = _unit(-0.45, -0.15, 0.9)


@dataclass(frozen=True, slots=True, eq=False)
class Patch:
    """A flat piece of a body's surface: rings on paper (holes too), its brightness 0 to 1."""

    rings: tuple[Array, ...]
    brightness: float


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """A body to paint: corners in the bay, the normals of its faces, its visible patches."""

    corners: Array
    normals: Array
    patches: tuple[Patch, ...]
    colour: str
    opacity: float = 1.0


def panel_body(panel: Panel, colour: str, eye: Eye = THREE_QUARTER) -> Body:
    """A panel: the face that is seen, its sinks, and the edges that are seen."""
    place = panel.placement
    outward = np.array(place.w)
    face_a = float(outward @ eye.to_viewer) > 0.0
    seen, height = (Face.A, panel.thickness) if face_a else (Face.B, 0.0)
    normal = outward if face_a else -outward
    outer = panel.outline.outer.chords(grows=False, sagitta=SAGITTA)
    inner = [loop.chords(grows=False, sagitta=SAGITTA)[::-1] for loop in panel.outline.inner]
    patches = [p for ring in (outer, *inner) for p in _edges(ring, panel.thickness, place, eye)]
    rings = tuple(eye.on_paper(_raised(ring, height, place)) for ring in (outer, *inner))
    patches.append(Patch(rings, _brightness(normal)))
    patches += [
        Patch((eye.on_paper(_sunk(pocket.loop, height, place)),), 0.85 * _brightness(normal))
        for pocket in panel.pockets
        if pocket.face is seen
    ]
    corners = np.vstack([_raised(outer, z, place) for z in (0.0, panel.thickness)])
    normals = np.array([place.u, place.v, place.w])
    return Body(corners, normals, tuple(patches), colour)


def _raised(ring: Array, height: float, place: Placement) -> Array:
    return place.apply(np.column_stack([ring, np.full(len(ring), height)]))


def _sunk(loop: Loop, height: float, place: Placement) -> Array:
    return _raised(loop.chords(grows=False, sagitta=SAGITTA), height, place)


def _edges(ring: Array, thickness: float, place: Placement, eye: Eye) -> list[Patch]:
    """The edge faces along a ring (solid on its left) that are seen, farthest first."""
    found: list[tuple[float, Patch]] = []
    for i in range(len(ring)):
        a, b = ring[i - 1], ring[i]
        along = b - a
        normal = along[1] * np.array(place.u) - along[0] * np.array(place.v)
        if float(normal @ eye.to_viewer) <= 1e-9:
            continue
        quad = np.array([[*a, 0.0], [*b, 0.0], [*b, thickness], [*a, thickness]])
        points = place.apply(quad)
        depth = float(points.mean(axis=0) @ eye.to_viewer)
        found.append((depth, Patch((eye.on_paper(points),), _brightness(normal))))
    return [patch for _, patch in sorted(found, key=lambda pair: pair[0])]


def convex_body(
    corners: Array, colour: str, opacity: float = 1.0, eye: Eye = THREE_QUARTER
) -> Body:
    """The convex body with these corners, shape (n, 3)."""
    faces = list(_hull_faces(corners))
    seen = [(n, points) for n, points in faces if float(n @ eye.to_viewer) > 1e-9]
    patches = tuple(Patch((_ring(eye.on_paper(points)),), _brightness(n)) for n, points in seen)
    return Body(corners, np.array([n for n, _ in faces]), patches, colour, opacity)


def box_body(length: float, width: float, height: float, place: Placement, colour: str) -> Body:
    """A block with one corner at the placement's origin."""
    corners = np.array(list(itertools.product((0.0, length), (0.0, width), (0.0, height))))
    return convex_body(place.apply(corners), colour)


def _hull_faces(corners: Array) -> Iterator[tuple[Array, Array]]:
    """Outward normal and corners of each face of the convex hull, in the corners' order."""
    middle = corners.mean(axis=0)
    for on in sorted(_on_faces(corners)):
        points = corners[list(on)]
        arms = points[1:] - points[0]
        # The first two that do not lie on one line through the first corner.
        normals = np.cross(arms[0], arms[1:])
        sizes = np.linalg.norm(normals, axis=1)
        first = int(np.argmax(sizes > 1e-6))
        normal = normals[first] / sizes[first]
        yield (normal if (points[0] - middle) @ normal > 0.0 else -normal), points


def _on_faces(corners: Array) -> Iterator[tuple[int, ...]]:
    """Which corners lie on each face of the convex hull."""
    for face in facets(corners):
        normal = np.cross(face[1] - face[0], face[2] - face[0])
        heights = (corners - face[0]) @ (normal / np.linalg.norm(normal))
        yield tuple(np.flatnonzero(np.abs(heights) <= 1e-5).tolist())


def _ring(points: Array) -> Array:
    """Points of a convex face on paper, put in order around their middle."""
    away = points - points.mean(axis=0)
    return np.asarray(points[np.argsort(np.arctan2(away[:, 1], away[:, 0]))], dtype=np.float64)


def _brightness(normal: Array) -> float:
    return 0.66 + 0.34 * max(0.0, float(normal @ LIGHT) / max(float(np.linalg.norm(normal)), 1e-12))


def paint_order(bodies: Sequence[Body], eye: Eye = THREE_QUARTER) -> list[int]:
    """The bodies' positions from the farthest to the nearest.

    Where bodies hide each other in a ring, the farthest by its middle goes first.
    """
    hides = _hides(bodies, eye)
    depths = [float(body.corners.mean(axis=0) @ eye.to_viewer) for body in bodies]
    waiting = hides.sum(axis=1)
    left = set(range(len(bodies)))
    order: list[int] = []
    while left:
        ready = [i for i in left if waiting[i] == 0] or list(left)
        chosen = min(ready, key=lambda i: (depths[i], i))
        left.remove(chosen)
        order.append(chosen)
        waiting -= hides[:, chosen]
    return order


def _hides(bodies: Sequence[Body], eye: Eye) -> Array:
    """1 at [i, j] where body i lies in front of body j and covers part of it, shape (n, n)."""
    count = len(bodies)
    nearer = np.full((count, count), -math.inf)
    covers = np.ones((count, count), dtype=bool)
    for axis in _axes(bodies, eye):
        toward = float(axis @ eye.to_viewer)
        nearward = axis if toward >= 0.0 else -axis
        reach = [body.corners @ nearward for body in bodies]
        low = np.array([r.min() for r in reach])
        high = np.array([r.max() for r in reach])
        apart = low[:, None] - high[None, :]
        if abs(toward) < 1e-9:
            covers &= (apart < PARTED) & (apart.T < PARTED)
        else:
            nearer = np.maximum(nearer, apart)
    both = (nearer >= PARTED) & (nearer.T >= PARTED)
    front = (nearer > nearer.T) & covers & ~both
    np.fill_diagonal(front, val=False)
    return np.asarray(front, dtype=np.float64)


def _axes(bodies: Sequence[Body], eye: Eye) -> list[Array]:
    """Directions to part bodies along: face normals, and outlines of blocks on paper."""
    found: dict[Vector, Array] = {}
    across = np.cross(np.eye(3), eye.to_viewer)
    square = np.vstack([np.eye(3), across, eye.rightward, eye.upward])
    for axis in np.vstack([square, *(body.normals for body in bodies)]):
        unit = axis / np.linalg.norm(axis)
        x, y, z = (float(value) + 0.0 for value in np.round(unit, 4))
        if (-x, -y, -z) not in found:
            found.setdefault((x, y, z), unit)
    return list(found.values())
