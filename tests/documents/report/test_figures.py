"""What the report's tables and charts tell is what the build's own tables hold."""

import csv
import io
import re
from pathlib import Path

import pytest

from fitout.checks.findings import rank
from fitout.checks.trips import reports
from fitout.checks.vehicle import laden_lines, states
from fitout.documents.dossier import Dossier
from fitout.documents.ledger import ledger_csv, vehicle_csv
from fitout.documents.report.findings_list import spare
from fitout.documents.trip_table import trips_csv
from fitout.model.finding import WORST_FIRST, Severity

LOADS = (
    ("Front axle", "front axle (kg)", "front allowed (kg)"),
    ("Rear axle", "rear axle (kg)", "rear allowed (kg)"),
    ("Gross mass", "gross (kg)", "gross allowed (kg)"),
)
STORES = (("Water (l)", "water left (l)"), ("Fuel (l)", "fuel left (l)"))


@pytest.fixture(scope="module")
def text(wagon_file: Path) -> str:
    return wagon_file.read_text(encoding="utf-8")


def table(content: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(content.decode("utf-8-sig"))))


def told_of(text: str, name: str) -> list[float]:
    """The numbers of the first table row of that name."""
    row = re.search(rf"<th scope=row>(?:<strong>)?{name}(?:</strong>)?((?:<td>[^<]*)+)", text)
    assert row is not None
    return [float(cell) for cell in re.findall("<td>([^<]*)", row[1])]


def charts(text: str, word: str) -> list[list[float]]:
    """What each chart so called tells in words, in the order of the page: its numbers."""
    said = re.findall(rf"<title>{re.escape(word)}: ([^<]*)</title>", text)
    return [[float(n) for n in re.findall(r"-?\d+(?:\.\d+)?", one)] for one in said]


def test_masses_are_those_of_the_ledger(wagon: Dossier, text: str) -> None:
    sums = {
        row["belongs to"].removeprefix("sum: "): row
        for row in table(ledger_csv(laden_lines(wagon.subject)))
        if row["kind"] == "sum" or row["belongs to"].startswith("sum: ")
    }
    names = [module.name for module in wagon.fitout.modules]
    for name, row in [*((n, n) for n in names), ("fit-out as built",) * 2, ("everything", "all")]:
        mass, u, *centre = told_of(text, name)
        kept = sums[row]
        assert mass == pytest.approx(float(kept["mass (kg)"]), abs=0.051)
        assert u == pytest.approx(float(kept["standard uncertainty (kg)"]), abs=0.051)
        for place, way in zip(centre, ("forward", "left", "up"), strict=True):
            assert place == pytest.approx(float(kept[f"{way} (mm)"]), abs=0.6)
    assert told_of(text, "fit-out laden")[0] == pytest.approx(wagon.totals["laden_kg"], abs=0.051)


def test_axles_are_those_of_the_vehicle_table(wagon: Dossier, text: str) -> None:
    told = states(wagon.subject)
    assert told is not None
    rows = table(vehicle_csv(told))
    for word, column, allowed in LOADS:
        kept = [float(row[column]) for row in rows] + [float(rows[-1][allowed])]
        assert charts(text, f"{word} (kg)")[0] == pytest.approx(kept, abs=0.51)
        assert told_of(text, word)[:4] == pytest.approx(kept, abs=0.51)


def test_days_are_those_of_the_trip_table(wagon: Dossier, text: str) -> None:
    rows = table(trips_csv(reports(wagon.subject)))
    trips = list(dict.fromkeys(row["trip"] for row in rows))
    assert len(trips) >= 2
    for word, column, allowed in LOADS:
        _, *each = charts(text, f"{word} (kg)")
        for trip, said in zip(trips, each, strict=True):
            days = [row for row in rows if row["trip"] == trip]
            kept = [float(day[column]) for day in days] + [float(days[0][allowed])]
            assert said == pytest.approx(kept, abs=0.51)
    for word, column in STORES:
        for trip, said in zip(trips, charts(text, word), strict=True):
            kept = [float(row[column]) for row in rows if row["trip"] == trip]
            assert said == pytest.approx(kept, abs=0.51)


def test_a_column_stands_as_high_as_its_day(text: str) -> None:
    """The columns of a chart, measured, against what it says in words."""
    chart = next(one for one in re.findall("<svg[^>]*>.*?</svg>", text) if "Water (l)" in one)
    (said,) = charts(chart, "Water (l)")
    columns = [
        float(foot) - float(top) for path in re.findall(r'd="(M[^"]*z)"', chart)
        for foot, top in re.findall(r"M[\d.]+ ([\d.]+)V([\d.]+)", path)
    ]  # fmt: skip
    assert len(columns) == len(said)
    shares = [height / max(columns) for height in columns]
    assert shares == pytest.approx([amount / max(said) for amount in said], abs=0.03)


def test_findings_stand_by_what_they_have_to_spare(wagon: Dossier, text: str) -> None:
    rows = re.findall(r"<li[^>]*><p>(?:<button>|<span>)(.*?)<i>(.*?)</i><p>(.*?)<p", text)
    sentences = [re.sub("<[^>]*>", "", sentence) for _, _, sentence in rows]
    for severity in WORST_FIRST:
        kept = [f for f in wagon.findings if f.severity is severity]
        if severity is not Severity.FAIL:
            kept.sort(key=lambda one: (rank(one), spare(one)))
        wanted = [f.sentence.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
                  for f in kept]  # fmt: skip
        assert [s for s in sentences if s in set(wanted)] == wanted
    margins = [f.margin for f in wagon.findings if f.severity is Severity.CAUTION and
               rank(f)[1] == 0 and f.margin is not None]  # fmt: skip
    assert len(margins) >= 3


def test_the_verdict_names_the_trips_that_fail(wagon: Dossier, text: str) -> None:
    failing = [
        one.plan.name for one in reports(wagon.subject)
        if any(f.severity is Severity.FAIL for f in one.findings)
    ]  # fmt: skip
    assert failing
    assert f"Fails as a trip: {', '.join(failing)}." in text
