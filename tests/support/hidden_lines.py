"""Another kernel's visible lines, to hold ours against: OCC's exact hidden-line remover."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.GCPnts import GCPnts_UniformDeflection
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
from OCP.HLRAlgo import HLRAlgo_Projector
from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape
from OCP.TopAbs import TopAbs_ShapeEnum
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS, TopoDS_Shape

from fitout.documents.solids import solid_of
from fitout.documents.view import Eye
from fitout.documents.views.hidden_lines import once
from fitout.model.item import Item
from fitout.model.module import Part


def occ_visible(parts: Iterable[Part], eye: Eye) -> float:
    """The length in mm of all that is seen: true edges and silhouettes, each once."""
    remover = HLRBRep_Algo()
    for part in parts:
        bare = part if isinstance(part, Item) else replace(part, holes=())
        remover.Add(solid_of(bare))
    axes = gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(*eye.to_viewer), gp_Dir(*eye.rightward))
    remover.Projector(HLRAlgo_Projector(axes))
    remover.Update()
    remover.Hide()
    told = HLRBRep_HLRToShape(remover)
    segments = [
        segment
        for shape in (told.VCompound(), told.OutLineVCompound())
        if shape is not None and not shape.IsNull()
        for segment in _segments(shape)
    ]
    owners = np.zeros(len(segments), dtype=np.int64)
    _, apart = once(owners, np.array(segments))
    return float(np.linalg.norm(apart[:, 1] - apart[:, 0], axis=1).sum())


def _segments(shape: TopoDS_Shape) -> list[np.ndarray]:
    from OCP.BRepLib import BRepLib

    BRepLib.BuildCurves3d_s(shape)
    found = []
    explorer = TopExp_Explorer(shape, TopAbs_ShapeEnum.TopAbs_EDGE)
    while explorer.More():
        curve = BRepAdaptor_Curve(TopoDS.Edge_s(explorer.Current()))
        points = GCPnts_UniformDeflection(curve, 0.05)
        flat = np.array(
            [[points.Value(i).X(), points.Value(i).Y()] for i in range(1, points.NbPoints() + 1)]
        )
        found += [
            flat[i : i + 2]
            for i in range(len(flat) - 1)
            if np.linalg.norm(flat[i + 1] - flat[i]) > 1e-6
        ]
        explorer.Next()
    return found
