"""Drawers and lids on their way out, against what they pass."""

import math
from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.motions import check_motions
from fitout.model.finding import Severity
from fitout.model.module import Joint, JointKind, Motion, MotionKind

Make = Callable[..., Any]


def slide(travel: float = 500.0, module: str = "a") -> Motion:
    return Motion(
        name="drawer",
        module=module,
        kind=MotionKind.SLIDE,
        direction=(-1.0, 0.0, 0.0),
        travel=travel,
    )


@pytest.fixture
def drawer(panel: Make) -> Any:
    """From 100 to 600 forward, 100 to 110 up."""
    return panel("a/drawer", (100.0, 600.0), (0.0, 200.0), 100.0, moves="drawer")


def test_a_free_drawer_passes_through_the_shut_tailgate(
    subject: Make, module: Make, drawer: Any
) -> None:
    """It is drawn out with the tailgate open: that is not in its way."""
    (finding,) = check_motions(subject(module("a", drawer, motions=(slide(),))))
    assert finding.severity is Severity.PASS
    assert finding.where == "a/drawer"
    assert (finding.value, finding.limit, finding.margin) == (1.5, 1.5, 0.0)
    assert "by its full 500 mm" in finding.sentence


@pytest.mark.parametrize(("gap", "severity"), [(1.6, Severity.PASS), (1.2, Severity.FAIL)])
def test_it_keeps_its_distance_from_what_it_passes(
    subject: Make, module: Make, panel: Make, drawer: Any, gap: float, severity: Severity
) -> None:
    """A strip 1.2 above the way out, not above the drawer at rest."""
    strip = panel("b/strip", (20.0, 60.0), (0.0, 200.0), 110.0 + gap)
    looked_at = subject(module("a", drawer, motions=(slide(),)), module("b", strip))
    (finding,) = check_motions(looked_at)
    assert finding.severity is severity
    if severity is Severity.FAIL:
        assert finding.value == pytest.approx(1.2)
        assert finding.margin == pytest.approx(-0.3)
        assert "on its way a/drawer comes within 1.2 mm of b/strip" in finding.sentence


def test_it_does_not_run_into_what_stands_behind(
    subject: Make, module: Make, panel: Make, drawer: Any
) -> None:
    """A rail stands 4 into the way; a shorter drawer does not reach it."""
    rail = panel("b/rail", (20.0, 60.0), (0.0, 200.0), 106.0)
    looked_at = subject(module("a", drawer, motions=(slide(),)), module("b", rail))
    (finding,) = check_motions(looked_at)
    assert (finding.value, finding.limit, finding.unit) == (
        pytest.approx(40.0, abs=1e-3),
        500,
        "mm",
    )
    assert "comes out by 40.0 of its 500 mm only: there a/drawer meets b/rail" in finding.sentence
    short = subject(module("a", drawer, motions=(slide(38.0),)), module("b", rail))
    assert next(check_motions(short)).severity is Severity.PASS


def test_joined_parts_and_those_that_move_with_it_are_no_obstacle(
    subject: Make, module: Make, panel: Make, drawer: Any
) -> None:
    runner = panel("a/runner", (50.0, 600.0), (200.0, 210.0), 100.0)
    front = panel("a/front", (80.0, 100.0), (0.0, 200.0), 100.0, moves="drawer")
    parts = (drawer, runner, front)
    alone = check_motions(subject(module("a", *parts, motions=(slide(),))))
    assert next(alone).severity is Severity.FAIL
    joints = (
        Joint("a/drawer", "a/runner", JointKind.SLIDES),
        Joint("a/front", "a/runner", JointKind.SLIDES),
    )
    looked_at = subject(module("a", *parts, motions=(slide(),), joints=joints))
    assert next(check_motions(looked_at)).severity is Severity.PASS


def test_a_lid_swings_clear_of_the_roof(subject: Make, module: Make, panel: Make) -> None:
    """A lid 200 deep hinged at its front edge, 60 below the roof, can't open by 90°."""
    hinge = Motion(
        name="lid",
        module="a",
        kind=MotionKind.HINGE,
        direction=(0.0, 1.0, 0.0),
        point=(400.0, 0.0, 840.0),
        travel=90.0,
    )
    lid = panel("a/lid", (200.0, 400.0), (0.0, 300.0), 830.0, moves="lid")
    (finding,) = check_motions(subject(module("a", lid, motions=(hinge,))))
    assert finding.severity is Severity.FAIL
    assert finding.value == pytest.approx(math.degrees(math.asin(60.0 / 200.0)), abs=1e-3)
    assert finding.unit == "°"
    assert "opens by 17.5 of its 90 ° only" in finding.sentence
    assert "bay/roof" in finding.sentence
    low = panel("a/lid", (200.0, 400.0), (0.0, 300.0), 630.0, moves="lid")
    lower = Motion(
        name="lid",
        module="a",
        kind=MotionKind.HINGE,
        direction=(0.0, 1.0, 0.0),
        point=(400.0, 0.0, 640.0),
        travel=90.0,
    )
    (finding,) = check_motions(subject(module("a", low, motions=(lower,))))
    assert finding.severity is Severity.PASS
    assert "opens by its full 90 °" in finding.sentence


def test_lifting_out_is_not_swept(subject: Make, module: Make, drawer: Any) -> None:
    lift = Motion(
        name="lift", module="a", kind=MotionKind.REMOVE, direction=(-1.0, 0.0, 0.0), travel=900.0
    )
    assert list(check_motions(subject(module("a", drawer, motions=(lift,))))) == []


def test_a_design_fails_when_something_stands_behind_the_bumper(
    evaluated: Make, only: Make
) -> None:
    """A place to be kept clear 300 to 200 behind the sill, 20 to 120 up, is in the way."""
    drawers = "drawers: {kind: drawers, width: 700, height: 400, columns: 1, stack: [{}]}"
    good = only(evaluated(drawers), "motion")
    assert [f.severity for f in good] == [Severity.PASS]
    zone = (
        "{name: hitch, side: floor, from: -300, to: -200, left: 50, right: -50, above: 20, "
        "up_to: 120}"
    )
    (finding,) = only(evaluated(drawers, bay=f"keep_clear: [{zone}]"), "motion", Severity.FAIL)
    assert "bay/hitch" in finding.sentence
    assert finding.value == pytest.approx(208.0, abs=0.01)
    assert "comes out by 208.0 of its 900 mm only" in finding.sentence
