"""Electric energy of a day: how long a fridge runs, what a panel gives, what a battery keeps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

HOURS_OF_DAY = 24.0

USUAL_DUTY: Mapping[float, float] = MappingProxyType({15.0: 0.20, 25.0: 0.35, 35.0: 0.55})
"""Share of the time a compressor fridge at 4 °C runs, by the temperature round it in °C
(common practice; a maker's own figures are better)."""


def duty_at(rows: Mapping[float, float], ambient_c: float) -> float:
    """The share of the time a fridge runs at an ambient temperature, °C, from rows by temperature.

    Between rows it is interpolated in a straight line. Below the lowest it stays the lowest's;
    above the highest it goes on rising as between the last two, up to 1: the safe side.

    Raises:
        ValueError: when there are no rows or one is not from 0 to 1.
    """
    if not rows or not all(0.0 <= share <= 1.0 for share in rows.values()):
        raise ValueError("rows: at least one, each a share from 0 to 1")
    points = sorted(rows.items())
    if ambient_c <= points[0][0] or len(points) == 1:
        return points[0][1]
    above = next((k for k, (t, _) in enumerate(points) if t >= ambient_c), len(points) - 1)
    (t0, d0), (t1, d1) = points[above - 1], points[above]
    slope = (d1 - d0) / (t1 - t0)
    if ambient_c > t1:
        return min(1.0, d1 + max(0.0, slope) * (ambient_c - t1))
    return d0 + slope * (ambient_c - t0)


def fridge_wh(power_w: float, duty: float) -> float:
    """What a fridge draws in a day and a night, Wh.

    Raises:
        ValueError: on a power below 0 or a duty that is not from 0 to 1.
    """
    if power_w < 0.0 or not 0.0 <= duty <= 1.0:
        raise ValueError(f"power_w {power_w:g} must not be negative, duty {duty:g} from 0 to 1")
    return power_w * duty * HOURS_OF_DAY


def panel_wh(rated_w: float, sun_hours: float, losses: float) -> float:
    """What a panel gives in a day, Wh: its rated power for the hours at 1000 W/m², less losses.

    Raises:
        ValueError: on what is negative, or losses above 1.
    """
    if rated_w < 0.0 or sun_hours < 0.0 or not 0.0 <= losses <= 1.0:
        raise ValueError(
            f"rated_w {rated_w:g} and sun_hours {sun_hours:g} must not be negative, losses "
            f"{losses:g} from 0 to 1"
        )
    return rated_w * sun_hours * (1.0 - losses)


@dataclass(frozen=True, slots=True)
class BatteryDay:
    """A battery from one morning to the next, Wh of what may be drawn.

    `left_wh` the next morning, `kept_wh` what of the charge it could take, `short_wh` what was
    wanted and not there.
    """

    left_wh: float
    kept_wh: float
    short_wh: float


def battery_day(
    held_wh: float, holds_wh: float, charge_wh: float, by_day_wh: float, by_night_wh: float
) -> BatteryDay:
    """A battery through a day and the night after it.

    By day it is charged while `by_day_wh` are drawn: what would fill it beyond `holds_wh` is
    lost. By night only `by_night_wh` are drawn. Kept + short = drawn + left − held.

    Raises:
        ValueError: on what is negative, or a battery that holds more than it can.
    """
    if min(held_wh, charge_wh, by_day_wh, by_night_wh) < 0.0 or held_wh > holds_wh:
        raise ValueError(
            f"held {held_wh:g} of {holds_wh:g}, charge {charge_wh:g}, drawn {by_day_wh:g} and "
            f"{by_night_wh:g}: none may be negative, none held beyond what it holds"
        )
    evening = min(holds_wh, held_wh + charge_wh - by_day_wh)
    kept = evening - held_wh + by_day_wh
    wanted = evening - by_night_wh
    # What could not be drawn by day is short as well as what could not by night.
    return BatteryDay(max(0.0, wanted), kept, max(0.0, -wanted))
