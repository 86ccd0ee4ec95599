"""One finding a trip: a failing trip is a caution with its cure."""

import dataclasses
from typing import Any

import pytest

from fitout.checks.trips import check_trips, reports
from fitout.model.finding import Severity
from fitout.model.trips import EnergySpec, TripFuelSpec, TripSpec, WaterSpec


@pytest.mark.parametrize("name", ["touring-wagon", "canopy-tub", "small-hatch"])
def test_each_demo_has_a_trip_that_passes_and_one_that_fails(demo: Any, name: str) -> None:
    good, bad = check_trips(demo(name))
    assert good.severity is not Severity.FAIL
    assert "nothing fails" in good.sentence
    assert bad.severity is Severity.CAUTION
    assert "fails from day" in bad.sentence
    assert "to pass, " in bad.sentence
    assert "`fitout trip` fails it" in bad.sentence


def trip(demo: Any, **entries: Any) -> Any:
    spec = TripSpec(days=2, **entries)
    return dataclasses.replace(demo("canopy-tub"), trips={"test trip": spec})


def test_what_is_unchecked_of_a_trip_shows(demo: Any) -> None:
    (told,) = check_trips(trip(demo))
    assert told.severity is Severity.UNCHECKED
    assert "Not checked of this trip" in told.sentence


def test_a_whole_trip_passes(demo: Any) -> None:
    whole = trip(demo, fuel=TripFuelSpec(uses=11.0), energy=EnergySpec(battery=900.0))
    (told,) = check_trips(whole)
    assert told.severity is Severity.PASS
    assert told.sentence == "Trip test trip, 2 days: nothing fails."
    assert told.source


def test_a_trip_without_a_cure_says_so(demo: Any) -> None:
    (told,) = check_trips(trip(demo, water=WaterSpec(besides=90.0)))
    assert "no cure was found" in told.sentence


def test_no_trips_no_findings(demo: Any) -> None:
    bare = dataclasses.replace(demo("canopy-tub"), trips={})
    assert list(check_trips(bare)) == []
    assert reports(bare) == ()
