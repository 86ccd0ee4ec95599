"""What is wrong on a trip: the first day of it, and the worst."""

import pytest
from made_up_trip import ground, plan

from fitout.checks.trip_days import gone_through
from fitout.checks.trip_problems import Problem, ends, held_at, problems, up
from fitout.model.spec import Days
from fitout.model.trips import EnergySpec, FridgeSpec, StageSpec, TripFuelSpec, WaterSpec


def told(**entries) -> tuple[Problem, ...]:
    made = plan(**entries)
    return problems(made, gone_through(made))


def test_nothing_is_wrong_of_a_light_trip() -> None:
    assert told() == ()


def test_stores_run_out_in_their_turn() -> None:
    stages = (StageSpec(days=Days(1, 4), km=200.0),)
    wrong = told(
        stages=stages,
        water=WaterSpec(besides=10.0),
        fuel=TripFuelSpec(uses=10.0, reserve=5.0),
        energy=EnergySpec(battery=500.0, fridge=FridgeSpec(power=20.0)),
    )
    assert [(p.kind, p.key, p.day, p.worst_day) for p in wrong] == [
        ("store", "water", 3, 4),
        ("store", "battery", 3, 4),
        ("store", "fuel", 3, 4),
    ]
    assert [p.worst for p in wrong] == pytest.approx([15.0, 168.0, 25.0])


def test_limits_and_places_are_exceeded() -> None:
    """As weighed 900 kg; 60 kg 100 mm ahead of the axle, 50 kg on it, ... on the rear axle."""
    heavy = ground(limits={"rear": 1050.0})
    made = plan(heavy, packing={"back/drawer": 53.0}, people={"driver": 80.0})
    days = gone_through(made)
    wrong = problems(made, days)
    assert [(p.kind, p.key, p.day) for p in wrong] == [
        ("packing", "back/drawer", 1), ("limit", "rear", 1),
    ]  # fmt: skip
    assert wrong[0].worst == pytest.approx(3.0)
    rear = 900 + 60 * 2900 / 3000 + 53 + 50 / 2 + 40 * 3 / 4 + 80 * 1400 / 3000 + 40 * 2400 / 3000
    assert wrong[1].worst == pytest.approx(rear - 1050.0)
    assert len(held_at(days, "rear")) == 8


def test_a_change_ends_a_problem_or_does_not() -> None:
    made = plan(water=WaterSpec(besides=10.0))
    known = problems(made, gone_through(made))
    assert ends(known[0], plan(water=WaterSpec(besides=1.0)), known)
    assert not ends(known[0], plan(water=WaterSpec(besides=9.0)), known)


def test_a_change_that_makes_another_problem_is_no_end() -> None:
    made = plan(water=WaterSpec(besides=10.0))
    known = problems(made, gone_through(made))
    other = plan(ground(limits={"rear": 950.0}), water=WaterSpec(besides=1.0))
    assert not ends(known[0], other, known)


def test_up_forgives_rounding() -> None:
    assert [up(2.0), up(2.0 + 1e-9), up(2.1)] == [2, 2, 3]
