"""Loads on a flat board, and how much of its strength they use: a knee, goods, its own weight."""

from __future__ import annotations

from fitout.mechanics.plates import Patch, PlateResult
from fitout.model.stock import Board

STANDARD_GRAVITY = 9.80665
"""m/s², the standard value of the 3rd CGPM, 1901 (from memory)."""

KNEE_N, KNEE = 1000.0, 100.0
"""A person kneeling on a panel: 1.0 kN on 100 × 100 mm (common practice)."""

KNEE_SAG_SHARE = 100.0
"""Under a knee a panel may sag its span over this (common practice)."""

BUMP_G = 2.0
"""Goods on a rough road press so many times their weight (common practice: a bump adds 1 g)."""


def knee_on(spans: tuple[float, float]) -> Patch:
    """A knee on a panel over free spans, mm; what lies beside a narrower one bears the rest."""
    size_u, size_v = (min(KNEE, span) for span in spans)
    return Patch(load_n=KNEE_N * size_u * size_v / KNEE**2, size_u=size_u, size_v=size_v)


def pressure_mpa(board: Board, spans: tuple[float, float], load_kg: float) -> float:
    """A board's own weight and a load spread over its spans (mm), N/mm²."""
    dead = board.thickness * board.density_kg_m3 * 1e-9 * STANDARD_GRAVITY
    return dead + load_kg * STANDARD_GRAVITY / (spans[0] * spans[1])


def strength_used(board: Board, bent: PlateResult, *, grain_along_u: bool) -> float | None:
    """The larger share of the bending strength along u and v; None if the board has none."""
    strong, weak = board.strength_along_mpa, board.strength_across_mpa
    if strong is None or weak is None:
        return None
    strength_u, strength_v = (strong, weak) if grain_along_u else (weak, strong)
    return max(bent.stress_u_mpa / strength_u, bent.stress_v_mpa / strength_v)
