"""Where on a part there is room to write: the largest rectangle clear of notches and cut-outs."""

from __future__ import annotations

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


def writing_room(outline: Outline) -> Rect:
    """The largest rectangle of whole cells on the part; all of it where nothing fits."""
    x0, y0, x1, y1 = outline.bounds
    if (x1 - x0) * (y1 - y0) - outline.area < 1e-6:
        return Rect(x0, y0, x1 - x0, y1 - y0)
    step_x, step_y = (x1 - x0) / CELLS, (y1 - y0) / CELLS
    clear = np.ones((CELLS, CELLS), dtype=bool)
    for share_x in (WITHIN, 0.5, 1.0 - WITHIN):
        for share_y in (WITHIN, 0.5, 1.0 - WITHIN):
            columns = x0 + (np.arange(CELLS) + share_x) * step_x
            rows = y0 + (np.arange(CELLS) + share_y) * step_y
            grid = np.stack(np.meshgrid(columns, rows), axis=-1).reshape(-1, 2)
            clear &= _inside(outline, grid).reshape(CELLS, CELLS)
    cells = _largest(clear)
    if cells is None:
        return Rect(x0, y0, x1 - x0, y1 - y0)
    column, row, across, up = cells
    return Rect(x0 + column * step_x, y0 + row * step_y, across * step_x, up * step_y)


def _inside(outline: Outline, points: Array) -> Flags:
    """Which points, shape (n, 2), lie on the part: by counting crossings to their right."""
    crossings = np.zeros(len(points), dtype=np.int64)
    for loop in (outline.outer, *outline.inner):
        ring = loop.chords(grows=False, sagitta=SAGITTA)
        for a, b in zip(ring, np.roll(ring, -1, axis=0), strict=True):
            spans = (a[1] > points[:, 1]) != (b[1] > points[:, 1])
            if spans.any():
                at = a[0] + (points[:, 1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
                crossings += spans & (points[:, 0] < at)
    return np.asarray(crossings % 2 == 1)


def _largest(clear: Flags) -> tuple[int, int, int, int] | None:
    """Column, row, columns and rows of the largest clear block of cells."""
    best: tuple[int, int, int, int] | None = None
    most = 0
    height = np.zeros(clear.shape[1], dtype=np.int64)
    for row in range(clear.shape[0]):
        height = np.where(clear[row], height + 1, 0)
        for first in range(len(height)):
            low = int(height[first])
            for last in range(first, len(height)):
                low = min(low, int(height[last]))
                if low == 0:
                    break
                area = (last - first + 1) * low
                if area > most:
                    most, best = area, (first, row - low + 1, last - first + 1, low)
    return best
