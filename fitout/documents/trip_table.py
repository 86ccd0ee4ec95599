"""Trips as tables within 80 columns, as CSV and as JSON."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from fitout.checks.trip_days import Day
from fitout.checks.trip_findings import TripReport
from fitout.checks.trip_problems import held_at, shortage
from fitout.documents.findings import findings_object
from fitout.documents.tables import Cell, table

WIDTH = 80
COLUMNS = (
    ("day", "", 3), ("km", "", 5), ("°C", "", 4), ("front", "kg", 7), ("left", "kg", 6),
    ("rear", "kg", 7), ("left", "kg", 6), ("gross", "kg", 7), ("left", "kg", 6),
    ("water", "l", 7), ("battery", "Wh", 9), ("fuel", "l", 6), ("range", "km", 6),
)  # fmt: skip
AXLES = ("front", "rear", "gross")

HEADINGS = (
    "trip", "day", "km", "ambient (°C)",
    "front axle (kg)", "front allowed (kg)", "rear axle (kg)", "rear allowed (kg)",
    "gross (kg)", "gross allowed (kg)", "standard uncertainty (kg)",
    "water in the morning (l)", "water left (l)", "water wanting (l)",
    "drawn (Wh)", "sun (Wh)", "engine (Wh)", "battery left (Wh)", "wanting (Wh)",
    "fuel in the morning (l)", "fuel left (l)", "range above reserve (km)",
    "goods in the morning (kg)", "goods left (kg)",
)  # fmt: skip


def trips_text(reports: Sequence[TripReport]) -> str:
    """Every trip's table: what each axle bears at most that day, and what is left of the rest."""
    return "\n\n".join("\n".join(_trip_lines(report)) for report in reports)


def _trip_lines(report: TripReport) -> Iterator[str]:
    plan = report.plan
    heads = "people not known" if plan.heads is None else _count(plan.heads, "person", "people")
    whole = sum(work.km for work in plan.works)
    heading = f"{plan.name}: {_count(plan.days, 'day', 'days')}, {heads}, {whole:.0f} km"
    yield from textwrap.wrap(heading, WIDTH)
    yield from textwrap.wrap(
        "Axles and gross as the day bears most, and what is left to the limit; water, battery, "
        "fuel and range as the day leaves them. !: too much, or run out. -: not known.",
        WIDTH,
    )
    yield ""
    yield "".join(f"{name:>{width}}" for name, _, width in COLUMNS).rstrip()
    yield "".join(f"{unit:>{width}}" for _, unit, width in COLUMNS).rstrip()
    for day in report.days:
        cells = list(_cells(report, day))
        yield "".join(
            f"{cell:>{width}}" for cell, (_, _, width) in zip(cells, COLUMNS, strict=True)
        ).rstrip()


def _count(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many}"


def _cells(report: TripReport, day: Day) -> Iterator[str]:
    yield f"{day.number}"
    yield f"{day.km:.0f}"
    yield f"{day.ambient_c:.0f}"
    for key in AXLES:
        yield from _axle_cells(day, key)
    plan = report.plan
    short = {store: shortage(plan, day, store) > 1e-3 for store in ("water", "battery", "fuel")}
    yield _marked(day.evening.water_l if plan.ground.tanks else None, short["water"])
    yield _marked(day.evening.energy_wh, short["battery"])
    yield _marked(day.evening.fuel_l, short["fuel"])
    yield _marked(day.range_km, False)


def _axle_cells(day: Day, key: str) -> tuple[str, str]:
    held = held_at([day], key)
    if not held:
        return "-", "-"
    worst = min(held, key=lambda one: (one.margin_kg, -one.limit.value_kg))
    value = f"{worst.limit.value_kg:.0f}"
    if worst.limit.limit_kg is None:
        return value, "-"
    # Rounded towards what is wrong: 0.4 kg too much is not 0 left.
    margin = worst.margin_kg
    return value, f"{margin:.0f}" if margin >= 0.0 else f"{min(-1.0, round(margin)):.0f}!"


def _marked(value: float | None, wrong: bool) -> str:
    return "-" if value is None else f"{value + 0.0:.0f}{'!' * wrong}"


def trips_csv(reports: Sequence[TripReport]) -> bytes:
    """One row a trip and day."""
    return table(HEADINGS, [_row(report, day) for report in reports for day in report.days])


def _row(report: TripReport, day: Day) -> list[Cell]:
    axles: list[Cell] = []
    for key in AXLES:
        held = held_at([day], key)
        worst = max(held, key=lambda one: one.limit.value_kg, default=None)
        axles += [
            _number(None if worst is None else worst.limit.value_kg),
            _number(None if worst is None else worst.limit.limit_kg),
        ]
    energy = day.energy
    powers = [None] * 3 if energy is None else [
        energy.drawn_wh, energy.solar_wh, energy.driving_wh
    ]  # fmt: skip
    return [
        report.plan.name,
        day.number,
        _number(day.km),
        _number(day.ambient_c),
        *axles,
        _number(None if day.out is None else day.out.u_kg),
        _number(day.morning.water_l),
        _number(day.evening.water_l),
        _number(day.water_short_l),
        *(_number(power) for power in powers),
        _number(day.evening.energy_wh),
        _number(None if energy is None else energy.short_wh),
        _number(day.morning.fuel_l),
        _number(day.evening.fuel_l),
        _number(day.range_km),
        _number(sum(day.morning.packed_kg)),
        _number(sum(day.evening.packed_kg)),
    ]


def _number(value: float | None) -> str | None:
    return None if value is None else f"{round(value, 1) + 0.0:.1f}"


def trips_object(design: str, reports: Sequence[TripReport]) -> dict[str, object]:
    """What `fitout trip --json` prints: `design`, `passed`, `trips`."""
    return {
        "design": design,
        "passed": all(report.passed for report in reports),
        "trips": [_trip_object(report) for report in reports],
    }


def _trip_object(report: TripReport) -> dict[str, object]:
    told = findings_object(report.plan.name, report.findings, {})
    return {
        "trip": report.plan.name,
        "passed": report.passed,
        "problems": [
            {
                "of": problem.key,
                "from_day": problem.day,
                "worst": _round(problem.worst),
                "worst_day": problem.worst_day,
            }
            for problem in report.problems
        ],
        "findings": told["findings"],
        "days": [_day_object(report, day) for day in report.days],
    }


def _day_object(report: TripReport, day: Day) -> dict[str, object]:
    states = {"out": day.out, "back": day.back}
    energy = day.energy
    return {
        "day": day.number,
        "km": _round(day.km),
        "ambient_c": _round(day.ambient_c),
        "water_l": [_round(day.morning.water_l), _round(day.evening.water_l)],
        "water_wanting_l": _round(day.water_short_l),
        "fuel_l": [_round(day.morning.fuel_l), _round(day.evening.fuel_l)],
        "range_km": _round(day.range_km),
        "battery_wh": [_round(day.morning.energy_wh), _round(day.evening.energy_wh)],
        "energy": None
        if energy is None
        else {
            "drawn_wh": _round(energy.drawn_wh),
            "solar_wh": _round(energy.solar_wh),
            "driving_wh": _round(energy.driving_wh),
            "kept_wh": _round(energy.kept_wh),
            "wanting_wh": _round(energy.short_wh),
        },
        "packed_kg": {
            place: [_round(a), _round(b)]
            for place, a, b in zip(
                report.plan.packed, day.morning.packed_kg, day.evening.packed_kg, strict=True
            )
        },
        "limits": {
            name: [
                {"of": limit.key, "value_kg": _round(limit.value_kg), "u_kg": _round(limit.u_kg),
                 "limit_kg": limit.limit_kg}
                for limit in state.limits
            ]
            for name, state in states.items()
            if state is not None
        },
    }  # fmt: skip


def _round(value: float | None) -> float | None:
    return None if value is None else round(value, 4) + 0.0
