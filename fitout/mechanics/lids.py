"""Lids that swing up: what lifting and closing them takes, and what their stays must reach.

    seen along the hinge                       angle 0 shut, growing as the lid opens

        handle        lid's weight     hinge
          o-----------------o------------O     stay: from a pivot under the lid to one on a
                     p =====                   side that stands still
                        q (on the side)

Lengths mm, forces N, angles degrees. Positions are (out, up): `out` from the hinge towards
the lid's free edge as it lies shut, `up` above the hinge.
"""

from __future__ import annotations

import math

from fitout.mechanics.boards import STANDARD_GRAVITY

Pivot = tuple[float, float]
"""A point (out, up) from the hinge, mm."""


def turned(point: Pivot, angle_deg: float) -> Pivot:
    """Where a point of the lid is once the lid has opened by `angle_deg`."""
    angle = math.radians(angle_deg)
    out, up = point
    return (
        out * math.cos(angle) - up * math.sin(angle),
        out * math.sin(angle) + up * math.cos(angle),
    )


def weight_moment(mass_kg: float, centre: Pivot, angle_deg: float) -> float:
    """Moment of the lid's weight about its hinge, N mm; above 0 it closes the lid.

    m g times the level distance of the centre of gravity from the hinge, which `centre` gives
    for the shut lid.

    Raises:
        ValueError: on a negative mass.

    Source: statics.
    """
    if mass_kg < 0.0:
        raise ValueError(f"mass_kg: {mass_kg:g}; must not be negative")
    return mass_kg * STANDARD_GRAVITY * turned(centre, angle_deg)[0]


def stay_length(on_lid: Pivot, on_side: Pivot, angle_deg: float) -> float:
    """Distance, mm, between a stay's two pivots with the lid open by `angle_deg`."""
    return math.dist(turned(on_lid, angle_deg), on_side)


def stay_moment(push_n: float, on_lid: Pivot, on_side: Pivot, angle_deg: float) -> float:
    """Moment about the hinge of a stay that pushes its pivots apart, N mm; above 0 it opens.

    The push acts on the lid along the line from the side's pivot to the lid's.

    Raises:
        ValueError: where the two pivots fall together, so that the push has no direction.

    Source: statics, moment of a force about a point.
    """
    there = turned(on_lid, angle_deg)
    length = math.dist(there, on_side)
    if length < 1e-9:
        raise ValueError("the stay's pivots fall together")
    along = ((there[0] - on_side[0]) / length, (there[1] - on_side[1]) / length)
    return push_n * (there[0] * along[1] - there[1] * along[0])


def handle_force(moment: float, reach: float) -> float:
    """Force, N, square to the lid at `reach` mm from the hinge, that holds a moment in N mm.

    Raises:
        ValueError: on a reach that is not positive.

    Source: statics, law of the lever.
    """
    if not reach > 0.0:
        raise ValueError(f"reach: {reach:g}; must be above 0")
    return moment / reach
