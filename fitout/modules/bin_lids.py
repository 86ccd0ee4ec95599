"""Where a side bin's strip, lids and fixed pieces go, and how far the lids can open."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from fitout.modules.bin_plan import Box, Compartment, Frame, Plan
from fitout.modules.scribe import flat_edge
from fitout.survey.room import front_face, half_width, rear_face, roof_height

LEAST_STRIP = 40.0
"""Width of the fixed strip along the wall at its narrowest, mm."""

LEAST_LID = 90.0
LEAST_LID_LENGTH = 150.0
LONGEST_LID = 800.0
LONGEST_FIXED = 400.0
"""Longest stretch of a fixed top between two uprights, mm."""

LEAST_END = 40.0
"""Length of a fixed piece before or after the lids, at least, mm."""

NEAR_UPRIGHT = 30.0
"""Lids that would end so little before an upright's middle end over it, mm."""

RAIL_HEIGHTS = (60.0, 40.0, 25.0)
"""Heights of the rail under the hinge line; a lower one is taken to pass over a wheel arch."""

LEAST_UNDER_RAIL = 30.0
"""Room between a rail and the shelf or floor below it, so that a hand passes, mm."""

LEAST_OVERHANG = 15.0
"""A top that reaches less beyond the inner wall needs no rail, mm (common practice)."""

OPENS_DEG = (95.0, 90.0, 85.0, 80.0, 75.0, 70.0, 65.0, 60.0, 55.0, 50.0, 45.0)
"""How far a lid opens: the first of these that wall and roof allow, else the last."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Top:
    """A stretch of the top: strip and lids that meet at `seams`, or one fixed panel."""

    x0: float
    x1: float
    hinge: float
    lids: bool
    seams: tuple[float, ...] = ()


def tops_of(frame: Frame, plan: Plan, x0: float, x1: float) -> tuple[Top, ...]:
    """What covers a stretch: lids where they can be wide enough and can open, fixed pieces else."""
    hinge = hinge_line(frame, x0, x1)
    width = hinge - frame.inner
    start, end = _over_uprights(frame, plan, (x0, x1), _room_to_open(frame, x0, x1, hinge))
    if width < LEAST_LID or end - start < LEAST_LID_LENGTH:
        return (Top(x0=x0, x1=x1, hinge=hinge, lids=False),)
    tops = [Top(x0=start, x1=end, hinge=hinge, lids=True, seams=_seams(frame, plan, start, end))]
    if start > x0:
        tops.insert(0, Top(x0=x0, x1=start, hinge=hinge, lids=False))
    if end < x1:
        tops.append(Top(x0=end, x1=x1, hinge=hinge, lids=False))
    return tuple(tops)


def hinge_line(frame: Frame, x0: float, x1: float) -> float:
    """Distance of the hinge line: the strip beyond it is `LEAST_STRIP` wide or more."""
    box = frame.box((x0, x1), (frame.under, frame.z1))
    edge = flat_edge(frame.bay, frame.side, frame.berth(box), frame.rules.scribed)
    return min(s for _, s in edge) - LEAST_STRIP


def _room_to_open(frame: Frame, x0: float, x1: float, hinge: float) -> tuple[float, float]:
    """Where along a stretch a lid can swing up.

    That is ahead of the tailgate's frame, behind the seat, and clear of what other modules
    have above and of what must be kept clear.
    """
    clear, top = frame.rules.moving, frame.z1 + hinge - frame.inner
    start = max(x0, rear_face(frame.bay, frame.z1, top, clear=clear))
    end = min(x1, front_face(frame.bay, frame.z1, top, clear=clear))
    # Open beyond upright a lid leans out over its hinge line.
    leans = (hinge - frame.inner) * math.sin(math.radians(OPENS_DEG[0] - 90.0))
    outer = hinge + leans + clear
    for other in (*frame.above, *frame.kept):
        swing = Box(x0=start, x1=end, s0=frame.inner, s1=outer, z0=frame.z1, z1=top)
        if not swing.hits(other):
            continue
        ahead, behind = other.x1 + clear, other.x0 - clear
        if end - ahead > behind - start:
            start = ahead
        else:
            end = behind
    if start > x0:
        start = max(start, x0 + LEAST_END)
    if end < x1:
        end = min(end, x1 - LEAST_END)
    return start, end


def _over_uprights(
    frame: Frame, plan: Plan, stretch: tuple[float, float], lids: tuple[float, float]
) -> tuple[float, float]:
    """Where the lids end: over the middle of an upright if there is one just inside their ends."""
    start, end = lids
    for middle in (x + frame.t / 2.0 for x in plan.uprights):
        if start > stretch[0] and start < middle <= start + NEAR_UPRIGHT:
            start = middle
        if end < stretch[1] and end - NEAR_UPRIGHT <= middle < end:
            end = middle
    return start, end


def _seams(frame: Frame, plan: Plan, x0: float, x1: float) -> tuple[float, ...]:
    """Where lids meet: over the uprights' middles, so that no lid is longer than it should be."""
    middles = [x + frame.t / 2.0 for x in plan.uprights if x0 < x < x1 - frame.t - 1e-6]
    seams: list[float] = []
    start = x0
    while x1 - start > LONGEST_LID:
        lengths = [m - start for m in middles if m - start >= LEAST_LID_LENGTH <= x1 - m]
        if not lengths:
            break
        usual = [length for length in lengths if length <= LONGEST_LID]
        start += usual[-1] if usual else lengths[0]
        seams.append(start)
    return tuple(seams)


def rail_height(frame: Frame, c: Compartment, hinge: float) -> float | None:
    """The highest rail that fits under the hinge line between two uprights.

    None where wall, wheel arch or a kept-clear place leaves no room, or where the line is so
    near the inner wall that nothing needs a rail.
    """
    if hinge - frame.face < LEAST_OVERHANG:
        return None
    outer = hinge + frame.t
    shelf = frame.z0 if c.bottom is None else c.bottom + frame.t
    for height in RAIL_HEIGHTS:
        z, x = (frame.under - height, frame.under), (c.x0, c.x1)
        clear = half_width(frame.bay, frame.side, x, z, clear=frame.rules.wall)
        rail = Box(x0=c.x0, x1=c.x1, s0=hinge, s1=outer, z0=z[0], z1=z[1])
        room = frame.under - height - shelf
        if clear >= outer and room >= LEAST_UNDER_RAIL and not frame.is_kept(rail):
            return height
    return None


def lid_opens(frame: Frame, x: tuple[float, float], hinge: float, width: float) -> float:
    """How far a lid opens before it meets the wall or the roof, degrees."""
    clear = frame.rules.moving
    roof = roof_height(frame.bay, *x, clear=clear)
    for angle_deg in OPENS_DEG[:-1]:
        angle = math.radians(angle_deg)
        lean = max(0.0, -width * math.cos(angle))
        # On its way up the lid passes upright.
        rise = width * math.sin(min(angle, math.pi / 2.0))
        wall = half_width(frame.bay, frame.side, x, (frame.z1, frame.z1 + rise), clear=clear)
        if hinge + lean <= wall and frame.z1 + rise <= roof:
            return angle_deg
    return OPENS_DEG[-1]


def stretches(frame: Frame, plan: Plan) -> Iterator[tuple[float, float]]:
    """What can have a top, from the outer face of an upright to that of another."""
    found: list[tuple[float, float]] = []
    last = len(plan.compartments) - 1
    for i, c in enumerate(plan.compartments):
        if c.open_top:
            continue
        start, end = c.x0 - frame.t, c.x1 + frame.t
        # At its ends the top reaches to the bin's own, unless that is kept clear.
        if i == 0 and not _top_is_kept(frame, frame.x0, start):
            start = frame.x0
        if i == last and not _top_is_kept(frame, end, frame.x1):
            end = frame.x1
        if found and abs(found[-1][1] - frame.t - start) < 1e-6:
            found[-1] = (found[-1][0], end)
        else:
            found.append((start, end))
    yield from found


def _top_is_kept(frame: Frame, x0: float, x1: float) -> bool:
    return frame.is_kept(frame.box((x0, x1), (frame.under, frame.z1), frame.inner))
