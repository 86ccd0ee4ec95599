"""Bending stiffness and strength of plywood from its build-up, by the laminate model."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

BIRCH_VENEER_E_MPA = 17_500.0
"""Stiffness of birch veneer along its grain, N/mm²; across it counts as nothing."""

BIRCH_VENEER_STRENGTH_MPA = 70.0
"""Characteristic bending strength of birch veneer along its grain, N/mm²."""

BIRCH_INNER_VENEER = 1.4
BIRCH_SANDED_FACE = 1.1


@dataclass(frozen=True, slots=True, kw_only=True)
class Laminate:
    """A plywood's thickness and its bending values along and across the face grain.

    E and strength refer to the whole thickness, as if the board were of one material.
    """

    thickness: float
    e_along_mpa: float
    e_across_mpa: float
    strength_along_mpa: float
    strength_across_mpa: float


def laminate(plies: Sequence[float], veneer_e_mpa: float, veneer_strength_mpa: float) -> Laminate:
    """Bending values of crosswise-glued veneers, face grain outermost.

    Each veneer counts in its own grain direction only, at its distance from the middle
    (transformed-section method). Across the face grain the strength is that of the outermost
    cross veneer, which lies one face veneer below the surface.

    Args:
        plies: thickness of each veneer from face to face, an odd number of them, 3 or more,
            the same from either face.
        veneer_e_mpa: a veneer's E along its grain, N/mm².
        veneer_strength_mpa: a veneer's bending strength along its grain, N/mm².

    Raises:
        ValueError: on an even or asymmetric build-up, or a number that is not positive.

    Source: transformed sections, as in any text on laminated beams; that it reproduces the
    Handbook of Finnish Plywood is shown in tests/validation/test_plywood.py.
    """
    if len(plies) < 3 or len(plies) % 2 == 0:
        raise ValueError(f"plies: {len(plies)} of them; plywood has an odd number, 3 or more")
    if min(*plies, veneer_e_mpa, veneer_strength_mpa) <= 0.0:
        raise ValueError("plies, veneer_e_mpa and veneer_strength_mpa must all be above 0")
    if any(abs(a - b) > 1e-9 for a, b in zip(plies, reversed(plies), strict=True)):
        raise ValueError("plies: the build-up must be the same from either face")
    thickness = sum(plies)
    inertia = [0.0, 0.0]
    low = -thickness / 2.0
    for number, ply in enumerate(plies):
        high = low + ply
        inertia[number % 2] += (high**3 - low**3) / 3.0
        low = high
    whole = thickness**3 / 12.0
    modulus = thickness**2 / 6.0
    along, across = inertia
    return Laminate(
        thickness=thickness,
        e_along_mpa=veneer_e_mpa * along / whole,
        e_across_mpa=veneer_e_mpa * across / whole,
        strength_along_mpa=veneer_strength_mpa * along / (thickness / 2.0) / modulus,
        strength_across_mpa=veneer_strength_mpa * across / (thickness / 2.0 - plies[0]) / modulus,
    )


def birch(plies: int) -> Laminate:
    """Sanded birch plywood of that many veneers: 1.4 mm inside, faces sanded to 1.1 mm.

    Raises:
        ValueError: on an even number of plies, or fewer than 3.

    Source: build-up and mean thickness of the Handbook of Finnish Plywood, from memory; the
    veneer's two values are those that reproduce the handbook's table.
    """
    inner = [BIRCH_INNER_VENEER] * (plies - 2)
    build_up = [BIRCH_SANDED_FACE, *inner, BIRCH_SANDED_FACE]
    return laminate(build_up, BIRCH_VENEER_E_MPA, BIRCH_VENEER_STRENGTH_MPA)
