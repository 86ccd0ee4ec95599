"""Exact solids of parts, for STEP and for views: arcs are arcs, holes and pockets are cut.

Built on the OCC kernel (the package `cadquery-ocp`, on which cadquery stands). Importing
it takes most of a second, so only writers that need exact solids import this file.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager

import numpy as np
import numpy.typing as npt
from OCP.BRep import BRep_Builder
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakePolygon,
    BRepBuilderAPI_MakeSolid,
    BRepBuilderAPI_MakeWire,
    BRepBuilderAPI_Sewing,
)
from OCP.BRepLib import BRepLib
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakeCylinder, BRepPrimAPI_MakePrism
from OCP.gp import gp_Ax2, gp_Circ, gp_Dir, gp_Pln, gp_Pnt, gp_Trsf, gp_Vec
from OCP.TopAbs import TopAbs_ShapeEnum
from OCP.TopExp import TopExp_Explorer
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS, TopoDS_Compound, TopoDS_Shape, TopoDS_Solid, TopoDS_Wire
from OCP.TopTools import TopTools_ListOfShape

from fitout.clearance.convex import facets
from fitout.documents.export import ExportError
from fitout.model.item import Piece
from fitout.model.module import Part
from fitout.model.outline import Loop, Outline, arc_of
from fitout.model.panel import Bar, Face, Hole, Panel, Pocket
from fitout.model.placement import Placement

Array = npt.NDArray[np.float64]

_STAND_OUT = 1.0
"""How far (mm) a cutting tool stands out of the face it enters by."""

_CLEAR = 0.01
"""Through holes nearer (mm) than this to an edge or another hole are cut by the kernel."""


class SolidError(ExportError):
    """The kernel could not make a part: which part, in which operation, and why."""

    def __init__(self, part: Part, operation: str, reason: str) -> None:
        self.module, self.part, self.operation = part.module, part.name, operation
        super().__init__(
            f"module {part.module}, part {part.name}: the geometry kernel failed to "
            f"{operation} ({reason})"
        )


@contextmanager
def _border(part: Part, operation: str) -> Iterator[None]:
    """Turn whatever the kernel raises into a SolidError that names the part."""
    try:
        yield
    except Exception as error:
        # The kernel's exceptions have no base class of their own.
        of_kernel = type(error).__module__.startswith("OCP.")
        if not of_kernel and not isinstance(error, ArithmeticError | RuntimeError | ValueError):
            raise
        reason = str(error).strip() or type(error).__name__
        raise SolidError(part, operation, reason) from error


def solid_of(part: Part) -> TopoDS_Shape:
    """The exact solid of a part in bay coordinates, mm.

    An item of several pieces comes as a compound of solids. Raises SolidError.
    """
    solid = local_solid(part)
    with _border(part, "place the solid"):
        return solid.Moved(location(part.placement))


def location(placement: Placement) -> TopLoc_Location:
    """A placement as the kernel's rigid location."""
    matrix = placement.matrix
    transformation = gp_Trsf()
    transformation.SetValues(*matrix.ravel().tolist())
    return TopLoc_Location(transformation)


def local_solid(part: Part) -> TopoDS_Shape:
    """The exact solid of a part in its own axes (u, v, w); raises SolidError."""
    if isinstance(part, Panel):
        return _panel(part)
    if isinstance(part, Bar):
        return _bar(part)
    solids: list[TopoDS_Shape] = []
    for number, piece in enumerate(part.pieces, start=1):
        with _border(part, f"make convex piece {number} of {len(part.pieces)}"):
            solids.append(_polyhedron(piece))
    return solids[0] if len(solids) == 1 else _compound(solids)


def _panel(panel: Panel) -> TopoDS_Shape:
    in_face, to_cut = _sorted_holes(panel)
    with _border(panel, "extrude the outline"):
        if panel.outline.area * panel.thickness <= 0.0:
            raise ValueError("it encloses no volume")
        body = _prism(panel.outline, in_face, 0.0, panel.thickness)
    tools: list[TopoDS_Shape] = []
    for hole in to_cut:
        with _border(panel, f"drill {hole.diameter:g} mm at ({hole.x:g}, {hole.y:g})"):
            tools.append(_drill(hole, panel.thickness))
    for pocket in panel.pockets:
        with _border(panel, f"shape a {pocket.purpose} {pocket.depth:g} mm deep"):
            tools.append(_pocket(pocket, panel.thickness))
    if not tools:
        return body
    with _border(panel, f"cut {len(to_cut)} holes and {len(panel.pockets)} pockets"):
        return _cut(body, tools)


def _sorted_holes(panel: Panel) -> tuple[list[Hole], list[Hole]]:
    """Through holes that stand free in the outline, and the holes that must be cut.

    A free through hole becomes a circle of the face that is extruded: exact, and many
    times quicker than a cut.
    """
    through = [h for h in panel.holes if h.depth is None or h.depth >= panel.thickness]
    to_cut = [h for h in panel.holes if h not in through]
    if not through:
        return [], to_cut
    loops = (panel.outline.outer, *panel.outline.inner)
    chords = [loop.chords(grows=False) for loop in loops]
    centres = np.array([[h.x, h.y] for h in through])
    radii = np.array([h.diameter / 2.0 for h in through])
    free = np.array([_inside(chords[0], c) for c in centres])
    for loop in chords[1:]:
        free &= ~np.array([_inside(loop, c) for c in centres])
    for loop in chords:
        free &= _distances(loop, centres) > radii + _CLEAR
    between = np.linalg.norm(centres[:, None] - centres[None], axis=2)
    np.fill_diagonal(between, np.inf)
    free &= np.all(between > radii[:, None] + radii[None] + _CLEAR, axis=1)
    return (
        [h for h, ok in zip(through, free, strict=True) if ok],
        to_cut + [h for h, ok in zip(through, free, strict=True) if not ok],
    )


def _inside(polygon: Array, point: Array) -> bool:
    x, y = polygon.T
    nx, ny = np.roll(polygon, -1, axis=0).T
    crossed = (y > point[1]) != (ny > point[1])
    rise = np.where(crossed, ny - y, 1.0)
    right = x + (point[1] - y) / rise * (nx - x) > point[0]
    return bool(np.count_nonzero(crossed & right) % 2)


def _distances(polygon: Array, points: Array) -> Array:
    """Distance of each point from the polygon's edges."""
    along = np.roll(polygon, -1, axis=0) - polygon
    away = points[:, None] - polygon[None]
    share = np.einsum("ijk,jk->ij", away, along) / np.einsum("jk,jk->j", along, along)
    foot = share.clip(0.0, 1.0)[..., None] * along
    return np.asarray(np.linalg.norm(away - foot, axis=2).min(axis=1))


def _prism(outline: Outline, holes: Sequence[Hole], low: float, high: float) -> TopoDS_Shape:
    face = BRepBuilderAPI_MakeFace(
        gp_Pln(gp_Pnt(0.0, 0.0, low), gp_Dir(0.0, 0.0, 1.0)),
        _wire(outline.outer.anticlockwise(), low),
        True,
    )
    for loop in outline.inner:
        face.Add(_wire(loop.anticlockwise().reversed(), low))
    for hole in holes:
        axes = gp_Ax2(gp_Pnt(hole.x, hole.y, low), gp_Dir(0.0, 0.0, -1.0))
        circle = BRepBuilderAPI_MakeEdge(gp_Circ(axes, hole.diameter / 2.0)).Edge()
        face.Add(BRepBuilderAPI_MakeWire(circle).Wire())
    return BRepPrimAPI_MakePrism(face.Face(), gp_Vec(0.0, 0.0, high - low)).Shape()


def _wire(loop: Loop, w: float) -> TopoDS_Wire:
    """The loop as lines and true arcs in the plane at height `w`."""
    wire = BRepBuilderAPI_MakeWire()
    for a, b in loop.segments():
        start, end = gp_Pnt(a.x, a.y, w), gp_Pnt(b.x, b.y, w)
        if start.Distance(end) < 1e-6:
            continue
        if a.bulge:
            arc = arc_of(a, b)
            up = gp_Dir(0.0, 0.0, 1.0 if arc.sweep > 0.0 else -1.0)
            circle = gp_Circ(gp_Ax2(gp_Pnt(*arc.centre, w), up), arc.radius)
            wire.Add(BRepBuilderAPI_MakeEdge(circle, start, end).Edge())
        else:
            wire.Add(BRepBuilderAPI_MakeEdge(start, end).Edge())
    return wire.Wire()


def _drill(hole: Hole, thickness: float) -> TopoDS_Shape:
    depth = thickness if hole.depth is None else hole.depth
    low, high = _span(hole.face, depth, thickness)
    axes = gp_Ax2(gp_Pnt(hole.x, hole.y, low), gp_Dir(0.0, 0.0, 1.0))
    return BRepPrimAPI_MakeCylinder(axes, hole.diameter / 2.0, high - low).Shape()


def _pocket(pocket: Pocket, thickness: float) -> TopoDS_Shape:
    low, high = _span(pocket.face, pocket.depth, thickness)
    return _prism(Outline(pocket.loop), (), low, high)


def _span(face: Face, depth: float, thickness: float) -> tuple[float, float]:
    """From where to where along w a tool cuts, standing out of the faces it passes."""
    through = depth >= thickness
    if face is Face.A:
        return (-_STAND_OUT if through else thickness - depth), thickness + _STAND_OUT
    return -_STAND_OUT, (thickness + _STAND_OUT if through else depth)


def _cut(body: TopoDS_Shape, tools: Sequence[TopoDS_Shape]) -> TopoDS_Shape:
    """`body` less all `tools`, in one operation."""
    arguments, cutters = TopTools_ListOfShape(), TopTools_ListOfShape()
    arguments.Append(body)
    for tool in tools:
        cutters.Append(tool)
    cut = BRepAlgoAPI_Cut()
    cut.SetArguments(arguments)
    cut.SetTools(cutters)
    cut.Build()
    if not cut.IsDone():
        raise ValueError("the cut did not finish")
    solids = _solids(cut.Shape())
    if not solids:
        raise ValueError("nothing is left")
    return solids[0] if len(solids) == 1 else _compound(solids)


def _solids(shape: TopoDS_Shape) -> list[TopoDS_Shape]:
    found: list[TopoDS_Shape] = []
    explorer = TopExp_Explorer(shape, TopAbs_ShapeEnum.TopAbs_SOLID)
    while explorer.More():
        found.append(explorer.Current())
        explorer.Next()
    return found


def _compound(solids: Sequence[TopoDS_Shape]) -> TopoDS_Compound:
    compound, builder = TopoDS_Compound(), BRep_Builder()
    builder.MakeCompound(compound)
    for solid in solids:
        builder.Add(compound, solid)
    return compound


def _bar(bar: Bar) -> TopoDS_Shape:
    section = bar.section
    with _border(bar, "make the bar"):
        body = BRepPrimAPI_MakeBox(bar.length, section.width, section.height).Shape()
        tools: list[TopoDS_Shape] = []
        if section.wall is not None:
            wall = section.wall
            tools.append(
                BRepPrimAPI_MakeBox(
                    gp_Pnt(-_STAND_OUT, wall, wall),
                    gp_Pnt(bar.length + _STAND_OUT, section.width - wall, section.height - wall),
                ).Shape()
            )
    for along, diameter in bar.holes:
        with _border(bar, f"drill {diameter:g} mm at {along:g} mm"):
            hole = Hole(along, section.width / 2.0, diameter)
            tools.append(_drill(hole, section.height))
    with _border(bar, f"hollow the bar and drill {len(bar.holes)} holes"):
        return _cut(body, tools) if tools else body


def _polyhedron(piece: Piece) -> TopoDS_Solid:
    """The convex hull of the piece's corners as a solid with flat faces."""
    sewing = BRepBuilderAPI_Sewing(1e-6)
    for corners in facets(np.array(piece, dtype=np.float64)):
        polygon = BRepBuilderAPI_MakePolygon()
        for corner in corners.tolist():
            polygon.Add(gp_Pnt(*corner))
        polygon.Close()
        sewing.Add(BRepBuilderAPI_MakeFace(polygon.Wire(), True).Face())
    sewing.Perform()
    explorer = TopExp_Explorer(sewing.SewedShape(), TopAbs_ShapeEnum.TopAbs_SHELL)
    if not explorer.More():
        raise ValueError("its corners enclose no volume")
    solid = BRepBuilderAPI_MakeSolid(TopoDS.Shell_s(explorer.Current())).Solid()
    BRepLib.OrientClosedSolid_s(solid)
    return solid
