"""How few sheets parts of any shape can do with at the very least, by whatever layout.

Two proofs, the better counts. By area: parts at least a gap apart stay clear of each other
when each is grown all round by half the gap. By rectangles: what lies apart with its whole
shape does so with a rectangle in it, and two rectangles a gap apart are apart by the gap's
√2-th part along the sheet or across it; so the bound for rectangles holds for those.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely

from fitout.cutting.bounds import least_sheets
from fitout.cutting.cut_list import CutLine
from fitout.cutting.fits import Size
from fitout.cutting.layout import Blank
from fitout.cutting.rooms import largest
from fitout.cutting.shapes import Area
from fitout.model.outline import Outline

SAGITTA = 0.1
"""How far (mm) chords may stand off an arc, always on the material's side."""

MOST_LINES = 40
SLACK = 1e-7


def least_by_shape(lines: Sequence[CutLine], gap: float, size: Size) -> int:
    """The least number of sheets of usable `size` for the parts, `gap` apart, as they are."""
    if not lines:
        return 0
    reach = gap / 2.0
    room = size[0] * size[1] + (size[0] + size[1]) * gap + math.pi * reach**2
    taken: float = sum(
        _within(line.panel.outline).buffer(reach).area * line.quantity for line in lines
    )
    apart = sure_gap(gap)
    blanks = blanks_within(lines, apart)
    by_rectangles = least_sheets(blanks, (size[0] + apart, size[1] + apart))
    return max(1, math.ceil(taken / room - SLACK), by_rectangles)


def sure_gap(gap: float) -> float:
    """How far rectangles `gap` apart are so at least, along the sheet or across it."""
    return gap / math.sqrt(2.0)


def blanks_within(lines: Sequence[CutLine], apart: float) -> list[Blank]:
    """A rectangle within each copy of each part, grown by `apart`; none for narrow parts."""
    return [
        Blank(line.number, copy, box[0] + apart, box[1] + apart, not line.grain_locked)
        for line in lines
        if (box := rectangle_in(line.panel.outline)) is not None
        for copy in range(1, line.quantity + 1)
    ]


def rectangle_in(outline: Outline) -> Size | None:
    """Extents of a large rectangle within the material; None where only small ones are."""
    solid = _within(outline)
    corners = shapely.get_coordinates(solid)
    x, y = (np.unique(np.round(corners[:, axis], 6)) for axis in (0, 1))
    x, y = (
        v[np.unique(np.linspace(0, len(v) - 1, MOST_LINES).round().astype(int))] for v in (x, y)
    )
    cells = shapely.box(x[None, :-1], y[:-1, None], x[None, 1:], y[1:, None])
    shapely.prepare(solid)
    # Rounded lines may stand a hair outside; what is shrunk by it is inside.
    clear = shapely.covers(solid, shapely.buffer(cells, -1e-5, join_style="mitre"))
    found = largest(np.asarray(clear), x, y)
    return None if found is None else (found.length - 2e-5, found.width - 2e-5)


def _within(outline: Outline) -> Area:
    """A polygon inside the material."""
    return shapely.Polygon(
        outline.outer.chords(grows=False, sagitta=SAGITTA),
        [loop.chords(grows=True, sagitta=SAGITTA) for loop in outline.inner],
    )
