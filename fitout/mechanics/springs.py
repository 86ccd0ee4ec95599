"""Springs of an axle with air springs beside them: how far it settles, what levels it."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from fitout.mechanics.boards import STANDARD_GRAVITY


@dataclass(frozen=True, slots=True)
class AirState:
    """What the air springs of a whole axle bear at a pressure, kg, and add to its rate, N/mm."""

    pressure_bar: float
    load_kg: float
    rate_n_mm: float = 0.0


def air_at(table: Sequence[AirState], pressure_bar: float) -> AirState:
    """The state at a pressure, between the rows of a maker's table by straight lines.

    Raises:
        ValueError: outside the table's pressures, or where the table has no two rows that rise.
    """
    _rising(table)
    for low, high in itertools.pairwise(table):
        if low.pressure_bar <= pressure_bar <= high.pressure_bar:
            part = (pressure_bar - low.pressure_bar) / (high.pressure_bar - low.pressure_bar)
            load = low.load_kg + part * (high.load_kg - low.load_kg)
            rate = low.rate_n_mm + part * (high.rate_n_mm - low.rate_n_mm)
            return AirState(pressure_bar, load, rate)
    raise ValueError(
        f"pressure_bar: {pressure_bar:g}; must be from {table[0].pressure_bar:g} to "
        f"{table[-1].pressure_bar:g}"
    )


def settles_on_air(more_kg: float, rate_n_mm: float, before: AirState, now: AirState) -> float:
    """How far an axle comes down under a further load, mm, its air springs reset meanwhile.

    Forces balance where (k + k_air) d = m g - (F_now - F_before), the air springs' own forces
    and rates taken at the height they had before. Without air springs: Hooke's law.

    Raises:
        ValueError: unless the axle's rate is above 0.

    Source: equilibrium of forces; linear, so for travels small against the springs' own.
    """
    if not rate_n_mm > 0.0:
        raise ValueError(f"rate_n_mm: {rate_n_mm:g}; must be above 0")
    left_kg = more_kg - (now.load_kg - before.load_kg)
    return left_kg * STANDARD_GRAVITY / (rate_n_mm + now.rate_n_mm)


def levelling_pressure(table: Sequence[AirState], before: AirState, more_kg: float) -> float | None:
    """The pressure, bar, at which the air springs take all of a further load; None if none does.

    Raises:
        ValueError: where the table has no two rows that rise.
    """
    _rising(table)
    wanted = before.load_kg + more_kg
    for low, high in itertools.pairwise(table):
        if low.load_kg <= wanted <= high.load_kg:
            part = (wanted - low.load_kg) / (high.load_kg - low.load_kg)
            return low.pressure_bar + part * (high.pressure_bar - low.pressure_bar)
    return None


def _rising(table: Sequence[AirState]) -> None:
    rises = all(
        low.pressure_bar < high.pressure_bar and low.load_kg < high.load_kg
        for low, high in itertools.pairwise(table)
    )
    if len(table) < 2 or not rises:
        raise ValueError("table: must have two rows or more, pressure and load rising")
