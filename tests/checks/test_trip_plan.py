"""What is filled in of a trip, and what can't be packed."""

import dataclasses
from typing import Any

import pytest
from made_up_trip import ground, plan

from fitout.checks.ledger import combined_u, together
from fitout.checks.mass_lines import empty_lines
from fitout.checks.trip_plan import ground_of, merged, places_meant, plan_of, plans_of
from fitout.checks.vehicle_state import vehicle_state
from fitout.mechanics.solar import MID_MONTH, sun_hours
from fitout.model.fault import DesignError
from fitout.model.spec import Days
from fitout.model.trips import (
    EnergySpec,
    PackedSpec,
    SolarSpec,
    StageSpec,
    TripFuelSpec,
    TripSpec,
    WaterSpec,
)


def test_what_is_left_out_is_full() -> None:
    told = plan()
    assert [p.start_kg for p in told.packed.values()] == [50.0, 50.0]
    assert (told.water_start_l, told.fuel_start_l) == (40.0, 60.0)
    assert told.reserve_l == pytest.approx(6.0)
    assert told.heads == 1
    assert [line.mass_kg for line in told.people] == [75.0]
    assert [line.name for line in told.carried] == ["roof box"]


def test_people_named_replace_those_who_usually_go() -> None:
    told = plan(people={"passenger": 60.0})
    assert [(line.name, line.mass_kg) for line in told.people] == [("passenger", 60.0)]
    assert told.water_each_day_l == 5.0


def test_stages_say_how_long_and_how_far() -> None:
    stages = (
        StageSpec(days=Days(1, 1), km=120.0),
        StageSpec(days=Days(3, 4), ambient=31.0, driving=1.5),
    )
    works = plan(days=None, stages=stages).works
    assert len(works) == 4
    assert [work.km for work in works] == [120.0, 0.0, 0.0, 0.0]
    assert [work.driving_h for work in works] == [2.0, 0.0, 1.5, 1.5]
    assert [work.ambient_c for work in works] == [25.0, 25.0, 31.0, 31.0]


def test_the_sun_is_told_or_worked_out() -> None:
    by_site = SolarSpec(panel=100.0, latitude=44.0, month="June")
    expected = sun_hours(44.0, MID_MONTH["June"], 0.5)
    for solar, hours in ((by_site, expected), (SolarSpec(panel=100.0, sun_hours=3.0), 3.0)):
        stage = StageSpec(days=Days(2, 2), sun_hours=0.5)
        told = plan(energy=EnergySpec(battery=1000.0, solar=solar), stages=(stage,))
        assert [work.sun_h for work in told.works] == [hours, 0.5, hours, hours]


def test_what_stays_home_and_what_comes_along() -> None:
    told = plan(stays_home=("roof box",))
    assert told.carried == ()


def test_a_module_s_goods_are_shared_by_its_places(demo: Any) -> None:
    wagon = ground_of(demo("touring-wagon"))
    assert places_meant("drawers/drawer 1", wagon) == ["drawers/drawer 1"]
    assert len(places_meant("bins", wagon)) == 4
    assert len(places_meant("bins left", wagon)) == 2
    assert places_meant("attic", wagon) == []
    packing = {"drawers": PackedSpec(start=31.5, each_day=6.3), "bins": 20.0}
    packed = plan_of("trip", TripSpec(days=2, packing=packing), wagon).packed
    assert packed["drawers/drawer 1"].start_kg == pytest.approx(22.5)
    assert packed["drawers/drawer 2"].each_day_kg == pytest.approx(1.8)
    assert packed["bins left/shelf 3"].start_kg == pytest.approx(5.0)
    assert packed["barrier/shelf"].start_kg == pytest.approx(8.0)


def test_a_tank_knows_its_tap_and_hose(demo: Any) -> None:
    (tank,) = ground_of(demo("touring-wagon")).tanks
    assert tank.holds_l == 42.0
    assert tank.dead_l == pytest.approx(42.0 * 30.0 / 330.0)
    assert tank.hose >= 1000.0


@pytest.mark.parametrize("name", ["touring-wagon", "canopy-tub", "small-hatch"])
def test_merged_lines_have_the_same_sums(demo: Any, name: str) -> None:
    subject = demo(name)
    lines = empty_lines(subject)
    fewer = list(merged(lines))
    assert len(fewer) < 0.7 * len(lines)
    for lever in ((1.0, 0.0), (0.3, 1e-4)):
        assert combined_u(fewer, lever) == pytest.approx(combined_u(lines, lever), rel=1e-6)
    a, b = together(x.load for x in fewer), together(x.load for x in lines)
    assert a.mass_kg == pytest.approx(b.mass_kg)
    assert a.centre == pytest.approx(b.centre)
    told = [vehicle_state(subject.vehicle, x).axles.rear_kg for x in (fewer, lines)]
    assert told[0] == pytest.approx(told[1])


def faults(subject: Any, **entries: Any) -> list[str]:
    with pytest.raises(DesignError) as caught:
        plans_of({"trip": TripSpec(days=3, **entries)}, subject)
    return [f"{f.path}: {f.found}; {f.expected}; {f.hint}" for f in caught.value.faults]


def test_goods_without_a_place_are_faults(demo: Any) -> None:
    subject = demo("touring-wagon")
    (unknown,) = faults(subject, packing={"drawers/drawer 3": 4.0})
    assert "('trips', 'trip', 'packing', 'drawers/drawer 3')" in unknown
    assert "Nearest: drawers/drawer" in unknown
    (nothing,) = faults(subject, packing={"deck": 4.0})
    assert "a module that carries something" in nothing
    (twice,) = faults(subject, packing={"drawers": 20.0, "drawers/drawer 1": 4.0})
    assert "drawers/drawer 1 under drawers and drawers/drawer 1; each place once" in twice
    (water,) = faults(subject, water=WaterSpec(start=50.0))
    assert "50 l; at most the 42 l the tanks hold" in water


def test_without_a_vehicle_there_is_no_fuel_and_nobody() -> None:
    bare = dataclasses.replace(ground(), vehicle=None)
    told = plan(bare, fuel=TripFuelSpec(uses=8.0))
    assert (told.fuel_start_l, told.heads, told.people, told.carried) == (None, None, (), ())
    assert plan(bare, people={"driver": 80.0}).heads == 1
