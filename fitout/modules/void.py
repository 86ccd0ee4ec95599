"""A void outside the bay, such as the space under a seat: its entries and its free room.

seen from above, the front above

+-----------------------+
| leg |           | leg |     x forward of the void's rear,
|-----+           +-----|     y left of its right side
|    largest free       |
|      rectangle        |
+-----------------------+
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

from fitout.model.spec import Length, PositiveLength, entry


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """A rectangle of the void: x forward of its rear, y left of its right side."""

    x0: float
    x1: float
    y0: float
    y1: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SlopeSpec:
    """A void's height where it slopes."""

    front: PositiveLength = entry("height at its front", example="128")
    rear: PositiveLength = entry("height at its rear", example="104")


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepOutSpec:
    """A place in the void that something else takes: a seat leg, a belt anchor."""

    name: str = entry("what it is", example="seat leg")
    from_left: Length = entry("from the void's left side to its left edge", example="0")
    from_front: Length = entry("from the void's front to its front edge", example="0")
    across: PositiveLength = entry("its size across", example="60")
    depth: PositiveLength = entry("its size fore and aft", example="90")


@dataclass(frozen=True, slots=True, kw_only=True)
class VoidSpec:
    """The space under the seat, as measured."""

    across: PositiveLength = entry("clear width from left to right", example="980")
    depth: PositiveLength = entry("clear depth fore and aft", example="360")
    height: PositiveLength | SlopeSpec = entry(
        "clear height; {front, rear} where it slopes", example="{front: 128, rear: 104}"
    )
    keep_out: tuple[KeepOutSpec, ...] = entry(
        "places the tray must keep out of",
        default=(),
        example="[{name: seat leg, from_left: 0, from_front: 0, across: 60, depth: 90}]",
    )

    def height_at(self, x: float) -> float:
        """Clear height at a distance forward of the void's rear, mm."""
        if isinstance(self.height, SlopeSpec):
            return self.height.rear + (self.height.front - self.height.rear) * x / self.depth
        return self.height

    def lowest(self, area: Area) -> float:
        """Least clear height over an area, mm."""
        return min(self.height_at(area.x0), self.height_at(area.x1))


def free_area(void: VoidSpec, clearance: float) -> Area | None:
    """The largest rectangle of the void that keeps `clearance` from its edges and what is in it.

    None where nothing is left. Of equal ones the one nearest the rear right corner.
    """
    blocked = []
    for place in void.keep_out:
        x1, y1 = void.depth - place.from_front, void.across - place.from_left
        blocked.append(
            Area(
                x0=x1 - place.depth - clearance,
                x1=x1 + clearance,
                y0=y1 - place.across - clearance,
                y1=y1 + clearance,
            )
        )
    xs = {clearance, void.depth - clearance, *(x for b in blocked for x in (b.x0, b.x1))}
    ys = {clearance, void.across - clearance, *(y for b in blocked for y in (b.y0, b.y1))}
    xs = {x for x in xs if clearance <= x <= void.depth - clearance}
    ys = {y for y in ys if clearance <= y <= void.across - clearance}
    areas = [
        Area(x0=x0, x1=x1, y0=y0, y1=y1)
        for x0, x1 in itertools.combinations(sorted(xs), 2)
        for y0, y1 in itertools.combinations(sorted(ys), 2)
        if all(x1 <= b.x0 or x0 >= b.x1 or y1 <= b.y0 or y0 >= b.y1 for b in blocked)
    ]
    return max(areas, key=lambda a: (a.x1 - a.x0) * (a.y1 - a.y0), default=None)
