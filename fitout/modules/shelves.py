"""Rectangles laid out in rows, each turned by a quarter or not: the same answer every time.

      across (y) ->
    +--------------------------+
    | row 2: [    ] [  ] [   ]  |  fore and aft (x), upwards here
    | row 1: [        ] [    ]  |
    +--------------------------+

Six ways of going about it are tried in order; the one that leaves least out wins, then the
one that needs least depth, then the first.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from fitout.model.outline import Point

ROUNDING = 1e-6


@dataclass(frozen=True, slots=True)
class Lying:
    """One rectangle in a row: which, whether turned by a quarter, its extent along y."""

    index: int
    turned: bool
    along: float


@dataclass(frozen=True, slots=True)
class Row:
    """A row along y: how deep it is along x, and what lies in it."""

    depth: float
    lying: tuple[Lying, ...]


@dataclass(frozen=True, slots=True)
class Packing:
    """Rows, and the rectangles that found no room."""

    rows: tuple[Row, ...]
    left: tuple[int, ...]

    def depth(self, wall: float) -> float:
        """Depth the rows take with a wall before, between and behind them."""
        return sum(row.depth + wall for row in self.rows) + wall


@dataclass(slots=True)
class _Open:
    """A row while it is being filled; lives inside one `_attempt` only."""

    depth: float
    used: float
    lying: list[Lying] = field(default_factory=list)


def pack(boxes: Sequence[Point], room: Point, wall: float) -> Packing:
    """Lay `boxes` (extent along x, y) into `room` (x, y) with walls about each of them.

    `room` may be infinite along x: every box that is not too long for y then finds a place.
    """
    keys: tuple[Callable[[Point], float], ...] = (max, min, math.prod)
    attempts = [
        _attempt(boxes, _order(boxes, key), room, wall, flat=flat)
        for key in keys
        for flat in (True, False)
    ]
    return min(attempts, key=lambda p: (len(p.left), round(p.depth(wall), 6)))


def _order(boxes: Sequence[Point], key: Callable[[Point], float]) -> list[int]:
    """The boxes, greatest first by `key`, equals in the order given."""
    return sorted(range(len(boxes)), key=lambda i: (-round(key(boxes[i]), 6), i))


def _attempt(
    boxes: Sequence[Point], order: Sequence[int], room: Point, wall: float, *, flat: bool
) -> Packing:
    """Fill rows in the given order; a new row's first box lies flat (long side across) or not."""
    rows: list[_Open] = []
    left: list[int] = []
    for index in order:
        ways = [(boxes[index][0], boxes[index][1], False), (boxes[index][1], boxes[index][0], True)]
        row, way = _place_in_row(rows, ways, room[1], wall)
        if row is None:
            free = room[0] - wall - sum(r.depth + wall for r in rows)
            fitting = [
                w
                for w in ways
                if w[0] + wall <= free + ROUNDING and w[1] + 2.0 * wall <= room[1] + ROUNDING
            ]
            if not fitting:
                left.append(index)
                continue
            way = min(fitting, key=lambda w: (w[0] if flat else -w[0], w[2]))
            row = _Open(way[0], wall)
            rows.append(row)
        assert way is not None
        row.lying.append(Lying(index, way[2], way[1]))
        row.used += way[1] + wall
    return Packing(tuple(Row(r.depth, tuple(r.lying)) for r in rows), tuple(sorted(left)))


def _place_in_row(
    rows: Sequence[_Open], ways: Sequence[tuple[float, float, bool]], width: float, wall: float
) -> tuple[_Open | None, tuple[float, float, bool] | None]:
    """The first open row a box goes into, and the way that takes least of its length."""
    for row in rows:
        fitting = [
            w
            for w in ways
            if w[0] <= row.depth + ROUNDING and row.used + w[1] + wall <= width + ROUNDING
        ]
        if fitting:
            return row, min(fitting, key=lambda w: (w[1], w[2]))
    return None, None
