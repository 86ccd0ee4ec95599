"""Parts as closed triangle meshes with their holes and pockets, for what is looked at in 3D.

Arcs and holes are chords here: a drill hole is a polygon of the hole's own area, an arc stays
within `SAGITTA`, so a mesh holds the part's volume to well within a thousandth. What is asked
of the exact shape asks `clearance` or `documents.solids`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
from manifold3d import CrossSection, FillRule, Manifold, OpType

from fitout.clearance.convex import Array, Indices, Solid, hull_of, mesh_of
from fitout.model.item import Piece, block
from fitout.model.module import Part
from fitout.model.outline import Loop
from fitout.model.panel import Bar, Face, Hole, Panel
from fitout.model.placement import Placement

SAGITTA = 0.05
"""How far (mm) a chord may lie from the arc it stands for."""

SIDES = (12, 16, 24)
"""Corners of a drill hole's polygon: small ones, those over 8 mm, those over 20 mm."""

_STAND_OUT = 1.0
"""How far (mm) a cutting tool stands out of the face it enters by."""

_DIGITS = 6
"""Decimals that vertices are rounded to, in mm."""

Mesh = tuple[Array, Indices]
"""Vertices, shape (n, 3), and triangles, shape (m, 3), anticlockwise seen from outside."""


def part_mesh(part: Part, *, holes: bool = True) -> Mesh:
    """The mesh of a part in bay coordinates, mm, where it stands with everything shut.

    Without `holes` the holes of panels and bars are left out. The same part gives the same
    arrays; see `local_mesh` for what is in them.
    """
    return placed(local_mesh(part, holes=holes), part.placement)


def local_mesh(part: Part, *, holes: bool = True) -> Mesh:
    """The mesh of a part in its own axes (u, v, w), mm; parts alike give the same arrays.

    A closed surface without repeated vertices; several where a part falls in pieces. An item
    is the union of its convex pieces. ValueError if a part encloses no volume.
    """
    if isinstance(part, Panel):
        solid = _panel(part, holes=holes)
    elif isinstance(part, Bar):
        solid = _bar(part, holes=holes)
    else:
        solid = pieces_solid(part.pieces)
    if solid.is_empty() or solid.volume() <= 0.0:
        raise ValueError(f"{part.id} encloses no volume")
    return in_order(*mesh_of(solid))


def placed(mesh: Mesh, placement: Placement) -> Mesh:
    """The mesh moved from a part's own axes into the bay."""
    vertices, triangles = mesh
    return np.round(placement.apply(vertices), _DIGITS) + 0.0, triangles


def pieces_solid(pieces: Iterable[Piece]) -> Solid:
    """The union of convex pieces given by their corners."""
    hulls = [hull_of(np.array(piece, dtype=np.float64)) for piece in pieces]
    return hulls[0] if len(hulls) == 1 else Manifold.batch_boolean(hulls, OpType.Add)


def in_order(vertices: Array, triangles: Indices) -> Mesh:
    """The same surface with vertices and triangles sorted, however the solid was made."""
    vertices = np.round(vertices, _DIGITS) + 0.0
    unique, numbers = np.unique(vertices, axis=0, return_inverse=True)
    triangles = numbers.reshape(-1)[triangles]
    kept = (triangles != np.roll(triangles, 1, axis=1)).all(axis=1)
    triangles = triangles[kept]
    # Each begins with its least corner, which keeps the way round.
    first = triangles.argmin(axis=1)
    turned = np.take_along_axis(triangles, (first[:, None] + np.arange(3)) % 3, axis=1)
    return unique, turned[np.lexsort(turned.T[::-1])]


def _panel(panel: Panel, *, holes: bool) -> Solid:
    drilled = panel.holes if holes else ()
    thick = panel.thickness
    through = [h for h in drilled if h.depth is None or h.depth >= thick]
    loops = [_chords(panel.outline.outer), *(_chords(i)[::-1] for i in panel.outline.inner)]
    loops += [_hole(h)[::-1] for h in through]
    body = _prism(loops, 0.0, thick)
    tools = [
        _prism([_chords(pocket.loop)], *_span(pocket.face, pocket.depth, thick))
        for pocket in panel.pockets
    ]
    tools += [
        _prism([_hole(hole)], *_span(hole.face, hole.depth, thick))
        for hole in drilled
        if hole.depth is not None and hole.depth < thick
    ]
    return Manifold.batch_boolean([body, *tools], OpType.Subtract) if tools else body


def _chords(loop: Loop) -> Array:
    return loop.chords(grows=False, sagitta=SAGITTA)


def _hole(hole: Hole) -> Array:
    """A polygon as large as the hole's circle, run anticlockwise."""
    sides = SIDES[(hole.diameter > 8.0) + (hole.diameter > 20.0)]
    step = 2.0 * math.pi / sides
    radius = hole.diameter / 2.0 * math.sqrt(step / math.sin(step))
    angles = (np.arange(sides) + 0.5) * step
    return np.column_stack([hole.x + radius * np.cos(angles), hole.y + radius * np.sin(angles)])


def _span(face: Face, depth: float, thick: float) -> tuple[float, float]:
    """From where to where along w a tool cuts, standing out of the face it enters by."""
    if depth >= thick:
        return -_STAND_OUT, thick + _STAND_OUT
    if face is Face.A:
        return thick - depth, thick + _STAND_OUT
    return -_STAND_OUT, depth


def _prism(loops: list[Array], low: float, high: float) -> Solid:
    """The prism over what lies within the anticlockwise loops and not in the clockwise ones."""
    section = CrossSection(loops, FillRule.Positive)
    return Manifold.extrude(section, high - low).translate((0.0, 0.0, low))


def _bar(bar: Bar, *, holes: bool) -> Solid:
    section = bar.section
    body = hull_of(np.array(block(bar.length, section.width, section.height)))
    tools = []
    if section.wall is not None:
        wall, out = section.wall, _STAND_OUT
        inside = (bar.length + 2.0 * out, section.width - 2.0 * wall, section.height - 2.0 * wall)
        tools.append(hull_of(np.array(block(*inside, at=(-out, wall, wall)))))
    for along, diameter in bar.holes if holes else ():
        loop = _hole(Hole(along, section.width / 2.0, diameter))
        tools.append(_prism([loop], -_STAND_OUT, section.height + _STAND_OUT))
    return Manifold.batch_boolean([body, *tools], OpType.Subtract) if tools else body
