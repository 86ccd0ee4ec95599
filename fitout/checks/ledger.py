"""Masses with their centres of gravity, and their sums."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from fitout.model.module import Part
from fitout.model.placement import Vector


@dataclass(frozen=True, slots=True)
class Load:
    """A mass and its centre of gravity in bay coordinates."""

    mass_kg: float
    centre: Vector


def load_of(part: Part) -> Load:
    """A part's own mass; an item is empty."""
    return Load(part.mass_kg, part.centroid)


def together(loads: Iterable[Load]) -> Load:
    """One load for many: the sum, at the mass-weighted centre."""
    listed = [load for load in loads if load.mass_kg > 0.0]
    mass = sum(load.mass_kg for load in listed)
    if not mass:
        return Load(0.0, (0.0, 0.0, 0.0))
    x, y, z = (sum(load.mass_kg * load.centre[k] for load in listed) / mass for k in range(3))
    return Load(mass, (x, y, z))
