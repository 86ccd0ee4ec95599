"""The data of the 3D picture: closed meshes packed as whole numbers, and who stands where."""

from __future__ import annotations

import base64
import dataclasses
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

import numpy as np

from fitout.clearance.convex import Array, Indices, mesh_of
from fitout.cutting.scribing import once_scribed
from fitout.documents.dossier import Dossier
from fitout.documents.meshes import Mesh, in_order, local_mesh, pieces_solid
from fitout.documents.pictures import BAR_COLOUR, ITEM_COLOUR, MODULE_COLOURS
from fitout.documents.report.movements import Movements, movements_of
from fitout.documents.report.surroundings import Surrounding, surroundings
from fitout.model.module import Part
from fitout.model.outline import Vertex
from fitout.model.panel import Bar, Face, Hole, Panel
from fitout.model.placement import Placement

BIG_HOLE = 20.0
"""Holes wider than this (mm) are cut into the mesh; smaller ones are drawn as discs upon it."""

MOST_UNITS = 32_000
FINEST = 0.01
"""Vertices are whole numbers of a step, at the finest this many mm, that 16 bits hold."""

SOLID, VEHICLE = 0, 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """Something drawn: a mesh in its own axes, where it stands shut, and what moves it."""

    id: str
    mesh: Mesh
    placement: Placement
    module: int
    colour: str
    follows: tuple[int, ...] = ()
    discs: tuple[tuple[float, float, float, float], ...] = ()
    kind: int = SOLID
    opacity: float = 1.0
    row: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """Everything drawn; `numbers` are the bodies' by the ids that findings name."""

    bodies: tuple[Body, ...]
    movements: Movements
    modules: tuple[str, ...]
    colours: tuple[str, ...]
    numbers: dict[str, int] = field(default_factory=dict)

    def as_object(self) -> dict[str, object]:
        """The scene as the script reads it; see `viewer/scene.js`."""
        packed = _Packed(self.bodies)
        return {
            "step": packed.step,
            "data": packed.text(),
            "meshes": packed.sizes,
            "bodies": [
                [
                    number,
                    [round(value, 5) + 0.0 for value in _rows(body.placement)],
                    body.module,
                    body.colour,
                    list(body.follows),
                    body.kind,
                    body.opacity,
                    -1 if body.row is None else body.row,
                ]
                for number, body in zip(packed.numbers, self.bodies, strict=True)
            ],
            "movements": [
                [
                    int(m.turns),
                    int(m.lifted),
                    [round(value, 6) + 0.0 for value in (*m.direction, *m.point)],
                    round(m.travel, 3),
                    list(m.needs),
                    list(m.shut),
                ]
                for m in self.movements.each
            ],
        }


def scene_of(dossier: Dossier) -> Scene:
    """Every part as cut and scribed, lids of bought-in things by themselves, the bay about them."""
    subject = dossier.subject
    movements = movements_of(subject)
    modules = tuple(module.name for module in dossier.fitout.modules)
    colours = tuple(MODULE_COLOURS[i % len(MODULE_COLOURS)] for i in range(len(modules)))
    cut = [panel for line in dossier.cuts.cut_list.lines for panel in line.panels]
    as_cut = {panel.id: once_scribed(panel) for panel in cut}
    bodies: list[Body] = []
    lids = {lid.of: lid for lid in movements.loose}
    for row, part in enumerate(dossier.fitout.parts()):
        module = modules.index(part.module)
        drawn = as_cut.get(part.id, part)
        bodies.append(
            Body(
                id=part.id,
                mesh=_mesh(drawn) if part.id not in lids else _without(part, lids[part.id].pieces),
                placement=drawn.placement,
                module=module,
                colour=_colour(part, colours[module]),
                follows=movements.follows.get(part.id, ()),
                discs=tuple(_discs(drawn)),
                row=row,
            )
        )
    rows = {body.id: body for body in bodies}
    bodies += [
        Body(
            id=lid.id,
            mesh=in_order(*mesh_of(pieces_solid(lid.pieces))),
            placement=lid.placement,
            module=rows[lid.of].module,
            colour=ITEM_COLOUR,
            follows=lid.follows,
            row=rows[lid.of].row,
        )
        for lid in movements.loose
    ]
    bodies += [_about(one) for one in surroundings(subject, movements.leaves)]
    numbers = {body.id: i for i, body in enumerate(bodies)}
    return Scene(
        bodies=tuple(bodies),
        movements=movements,
        modules=modules,
        colours=colours,
        numbers=numbers,
    )


def _about(one: Surrounding) -> Body:
    return Body(
        id=one.id,
        mesh=one.mesh,
        placement=Placement(),
        module=-1,
        colour=one.colour,
        follows=one.follows,
        kind=VEHICLE,
        opacity=one.opacity,
    )


def _colour(part: Part, colour: str) -> str:
    if isinstance(part, Panel):
        return colour
    return BAR_COLOUR if isinstance(part, Bar) else ITEM_COLOUR


def _mesh(part: Part) -> Mesh:
    if isinstance(part, Panel):
        large = tuple(hole for hole in part.holes if hole.diameter > BIG_HOLE)
        return local_mesh(dataclasses.replace(part, holes=large))
    return local_mesh(part, holes=False)


def _without(part: Part, pieces: Iterable[tuple[tuple[float, float, float], ...]]) -> Mesh:
    """A bought-in part less the lid that is drawn by itself; whole if nothing would be left."""
    assert not isinstance(part, Panel | Bar)
    left = pieces_solid(part.pieces) - pieces_solid(pieces)
    return local_mesh(part) if left.is_empty() else in_order(*mesh_of(left))


def _discs(part: Part) -> Iterator[tuple[float, float, float, float]]:
    """Where small holes show: (u, v, w, diameter), the diameter below 0 on the side −w faces."""
    if isinstance(part, Panel):
        for hole in part.holes:
            if hole.diameter > BIG_HOLE:
                continue
            through = hole.depth is None or hole.depth >= part.thickness
            if through or hole.face is Face.A:
                yield hole.x, hole.y, _floor_at(part, hole, Face.A), hole.diameter
            if through or hole.face is Face.B:
                yield hole.x, hole.y, _floor_at(part, hole, Face.B), -hole.diameter
    elif isinstance(part, Bar):
        for at, diameter in part.holes:
            yield at, part.section.width / 2.0, part.section.height, diameter
            yield at, part.section.width / 2.0, 0.0, -diameter


def _floor_at(panel: Panel, hole: Hole, face: Face) -> float:
    """The height of the face a hole is seen in: that of a pocket's floor where it lies in one."""
    sunk = 0.0
    for pocket in panel.pockets:
        if pocket.face is face and _within(pocket.loop.vertices, hole.x, hole.y):
            sunk = max(sunk, pocket.depth)
    return panel.thickness - sunk if face is Face.A else sunk


def _within(corners: tuple[Vertex, ...], x: float, y: float) -> bool:
    """Whether a point lies within a loop, its arcs taken straight."""
    inside = False
    for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
        if (a.y > y) != (b.y > y) and x < a.x + (y - a.y) * (b.x - a.x) / (b.y - a.y):
            inside = not inside
    return inside


def _rows(placement: Placement) -> list[float]:
    """The placement's 3 x 4 matrix, row by row."""
    return [float(value) for value in placement.matrix.reshape(-1)]


class _Packed:
    """Meshes that are alike stored once: vertices, triangles and discs as 16-bit numbers."""

    def __init__(self, bodies: Iterable[Body]) -> None:
        listed = list(bodies)
        reach = max((float(np.abs(b.mesh[0]).max()) for b in listed if len(b.mesh[0])), default=1.0)
        # A round step keeps what is drawn on whole tenths where it is.
        self.step = max(FINEST, math.ceil(reach / MOST_UNITS / FINEST) * FINEST)
        self.sizes: list[list[int]] = []
        self.numbers: list[int] = []
        self._chunks: list[bytes] = []
        known: dict[bytes, int] = {}
        for body in listed:
            chunk, sizes = self._pack(body)
            if chunk not in known:
                known[chunk] = len(self.sizes)
                self.sizes.append(sizes)
                self._chunks.append(chunk)
            self.numbers.append(known[chunk])

    def text(self) -> str:
        """All of it in base 64."""
        return base64.b64encode(b"".join(self._chunks)).decode("ascii")

    def _pack(self, body: Body) -> tuple[bytes, list[int]]:
        vertices, triangles = _without_slivers(np.rint(body.mesh[0] / self.step), body.mesh[1])
        discs = np.rint(np.array(body.discs, dtype=np.float64).reshape(-1, 4) / self.step)
        chunk = b"".join(
            [
                vertices.astype("<i2").tobytes(),
                triangles.astype("<u2").tobytes(),
                discs.astype("<i2").tobytes(),
            ]
        )
        return chunk, [len(vertices), len(triangles), len(discs)]


def _without_slivers(vertices: Array, triangles: Indices) -> tuple[Array, Indices]:
    """What is left once vertices were rounded onto each other."""
    if len(vertices) > 0xFFFF:
        raise ValueError(f"a mesh of {len(vertices)} vertices is more than 16 bits count")
    vertices, triangles = in_order(vertices, triangles)
    return vertices, triangles
