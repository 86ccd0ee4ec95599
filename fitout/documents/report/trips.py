"""Each trip day by day: axles against their limits, water, battery, fuel."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fitout.checks.trip_days import Day
from fitout.checks.trip_findings import TripReport
from fitout.checks.trip_problems import held_at, shortage
from fitout.checks.trips import reports
from fitout.documents.dossier import Dossier
from fitout.documents.report.charts import by_day
from fitout.documents.report.markup import Markup, name, tag
from fitout.documents.report.scene import Scene
from fitout.documents.report.table import table
from fitout.documents.report.verdict import sign
from fitout.documents.wording import Wording, decimal
from fitout.model.finding import Severity
from fitout.model.trips import Store

AXLES = ("front", "rear", "gross")
STORES: tuple[tuple[Store, str], ...] = (("water", "l"), ("battery", "Wh"), ("fuel", "l"))
SHORT = 1e-3
"""What is wanting by less than this is rounding."""


@dataclass(frozen=True, slots=True)
class Series:
    """What one chart shows: a value each day, the limit, where it is wrong."""

    word: str
    unit: str
    values: tuple[float | None, ...]
    limit: float | None
    wrong: tuple[bool, ...]


def trips_section(dossier: Dossier, scene: Scene) -> Markup:
    """A part for each trip: charts and the same numbers as a table."""
    del scene
    told = reports(dossier.subject)
    if not told:
        return Markup("")
    say = dossier.wording.say
    parts = [_trip(report, dossier.wording) for report in told]
    return tag(
        "section", tag("h2", say("report_trips")), tag("p", say("report_trips_said")), *parts,
        id="trips",
    )  # fmt: skip


def _trip(report: TripReport, wording: Wording) -> Markup:
    say = wording.say
    shown = list(_series(report, wording))
    charts = [
        by_day(
            (one.word, one.unit),
            one.values,
            _limit(one, wording),
            one.wrong,
            lambda low: say("report_from", low=f"{low:.0f}"),
        )
        for one in shown
    ]
    heads = [say("report_day"), "#km", *(f"#{one.word} ({one.unit})" for one in shown)]
    rows = [
        [
            str(day.number),
            decimal(day.km, 0),
            *(_cell(one.values[i], one.wrong[i]) for one in shown),
        ]
        for i, day in enumerate(report.days)
    ]
    worst = report.findings[0].severity if report.findings else Severity.PASS
    word = say(f"severity_{worst.value}")
    title = tag("h3", sign(worst), " ", name(report.plan.name), f" – {word}", class_=worst.value)
    troubles = [tag("li", f.sentence) for f in report.findings if f.severity is Severity.FAIL]
    return tag(
        "div",
        title,
        *([tag("ul", *troubles)] if troubles else []),
        tag("div", *charts, class_="charts"),
        tag(
            "details",
            tag("summary", say("report_as_table")),
            table(say("report_days_of", trip=report.plan.name), heads, rows),
            open=True,
            data_long=True,
        ),
    )


def _limit(one: Series, wording: Wording) -> tuple[float, str] | None:
    if one.limit is None:
        return None
    return one.limit, wording.say("report_allowed", limit=f"{one.limit:.0f}")


def _cell(value: float | None, wrong: bool) -> str:
    return "–" if value is None else f"{decimal(value, 0)}{' !' if wrong else ''}"


def _series(report: TripReport, wording: Wording) -> Iterator[Series]:
    for key in AXLES:
        held = [_heaviest(day, key) for day in report.days]
        if any(value is not None for value, _ in held):
            limit = next((most for _, most in held if most is not None), None)
            wrong = tuple(v is not None and most is not None and v > most for v, most in held)
            word = wording.say(f"report_axle_{key}")
            yield Series(word, "kg", tuple(v for v, _ in held), limit, wrong)
    for store, unit in STORES:
        values = tuple(_left(report, day, store) for day in report.days)
        if any(value is not None for value in values):
            wrong = tuple(shortage(report.plan, day, store) > SHORT for day in report.days)
            yield Series(wording.say(f"report_store_{store}"), unit, values, None, wrong)


def _heaviest(day: Day, key: str) -> tuple[float | None, float | None]:
    """What the day bears most, and what is allowed."""
    held: Sequence[float] = [one.limit.value_kg for one in held_at([day], key)]
    limits = [one.limit.limit_kg for one in held_at([day], key)]
    return (max(held), limits[0]) if held else (None, None)


def _left(report: TripReport, day: Day, store: Store) -> float | None:
    if store == "water":
        return day.evening.water_l if report.plan.ground.tanks else None
    return day.evening.energy_wh if store == "battery" else day.evening.fuel_l
