"""Sun on a panel: declination, length of day, and what reaches the ground on an average day."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType

SOLAR_CONSTANT_W_M2 = 1367.0
"""Power of the sun above the air at its mean distance (World Radiation Center, from memory)."""

GROUND_REFLECTS = 0.2
"""Share of the sun's light that grass and earth give back (common practice)."""

MID_MONTH: Mapping[str, int] = MappingProxyType(
    {
        "January": 17, "February": 47, "March": 75, "April": 105, "May": 135, "June": 162,
        "July": 198, "August": 228, "September": 258, "October": 288, "November": 318,
        "December": 344,
    }
)  # fmt: skip
"""The day of the year whose sun is nearest to the month's mean (Klein 1977, from memory)."""


def declination_deg(day_of_year: int) -> float:
    """How far the sun stands north of the equator, degrees: 23.45 sin(360 (284 + n) / 365).

    Raises:
        ValueError: unless the day is from 1 to 366.

    Source: Cooper (1969), from memory; within half a degree.
    """
    if not 1 <= day_of_year <= 366:
        raise ValueError(f"day_of_year: {day_of_year}; must be from 1 to 366")
    return 23.45 * math.sin(math.radians(360.0 * (284 + day_of_year) / 365.0))


def sunset_hour_angle_deg(latitude_deg: float, declination: float) -> float:
    """Half the day's arc of the sun, degrees: arccos(−tan φ tan δ); 15° are an hour.

    0 where the sun does not rise, 180 where it does not set.

    Raises:
        ValueError: unless the latitude is below 90° either way.

    Source: geometry of the sphere.
    """
    if not abs(latitude_deg) < 90.0:
        raise ValueError(f"latitude_deg: {latitude_deg:g}; must be below 90 either way")
    cosine = -math.tan(math.radians(latitude_deg)) * math.tan(math.radians(declination))
    return math.degrees(math.acos(min(1.0, max(-1.0, cosine))))


def above_the_air_kwh_m2(latitude_deg: float, day_of_year: int) -> float:
    """The sun's energy on a level square metre above the air in a day, kWh/m².

    24/π G (1 + 0.033 cos(360 n / 365)) (cos φ cos δ sin ω + ω sin φ sin δ), ω being the hour
    angle of sunset in radians.

    Raises:
        ValueError: as `declination_deg` and `sunset_hour_angle_deg`.

    Source: integral of the sun's height over the day, as in any text on solar engineering and in
    FAO Irrigation and Drainage Paper 56, equation 21.
    """
    delta = declination_deg(day_of_year)
    angle = math.radians(sunset_hour_angle_deg(latitude_deg, delta))
    phi, delta = math.radians(latitude_deg), math.radians(delta)
    strength = SOLAR_CONSTANT_W_M2 * (1.0 + 0.033 * math.cos(2.0 * math.pi * day_of_year / 365.0))
    height = math.cos(phi) * math.cos(delta) * math.sin(angle)
    height += angle * math.sin(phi) * math.sin(delta)
    return 24.0 / math.pi * strength * height / 1000.0


def diffuse_share(clearness: float) -> float:
    """The share of the sun's energy on the ground that comes from the sky: 1 − 1.13 K.

    Raises:
        ValueError: unless the clearness K is above 0 and at most 0.8.

    Source: Page (1961), monthly means, from memory.
    """
    if not 0.0 < clearness <= 0.8:
        raise ValueError(f"clearness: {clearness:g}; must be above 0 and at most 0.8")
    return 1.0 - 1.13 * clearness


def sun_hours(
    latitude_deg: float, day_of_year: int, clearness: float, tilt_deg: float = 0.0
) -> float:
    """Sun on a panel on an average day, as hours at 1000 W/m² (kWh/m²).

    `clearness` K is the share of the sun above the air that reaches level ground; `tilt_deg` how
    far the panel is tilted from flat towards the noon sun. The beam is turned by the mean ratio
    over the day, the sky is taken as even, the ground gives back a fifth.

    Raises:
        ValueError: as the functions above, or on a tilt that is not from 0 to 90.

    Source: Liu and Jordan (1962), Klein (1977) for the beam's ratio, from memory.
    """
    if not 0.0 <= tilt_deg <= 90.0:
        raise ValueError(f"tilt_deg: {tilt_deg:g}; must be from 0 to 90")
    level = clearness * above_the_air_kwh_m2(latitude_deg, day_of_year)
    diffuse = diffuse_share(clearness)
    tilt = math.radians(tilt_deg)
    beam = (1.0 - diffuse) * _beam_ratio(latitude_deg, day_of_year, tilt_deg)
    sky = diffuse * (1.0 + math.cos(tilt)) / 2.0
    ground = GROUND_REFLECTS * (1.0 - math.cos(tilt)) / 2.0
    return level * (beam + sky + ground)


def _beam_ratio(latitude_deg: float, day_of_year: int, tilt_deg: float) -> float:
    """Beam on the tilted panel over that on level ground, the mean of a day.

    A panel tilted towards the equator sees the sun as level ground nearer to it would.
    """
    if not tilt_deg:
        return 1.0
    # South of the equator the noon sun stands in the north: the same as mirrored.
    south = latitude_deg < 0.0
    latitude = abs(latitude_deg)
    delta = declination_deg(day_of_year) * (-1.0 if south else 1.0)
    day = sunset_hour_angle_deg(latitude, delta)
    seen = min(day, sunset_hour_angle_deg(latitude - tilt_deg, delta))
    over = _day_sum(latitude - tilt_deg, delta, seen)
    under = _day_sum(latitude, delta, day)
    return max(0.0, over / under) if under > 0.0 else 1.0


def _day_sum(latitude_deg: float, declination: float, hour_angle: float) -> float:
    phi, delta, angle = (math.radians(x) for x in (latitude_deg, declination, hour_angle))
    return math.cos(phi) * math.cos(delta) * math.sin(angle) + angle * math.sin(phi) * math.sin(
        delta
    )
