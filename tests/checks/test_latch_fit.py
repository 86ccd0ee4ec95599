"""A drawer front of 10 mm under a top of 10 mm, its latch put together by hand.

The front's inner face is at 110 forward, the top's underside at 210 up. A finger catch ends
10.5 below the top: its bolt of 10 reaches to 209.5, the lip of 6.5 down to 203.5.
"""

import dataclasses
from collections.abc import Callable
from typing import Any

import pytest

from fitout import catalogue
from fitout.checks.latch_fit import faults, hand_room, knob, meeting, passed
from fitout.model.latch import Latch
from fitout.model.module import Motion, MotionKind
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Hole, Panel
from fitout.model.placement import across

Make = Callable[..., Any]
ROWS = catalogue.load()
DRAWN = Motion(
    name="drawer", module="a", kind=MotionKind.SLIDE, direction=(-1.0, 0.0, 0.0), travel=400.0
)
LATCH = Latch(
    motion="drawer",
    module="a",
    type=ROWS.latches["finger catch"],
    panel="a/front",
    root=(110.0, 0.0, 199.5),
    normal=(1.0, 0.0, 0.0),
    throw=(0.0, 0.0, 1.0),
    striker=ROWS.strikers["lip striker"],
    striker_panel="a/top",
    strikes=(115.5, 0.0, 210.0),
)


@pytest.fixture
def parts(board: Any, panel: Make) -> dict[str, Panel]:
    """Front and top with the holes that the latch wants, by id."""
    front = Panel(
        name="front",
        module="a",
        outline=Outline(rectangle(300.0, 200.0)),
        board=board,
        placement=across(100.0, -150.0, 5.0),
        holes=(Hole(136.5, 182.5, 4.5), Hole(163.5, 182.5, 4.5)),
        moves="drawer",
    )
    top = panel(
        "a/top",
        (90.0, 300.0),
        (-200.0, 200.0),
        210.0,
        holes=(Hole(29.5, 183.0, 4.5), Hole(29.5, 217.0, 4.5)),
    )
    return {"a/front": front, "a/top": top}


def test_a_sound_latch_has_no_fault(parts: Any) -> None:
    assert list(faults(LATCH, DRAWN, parts)) == []


def test_bolt_and_lip_are_measured_along_the_latch() -> None:
    met = meeting(LATCH)
    assert met.engagement == pytest.approx(6.0)
    assert met.play == pytest.approx(0.5)
    assert met.run == pytest.approx(4.0)
    assert met.beside == pytest.approx(0.0)


@pytest.mark.parametrize(("shift", "engagement"), [(2.0, 4.0), (6.5, -0.5)])
def test_a_sagging_drawer_draws_its_bolt_out_of_the_lip(shift: float, engagement: float) -> None:
    x, y, z = LATCH.root
    sagged = dataclasses.replace(LATCH, root=(x, y, z - shift))
    assert meeting(sagged).engagement == pytest.approx(engagement)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"panel": "a/top"}, "screwed to a/top, which does not move with it"),
        ({"striker_panel": ""}, "has no striker"),
        ({"striker_panel": "a/front"}, "its striker on a/front, which moves with it"),
        ({"root": (112.0, 0.0, 199.5)}, "its case 2.0 mm off the face of a/front"),
        ({"root": (110.0, 0.0, 202.0)}, "only 1.5 mm between its case and the lip"),
        ({"strikes": (115.5, 0.0, 212.0)}, "its striker 2.0 mm off the face of a/top"),
        ({"strikes": (115.5, 8.0, 210.0)}, "3.0 mm of its bolt beside the striker's lip"),
        ({"strikes": (113.0, 0.0, 210.0)}, "3.0 mm between bolt and lip"),
        ({"strikes": (117.0, 0.0, 210.0)}, "-1.0 mm between bolt and lip"),
        ({"lever": (0.0, 1.0, 0.0)}, "a lever that no finger hole leads to"),
        ({"passes": ("a/front",), "type": ROWS.latches["turn latch"]}, "no hole for its button"),
    ],
)
def test_what_is_wrong_is_said(parts: Any, change: dict[str, Any], words: str) -> None:
    latch = dataclasses.replace(LATCH, **change)
    found = list(faults(latch, DRAWN, parts))
    if change.get("root") == (110.0, 0.0, 202.0):
        # A case 2.5 higher also has its holes elsewhere.
        latch = dataclasses.replace(latch, root=(110.0, 0.0, 202.1))
        found = list(faults(latch, DRAWN, parts))
        words = "only 1.4 mm between its case and the lip"
    assert any(words in fault for fault in found), found


@pytest.mark.parametrize("bare", ["a/front", "a/top"])
def test_a_panel_that_was_not_drilled_is_told(parts: Any, bare: str) -> None:
    parts[bare] = dataclasses.replace(parts[bare], holes=())
    found = list(faults(LATCH, DRAWN, parts))
    assert len(found) == 2
    assert all(f"in {bare}" in fault for fault in found)


@pytest.mark.parametrize(
    "hole",
    [Hole(136.5, 182.5, 4.5, depth=8.0), Hole(136.5, 182.5, 4.0), Hole(137.0, 182.5, 4.5)],
    ids=["blind", "narrow", "beside"],
)
def test_a_hole_that_no_bolt_goes_through_is_none(parts: Any, hole: Hole) -> None:
    front = parts["a/front"]
    parts["a/front"] = dataclasses.replace(front, holes=(hole, front.holes[1]))
    (fault,) = faults(LATCH, DRAWN, parts)
    assert "no hole for its case in a/front, where there should be one 136.5, 182.5" in fault


def test_a_drawer_that_opens_forward_leaves_its_lip_behind(parts: Any) -> None:
    forward = dataclasses.replace(DRAWN, direction=(1.0, 0.0, 0.0))
    (fault,) = faults(LATCH, forward, parts)
    assert "lip on the wrong side" in fault


def test_a_lid_is_judged_by_the_way_it_starts(parts: Any) -> None:
    """The front taken as a flap hinged along its lower edge: its top starts rearward."""
    flap = Motion(
        name="drawer",
        module="a",
        kind=MotionKind.HINGE,
        direction=(0.0, -1.0, 0.0),
        travel=90.0,
        point=(110.0, 0.0, 5.0),
    )
    assert list(faults(LATCH, flap, parts)) == []
    inwards = dataclasses.replace(flap, direction=(0.0, 1.0, 0.0))
    assert any("wrong side" in fault for fault in faults(LATCH, inwards, parts))


@pytest.mark.parametrize(
    ("id_", "thickness", "words"),
    [
        ("a/front", 4.0, "is on 4.0 mm of board, and a finger catch serves 6 to 27 mm"),
        ("a/top", 5.0, "its striker on a/top, 5 mm thick, and it needs 6 mm"),
    ],
)
def test_a_panel_too_thin_is_told(parts: Any, id_: str, thickness: float, words: str) -> None:
    thin = dataclasses.replace(parts[id_].board, thickness=thickness)
    parts[id_] = dataclasses.replace(parts[id_], board=thin)
    assert any(words in fault for fault in faults(LATCH, DRAWN, parts))


def test_fingers_come_through_the_hole_or_from_in_front(parts: Any) -> None:
    behind = dataclasses.replace(LATCH, lever=(0.0, 1.0, 0.0))
    corners = hand_room(behind, 10.0)
    assert {x for x, _, _ in corners} == {110.0, 135.0}
    assert {y for _, y, _ in corners} == {18.0, 43.0}, "beside the case of 36"
    button = dataclasses.replace(LATCH, type=ROWS.latches["push-button latch"], passes=("a/front",))
    assert passed(button, parts) == 10.0
    assert {x for x, _, _ in hand_room(button, 10.0)} == {60.0, 100.0}
    assert {x for x, _, _ in knob(button, 10.0)} == {96.0, 100.0}
