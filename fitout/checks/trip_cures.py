"""What would make a trip pass, and the entries of the design that say so.

Each cure is a changed plan that was gone through again: what it cures is wrong on no day any
more, and nothing is that was not before.
"""

from __future__ import annotations

from collections.abc import Iterator

from fitout.checks.ledger import LedgerLine
from fitout.checks.trip_days import gone_through
from fitout.checks.trip_loads import of_limit, of_place
from fitout.checks.trip_plan import Packed, Plan
from fitout.checks.trip_problems import Cure, Problem, problems
from fitout.checks.trip_refills import of_store
from fitout.model.vehicle import CarriedSpec


def cures(plan: Plan, problem: Problem, known: tuple[Problem, ...]) -> Iterator[Cure]:
    """What would end one problem, least first of each kind; `known` is all that is wrong."""
    if problem.kind == "limit":
        yield from of_limit(plan, problem, known)
    elif problem.kind == "packing":
        yield from of_place(plan, problem, known)
    else:
        yield from of_store(plan, problem, known)


def whole_cure(plan: Plan) -> Cure | None:
    """All that makes a trip pass, one cure after another; None where none is found."""
    words: list[str] = []
    # Each cure ends a problem and makes none, so there are no more of them than problems.
    while True:
        wrong = problems(plan, gone_through(plan))
        if not wrong:
            return Cure("; ".join(words), plan)
        cure = next((c for p in wrong for c in cures(plan, p, wrong)), None)
        if cure is None:
            return None
        words.append(cure.words)
        plan = cure.plan


def entries(before: Plan, after: Plan) -> tuple[str, ...]:
    """The entries of the trip that make the one plan the other, each a line to put in."""
    return tuple(f"{key}: {text}" for key, text in _changes(before, after) if text and text != "{}")


def _changes(before: Plan, after: Plan) -> Iterator[tuple[str, str]]:
    yield "packing", _packing(before, after)
    kept = {line.name: line for line in after.carried}
    own = {thing.name for thing in before.spec.carries}
    gone = [x.name for x in before.carried if x.name not in kept and x.name not in own]
    if gone:
        yield "stays_home", f"[{', '.join([*before.spec.stays_home, *gone])}]"
    if any(x.name in own and kept.get(x.name) != x for x in before.carried):
        things = [_thing(thing, kept[thing.name]) for thing in before.spec.carries
                  if thing.name in kept]  # fmt: skip
        yield "carries", f"[{', '.join(things)}]"
    water = []
    if after.water_start_l != before.water_start_l:
        water.append(f"start: {after.water_start_l:g} l")
    if after.each_person_l != before.each_person_l:
        water.append(f"each_person: {after.each_person_l:g} l")
    yield "water", _group(water)
    if after.fuel_start_l != before.fuel_start_l and after.fuel_start_l is not None:
        yield "fuel", _group([f"start: {after.fuel_start_l:g} l"])
    if after.refills != before.refills:
        days = [
            f"{store}: [{', '.join(str(day) for day in sorted(listed))}]"
            for store, listed in after.refills.items()
        ]
        yield "refill", _group(days)
    yield "energy", _energy(before, after)


def _thing(thing: CarriedSpec, line: LedgerLine) -> str:
    """A thing of the trip's own, where it is to be."""
    x, y, z = line.centre
    mass = f"{thing.mass.value:g} kg"
    if thing.mass.tolerance is not None:
        mass += f" ± {thing.mass.tolerance:g} kg"
    place = f"at: [{x:g}, {y:g}, {z:g}], where: {thing.where}"
    return f"{{name: {thing.name}, mass: {mass}, {place}}}"


def _group(entries: list[str]) -> str:
    return f"{{{', '.join(entries)}}}"


def _packing(before: Plan, after: Plan) -> str:
    """Every place of the modules of which something changed."""
    places = after.ground.places
    changed = {places[id_].full.group for id_ in places if before.packed[id_] != after.packed[id_]}
    return _group(
        [f"{i}: {_mass(after.packed[i])}" for i in places if places[i].full.group in changed]
    )


def _mass(packed: Packed) -> str:
    if not packed.each_day_kg:
        return f"{packed.start_kg:g} kg"
    return f"{{start: {packed.start_kg:g} kg, each_day: {packed.each_day_kg:g} kg}}"


def _energy(before: Plan, after: Plan) -> str:
    was, now = before.energy, after.energy
    changed: list[str] = []
    if was is None or now is None:
        return ""
    if now.battery != was.battery:
        changed.append(f"battery: {now.battery:g} Wh")
    if now.solar is not None and was.solar is not None and now.solar.panel != was.solar.panel:
        changed.append(f"solar: {{panel: {now.solar.panel:g} W}}")
    return _group(changed)
