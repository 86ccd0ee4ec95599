"""Ways to bolts: what has to be out of them, and bolts nothing comes to."""

import dataclasses
from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.tool_access import bolts_of, check_tool_access, ways_to_bolts
from fitout.model.finding import Severity
from fitout.model.module import Fixing, Motion, MotionKind
from fitout.model.panel import Hole

Make = Callable[..., Any]


@pytest.fixture
def bolted(module: Make, panel: Make) -> Callable[..., Any]:
    """A base 10 thick with one M8 bolt at 400 forward, and whatever stands about it."""

    def make(*parts: Any, **rest: Any) -> Any:
        base = panel("a/base", (100.0, 700.0), (-300.0, 300.0))
        fixing = Fixing(module="a", point=(400.0, 0.0, 0.0), article="bolt M8 x 40", anchor="eye")
        return module("a", base, *parts, fixings=(fixing,), needs_fixings=1, **rest)

    return make


def upright(item: Make, name: str, x: tuple[float, float], y: tuple[float, float]) -> Any:
    return item(f"a/{name}", x, y, (10.0, 200.0), article="a board, for this")


def test_a_bolt_is_found_with_its_head_on_the_panel(subject: Make, bolted: Make) -> None:
    made = subject(bolted())
    (bolt,) = bolts_of(made, made.modules["a"])
    assert bolt.point == (400.0, 0.0, 10.0)
    assert (bolt.name, bolt.through, bolt.diameter) == ("eye", "a/base", 8.0)


def test_bolts_to_the_module_below_count_too(subject: Make, module: Make, panel: Make) -> None:
    base = panel("a/base", (100.0, 700.0), (-300.0, 300.0), 200.0)
    hole = Hole(300.0, 320.0, 6.6, purpose="bolt to the module below")
    made = subject(module("a", dataclasses.replace(base, holes=(hole,))))
    (bolt,) = bolts_of(made, made.modules["a"])
    assert bolt.point == (400.0, 20.0, 210.0)


def test_an_open_base_is_reached_as_it_stands(subject: Make, bolted: Make) -> None:
    (found,) = check_tool_access(subject(bolted()))
    assert found.severity is Severity.PASS
    assert found.sentence.endswith("as it stands.")
    assert found.value == 300.0


def test_a_drawer_above_is_taken_out(subject: Make, bolted: Make, item: Make) -> None:
    drawer = item("a/box", (110.0, 690.0), (-290.0, 290.0), (20.0, 200.0), moves="drawer")
    motion = Motion(
        name="drawer", module="a", kind=MotionKind.SLIDE, direction=(-1.0, 0.0, 0.0), travel=500.0
    )
    (found,) = check_tool_access(subject(bolted(drawer, motions=(motion,))))
    assert found.severity is Severity.PASS
    assert "with a/drawer taken out" in found.sentence


def test_a_lid_above_is_opened_and_a_tank_lifted_out(
    subject: Make, bolted: Make, item: Make
) -> None:
    tank = item("a/tank", (110.0, 690.0), (-290.0, 290.0), (10.0, 200.0))
    lid = item("a/cover", (100.0, 700.0), (-300.0, 300.0), (880.0, 890.0), moves="lid")
    hinge = Motion(
        name="lid", module="a", kind=MotionKind.HINGE, direction=(0.0, 1.0, 0.0), travel=90.0
    )
    (found,) = check_tool_access(subject(bolted(tank, lid, motions=(hinge,))))
    assert found.severity is Severity.PASS
    assert "a/tank out" in found.sentence


def test_another_module_over_it_comes_later(
    subject: Make, bolted: Make, module: Make, panel: Make
) -> None:
    deck = panel("b/deck", (0.0, 1000.0), (-590.0, 590.0), 60.0)
    (found,) = check_tool_access(subject(bolted(), module("b", deck)))
    assert found.severity is Severity.PASS
    assert "with b not in" in found.sentence


def test_a_top_of_its_own_has_to_wait(subject: Make, bolted: Make, panel: Make) -> None:
    """60 over the head is less than a socket and ratchet take."""
    top = panel("a/top", (0.0, 1000.0), (-590.0, 590.0), 70.0)
    (found,) = check_tool_access(subject(bolted(top)))
    assert found.severity is Severity.CAUTION
    assert "once a/top is on" in found.sentence


def test_a_bolt_deep_in_the_vehicle_is_out_of_reach(
    subject: Make, module: Make, panel: Make
) -> None:
    """5 from the wall: no socket goes over its head."""
    base = panel("a/base", (100.0, 700.0), (300.0, 600.0))
    fixing = Fixing(module="a", point=(400.0, 595.0, 0.0), article="bolt M8 x 40", anchor="eye")
    made = subject(module("a", base, fixings=(fixing,), needs_fixings=1))
    (found,) = check_tool_access(made)
    assert found.severity is Severity.FAIL
    assert found.where == "a – eye"
    assert "bay/left wall" in found.sentence


def test_proposed_holes_are_not_looked_at(subject: Make, module: Make, panel: Make) -> None:
    fixing = Fixing(module="a", point=(400.0, 0.0, 0.0), article="bolt M8 x 40", anchor=None)
    made = subject(module("a", panel("a/base", (100.0, 700.0), (0.0, 300.0)), fixings=(fixing,)))
    assert list(check_tool_access(made)) == []


@pytest.mark.parametrize(("gap", "reached"), [(14.0, False), (24.0, True)])
def test_battens_beside_the_head_may_leave_no_room_for_the_socket(
    subject: Make, bolted: Make, panel: Make, gap: float, reached: bool
) -> None:
    """A socket for M8 is 22 across; the ratchet turns above battens of 10."""
    battens = [
        panel(f"a/batten {i}", x, y, 10.0)
        for i, (x, y) in enumerate(
            (
                ((400.0 + gap / 2.0, 460.0), (-60.0, 60.0)),
                ((340.0, 400.0 - gap / 2.0), (-60.0, 60.0)),
            )
        )
    ]
    made = subject(bolted(*battens))
    (way,) = ways_to_bolts(made, made.modules["a"])
    assert (way.cost == 0) is reached


def test_every_bolt_of_the_demos_is_reached_or_told(demo: Make) -> None:
    for name, late in (("touring-wagon", 0), ("small-hatch", 0), ("canopy-tub", 2)):
        found = list(check_tool_access(demo(name)))
        assert sum(f.severity is Severity.CAUTION for f in found) == late
        assert not [f for f in found if f.severity is Severity.FAIL]
        assert all(f.value >= 75.0 for f in found)
