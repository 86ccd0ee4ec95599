"""Where on a part there is room to write: the largest rectangle clear of notches and cut-outs."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import numpy.typing as npt

from fitout.cutting.plan import Rect
from fitout.model.outline import Outline
from fitout.model.placement import Array

Flags = npt.NDArray[np.bool_]

CELLS = 24
"""The part's bounding rectangle is looked at in so many rows and columns."""

SAGITTA = 1.0
WITHIN = 0.02
"""How far inside its cell a cell's corners are looked at, as a share of the cell."""


@lru_cache(maxsize=512)
def writing_room(outline: Outline) -> Rect:
    """The largest rectangle of whole cells on the part; all of it where nothing fits."""
    x0, y0, x1, y1 = outline.bounds
    if (x1 - x0) * (y1 - y0) - outline.area < 1e-6:
        return Rect(x0, y0, x1 - x0, y1 - y0)
    step_x, step_y = (x1 - x0) / CELLS, (y1 - y0) / CELLS
    shares = (WITHIN, 0.5, 1.0 - WITHIN)
    columns = np.concatenate([x0 + (np.arange(CELLS) + share) * step_x for share in shares])
    rows = np.concatenate([y0 + (np.arange(CELLS) + share) * step_y for share in shares])
    inside = _inside(outline, columns, rows).reshape(len(shares), CELLS, len(shares), CELLS)
    cells = _largest(np.asarray(inside.all(axis=(0, 2))))
    if cells is None:
        return Rect(x0, y0, x1 - x0, y1 - y0)
    column, row, across, up = cells
    return Rect(x0 + column * step_x, y0 + row * step_y, across * step_x, up * step_y)


def _inside(outline: Outline, columns: Array, rows: Array) -> Flags:
    """Which places, shape (rows, columns), lie on the part: by crossings to their right."""
    inside = np.zeros((len(rows), len(columns)), dtype=bool)
    for loop in (outline.outer, *outline.inner):
        ring = loop.chords(grows=False, sagitta=SAGITTA)
        for a, b in zip(ring, np.roll(ring, -1, axis=0), strict=True):
            crossed = np.flatnonzero((a[1] > rows) != (b[1] > rows))
            if len(crossed):
                at = a[0] + (rows[crossed] - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
                inside[crossed] ^= columns < at[:, None]
    return inside


def _largest(clear: Flags) -> tuple[int, int, int, int] | None:
    """Column, row, columns and rows of the largest clear block of cells."""
    best: tuple[int, int, int, int] | None = None
    most = 0
    heights = np.zeros(clear.shape[1], dtype=np.int64)
    for row in range(clear.shape[0]):
        heights = np.where(clear[row], heights + 1, 0)
        high: list[int] = heights.tolist()
        for first in range(len(high)):
            low = high[first]
            if low * (len(high) - first) <= most:
                continue
            for last in range(first, len(high)):
                low = min(low, high[last])
                if low == 0:
                    break
                area = (last - first + 1) * low
                if area > most:
                    most, best = area, (first, row - low + 1, last - first + 1, low)
    return best
