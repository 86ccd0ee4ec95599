"""What one person should lift: ISO 11228-1's reference mass, NIOSH's lifting equation.

NIOSH, Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH) 94-110. Its
metric and its US form are not exact conversions of each other: one is computed throughout.
The multiplier of asymmetry is from memory.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

REFERENCE_KG = 25.0
"""What an adult of the working population may lift under good conditions: ISO 11228-1."""

Units = Literal["metric", "US"]


@dataclass(frozen=True, slots=True)
class Constants:
    """The equation's constants in one system: load, reach, height and travel."""

    load: float
    reach: float
    reach_most: float
    height: float
    per_height: float
    height_most: float
    travel: float
    travel_least: float


SYSTEMS: dict[Units, Constants] = {
    "metric": Constants(23.0, 25.0, 63.0, 75.0, 0.003, 175.0, 4.5, 25.0),
    "US": Constants(51.0, 10.0, 25.0, 30.0, 0.0075, 70.0, 1.8, 10.0),
}
"""Kilograms and centimetres, or pounds and inches."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """One lift: cm or inches, degrees.

    `reach` is from the ankles' middle to the hands', `height` the hands' above the standing
    surface, `travel` how far they are raised. `frequency` and `coupling` are the tables'
    multipliers.
    """

    reach: float
    height: float
    travel: float
    turned_deg: float = 0.0
    frequency: float = 1.0
    coupling: float = 1.0


def recommended_weight(lift: Lift, units: Units = "metric", *, rounded: bool = False) -> float:
    """The recommended weight limit, kg or lb; 0 where reach, height or turn go too far.

    With `rounded` each multiplier is taken to two decimals, as the manual's worksheets do.

    Raises:
        ValueError: a negative or unlimited size.
    """
    sizes = (lift.reach, lift.height, lift.travel)
    if not all(math.isfinite(size) and size >= 0.0 for size in sizes):
        raise ValueError("a lift's sizes must be 0 or more")
    c = SYSTEMS[units]
    if lift.reach > c.reach_most or lift.height > c.height_most or abs(lift.turned_deg) > 135.0:
        return 0.0
    multipliers = [
        min(1.0, c.reach / max(lift.reach, c.reach)),
        1.0 - c.per_height * abs(lift.height - c.height),
        min(1.0, 0.82 + c.travel / max(lift.travel, c.travel_least)),
        1.0 - 0.0032 * abs(lift.turned_deg),
        lift.frequency,
        lift.coupling,
    ]
    return c.load * math.prod(round(m, 2) if rounded else m for m in multipliers)


def reach_for(depth_cm: float) -> float:
    """The hands' distance from the ankles for a load so deep, cm: 20 + depth / 2.

    The manual's way where it can't be measured, hands at knee height or above; from memory.
    """
    return 20.0 + depth_cm / 2.0
