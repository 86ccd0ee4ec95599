"""Painted pictures for print: what is new is grey with wide lines, what is there stays white.

The visible lines part the picture into cells; each belongs to the one face that lies nearest
to the viewer there. So faces are filled exactly, without an order of painting.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from fitout.clearance.convex import Array
from fitout.documents.paper.marks import Area, Colour, Mark, Pen, Stroke
from fitout.documents.view import LIGHT, Eye
from fitout.documents.views.forms import Flags, Form
from fitout.documents.views.hidden_lines import visible_segments
from fitout.documents.views.sight import nearest_faces
from fitout.model.outline import Point

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
        return tuple(
            (x + (a - left) / self.reduced, y + (b - low) / self.reduced)
            for a, b in points.tolist()
        )


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
    marks: list[Mark] = []
    for cell, face in _cells(forms, segments, eye):
        tone = _tone(face, fresh, eye)
        shown = cell if clip.covers(cell) else cell.intersection(clip)
        for part in shapely.get_parts(shown):
            if part.geom_type == "Polygon" and part.area > 0.0:
                rings = [part.exterior, *part.interiors]
                marks.append(
                    Area(tuple(frame.flat(np.asarray(r.coords)) for r in rings), tone, "FILL")
                )
    for chosen, pen in ((~fresh, THERE), (fresh, NEW)):
        own = segments[chosen[owners]] if len(segments) else segments
        marks += _strokes(own, frame, clip, pen)
    return marks


def _strokes(segments: Array, frame: Frame, clip: BaseGeometry, pen: Pen) -> list[Stroke]:
    if not len(segments):
        return []
    lines = shapely.linestrings(np.round(segments, 3) + 0.0)
    outside = ~shapely.covers(clip, lines)
    lines[outside] = shapely.intersection(lines[outside], clip)
    kept = lines[shapely.get_type_id(lines) == shapely.GeometryType.LINESTRING]
    merged = shapely.line_merge(shapely.multilinestrings(kept))
    return [
        Stroke(frame.flat(shapely.get_coordinates(part)), pen)
        for part in shapely.get_parts(merged)
        if part.geom_type == "LineString"
    ]


Face = tuple[int, Array]
"""The position of a form, and the outward normal of one of its faces."""


def _cells(forms: Sequence[Form], segments: Array, eye: Eye) -> list[tuple[BaseGeometry, Face]]:
    """The picture's cells with the face that is seen in each; none where there is no face."""
    if not len(segments):
        return []
    along = segments[:, 1] - segments[:, 0]
    along /= np.linalg.norm(along, axis=1)[:, None]
    longer = np.stack(
        [segments[:, 0] - EXTENDED * along, segments[:, 1] + EXTENDED * along], axis=1
    )
    noded = shapely.union_all(shapely.linestrings(longer), grid_size=0.01)
    cells = shapely.get_parts(shapely.polygonize([noded]))
    points = shapely.get_coordinates(shapely.point_on_surface(cells))
    owners, normals = nearest_faces(points, forms, eye)
    return [
        (cell, (int(owner), normal))
        for cell, owner, normal in zip(cells, owners, normals, strict=True)
        if owner >= 0
    ]


def _tone(face: Face, fresh: Flags, eye: Eye) -> Colour:
    owner, normal = face
    # Lit from above, to the viewer's left, wherever he stands.
    light = float(normal @ (0.55 * eye.upward - 0.4 * eye.rightward + 0.6 * LIGHT))
    share = min(1.0, max(0.0, 0.25 + 0.75 * light))
    low, high = (DARK, BRIGHT) if fresh[owner] else (SHADE, PAPER)
    grey = round(low + (high - low) * share, 3)
    return grey, grey, grey
