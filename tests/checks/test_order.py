"""Findings of order and removal."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.order import check_order, check_removal, steps
from fitout.checks.subject import Subject
from fitout.model.finding import Severity

DEMOS = ("touring-wagon", "canopy-tub", "small-hatch")


@pytest.mark.parametrize("design", DEMOS)
def test_a_demo_goes_together_and_comes_apart(design: str, demo: Callable[[str], Any]) -> None:
    there = demo(design)
    found = [*check_order(there), *check_removal(there)]
    assert not [f for f in found if f.severity is Severity.FAIL]
    assert sum(f.code == "order" and f.severity is Severity.PASS for f in found) == 1
    wholes = {f.where for f in found if f.code == "removal"}
    inside = {m.name for m in there.fitout.modules if m.berth is not None}
    assert {f"the whole of {name}" for name in inside} <= wholes


def test_the_tank_of_the_hatch_comes_out_after_the_drawers(demo: Callable[[str], Any]) -> None:
    found = {f.where: f for f in check_removal(demo("small-hatch"))}
    tank = found["tank: slim tank"]
    assert tank.value == 3.0
    assert tank.sentence == (
        "To take tank: slim tank out, first take out drawers: drawer 1 right, then drawers: "
        "drawer 1 left, then drawers: carcass; then take out tank: slim tank."
    )


def test_a_cycle_is_explained_all_round(hooked: Subject) -> None:
    (found,) = check_order(hooked)
    assert found.severity is Severity.FAIL
    assert found.where == "a: ring – b: dumbbell"
    assert found.sentence == (
        "There is no order in which all of it goes in: a: ring can't come out before b: dumbbell, "
        "which stands in its way; b: dumbbell can't come out before a: ring, which stands in its "
        "way."
    )
    assert {f.severity for f in check_removal(hooked)} == {Severity.FAIL}


def test_parts_that_hold_each_other_on_the_bench_are_told(hooked_in_one: Subject) -> None:
    failed = [f for f in check_order(hooked_in_one) if f.severity is Severity.FAIL]
    assert len(failed) == 1
    assert "a/ring and a/dumbbell" in failed[0].sentence


def test_what_fills_the_bay_has_no_way_that_was_tried(
    subject: Callable[..., Any], module: Callable[..., Any], item: Any, plain_bay: Any
) -> None:
    """Wedged under the roof and into both walls at once."""
    there = subject(module("a", item("a/x", (100, 999), (-620, 620), (0, 899))))
    (found,) = check_order(there)
    assert found.severity is Severity.UNCHECKED
    assert "No way was found" in found.sentence


def test_there_are_no_steps_while_wishes_collide(subject: Callable[..., Any], module: Any) -> None:
    assert steps(subject(module("a"), conflicts=("something",))) == ()
