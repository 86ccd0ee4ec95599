"""Ledger lines for what is in or on the vehicle besides the fit-out: people, fuel, a roof box."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType

from fitout.checks.ledger import Known, LedgerLine
from fitout.model.spec import Measured
from fitout.model.vehicle import CarriedSpec, SeatSpec, VehicleSpec

WEIGHBRIDGE_KG = 10.0
"""How far a weighing may be off where no ± is given: weighbridges show steps of 10 or 20 kg
(common practice)."""

ENTERED_SHARE = 0.05
"""Standard uncertainty of a mass that was not weighed, as a share of it (common practice)."""

FUEL_KG_PER_LITRE: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        "petrol": (0.720, 0.775),
        "diesel": (0.820, 0.845),
    }
)
"""Least and most density at 15 °C: EN 228:2012 and EN 590."""


def reading_u(read: Measured) -> float:
    """Standard uncertainty of a reading: its ± taken as even (JCGM 100, 4.3.7)."""
    return (WEIGHBRIDGE_KG if read.tolerance is None else read.tolerance) / math.sqrt(3.0)


def carried_lines(vehicle: VehicleSpec) -> tuple[LedgerLine, ...]:
    """What the vehicle carries that was not on it when it was weighed."""
    return _carried(vehicle, weighed_with=False)


def weighed_with(vehicle: VehicleSpec) -> tuple[LedgerLine, ...]:
    """What the vehicle carries that was on it when it was weighed."""
    return _carried(vehicle, weighed_with=True)


def _carried(vehicle: VehicleSpec, *, weighed_with: bool) -> tuple[LedgerLine, ...]:
    return tuple(_thing(thing) for thing in vehicle.carries if thing.weighed_with is weighed_with)


def _thing(thing: CarriedSpec) -> LedgerLine:
    weighed = thing.mass.tolerance is not None
    return LedgerLine(
        name=thing.name,
        group="vehicle",
        kind="carried",
        mass_kg=thing.mass.value,
        centre=thing.at,
        known=Known.WEIGHED if weighed else Known.ENTERED,
        u_kg=reading_u(thing.mass) if weighed else ENTERED_SHARE * thing.mass.value,
        basis="weighed, ± as entered" if weighed else "as entered",
        where=thing.where,
        loose=True,
    )


def seat_line(seat: SeatSpec, mass_kg: float, name: str = "") -> LedgerLine:
    """A person in a seat, kg; the name is the seat's if none is given."""
    return LedgerLine(
        name=name or seat.name,
        group="people",
        kind="person",
        mass_kg=mass_kg,
        centre=(*seat.at, seat.above),
        known=Known.ENTERED,
        u_kg=ENTERED_SHARE * mass_kg,
        basis="as entered, 75 kg if left out: 68 kg and 7 kg of luggage (ISO 2416, from memory)",
    )


def fuel_line(vehicle: VehicleSpec, litres: float) -> LedgerLine:
    """The fuel beyond, or short of, what was in the tank when the vehicle was weighed.

    Raises:
        ValueError: when the vehicle's tank is not known, or holds less.
    """
    tank = vehicle.fuel
    if tank is None or not 0.0 <= litres <= tank.holds:
        raise ValueError(f"litres: {litres:g}; the tank is not known or holds less")
    low, high = FUEL_KG_PER_LITRE[tank.kind]
    density, more = (low + high) / 2.0, litres - tank.as_weighed
    return LedgerLine(
        name=f"{tank.kind}, {abs(more):g} l {'more' if more >= 0.0 else 'less'} than as weighed",
        group="vehicle",
        kind="fuel",
        mass_kg=density * more,
        centre=tank.at,
        known=Known.COMPUTED,
        u_kg=abs(more) * (high - low) / math.sqrt(12.0),
        basis="litres x density at 15 °C (EN 228 petrol, EN 590 diesel)",
        shared="fuel",
        kg_per_litre=density,
    )
