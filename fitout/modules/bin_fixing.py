"""How a side bin is held to the vehicle: bolts through its floor panels, or angle brackets."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from fitout.model.bay import AnchorPoint
from fitout.model.module import Fixing
from fitout.model.panel import Panel
from fitout.model.placement import Vector
from fitout.modules.bin_plan import Box, Frame
from fitout.modules.fitting import within
from fitout.modules.joinery import FLOOR_BOLT, Draft, bolt_to_anchor, corners_left
from fitout.modules.neighbours import box_of
from fitout.survey.room import half_width

FIXINGS = 2
FIXING_INSET = 50.0
"""Distance of the floor bolts from a bottom's ends, mm (common practice)."""

LEAST_INSET = 25.0
"""The same where bolts would stand too near to each other: room for washer and socket, mm."""

APART = 200.0
"""Bolts nearer to each other than this are moved to the ends, mm (common practice)."""

NEAREST = 60.0
"""Bolts nearer than this have no room for a floor plate each beneath, mm."""

BRACKET = 40.0
"""Length and width of the angle brackets that hold a bin without a floor panel, mm."""

BOLT_TO_EDGE = 20.0
"""Least distance of a floor bolt from a bottom's edges, mm (common practice)."""


def fix_bin(draft: Draft, frame: Frame, walls: Sequence[str], bottoms: Sequence[str]) -> None:
    """Bolts through the floor panels, at known points first; brackets where there is no floor."""
    draft.needs_fixings = FIXINGS
    floors = [b for b in bottoms if b.startswith("floor")]
    known: list[AnchorPoint] = []
    for anchor in frame.bay.anchors:
        for floor in floors:
            if _holds(draft, floor, (anchor.x, anchor.y, frame.z0)):
                bolt_to_anchor(draft, floor, anchor, frame.z0)
                known.append(anchor)
    wanted = FIXINGS - len(draft.fixings)
    # The bolts farthest apart hold best.
    points = _ends(draft, frame, floors, FIXING_INSET)
    if len(points) < FIXINGS or math.dist(*points) < APART:
        points = _ends(draft, frame, floors, LEAST_INSET)
    left = corners_left(points, known)
    free = [p for p in left if all(math.dist(p, (a.x, a.y, p[2])) >= NEAREST for a in known)]
    for point in free[: max(0, wanted)]:
        draft.fixings.append(
            Fixing(module=draft.name, point=point, article=FLOOR_BOLT, anchor=None)
        )
    _brackets(draft, frame, walls, FIXINGS - len(draft.fixings))


def _ends(draft: Draft, frame: Frame, floors: Sequence[str], inset: float) -> list[Vector]:
    """The first and the last place for a bolt along the floor panels, or one if they are near."""
    points = [p for floor in floors for p in _bolt_places(draft, frame, floor, inset)]
    return [*points[:1], *(p for p in points[1:][-1:] if math.dist(p, points[0]) >= NEAREST)]


def _bolt_places(draft: Draft, frame: Frame, floor: str, inset: float) -> Iterator[Vector]:
    """Where a floor panel has room for a bolt near its ends, in the middle of its width."""
    panel = draft.panels[floor]
    u0, v0, u1, v1 = panel.outline.bounds
    for u in dict.fromkeys((min(u0 + inset, u1), max(u1 - inset, u0))):
        for share in (0.5, 0.35, 0.65, 0.2, 0.8):
            x, y, _ = panel.placement.at(u, v0 + share * (v1 - v0))
            if _holds(draft, floor, (x, y, frame.z0)):
                yield x, y, frame.z0
                break


def _holds(draft: Draft, floor: str, point: Vector) -> bool:
    """Whether a bolt at a point of the bay goes well through a panel."""
    panel = draft.panels[floor]
    return bool(within(panel, np.array([panel.local(point)]), BOLT_TO_EDGE)[0])


def _brackets(draft: Draft, frame: Frame, walls: Sequence[str], count: int) -> None:
    """Angle brackets in the corner of inner wall and vehicle floor, for want of a floor panel."""
    chosen: list[tuple[Vector, str | None]] = []
    for anchor in frame.bay.anchors:
        away = frame.y(anchor.y) - frame.face
        near = BRACKET / 4.0 <= away <= BRACKET * 3.0 / 4.0
        if near and _takes_bracket(draft, frame, walls, anchor.x):
            chosen.append(((anchor.x, anchor.y, frame.z0), anchor.name))
    places = [x for x in _steps(frame) if _takes_bracket(draft, frame, walls, x)]
    apart = [*places[:1], *places[1:][-1:]][: max(0, count - len(chosen))]
    chosen += [(frame.at(x, frame.face + BRACKET / 2.0, frame.z0), None) for x in apart]
    for point, name in chosen[: max(0, count)]:
        draft.fixings.append(
            Fixing(module=draft.name, point=point, article=FLOOR_BOLT, anchor=name)
        )
        draft.buy("angle bracket 40", 1, "inner wall to floor")
        draft.buy("wood screw 3.5 x 16", 2, "inner wall to floor")
        if name is not None:
            draft.buy(FLOOR_BOLT, 1, "floor fixing")
            draft.buy("large washer M8", 1, "floor fixing")


def _steps(frame: Frame) -> list[float]:
    """Places along the bin to look at, from rear to front."""
    count = max(1, int((frame.x1 - frame.x0 - 2.0 * FIXING_INSET) / BRACKET))
    step = (frame.x1 - frame.x0 - 2.0 * FIXING_INSET) / count
    return [frame.x0 + FIXING_INSET + i * step for i in range(count + 1)]


def _takes_bracket(draft: Draft, frame: Frame, walls: Sequence[str], x: float) -> bool:
    """Whether inner wall and floor leave room for an angle bracket at `x`."""
    around = (x - BRACKET / 2.0, x + BRACKET / 2.0)
    up = (frame.z0, frame.z0 + BRACKET)
    if frame.is_kept(frame.box(around, up)):
        return False
    if half_width(frame.bay, frame.side, around, up) < frame.face + BRACKET:
        return False
    deep = (frame.face, frame.face + BRACKET)
    room = Box(x0=around[0], x1=around[1], s0=deep[0], s1=deep[1], z0=up[0], z1=up[1])
    others = (p for p in draft.panels.values() if p.name not in walls)
    if any(_box_of(panel).hits(room) for panel in others):
        return False
    point = frame.at(x, frame.face, frame.z0 + BRACKET / 2.0)
    panels = (draft.panels[wall] for wall in walls)
    return any(within(p, np.array([p.local(point)]), BRACKET / 2.0 - 1.0)[0] for p in panels)


def _box_of(panel: Panel) -> Box:
    """The block round a panel, by how far it is from the centre line."""
    box = box_of(panel)
    near, far = sorted((abs(box.y0), abs(box.y1)))
    return Box(x0=box.x0, x1=box.x1, s0=near, s1=far, z0=box.z0, z1=box.z1)
