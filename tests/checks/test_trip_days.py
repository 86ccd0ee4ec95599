"""A trip day by day: with numbers by hand, and what must hold of any."""

import dataclasses

import pytest
from hypothesis import given
from hypothesis import strategies as st
from made_up_trip import BASE, ground, plan

from fitout.checks.trip_days import (
    dead_water_l,
    fixed_lines,
    gone_through,
    store_lines,
    stored_days,
)
from fitout.checks.vehicle_state import vehicle_state
from fitout.model.spec import Days
from fitout.model.trips import (
    ElectricLoadSpec,
    EnergySpec,
    FridgeSpec,
    PackedSpec,
    SolarSpec,
    StageSpec,
    TripFuelSpec,
    WaterSpec,
)

DRIVING = (StageSpec(days=Days(1, 4), km=100.0),)


def all_lines(told, stores):
    return [*fixed_lines(told), *store_lines(told, stores)]


def test_water_goes_down_to_the_tap_and_is_refilled() -> None:
    """40 l, 36 of them above the tap, 15 a day, filled up on the fourth morning."""
    days = stored_days(plan(water=WaterSpec(besides=10.0), refill={"water": (Days(4, 4),)}))
    assert [day.morning.water_l for day in days] == [40.0, 25.0, 10.0, 40.0]
    assert [day.evening.water_l for day in days] == [25.0, 10.0, 4.0, 25.0]
    assert [day.water_short_l for day in days] == [0.0, 0.0, 9.0, 0.0]


def test_fuel_and_range() -> None:
    """100 km a day at 9 l: 9 l a day of 60, the reserve 6 l."""
    days = stored_days(plan(stages=DRIVING, fuel=TripFuelSpec(uses=9.0)))
    assert [day.evening.fuel_l for day in days] == [51.0, 42.0, 33.0, 24.0]
    assert days[-1].range_km == pytest.approx(200.0)


def test_food_is_eaten_and_bought_again() -> None:
    packing = {"back/drawer": PackedSpec(start=10.0, each_day=6.0)}
    days = stored_days(plan(packing=packing, refill={"food": (Days(3, 3),)}))
    assert [day.evening.packed_kg[0] for day in days] == [4.0, 0.0, 4.0, 0.0]
    assert {day.evening.packed_kg[1] for day in days} == {50.0}


def test_a_day_of_the_battery() -> None:
    """80 % of 1000 Wh; 40 W at 35 % for 24 h is 336 Wh, lamps 30 Wh, half the fridge by day.

    The panel gives 100 x 2 x 0.75 = 150 Wh: 800 can't take them with 168 drawn; 800 - 18 = 782,
    less 198 by night leaves 584.
    """
    energy = EnergySpec(
        battery=1000.0,
        fridge=FridgeSpec(power=40.0),
        loads=(ElectricLoadSpec(name="lamps", power=10.0, hours=3.0),),
        solar=SolarSpec(panel=100.0, sun_hours=2.0),
    )
    days = stored_days(plan(energy=energy))
    assert [day.evening.energy_wh for day in days] == pytest.approx([584.0, 368.0, 152.0, 0.0])
    assert [day.energy.short_wh for day in days if day.energy] == pytest.approx([0, 0, 0, 64.0])


def test_the_engine_charges_and_the_mains_fill() -> None:
    energy = EnergySpec(battery=1000.0, start=0.5, driving=200.0)
    stages = (StageSpec(days=Days(1, 1), km=60.0),)
    days = stored_days(plan(energy=energy, stages=stages, refill={"battery": (Days(3, 3),)}))
    assert [day.evening.energy_wh for day in days] == [600.0, 600.0, 800.0, 800.0]


def test_the_vehicle_s_states_are_those_of_all_its_lines() -> None:
    told = plan(stages=DRIVING, fuel=TripFuelSpec(uses=9.0))
    vehicle = told.ground.vehicle
    assert vehicle is not None
    for day in gone_through(told):
        assert day.out is not None
        assert day.back is not None
        assert day.out == vehicle_state(vehicle, all_lines(told, day.morning))
        assert day.back == vehicle_state(vehicle, all_lines(told, day.evening))
        assert day.back.total_kg < day.out.total_kg


def test_the_tank_s_surface_falls() -> None:
    told = plan(water=WaterSpec(start=20.0))
    (day, *_) = stored_days(told)
    (water,) = [line for line in all_lines(told, day.morning) if line.kind == "water"]
    assert water.mass_kg == pytest.approx(20.0)
    assert water.centre[2] == pytest.approx(50.0 + 400.0 / 4.0)
    assert water.name == "20 l of water in can"


masses = st.floats(0.0, 50.0)
litres = st.floats(0.0, 20.0)


@given(st.floats(10.0, 40.0), litres, st.sets(st.integers(2, 10)))
def test_water_is_neither_made_nor_lost(start: float, besides: float, filled: set[int]) -> None:
    told = plan(
        days=10,
        water=WaterSpec(start=start, besides=besides),
        refill={"water": tuple(Days(d, d) for d in sorted(filled))},
    )
    before = start
    for day in stored_days(told):
        added = day.morning.water_l - before
        assert added == pytest.approx(start - before if day.number in filled else 0.0)
        used = told.water_each_day_l - day.water_short_l
        assert day.morning.water_l - day.evening.water_l == pytest.approx(used)
        assert day.evening.water_l >= min(day.morning.water_l, dead_water_l(told)) - 1e-9
        before = day.evening.water_l


@given(st.floats(30.0, 120.0), st.floats(1.0, 60.0))
def test_a_heavier_person_is_borne_as_statics_says(mass: float, more: float) -> None:
    """A driver 1600 mm ahead of the rear axle of 3000 mm wheelbase."""
    light, heavy = (gone_through(plan(people={"driver": m}))[0].out for m in (mass, mass + more))
    assert light is not None
    assert heavy is not None
    assert heavy.axles.front_kg - light.axles.front_kg == pytest.approx(more * 1600.0 / BASE)
    assert heavy.total_kg - light.total_kg == pytest.approx(more)


@given(masses, masses)
def test_goods_further_forward_relieve_the_rear(back: float, front: float) -> None:
    a, b = (
        gone_through(plan(packing={"back/drawer": x, "front/shelf": y}))[0].out
        for x, y in ((back, front), (0.0, min(50.0, back + front)))
    )
    assert a is not None
    assert b is not None
    assert b.axles.rear_kg <= a.axles.rear_kg + 1e-9


def test_without_a_vehicle_only_the_stores_are_told() -> None:
    bare = dataclasses.replace(ground(), vehicle=None)
    days = gone_through(plan(bare, people={"driver": 80.0}))
    assert all(day.out is None and day.evening.fuel_l is None for day in days)
    assert [day.evening.water_l for day in days] == [35.0, 30.0, 25.0, 20.0]


def test_more_people_drink_more() -> None:
    one, two = (
        stored_days(plan(people=dict.fromkeys(seats, 70.0)))[1].evening.water_l
        for seats in (("driver",), ("driver", "passenger"))
    )
    assert one - two == pytest.approx(2 * 5.0)
