"""How the entries of a design file are declared: types, units, ranges, words of help.

A section of the design file is a frozen dataclass whose fields are made by `entry`. Its
annotations say what the reader accepts (`fitout.design_file` reads any of these, and the
JSON Schema is generated from the same declarations):

    Length, Mass, Angle, Volume, Money, Ratio,  a number, with a unit of that kind allowed
    Stiffness, Pressure, Power, Energy, Temperature, Consumption, Distance, Duration
    Measured                                    a length with an optional ± tolerance;
                                                Annotated with a Quantity, an angle or mass so
    Size                                        "690 x 398 x 470", lengths
    Days                                        "3" or "3-7", days counted from 1
    str, int, bool, Literal[...]                as they stand
    Annotated[str, Ref("items")]                a name that must exist elsewhere
    tuple[T, ...]                               a list
    Mapping[K, V]                               a mapping, order kept
    another such dataclass                      a nested section
    A | B | None                                whichever fits the node's form

Values are mm, kg, degrees, litres, N/mm, bar, N, MPa, W, Wh, °C, l/100 km, km, h once read.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated, Any


class Unit(StrEnum):
    """The kinds of quantity a design file holds, and the unit each is kept in."""

    LENGTH = "mm"
    MASS = "kg"
    ANGLE = "deg"
    VOLUME = "l"
    MONEY = "money"
    RATIO = "ratio"
    STIFFNESS = "N/mm"
    PRESSURE = "bar"
    FORCE = "N"
    STRESS = "MPa"
    POWER = "W"
    ENERGY = "Wh"
    TEMPERATURE = "°C"
    CONSUMPTION = "l/100 km"
    DISTANCE = "km"
    DURATION = "h"


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number's kind and the range it must lie in."""

    unit: Unit
    least: float | None = None
    most: float | None = None
    above: float | None = None


@dataclass(frozen=True, slots=True)
class Ref:
    """A name that must exist: among `items`, `modules`, `boards`, or a catalogue table."""

    table: str


@dataclass(frozen=True, slots=True)
class Measured:
    """A measured length (or angle) and, where known, its ± tolerance, in mm (or degrees).

    `about` marks a guess (written `about 1050`): where the adjustment starts, not a note.
    """

    value: float
    tolerance: float | None = None
    about: bool = False


@dataclass(frozen=True, slots=True)
class Size:
    """Length × width × height in mm."""

    length: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Days:
    """Days of a trip, the last one among them, counted from 1."""

    first: int
    last: int

    def __contains__(self, day: int) -> bool:
        return self.first <= day <= self.last

    def __str__(self) -> str:
        return f"{self.first}" if self.first == self.last else f"{self.first}-{self.last}"


Length = Annotated[float, Quantity(Unit.LENGTH, least=0.0)]
Coordinate = Annotated[float, Quantity(Unit.LENGTH)]
PositiveLength = Annotated[float, Quantity(Unit.LENGTH, above=0.0)]
Mass = Annotated[float, Quantity(Unit.MASS, least=0.0)]
Angle = Annotated[float, Quantity(Unit.ANGLE, least=-180.0, most=180.0)]
MeasuredAngle = Annotated[Measured, Quantity(Unit.ANGLE, least=-180.0, most=180.0)]
Volume = Annotated[float, Quantity(Unit.VOLUME, above=0.0)]
SomeVolume = Annotated[float, Quantity(Unit.VOLUME, least=0.0)]
Stiffness = Annotated[float, Quantity(Unit.STIFFNESS, above=0.0)]
Pressure = Annotated[float, Quantity(Unit.PRESSURE, least=0.0)]
Power = Annotated[float, Quantity(Unit.POWER, least=0.0)]
Energy = Annotated[float, Quantity(Unit.ENERGY, least=0.0)]
Temperature = Annotated[float, Quantity(Unit.TEMPERATURE, least=-50.0, most=60.0)]
Consumption = Annotated[float, Quantity(Unit.CONSUMPTION, above=0.0)]
Distance = Annotated[float, Quantity(Unit.DISTANCE, least=0.0)]
HoursOfDay = Annotated[float, Quantity(Unit.DURATION, least=0.0, most=24.0)]
Money = Annotated[float, Quantity(Unit.MONEY, least=0.0)]
Ratio = Annotated[float, Quantity(Unit.RATIO, least=0.0)]


def entry(
    doc: str,
    *,
    default: Any = dataclasses.MISSING,
    example: str = "",
    key: str = "",
    otherwise: str = "",
) -> Any:
    """A field of a design section: what it means and, if it may be left out, its default.

    `key` is how the design file spells it where that is no Python name ("from"). `otherwise`
    says what holds when it is left out, where the default does not say so itself.
    """
    metadata = {"doc": doc, "example": example, "key": key, "otherwise": otherwise}
    return field(default=default, metadata=metadata)
