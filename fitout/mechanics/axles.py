"""Axle loads, and how a load sits on a vehicle: statics by moments about the axles."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Mass:
    """A mass in kg and its centre: mm ahead of the rear axle, left of the centre line, up."""

    mass_kg: float
    ahead: float
    left: float = 0.0
    up: float = 0.0


@dataclass(frozen=True, slots=True)
class AxleLoads:
    """What the axles bear, kg. Behind the rear axle a load takes weight off the front."""

    front_kg: float
    rear_kg: float

    @property
    def total_kg(self) -> float:
        """Both axles together."""
        return self.front_kg + self.rear_kg

    def plus(self, other: AxleLoads) -> AxleLoads:
        """The loads of both: statics is linear."""
        return AxleLoads(self.front_kg + other.front_kg, self.rear_kg + other.rear_kg)


def axle_loads(masses: Iterable[Mass], wheelbase: float) -> AxleLoads:
    """What the axles bear of the masses: front Σ m a / L, rear Σ m (L − a) / L.

    `a` is how far a mass lies ahead of the rear axle, negative behind it; `wheelbase` L in mm.
    The vehicle stands level and still.

    Raises:
        ValueError: unless the wheelbase is above 0.

    Source: equilibrium of moments, as in any text on statics.
    """
    if not wheelbase > 0.0:
        raise ValueError(f"wheelbase: {wheelbase:g}; must be above 0")
    listed = list(masses)
    front = sum(m.mass_kg * m.ahead for m in listed) / wheelbase
    return AxleLoads(front, sum(m.mass_kg for m in listed) - front)


def left_share(masses: Iterable[Mass], track: float) -> float:
    """The share of the masses' weight on the left wheels: ½ + Σ m y / (M t).

    `track` t in mm, between the middles of the tyres; above 1 or below 0 the masses alone
    would tip the vehicle over. A vehicle that carries nothing has its weight in the middle.

    Raises:
        ValueError: unless the track is above 0.

    Source: equilibrium of moments about the right wheels.
    """
    if not track > 0.0:
        raise ValueError(f"track: {track:g}; must be above 0")
    listed = list(masses)
    whole = sum(m.mass_kg for m in listed)
    if not whole:
        return 0.5
    return 0.5 + sum(m.mass_kg * m.left for m in listed) / (whole * track)


def rollover_threshold_g(track: float, height: float) -> float:
    """Sideways acceleration, in g, at which a rigid vehicle begins to tip: t / 2h.

    `height` h is that of the centre of gravity above the ground, mm. Springs and tyres make a
    real vehicle tip earlier: good for comparing one load with another, not as a limit.

    Raises:
        ValueError: unless track and height are above 0.

    Source: static stability factor, equilibrium of moments about the outer wheels.
    """
    if not (track > 0.0 and height > 0.0):
        raise ValueError(f"track {track:g} and height {height:g} must be above 0")
    return track / (2.0 * height)


def pitch_deg(front_down: float, rear_down: float, wheelbase: float) -> float:
    """How far the vehicle pitches, degrees, its tail lower counted positive.

    Raises:
        ValueError: unless the wheelbase is above 0.

    Source: geometry.
    """
    if not wheelbase > 0.0:
        raise ValueError(f"wheelbase: {wheelbase:g}; must be above 0")
    return math.degrees(math.atan2(rear_down - front_down, wheelbase))
