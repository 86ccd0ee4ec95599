"""What brings a trip's loads within their limits: something moved, or less of something."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator

from fitout.checks.trip_plan import Packed, Plan
from fitout.checks.trip_problems import Cure, Problem, ends, up
from fitout.checks.trip_refills import refilled
from fitout.checks.vehicle_cures import OUTSIDE
from fitout.checks.vehicle_lines import fuel_line
from fitout.model.trips import Store

TRIED = 3
"""How many ways of a kind are gone through, the least first."""

SET_STEP = 10.0
"""Things are set further along by whole steps of this, mm."""

STEPS = 3
"""How often a kg is added where what was reckoned does not quite do."""

Known = tuple[Problem, ...]


def relief(plan: Plan, x: float, where: str, key: str) -> float:
    """By how much a limit is relieved by a kg left at home that lay at `x`."""
    vehicle = plan.ground.vehicle
    if vehicle is None:
        return 0.0
    if key in OUTSIDE:
        return 1.0 if where == OUTSIDE[key] else 0.0
    front = (x - vehicle.rear_axle) / vehicle.wheelbase
    return {"front": front, "rear": 1.0 - front, "gross": 1.0}[key]


def of_limit(plan: Plan, problem: Problem, known: Known) -> Iterator[Cure]:
    """What brings a limit of the vehicle back: moved first, then less, then less of several."""
    found = False
    for way in (_moved, _set_further, _less_packed, _less_water, _less_fuel, _less_carried):
        for cure in way(plan, problem, known):
            found = True
            yield cure
    if not found:
        yield from _several(plan, problem, known)


def _with(plan: Plan, more: dict[str, float]) -> Plan:
    """The plan with so many kg more (or less) in some places."""
    packed = dict(plan.packed)
    for id_, mass in more.items():
        packed[id_] = Packed(packed[id_].start_kg + mass, packed[id_].each_day_kg)
    return dataclasses.replace(plan, packed=packed)


def _steady(plan: Plan) -> list[str]:
    """Places whose goods stay as many all days: what is moved there stays there."""
    return [id_ for id_, packed in plan.packed.items() if not packed.each_day_kg]


def _free_kg(plan: Plan, id_: str) -> float:
    return plan.ground.places[id_].full.mass_kg - plan.packed[id_].start_kg


def _x(plan: Plan, id_: str) -> float:
    return plan.ground.places[id_].full.centre[0]


def _moved(plan: Plan, problem: Problem, known: Known) -> Iterator[Cure]:
    """The least mass from one place to another that has room for it."""
    if problem.key not in ("front", "rear"):
        return
    ways = []
    steady = _steady(plan)
    for a in steady:
        for b in steady:
            gain = relief(plan, _x(plan, a), "", problem.key)
            gain -= relief(plan, _x(plan, b), "", problem.key)
            if gain <= 1e-6:
                continue
            mass = up(problem.worst / gain)
            if mass <= min(plan.packed[a].start_kg, _free_kg(plan, b)):
                ways.append((mass, a, b))
    for mass, a, b in sorted(ways)[:TRIED]:
        changed = _with(plan, {a: -mass, b: mass})
        if ends(problem, changed, known):
            yield Cure(_move_words(plan, mass, a, b), changed)
            return


def _move_words(plan: Plan, mass: float, a: str, b: str) -> str:
    way = "forward" if _x(plan, b) >= _x(plan, a) else "rearward"
    return f"move {mass:g} kg {way}, from {a} to {b}"


def _set_further(plan: Plan, problem: Problem, known: Known) -> Iterator[Cure]:
    """One thing of the trip's own, set further along, no further than goods are packed."""
    vehicle = plan.ground.vehicle
    if vehicle is None or problem.key not in ("front", "rear") or not plan.packed:
        return
    packed = [_x(plan, id_) for id_ in plan.packed]
    forward = problem.key == "rear"
    names = {thing.name for thing in plan.spec.carries}
    ways = []
    for line in plan.carried:
        room = max(packed) - line.centre[0] if forward else line.centre[0] - min(packed)
        far = SET_STEP * up(problem.worst * vehicle.wheelbase / line.mass_kg / SET_STEP)
        if line.where == "inside" and line.name in names and far <= room:
            ways.append((far, line.name, line))
    for far, name, line in sorted(ways, key=lambda way: way[:2])[:TRIED]:
        x, y, z = line.centre
        x += far if forward else -far
        moved = dataclasses.replace(line, centre=(x, y, z))
        carried = tuple(moved if other is line else other for other in plan.carried)
        changed = dataclasses.replace(plan, carried=carried)
        if ends(problem, changed, known):
            way = "forward" if forward else "rearward"
            yield Cure(f"set the {name} {far:g} mm further {way}, its middle at {x:g}", changed)
            return


def _less_packed(plan: Plan, problem: Problem, known: Known) -> Iterator[Cure]:
    """The least mass left at home, of one place."""
    ways = []
    for id_, packed in plan.packed.items():
        gain = relief(plan, _x(plan, id_), "inside", problem.key)
        if gain > 1e-6:
            ways.append((up(problem.worst / gain), id_, packed.start_kg))
    for mass, id_, there in sorted(ways)[:TRIED]:
        for more in range(STEPS):
            changed = _with(plan, {id_: -(mass + more)})
            if mass + more <= there and ends(problem, changed, known):
                yield Cure(f"pack {mass + more:g} kg less in {id_}", changed)
                return


def _several(plan: Plan, problem: Problem, known: Known) -> Iterator[Cure]:
    """Whole places left empty, those that relieve most first, the last one in part."""
    gains = {id_: relief(plan, _x(plan, id_), "inside", problem.key) for id_ in plan.packed}
    order = sorted(
        (id_ for id_, gain in gains.items() if gain > 1e-6 and plan.packed[id_].start_kg),
        key=lambda id_: (-gains[id_] * plan.packed[id_].start_kg, id_),
    )
    less: dict[str, float] = {}
    wanting = problem.worst
    for id_ in order:
        mass = min(float(up(wanting / gains[id_])), plan.packed[id_].start_kg)
        less[id_] = -mass
        wanting -= mass * gains[id_]
        if wanting <= 1e-6:
            break
    changed = _with(plan, less)
    if less and wanting <= 1e-6 and ends(problem, changed, known):
        yield Cure(" and ".join(f"pack {-m:g} kg less in {i}" for i, m in less.items()), changed)


def _less_water(plan: Plan, problem: Problem, known: Known) -> Iterator[Cure]:
    """Fewer litres at the start, and where they then run out, more on the way."""
    holds = plan.ground.water_holds_l
    gain = sum(
        relief(plan, tank.full.centre[0], "inside", problem.key)
        * (tank.full.kg_per_litre or 0.0)
        * tank.holds_l
        / holds
        for tank in plan.ground.tanks
    )
    if gain <= 1e-6:
        return
    litres = up(problem.worst / gain)
    if litres > plan.water_start_l:
        return
    changed = dataclasses.replace(plan, water_start_l=plan.water_start_l - litres)
    words = f"carry {litres:g} l less water"
    yield from _or_refilled(Cure(words, changed), problem, known, "water")


def _less_fuel(plan: Plan, problem: Problem, known: Known) -> Iterator[Cure]:
    """Less fuel at the start, and where it then runs out, more on the way."""
    vehicle = plan.ground.vehicle
    if vehicle is None or vehicle.fuel is None or plan.fuel_start_l is None:
        return
    gain = relief(plan, vehicle.fuel.at[0], "inside", problem.key)
    gain *= fuel_line(vehicle, 0.0).kg_per_litre or 0.0
    litres = up(problem.worst / gain) if gain > 1e-6 else math.inf
    if litres > plan.fuel_start_l - (plan.reserve_l or 0.0):
        return
    changed = dataclasses.replace(plan, fuel_start_l=plan.fuel_start_l - litres)
    words = f"set out with {litres:g} l less fuel"
    yield from _or_refilled(Cure(words, changed), problem, known, "fuel")


def _or_refilled(less: Cure, problem: Problem, known: Known, store: Store) -> Iterator[Cure]:
    """Less of a store at the start; where it then runs out, with more on the way."""
    if ends(problem, less.plan, known):
        yield less
        return
    filled = refilled(less.plan, store)
    if filled is not None and ends(problem, filled[1], known):
        yield Cure(f"{less.words} and {filled[0]}", filled[1])


def _less_carried(plan: Plan, problem: Problem, known: Known) -> Iterator[Cure]:
    """One thing left at home that the vehicle carries besides."""
    gains = [
        (relief(plan, line.centre[0], line.where, problem.key) * line.mass_kg, line.name, line)
        for line in plan.carried
    ]
    for gain, name, line in sorted(gains, key=lambda way: (way[0], way[1])):
        changed = dataclasses.replace(plan, carried=tuple(x for x in plan.carried if x != line))
        if gain >= problem.worst and ends(problem, changed, known):
            yield Cure(f"leave the {name} at home", changed)
            return


def of_place(plan: Plan, problem: Problem, known: Known) -> Iterator[Cure]:
    """A place packed too full: elsewhere with it, or home."""
    mass, a = up(problem.worst), problem.key
    ways = sorted(
        (abs(_x(plan, b) - _x(plan, a)), b)
        for b in _steady(plan)
        if b != a and _free_kg(plan, b) >= mass
    )
    for _, b in ways[:TRIED]:
        changed = _with(plan, {a: -mass, b: mass})
        if not plan.packed[a].each_day_kg and ends(problem, changed, known):
            yield Cure(_move_words(plan, mass, a, b), changed)
            break
    changed = _with(plan, {a: -mass})
    if ends(problem, changed, known):
        yield Cure(f"pack {mass:g} kg less in {a}", changed)
