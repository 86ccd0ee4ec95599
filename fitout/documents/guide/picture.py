"""Painted pictures for print: what is new is grey with wide lines, what is there stays white.

The visible lines part the picture into cells; each belongs to the one face that lies nearest
to the viewer there. So faces are filled exactly, without an order of painting.
"""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

from fitout.clearance.convex import Array, Indices
from fitout.documents.paper.marks import Area, Mark, Pen, Stroke
from fitout.documents.view import LIGHT, Eye
from fitout.documents.views.forms import Flags, Form
from fitout.documents.views.hidden_lines import visible_segments
from fitout.documents.views.sight import nearest_faces
from fitout.model.outline import Point

Geometries = npt.NDArray[np.object_]
"""Points, lines or areas, shape (n,)."""

NEW = Pen(0.5)
THERE = Pen(0.18, (), (0.35, 0.35, 0.35))

EXTENDED = 0.3
"""Lines are drawn on by so much (mm, true) so that they meet where cells are told apart."""

DARK, BRIGHT = 0.58, 0.86
"""Greys of what is new, in shade and in light."""

SHADE, PAPER = 0.93, 1.0
"""The same of what is there already."""


@dataclass(frozen=True, slots=True, eq=False)
class Frame:
    """What of a view goes where: window in true mm (left, bottom, right, top) and its corner."""

    window: tuple[float, float, float, float]
    corner: Point
    reduced: float

    def flat(self, points: Array) -> tuple[Point, ...]:
        """Points of the view on paper."""
        (left, low, _, _), (x, y) = self.window, self.corner
        across = x + (points[:, 0] - left) / self.reduced
        up = y + (points[:, 1] - low) / self.reduced
        return tuple(zip(across.tolist(), up.tolist(), strict=True))


def painted(
    forms: Sequence[Form], new: Collection[str], eye: Eye, frame: Frame, *, through: bool = False
) -> list[Mark]:
    """The picture's marks. `new` are ids of forms; `through` shows them before all else."""
    there = [form for form in forms if form.id not in new]
    fresh = [form for form in forms if form.id in new]
    clip = shapely.box(*frame.window)
    shapely.prepare(clip)
    if through:
        return [
            *_layer(there, frozenset(), eye, frame, clip),
            *_layer(fresh, new, eye, frame, clip),
        ]
    return _layer(forms, new, eye, frame, clip)


def _layer(
    forms: Sequence[Form], new: Collection[str], eye: Eye, frame: Frame, clip: BaseGeometry
) -> list[Mark]:
    """Cells, then lines of what is there, then those of what is new."""
    owners, segments = visible_segments(forms, eye)
    fresh = np.array([form.id in new for form in forms], dtype=bool)
    cells, seen, normals = _cells(forms, segments, eye)
    marks: list[Mark] = list(_areas(cells, _tones(fresh[seen], normals, eye), frame, clip))
    for chosen, pen in ((~fresh, THERE), (fresh, NEW)):
        own = segments[chosen[owners]] if len(segments) else segments
        marks += _strokes(own, frame, clip, pen)
    return marks


def _areas(
    cells: Geometries, tones: Sequence[float], frame: Frame, clip: BaseGeometry
) -> Iterator[Area]:
    """Cells as far as they are shown, in their greys."""
    outside = ~shapely.covers(clip, cells)
    cells[outside] = shapely.intersection(cells[outside], clip)
    parts, cell = shapely.get_parts(cells, return_index=True)
    kept = (shapely.get_type_id(parts) == shapely.GeometryType.POLYGON) & (
        shapely.area(parts) > 0.0
    )
    parts, cell = parts[kept], cell[kept].tolist()
    rings, part = shapely.get_rings(parts, return_index=True)
    told = _told(rings, frame)
    for k, own in itertools.groupby(range(len(told)), key=part.tolist().__getitem__):
        grey = tones[cell[k]]
        yield Area(tuple(told[ring] for ring in own), (grey, grey, grey), "FILL")


def _strokes(segments: Array, frame: Frame, clip: BaseGeometry, pen: Pen) -> list[Stroke]:
    if not len(segments):
        return []
    lines = shapely.linestrings(np.round(segments, 3) + 0.0)
    outside = ~shapely.covers(clip, lines)
    lines[outside] = shapely.intersection(lines[outside], clip)
    kept = lines[shapely.get_type_id(lines) == shapely.GeometryType.LINESTRING]
    parts = shapely.get_parts(shapely.line_merge(shapely.multilinestrings(kept)))
    whole = parts[shapely.get_type_id(parts) == shapely.GeometryType.LINESTRING]
    return [Stroke(points, pen) for points in _told(whole, frame)]


def _told(lines: Geometries, frame: Frame) -> list[tuple[Point, ...]]:
    """The points of each line on paper."""
    points = frame.flat(shapely.get_coordinates(lines))
    ends = np.cumsum([0, *shapely.get_num_coordinates(lines)]).tolist()
    return [points[a:b] for a, b in itertools.pairwise(ends)]


def _cells(forms: Sequence[Form], segments: Array, eye: Eye) -> tuple[Geometries, Indices, Array]:
    """The picture's cells with a face in them: which form is seen, and its face's normal."""
    if not len(segments):
        return np.empty(0, dtype=np.object_), np.empty(0, dtype=np.int64), np.empty((0, 3))
    along = segments[:, 1] - segments[:, 0]
    along /= np.linalg.norm(along, axis=1)[:, None]
    longer = np.stack(
        [segments[:, 0] - EXTENDED * along, segments[:, 1] + EXTENDED * along], axis=1
    )
    noded = shapely.union_all(shapely.linestrings(longer), grid_size=0.01)
    cells = shapely.get_parts(shapely.polygonize([noded]))
    points = shapely.get_coordinates(shapely.point_on_surface(cells))
    owners, normals = nearest_faces(points, forms, eye)
    some = owners >= 0
    return cells[some], owners[some], normals[some]


def _tones(fresh: Flags, normals: Array, eye: Eye) -> list[float]:
    """The grey of each face, by its normal and whether it is of something new."""
    # Lit from above, to the viewer's left, wherever he stands.
    light = normals @ (0.55 * eye.upward - 0.4 * eye.rightward + 0.6 * LIGHT)
    share = (0.25 + 0.75 * light).clip(0.0, 1.0)
    low, high = np.where(fresh, DARK, SHADE), np.where(fresh, BRIGHT, PAPER)
    return [round(grey, 3) for grey in (low + (high - low) * share).tolist()]
