"""Barrier posts under loads from behind: bending, reactions, how far they give.

A post stands on a foot at 0 and is free at its top, or held there at `length` as well (then its
foot counts as a hinge). Lengths mm, forces N, moments N·mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fitout.mechanics.beams import second_moment

Push = tuple[float, float]
"""A force and its height above the foot."""


@dataclass(frozen=True, slots=True)
class PostForces:
    """The largest bending moment, that at the foot, and the pushes that foot and top bear."""

    moment_nmm: float
    foot_moment_nmm: float
    foot_n: float
    top_n: float


def post_forces(length: float, pushes: Sequence[Push], *, top_held: bool) -> PostForces:
    """What pushes at heights do to a post.

    Raises ValueError unless the length is positive and every height is from 0 to it.
    Source: statics of a cantilever, or of a beam on two supports.
    """
    if not length > 0.0:
        raise ValueError(f"length: {length:g}; must be above 0")
    if any(not 0.0 <= h <= length for _, h in pushes):
        raise ValueError("every push must lie between foot and top")
    total = sum(f for f, _ in pushes)
    about_foot = sum(f * h for f, h in pushes)
    if not top_held:
        return PostForces(abs(about_foot), abs(about_foot), total, 0.0)
    top = about_foot / length
    foot = total - top
    # The moment is largest under one of the pushes.
    moments = [foot * at - sum(f * (at - h) for f, h in pushes if h < at) for _, at in pushes]
    return PostForces(max((abs(m) for m in moments), default=0.0), 0.0, foot, top)


def give(length: float, height: float, stiffness_nmm2: float, *, top_held: bool) -> float:
    """How far a post gives at `height` under 1 N there, mm: h³/3EI, or a²b²/3EIL if held.

    Raises ValueError unless all are positive and the height at most the length.
    Source: Roark's Formulas for Stress and Strain, Table 8.1, from memory.
    """
    if not (0.0 < height <= length and stiffness_nmm2 > 0.0):
        raise ValueError("length, height and stiffness must be positive, height at most length")
    if not top_held:
        return height**3 / (3.0 * stiffness_nmm2)
    return (height * (length - height)) ** 2 / (3.0 * stiffness_nmm2 * length)


def elastic_modulus(width: float, height: float, wall: float | None = None) -> float:
    """Elastic section modulus, mm³, of a tube or flat bent along its height; corners square.

    Raises ValueError as `beams.second_moment` does.
    """
    return second_moment(width, height, wall) / (height / 2.0)


def plastic_modulus(width: float, height: float, wall: float | None = None) -> float:
    """Plastic section modulus, mm³: b h²/4, less that of the hollow. Corners square.

    Raises ValueError as `beams.second_moment` does.
    Source: EN 1993-1-1 6.2.5, a section of class 1 (from memory).
    """
    second_moment(width, height, wall)
    solid = width * height**2 / 4.0
    if wall is None:
        return solid
    return solid - (width - 2.0 * wall) * (height - 2.0 * wall) ** 2 / 4.0
