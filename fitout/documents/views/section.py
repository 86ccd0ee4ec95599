"""What a plane cuts of bodies, and what is seen beyond it."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from manifold3d import Manifold
from shapely.geometry.base import BaseGeometry

from fitout.clearance.convex import Array
from fitout.clearance.shape import solid_of_mesh
from fitout.documents.view import Eye
from fitout.documents.views.forms import Form
from fitout.documents.views.hidden_lines import Seen, visible_lines

ANGLES_DEG = (45.0, 135.0)
"""Hatch lines of neighbours lean to either side (ISO 128-3, hatching)."""

SPACINGS = (1.0, 1.6, 2.4)
"""Hatch lines' distance as a share of the drawing's own, where the angle alone does not do."""

LARGE, WIDER = 30.0, 2.5
"""A face larger than a square of so many usual distances is hatched so much wider."""

NEIGHBOURS = 3.0
"""Cut faces nearer to each other than this, mm, are told apart by their hatches."""


@dataclass(frozen=True, slots=True, eq=False)
class CutFace:
    """The cut face of one form: rings on the sheet, holes too; filled by the even-odd rule."""

    id: str
    rings: tuple[Array, ...]

    @property
    def region(self) -> BaseGeometry:
        """The face as an area."""
        area = shapely.Polygon()
        for ring in self.rings:
            area = area.symmetric_difference(shapely.Polygon(ring).buffer(0.0))
        return area


@dataclass(frozen=True, slots=True, eq=False)
class Section:
    """The cut faces in the forms' order, and the lines seen beyond."""

    faces: tuple[CutFace, ...]
    beyond: tuple[Seen, ...]


def section(forms: Sequence[Form], eye: Eye, at: float) -> Section:
    """Forms cut by the plane square to the eye at the height `at` towards it, mm.

    What lies nearer to the viewer than the plane is taken away.
    """
    away = -eye.to_viewer
    normal = (float(away[0]), float(away[1]), float(away[2]))
    left = [part for form in forms if (part := form.beyond(normal, -at)) is not None]
    faces = (CutFace(form.id, cut_rings(form, eye, at)) for form in forms)
    return Section(tuple(face for face in faces if face.rings), visible_lines(left, eye))


def cut_rings(form: Form, eye: Eye, at: float) -> tuple[Array, ...]:
    """The outline of the form where the plane cuts it, on the sheet."""
    heights = eye.nearness(form.vertices)
    if heights.min() >= at or heights.max() <= at:
        return ()
    turned = np.column_stack([eye.on_sheet(form.vertices), heights - at])
    solid: Manifold = solid_of_mesh(turned, form.triangles)
    return tuple(np.asarray(ring) for ring in solid.slice(0.0).to_polygons())


def hatches(faces: Sequence[CutFace], spacing: float) -> tuple[tuple[Array, ...], ...]:
    """Hatch lines of each cut face; of faces that touch they differ in slope or distance.

    `spacing` is the usual distance of hatch lines in true mm.
    """
    regions = [face.region for face in faces]
    looks = _looks(regions)
    return tuple(
        _hatched(region, angle, spacing * share * _widened(region, spacing))
        for region, (angle, share) in zip(regions, looks, strict=True)
    )


def _widened(region: BaseGeometry, spacing: float) -> float:
    return WIDER if region.area > (LARGE * spacing) ** 2 else 1.0


def _looks(regions: Sequence[BaseGeometry]) -> list[tuple[float, float]]:
    """Slope and distance for each region, other than those of earlier neighbours."""
    choices = [(angle, share) for share, angle in itertools.product(SPACINGS, ANGLES_DEG)]
    near: Mapping[int, list[int]] = {k: [] for k in range(len(regions))}
    for i, j in itertools.combinations(range(len(regions)), 2):
        if regions[i].distance(regions[j]) < NEIGHBOURS:
            near[j].append(i)
    found: list[int] = []
    for k in range(len(regions)):
        used = [found[i] for i in near[k]]
        found.append(min(range(len(choices)), key=lambda c: (used.count(c), c)))
    return [choices[c] for c in found]


def _hatched(region: BaseGeometry, angle_deg: float, spacing: float) -> tuple[Array, ...]:
    """Lines across a region. They lie on one grid for all, so that they go on across joints."""
    if region.is_empty:
        return ()
    angle = math.radians(angle_deg)
    along, across = (
        np.array([math.cos(angle), math.sin(angle)]),
        np.array([-math.sin(angle), math.cos(angle)]),
    )
    x0, y0, x1, y1 = region.bounds
    corners = np.array([(x, y) for x in (x0, x1) for y in (y0, y1)])
    low, high = (corners @ across).min(), (corners @ across).max()
    start, end = (corners @ along).min(), (corners @ along).max()
    offsets = np.arange(math.ceil(low / spacing), math.floor(high / spacing) + 1) * spacing
    if not len(offsets):
        return ()
    ends = np.stack(
        [offsets[:, None] * across + start * along, offsets[:, None] * across + end * along], axis=1
    )
    cut = shapely.get_parts(shapely.intersection(shapely.linestrings(ends), region))
    lines = (np.asarray(shapely.get_coordinates(line)) for line in cut)
    return tuple(line for line in lines if len(line) == 2)
