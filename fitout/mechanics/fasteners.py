"""What holds round a bolt or screw: the ply under its washer, the sheet beneath, the thread in it.

Lengths mm, forces N, stresses N/mm², densities kg/m³. What is called characteristic is
exceeded by 95 of 100; what is called ultimate is the mean that broke in tests.
"""

from __future__ import annotations

import math

from fitout.mechanics.bolts import GAMMA_M2, Basis

SCREW_MPA = 108.25
"""15 700 lbf/in² of the Wood Handbook, in N/mm²."""

SCREW_RESERVE = 5.5
"""Ultimate withdrawal over what is allowed for good (NDS rule, as 2 850 to 15 700)."""

LEAST_OVER_MEAN = 630.0 / 680.0
"""Characteristic over mean density of birch plywood (Handbook of Finnish Plywood, from memory)."""

AISI_SAFETY = 3.0
"""Factor between a nominal and an allowed load of a screw: AISI S100."""


def withdrawal_n(specific_gravity: float, shank: float, penetration: float) -> float:
    """Mean force that draws a wood screw out of side grain: 108.25 G² D L.

    `shank` is its diameter, `penetration` the length of thread within the wood.

    Raises:
        ValueError: unless all are positive, and the specific gravity below 1.5.

    Source: Wood Handbook (FPL-GTR-190) ch. 8, 15 700 G² D L in pounds and inches.
    """
    _positive(specific_gravity=specific_gravity, shank=shank, penetration=penetration)
    if specific_gravity >= 1.5:
        raise ValueError(f"specific_gravity: {specific_gravity:g}; is it a density in kg/m³?")
    return SCREW_MPA * specific_gravity**2 * shank * penetration


def screw_embedment_mpa(density_kg_m3: float, shank: float) -> float:
    """Stress at which ply gives way beside a screw or nail up to 8 mm: 0.11 ρ_k d^−0.3.

    Characteristic; `density_kg_m3` too. Raises ValueError unless both are positive, or above 8.
    Source: EN 1995-1-1 eq. 8.20 (from memory).
    """
    _positive(density_kg_m3=density_kg_m3, shank=shank)
    if shank > 8.0:
        raise ValueError(f"shank: {shank:g}; the formula holds up to 8 mm")
    return 0.11 * density_kg_m3 * math.pow(shank, -0.3)


def bolt_embedment_mpa(density_kg_m3: float, diameter: float) -> float:
    """Stress at which ply gives way beside a bolt: 0.11 (1 − 0.01 d) ρ_k.

    Characteristic; `density_kg_m3` too. Raises ValueError unless both are positive and the
    bolt no thicker than 30. Source: EN 1995-1-1 eq. 8.36 (from memory).
    """
    _positive(density_kg_m3=density_kg_m3, diameter=diameter)
    if diameter > 30.0:
        raise ValueError(f"diameter: {diameter:g}; the formula holds up to 30 mm")
    return 0.11 * (1.0 - 0.01 * diameter) * density_kg_m3


def yield_moment_nmm(tensile_mpa: float, diameter: float) -> float:
    """Characteristic moment that bends a bolt for good: 0.3 f_u d^2.6, N·mm.

    Raises ValueError unless both are positive. Source: EN 1995-1-1 eq. 8.30.
    """
    _positive(tensile_mpa=tensile_mpa, diameter=diameter)
    return 0.3 * tensile_mpa * math.pow(diameter, 2.6)


def washer_n(across_mpa: float, washer: float, bolt: float) -> float:
    """Characteristic force that draws a washer into wood: 3 f_c,90 π/4 (d_w² − (d + 1)²).

    `across_mpa` is the strength of the wood pressed across its grain, `washer` the diameter of
    a round washer (of a square one: its side, on the safe side), `bolt` the bolt's.

    Raises:
        ValueError: unless all are positive and the washer is wider than the bolt's hole.

    Source: EN 1995-1-1 8.5.2 and 10.4.3(2).
    """
    _positive(across_mpa=across_mpa, washer=washer, bolt=bolt)
    if washer <= bolt + 1.0:
        raise ValueError(f"washer: {washer:g}; must be wider than the hole, {bolt + 1.0:g}")
    return 3.0 * across_mpa * math.pi / 4.0 * (washer**2 - (bolt + 1.0) ** 2)


def lateral_screw_n(embedment_mpa: tuple[float, float], depths: tuple[float, float],
                    shank: float, yield_moment: float) -> float:  # fmt: skip
    """Characteristic lateral load of a screw between two pieces of wood, in single shear.

    The least of six ways to fail; `embedment_mpa` and `depths` are of the piece the screw
    passes and of the one it bites into; `yield_moment` in N·mm. What the thread's pull adds
    (the rope effect) is left out, on the safe side.

    Raises ValueError unless all are positive.
    Source: EN 1995-1-1 eq. 8.6 (Johansen; from memory).
    """
    (f1, f2), (t1, t2) = embedment_mpa, depths
    _positive(f1=f1, f2=f2, t1=t1, t2=t2, shank=shank, yield_moment=yield_moment)
    beta, ratio = f2 / f1, t2 / t1
    first = f1 * t1 * shank
    turned = math.sqrt(beta + 2.0 * beta**2 * (1.0 + ratio + ratio**2) + beta**3 * ratio**2)
    both = first / (1.0 + beta) * (turned - beta * (1.0 + ratio))
    bend_1 = 4.0 * beta * (2.0 + beta) * yield_moment / (f1 * shank * t1**2)
    bend_2 = 4.0 * beta * (1.0 + 2.0 * beta) * yield_moment / (f1 * shank * t2**2)
    one = 1.05 * first / (2.0 + beta) * (math.sqrt(2.0 * beta * (1.0 + beta) + bend_1) - beta)
    two = (
        1.05
        * f1
        * t2
        * shank
        / (1.0 + 2.0 * beta)
        * (math.sqrt(2.0 * beta**2 * (1.0 + beta) + bend_2) - beta)
    )
    hinges = (
        1.15 * math.sqrt(2.0 * beta / (1.0 + beta)) * math.sqrt(2.0 * yield_moment * f1 * shank)
    )
    return min(first, f2 * t2 * shank, both, one, two, hinges)


def washer_through_sheet_n(sheet: float, washer: float, tensile_mpa: float, basis: Basis) -> float:
    """Force on a washer against sheet steel: working 0.5 d_w t f_u / 1.25, ultimate d_w t f_u.

    Working is for loads that come again and again, ultimate for one that comes once.
    Raises ValueError unless all are positive.
    Source: EN 1993-1-3 Table 8.2 (the one for a single load from memory).
    """
    _positive(sheet=sheet, washer=washer, tensile_mpa=tensile_mpa)
    once = washer * sheet * tensile_mpa
    return 0.5 * once / GAMMA_M2 if basis == "working" else once


def bolt_in_sheet_n(sheet: float, bolt: float, tensile_mpa: float, basis: Basis) -> float:
    """Force at which a bolt tears sheet steel sideways: 2.5 k_t f_u d t, working / 1.25.

    k_t = (0.8 t + 1.5) / 2.5, at most 1; below 0.75 mm as at 0.75. The hole lies at least three
    diameters from any edge.

    Raises ValueError unless all are positive.
    Source: EN 1993-1-3 Table 8.4, α_b = 1 (from memory).
    """
    _positive(sheet=sheet, bolt=bolt, tensile_mpa=tensile_mpa)
    thin = min(1.0, (0.8 * max(sheet, 0.75) + 1.5) / 2.5)
    tears = 2.5 * thin * tensile_mpa * bolt * sheet
    return tears / GAMMA_M2 if basis == "working" else tears


def _positive(**values: float) -> None:
    for name, value in values.items():
        if not value > 0.0:
            raise ValueError(f"{name}: {value:g}; must be above 0")
