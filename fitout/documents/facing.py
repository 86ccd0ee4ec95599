"""Which way up: how a part as it is drawn lies in the vehicle, in a builder's words.

A drawn part is seen on face A. Seen so, one direction of the paper is up in the vehicle, or, on
a part that lies flat, points to the front; face A itself looks up, forward, left and so on.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from fitout.model.panel import Bar, Panel
from fitout.model.placement import Placement, Vector

Side = Literal["front", "rear", "left", "right", "top", "bottom"]

SIDES: tuple[tuple[Side, Vector], ...] = (
    ("front", (1.0, 0.0, 0.0)),
    ("rear", (-1.0, 0.0, 0.0)),
    ("left", (0.0, 1.0, 0.0)),
    ("right", (0.0, -1.0, 0.0)),
    ("top", (0.0, 0.0, 1.0)),
    ("bottom", (0.0, 0.0, -1.0)),
)
"""The sides of the vehicle in bay coordinates: x forward, y left, z up."""


@dataclass(frozen=True, slots=True)
class Facing:
    """An arrow in a part's drawing plane, degrees from x, and which side it points to."""

    side: Side
    angle_deg: float

    @property
    def edge(self) -> Literal["right", "upper", "left", "lower"]:
        """The edge of the paper it points to most nearly."""
        edges: tuple[Literal["right", "upper", "left", "lower"], ...] = (
            "right", "upper", "left", "lower",
        )  # fmt: skip
        return edges[round(self.angle_deg / 90.0) % 4]


def nearest(direction: Vector) -> Side:
    """The side of the vehicle a direction points to most."""
    return max(SIDES, key=lambda side: round(_dot(direction, side[1]), 9))[0]


def pointed(placement: Placement) -> Facing:
    """What to mark on face A: what is up on an upright part, to the front on a flat one."""
    side: Side = "top" if abs(placement.w[2]) < math.sqrt(0.5) else "front"
    along = next(vector for name, vector in SIDES if name == side)
    angle = math.degrees(math.atan2(_dot(along, placement.v), _dot(along, placement.u)))
    return Facing(side, round(angle, 6) % 360.0)


def looks(part: Panel) -> Side:
    """Where face A of a panel looks to."""
    return nearest(part.placement.w)


def side_of_edge(placement: Placement, edge: Literal["right", "upper", "left", "lower"]) -> Side:
    """The side of the vehicle an edge of the drawn part lies towards."""
    u, v = placement.u, placement.v
    out = {
        "right": u,
        "upper": v,
        "left": (-u[0], -u[1], -u[2]),
        "lower": (-v[0], -v[1], -v[2]),
    }[edge]
    return nearest(out)


def far_end(bar: Bar) -> Side:
    """The side of the vehicle the far end of a bar lies towards."""
    return nearest(bar.placement.u)


def _dot(a: Vector, b: Vector) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
