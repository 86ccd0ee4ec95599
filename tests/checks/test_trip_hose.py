"""Water through the hose: against the formulas, and an outlet that lies too high."""

import dataclasses

import pytest
from made_up_trip import ground, plan

from fitout.checks.trip_hose import hose_findings
from fitout.mechanics.hose import drawing_time_s
from fitout.model.finding import Severity
from fitout.model.trips import HoseSpec, WaterSpec


def test_ten_litres_from_a_full_tank() -> None:
    """From 450 down to the floor through 1.2 m of 12 mm, 0.5 + 1 + 1 velocity heads lost."""
    (found,) = hose_findings(plan())
    assert found.severity is Severity.PASS
    assert found.value == pytest.approx(drawing_time_s(10.0, 0.1, 450.0, 1200.0, 12.0, 2.5))
    assert "under 450 mm of water" in found.sentence
    assert "through 1.2 m of 12 mm bore" in found.sentence


def test_less_water_runs_slower_and_a_wider_hose_faster() -> None:
    usual, half, wide = (
        next(iter(hose_findings(plan(water=water)))).value or 0.0
        for water in (
            WaterSpec(),
            WaterSpec(start=20.0),
            WaterSpec(hose=HoseSpec(bore=16.0)),
        )
    )
    assert wide < usual < half


def test_what_lies_below_the_outlet_stays() -> None:
    """An outlet 150 above the floor, where the tank begins at 50 and holds 0.1 l a mm."""
    (found,) = hose_findings(plan(water=WaterSpec(hose=HoseSpec(outlet=150.0))))
    assert found.severity is Severity.CAUTION
    assert "10.0 l of tank/can do not run out" in found.sentence


def test_no_tank_no_hose() -> None:
    dry = dataclasses.replace(ground(), tanks=())
    assert list(hose_findings(plan(dry))) == []
