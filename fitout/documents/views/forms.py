"""Solids as they are looked at: closed meshes with true edges, moved and cut as a view asks."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from fitout.clearance.convex import Array, Indices, mesh_of, shared_edges
from fitout.clearance.shape import solid_of_mesh
from fitout.documents.meshes import part_mesh
from fitout.model.bay import Obstacle
from fitout.model.module import Part
from fitout.model.placement import Vector

SMOOTH_DEG = 35.0
"""Faces that meet at less than this angle go on as one curved face: no edge is drawn."""

Flags = npt.NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Form:
    """A closed solid by its surface: vertices, shape (n, 3), and triangles, shape (m, 3).

    It has no slots: `cached_property` keeps what is worked out, and the content never changes.
    """

    id: str
    vertices: Array
    triangles: Indices

    @cached_property
    def corners(self) -> Array:
        """The corners of each triangle, shape (m, 3, 3)."""
        return self.vertices[self.triangles]

    @cached_property
    def normals(self) -> Array:
        """The outward unit normal of each triangle, shape (m, 3); nought where it is a line."""
        a, b, c = (self.corners[:, k] for k in range(3))
        normals = np.cross(b - a, c - a)
        lengths = np.linalg.norm(normals, axis=1)
        return np.asarray(normals / np.maximum(lengths, 1e-9)[:, None], dtype=np.float64)

    @cached_property
    def edges(self) -> tuple[Indices, Indices, Array, Flags]:
        """Each edge once: the triangles at it, its ends (n, 2, 3), whether it is a true edge."""
        first, second, start, end = shared_edges(self.triangles)
        ends = np.stack([self.vertices[start], self.vertices[end]], axis=1)
        turn = np.einsum("ij,ij->i", self.normals[first], self.normals[second])
        return first, second, ends, turn < np.cos(np.radians(SMOOTH_DEG))

    def moved(self, by: Vector) -> Form:
        """The same solid shifted."""
        return Form(self.id, self.vertices + np.array(by), self.triangles)

    def beyond(self, normal: Vector, offset: float) -> Form | None:
        """What lies on that side of the plane normal · p = offset; None if that is nothing."""
        depths = self.vertices @ np.array(normal)
        if depths.min() >= offset:
            return self
        if depths.max() <= offset:
            return None
        cut = solid_of_mesh(self.vertices, self.triangles).trim_by_plane(normal, offset)
        return None if cut.is_empty() else Form(self.id, *mesh_of(cut))


@dataclass(frozen=True, eq=False)
class Crowd:
    """Forms looked at together: all their triangles and edges, in the forms' order; no slots."""

    forms: Sequence[Form]

    @cached_property
    def corners(self) -> Array:
        """The corners of each triangle, shape (m, 3, 3)."""
        return np.concatenate([np.empty((0, 3, 3)), *(form.corners for form in self.forms)])

    @cached_property
    def normals(self) -> Array:
        """The outward normal of each triangle, shape (m, 3)."""
        return np.concatenate([np.empty((0, 3)), *(form.normals for form in self.forms)])

    @cached_property
    def owners(self) -> Indices:
        """The position of the form that each triangle is of."""
        counts = [len(form.triangles) for form in self.forms]
        return np.repeat(np.arange(len(counts)), counts)

    @cached_property
    def edges(self) -> tuple[Indices, Indices, Array, Flags]:
        """Each edge once: the triangles at it, its ends (n, 2, 3), whether it is a true edge."""
        found = [form.edges for form in self.forms]
        starts = np.cumsum([0, *(len(form.triangles) for form in self.forms)]).tolist()
        none = np.empty(0, dtype=np.int64)
        first = [one[0] + start for one, start in zip(found, starts[:-1], strict=True)]
        second = [one[1] + start for one, start in zip(found, starts[:-1], strict=True)]
        return (
            np.concatenate([none, *first]),
            np.concatenate([none, *second]),
            np.concatenate([np.empty((0, 2, 3)), *(one[2] for one in found)]),
            np.concatenate([none.astype(bool), *(one[3] for one in found)]),
        )

    def toward(self, viewer: Array, least: float) -> Flags:
        """Which triangles are turned towards the viewer by more than `least`, of 1 at most."""
        return np.asarray(self.normals @ viewer > least)


def part_form(part: Part) -> Form:
    """A panel, bar or item without its drill holes; grooves and pockets are cut."""
    return Form(part.id, *part_mesh(part, holes=False))


def obstacle_form(obstacle: Obstacle) -> Form:
    """Something of the vehicle."""
    vertices, places = np.unique(np.round(obstacle.vertices, 6) + 0.0, axis=0, return_inverse=True)
    triangles: Indices = places.reshape(-1)[obstacle.triangles.astype(np.int64)]
    a, b, c = triangles.T
    triangles = triangles[(a != b) & (b != c) & (c != a)]
    corners = vertices[triangles]
    if np.einsum("ij,ij->", corners[:, 0], np.cross(corners[:, 1], corners[:, 2])) < 0.0:
        triangles = triangles[:, ::-1]
    return Form(obstacle.id, vertices, triangles)


def extent(forms: Iterable[Form]) -> tuple[Array, Array]:
    """Least and greatest corner of a block round all forms."""
    ends = [(form.vertices.min(axis=0), form.vertices.max(axis=0)) for form in forms]
    return np.min([low for low, _ in ends], axis=0), np.max([high for _, high in ends], axis=0)
