"""Screws that hold thin steel, such as a slide, to ply; several forces on one screw; glue.

Lengths mm, forces N, stresses N/mm².
"""

from __future__ import annotations

import math

ROOT_SHARE = 2.0 / 3.0
"""A wood screw's root over its shank: Wood Handbook p. 8-11."""

SCREW_TENSILE_MPA = 400.0
"""Strength of a plain steel screw, on the low side (common practice)."""

ROLLING_SHEAR_MPA = 1.72
"""Least shear strength of plywood's plies rolling over each other: a materials database."""

GLUE_SHARE = 0.5
"""What counts of a glued edge: it is not stressed alike everywhere (common practice)."""


def effective_diameter(shank: float) -> float:
    """The diameter that bends and presses: 1.1 times the root. Raises ValueError unless above 0.

    Source: EN 1995-1-1 8.7.1(3), from memory.
    """
    if not shank > 0.0:
        raise ValueError(f"shank: {shank:g}; must be above 0")
    return 1.1 * ROOT_SHARE * shank


def thin_steel_lateral_n(
    embedment_mpa: float, depth: float, diameter: float, yield_moment_nmm: float
) -> float:
    """Characteristic lateral load of a screw through thin steel into wood: the less of two.

    min(0.4 f_h t d, 1.15 sqrt(2 M_y f_h d)), t being how deep it goes in; steel thinner than
    half the diameter.

    Raises:
        ValueError: unless all are positive.

    Source: EN 1995-1-1 eq. 8.9 (from memory).
    """
    if not min(embedment_mpa, depth, diameter, yield_moment_nmm) > 0.0:
        raise ValueError("embedment_mpa, depth, diameter and yield_moment_nmm must be above 0")
    crushes = 0.4 * embedment_mpa * depth * diameter
    bends = 1.15 * math.sqrt(2.0 * yield_moment_nmm * embedment_mpa * diameter)
    return min(crushes, bends)


def both_ways_use(axial: float, lateral: float) -> float:
    """The share used of a screw pulled and pushed at once: sqrt(axial² + lateral²), both shares.

    Source: EN 1995-1-1 eq. 8.28, for screws (from memory).
    """
    return math.hypot(axial, lateral)


WATER_SHARE = 0.10
"""Water in a board as delivered, over its dry wood (common practice)."""


def dry_gravity(density_kg_m3: float) -> float:
    """Specific gravity of dry wood, as `fasteners.withdrawal_n` asks for: 0.62 for 680 kg/m³."""
    return density_kg_m3 / (1000.0 * (1.0 + WATER_SHARE))
