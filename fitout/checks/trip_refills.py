"""What keeps a trip's stores from running out: filled up on a day, more of it, less used."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator

from fitout.checks.trip_days import stored_days
from fitout.checks.trip_plan import Plan
from fitout.checks.trip_problems import Cure, Problem, ends, shortage, up
from fitout.model.trips import EnergySpec, Store

PANEL_STEP_W = 10.0
BATTERY_STEP_WH = 50.0
MOST_STEPS = 200
"""A panel or a battery is tried in these steps, up to so many of them."""

PERSON_STEP_L = 0.5
"""Water for a person is lessened by this, litres a day, and not below the least."""

PERSON_LEAST_L = 3.0
"""What a person needs a day to drink and cook (common practice)."""

VERBS = {
    "water": "refill the water",
    "fuel": "refuel",
    "battery": "charge the battery from the mains",
}
Known = tuple[Problem, ...]


def of_store(plan: Plan, problem: Problem, known: Known) -> Iterator[Cure]:
    """What keeps a store from running out, the first of each kind that does."""
    ways = {"water": (_more_water, _less_water), "battery": (_panel, _battery)}
    store: Store = problem.key  # type: ignore[assignment]  # a store's problem names a store
    filled = refilled(plan, store)
    if filled is not None and ends(problem, filled[1], known):
        yield Cure(*filled)
    for way in ways.get(problem.key, (_more_fuel,)):
        for cure in way(plan):
            if ends(problem, cure.plan, known):
                yield cure


def refilled(plan: Plan, store: Store) -> tuple[str, Plan] | None:
    """A store filled up in the morning of each day it would run out; None if that is too late."""
    added: list[int] = []
    while True:
        day = first_short(plan, store)
        if day is None:
            break
        if day in plan.refills.get(store, frozenset()):
            return None
        added.append(day)
        more = plan.refills.get(store, frozenset()) | {day}
        plan = dataclasses.replace(plan, refills={**plan.refills, store: more})
    if not added:
        return None
    days = ", ".join(str(day) for day in added)
    return f"{VERBS[store]} in the morning of day{'s' * (len(added) > 1)} {days}", plan


def first_short(plan: Plan, store: Store) -> int | None:
    """The first day a store runs out."""
    short = (day.number for day in stored_days(plan) if shortage(plan, day, store) > 1e-3)
    return next(short, None)


def _more_water(plan: Plan) -> Iterator[Cure]:
    """More at the start, if the tanks hold it."""
    lack = sum(shortage(plan, day, "water") for day in stored_days(plan))
    litres = up(lack)
    if plan.water_start_l + litres <= plan.ground.water_holds_l:
        changed = dataclasses.replace(plan, water_start_l=plan.water_start_l + litres)
        yield Cure(f"carry {litres:g} l more water", changed)


def _less_water(plan: Plan) -> Iterator[Cure]:
    """Less for each person, as much as is enough."""
    person = plan.each_person_l - PERSON_STEP_L
    while plan.heads and person >= PERSON_LEAST_L:
        changed = dataclasses.replace(plan, each_person_l=person)
        if first_short(changed, "water") is None:
            was = plan.each_person_l
            yield Cure(
                f"use {round(person, 2):g} l a day for each person, not {round(was, 1):g} l",
                changed,
            )
            return
        person -= PERSON_STEP_L


def _more_fuel(plan: Plan) -> Iterator[Cure]:
    """More at the start, if the tank holds it."""
    vehicle = plan.ground.vehicle
    lack = max(shortage(plan, day, "fuel") for day in stored_days(plan))
    if vehicle is None or vehicle.fuel is None or plan.fuel_start_l is None:
        return
    litres = up(lack)
    if plan.fuel_start_l + litres <= vehicle.fuel.holds:
        changed = dataclasses.replace(plan, fuel_start_l=plan.fuel_start_l + litres)
        yield Cure(f"set out with {litres:g} l more fuel", changed)


def _panel(plan: Plan) -> Iterator[Cure]:
    """A larger panel, if the sun reaches one at all."""
    energy = plan.energy
    if energy is None or energy.solar is None:
        return
    solar = energy.solar
    base = solar.panel // PANEL_STEP_W * PANEL_STEP_W

    def with_more(steps: int) -> EnergySpec:
        larger = dataclasses.replace(solar, panel=base + steps * PANEL_STEP_W)
        return dataclasses.replace(energy, solar=larger)

    found = _least(plan, with_more)
    if found is not None and found.energy is not None and found.energy.solar is not None:
        yield Cure(f"fit {found.energy.solar.panel:g} W of panel, not {solar.panel:g} W", found)


def _battery(plan: Plan) -> Iterator[Cure]:
    """A larger battery."""
    energy = plan.energy
    if energy is None:
        return
    base = energy.battery // BATTERY_STEP_WH * BATTERY_STEP_WH

    def with_more(steps: int) -> EnergySpec:
        return dataclasses.replace(energy, battery=base + steps * BATTERY_STEP_WH)

    found = _least(plan, with_more)
    if found is not None and found.energy is not None:
        yield Cure(
            f"fit a battery of {found.energy.battery:g} Wh, not {energy.battery:g} Wh", found
        )


def _least(plan: Plan, with_more: Callable[[int], EnergySpec]) -> Plan | None:
    """The plan with the fewest steps more that leaves the battery enough, by halving."""

    def changed(steps: int) -> Plan:
        return dataclasses.replace(plan, energy=with_more(steps))

    low, high = 0, MOST_STEPS
    if first_short(changed(high), "battery") is not None:
        return None
    while high - low > 1:
        middle = (low + high) // 2
        if first_short(changed(middle), "battery") is None:
            high = middle
        else:
            low = middle
    return changed(high)
