"""Straight beams of constant section: deflection, bending moment, section values.

Small deflections, shear deformation left out: good for spans above about ten times the depth.
Source of the formulas: elementary beam theory, as tabled in Roark's Formulas for Stress and
Strain, Table 8.1, from memory.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class BeamResult:
    """The largest deflection (mm) and the largest bending moment (N·mm)."""

    deflection: float
    moment_nmm: float


def uniform_load(span: float, load_n: float, stiffness_nmm2: float) -> BeamResult:
    """A beam on two supports under `load_n` spread evenly: 5 W L³ / 384 E I and W L / 8.

    `stiffness_nmm2` is E·I in N·mm². Raises ValueError unless span and stiffness are positive.
    """
    _require_positive(span=span, stiffness_nmm2=stiffness_nmm2)
    return BeamResult(5.0 * load_n * span**3 / (384.0 * stiffness_nmm2), load_n * span / 8.0)


def centre_load(span: float, load_n: float, stiffness_nmm2: float) -> BeamResult:
    """A beam on two supports under `load_n` at mid-span: P L³ / 48 E I and P L / 4.

    `stiffness_nmm2` is E·I in N·mm². Raises ValueError unless span and stiffness are positive.
    """
    _require_positive(span=span, stiffness_nmm2=stiffness_nmm2)
    return BeamResult(load_n * span**3 / (48.0 * stiffness_nmm2), load_n * span / 4.0)


def second_moment(width: float, height: float, wall: float | None = None) -> float:
    """Second moment of area, mm⁴, about the axis along `width`; `wall` None is a solid bar.

    Corners are taken square. Raises ValueError unless all sizes are positive and the wall is
    less than half of either side.
    """
    _require_positive(width=width, height=height)
    solid = width * height**3 / 12.0
    if wall is None:
        return solid
    if not 0.0 < wall < min(width, height) / 2.0:
        raise ValueError(f"wall: {wall:g}; must be above 0 and less than half of either side")
    return solid - (width - 2.0 * wall) * (height - 2.0 * wall) ** 3 / 12.0


def bending_stress_mpa(moment_nmm: float, height: float, second_moment_mm4: float) -> float:
    """Stress at the outer fibre, N/mm²: M (h / 2) / I, the section being symmetric.

    Raises ValueError unless height and second moment are positive.
    """
    _require_positive(height=height, second_moment_mm4=second_moment_mm4)
    return moment_nmm * height / 2.0 / second_moment_mm4


def _require_positive(**values: float) -> None:
    for name, value in values.items():
        if not value > 0.0:
            raise ValueError(f"{name}: {value:g}; must be above 0")
