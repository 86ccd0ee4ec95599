"""The vehicle as entered: where its axles are, what it weighs, what its maker allows.

Everything is in the axes of the bay: forward of the sill, left of the centre line, above the
bay's floor. Masses are as weighed with no fit-out and nobody in it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from fitout.model.spec import (
    Coordinate,
    Mass,
    Measured,
    PositiveLength,
    Pressure,
    Quantity,
    SomeVolume,
    Stiffness,
    Unit,
    Volume,
    entry,
)

MeasuredMass = Annotated[Measured, Quantity(Unit.MASS, above=0.0)]
PositiveMass = Annotated[float, Quantity(Unit.MASS, above=0.0)]
Point = tuple[Coordinate, Coordinate, Coordinate]
CarriedWhere = Literal["inside", "roof", "behind bumper", "door"]


@dataclass(frozen=True, slots=True, kw_only=True)
class TrackSpec:
    """Distances between the middles of the tyres of each axle."""

    front: PositiveLength = entry("of the front axle", example="1570")
    rear: PositiveLength = entry("of the rear axle", example="1580")


@dataclass(frozen=True, slots=True, kw_only=True)
class KerbSpec:
    """The vehicle as weighed: no fit-out, nobody in it, the tank as `fuel` says.

    Two of mass, front and rear are enough; a weighbridge gives each axle.
    """

    mass: MeasuredMass | None = entry(
        "the whole", default=None, example="1985 kg ± 10 kg", otherwise="front and rear together"
    )
    front: MeasuredMass | None = entry(
        "what the front axle weighed",
        default=None,
        example="1065 kg ± 5 kg",
        otherwise="the mass less the rear's",
    )
    rear: MeasuredMass | None = entry(
        "what the rear axle weighed",
        default=None,
        example="920 kg ± 5 kg",
        otherwise="the mass less the front's",
    )
    left: MeasuredMass | None = entry(
        "what its left wheels weighed, if the scale gave each wheel",
        default=None,
        example="995 kg ± 5 kg",
        otherwise="half of it",
    )
    height: PositiveLength | None = entry(
        "height of its centre of gravity above the ground",
        default=None,
        example="640",
        otherwise="not known",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitsSpec:
    """What the vehicle's maker allows: on its plate, in its papers, in its handbook."""

    gross: PositiveMass = entry("the gross vehicle mass", example="2700 kg")
    front: PositiveMass | None = entry(
        "on the front axle", default=None, example="1290 kg", otherwise="not checked"
    )
    rear: PositiveMass | None = entry(
        "on the rear axle", default=None, example="1520 kg", otherwise="not checked"
    )
    roof: PositiveMass | None = entry(
        "on the roof, its rack included", default=None, example="75 kg", otherwise="not checked"
    )
    door: PositiveMass | None = entry(
        "on the tailgate or its carrier", default=None, example="40 kg", otherwise="not checked"
    )
    behind_bumper: PositiveMass | None = entry(
        "behind the bumper: on the tow ball or a carrier there",
        default=None,
        example="75 kg",
        otherwise="not checked",
    )
    source: str = entry("where these stand", default="vehicle maker, as entered")


@dataclass(frozen=True, slots=True, kw_only=True)
class SeatSpec:
    """A place for a person."""

    name: str = entry("what you call it", example="driver")
    at: tuple[Coordinate, Coordinate] = entry(
        "[forward of the sill, left of the centre line] of a person's middle; right is negative",
        example="[2150, -370]",
    )
    above: Coordinate = entry("a person's middle above the bay's floor", default=250.0)
    person: Mass = entry(
        "who usually sits there, with what they wear and hold; 0 for a seat that stays empty",
        default=75.0,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class FuelSpec:
    """The fuel tank."""

    holds: Volume = entry("what it holds", example="70 l")
    kind: Literal["petrol", "diesel"] = entry("what goes into it")
    at: Point = entry(
        "its middle: [forward of the sill, left of the centre line, above the bay's floor]; "
        "below is negative",
        example="[700, 0, -250]",
    )
    as_weighed: SomeVolume = entry("what was in it when the vehicle was weighed", example="63 l")


@dataclass(frozen=True, slots=True, kw_only=True)
class AirbagRow:
    """What the air springs of an axle do at one pressure, at the height as weighed."""

    pressure: Pressure = entry("their pressure", example="1 bar")
    carries: Mass = entry("what they bear", example="90 kg")
    rate: Stiffness | None = entry(
        "how much stiffer they make it", default=None, example="4 N/mm", otherwise="not at all"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class AirbagSpec:
    """Air springs that help the springs of an axle, with the maker's table."""

    rows: tuple[AirbagRow, ...] = entry(
        "what they do, by pressure; between rows it is interpolated",
        example="[{pressure: 0.3 bar, carries: 20 kg}, {pressure: 3 bar, carries: 260 kg}]",
    )
    as_weighed: Pressure = entry("the pressure when the vehicle was weighed", example="0.5 bar")
    set_to: Pressure | None = entry(
        "the pressure they are driven at",
        default=None,
        example="2 bar",
        otherwise="as when weighed",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class SpringSpec:
    """The springs of one axle, at the wheels."""

    rate: Stiffness = entry("their rate at the wheel", example="32 N/mm")
    per: Literal["wheel", "axle"] = entry(
        "whether rates, and what air springs bear, are those of one wheel or of the whole axle",
        default="wheel",
    )
    airbags: AirbagSpec | None = entry(
        "air springs beside them",
        default=None,
        example="{as_weighed: 0.5 bar, rows: [{pressure: 0.3 bar, carries: 10 kg}, "
        "{pressure: 3 bar, carries: 130 kg}]}",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class SpringsSpec:
    """The springs, to say how far it settles."""

    front: SpringSpec | None = entry(
        "the front axle's", default=None, example="{rate: 35 N/mm}", otherwise="not known"
    )
    rear: SpringSpec | None = entry(
        "the rear axle's", default=None, example="{rate: 180 lb/in}", otherwise="not known"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class CarriedSpec:
    """What the vehicle carries that is no part of the fit-out."""

    name: str = entry("what it is", example="roof box")
    mass: MeasuredMass = entry("its mass, ± if it was weighed", example="38 kg ± 1 kg")
    at: Point = entry(
        "its middle: [forward of the sill, left of the centre line, above the bay's floor]",
        example="[1100, 0, 1120]",
    )
    where: CarriedWhere = entry("where it is carried", default="inside")
    weighed_with: bool = entry(
        "whether it was on the vehicle when that was weighed: then it counts towards the roof's "
        "or door's limit and is not added again",
        default=False,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class VehicleSpec:
    """The vehicle the fit-out goes into: its axles, its mass as weighed, its maker's limits."""

    rear_axle: Coordinate = entry("the rear axle, forward of the sill", example="420")
    wheelbase: PositiveLength = entry("from the rear axle to the front one", example="2850")
    track: TrackSpec | PositiveLength | None = entry(
        "between the middles of the tyres of an axle, or of each",
        default=None,
        example="{front: 1570, rear: 1580}",
        otherwise="not known: left and right are not checked",
    )
    floor_height: PositiveLength | None = entry(
        "the bay's floor above the ground, as weighed",
        default=None,
        example="690",
        otherwise="not known: no height of the centre of gravity",
    )
    kerb: KerbSpec = entry(
        "what it weighs", example="{front: 1065 kg ± 5 kg, rear: 920 kg ± 5 kg, height: 640}"
    )
    limits: LimitsSpec = entry(
        "what its maker allows", example="{gross: 2700 kg, front: 1290 kg, rear: 1520 kg}"
    )
    seats: tuple[SeatSpec, ...] = entry(
        "places for people",
        default=(),
        example="[{name: driver, at: [2150, -370]}, {name: passenger, at: [2150, 370]}]",
    )
    fuel: FuelSpec | None = entry(
        "its tank",
        default=None,
        example="{holds: 70 l, kind: diesel, at: [700, 0, -250], as_weighed: 63 l}",
        otherwise="as weighed",
    )
    springs: SpringsSpec | None = entry(
        "its springs",
        default=None,
        example="{front: {rate: 35 N/mm}, rear: {rate: 32 N/mm}}",
        otherwise="not known: how far it settles is not checked",
    )
    carries: tuple[CarriedSpec, ...] = entry(
        "what it carries besides: on the roof, on a door, behind the bumper, inside",
        default=(),
        example="[{name: roof box, mass: 38 kg, at: [1100, 0, 1120], where: roof}]",
    )
