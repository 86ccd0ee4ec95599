"""What goes wrong on a trip, and on which day: limits exceeded, stores that run out."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from fitout.checks.trip_days import Day, gone_through
from fitout.checks.trip_plan import Plan
from fitout.checks.vehicle_state import Limit
from fitout.checks.verdict import ROUNDING
from fitout.model.trips import Store

Kind = Literal["limit", "packing", "store"]
LIMITS = ("front", "rear", "gross", "roof", "door", "behind_bumper")
RUN_OUT: tuple[Store, ...] = ("water", "battery", "fuel")


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong: `key` is a limit, a place or a store.

    `day` is the first day it is, `worst` by how much at most, kg, l or Wh, and `worst_day` when.
    """

    kind: Kind
    key: str
    day: int
    worst: float
    worst_day: int


@dataclass(frozen=True, slots=True)
class Cure:
    """What to do, in words, and the trip once it is done."""

    words: str
    plan: Plan


@dataclass(frozen=True, slots=True)
class Held:
    """A limit of the vehicle at one time of a trip."""

    day: int
    limit: Limit

    @property
    def margin_kg(self) -> float:
        """What is left; infinite where there is no limit."""
        margin = self.limit.margin_kg
        return float("inf") if margin is None else margin


def problems(plan: Plan, days: Sequence[Day]) -> tuple[Problem, ...]:
    """All that is wrong, each once: places packed too full, limits, then stores."""
    return (*_overfull(plan), *_exceeded(days), *_out(plan, days))


def ends(problem: Problem, plan: Plan, known: Sequence[Problem]) -> bool:
    """Whether a changed plan has the problem no more, and no other that was not there."""
    left = {(p.kind, p.key) for p in problems(plan, gone_through(plan))}
    return (problem.kind, problem.key) not in left and left <= {(p.kind, p.key) for p in known}


def up(value: float) -> int:
    """Up to the next whole number; what is a rounding error above one counts as it."""
    return math.ceil(value - 1e-6)


def _overfull(plan: Plan) -> Iterator[Problem]:
    for id_, packed in plan.packed.items():
        more = packed.start_kg - plan.ground.places[id_].full.mass_kg
        if more > ROUNDING:
            yield Problem("packing", id_, 1, more, 1)


def held_at(days: Sequence[Day], key: str) -> list[Held]:
    """A limit of the vehicle, every morning and night."""
    return [
        Held(day.number, state.limit(key))
        for day in days
        for state in (day.out, day.back)
        if state is not None
    ]


def _exceeded(days: Sequence[Day]) -> Iterator[Problem]:
    for key in LIMITS:
        over = [held for held in held_at(days, key) if held.margin_kg < -ROUNDING]
        if over:
            worst = min(over, key=lambda held: held.margin_kg)
            yield Problem("limit", key, over[0].day, -worst.margin_kg, worst.day)


def shortage(plan: Plan, day: Day, store: Store) -> float:
    """How much of a store is wanting on a day, l or Wh; for fuel, of the reserve as well."""
    if store == "water":
        return day.water_short_l
    if store == "battery":
        return 0.0 if day.energy is None else day.energy.short_wh
    if day.evening.fuel_l is None or plan.spec.fuel.uses is None:
        return 0.0
    return day.fuel_short_l + max(0.0, (plan.reserve_l or 0.0) - day.evening.fuel_l)


def _out(plan: Plan, days: Sequence[Day]) -> Iterator[Problem]:
    for store in RUN_OUT:
        short = [(shortage(plan, day, store), day.number) for day in days]
        first = next((number for lack, number in short if lack > ROUNDING), None)
        if first is not None:
            lack, worst = max(short, key=lambda x: (x[0], -x[1]))
            yield Problem("store", store, first, lack, worst)
