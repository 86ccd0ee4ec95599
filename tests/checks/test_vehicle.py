"""What is told of the vehicle: with numbers by hand, and of a vehicle not entered."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import pytest

from fitout import workflow
from fitout.checks import Subject
from fitout.checks.mass_lines import held_lines
from fitout.checks.vehicle import check_vehicle, laden_lines, states
from fitout.model.finding import Finding, Severity

Make = Callable[..., Any]

VEHICLE = """vehicle:
  rear_axle: 400
  wheelbase: 2800
  track: 1500
  floor_height: 700
  kerb: {{front: 1100 kg ± 5 kg, rear: 900 kg ± 5 kg, height: 650}}
  limits: {{gross: {gross}, front: 1250 kg, rear: {rear}, roof: 50 kg}}
  seats: [{{name: driver, at: [2000, 0], person: {person}}}]
  fuel: {{holds: 60 l, kind: diesel, at: [700, 0, -200], as_weighed: 60 l}}
  springs: {{front: {{rate: 35 N/mm}}, rear: {{rate: 30 N/mm}}}}
  carries:
    - {{name: roof box, mass: 40 kg ± 0.5 kg, at: [{roof_x}, {roof_y}, 1100], where: roof}}
    - {{name: crate, mass: 30 kg, at: [-60, 0, 300]}}
"""
USUAL = {
    "gross": "2600 kg", "rear": "1400 kg", "person": "80 kg", "roof_x": "1000", "roof_y": "0",
}  # fmt: skip
DRAWERS = "drawers: {kind: drawers, width: 800, stack: [{carries: 20 kg}]}"


@dataclass(frozen=True, slots=True)
class Told:
    """What is told of a fit-out in a vehicle."""

    subject: Subject
    findings: tuple[Finding, ...]


@pytest.fixture(scope="module")
def fitted() -> dict[str, Subject]:
    """The fit-out alone, worked out once for all tests."""
    return {}


@pytest.fixture
def in_vehicle(
    evaluated: Make, design_text: Make, tmp_path: Path, fitted: dict[str, Subject]
) -> Callable[[str], Told]:
    """The fit-out in a vehicle, given as it stands in a design file."""

    def make(text: str) -> Told:
        if not fitted:
            fitted["drawers"] = evaluated(DRAWERS).subject
        path = tmp_path / "vehicle.yaml"
        path.write_text(design_text(DRAWERS, more=text), encoding="utf-8", newline="\n")
        subject = replace(fitted["drawers"], vehicle=workflow.load(path).vehicle)
        return Told(subject, tuple(check_vehicle(subject)))

    return make


@pytest.fixture
def of_vehicle(in_vehicle: Callable[[str], Told]) -> Callable[..., Told]:
    """The same; keywords change the usual vehicle."""
    return lambda **entries: in_vehicle(VEHICLE.format(**{**USUAL, **entries}))


def test_no_vehicle_is_unchecked_and_says_what_to_enter(in_vehicle: Make, only: Make) -> None:
    told = in_vehicle("")
    (found,) = told.findings
    assert found.code == "vehicle data"
    assert found.severity is Severity.UNCHECKED
    assert "enter `vehicle:` with its rear axle, wheelbase, kerb masses" in found.sentence
    assert states(told.subject) is None


def test_axles_and_gross_by_hand(of_vehicle: Make, only: Make) -> None:
    """The rest of the ledger by its own sum, so that only the statics are judged here."""
    whole = of_vehicle()
    lines = laden_lines(whole.subject)
    added = sum(line.mass_kg for line in lines)
    front = 1100.0 + sum(line.mass_kg * (line.centre[0] - 400.0) for line in lines) / 2800.0
    gross = only(whole, "gross mass")[0]
    axles = {f.where: f for f in only(whole, "axle load")}
    assert gross.value == pytest.approx(2000.0 + added, abs=1e-3)
    assert axles["the front axle"].value == pytest.approx(front, abs=1e-3)
    assert axles["the rear axle"].value == pytest.approx(2000.0 + added - front, abs=1e-3)
    for finding in (gross, *axles.values()):
        assert finding.severity is Severity.PASS
        assert finding.u > 0.0
        assert "no approval under any regulation" in finding.sentence
        assert "local rules and licensed practice decide" in finding.sentence
        assert "statics by moments" in finding.source
    assert {line.kind for line in lines} >= {
        "panel", "item", "hardware", "contents", "carried", "fuel", "person",
    }  # fmt: skip


def test_an_overloaded_axle_fails_with_a_cure(of_vehicle: Make, only: Make) -> None:
    (found,) = only(of_vehicle(rear="1092 kg", roof_x="-300"), "axle load", Severity.FAIL)
    assert found.where == "the rear axle"
    assert found.margin < 0.0
    assert " To pass, move " in found.sentence
    assert " kg of crate " in found.sentence
    assert " mm forward, to drawers or carry " in found.sentence


def test_what_cannot_be_cured_says_so(of_vehicle: Make, only: Make) -> None:
    (found,) = only(of_vehicle(gross="2020 kg", rear="1400 kg"), "gross mass")
    assert found.severity is Severity.FAIL
    assert "Nothing that can be left out or moved is enough" in found.sentence


def test_a_margin_within_the_uncertainty_is_a_caution(of_vehicle: Make, only: Make) -> None:
    (sure,) = only(of_vehicle(), "gross mass")
    limit = f"{sure.value + 3.0} kg"
    (close,) = only(of_vehicle(gross=limit), "gross mass")
    assert close.severity is Severity.CAUTION
    assert "3 kg are left, which is not sure (standard uncertainty" in close.sentence


def test_the_roof(of_vehicle: Make, only: Make) -> None:
    (found,) = only(of_vehicle(), "roof load")
    assert (found.value, found.limit, found.severity) == (40.0, 50.0, Severity.PASS)


def test_left_and_right(of_vehicle: Make, only: Make) -> None:
    (even,) = only(of_vehicle(), "left and right")
    (off,) = only(of_vehicle(roof_y="3000"), "left and right")
    assert even.severity is Severity.PASS
    assert off.severity is Severity.CAUTION
    assert "move something heavy to the right." in off.sentence
    assert off.value - even.value == pytest.approx(100.0 * 40.0 * 3000.0 / 1500.0
        / only(of_vehicle(), "gross mass")[0].value, abs=0.7)  # fmt: skip


def test_heights_and_roll_over(of_vehicle: Make, only: Make) -> None:
    whole = of_vehicle()
    told = states(whole.subject)
    front, rear = only(whole, "ride height")
    more = told.laden.axles.rear_kg - 900.0
    assert rear.value == pytest.approx(more * 9.80665 / 60.0, abs=1e-3)
    assert front.unit == rear.unit == "mm"
    (pitch,) = only(whole, "pitch")
    assert pitch.value == pytest.approx(told.laden.pitch_deg, abs=1e-3)
    (roll,) = only(whole, "roll-over threshold")
    assert roll.value == pytest.approx(1500.0 / 2.0 / told.laden.height, abs=1e-3)
    assert "is no limit" in roll.sentence


def test_what_is_wanting_is_unchecked(in_vehicle: Make, only: Make) -> None:
    bare = (
        "vehicle: {rear_axle: 400, wheelbase: 2800, kerb: {front: 1100 kg, rear: 900 kg}, "
        "limits: {gross: 2600 kg}, "
        "carries: [{name: bikes, mass: 30 kg, at: [-400, 0, 500], where: door}]}"
    )
    whole = in_vehicle(bare)
    (found,) = only(whole, "vehicle data")
    assert found.severity is Severity.UNCHECKED
    for entry in ("limits: front", "limits: rear", "limits: door", "springs", "track", "seats"):
        assert f"`{entry}`" in found.sentence
    assert only(whole, "axle load") == []
    assert only(whole, "gross mass")[0].severity is Severity.PASS


@pytest.mark.parametrize("name", ["touring-wagon", "canopy-tub", "small-hatch"])
def test_the_demos_keep_their_limits(name: str, demo: Make) -> None:
    told = states(demo(name))
    assert told is not None
    for _, state in told.each():
        assert state.exceeded == ()
    assert told.weighed.total_kg < told.empty.total_kg < told.laden.total_kg


def test_laden_counts_contents_people_and_what_is_carried(of_vehicle: Make) -> None:
    told = of_vehicle()
    now = states(told.subject)
    assert now is not None
    held = sum(line.mass_kg for line in held_lines(told.subject))
    assert held > 0.0
    assert now.laden.total_kg - now.empty.total_kg == pytest.approx(held + 40.0 + 30.0 + 80.0)
    nobody = states(of_vehicle(person="0").subject)
    assert nobody is not None
    assert now.laden.total_kg - nobody.laden.total_kg == pytest.approx(80.0)
