"""The order of parts on the bench."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.order_bench import bench_of
from fitout.checks.subassemblies import sub_assemblies
from fitout.checks.subject import Subject

DEMOS = ("touring-wagon", "canopy-tub", "small-hatch")


@pytest.mark.parametrize("design", DEMOS)
def test_every_part_is_added_once_and_none_is_stuck(
    design: str, demo: Callable[[str], Any]
) -> None:
    there = demo(design)
    for sub in sub_assemblies(there):
        bench = bench_of(there, sub)
        assert not bench.stuck
        assert sorted(part for group in bench.groups for part in group) == sorted(sub.parts)


def test_a_grooved_bottom_goes_in_before_the_box_is_closed(demo: Callable[[str], Any]) -> None:
    there = demo("touring-wagon")
    drawer = next(s for s in sub_assemblies(there) if s.id == "drawers: drawer 1")
    order = [part for group in bench_of(there, drawer).groups for part in group]
    bottom = order.index("drawers/drawer 1 bottom")
    walls = [order.index(f"drawers/drawer 1 {w}") for w in ("left side", "right side", "back")]
    assert any(place < bottom for place in walls)
    assert any(place > bottom for place in walls)
    assert order[-1] == "drawers/drawer 1 front"


def test_a_carcass_is_built_on_its_base_slides_first_and_closed_by_its_top(
    demo: Callable[[str], Any],
) -> None:
    there = demo("touring-wagon")
    carcass = next(s for s in sub_assemblies(there) if s.id == "drawers: carcass")
    bench = bench_of(there, carcass)
    assert bench.groups[0] == ("drawers/base",)
    assert bench.groups[-1] == ("drawers/top",)
    assert dict(bench.fitted)["drawers/drawer 1 left slide"] == "drawers/left side"


def test_parts_that_hold_each_other_are_told(hooked_in_one: Subject) -> None:
    (sub,) = sub_assemblies(hooked_in_one)
    assert set(bench_of(hooked_in_one, sub).stuck) == {"a/ring", "a/dumbbell"}


@pytest.mark.parametrize("design", ["canopy-tub", "small-hatch"])
def test_between_two_columns_no_screw_is_driven_where_its_head_is_covered(
    design: str, demo: Callable[[str], Any]
) -> None:
    """The side that stands against the other column brings its back along."""
    there = demo(design)
    carcass = next(s for s in sub_assemblies(there) if s.id == "drawers: carcass")
    groups = bench_of(there, carcass).groups
    turn = {part.partition("/")[2]: i for i, group in enumerate(groups) for part in group}
    late = max(turn["right side left"], turn["left side right"])
    own = "right" if turn["left side right"] == late else "left"
    assert turn[f"back {own}"] == late
    other = "left" if own == "right" else "right"
    assert turn[f"back {other}"] < late
