"""Loads brought within limits: amounts by hand, and every cure gone through once more."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from made_up_trip import ground, plan

from fitout.checks.trip_cures import cures
from fitout.checks.trip_days import gone_through
from fitout.checks.trip_loads import relief
from fitout.checks.trip_plan import Plan
from fitout.checks.trip_problems import Cure, problems
from fitout.model.spec import Days, Measured
from fitout.model.trips import PackedSpec, WaterSpec
from fitout.model.vehicle import CarriedSpec


def ways(made: Plan) -> list[Cure]:
    known = problems(made, gone_through(made))
    return [cure for problem in known for cure in cures(made, problem, known)]


def rear_kg(made: Plan) -> float:
    state = gone_through(made)[0].out
    assert state is not None
    return state.axles.rear_kg


def limited(over: float, **entries) -> Plan:
    """A trip whose rear axle bears so much too much on its first day."""
    return plan(ground(limits={"rear": rear_kg(plan(**entries)) - over}), **entries)


def test_goods_are_moved_where_there_is_room() -> None:
    """10 kg over: 1500 mm forward relieve the rear by half a kg each, so 20 kg."""
    made = limited(10.0, packing={"front/shelf": 20.0})
    moved, packed, water, *_ = ways(made)
    assert moved.words == "move 20 kg forward, from back/drawer to front/shelf"
    assert packed.words == "pack 10 kg less in back/drawer"
    assert water.words == "carry 14 l less water"
    assert moved.plan.packed["front/shelf"].start_kg == 40.0


def test_goods_that_are_eaten_are_not_moved() -> None:
    eaten = {"back/drawer": PackedSpec(start=50.0, each_day=5.0), "front/shelf": 20.0}
    words = [cure.words for cure in ways(limited(10.0, packing=eaten))]
    assert not any(word.startswith("move") for word in words)
    assert "pack 10 kg less in back/drawer" in words


def test_less_water_is_refilled_where_it_runs_out() -> None:
    """30 l less leave 10, of which 6 lie above the tap: 5 a day last one day."""
    cure = next(c for c in ways(limited(22.0)) if "less water" in c.words)
    assert cure.words.startswith("carry 30 l less water and refill the water in the morning of day")
    assert cure.plan.refills["water"] == {2, 3, 4}


def test_a_thing_of_the_trip_s_own_is_set_further_forward() -> None:
    """30 kg behind the axle: 5 kg over need 5 x 3000 / 30 = 500 mm."""
    boat = CarriedSpec(name="boat", mass=Measured(30.0), at=(200.0, 0.0, 600.0))
    cure = next(c for c in ways(limited(5.0, carries=(boat,))) if c.words.startswith("set"))
    assert cure.words == "set the boat 500 mm further forward, its middle at 700"


def test_the_roof_is_relieved_by_what_is_on_it() -> None:
    (cure,) = ways(plan(ground(limits={"roof": 30.0})))
    assert cure.words == "leave the roof box at home"
    assert relief(cure.plan, 1000.0, "inside", "roof") == 0.0


def test_less_fuel_helps_the_whole() -> None:
    state = gone_through(plan())[0].out
    assert state is not None
    made = plan(ground(limits={"gross": state.total_kg - 8.0}))
    words = [cure.words for cure in ways(made)]
    assert "set out with 10 l less fuel" in words


def test_several_places_are_emptied_where_one_is_not_enough() -> None:
    made = plan(
        ground(limits={"gross": 2150.0}),
        water=WaterSpec(start=0.0, each_person=0.0),
        stays_home=("roof box",),
    )
    (cure,) = ways(made)
    assert cure.words == "pack 50 kg less in back/drawer and pack 35 kg less in front/shelf"


def test_what_no_change_of_goods_ends_has_no_cure() -> None:
    assert ways(plan(ground(limits={"gross": 2020.0}))) == []


def test_a_place_too_full_is_relieved() -> None:
    moved, less = ways(plan(packing={"back/drawer": 56.0, "front/shelf": 10.0}))
    assert moved.words == "move 6 kg forward, from back/drawer to front/shelf"
    assert less.words == "pack 6 kg less in back/drawer"


@given(
    st.floats(0.0, 50.0), st.floats(0.0, 50.0), st.floats(0.0, 40.0), st.floats(0.1, 80.0),
    st.sampled_from(["rear", "front", "gross"]),
)  # fmt: skip
def test_every_cure_ends_what_it_cures(
    back: float, front: float, water: float, over: float, key: str
) -> None:
    entries = {
        "packing": {"back/drawer": back, "front/shelf": front},
        "water": WaterSpec(start=water, each_person=0.0),
    }
    state = gone_through(plan(**entries))[0].out
    assert state is not None
    made = plan(ground(limits={key: state.limit(key).value_kg - over}), **entries)
    known = problems(made, gone_through(made))
    assume(known)
    for cure in cures(made, known[0], known):
        assert problems(cure.plan, gone_through(cure.plan)) == ()
        assert all(p.start_kg >= -1e-9 for p in cure.plan.packed.values())


@pytest.mark.parametrize("day", [2, 3])
def test_a_limit_exceeded_on_a_later_day_is_cured_too(day: int) -> None:
    """Water filled up on that day only makes the rear axle bear too much."""
    usual = plan(water=WaterSpec(start=20.0), refill={"water": (Days(day, day),)})
    made = plan(
        ground(limits={"rear": rear_kg(usual) - 1.0}),
        packing={"back/drawer": PackedSpec(start=50.0, each_day=2.0)},
        water=WaterSpec(start=20.0),
        refill={"water": (Days(day, day),), "food": (Days(day, day),)},
    )
    known = problems(made, gone_through(made))
    assert {1, day} >= {p.day for p in known}
    for cure in cures(made, known[0], known):
        assert problems(cure.plan, gone_through(cure.plan)) == ()
