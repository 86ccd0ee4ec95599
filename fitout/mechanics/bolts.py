"""Bolts of steel: stress area, what a property class bears, tension with shear.

Lengths mm, forces N, stresses N/mm². `Basis` says against what a force is held: "working" is
the design resistance of EN 1993-1-8, for what happens every day; "ultimate" is what the bolt
holds at least before it breaks, for what happens once.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

Basis = Literal["working", "ultimate"]

PITCHES: Mapping[str, float] = MappingProxyType(
    {"M4": 0.7, "M5": 0.8, "M6": 1.0, "M8": 1.25, "M10": 1.5, "M12": 1.75}
)
"""Coarse pitches, ISO 261 (from memory)."""

GAMMA_M2 = 1.25
"""Partial factor for bolts, EN 1993-1-8 Table 2.1 (from memory)."""


@dataclass(frozen=True, slots=True)
class Grade:
    """A property class: tensile strength, N/mm².

    `shear_share` is the share of the tensile strength that the thread bears in shear.
    """

    tensile_mpa: float
    shear_share: float
    source: str


_STEEL = "ISO 898-1; share in shear EN 1993-1-8 Table 3.4, from memory"
_STAINLESS = "ISO 3506-1; share in shear EN 1993-1-4 6.2, from memory"

GRADES: Mapping[str, Grade] = MappingProxyType(
    {
        "4.8": Grade(420.0, 0.5, _STEEL),
        "8.8": Grade(800.0, 0.6, _STEEL),
        "10.9": Grade(1040.0, 0.5, _STEEL),
        "A2-70": Grade(700.0, 0.6, _STAINLESS),
        "A4-70": Grade(700.0, 0.6, _STAINLESS),
        "A2-80": Grade(800.0, 0.6, _STAINLESS),
        "A4-80": Grade(800.0, 0.6, _STAINLESS),
    }
)
"""Classes by the mark on the bolt's head, up to M16."""


def stress_area(thread: str) -> float:
    """The area, mm², that a coarse thread bears tension with: π/4 (d − 0.9382 P)².

    `thread` is such as "M8", from M4 to M12.

    Raises:
        ValueError: on a thread that is not among `PITCHES`.

    Source: ISO 898-1, 9.1.6 (the formula from memory, its values from the standard's table).
    """
    if thread not in PITCHES:
        raise ValueError(f"thread: {thread}; must be one of {', '.join(PITCHES)}")
    return math.pi / 4.0 * (diameter(thread) - 0.9382 * PITCHES[thread]) ** 2


def diameter(thread: str) -> float:
    """The nominal diameter, mm. Raises ValueError on a thread that is not among `PITCHES`."""
    if thread not in PITCHES:
        raise ValueError(f"thread: {thread}; must be one of {', '.join(PITCHES)}")
    return float(thread[1:])


def grade(name: str) -> Grade:
    """A property class by its mark. Raises ValueError on one that is not among `GRADES`."""
    if name not in GRADES:
        raise ValueError(f"grade: {name}; must be one of {', '.join(GRADES)}")
    return GRADES[name]


def ultimate_load_n(thread: str, grade_name: str) -> float:
    """The least load that breaks a bolt: tensile strength × stress area.

    Raises ValueError on an unknown thread or class. Source: ISO 898-1, ISO 3506-1.
    """
    return grade(grade_name).tensile_mpa * stress_area(thread)


def tension_n(thread: str, grade_name: str, basis: Basis) -> float:
    """What a bolt bears in tension: working 0.9 f_ub A_s / 1.25, ultimate f_ub A_s.

    Raises ValueError on an unknown thread or class. Source: EN 1993-1-8 Table 3.4, from memory.
    """
    breaks = ultimate_load_n(thread, grade_name)
    return 0.9 * breaks / GAMMA_M2 if basis == "working" else breaks


def shear_n(thread: str, grade_name: str, basis: Basis) -> float:
    """What a bolt bears in shear, its thread in the joint: share × f_ub A_s, working / 1.25.

    Raises ValueError on an unknown thread or class. Source: EN 1993-1-8 Table 3.4, from memory.
    """
    breaks = grade(grade_name).shear_share * ultimate_load_n(thread, grade_name)
    return breaks / GAMMA_M2 if basis == "working" else breaks


def tension_and_shear(
    tension: float, shear: float, most_tension: float, most_shear: float
) -> float:
    """The share used of a bolt under both: the larger of V/V_R + N/(1.4 N_R) and N/N_R.

    Forces in N, not negative. Raises ValueError otherwise.
    Source: EN 1993-1-8 Table 3.4, from memory.
    """
    if min(tension, shear) < 0.0 or not min(most_tension, most_shear) > 0.0:
        raise ValueError("forces must not be negative, resistances must be above 0")
    return max(shear / most_shear + tension / (1.4 * most_tension), tension / most_tension)
