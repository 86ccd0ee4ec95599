"""The units a builder may write, by kind of quantity, and the words for each kind.

Units are those of the tape measure and the kitchen scale. The inch is 25.4 mm and the
pound 0.45359237 kg exactly (international yard and pound agreement, 1959); the imperial
gallon is 4.54609 l exactly, the US gallon 231 cubic inches, the force of a pound or kilogram
its mass under 9.80665 m/s², the mile 5280 feet (NIST Special Publication 811, appendix B.8).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType

from fitout.model.spec import Unit

_INCH = 25.4
_POUND = 0.45359237
_RADIAN = 180.0 / math.pi
_GRAVITY = 9.80665
_MILE = 5280.0 * 12.0 * _INCH / 1e6
_US_GALLON = 231.0 * _INCH**3 / 1e6
_UK_GALLON = 4.54609


def _table(**groups: tuple[float, str]) -> Mapping[str, float]:
    return MappingProxyType(
        {name: factor for factor, names in groups.values() for name in names.split(",")}
    )


FACTORS: Mapping[Unit, Mapping[str, float]] = MappingProxyType(
    {
        Unit.LENGTH: _table(
            mm=(1.0, "mm"),
            cm=(10.0, "cm"),
            m=(1000.0, "m"),
            inch=(_INCH, "in,inch,inches,\",″,''"),
            foot=(12.0 * _INCH, "ft,foot,feet,',′"),
        ),
        Unit.MASS: _table(
            kg=(1.0, "kg"),
            g=(0.001, "g"),
            t=(1000.0, "t"),
            lb=(_POUND, "lb,lbs"),
            oz=(_POUND / 16.0, "oz"),
        ),
        Unit.ANGLE: _table(deg=(1.0, "deg,degrees,degree,°"), rad=(_RADIAN, "rad")),
        Unit.VOLUME: _table(
            litre=(1.0, "l,litre,litres,liter,liters"),
            ml=(0.001, "ml"),
            us=(_US_GALLON, "gal(us)"),
            uk=(_UK_GALLON, "gal(uk)"),
        ),
        Unit.MONEY: _table(),
        Unit.RATIO: _table(percent=(0.01, "%")),
        Unit.STIFFNESS: _table(
            n_mm=(1.0, "n/mm"),
            n_m=(0.001, "n/m"),
            kn_m=(1.0, "kn/m"),
            kg_mm=(_GRAVITY, "kg/mm,kgf/mm"),
            lb_in=(_POUND * _GRAVITY / _INCH, "lb/in,lbs/in,lbf/in"),
        ),
        Unit.PRESSURE: _table(
            bar=(1.0, "bar"),
            kpa=(0.01, "kpa"),
            psi=(_POUND * _GRAVITY / _INCH**2 * 10.0, "psi"),
        ),
        Unit.FORCE: _table(
            n=(1.0, "n"),
            dan=(10.0, "dan"),
            kn=(1000.0, "kn"),
            kgf=(_GRAVITY, "kgf"),
            lbf=(_POUND * _GRAVITY, "lbf"),
        ),
        Unit.STRESS: _table(
            mpa=(1.0, "mpa,n/mm2,n/mm²"), ksi=(_POUND * _GRAVITY / _INCH**2 * 1000.0, "ksi")
        ),
        Unit.POWER: _table(w=(1.0, "w"), kw=(1000.0, "kw")),
        Unit.ENERGY: _table(wh=(1.0, "wh"), kwh=(1000.0, "kwh")),
        Unit.TEMPERATURE: _table(
            celsius=(1.0, "°c,c,deg c,degc"), fahrenheit=(5.0 / 9.0, "°f,f,deg f,degf")
        ),
        Unit.CONSUMPTION: _table(
            litres=(1.0, "l/hundredkm"),
            us=(_US_GALLON / _MILE * 100.0, "mpg(us)"),
            uk=(_UK_GALLON / _MILE * 100.0, "mpg(uk)"),
        ),
        Unit.DISTANCE: _table(km=(1.0, "km"), mile=(_MILE, "mi,mile,miles")),
        Unit.DURATION: _table(hour=(1.0, "h,hour,hours"), minute=(1.0 / 60.0, "min")),
    }
)

OFFSETS: Mapping[str, float] = MappingProxyType(dict.fromkeys(("°f", "f", "deg f", "degf"), 32.0))
"""What a scale shows at 0 of the scale it is told in: 32 °F at 0 °C."""

PER = ("mpg(us)", "mpg(uk)")
"""Units that tell how far a volume goes: the factor over the number is what is kept."""

PRODUCTS: Mapping[Unit, tuple[str, str]] = MappingProxyType(
    {Unit.ENERGY: ("ah", "v"), Unit.POWER: ("a", "v")}
)
"""What is also told as two numbers, one at the other: `100 Ah at 12.8 V`."""

WORDS: Mapping[Unit, str] = MappingProxyType(
    {
        Unit.LENGTH: "a length",
        Unit.MASS: "a mass",
        Unit.ANGLE: "an angle",
        Unit.VOLUME: "a volume",
        Unit.MONEY: "a price",
        Unit.RATIO: "a number",
        Unit.STIFFNESS: "a spring rate",
        Unit.PRESSURE: "a pressure",
        Unit.FORCE: "a force",
        Unit.STRESS: "a strength",
        Unit.POWER: "a power",
        Unit.ENERGY: "an energy",
        Unit.TEMPERATURE: "a temperature",
        Unit.CONSUMPTION: "a consumption",
        Unit.DISTANCE: "a distance",
        Unit.DURATION: "a time",
    }
)

EXAMPLES: Mapping[Unit, str] = MappingProxyType(
    {
        Unit.LENGTH: "560, 1.2 m or 35 1/2 in",
        Unit.MASS: "18, 850 g or 40 lb",
        Unit.ANGLE: "17 or 17 deg",
        Unit.VOLUME: "42 l or 11 gal(us)",
        Unit.MONEY: "84.50",
        Unit.RATIO: "0.3 or 30 %",
        Unit.STIFFNESS: "32 N/mm or 180 lb/in",
        Unit.PRESSURE: "1.5 bar, 22 psi or 150 kPa",
        Unit.FORCE: "4200 N, 4.2 kN or 940 lbf",
        Unit.STRESS: "270 MPa or 39 ksi",
        Unit.POWER: "45 W or 20 A at 13.8 V",
        Unit.ENERGY: "1280 Wh or 100 Ah at 12.8 V",
        Unit.TEMPERATURE: "28 °C or 82 °F",
        Unit.CONSUMPTION: "9.4 l/100 km or 25 mpg(us)",
        Unit.DISTANCE: "240 km or 150 mi",
        Unit.DURATION: "4.5 h or 30 min",
    }
)

UNIT_HINTS: Mapping[Unit, str] = MappingProxyType(
    {
        Unit.LENGTH: "Write the unit as mm, cm, m, in or ft; mm if left out.",
        Unit.MASS: "Write the unit as kg, g, t, lb or oz; kg if left out.",
        Unit.ANGLE: "Write the unit as deg, ° or rad; degrees if left out.",
        Unit.VOLUME: "Write the unit as l, ml, gal(us) or gal(uk); litres if left out.",
        Unit.MONEY: "Write the number alone.",
        Unit.RATIO: "Write the number alone, or with %.",
        Unit.STIFFNESS: "Write the unit as N/mm, N/m, kN/m, kg/mm or lb/in; N/mm if left out.",
        Unit.PRESSURE: "Write the unit as bar, kPa or psi; bar if left out.",
        Unit.FORCE: "Write the unit as N, daN, kN, kgf or lbf; N if left out.",
        Unit.STRESS: "Write the unit as MPa, N/mm2 or ksi; MPa if left out.",
        Unit.POWER: "Write the unit as W or kW, or as A at so many V; W if left out.",
        Unit.ENERGY: "Write the unit as Wh or kWh, or as Ah at so many V; Wh if left out.",
        Unit.TEMPERATURE: "Write the unit as °C or °F; °C if left out.",
        Unit.CONSUMPTION: "Write the unit as l/100 km, mpg(us) or mpg(uk); l/100 km if left out.",
        Unit.DISTANCE: "Write the unit as km or mi; km if left out.",
        Unit.DURATION: "Write the unit as h or min; h if left out.",
    }
)

LIMITS: Mapping[Unit, float] = MappingProxyType(
    {
        Unit.LENGTH: 100_000.0,
        Unit.MASS: 100_000.0,
        Unit.ANGLE: 360.0,
        Unit.VOLUME: 100_000.0,
        Unit.MONEY: 1e9,
        Unit.RATIO: 1e6,
        Unit.STIFFNESS: 10_000.0,
        Unit.PRESSURE: 100.0,
        Unit.FORCE: 1e6,
        Unit.STRESS: 10_000.0,
        Unit.POWER: 100_000.0,
        Unit.ENERGY: 1e6,
        Unit.TEMPERATURE: 1000.0,
        Unit.CONSUMPTION: 1000.0,
        Unit.DISTANCE: 100_000.0,
        Unit.DURATION: 10_000.0,
    }
)
"""No number of a fit-out is larger than these, in the unit it is kept in."""
