"""What a router needs of the waste: screws that hold the sheet, room to lead in, pins to turn by.

Screws go into waste that is no offcut to keep, clear of every path of the bit. The bit goes
down beside each part, off its edge, where it touches no other part: there is room for that
wherever there is spacing besides the bit's own width. Which way it then goes round, climb or
conventional, is the machine program's business. Pins are asked for where a part is worked
from its far face: they stand on the sheet's middle line, so that they fit again when it is
turned over about that line.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from fitout.cutting.cut_list import CutList
from fitout.cutting.frame import Turn, carried, reframed
from fitout.cutting.plan import Placed, Sheet
from fitout.cutting.shapes import Area
from fitout.cutting.tabs import MORE_SHARES, SHARES, Stretch, straight
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Loop, Point
from fitout.model.panel import Face, Panel
from fitout.model.placement import Array

SAGITTA = 0.05
HEAD = 6.0
"""Half of a screw's head with washer, or of a pin, and what it must keep from the bit, mm."""

EDGE = 8.0
"""Least distance of a screw from the sheet's edge, mm (common practice)."""

STEP = 20.0
"""Screws and pins are looked for so close, mm."""

APART = 400.0
"""Screws stand about so far apart, mm (common practice)."""

LEAST_SCREWS = 4
MOST_SCREWS = 16
INTO_OFFCUT = 25.0
"""So far into an offcut's edge a screw does no harm, mm."""

LEAD_OFF = 0.5
"""The bit goes down so far off the part's edge at least, mm."""


def lying(placed: Placed, cuts: CutList) -> Panel:
    """A placed part as it lies on its sheet."""
    line = cuts.line(placed.number)
    return reframed(line.panel, Turn(placed.quarter_turns), (placed.x, placed.y))


def lying_mates(placed: Placed, cuts: CutList) -> list[Stretch]:
    """The stretches of a placed part's edge that meet others, as it lies on its sheet."""
    line = cuts.line(placed.number)
    ends = [end for stretch in line.mates for end in stretch]
    told = carried(line.panel, Turn(placed.quarter_turns), (placed.x, placed.y), ends)
    return list(zip(told[::2], told[1::2], strict=True))


def material(panel: Panel) -> Area:
    """The panel's outline as a polygon that holds it, its cut-outs left open."""
    return shapely.Polygon(
        panel.outline.outer.chords(grows=True, sagitta=SAGITTA),
        [loop.chords(grows=False, sagitta=SAGITTA) for loop in panel.outline.inner],
    )


def screws(sheet: Sheet, panels: Sequence[Panel], spec: CuttingSpec) -> tuple[Point, ...]:
    """Where screws hold the sheet down, as far apart as the waste lets them; may be none."""
    waste = _waste(sheet, panels, spec.kerf + HEAD)
    kept = [
        shapely.box(r.x, r.y, r.x + r.length, r.y + r.width).buffer(-INTO_OFFCUT)
        for r in sheet.offcuts
    ]
    spots = _grid(sheet, waste.difference(shapely.union_all(kept)))
    if not len(spots):
        return ()
    taken = [spots[int(np.argmin(spots.sum(axis=1)))]]
    while len(taken) < MOST_SCREWS:
        near = np.min([np.hypot(*(spots - t).T) for t in taken], axis=0)
        if near.max() < APART / (1.0 if len(taken) >= LEAST_SCREWS else 4.0):
            break
        taken.append(spots[int(np.argmax(near))])
    return tuple((float(x), float(y)) for x, y in taken)


def lead_ins(
    panels: Sequence[Panel], spec: CuttingSpec, tabs: Sequence[Loop] = ()
) -> tuple[Point | None, ...]:
    """Where the bit goes down beside each part, off the tabs; None where it would touch a part."""
    radius = spec.kerf / 2.0
    solid = np.array([material(panel) for panel in panels])
    standing = shapely.union_all([shapely.Polygon(tab.chords(grows=True)) for tab in tabs])
    off = radius + max(LEAD_OFF, spec.spacing / 2.0)
    found: list[Point | None] = []
    for i, panel in enumerate(panels):
        spots = np.array(
            [
                (s.at[0] + off * s.along[1], s.at[1] - off * s.along[0])
                for s in straight(panel.outline.outer, 0.0, SHARES + MORE_SHARES)
            ]
            or shapely.get_coordinates(solid[i].buffer(off))
        )
        room = shapely.distance(shapely.points(spots)[:, None], solid[None, :])
        if tabs:
            off_tabs = shapely.distance(shapely.points(spots), standing) >= radius
            room = np.where(off_tabs[:, None], room, -1.0)
        free = np.where(room.min(axis=1) >= radius - 1e-3, np.sort(room, axis=1)[:, :2].sum(1), -1)
        best = int(np.argmax(free))
        found.append(None if free[best] < 0 else (float(spots[best][0]), float(spots[best][1])))
    return tuple(found)


def worked_from_behind(panels: Sequence[Panel]) -> bool:
    """Whether any of the panels has work on its far face."""
    return any(
        any(p.face is Face.B for p in panel.pockets)
        or any(h.face is Face.B and h.depth is not None for h in panel.holes)
        for panel in panels
    )


def pins(sheet: Sheet, panels: Sequence[Panel], spec: CuttingSpec) -> tuple[Point, Point] | None:
    """Two places on a middle line of the sheet, in the waste and far apart; None if there are none.

    The line along the sheet is tried first.
    """
    waste = _waste(sheet, panels, spec.kerf + HEAD)
    board = sheet.board
    for axis, extent, middle in (
        (0, board.length, board.width / 2.0),
        (1, board.width, board.length / 2.0),
    ):
        along = np.arange(EDGE, extent - EDGE, STEP / 4.0)
        spots = np.full((len(along), 2), middle)
        spots[:, axis] = along
        free = spots[shapely.contains_xy(waste, spots)]
        if len(free) and free[-1][axis] - free[0][axis] > extent / 2.0:
            first, last = free[0], free[-1]
            return (float(first[0]), float(first[1])), (float(last[0]), float(last[1]))
    return None


def _waste(sheet: Sheet, panels: Sequence[Panel], clear: float) -> Area:
    """The sheet less its edge, and less the parts grown by `clear`, their cut-outs filled."""
    room = shapely.box(EDGE, EDGE, sheet.board.length - EDGE, sheet.board.width - EDGE)
    solid = [shapely.Polygon(material(panel).exterior).buffer(clear) for panel in panels]
    return room.difference(shapely.union_all(solid))


def _grid(sheet: Sheet, area: Area) -> Array:
    """Points of a grid over the sheet, and along its edges, that lie in the area."""
    lines = []
    for extent in (sheet.board.length, sheet.board.width):
        count = max(2, round((extent - 2.0 * EDGE) / STEP) + 1)
        lines.append(np.linspace(EDGE + 1e-6, extent - EDGE - 1e-6, count))
    spots = np.stack(np.meshgrid(*lines), axis=-1).reshape(-1, 2)
    return np.asarray(spots[shapely.contains_xy(area, spots)], dtype=np.float64)
