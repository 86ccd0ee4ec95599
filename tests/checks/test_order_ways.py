"""The ways out that are tried, by hand."""

from collections.abc import Callable
from typing import Any

from fitout.checks.order_field import field_of
from fitout.checks.order_ways import BEHIND, OFF, ROOM, ways_of
from fitout.checks.subassemblies import sub_assemblies


def ways(there: Any) -> dict[str, Any]:
    subs = sub_assemblies(there)
    field = field_of(there, subs)
    return {sub.id: ways_of(there, field, sub) for sub in subs}


def test_what_stands_free_goes_straight_out(
    subject: Callable[..., Any], module: Callable[..., Any], item: Any
) -> None:
    (way,) = ways(subject(module("a", item("a/x", (200, 500), (-100, 100), (0, 300)))))["a: x"]
    assert way.shifts == ((-500.0 - BEHIND, 0.0, 0.0),)
    assert not way.blockers
    assert not way.turned


def test_it_is_lifted_over_what_is_behind_it_or_that_comes_out_first(
    subject: Callable[..., Any], module: Callable[..., Any], item: Any
) -> None:
    """Under a roof of 900 a block of 300 clears one of 400, but not one of 700."""
    here = module("a", item("a/x", (500, 900), (-500, 500), (0, 300)))
    for height, over in ((400, True), (700, False)):
        there = subject(here, module("b", item("b/x", (100, 400), (-500, 500), (0, height))))
        found = ways(there)["a: x"]
        if over:
            (way,) = found
            assert way.shifts[0] == (0.0, 0.0, height + ROOM)
            assert not way.blockers
        else:
            assert {way.blockers for way in found} == {frozenset({"b: x"})}


def test_what_is_wider_than_the_opening_is_turned_behind_its_place(
    subject: Callable[..., Any], module: Callable[..., Any], item: Any, narrow_bay: Any
) -> None:
    wide = module("a", item("a/x", (600, 700), (-400, 400), (0, 300)))
    rear = module("b", item("b/x", (100, 400), (0, 200), (0, 300)))
    (way,) = ways(subject(wide, rear, bay=narrow_bay))["a: x"]
    assert way.turned
    assert way.shifts == ((-OFF, 0.0, 0.0),)
    assert way.blockers == {"b: x"}
