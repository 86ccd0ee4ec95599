"""Panels and bars of the fit-out as bodies: does a point of the bay lie within one?

Asked where parts are cut, to learn what sits in a corner or stands against an edge. Pockets
and holes count as filled: what lies in a groove lies within its board.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from fitout.cutting.distance import distance, edges
from fitout.model.outline import Outline, circle
from fitout.model.panel import Bar, Panel
from fitout.model.placement import Vector

TOUCH = 1e-3
"""A body that reaches in no farther (mm) only touches."""


@dataclass(frozen=True, slots=True)
class Body:
    """A panel or bar as what a corner may hold, or an edge may stand against."""

    part: Panel | Bar
    _axes: tuple[Vector, Vector, Vector] = field(init=False, repr=False)
    _sizes: Vector = field(init=False, repr=False)

    def __post_init__(self) -> None:
        """Note what each of many points is asked about."""
        part, place = self.part, self.part.placement
        object.__setattr__(self, "_axes", (place.u, place.v, place.w))
        if isinstance(part, Bar):
            sizes = (part.length, part.section.width, part.section.height)
        else:
            _, _, x1, y1 = part.outline.bounds
            sizes = (x1, y1, part.thickness)
        object.__setattr__(self, "_sizes", sizes)

    def holds(self, point: Vector) -> bool:
        """Whether the point of the bay is within it, farther than a touch."""
        x, y, z = self._away(point)
        along, across, through = self._axes
        w = x * through[0] + y * through[1] + z * through[2]
        if not TOUCH < w < self._sizes[2] - TOUCH:
            return False
        u = x * along[0] + y * along[1] + z * along[2]
        v = x * across[0] + y * across[1] + z * across[2]
        if not (u < self._sizes[0] - TOUCH and v < self._sizes[1] - TOUCH):
            return False
        if isinstance(self.part, Bar):
            return u > TOUCH and v > TOUCH
        x0, y0, _, _ = self.part.outline.bounds
        if not (u > x0 + TOUCH and v > y0 + TOUCH):
            return False
        return distance(edges(self.part.outline), edges(_dot(u, v))) == 0.0

    def is_near(self, point: Vector, reach: float) -> bool:
        """Whether its slab, grown by `reach` both ways, holds the point."""
        x, y, z = self._away(point)
        through = self._axes[2]
        away = x * through[0] + y * through[1] + z * through[2]
        return -reach < away < self._sizes[2] + reach

    def _away(self, point: Vector) -> Vector:
        x, y, z = self.part.placement.origin
        return point[0] - x, point[1] - y, point[2] - z


def _dot(x: float, y: float) -> Outline:
    """A speck at a point, to ask what it lies on."""
    return Outline(circle(x, y, TOUCH))


def near(bodies: Sequence[Body], point: Vector, depths: tuple[float, float]) -> Iterator[Body]:
    """The bodies whose slab comes near the point at all; `depths` span what is asked about."""
    reach = depths[1] - depths[0] + 5.0
    return (body for body in bodies if body.is_near(point, reach))
