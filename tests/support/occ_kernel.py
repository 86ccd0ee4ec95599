"""Parts and obstacles as the geometry kernel (OCC) takes them, for tests that hold to it."""

from dataclasses import replace
from typing import Any

from fitout.model.bay import Obstacle
from fitout.model.module import Part
from fitout.model.panel import Bar, Panel


def plain(part: Part) -> Part:
    """The part as the clearance engine takes it: nothing drilled, no tube hollow."""
    if isinstance(part, Panel):
        return replace(part, holes=())
    if isinstance(part, Bar):
        return replace(part, holes=(), section=replace(part.section, wall=None))
    return part


def mesh_solid(obstacle: Obstacle) -> Any:
    """The OCC solid within an obstacle's triangles."""
    from OCP.BRepBuilderAPI import (
        BRepBuilderAPI_MakeFace,
        BRepBuilderAPI_MakePolygon,
        BRepBuilderAPI_MakeSolid,
        BRepBuilderAPI_Sewing,
    )
    from OCP.BRepLib import BRepLib
    from OCP.gp import gp_Pnt
    from OCP.TopAbs import TopAbs_ShapeEnum
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    sewing = BRepBuilderAPI_Sewing(1e-6)
    for triangle in obstacle.triangles:
        corners = [gp_Pnt(*obstacle.vertices[k].tolist()) for k in triangle]
        polygon = BRepBuilderAPI_MakePolygon(*corners, True)
        sewing.Add(BRepBuilderAPI_MakeFace(polygon.Wire(), True).Face())
    sewing.Perform()
    explorer = TopExp_Explorer(sewing.SewedShape(), TopAbs_ShapeEnum.TopAbs_SHELL)
    solid = BRepBuilderAPI_MakeSolid(TopoDS.Shell_s(explorer.Current())).Solid()
    BRepLib.OrientClosedSolid_s(solid)
    return solid
