"""What a trip comes to, as findings: limits, packing, water, battery, fuel, the hose."""

from __future__ import annotations

import dataclasses
import itertools
from collections.abc import Iterator
from dataclasses import dataclass

from fitout.checks.trip_cures import cures, entries
from fitout.checks.trip_days import Day, dead_water_l, gone_through, usable_wh
from fitout.checks.trip_hose import hose_findings
from fitout.checks.trip_plan import Plan
from fitout.checks.trip_problems import LIMITS, Held, Problem, held_at, problems
from fitout.checks.vehicle import COVERAGE, NO_APPROVAL, STATICS
from fitout.checks.verdict import COMMON_PRACTICE, at_least, at_most, remark
from fitout.model.finding import WORST_FIRST, Finding, Severity

CURES_TOLD = 3
"""So many ways out are told of each problem: more would not be read."""

BATTERY_SOURCE = (
    "sum of power x time; a panel gives its rated power for the hours of sun less losses; the "
    "day's sun by declination and hour angle (Cooper 1969, Page 1961, Klein 1977, from memory)"
)


@dataclass(frozen=True, slots=True)
class TripReport:
    """A trip gone through: its days, what is wrong with it, and every finding."""

    plan: Plan
    days: tuple[Day, ...]
    problems: tuple[Problem, ...]
    findings: tuple[Finding, ...]

    @property
    def passed(self) -> bool:
        """Whether nothing fails."""
        return all(f.severity is not Severity.FAIL for f in self.findings)


@dataclass(frozen=True, slots=True)
class _Told:
    """A trip gone through, as its findings ask for it."""

    plan: Plan
    days: tuple[Day, ...]
    wrong: tuple[Problem, ...]

    def problem(self, key: str) -> Problem | None:
        return next((p for p in self.wrong if p.key == key), None)

    def where(self, of: str) -> str:
        return f"{self.plan.name}: {of}"


def report_of(plan: Plan) -> TripReport:
    """A trip gone through, with its findings."""
    days = gone_through(plan)
    told = _Told(plan, days, problems(plan, days))
    found = (
        *_packing(told),
        *(finding for key in LIMITS for finding in _limit(told, key)),
        *_water(told),
        *_battery(told),
        *_fuel(told),
        *hose_findings(plan),
        *_wanting(told),
    )
    ordered = sorted(found, key=lambda finding: WORST_FIRST.index(finding.severity))
    return TripReport(plan, days, told.wrong, tuple(ordered))


def _ending(told: _Told, problem: Problem, besides: str = "") -> str:
    """How to pass, then what else is to be said, then the entries of the first way to put in."""
    ways = list(itertools.islice(cures(told.plan, problem, told.wrong), CURES_TOLD))
    if not ways:
        return f"No change of one thing was found that is enough. {besides}".rstrip()
    words = "; or ".join(cure.words for cure in ways)
    text = f"To pass, {words}; each way was gone through again day by day. {besides}".rstrip()
    lines = entries(told.plan, ways[0].plan)
    if not lines:
        return text
    return "\n".join([f"{text} For the first way, put in under `trips: {told.plan.name}`:", *lines])


def _packing(told: _Told) -> Iterator[Finding]:
    """Places packed with more than they are made to carry."""
    for problem in told.wrong:
        if problem.kind == "packing":
            packed = told.plan.packed[problem.key].start_kg
            full = told.plan.ground.places[problem.key].full.mass_kg
            sentence = (
                f"{problem.key} is packed with {packed:.1f} kg and is made to carry "
                f"{full:.1f} kg. {_ending(told, problem)}"
            )
            where = told.where(problem.key)
            source = "what the module is made to carry"
            yield at_most("trip packing", where, packed, full, "kg", sentence, source)


def _limit(told: _Told, key: str) -> Iterator[Finding]:
    """A limit of the vehicle's maker on the day that exceeds it most, or comes nearest to it."""
    held = held_at(told.days, key)
    vehicle = told.plan.ground.vehicle
    if vehicle is None or not any(one.limit.value_kg for one in held):
        return
    worst = min(held, key=lambda one: (one.margin_kg, one.day))
    limit = worst.limit
    if limit.limit_kg is None:
        return
    sentence = _limit_sentence(told, worst)
    source = f"{STATICS}; limit: {vehicle.limits.source}; uncertainty: JCGM 100"
    where = told.where(limit.name)
    finding = at_most("trip mass", where, limit.value_kg, limit.limit_kg, "kg", sentence, source)
    if finding.severity is Severity.PASS and worst.margin_kg < COVERAGE * limit.u_kg:
        finding = dataclasses.replace(finding, severity=Severity.CAUTION)
    yield dataclasses.replace(finding, u=round(limit.u_kg, 4))


def _limit_sentence(told: _Told, worst: Held) -> str:
    limit, problem = worst.limit, told.problem(worst.limit.key)
    name = f"{limit.name[0].upper()}{limit.name[1:]}"
    verb = "weighs" if limit.key == "gross" else "bears"
    borne = f"{limit.value_kg:.0f} kg of {limit.limit_kg:.0f} kg allowed"
    unsure = f"standard uncertainty {limit.u_kg:.0f} kg"
    if problem is None:
        sure = "" if worst.margin_kg >= COVERAGE * limit.u_kg else ", which is not sure"
        return (
            f"{name} {verb} most for its limit on day {worst.day}: {borne}, {worst.margin_kg:.0f} "
            f"kg are left{sure} ({unsure}). {NO_APPROVAL}"
        )
    since = "" if problem.day == worst.day else f" (too much from day {problem.day} on)"
    return (
        f"On day {worst.day} {limit.name} {verb} {borne}, {-worst.margin_kg:.1f} kg too much"
        f"{since} ({unsure}). {_ending(told, problem, NO_APPROVAL)}"
    )


def _on_days(told: _Told, store: str, verb: str) -> str:
    """When a store is filled up, in words."""
    days = sorted(d for key, on in told.plan.refills.items() if key == store for d in on)
    if not days:
        return ""
    listed = ", ".join(str(day) for day in days)
    return f", {verb} on day{'s' * (len(days) > 1)} {listed}"


def _tenths(value: float) -> str:
    """A number to a tenth at most: what was entered in gallons has no end otherwise."""
    return f"{round(value, 1):g}"


def _water(told: _Told) -> Iterator[Finding]:
    """Whether the water lasts, day by day."""
    plan, problem = told.plan, told.problem("water")
    if not plan.ground.tanks:
        return
    dead = dead_water_l(plan)
    heads = f"{plan.heads or 0} x {_tenths(plan.each_person_l)} l"
    besides = f"{_tenths(plan.spec.water.besides)} l besides"
    use = f"{_tenths(plan.water_each_day_l)} l a day ({heads} and {besides})"
    carried = _tenths(plan.water_start_l)
    filled = _on_days(told, "water", "refilled")
    below = (
        f"{dead:.1f} l lie below the tap and are not drawn" if dead else "no tap height is known"
    )
    left = [
        (max(0.0, day.evening.water_l - dead) - day.water_short_l, day.number) for day in told.days
    ]
    value, lowest = min(left)
    if problem is None:
        sentence = (
            f"The water lasts: of {carried} l at the start{filled}, with {use}, least "
            f"is left on day {lowest}: {value:.1f} l to draw; {below}."
        )
    else:
        sentence = (
            f"The water runs out on day {problem.day}: of {carried} l at the start"
            f"{filled}, with {use}, {_wanting_words(problem, 'l')}; {below}. "
            f"{_ending(told, problem)}"
        )
    source = f"what is used, as entered or {COMMON_PRACTICE}"
    yield at_least("trip water", told.where("water"), value, 0.0, "l", sentence, source)


def _wanting_words(problem: Problem, unit: str) -> str:
    """What is wanting at its worst."""
    day = "then" if problem.worst_day == problem.day else f"on day {problem.worst_day}"
    return f"{problem.worst:.3g} {unit} are wanting {day}"


def _battery(told: _Told) -> Iterator[Finding]:
    """Whether the battery lasts through every night."""
    plan, problem = told.plan, told.problem("battery")
    spec = plan.energy
    days = [(day, day.energy) for day in told.days if day.energy is not None]
    if spec is None or not days:
        return
    lowest, energy = min(
        days, key=lambda x: ((x[0].evening.energy_wh or 0.0) - x[1].short_wh, x[0].number)
    )
    value = (lowest.evening.energy_wh or 0.0) - energy.short_wh
    filled = _on_days(told, "battery", "charged from the mains")
    use = (
        f"of {usable_wh(spec):.0f} Wh that may be drawn{filled}, day {lowest.number} at "
        f"{_tenths(lowest.ambient_c)} °C draws {energy.drawn_wh:.0f} Wh, the sun gives "
        f"{energy.solar_wh:.0f} Wh and the engine {energy.driving_wh:.0f} Wh"
    )
    if problem is None:
        sentence = f"The battery lasts: {use}, and least is left then, {value:.0f} Wh."
    else:
        sentence = (
            f"The battery is empty on day {problem.day}: {use}; "
            f"{_wanting_words(problem, 'Wh')}. {_ending(told, problem)}"
        )
    where = told.where("battery")
    yield at_least("trip battery", where, value, 0.0, "Wh", sentence, BATTERY_SOURCE)


def _fuel(told: _Told) -> Iterator[Finding]:
    """Whether the reserve is there every evening, and how far the fuel goes."""
    plan, problem, uses = told.plan, told.problem("fuel"), told.plan.spec.fuel.uses
    reserve = plan.reserve_l
    days = [(day, day.evening.fuel_l - day.fuel_short_l) for day in told.days
            if day.evening.fuel_l is not None]  # fmt: skip
    if uses is None or reserve is None or not days:
        return
    lowest, left = min(days, key=lambda x: (x[1], x[0].number))
    filled = _on_days(told, "fuel", "refuelled")
    whole = sum(day.km for day in told.days)
    start = (
        f"of {_tenths(plan.fuel_start_l or 0.0)} l at the start{filled}, over {whole:.0f} km at "
        f"{_tenths(uses)} l/100 km"
    )
    if problem is None:
        sentence = (
            f"The fuel lasts: {start}, least is left on day {lowest.number}: {left:.1f} l, "
            f"{lowest.range_km:.0f} km above the reserve of {reserve:.1f} l."
        )
    else:
        sentence = (
            f"The fuel comes below the reserve of {reserve:.1f} l on day {problem.day}: {start}, "
            f"{_wanting_words(problem, 'l')}. {_ending(told, problem)}"
        )
    source = f"consumption as entered; reserve as entered or {COMMON_PRACTICE}"
    yield at_least("trip fuel", told.where("fuel"), left, reserve, "l", sentence, source)


def _wanting(told: _Told) -> Iterator[Finding]:
    """What was not checked because an entry is missing."""
    plan = told.plan
    vehicle, spec = plan.ground.vehicle, plan.spec
    wanting = []
    if vehicle is None:
        wanting.append("axle loads and gross mass (`vehicle`)")
    else:
        limits = vehicle.limits
        missing = [key for key in ("front", "rear") if getattr(limits, key) is None]
        wanting += [f"the {key} axle (`vehicle: limits: {key}`)" for key in missing]
    if vehicle is not None and vehicle.fuel is None:
        wanting.append("fuel and its mass (`vehicle: fuel`)")
    elif spec.fuel.uses is None and vehicle is not None:
        wanting.append("how far the fuel goes (`fuel: uses`)")
    if not plan.ground.tanks:
        wanting.append("water (no tank is built in)")
    elif plan.heads is None:
        wanting.append("what people use (`people`)")
    if spec.energy is None:
        wanting.append("battery (`energy`)")
    if wanting:
        sentence = f"Not checked of this trip, for want of entries: {', '.join(wanting)}."
        yield remark("trip data", told.where("trip"), Severity.UNCHECKED, sentence)
