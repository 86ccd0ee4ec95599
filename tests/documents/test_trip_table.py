"""Trips as a table, as CSV, as JSON: what the demos print, and what is marked."""

import csv
import io
import json
from pathlib import Path

import pytest

from fitout import workflow
from fitout.checks.trip_findings import TripReport
from fitout.documents.trip_table import HEADINGS, WIDTH, trips_csv, trips_object, trips_text

DESIGNS = Path(__file__).parents[2] / "designs"
KEPT = Path(__file__).parents[1] / "golden" / "trips"


@pytest.fixture(scope="module", params=["touring-wagon", "canopy-tub", "small-hatch"])
def told(request: pytest.FixtureRequest) -> tuple[str, tuple[TripReport, ...]]:
    name: str = request.param
    return name, workflow.trips(workflow.load(DESIGNS / f"{name}.yaml"))


def test_the_tables_are_as_kept(told, same_as) -> None:
    name, reports = told
    text = trips_text(reports)
    assert max(len(line) for line in text.splitlines()) <= WIDTH
    same_as(KEPT / f"{name}.txt", f"{text}\n")


def test_what_fails_is_marked_on_its_days_only(told) -> None:
    _, (good, bad) = told
    assert "!" not in trips_text([good]).partition("\nday ")[2]
    rows = trips_text([bad]).splitlines()[-bad.plan.days :]
    first = min(problem.day for problem in bad.problems)
    assert all("!" not in row for row in rows[: first - 1])
    assert "!" in rows[first - 1]


def test_csv_has_a_row_for_each_day(told) -> None:
    _, reports = told
    rows = list(csv.DictReader(io.StringIO(trips_csv(reports).decode("utf-8-sig"))))
    assert list(rows[0]) == list(HEADINGS)
    assert len(rows) == sum(report.plan.days for report in reports)
    for row in rows:
        axles = float(row["front axle (kg)"]) + float(row["rear axle (kg)"])
        assert axles == pytest.approx(float(row["gross (kg)"]), abs=0.2)


def test_json_is_plain_and_says_what_passed(told) -> None:
    name, reports = told
    whole = json.loads(json.dumps(trips_object(name, reports), allow_nan=False))
    assert whole["passed"] is False
    good, bad = whole["trips"]
    assert (good["passed"], good["problems"]) == (True, [])
    assert bad["problems"][0]["from_day"] >= 1
    for trip, report in zip(whole["trips"], reports, strict=True):
        assert [day["day"] for day in trip["days"]] == list(range(1, report.plan.days + 1))
        assert all(finding["source"] for finding in trip["findings"])
        for day in trip["days"]:
            front, rear, gross = (limit["value_kg"] for limit in day["limits"]["out"][:3])
            assert front + rear == pytest.approx(gross, abs=1e-3)
