"""Boxes of built panels, and which of them reach a place."""

import pytest

from fitout.catalogue import load
from fitout.model.module import Berth, Module
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Panel
from fitout.model.placement import (
    Placement,
    across,
    across_face_rear,
    along,
    along_face_left,
    flat,
    flat_face_down,
)
from fitout.modules.neighbours import box_of, panels_reaching

BOARD = load().sheets["birch ply 12"]


def panel(placement: Placement, name: str = "p") -> Panel:
    outline = Outline(rectangle(100.0, 40.0))
    return Panel(name=name, module="m", outline=outline, board=BOARD, placement=placement)


@pytest.mark.parametrize(
    ("helper", "expected"),
    [
        (flat, (10, 110, 20, 60, 30, 42)),
        (flat_face_down, (10, 110, -20, 20, 18, 30)),
        (along, (10, 110, 8, 20, 30, 70)),
        (along_face_left, (-90, 10, 20, 32, 30, 70)),
        (across, (10, 22, 20, 120, 30, 70)),
        (across_face_rear, (-2, 10, -80, 20, 30, 70)),
    ],
    ids=lambda v: getattr(v, "__name__", ""),
)
def test_box_of_a_panel_however_it_stands(helper, expected):
    box = box_of(panel(helper(10.0, 20.0, 30.0)))
    assert (box.x0, box.x1, box.y0, box.y1, box.z0, box.z1) == pytest.approx(expected)


def test_what_reaches_or_touches_a_room():
    room = Berth(x0=0.0, x1=100.0, y0=0.0, y1=100.0, z0=0.0, z1=100.0)
    panels = (
        panel(flat(50.0, 50.0, 50.0), "inside"),
        panel(flat(100.0, 50.0, 50.0), "touching"),
        panel(flat(100.5, 50.0, 50.0), "near"),
        panel(flat(50.0, 50.0, 300.0), "above"),
    )
    module = Module(name="m", kind="drawers", berth=None, panels=panels)
    assert [p.name for p, _ in panels_reaching([module], room)] == ["inside", "touching"]
    assert [p.name for p, _ in panels_reaching([module], room, 1.0)] == [
        "inside",
        "touching",
        "near",
    ]
