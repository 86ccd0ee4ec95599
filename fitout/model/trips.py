"""A trip as entered: who goes, what is packed where, and what each day uses.

Days are counted from 1, the day of departure. What is left out is worked out from the fit-out
and the vehicle, or is common practice where it says so.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Literal

from fitout.model.spec import (
    Consumption,
    Coordinate,
    Days,
    Distance,
    HoursOfDay,
    Length,
    Mass,
    PositiveLength,
    Power,
    Quantity,
    Ratio,
    Ref,
    SomeVolume,
    Temperature,
    Unit,
    entry,
)
from fitout.model.vehicle import CarriedSpec

Share = Annotated[float, Quantity(Unit.RATIO, least=0.0, most=1.0)]
PositiveShare = Annotated[float, Quantity(Unit.RATIO, above=0.0, most=1.0)]
Latitude = Annotated[float, Quantity(Unit.ANGLE, least=-66.0, most=66.0)]
PositivePower = Annotated[float, Quantity(Unit.POWER, above=0.0)]
PositiveEnergy = Annotated[float, Quantity(Unit.ENERGY, above=0.0)]
Month = Literal[
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
]  # fmt: skip
Store = Literal["water", "fuel", "food", "battery"]

MOST_DAYS = 366


@dataclass(frozen=True, slots=True, kw_only=True)
class PackedSpec:
    """Goods that get fewer day by day, such as food."""

    start: Mass = entry("their mass when full", example="20 kg")
    each_day: Mass = entry("how much of it a day uses", example="1.5 kg")


@dataclass(frozen=True, slots=True, kw_only=True)
class StageSpec:
    """Days that are alike: how far they go, how warm it is."""

    days: Days = entry("which days", example="2-5")
    km: Distance = entry("driven on each of these days", default=0.0)
    ambient: Temperature | None = entry(
        "how warm it is round the fridge, day and night together",
        default=None,
        example="31 °C",
        otherwise="the trip's",
    )
    driving: HoursOfDay | None = entry(
        "how long the engine charges on each of these days",
        default=None,
        example="3 h",
        otherwise="`km` at 60 km/h (common practice)",
    )
    sun_hours: HoursOfDay | None = entry(
        "sun on the panel as hours at 1000 W/m²; 0 in the woods",
        default=None,
        example="2 h",
        otherwise="the trip's",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class HoseSpec:
    """The hose that water is drawn through by its own weight."""

    outlet: Coordinate = entry(
        "height of its open end above the bay's floor; below is negative", default=0.0
    )
    length: Length | None = entry(
        "its length",
        default=None,
        example="1.5 m",
        otherwise="as bought for the tank's module",
    )
    bore: PositiveLength = entry("its inside diameter", default=12.0)
    fittings: Ratio = entry(
        "what tap and bends lose, in velocity heads; inlet and outlet are counted besides "
        "(common practice: 1 for a ball tap and a bend, 3 for a garden tap)",
        default=1.0,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterSpec:
    """Water, from all tanks together: they empty evenly."""

    start: SomeVolume | None = entry(
        "what the tanks hold at the start", default=None, example="30 l", otherwise="full tanks"
    )
    each_person: SomeVolume = entry(
        "what a person uses a day: drink, cook, wash up (common practice)", default=5.0
    )
    besides: SomeVolume = entry("what is used a day besides: a shower, a dog", default=0.0)
    hose: HoseSpec = entry(
        "the hose it is drawn through",
        default=HoseSpec(),
        example="{outlet: -200, bore: 10}",
        otherwise="as its entries say",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class TripFuelSpec:
    """Fuel from the vehicle's tank."""

    start: SomeVolume | None = entry(
        "what is in the tank at the start", default=None, example="50 l", otherwise="a full tank"
    )
    uses: Consumption | None = entry(
        "what the laden vehicle uses",
        default=None,
        example="9.4 l/100 km",
        otherwise="not known: the range is not checked",
    )
    reserve: SomeVolume | None = entry(
        "what must be left every evening",
        default=None,
        example="10 l",
        otherwise="a tenth of the tank (common practice)",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class FridgeSpec:
    """A fridge on the battery."""

    power: PositivePower = entry("what it draws while it runs", example="45 W")
    duty: Mapping[Temperature, Share] | None = entry(
        "the share of the time it runs, by how warm it is round it; "
        "between rows it is interpolated",
        default=None,
        example="{20 °C: 25 %, 32 °C: 48 %}",
        otherwise="20 % at 15 °C, 35 % at 25 °C, 55 % at 35 °C (common practice)",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ElectricLoadSpec:
    """Something else on the battery."""

    name: str = entry("what it is", example="lights")
    power: Power = entry("what it draws", example="12 W")
    hours: HoursOfDay = entry("how long a day", example="3 h")


@dataclass(frozen=True, slots=True, kw_only=True)
class SolarSpec:
    """A solar panel, and the sun it gets."""

    panel: PositivePower = entry("its rated power at 1000 W/m²", example="120 W")
    sun_hours: HoursOfDay | None = entry(
        "sun on it a day as hours at 1000 W/m²",
        default=None,
        example="4.5 h",
        otherwise="worked out from latitude, month, clearness and tilt",
    )
    latitude: Latitude | None = entry(
        "where, north positive", default=None, example="44 deg", otherwise="`sun_hours` says it"
    )
    month: Month | None = entry(
        "when", default=None, example="June", otherwise="`sun_hours` says it"
    )
    clearness: Annotated[float, Quantity(Unit.RATIO, above=0.0, most=0.8)] = entry(
        "the share of the sun above the air that reaches the ground: 0.7 under a clear sky, 0.3 "
        "under clouds (common practice)",
        default=0.5,
    )
    tilt: Annotated[float, Quantity(Unit.ANGLE, least=0.0, most=90.0)] = entry(
        "how far it is tilted from flat towards the noon sun", default=0.0
    )
    losses: Share = entry("what heat, dirt, cable and charger take (common practice)", default=0.25)


@dataclass(frozen=True, slots=True, kw_only=True)
class EnergySpec:
    """The battery, what draws on it, and what charges it."""

    battery: PositiveEnergy = entry("what it holds", example="100 Ah at 12.8 V")
    usable: PositiveShare = entry(
        "the share of it that may be drawn (common practice: 80 % of lithium, 50 % of lead)",
        default=0.8,
    )
    start: Share = entry("how full that share is at the start", default=1.0)
    fridge: FridgeSpec | None = entry(
        "a fridge on it", default=None, example="{power: 45 W}", otherwise="none"
    )
    loads: tuple[ElectricLoadSpec, ...] = entry(
        "what else draws on it", default=(), example="[{name: lights, power: 12 W, hours: 3 h}]"
    )
    solar: SolarSpec | None = entry(
        "a solar panel",
        default=None,
        example="{panel: 120 W, latitude: 44 deg, month: June}",
        otherwise="none",
    )
    driving: Power = entry("what the engine charges it with, as it comes in", default=0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class TripSpec:
    """A trip: its days, who goes, what is packed, and what is used."""

    days: Annotated[int, Quantity(Unit.RATIO, least=1, most=MOST_DAYS)] | None = entry(
        "how many days it takes",
        default=None,
        example="14",
        otherwise="to the last day of `stages`",
    )
    people: Mapping[Annotated[str, Ref("seats")], Mass] | None = entry(
        "who sits where, with what they wear and hold; a seat left out stays empty",
        default=None,
        example="{driver: 82 kg, passenger: 68 kg}",
        otherwise="who usually sits there",
    )
    packing: Mapping[Annotated[str, Ref("places")], PackedSpec | Mass] | None = entry(
        "what a module, or one place in it, is packed with: `bins`, `drawers/drawer 1`; what is "
        "left out counts as full, as much as it is made to carry; write 0 kg for what stays empty",
        default=None,
        example="{drawers/drawer 1: 38 kg, fridge: {start: 20 kg, each_day: 1.5 kg}}",
        otherwise="everything as full as it is made to carry",
    )
    carries: tuple[CarriedSpec, ...] = entry(
        "what the vehicle carries on this trip besides what it always does",
        default=(),
        example="[{name: kayak, mass: 24 kg, at: [1100, 0, 1150], where: roof}]",
    )
    stays_home: tuple[str, ...] = entry(
        "what the vehicle usually carries, under `vehicle: carries`, but not on this trip",
        default=(),
        example="[roof box]",
    )
    ambient: Temperature = entry(
        "how warm it is round the fridge, day and night together (common practice)", default=25.0
    )
    stages: tuple[StageSpec, ...] = entry(
        "days that differ: how far they go, how warm it is; on other days it stands still",
        default=(),
        example="[{days: 1, km: 420}, {days: 2-5, km: 40, ambient: 31 °C}]",
    )
    refill: Mapping[Store, tuple[Days, ...]] | None = entry(
        "in the morning of which days something is filled up again; the battery from the mains",
        default=None,
        example="{water: [4, 9], fuel: [5], food: [7]}",
        otherwise="never",
    )
    water: WaterSpec = entry(
        "the water",
        default=WaterSpec(),
        example="{each_person: 6 l, besides: 4 l}",
        otherwise="full tanks, and what is usual",
    )
    fuel: TripFuelSpec = entry(
        "the fuel",
        default=TripFuelSpec(),
        example="{uses: 9.4 l/100 km, reserve: 10 l}",
        otherwise="a full tank; the range is not checked",
    )
    energy: EnergySpec | None = entry(
        "battery, loads and charging",
        default=None,
        example="{battery: 100 Ah at 12.8 V, fridge: {power: 45 W}, driving: 20 A at 13.8 V}",
        otherwise="not checked",
    )
