"""The OCC kernel as an independent reference for the clearance engine."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import pytest
from occ_kernel import mesh_solid, plain

from fitout.clearance.body import body_of, body_of_obstacle
from fitout.clearance.contact import Contact, contacts, near_pairs
from fitout.model.bay import Obstacle
from fitout.model.module import Part

DISTANCE = 0.01
"""Gaps may differ by this much (mm): chords of arcs, on both bodies."""

SLIVER_MM3 = 1.0
"""Common volumes below this are what chords and rounding make of touching faces."""


@dataclass(frozen=True, slots=True)
class Comparison:
    """How many pairs were compared, how many of them clash or touch, and what differed."""

    pairs: int
    clashing: int
    touching: int
    worst: float
    differences: tuple[str, ...]


def compare(
    parts: Sequence[Part], obstacles: Sequence[Obstacle] = (), reach: float = 20.0
) -> Comparison:
    """Judge every near pair with a part in it by both engines.

    The reference solids are exact, arcs and all, but without drill holes and with bars
    full, as the clearance engine takes them.
    """
    from fitout.documents.solids import solid_of

    bodies = [*map(body_of, parts), *map(body_of_obstacle, obstacles)]
    solids = [*(solid_of(plain(part)) for part in parts), *map(mesh_solid, obstacles)]
    pairs = near_pairs(bodies, reach)
    pairs = pairs[pairs[:, 0] < len(parts)]
    clashing = touching = 0
    worst = 0.0
    differences: list[str] = []
    for (i, j), found in contacts(bodies, reach, pairs=pairs).items():
        distance, volume = reference(solids[i], solids[j])
        clashing += found.clashes
        touching += found.gap == 0.0 and not found.clashes
        worst = max(worst, 0.0 if found.gap >= reach else abs(found.gap - distance))
        fault = difference(found, distance, volume, reach)
        if fault:
            differences.append(f"{bodies[i].id} and {bodies[j].id}: {fault}")
    return Comparison(len(pairs), clashing, touching, worst, tuple(differences))


def difference(found: Contact, distance: float, volume: float, reach: float) -> str:
    """What the two engines disagree on, empty if nothing."""
    if found.clashes != (volume > SLIVER_MM3) and max(volume, found.volume) > SLIVER_MM3:
        return f"{found} against a common volume of {volume:.3f} mm³"
    if found.clashes:
        agree = abs(found.volume - volume) <= SLIVER_MM3 + 0.01 * volume
        return "" if agree else f"{found} against a common volume of {volume:.3f} mm³"
    agree = abs(min(found.gap, reach) - min(distance, reach)) <= DISTANCE
    return "" if agree else f"{found} against a distance of {distance:.4f} mm"


def reference(a: Any, b: Any) -> tuple[float, float]:
    """Distance and common volume of two OCC solids."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Common
    from OCP.BRepExtrema import BRepExtrema_DistShapeShape

    distance = BRepExtrema_DistShapeShape(a, b).Value()
    if distance > 1e-3:
        return distance, 0.0
    return distance, volume_of(BRepAlgoAPI_Common(a, b).Shape())


def volume_of(solid: Any) -> float:
    """Volume of an OCC solid in mm³."""
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(solid, properties)
    return float(properties.Mass())


@pytest.fixture
def against_occ() -> Callable[..., Comparison]:
    """`compare`: both engines on every near pair of a list of parts and obstacles."""
    return compare


@pytest.fixture
def occ_volume() -> Callable[[Any], float]:
    """Volume of an OCC solid in mm³."""
    return volume_of
