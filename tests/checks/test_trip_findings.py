"""What is told of a trip: the day, the amount, the cure, what was not checked."""

import dataclasses

import pytest
from made_up_trip import ground, plan, vehicle

from fitout.checks.trip_findings import TripReport, report_of
from fitout.model.finding import WORST_FIRST, Finding, Severity
from fitout.model.trips import EnergySpec, FridgeSpec, TripFuelSpec, WaterSpec

WHOLE = {
    "fuel": TripFuelSpec(uses=8.0),
    "energy": EnergySpec(battery=2000.0, fridge=FridgeSpec(power=40.0)),
}


def found(report: TripReport, of: str) -> Finding:
    (finding,) = [f for f in report.findings if f.where == f"test trip: {of}"]
    return finding


def test_a_trip_with_everything_entered_passes_and_leaves_nothing_unchecked() -> None:
    report = report_of(plan(**WHOLE))
    assert report.passed
    assert {f.severity for f in report.findings} == {Severity.PASS}
    assert [f.code for f in report.findings].count("trip mass") == 3
    assert all(f.source and f.sentence.endswith(".") for f in report.findings)


def test_the_nearest_day_is_told() -> None:
    told = found(report_of(plan(**WHOLE)), "the rear axle")
    assert told.limit == 2000.0
    assert told.margin == pytest.approx(2000.0 - (told.value or 0.0))
    assert "on day 1" in told.sentence
    assert "no approval under any regulation" in told.sentence


def test_a_margin_within_its_uncertainty_is_a_caution() -> None:
    value = found(report_of(plan(**WHOLE)), "the rear axle").value or 0.0
    told = found(report_of(plan(ground(limits={"rear": value + 2.0}), **WHOLE)), "the rear axle")
    assert told.severity is Severity.CAUTION
    assert "which is not sure" in told.sentence


def test_a_limit_exceeded_names_day_amount_and_cure() -> None:
    value = found(report_of(plan(**WHOLE)), "the rear axle").value or 0.0
    made = plan(ground(limits={"rear": value - 10.0}), packing={"front/shelf": 50.0}, **WHOLE)
    told = found(report_of(made), "the rear axle")
    assert told.severity is Severity.FAIL
    assert told.margin == pytest.approx(-10.0)
    assert "On day 1 the rear axle bears" in told.sentence
    assert "10.0 kg too much" in told.sentence
    assert "pack 10 kg less in back/drawer" in told.sentence
    assert told.sentence.endswith("\npacking: {back/drawer: 40 kg}")
    assert told.sentence.index("no approval") < told.sentence.index("\npacking")


def test_water_that_runs_out_names_the_day() -> None:
    report = report_of(plan(water=WaterSpec(besides=10.0), **WHOLE))
    told = found(report, "water")
    assert told.severity is Severity.FAIL
    assert "runs out on day 3" in told.sentence
    assert "refill the water in the morning of day 3" in told.sentence
    assert told.value == pytest.approx(-15.0)
    assert report.findings[0].severity is Severity.FAIL


def test_water_below_the_tap_is_not_wanting_where_none_is_used() -> None:
    """Nothing is drawn of an empty tank; of a litre under the tap, what is used is wanting."""
    empty = plan(water=WaterSpec(start=0.0, each_person=0.0), **WHOLE)
    told = found(report_of(empty), "water")
    assert (told.severity, told.value) == (Severity.PASS, 0.0)
    report = report_of(plan(days=1, water=WaterSpec(start=1.0, besides=2.0), **WHOLE))
    told = found(report, "water")
    assert told.value == pytest.approx(-next(p for p in report.problems if p.key == "water").worst)


def test_litres_from_gallons_are_told_to_a_tenth() -> None:
    made = plan(**{**WHOLE, "fuel": TripFuelSpec(uses=235.214583 / 17.0, start=13.0 * 3.785411784)})
    told = found(report_of(made), "fuel")
    assert "of 49.2 l at the start" in told.sentence
    assert "at 13.8 l/100 km" in told.sentence


def test_an_empty_battery_names_the_day() -> None:
    energy = EnergySpec(battery=600.0, fridge=FridgeSpec(power=40.0))
    told = found(report_of(plan(energy=energy)), "battery")
    assert told.severity is Severity.FAIL
    assert "is empty on day 2" in told.sentence


def test_what_is_packed_too_full_fails() -> None:
    told = found(report_of(plan(packing={"back/drawer": 53.0})), "back/drawer")
    assert (told.severity, told.limit) == (Severity.FAIL, 50.0)


def test_a_problem_without_a_cure_says_so() -> None:
    told = found(report_of(plan(ground(limits={"gross": 2020.0}))), "the vehicle")
    assert "No change of one thing was found that is enough." in told.sentence


def wanting(report: TripReport) -> str:
    told = found(report, "trip")
    assert told.severity is Severity.UNCHECKED
    return told.sentence


def test_what_was_not_entered_is_not_checked() -> None:
    assert "how far the fuel goes (`fuel: uses`), battery (`energy`)" in wanting(report_of(plan()))
    bare = dataclasses.replace(ground(), vehicle=None)
    told = wanting(report_of(plan(bare)))
    assert "axle loads and gross mass (`vehicle`)" in told
    assert "what people use (`people`)" in told
    open_axle = ground(vehicle=vehicle(fuel=None, limits={"rear": None}))
    told = wanting(report_of(plan(open_axle)))
    assert "the rear axle (`vehicle: limits: rear`)" in told
    assert "`vehicle: fuel`" in told
    dry = dataclasses.replace(ground(), tanks=())
    assert "no tank is built in" in wanting(report_of(plan(dry)))


def test_findings_come_worst_first() -> None:
    report = report_of(plan(water=WaterSpec(besides=10.0)))
    ranks = [WORST_FIRST.index(f.severity) for f in report.findings]
    assert ranks == sorted(ranks)
