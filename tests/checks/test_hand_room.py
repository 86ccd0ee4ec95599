"""Fingers behind finger holes, fronts before the shut tailgate."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.hand_room import check_hand_room
from fitout.model.design import BaySpec, SectionSpec
from fitout.model.finding import Severity
from fitout.model.module import Motion, MotionKind
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Panel
from fitout.model.placement import across_face_rear
from fitout.model.spec import Measured
from fitout.model.tailgate import TailgateSpec
from fitout.modules.joinery import hand_hole
from fitout.survey.bay import build_bay

Make = Callable[..., Any]
SLIDE = Motion(
    name="drawer", module="a", kind=MotionKind.SLIDE, direction=(-1.0, 0.0, 0.0), travel=300.0
)


@pytest.fixture
def front(board: Any) -> Callable[..., Panel]:
    """A front across the bay, its face A rearward, 10 thick, its rear face `at` forward."""

    def make(at: float, hole: bool = True) -> Panel:
        inner = (hand_hole(150.0, 100.0),) if hole else ()
        return Panel(
            name="front",
            module="a",
            outline=Outline(rectangle(300.0, 200.0), inner),
            board=board,
            placement=across_face_rear(at + 10.0, 150.0, 50.0),
            moves="drawer",
        )

    return make


@pytest.mark.parametrize(("behind", "severity"), [(24.0, Severity.FAIL), (26.0, Severity.PASS)])
def test_fingers_need_room_behind_the_hole(
    subject: Make,
    module: Make,
    item: Make,
    only: Make,
    front: Make,
    behind: float,
    severity: Severity,
) -> None:
    start = 100.0 + 10.0 + behind
    thing = item("a/thing", (start, start + 80.0), (-100.0, 100.0), (60.0, 200.0))
    made = subject(module("a", front(100.0), thing, motions=(SLIDE,)))
    (found,) = only(check_hand_room(made), "finger room")
    assert found.severity is severity
    assert found.value == pytest.approx(behind)
    assert found.where == "a/drawer"
    assert "a/thing" in found.sentence


def test_a_thing_beside_the_hole_leaves_it_free(
    subject: Make, module: Make, item: Make, only: Make, front: Make
) -> None:
    thing = item("a/thing", (112.0, 180.0), (60.0, 100.0), (60.0, 200.0))
    made = subject(module("a", front(100.0), thing, motions=(SLIDE,)))
    (found,) = only(check_hand_room(made), "finger room")
    assert found.value == 60.0


def test_a_front_without_a_hole_asks_for_no_fingers(
    subject: Make, module: Make, only: Make, front: Make
) -> None:
    made = subject(module("a", front(100.0, hole=False), motions=(SLIDE,)))
    assert only(check_hand_room(made), "finger room") == []


@pytest.mark.parametrize(("at", "severity"), [(22.5, Severity.FAIL), (31.0, Severity.PASS)])
def test_fronts_keep_from_the_shut_tailgate(
    subject: Make, module: Make, only: Make, front: Make, at: float, severity: Severity
) -> None:
    """An upright inner face 20 forward of the sill; 3 mm are wanted."""
    section = SectionSpec(at=Measured(0.0), widths={0.0: Measured(1200.0)}, roof=Measured(900.0))
    gate = TailgateSpec(inner_face={0.0: Measured(20.0), 900.0: Measured(20.0)})
    bay = build_bay(BaySpec(sections=(section,), front_wall=Measured(1000.0), tailgate=gate))
    made = subject(module("a", front(at), motions=(SLIDE,)), bay=bay)
    (found,) = only(check_hand_room(made), "front clearance")
    assert found.severity is severity
    assert found.value == pytest.approx(at - 20.0, abs=0.01)


def test_the_demos_keep_both(demo: Make, only: Make) -> None:
    found = list(check_hand_room(demo("touring-wagon")))
    assert {f.where for f in only(found, "front clearance")} == {"drawers", "fridge"}
    assert {f.severity for f in found} == {Severity.PASS}
