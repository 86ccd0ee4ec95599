"""How much space there is: the questions modules and the arrangement ask of the bay."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import numpy as np

from fitout.model.bay import Bay
from fitout.model.outline import Point
from fitout.survey.walls import followed, least_offset

SIDES = ("left", "right")
Span = tuple[float, float]
"""Least and greatest value along one axis, mm."""

STEP = 1e-3
"""How close to a wheel arch's edge the wall is looked at on either side of it, mm."""


def half_width(
    bay: Bay,
    side: str,
    x: Span,
    z: Span,
    *,
    arches: bool = True,
    clear: float = 0.0,
) -> float:
    """How far from the centre line a block over `x` and `z` may reach on one side.

    It keeps `clear` from the wall and, with `arches`, from the wheel arch. Beyond what was
    measured (above the roof, say) the wall's nearest part counts.
    """
    offset = least_offset(bay.walls[side], *x, *z, clear)
    if offset is None:
        corners = [corner for piece in bay.walls[side] for corner in piece.corners]
        x, z = _within(x, [c[0] for c in corners]), _within(z, [c[1] for c in corners])
        offset = least_offset(bay.walls[side], *x, *z, clear)
    assert offset is not None
    top = arch_top(bay, side, x[0] - clear, x[1] + clear)
    if arches and top is not None and top > z[0] - clear:
        offset = min(offset, bay.arches[side][1] - clear)
    return offset


def _within(span: Span, measured: Sequence[float]) -> Span:
    """The part of a span nearest to what was measured."""
    low, high = min(measured), max(measured)
    return min(max(span[0], low), high), min(max(span[1], low), high)


def clear_width(bay: Bay, x: Span, z: Span, *, arches: bool = True, clear: float = 0.0) -> Span:
    """Least and greatest y a block over `x` and `z` may have; see `half_width`."""
    right = half_width(bay, "right", x, z, arches=arches, clear=clear)
    left = half_width(bay, "left", x, z, arches=arches, clear=clear)
    return -right, left


def arch_top(bay: Bay, side: str, x0: float, x1: float) -> float | None:
    """Greatest height of the wheel arch between x0 and x1; None clear of it."""
    if side not in bay.arches:
        return None
    profile = bay.arches[side][0]
    start, end = profile[0][0], profile[-1][0]
    if x1 <= start or x0 >= end:
        return None
    inside = [z for x, z in profile if x0 <= x <= x1]
    ends = [followed(profile, x) for x in (max(x0, start), min(x1, end))]
    return max([*inside, *ends])


def arch_span(bay: Bay, side: str, z: float) -> tuple[float, float] | None:
    """Where along x the wheel arch stands higher than z; None where it does not."""
    if side not in bay.arches:
        return None
    profile = bay.arches[side][0]
    crossings = [x for x, top in profile if top > z]
    if not crossings:
        return None
    for (xa, za), (xb, zb) in itertools.pairwise(profile):
        if (za > z) != (zb > z):
            crossings.append(xa + (z - za) / (zb - za) * (xb - xa))
    return min(crossings), max(crossings)


def roof_height(bay: Bay, x0: float, x1: float, clear: float = 0.0) -> float:
    """How high a block between x0 and x1 may reach; it keeps `clear` from the roof."""
    return -_farthest([(x, -z) for x, z in bay.roof], x0, x1, clear)


def front_face(
    bay: Bay, z0: float, z1: float, notch: str | None = None, clear: float = 0.0
) -> float:
    """How far forward a part between heights z0 and z1 may reach: seat back or front wall.

    It keeps `clear` from it. With `notch` None every notch of the seat back counts. The
    back's upper edge counts as carried on upwards, so that nothing leans over it into the
    cabin. For head restraints see `restraint_face`.
    """
    if bay.front_kind != "seat_back":
        return bay.front - clear
    leans = bay.seat_lean_deg.values() if notch is None else [bay.seat_lean_deg[notch]]
    reach = []
    for degrees in leans:
        lean = math.radians(degrees)
        # The more upright the back, the higher its upper edge.
        top = bay.seat_length * math.cos(lean)
        reach += [
            bay.front - min(z, top) * math.tan(lean) - clear / math.cos(lean) for z in (z0, z1)
        ]
    return min(reach)


def restraint_face(bay: Bay, z1: float, clear: float = 0.0) -> float:
    """How far forward a part up to height z1 may reach where a head restraint is.

    It keeps `clear` from them in every notch; infinite where it stays below them all, or there
    are none.
    """
    reach = [math.inf]
    for degrees in bay.seat_lean_deg.values() if bay.seat_raised else ():
        lean = math.radians(degrees)
        if z1 + clear > bay.seat_length * math.cos(lean):
            tip = (bay.seat_length + bay.seat_raised) * math.cos(lean)
            reach.append(bay.front - min(z1, tip) * math.tan(lean) - clear / math.cos(lean))
    return min(reach)


def rear_face(bay: Bay, z0: float, z1: float, clear: float = 0.0) -> float:
    """How far rearward a part between heights z0 and z1 may reach with the tailgate shut.

    It keeps `clear` from the tailgate.
    """
    return max(clear, _farthest(bay.tailgate, z0, z1, clear))


def _farthest(polyline: Sequence[Point], s0: float, s1: float, clear: float) -> float:
    """The least value that a block over s0 to s1 may come down to above a polyline.

    It keeps `clear` from it, square to each stretch; beyond its ends the polyline goes on
    level.
    """
    low, high = s0 - clear, s1 + clear
    ends = ((low - 1.0, polyline[0][1]), (high + 1.0, polyline[-1][1]))
    line = [
        *([ends[0]] if ends[0][0] < polyline[0][0] else []),
        *polyline,
        *([ends[1]] if ends[1][0] > polyline[-1][0] else []),
    ]
    values = []
    for (sa, va), (sb, vb) in itertools.pairwise(line):
        if sb < low or sa > high:
            continue
        slope = (vb - va) / (sb - sa)
        for s in (max(sa, low), min(sb, high)):
            # What lies beside the block is held against its nearest end, as in `walls`.
            near = min(max(s, s0), s1)
            values.append(va + slope * (near - sa) + clear * math.sqrt(1.0 + slope**2))
    return max(values)


def opening_half_width(bay: Bay, side: str, z0: float, z1: float) -> float:
    """Least distance from the centre line to the opening's jamb between two heights."""
    rows = np.array(bay.opening)
    offsets = rows[:, 2] if side == "left" else rows[:, 1]
    inside = [float(o) for z, o in zip(rows[:, 0], offsets, strict=True) if z0 <= z <= z1]
    return min([*inside, *(float(np.interp(z, rows[:, 0], offsets)) for z in (z0, z1))])


def opening_top(bay: Bay) -> float:
    """Height of the opening's upper edge."""
    return bay.opening[-1][0]


def wall_line_up(
    bay: Bay, side: str, x0: float, x1: float, z0: float, z1: float
) -> tuple[Point, ...]:
    """The wall as seen from behind: (z, distance from the centre line), from z0 up to z1.

    For an upright panel across the bay that fills x0 to x1: at every height the least
    distance over that depth, wheel arch included. Between the points the true wall is
    nowhere nearer the centre line than the straight line.
    """
    levels = {z0, z1}
    levels.update(z for p in bay.walls[side] for _, z in p.corners if z0 < z < z1)
    for x in (x0, x1):
        levels.update(z for z in _diagonal_crossings(bay, side, x=x) if z0 < z < z1)
    top = arch_top(bay, side, x0, x1)
    if top is not None:
        levels.update(z for z in (top - STEP, top) if z0 < z < z1)
    line = []
    for z in sorted(levels):
        arches = top is not None and z < top
        line.append((z, half_width(bay, side, (x0, x1), (z, z), arches=arches)))
    return _plain(line)


def wall_line_along(
    bay: Bay, side: str, z0: float, z1: float, x0: float, x1: float
) -> tuple[Point, ...]:
    """The wall as seen from above: (x, distance from the centre line), from x0 to x1.

    For a flat panel that fills z0 to z1; see `wall_line_up`.
    """
    stations = {x0, x1}
    stations.update(x for p in bay.walls[side] for x, _ in p.corners if x0 < x < x1)
    for z in (z0, z1):
        stations.update(x for x in _diagonal_crossings(bay, side, z=z) if x0 < x < x1)
    span = arch_span(bay, side, z0)
    if span is not None:
        edges = (span[0] - STEP, span[0], span[1], span[1] + STEP)
        stations.update(x for x in edges if x0 < x < x1)
    line = []
    for x in sorted(stations):
        arches = span is not None and span[0] <= x <= span[1]
        offset = half_width(bay, side, (x, x), (z0, z1), arches=False)
        line.append((x, min(offset, bay.arches[side][1]) if arches else offset))
    return _plain(line)


def _diagonal_crossings(
    bay: Bay, side: str, x: float | None = None, z: float | None = None
) -> list[float]:
    """Where the edges of the wall's triangles cross a line of constant x or z."""
    axis, limit = (0, x) if x is not None else (1, z)
    assert limit is not None
    crossings = []
    for piece in bay.walls[side]:
        for i, p in enumerate(piece.corners):
            q = piece.corners[i - 1]
            if (p[axis] - limit) * (q[axis] - limit) < 0.0:
                share = (limit - p[axis]) / (q[axis] - p[axis])
                crossings.append(p[1 - axis] + share * (q[1 - axis] - p[1 - axis]))
    return crossings


def _plain(line: list[Point]) -> tuple[Point, ...]:
    """The polyline without the points that lie on the straight between their neighbours."""
    kept: list[Point] = []
    for point in line:
        while len(kept) >= 2 and _straight(kept[-2], kept[-1], point):
            kept.pop()
        kept.append(point)
    return tuple(kept)


def _straight(a: Point, b: Point, c: Point) -> bool:
    if c[0] - a[0] < 1e-9:
        return True
    on_line = a[1] + (b[0] - a[0]) / (c[0] - a[0]) * (c[1] - a[1])
    return abs(on_line - b[1]) < 1e-6
