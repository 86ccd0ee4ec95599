"""Panels and bars of the fit-out as bodies: does a point of the bay lie within one?

Asked where parts are cut, to learn what sits in a corner or stands against an edge. Pockets
and holes count as filled: what lies in a groove lies within its board.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

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

    def holds(self, point: Vector) -> bool:
        """Whether the point of the bay is within it, farther than a touch."""
        place = self.part.placement
        away = tuple(p - o for p, o in zip(point, place.origin, strict=True))
        u, v, w = (
            sum(a * b for a, b in zip(away, axis, strict=True))
            for axis in (place.u, place.v, place.w)
        )
        if isinstance(self.part, Bar):
            section = self.part.section
            sizes = (self.part.length, section.width, section.height)
            return all(TOUCH < at < size - TOUCH for at, size in zip((u, v, w), sizes, strict=True))
        if not TOUCH < w < self.part.thickness - TOUCH:
            return False
        x0, y0, x1, y1 = self.part.outline.bounds
        if not (x0 + TOUCH < u < x1 - TOUCH and y0 + TOUCH < v < y1 - TOUCH):
            return False
        return distance(edges(self.part.outline), edges(_dot(u, v))) == 0.0


def _dot(x: float, y: float) -> Outline:
    """A speck at a point, to ask what it lies on."""
    return Outline(circle(x, y, TOUCH))


def near(bodies: Sequence[Body], point: Vector, depths: tuple[float, float]) -> Iterator[Body]:
    """The bodies whose slab comes near the point at all; `depths` span what is asked about."""
    reach = depths[1] - depths[0] + 5.0
    for body in bodies:
        place = body.part.placement
        away = sum((p - o) * a for p, o, a in zip(point, place.origin, place.w, strict=True))
        thick = body.part.thickness if isinstance(body.part, Panel) else body.part.section.height
        if -reach < away < thick + reach:
            yield body
