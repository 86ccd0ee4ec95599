"""Stopping, and blocks that fly: times, distances, energies, the force that stands for them.

Masses kg, speeds km/h, accelerations in g = 9.80665 m/s², distances mm, times ms.
"""

from __future__ import annotations

from dataclasses import dataclass

from fitout.mechanics.boards import STANDARD_GRAVITY


@dataclass(frozen=True, slots=True)
class Block:
    """A block thrown at a barrier: its mass and its edges, mm, longest first."""

    name: str
    mass_kg: float
    edges: tuple[float, float, float]
    source: str


BLOCKS = (
    Block("block type 1", 18.0, (300.0, 300.0, 300.0), "UN R17 Annex 9, from memory"),
    Block("block type 2", 10.0, (500.0, 350.0, 125.0), "UN R17 Annex 9, from memory"),
)
"""The test blocks of UN R17, which UN R126 uses for partitions."""


def force_n(mass_kg: float, acceleration_g: float) -> float:
    """The static force that stands for a mass under an acceleration: m a, N.

    Raises ValueError on a negative mass or acceleration. Source: Newton's second law.
    """
    if mass_kg < 0.0 or acceleration_g < 0.0:
        raise ValueError(f"mass_kg {mass_kg:g}, acceleration_g {acceleration_g:g}: below 0")
    return mass_kg * acceleration_g * STANDARD_GRAVITY


def energy_j(mass_kg: float, speed_kmh: float) -> float:
    """Kinetic energy, J: m v² / 2. Raises ValueError on a negative mass or speed."""
    if mass_kg < 0.0 or speed_kmh < 0.0:
        raise ValueError(f"mass_kg {mass_kg:g}, speed_kmh {speed_kmh:g}: below 0")
    return 0.5 * mass_kg * (speed_kmh / 3.6) ** 2


def stopping_distance(speed_kmh: float, acceleration_g: float) -> float:
    """The way, mm, to a stop under a constant deceleration: v² / 2a.

    Raises ValueError on a negative speed or a deceleration that is not positive.
    """
    metres = energy_j(1.0, speed_kmh) / (_positive(acceleration_g) * STANDARD_GRAVITY)
    return 1000.0 * metres


def gives_way(force: float, elastic_mm_per_n: float, yields_at: float, stop: float) -> float:
    """How far a barrier is pushed ahead while the vehicle stops, mm.

    A load that would press with `force` N on a rigid barrier; the barrier gives
    `elastic_mm_per_n` up to `yields_at` N and holds no more from there on. `stop` is the way
    the vehicle takes to stop, mm. Below yielding, force × give. Beyond it, what the barrier
    can't hold goes on: m v²/2 = force × stop is used up only after stop × force / yields_at, so
    that the load ends stop × (force / yields_at − 1) further ahead, the elastic give added.

    Raises:
        ValueError: on negative values, or a barrier that yields at nothing.

    Source: work and energy; the load lies against the barrier from the start.
    """
    if min(force, elastic_mm_per_n, stop) < 0.0 or not yields_at > 0.0:
        raise ValueError("force, give and stop must not be negative, yields_at must be above 0")
    held = min(force, yields_at)
    return held * elastic_mm_per_n + stop * (force / held - 1.0) if held else 0.0


def _positive(acceleration_g: float) -> float:
    if not acceleration_g > 0.0:
        raise ValueError(f"acceleration_g: {acceleration_g:g}; must be above 0")
    return acceleration_g
