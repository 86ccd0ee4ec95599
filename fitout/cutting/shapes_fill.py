"""Filling sheets with true shapes: each part in turn goes as far to one side as it can.

For every shape a sheet keeps the region its origin may still lie in: the rectangle in which
the part lies on the sheet, less what each part already there bars. The best place of a part
is a corner of that region.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from fitout.cutting.fits import Size
from fitout.cutting.shapes import SNUG, Area, Barred
from fitout.model.placement import Array

Rule = Callable[[Array, float, float], Array]
"""From places, shape (n, 2), and the part's extents to what is to be least, shape (n,)."""

TIE = 1e-3
"""How much the other direction counts, so that places equal in one are told apart."""

LOOK = 10
"""Work of looking at a region; each of its corners that is cut anew is one more."""

RULES: tuple[Rule, ...] = (
    lambda at, length, width: at[:, 0] + length + TIE * (at[:, 1] + width),
    lambda at, length, width: at[:, 1] + width + TIE * (at[:, 0] + length),
    lambda at, length, width: at[:, 0] + length + 0.4 * (at[:, 1] + width),
)
"""To the left, to the bottom, into the corner."""


@dataclass(frozen=True, slots=True)
class Lain:
    """Part number `part` of the list in hand, its shape's number, and where its origin lies."""

    part: int
    shape: int
    x: float
    y: float


class Floor:
    """A sheet while it is being filled; lives for one filling."""

    def __init__(self, size: Size, bars: Barred) -> None:
        self.size = size
        self.bars = bars
        self.lain: list[Lain] = []
        self.work = 0
        self._open: dict[int, tuple[Area, int]] = {}

    def place(self, part: int, shapes: Sequence[int], rule: Rule) -> bool:
        """Lay the part in the best of its shapes at its best place; False if none is left."""
        best: Lain | None = None
        least = float("inf")
        for shape in shapes:
            region = self._region(shape)
            if region.is_empty:
                continue
            places = shapely.get_coordinates(region)
            form = self.bars.shapes[shape]
            worth = rule(places, form.length, form.width)
            i = int(np.argmin(worth))
            if worth[i] < least - SNUG:
                least = float(worth[i])
                best = Lain(part, shape, *self._within(places[i], form.length, form.width))
        if best is not None:
            self.lain.append(best)
        return best is not None

    def _region(self, shape: int) -> Area:
        """Where the shape's origin may lie now."""
        region, seen = self._open.get(shape, (None, 0))
        self.work += LOOK
        if region is None:
            form = self.bars.shapes[shape]
            room, rise = self.size[0] - form.length, self.size[1] - form.width
            region = (
                shapely.Polygon()
                if min(room, rise) < -SNUG
                else shapely.box(-SNUG, -SNUG, room + SNUG, rise + SNUG)
            )
        new = self.lain[seen:]
        if new and not region.is_empty:
            bars = self.bars.beside([(other.shape, other.x, other.y) for other in new], shape)
        for number, other in enumerate(new):
            if region.is_empty:
                break
            self.work += LOOK + shapely.get_num_coordinates(region)
            left, low, right, top = region.bounds
            box = (left - other.x, low - other.y, right - other.x, top - other.y)
            if self.bars.beyond(other.shape, shape, box):
                continue
            region = shapely.difference(region, bars[number])
        self._open[shape] = (region, len(self.lain))
        return region

    def _within(self, place: Array, length: float, width: float) -> tuple[float, float]:
        """The place without what rounding and the snug fit put beyond the sheet's edges."""
        x = min(max(float(place[0]), 0.0), max(0.0, self.size[0] - length))
        y = min(max(float(place[1]), 0.0), max(0.0, self.size[1] - width))
        return x, y


def fill(
    order: Sequence[int],
    turns: Sequence[Sequence[int]],
    sizes: Sequence[Size],
    bars: Barred,
    rule: Rule,
    check: Callable[[], None] = lambda: None,
) -> tuple[list[Floor], list[int]]:
    """Lay the parts in the order given, each on the first sheet that has room for it.

    `turns` gives for each part the numbers of its shapes; `check` is called before each part.
    Gives the sheets in the order of
    `sizes`, and the parts that found no room.
    """
    floors = [Floor(size, bars) for size in sizes]
    left = []
    for part in order:
        check()
        if not any(floor.place(part, turns[part], rule) for floor in floors):
            left.append(part)
    return floors, left
