"""Room within a part's bounding rectangle: notches and cut-outs that can hold other parts.

Only a router can use it. A room keeps the gap to the part's material on every side, so
whatever lies in it is cut as freely as anything else on the sheet.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from fitout.cutting.plan import Rect
from fitout.model.outline import Outline
from fitout.model.placement import Array

LEAST_SIDE = 40.0
"""Rooms narrower than this are left alone; hardly a part is as small."""

MOST_ROOMS = 3
MOST_LINES = 48
EVEN_LINES = 8
SAGITTA = 0.05

Flags = npt.NDArray[np.bool_]


def rooms(outline: Outline, gap: float) -> tuple[Rect, ...]:
    """Rectangles that lie `gap` from the material and, grown by it, apart; largest first.

    The outline's bounding rectangle starts at the origin. Rooms may reach that rectangle's
    edge where no material lies there: its neighbours keep their distance from it.
    """
    length, width = outline.size
    if length * width - outline.area < LEAST_SIDE**2:
        return ()
    rings = [outline.outer.chords(grows=True, sagitta=SAGITTA)]
    rings += [loop.chords(grows=False, sagitta=SAGITTA) for loop in outline.inner]
    corners = [(v.x, v.y) for loop in (outline.outer, *outline.inner) for v in loop.vertices]
    columns = _lines([x for x, _ in corners], length, gap)
    rows = _lines([y for _, y in corners], width, gap)
    clear = _clear_cells(rings, columns, rows, gap)
    found: list[Rect] = []
    while len(found) < MOST_ROOMS:
        room = largest(clear, columns, rows)
        if room is None:
            break
        found.append(room)
        beside = (columns[1:] <= room.x - gap) | (columns[:-1] >= room.x + room.length + gap)
        above = (rows[1:] <= room.y - gap) | (rows[:-1] >= room.y + room.width + gap)
        clear &= beside[None, :] | above[:, None]
    return tuple(found)


def _lines(corners: list[float], extent: float, gap: float) -> Array:
    """Where a room's sides may lie: a gap from each corner, and some lines between."""
    near = {round(c + shift, 6) for c in corners for shift in (-gap, gap)}
    even = np.linspace(0.0, extent, EVEN_LINES + 1)
    lines = np.unique([0.0, extent, *even, *(c for c in near if 0.0 < c < extent)])
    if len(lines) > MOST_LINES:
        lines = lines[np.unique(np.linspace(0, len(lines) - 1, MOST_LINES).round().astype(int))]
    return np.asarray(lines, dtype=np.float64)


def _clear_cells(rings: list[Array], columns: Array, rows: Array, gap: float) -> Flags:
    """Which cells between the lines lie off the material by the gap, shape (rows, columns)."""
    starts = np.vstack(rings)
    ends = np.vstack([np.roll(ring, -1, axis=0) for ring in rings])
    low = np.stack(np.meshgrid(columns[:-1], rows[:-1]), axis=-1).reshape(-1, 2)
    high = np.stack(np.meshgrid(columns[1:], rows[1:]), axis=-1).reshape(-1, 2)
    on_part = _inside((low + high) / 2.0, starts, ends)
    # An edge that meets the cell grown by the gap comes too near; square corners are on the
    # safe side of round ones.
    clear = ~on_part & ~_met(low - gap + 1e-6, high + gap - 1e-6, starts, ends)
    return clear.reshape(len(rows) - 1, len(columns) - 1)


def _inside(points: Array, starts: Array, ends: Array) -> Flags:
    """Which points lie on the material: an odd number of edges to their right."""
    x, y = points[:, :1], points[:, 1:]
    spans = (starts[:, 1] > y) != (ends[:, 1] > y)
    rise = ends[:, 1] - starts[:, 1]
    share = (y - starts[:, 1]) / np.where(np.abs(rise) < 1e-12, 1.0, rise)
    right = x < starts[:, 0] + share * (ends[:, 0] - starts[:, 0])
    return np.asarray((spans & right).sum(axis=1) % 2 == 1)


def _met(low: Array, high: Array, starts: Array, ends: Array) -> Flags:
    """Which boxes, corners of shape (n, 2), any of the edges enters."""
    enter = np.zeros((len(low), len(starts)))
    leave = np.ones_like(enter)
    for axis in (0, 1):
        run = ends[:, axis] - starts[:, axis]
        run = np.where(np.abs(run) < 1e-9, 1e-9, run)
        first = (low[:, axis : axis + 1] - starts[:, axis]) / run
        second = (high[:, axis : axis + 1] - starts[:, axis]) / run
        enter = np.maximum(enter, np.minimum(first, second))
        leave = np.minimum(leave, np.maximum(first, second))
    return np.asarray((enter < leave).any(axis=1))


def largest(clear: Flags, columns: Array, rows: Array) -> Rect | None:
    """The largest rectangle of clear cells whose sides are long enough."""
    best: Rect | None = None
    start = np.full(clear.shape[1], -1)
    for row in range(clear.shape[0]):
        start = np.where(clear[row], np.where(start < 0, row, start), -1)
        for first in range(len(start)):
            lowest = 0
            for last in range(first, len(start)):
                if start[last] < 0:
                    break
                lowest = max(lowest, int(start[last]))
                x, y = float(columns[first]), float(rows[lowest])
                room = Rect(x, y, float(columns[last + 1]) - x, float(rows[row + 1]) - y)
                wide_enough = min(room.length, room.width) >= LEAST_SIDE
                if wide_enough and (best is None or room.area > best.area):
                    best = room
    return best
