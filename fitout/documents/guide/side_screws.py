"""Where screws go that join two standing sides face to face: nothing is drilled for them.

They stand in two rows, as far apart as slides, openings and other screws on either side leave
room, spread along what the two panels have in common.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

import numpy as np
import numpy.typing as npt

from fitout.checks.order_fasteners import COLUMNS, reaches
from fitout.clearance.body import Body
from fitout.clearance.convex import Array
from fitout.documents.dossier import Dossier
from fitout.documents.guide.naming import Names
from fitout.model.item import Item
from fitout.model.panel import Panel
from fitout.modules.fitting import within

Flags = npt.NDArray[np.bool_]

INSET = 40.0
"""Between the panels' ends and the first screws, mm."""

EDGE, BESIDE, STEP = 20.0, 12.0, 5.0
"""Least distance of a screw from edges, from slides and other holes, and of places tried, mm."""

APART = 50.0
"""Rows nearer to each other hold no better than one, mm."""

DEEP = 50.0
"""No screw goes farther than this into a panel's edge, from the middle of what it goes through."""

SQUARE = 0.9
"""Sides stand upright, their faces to the left and right, to this share."""


def side_screws(
    dossier: Dossier, through: str, into: str, names: Names, count: int | None = None
) -> Iterator[str]:
    """The sentence that tells where the screws between two sides go."""
    wanted = _count(dossier, through) if count is None else count
    rows = places(dossier, through, into, wanted)
    if not rows:
        yield names.say("task_columns", parts=names.one(through), to=names.one(into))
        return
    panel = dossier.subject.parts[through]
    assert isinstance(panel, Panel)
    low = dossier.subject.bodies[through].lo
    told = [
        names.say(
            "columns_row",
            up=names.far(z - float(low[2])),
            along=names.joined([names.far(x - float(low[0])) for x in row]),
        )
        for z, row in rows
    ]
    yield names.say(
        "columns_rows",
        count=sum(len(row) for _, row in rows),
        parts=names.one(through),
        to=names.one(into),
        rows="; ".join(told),
    )


def _count(dossier: Dossier, through: str) -> int:
    """How many screws are bought for each pair of sides."""
    module = dossier.subject.modules[dossier.subject.parts[through].module]
    bought = sum(h.quantity for h in module.hardware if h.purpose in COLUMNS)
    pairs = sum(t.do == "columns" for s in dossier.steps for t in s.tasks
                if t.parts and t.parts[0].startswith(f"{module.name}/"))  # fmt: skip
    return bought // max(1, pairs)


def places(
    dossier: Dossier, through: str, into: str, count: int
) -> tuple[tuple[float, tuple[float, ...]], ...]:
    """Heights of the rows, bay frame, each with its screws' places along x, mm.

    Two rows as far apart as there is room, one where there is little; none where no row has room.
    """
    bodies, parts = dossier.subject.bodies, dossier.subject.parts
    both = [part for part in (parts[through], parts[into]) if isinstance(part, Panel)]
    if len(both) < 2 or any(abs(part.placement.w[1]) < SQUARE for part in both):
        return ()
    a, b = bodies[through], bodies[into]
    low, high = np.maximum(a.lo, b.lo), np.minimum(a.hi, b.hi)
    ends = (float(low[0]), float(high[0]))
    heights = np.arange(low[2] + EDGE, high[2] - EDGE + 1e-6, STEP).tolist()
    upper = _first_row(dossier, both, heights[::-1], ends, count - count // 2)
    lower = _first_row(dossier, both, heights, ends, count // 2)
    if upper is not None and lower is not None and upper[0] - lower[0] >= APART:
        return (lower, upper)
    only = _first_row(dossier, both, sorted(heights, key=_from(heights)), ends, count)
    return () if only is None else (only,)


def _from(heights: Sequence[float]) -> Callable[[float], float]:
    """How far off the middle of the heights one lies."""
    middle = (heights[0] + heights[-1]) / 2.0 if heights else 0.0
    return lambda z: abs(z - middle)


def _first_row(
    dossier: Dossier,
    both: Sequence[Panel],
    heights: Iterable[float],
    ends: tuple[float, float],
    count: int,
) -> tuple[float, tuple[float, ...]] | None:
    """The first of some heights with room for so many screws, and their places."""
    for z in heights:
        row = _along(dossier, both, z, ends, count)
        if len(row) == count:
            return z, row
    return None


def _along(
    dossier: Dossier,
    panels: Sequence[Panel],
    z: float,
    ends: tuple[float, float],
    count: int,
) -> tuple[float, ...]:
    """The places of a row at a height, as evenly as there is room; empty if there is none."""
    tried = np.arange(ends[0] + INSET, ends[1] - INSET + 1e-6, STEP)
    points = np.column_stack([tried, np.zeros(len(tried)), np.full(len(tried), z)])
    free = np.ones(len(tried), dtype=bool)
    for panel in panels:
        free &= _free(dossier, panel, points)
    if not free.any():
        return ()
    wanted = np.linspace(tried[0], tried[-1], count) if count > 1 else tried[:1]
    open_ = tried[free]
    return tuple(dict.fromkeys(float(open_[np.argmin(np.abs(open_ - x))]) for x in wanted))


def _free(dossier: Dossier, panel: Panel, points: Array) -> Flags:
    """Which points of the bay lie on a panel clear of holes, slides and screws in its edges."""
    if not len(points):
        return np.zeros(0, dtype=bool)
    parts, bodies = dossier.subject.parts, dossier.subject.bodies
    local = np.array([panel.local((float(x), float(y), float(z))) for x, y, z in points])
    free = within(panel, local, EDGE)
    for hole in panel.holes:
        off = np.hypot(local[:, 0] - hole.x, local[:, 1] - hole.y)
        free &= off > hole.diameter / 2.0 + BESIDE
    for joint in dossier.fitout.all_joints():
        other = parts.get(joint.b if joint.a == panel.id else joint.a)
        if panel.id not in (joint.a, joint.b) or other is None:
            continue
        if isinstance(other, Item):
            slide = bodies[other.id]
            free &= ~(_between(points, slide, 0) & _between(points, slide, 2))
        elif isinstance(other, Panel):
            free &= ~_met(points, other, bodies[panel.id])
    return np.asarray(free, dtype=bool)


def _between(points: Array, body: Body, axis: int) -> Flags:
    at = points[:, axis]
    inside = (at > body.lo[axis] - BESIDE) & (at < body.hi[axis] + BESIDE)
    return np.asarray(inside, dtype=bool)


def _met(points: Array, other: Panel, body: Body) -> Flags:
    """Which points a screw comes near that goes through another panel into a body."""
    near = np.zeros(len(points), dtype=bool)
    for hole in other.holes:
        if hole.purpose == "screw" and reaches(other, hole, body):
            place = np.array(other.placement.at(hole.x, hole.y, other.thickness / 2.0))
            off = np.abs(points - place)
            deep = np.argmax(np.abs(np.array(other.placement.w)))
            across = 2 - int(deep)
            if deep != 1:
                near |= (off[:, across] < BESIDE) & (off[:, deep] < DEEP)
    return near
