"""Fore and aft: the ends of the bay, what stands behind, before and between what."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import pytest

from fitout.arrange.depths import depths
from fitout.model.design import ModuleSpec
from fitout.modules.drawers import DrawersSpec

Make = Callable[..., Any]

SEAT = "seat_back: {foot: 1000, leans: 20 deg, notches: [10 deg], top: 600}"
LEANING = "front_wall: 1000\n  tailgate: {inner_face: {0: 0, 800: 200}}"


@dataclass(frozen=True, kw_only=True)
class BetweenSpec(ModuleSpec):
    """Stands between two others."""

    between: tuple[str, ...] = ()


def test_a_filling_module_reaches_from_tailgate_to_wall(ask: Make, puzzle: Make) -> None:
    """3 mm to a wall for any, 8 for the fronts of drawers."""
    box, drawers = ask("box", None, 300.0, 300.0), ask("d", None, 300.0, 300.0, DrawersSpec())
    z = {"box": (0.0, 300.0), "d": (0.0, 300.0)}
    x, collide = depths(puzzle(box, drawers), z)
    assert x == {"box": (3.0, 997.0), "d": (8.0, 997.0)}
    assert collide == ()


def test_fixed_sizes_keep_to_the_rear_or_the_front(ask: Make, puzzle: Make) -> None:
    rear = ask("rear", 300.0, 300.0, 100.0)
    front = ask("front", 200.0, 300.0, 100.0, place="front")
    x, _ = depths(puzzle(rear, front), {"rear": (0.0, 100.0), "front": (0.0, 100.0)})
    assert x == {"rear": (3.0, 303.0), "front": (797.0, 997.0)}


def test_the_higher_the_module_the_further_the_seat_leans_over_it(arranged: Make) -> None:
    """Every notch counts, 5 mm square to the back; above its edge it goes straight up."""
    lean = math.radians(20.0)
    for height in (250.0, 600.0, 700.0):
        found = arranged(f"a: {{kind: drawers, height: {height:g}}}", bay=SEAT)
        reach = 1000.0 - min(height, 600.0) * math.tan(lean) - 5.0 / math.cos(lean)
        assert found.berths["a"].x1 == pytest.approx(reach, abs=1e-5)


@pytest.mark.parametrize(
    ("restraints", "hollow"),
    [("{raised: 150, middles: [300, -300]}", 30.0), ("{raised: 150}", 0.0)],
)
def test_a_barrier_keeps_behind_the_head_restraints(
    arranged: Make, restraints: str, hollow: float
) -> None:
    """Between its posts, 30 deep, they may stand; not where the posts are."""
    seat = f"foot: 1000, leans: 20 deg, top: 600, head_restraints: {restraints}"
    bay = f"seat_back: {{{seat}}}"
    found = arranged("a: {kind: barrier}", bay=bay)
    lean = math.radians(20.0)
    tip = (600.0 / math.cos(lean) + 150.0) * math.sin(lean)
    reach = 1000.0 - tip - 5.0 / math.cos(lean) + hollow
    assert found.berths["a"].x1 == pytest.approx(reach, abs=1e-5)
    (low,) = arranged("a: {kind: barrier, height: 560}", bay=bay).berths.values()
    assert low.x1 == pytest.approx(1000.0 - 560.0 * math.tan(lean) - 5.0 / math.cos(lean), abs=1e-5)


def test_a_module_on_another_meets_the_seat_further_back(arranged: Make) -> None:
    found = arranged(
        "a: {kind: drawers, height: 250}", "b: {kind: drawers, height: 250, on: a}", bay=SEAT
    )
    lean = math.radians(20.0)
    reach = [1000.0 - z * math.tan(lean) - 5.0 / math.cos(lean) for z in (250.0, 500.0)]
    assert [found.berths[n].x1 for n in "ab"] == pytest.approx(reach, abs=1e-5)


def test_the_leaning_tailgate_takes_room_from_what_is_high(arranged: Make) -> None:
    """It comes in by a quarter: at 400 by 100, and 8 square to it."""
    found = arranged("a: {kind: drawers, height: 400}", bay=LEANING)
    assert found.berths["a"].x0 == pytest.approx(100.0 + 8.0 * math.hypot(1.0, 0.25), abs=1e-5)


def test_behind_and_in_front_of(ask: Make, puzzle: Make) -> None:
    """Modules in a row keep twice the 1 mm between parts from each other."""
    a = ask("a", 300.0, 300.0, 100.0)
    b = ask("b", 250.0, 300.0, 100.0, ModuleSpec(in_front_of="a"))
    c = ask("c", None, 300.0, 100.0, ModuleSpec(in_front_of="b"))
    z = dict.fromkeys("abc", (0.0, 100.0))
    x, collide = depths(puzzle(c, b, a), z)
    assert x == {"a": (3.0, 303.0), "b": (305.0, 555.0), "c": (557.0, 997.0)}
    assert collide == ()
    behind = ask("a", 300.0, 300.0, 100.0, ModuleSpec(behind="b"))
    b = ask("b", 250.0, 300.0, 100.0)
    assert depths(puzzle(b, behind), z)[0]["b"] == (305.0, 555.0)


def test_a_module_may_ask_for_a_wider_gap(ask: Make, puzzle: Make) -> None:
    a = ask("a", 300.0, 300.0, 100.0, gap=12.0)
    b = ask("b", 250.0, 300.0, 100.0, ModuleSpec(in_front_of="a"))
    x, _ = depths(puzzle(a, b), dict.fromkeys("ab", (0.0, 100.0)))
    assert x["b"] == (315.0, 565.0)


def test_between(ask: Make, puzzle: Make) -> None:
    """The first name is the one ahead: here the bay's own end, then another module."""
    z = dict.fromkeys(("tank", "a", "b"), (0.0, 100.0))
    a = ask("a", None, 300.0, 100.0)
    tank = ask("tank", 150.0, 300.0, 100.0, BetweenSpec(between=("seat_back", "a")), place="front")
    x, collide = depths(puzzle(tank, a), z)
    assert x == {"a": (3.0, 845.0), "tank": (847.0, 997.0)}
    b = ask("b", 200.0, 300.0, 100.0)
    tank = ask("tank", 150.0, 300.0, 100.0, BetweenSpec(between=("b", "a")), place="front")
    x, collide = depths(puzzle(b, tank, a), z)
    assert x["a"][1] + 2.0 == x["tank"][0]
    assert x["tank"][1] + 2.0 == x["b"][0]
    assert collide == ()


def test_what_does_not_go_behind_each_other_collides(arranged: Make) -> None:
    found = arranged(
        "a: {kind: drawers, depth: 600, width: 500}",
        "b: {kind: drawers, depth: 500, width: 500, in_front_of: a}",
    )
    (conflict,) = found.conflicts
    # 600 + 500 + 2 between, 8 behind the fronts, 3 to the wall, in 1000.
    assert conflict.by == pytest.approx(113.0)
    assert conflict.axis == "fore and aft"
    assert {w.text for w in conflict.wishes} == {
        "a's depth of 600",
        "b's depth of 500",
        "a stands behind b",
        "a stays 8 ahead of the tailgate, at 8",
        "b stays behind the front wall, at 997 from the sill",
    }
    assert {w.text for w in conflict.wishes if w.gives} == {
        "a's depth of 600",
        "b's depth of 500",
        "a stands behind b",
    }
    assert {str(w.path[1]) for w in conflict.wishes if len(w.path) > 1} == {"a", "b"}


def test_what_stands_at_the_front_has_the_others_behind_it(ask: Make, puzzle: Make) -> None:
    """Untold, a rear module stops short of one at the front unless it passes above it."""
    tank = ask("tank", 150.0, 300.0, 100.0, place="front")
    beside, above = ask("a", None, 300.0, 100.0), ask("b", None, 300.0, 100.0)
    z = {"tank": (0.0, 100.0), "a": (0.0, 100.0), "b": (100.0, 200.0)}
    x, _ = depths(puzzle(tank, beside, above), z)
    assert x["a"] == (3.0, 845.0)
    assert x["b"] == (3.0, 997.0)


@pytest.mark.parametrize(("width", "reach"), [(700.0, 997.0), (900.0, 845.0)])
def test_a_bin_runs_past_a_narrow_tank(ask: Make, puzzle: Make, width: float, reach: float) -> None:
    """A bin that needs 200 beside a tank: 597 to the wall, less half the tank."""
    tank = ask("tank", 150.0, width, 100.0, place="front")
    side = ask("bin", None, 200.0, 100.0, lateral="left wall")
    z = dict.fromkeys(("tank", "bin"), (0.0, 100.0))
    assert depths(puzzle(tank, side), z)[0]["bin"] == (3.0, reach)


def test_a_module_on_another_lies_over_it(arranged: Make) -> None:
    found = arranged(
        "rear: {kind: drawers, depth: 400, height: 300}",
        "base: {kind: drawers, depth: 500, height: 300, in_front_of: rear}",
        "upper: {kind: drawers, depth: 460, height: 200, stack: [{}], on: base}",
        "filling: {kind: drawers, height: 200, stack: [{}], on: upper}",
    )
    assert found.span("base", "x") == (410.0, 910.0)
    low, high = found.span("upper", "x")
    assert 410.0 <= low < high <= 910.0
    assert found.span("filling", "x") == (low, high)
