"""The steps: all parts and all hardware once, in an order that each step names."""

from collections import Counter
from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.order import steps
from fitout.model.assembly import Step

DEMOS = ("touring-wagon", "canopy-tub", "small-hatch")


def step_for(there: Any, part: str, phase: str) -> Step:
    return next(s for s in steps(there) if part in s.parts and s.phase == phase)


@pytest.mark.parametrize("design", DEMOS)
def test_parts_and_hardware_are_used_once_each(design: str, demo: Callable[[str], Any]) -> None:
    there = demo(design)
    told = steps(there)
    placed = [part for step in told if step.phase == "vehicle" for part in step.parts]
    assert sorted(placed) == sorted(there.parts)
    made = [part for step in told if step.phase == "bench" for part in step.parts]
    assert len(made) == len(set(made))
    used: Counter[str] = Counter()
    for step in told:
        assert all(count > 0 for _, count in step.fasteners)
        used.update(dict(step.fasteners))
    bought: Counter[str] = Counter()
    for module in there.fitout.modules:
        for line in module.hardware:
            bought[line.article] += line.quantity
    assert used == bought


@pytest.mark.parametrize("design", DEMOS)
def test_steps_come_after_those_they_name(design: str, demo: Callable[[str], Any]) -> None:
    told = steps(demo(design))
    assert [step.number for step in told] == list(range(1, len(told) + 1))
    for step in told:
        assert all(before < step.number for before in step.after)
        assert step.people >= 1
        assert step.tool
        assert step.how.endswith(".")
    phases = [step.phase for step in told]
    assert phases == sorted(phases)


@pytest.mark.parametrize("design", DEMOS)
def test_every_joint_is_made_in_one_step(design: str, demo: Callable[[str], Any]) -> None:
    there = demo(design)
    made = Counter(pair for step in steps(there) for pair in step.joins)
    for joint in there.fitout.all_joints():
        if there.modules[there.parts[joint.a].module].berth is None:
            continue
        # A drawer's half of a slide is screwed on the bench, and engages in the vehicle.
        most = 2 if joint.kind == "on a slide" else 1
        assert 1 <= made[joint.a, joint.b] <= most, joint


def test_a_drawer_of_the_wagon_is_screwed_as_the_holes_say(demo: Callable[[str], Any]) -> None:
    there = demo("touring-wagon")
    front = step_for(there, "drawers/drawer 1 front", "bench")
    assert dict(front.fasteners)["wood screw 3.5 x 20"] == 4
    sides = step_for(there, "drawers/left side", "bench")
    assert dict(sides.fasteners)["wood screw 4 x 40"] == 12
    assert "first drawer 1 left slide" in sides.how


@pytest.mark.parametrize("design", DEMOS)
def test_no_step_only_lays_parts_out(design: str, demo: Callable[[str], Any]) -> None:
    told = steps(demo(design))
    assert all(step.joins for step in told if step.phase == "bench")


def test_glue_is_listed_where_it_is_first_used(demo: Callable[[str], Any]) -> None:
    step = step_for(demo("small-hatch"), "tools/foam floor", "bench")
    assert dict(step.fasteners) == {"foam glue": 1}


def test_the_carcass_is_carried_over_the_sill_and_bolted_down(demo: Callable[[str], Any]) -> None:
    there = demo("touring-wagon")
    step = step_for(there, "drawers/base", "vehicle")
    assert step.shifts[-1] == (0.0, 0.0, -33.0)
    assert dict(step.fasteners)["bolt M8 x 40"] == 6
    assert "Bolt it down." in step.how
    assert step.tool.startswith("ratchet")


def test_what_weighs_more_than_one_lifts_is_carried_by_more(demo: Callable[[str], Any]) -> None:
    there = demo("canopy-tub")
    step = step_for(there, "drawers/base", "vehicle")
    mass = sum(there.loads[part].mass_kg for part in step.parts)
    assert mass > 25.0 * (step.people - 1) / 2.0
    assert step.people * 25.0 >= mass
