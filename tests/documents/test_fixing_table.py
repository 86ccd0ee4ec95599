"""The fixing schedule: one row a bolt, the vehicle's side in words."""

import csv
import dataclasses
import io

import pytest

from fitout.checks.restraint_cases import Case
from fitout.checks.restraint_grip import Grip
from fitout.checks.restraint_held import Used
from fitout.checks.restraint_rows import FixingRow
from fitout.documents.fixing_table import FIXING_HEADINGS, below, fixings_csv, fixings_object

CASE = Case("braking", (1.0, 0.0, 0.0), 0.8, 0.8, "working", "a guide")
GRIP = Grip(thread="M8", grade="8.8", washer=40.0, board=12.0, density_kg_m3=680.0)
ROW = FixingRow(
    module="drawers",
    point="eye",
    at=(150.0, -300.0, 0.0),
    grip=GRIP,
    road=Used(0.123, "bolt", "eye", 100.0, 200.0, CASE),
    crash=None,
)


def test_a_row() -> None:
    (row,) = csv.DictReader(io.StringIO(fixings_csv([ROW]).decode("utf-8-sig")))
    assert tuple(row) == FIXING_HEADINGS
    assert row["on the road (%)"] == "12.3"
    assert (row["pull (N)"], row["sideways (N)"]) == ("100", "200")
    assert row["in our crash case (%)"] == ""


def test_as_json() -> None:
    (told,) = fixings_object([ROW])
    assert told["at"] == [150.0, -300.0, 0.0]
    assert told["road"] == {
        "percent": 12.3,
        "governs": "bolt",
        "case": "braking at 0.8 g",
        "tension_n": 100.0,
        "shear_n": 200.0,
    }
    assert told["crash"] is None


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({}, "sheet not known, washer"),
        ({"sheet": 0.8, "plate": 60.0}, "0.8 mm sheet, 60 mm plate"),
        ({"rating_n": 4000.0}, "rated 4000 N"),
        ({"into": "rivet nut"}, "rivet nut, not tested"),
        ({"into": "captive nut", "tested_n": 3000.0}, "captive nut, tested 3000 N"),
        ({"into": None, "insert_n": 1.0}, "insert nut"),
        ({"into": None}, "nut"),
    ],
)
def test_the_vehicles_side(changes, words) -> None:
    assert below(dataclasses.replace(GRIP, **changes)) == words
