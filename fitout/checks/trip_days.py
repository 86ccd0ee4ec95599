"""A trip gone through day by day: what is there, what is used, what the vehicle bears.

A day runs from one morning to the next. In the morning what is to be filled up is filled up;
then water, food and fuel are used, the battery is charged and drawn, and what is left is left
to the next morning. Water comes evenly from all tanks. The battery is charged by day while half
of the fridge's use is drawn; the other half, and all else, is drawn after dark (common practice).
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from dataclasses import dataclass

from fitout.checks.ledger import LedgerLine
from fitout.checks.trip_plan import Plan, Tank
from fitout.checks.vehicle_lines import fuel_line
from fitout.checks.vehicle_state import VehicleState, vehicle_state
from fitout.mechanics.energy import USUAL_DUTY, battery_day, duty_at, fridge_wh, panel_wh
from fitout.mechanics.fuel import fuel_used_l, range_km
from fitout.model.trips import EnergySpec

BY_DAY = 0.5
"""Share of the fridge's use that is drawn while the sun or the engine charges."""


@dataclass(frozen=True, slots=True)
class Stores:
    """What there is at one time.

    Fuel is None where the tank is not known, energy where no battery was entered; `packed_kg` is
    by place, in the plan's order.
    """

    water_l: float
    fuel_l: float | None
    energy_wh: float | None
    packed_kg: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Energy:
    """A day's energy, Wh: drawn, from the sun, from the engine, kept of both, and short."""

    drawn_wh: float
    solar_wh: float
    driving_wh: float
    kept_wh: float
    short_wh: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """One day: what there is in the morning and what is left the next, what was short.

    `morning` counts what was filled up, `evening` what is left. `range_km` is how far the fuel
    left goes above the reserve. The vehicle's states are None where no vehicle was entered.
    """

    number: int
    km: float
    ambient_c: float
    morning: Stores
    evening: Stores
    water_short_l: float
    fuel_short_l: float
    energy: Energy | None
    range_km: float | None
    out: VehicleState | None = None
    back: VehicleState | None = None


def stored_days(plan: Plan) -> tuple[Day, ...]:
    """Every day's stores, without the vehicle's states."""
    return tuple(_days(plan))


def gone_through(plan: Plan) -> tuple[Day, ...]:
    """Every day, with the vehicle's states."""
    days = stored_days(plan)
    if plan.ground.vehicle is None:
        return days
    fixed = fixed_lines(plan)
    known: dict[tuple[object, ...], VehicleState] = {}

    def state(stores: Stores) -> VehicleState:
        # Energy weighs nothing: days that differ by it alone are the same.
        key = (stores.water_l, stores.fuel_l, stores.packed_kg)
        if key not in known:
            assert plan.ground.vehicle is not None
            known[key] = vehicle_state(plan.ground.vehicle, [*fixed, *store_lines(plan, stores)])
        return known[key]

    return tuple(
        dataclasses.replace(day, out=state(day.morning), back=state(day.evening)) for day in days
    )


def fixed_lines(plan: Plan) -> list[LedgerLine]:
    """What weighs the same all days."""
    return [*plan.ground.built, *plan.people, *plan.carried]


def store_lines(plan: Plan, stores: Stores) -> Iterator[LedgerLine]:
    """What changes from day to day: goods, water, fuel."""
    for place, mass in zip(plan.packed, stores.packed_kg, strict=True):
        full = plan.ground.places[place].full
        if mass > 0.0:
            yield dataclasses.replace(
                full, mass_kg=mass, u_kg=full.u_kg * mass / full.mass_kg, basis="packed"
            )
    holds = plan.ground.water_holds_l
    for tank in plan.ground.tanks:
        yield _water_line(tank, stores.water_l / holds)
    if stores.fuel_l is not None and plan.ground.vehicle is not None:
        yield fuel_line(plan.ground.vehicle, stores.fuel_l)


def _water_line(tank: Tank, share: float) -> LedgerLine:
    """A tank that is filled to a share of it: its surface lies lower."""
    full = tank.full
    x, y, _ = full.centre
    return dataclasses.replace(
        full,
        name=f"{share * tank.holds_l:.3g} l of water in {tank.id.rpartition('/')[2]}",
        mass_kg=share * full.mass_kg,
        u_kg=share * full.u_kg,
        centre=(x, y, tank.bottom + share * tank.height / 2.0),
    )


def dead_water_l(plan: Plan) -> float:
    """Water below the taps, which no hose draws."""
    return sum(tank.dead_l for tank in plan.ground.tanks)


def _days(plan: Plan) -> Iterator[Day]:
    full = Stores(
        plan.water_start_l,
        plan.fuel_start_l,
        _start_wh(plan.energy),
        tuple(packed.start_kg for packed in plan.packed.values()),
    )
    left = full
    for number, work in enumerate(plan.works, 1):
        morning = _filled(plan, number, left, full)
        water, dry_l = _drawn(morning.water_l, plan.water_each_day_l, dead_water_l(plan))
        fuel, fuel_dry_l = morning.fuel_l, 0.0
        uses = plan.spec.fuel.uses
        if fuel is not None and uses is not None:
            fuel, fuel_dry_l = _drawn(fuel, fuel_used_l(work.km, uses), 0.0)
        energy, charge = _energy(plan, number, morning.energy_wh)
        packed = tuple(
            max(0.0, mass - p.each_day_kg)
            for mass, p in zip(morning.packed_kg, plan.packed.values(), strict=True)
        )
        left = Stores(water, fuel, charge, packed)
        reach = None
        if fuel is not None and uses is not None:
            reach = range_km(fuel, plan.reserve_l or 0.0, uses)
        yield Day(
            number=number,
            km=work.km,
            ambient_c=work.ambient_c,
            morning=morning,
            evening=left,
            water_short_l=dry_l,
            fuel_short_l=fuel_dry_l,
            energy=energy,
            range_km=reach,
        )


def _filled(plan: Plan, number: int, left: Stores, full: Stores) -> Stores:
    """The stores in the morning, after what is filled up on this day."""
    due = {store for store, days in plan.refills.items() if number in days}
    usable = None if plan.energy is None else usable_wh(plan.energy)
    return Stores(
        full.water_l if "water" in due else left.water_l,
        full.fuel_l if "fuel" in due else left.fuel_l,
        usable if "battery" in due else left.energy_wh,
        full.packed_kg if "food" in due else left.packed_kg,
    )


def _drawn(there: float, wanted: float, least: float) -> tuple[float, float]:
    """What is left of a store once so much is taken, and what was short; `least` stays in it."""
    got = min(wanted, max(0.0, there - least))
    return there - got, wanted - got


def usable_wh(energy: EnergySpec) -> float:
    """What may be drawn of a full battery."""
    return energy.battery * energy.usable


def _start_wh(energy: EnergySpec | None) -> float | None:
    return None if energy is None else usable_wh(energy) * energy.start


def _energy(plan: Plan, number: int, held: float | None) -> tuple[Energy | None, float | None]:
    """What the day draws and what charges it; what the battery holds the next morning."""
    spec, work = plan.energy, plan.works[number - 1]
    if spec is None or held is None:
        return None, None
    fridge = 0.0
    if spec.fridge is not None:
        duty = duty_at(spec.fridge.duty or USUAL_DUTY, work.ambient_c)
        fridge = fridge_wh(spec.fridge.power, duty)
    others = sum(load.power * load.hours for load in spec.loads)
    solar = spec.solar
    sun = 0.0 if solar is None else panel_wh(solar.panel, work.sun_h, solar.losses)
    engine = spec.driving * work.driving_h
    day = battery_day(
        held, usable_wh(spec), sun + engine, BY_DAY * fridge, (1.0 - BY_DAY) * fridge + others
    )
    energy = Energy(
        drawn_wh=fridge + others,
        solar_wh=sun,
        driving_wh=engine,
        kept_wh=day.kept_wh,
        short_wh=day.short_wh,
    )
    return energy, day.left_wh
