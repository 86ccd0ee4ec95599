"""Bolt and striker of every latch of the example designs against the OCC geometry kernel.

Case and striker are put where the holes drilled in the two panels hold them, from the
catalogue's sizes; the latch's own record is not asked where they are. OCC (Open CASCADE, through
the package cadquery-ocp) then tells what bolt and lip have in common: nothing while shut; once
the part moves the bolt's width times what it reaches behind the lip times how far it is in;
nothing again with the bolt drawn back. M4 screws of their full diameter pass the drilled solids.
"""

import functools
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from fitout import workflow
from fitout.checks import Memory
from fitout.checks.latch_fit import meeting
from fitout.model.latch import Latch
from fitout.model.module import Fitout, Motion, MotionKind
from fitout.model.panel import Panel
from fitout.modules.assemble import assemble

DESIGNS = sorted((Path(__file__).resolve().parents[2] / "designs").glob("*.yaml"))
INTO = 1.0
"""How far the bolt is moved, of which the play is lost, mm."""

each_design = pytest.mark.parametrize("path", DESIGNS, ids=lambda p: p.stem)


@functools.cache
def built(path: Path) -> Fitout:
    design = workflow.load(path)
    setting, _ = workflow.arranged(design, Memory())
    return assemble(design.name, setting)


def latches(path: Path) -> list[tuple[Latch, Motion, Panel, Panel]]:
    fitout = built(path)
    panels = {p.id: p for p in fitout.panels()}
    motions = {m.id: m for module in fitout.modules for m in module.motions}
    found = [latch for module in fitout.modules for latch in module.latches]
    return [(n, motions[n.motion_id], panels[n.panel], panels[n.striker_panel]) for n in found]


def middle_of_holes(panel: Panel, purpose: str, near: Any, face: Any) -> Any:
    """The middle between the two holes of a purpose nearest to a point, on the face looked at."""
    holes = [
        np.array(panel.placement.at(h.x, h.y))
        for h in panel.holes
        if h.purpose == purpose and h.depth is None
    ]
    holes.sort(key=lambda p: float(np.linalg.norm(np.cross(p - near, face))))
    middle = (holes[0] + holes[1]) / 2.0
    # On which face: the one that looks along `face`.
    w = np.array(panel.placement.w)
    return middle + w * (panel.thickness if float(w @ face) > 0.0 else 0.0)


def box(corner: Any, axes: Any, low: Any, size: Any) -> Any:
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt

    origin = np.array(corner) + axes.T @ np.array(low)
    frame = gp_Ax2(gp_Pnt(*origin.tolist()), gp_Dir(*axes[2].tolist()), gp_Dir(*axes[0].tolist()))
    return BRepPrimAPI_MakeBox(frame, *[float(s) for s in size]).Shape()


def moved(shape: Any, shift: Any = None, turn: Any = None) -> Any:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
    from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec

    way = gp_Trsf()
    if shift is not None:
        way.SetTranslation(gp_Vec(*np.array(shift).tolist()))
    else:
        point, axis, angle = turn
        way.SetRotation(gp_Ax1(gp_Pnt(*point), gp_Dir(*axis)), angle)
    return BRepBuilderAPI_Transform(shape, way, True).Shape()


def common(a: Any, b: Any, volume: Any) -> float:
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Common

    return float(volume(BRepAlgoAPI_Common(a, b).Shape()))


@each_design
def test_the_bolt_is_caught_by_the_lip_and_let_go_when_drawn_back(path, occ_volume):
    looked_at = latches(path)
    assert looked_at
    for latch, motion, moving, still in looked_at:
        kind, striker = latch.type, latch.striker
        axes = np.array([latch.across, latch.throw, latch.normal])
        throw, normal = axes[1], axes[2]
        held = middle_of_holes(moving, "latch", np.array(latch.root), normal)
        end = held + throw * kind.screw_inset
        caught = middle_of_holes(still, "striker", np.array(latch.strikes), -throw)
        lip_at = caught - normal * striker.screw_inset
        bolt = box(
            end,
            axes,
            (-kind.bolt_width / 2.0, 0.0, kind.bolt_at),
            (kind.bolt_width, kind.throw, kind.bolt_height),
        )
        lip = box(
            lip_at,
            axes,
            (-striker.lip_width / 2.0, -striker.lip, -striker.lip_thickness),
            (striker.lip_width, striker.lip, striker.lip_thickness),
        )
        assert common(bolt, lip, occ_volume) == pytest.approx(0.0, abs=1e-6)
        reach = kind.throw - float((lip_at - throw * striker.lip - end) @ throw)
        assert reach == pytest.approx(meeting(latch).engagement)
        if motion.kind is MotionKind.SLIDE:
            away = moved(bolt, shift=INTO * np.array(motion.direction))
            expected = kind.bolt_width * reach * (INTO - meeting(latch).play)
            assert common(away, lip, occ_volume) == pytest.approx(expected, rel=1e-6)
        else:
            arm = float(np.linalg.norm(np.cross(motion.direction, end - np.array(motion.point))))
            away = moved(bolt, turn=(motion.point, motion.direction, INTO / arm))
            least = 0.5 * kind.bolt_width * reach * (INTO - meeting(latch).play)
            assert common(away, lip, occ_volume) > least
        drawn = moved(away, shift=-(reach + 0.3) * throw)
        assert common(drawn, lip, occ_volume) == pytest.approx(0.0, abs=1e-6)


@each_design
def test_the_bolts_that_hold_case_and_striker_pass_the_drilled_boards(path, occ_volume):
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt

    from fitout.documents.solids import solid_of

    for latch, _, moving, still in latches(path):
        through = {
            moving: (latch.case_holes, latch.normal),
            still: (latch.striker_holes, latch.throw),
        }
        for panel, (points, axis) in through.items():
            solid = solid_of(panel)
            for point in points:
                start = np.array(point) - 30.0 * np.array(axis)
                shank = BRepPrimAPI_MakeCylinder(
                    gp_Ax2(gp_Pnt(*start.tolist()), gp_Dir(*axis)), 2.0, 60.0
                ).Shape()
                assert common(shank, solid, occ_volume) == pytest.approx(0.0, abs=1e-6)
                wide = BRepPrimAPI_MakeCylinder(
                    gp_Ax2(gp_Pnt(*start.tolist()), gp_Dir(*axis)), 3.0, 60.0
                ).Shape()
                # A rim of 0.75 mm of the board is left within 3 mm of the axis.
                rim = math.pi * (3.0**2 - 2.25**2) * panel.thickness
                assert common(wide, solid, occ_volume) == pytest.approx(rim, rel=1e-3)
