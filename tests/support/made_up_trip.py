"""A made-up vehicle with places and a tank at known distances, and trips in it."""

from __future__ import annotations

from typing import Any

from fitout.checks.ledger import Known, LedgerLine
from fitout.checks.trip_plan import Ground, Place, Plan, Tank, plan_of
from fitout.model.spec import Measured
from fitout.model.trips import TripSpec
from fitout.model.vehicle import CarriedSpec, FuelSpec, KerbSpec, LimitsSpec, SeatSpec, VehicleSpec

AXLE, BASE = 400.0, 3000.0


def goods(name: str, group: str, mass_kg: float, x: float, **more: Any) -> LedgerLine:
    """A line of loose goods, as sure as one kilogram."""
    entries: dict[str, Any] = {
        "kind": "contents", "known": Known.ENTERED, "u_kg": 1.0, "basis": "", "loose": True, **more,
    }  # fmt: skip
    return LedgerLine(name=name, group=group, mass_kg=mass_kg, centre=(x, 0.0, 200.0), **entries)


def vehicle(**entries: Any) -> VehicleSpec:
    """Front 1100 kg and rear 900 kg as weighed; limits far off unless given."""
    limits = {"gross": 4000.0, "front": 2000.0, "rear": 2000.0, **entries.pop("limits", {})}
    usual: dict[str, Any] = {
        "rear_axle": AXLE,
        "wheelbase": BASE,
        "kerb": KerbSpec(front=Measured(1100.0, 5.0), rear=Measured(900.0, 5.0)),
        "limits": LimitsSpec(**limits),
        "seats": (
            SeatSpec(name="driver", at=(2000.0, 400.0)),
            SeatSpec(name="passenger", at=(2000.0, -400.0), person=0.0),
        ),
        "fuel": FuelSpec(holds=60.0, kind="diesel", at=(900.0, 0.0, -200.0), as_weighed=60.0),
        "carries": (
            CarriedSpec(
                name="roof box", mass=Measured(40.0, 1.0), at=(1000.0, 0.0, 1100.0), where="roof"
            ),
        ),
    }
    return VehicleSpec(**{**usual, **entries})


def ground(**entries: Any) -> Ground:
    """A place at the rear axle, one 1500 mm ahead, a tank of 40 l right between them.

    Both places are made to carry 50 kg; 4 l of the tank lie below its tap.
    """
    spec = entries.pop("vehicle", None) or vehicle(**entries)
    water = goods(
        "40 l of water in can", "tank", 40.0, AXLE + 750.0, kind="water", kg_per_litre=1.0
    )
    places = (
        Place("back/drawer", goods("in drawer", "back", 50.0, AXLE)),
        Place("front/shelf", goods("on shelf", "front", 50.0, AXLE + 1500.0)),
    )
    return Ground(
        vehicle=spec,
        built=(goods("side", "back", 60.0, 500.0, kind="panel", loose=False),),
        places={place.id: place for place in places},
        tanks=(Tank("tank/can", water, 40.0, 4.0, 50.0, 400.0, 1200.0),),
    )


def plan(on: Ground | None = None, **entries: Any) -> Plan:
    """A trip of four days on that ground, one person in it."""
    return plan_of("test trip", TripSpec(**{"days": 4, **entries}), on or ground())
