"""Stores kept from running out."""

from made_up_trip import ground, plan

from fitout.checks.trip_days import gone_through
from fitout.checks.trip_plan import Plan
from fitout.checks.trip_problems import problems
from fitout.checks.trip_refills import first_short, of_store, refilled
from fitout.model.spec import Days
from fitout.model.trips import (
    EnergySpec,
    FridgeSpec,
    SolarSpec,
    StageSpec,
    TripFuelSpec,
    WaterSpec,
)


def ways(made: Plan) -> list[str]:
    known = problems(made, gone_through(made))
    found = [cure for problem in known for cure in of_store(made, problem, known)]
    for cure in found:
        left = problems(cure.plan, gone_through(cure.plan))
        assert known[0].key not in {p.key for p in left}
    return [cure.words for cure in found]


def test_water_is_refilled_on_the_day_it_runs_out() -> None:
    """36 l above the tap at 14 a day are gone on day 3, and again on day 5 and 7."""
    made = plan(days=8, water=WaterSpec(besides=9.0))
    assert first_short(made, "water") == 3
    assert ways(made) == ["refill the water in the morning of days 3, 5, 7"]


def test_more_at_the_start_or_less_a_person_is_told_if_enough() -> None:
    assert ways(plan(days=6, water=WaterSpec(start=30.0))) == [
        "refill the water in the morning of day 6",
        "carry 4 l more water",
        "use 4 l a day for each person, not 5 l",
    ]


def test_a_day_that_uses_more_than_the_tanks_hold_has_no_refill() -> None:
    made = plan(water=WaterSpec(besides=60.0))
    assert refilled(made, "water") is None
    assert ways(made) == []


def test_nothing_short_needs_no_refill() -> None:
    assert refilled(plan(), "water") is None


def test_fuel_is_bought_or_more_of_it_taken() -> None:
    stages = (StageSpec(days=Days(1, 4), km=120.0),)
    fuel = TripFuelSpec(start=45.0, uses=10.0)
    assert ways(plan(stages=stages, fuel=fuel)) == [
        "refuel in the morning of day 4",
        "set out with 9 l more fuel",
    ]


def test_a_battery_is_charged_or_more_is_fitted() -> None:
    """480 Wh a day, half by night; a W of panel gives 2 h x 0.75 = 1.5 Wh.

    A full battery takes no more than is drawn: 800 - 240 = 560 after the first night, and
    560 + 3 (1.5 W - 480) is 0 at 196 W. A battery must hold (4 x 480 - 4 x 15) / 0.8 = 2325 Wh.
    """
    energy = EnergySpec(
        battery=1000.0,
        fridge=FridgeSpec(power=40.0, duty={25.0: 0.5}),
        solar=SolarSpec(panel=10.0, sun_hours=2.0),
    )
    told = ways(plan(energy=energy))
    assert told[0] == "charge the battery from the mains in the morning of days 2, 3, 4"
    assert told[1].startswith("fit 200 W of panel, not 10 W")
    assert told[2].startswith("fit a battery of 2350 Wh, not 1000 Wh")


def test_without_sun_no_panel_is_proposed() -> None:
    energy = EnergySpec(
        battery=1000.0,
        fridge=FridgeSpec(power=40.0, duty={25.0: 0.5}),
        solar=SolarSpec(panel=100.0, sun_hours=0.0),
    )
    assert not any("panel" in words for words in ways(plan(ground(), energy=energy)))
