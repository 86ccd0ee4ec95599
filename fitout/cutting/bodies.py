"""Panels and bars of the fit-out as bodies: does a point of the bay lie within one?

Asked where parts are cut, to learn what sits in a corner or stands against an edge. Pockets
and holes count as filled: what lies in a groove lies within its board.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from fitout.cutting.distance import Edges, distance, edges
from fitout.model.outline import Outline, Point, circle
from fitout.model.panel import Bar, Panel
from fitout.model.placement import Vector

TOUCH = 1e-3
"""A body that reaches in no farther (mm) only touches."""

Block = tuple[Vector, Vector]
"""Least and greatest corner in the bay."""


@dataclass(frozen=True, eq=False)
class Body:
    """A panel or bar as what a corner may hold, or an edge may stand against.

    `block` is a block of the bay that holds it. Without slots, for caching.
    """

    part: Panel | Bar
    block: Block = field(init=False, repr=False)
    _axes: tuple[Vector, Vector, Vector] = field(init=False, repr=False)
    _sizes: Vector = field(init=False, repr=False)
    _least: Point = field(init=False, repr=False)

    def __post_init__(self) -> None:
        """Note what each of many points is asked about."""
        part, place = self.part, self.part.placement
        object.__setattr__(self, "_axes", (place.u, place.v, place.w))
        x0 = y0 = 0.0
        if isinstance(part, Bar):
            sizes = (part.length, part.section.width, part.section.height)
        else:
            x0, y0, x1, y1 = part.outline.bounds
            sizes = (x1, y1, part.thickness)
        object.__setattr__(self, "_sizes", sizes)
        object.__setattr__(self, "_least", (x0, y0))
        ends = itertools.product((x0, sizes[0]), (y0, sizes[1]), (0.0, sizes[2]))
        object.__setattr__(self, "block", block_round(place.at(*end) for end in ends))

    def holds(self, point: Vector) -> bool:
        """Whether the point of the bay is within it, farther than a touch."""
        origin = self.part.placement.origin
        x, y, z = point[0] - origin[0], point[1] - origin[1], point[2] - origin[2]
        along, across, through = self._axes
        w = x * through[0] + y * through[1] + z * through[2]
        if not TOUCH < w < self._sizes[2] - TOUCH:
            return False
        u = x * along[0] + y * along[1] + z * along[2]
        v = x * across[0] + y * across[1] + z * across[2]
        if not (u < self._sizes[0] - TOUCH and v < self._sizes[1] - TOUCH):
            return False
        if not (u > self._least[0] + TOUCH and v > self._least[1] + TOUCH):
            return False
        return isinstance(self.part, Bar) or distance(self._edges, edges(_dot(u, v))) == 0.0

    @cached_property
    def _edges(self) -> Edges:
        """The edges of a panel's outline."""
        assert not isinstance(self.part, Bar)
        return edges(self.part.outline)


def _dot(x: float, y: float) -> Outline:
    """A speck at a point, to ask what it lies on."""
    return Outline(circle(x, y, TOUCH))


def block_round(points: Iterable[Vector]) -> Block:
    """The least block round points of the bay."""
    x, y, z = zip(*points, strict=True)
    return (min(x), min(y), min(z)), (max(x), max(y), max(z))


def meeting(bodies: Sequence[Body], block: Block) -> list[Body]:
    """The bodies that may hold a point of a block: those whose own blocks meet it."""
    (x0, y0, z0), (x1, y1, z1) = block
    found = []
    for body in bodies:
        low, high = body.block
        if (
            low[0] <= x1
            and high[0] >= x0
            and low[1] <= y1
            and high[1] >= y0
            and low[2] <= z1
            and high[2] >= z0
        ):
            found.append(body)
    return found
