"""The ledger and the vehicle's states, written and read again."""

import csv
import io
import json
from pathlib import Path

import pytest
from dossiers import evaluated

from fitout.checks.ledger import Known, LedgerLine
from fitout.checks.vehicle import States
from fitout.checks.vehicle_state import vehicle_state
from fitout.documents.ledger import (
    VEHICLE_HEADINGS,
    ledger_csv,
    ledger_object,
    vehicle_csv,
    vehicle_rows,
)
from fitout.model.spec import Measured
from fitout.model.vehicle import KerbSpec, LimitsSpec, VehicleSpec

HATCH = Path(__file__).parents[2] / "designs" / "small-hatch.yaml"


def line(name: str, group: str, kind: str, mass: float, x: float) -> LedgerLine:
    return LedgerLine(
        name=name, group=group, kind=kind, mass_kg=mass, centre=(x, 0.0, 0.0),
        known=Known.COMPUTED, u_kg=0.1 * mass, basis="ply", shared="sheet ply",
    )  # fmt: skip


LINES = (
    line("side", "box", "panel", 3.0, 100.0),
    line("top", "box", "panel", 1.0, 500.0),
    line("on top", "box", "contents", 6.0, 500.0),
    line("Ana", "people", "person", 60.0, 1500.0),
)


def rows(table: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(table.decode("utf-8-sig"))))


def test_lines_then_sums() -> None:
    told = rows(ledger_csv(LINES))
    assert [r["belongs to"] for r in told] == [
        "box", "box", "box", "people",
        "sum: box", "sum: people", "sum: fit-out as built", "sum: all",
    ]  # fmt: skip
    assert [float(r["mass (kg)"]) for r in told[4:]] == [10.0, 60.0, 4.0, 70.0]
    built = told[6]
    assert float(built["forward (mm)"]) == 200.0
    # All of one sheet: 0.3 and 0.1 kg add up.
    assert float(built["standard uncertainty (kg)"]) == pytest.approx(0.4)


def test_the_same_as_an_object() -> None:
    told = json.loads(json.dumps(ledger_object(LINES)))
    assert told["built"] == {"mass_kg": 4.0, "u_kg": 0.4, "centre_mm": [200.0, 0.0, 0.0]}
    assert told["all"]["mass_kg"] == 70.0
    assert list(told["groups"]) == ["box", "people"]
    assert told["lines"][0]["known"] == "computed"
    assert len(told["lines"]) == 4


def test_states_of_a_vehicle_without_springs_leave_cells_empty() -> None:
    spec = VehicleSpec(
        rear_axle=400.0,
        wheelbase=2800.0,
        kerb=KerbSpec(front=Measured(1000.0), rear=Measured(900.0)),
        limits=LimitsSpec(gross=2500.0, rear=1300.0),
    )
    state = vehicle_state(spec, LINES)
    told = States(spec, LINES, vehicle_state(spec, ()), state, state)
    weighed, _, laden = rows(vehicle_csv(told))
    assert tuple(weighed) == VEHICLE_HEADINGS
    assert weighed["vehicle"] == "as weighed"
    assert (weighed["front axle (kg)"], weighed["gross (kg)"]) == ("1000.0", "1900.0")
    assert (laden["gross (kg)"], laden["front allowed (kg)"]) == ("1970.0", "")
    assert (laden["rear down (mm)"], laden["left (%)"]) == ("", "")
    last = vehicle_rows(told)[-1]
    assert last["state"] == "laden"
    assert last["pitch_deg"] is None
    assert vehicle_rows(None) == []


def test_check_json_and_export_tell_the_same_ledger() -> None:
    evaluation = evaluated("small-hatch")
    told = json.loads(json.dumps(evaluation.as_object()))
    built, laden = told["ledger"]["built"]["mass_kg"], told["ledger"]["all"]["mass_kg"]
    assert built == pytest.approx(told["totals"]["empty_kg"], abs=2e-3)
    weighed, empty, full = (
        next(x["value_kg"] for x in state["limits"] if x["of"] == "the vehicle")
        for state in told["vehicle"]
    )
    assert empty - weighed == pytest.approx(built, abs=1e-3)
    assert full - weighed == pytest.approx(laden, abs=1e-3)
