"""How a side bin is held to the vehicle: bolts through its floor panels, or angle brackets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from fitout.model.bay import AnchorPoint
from fitout.model.module import Fixing
from fitout.model.placement import Vector
from fitout.modules.bin_plan import Frame
from fitout.modules.fitting import within
from fitout.modules.joinery import FLOOR_BOLT, Draft, bolt_to_anchor, corners_left
from fitout.survey.room import half_width

FIXINGS = 2
FIXING_INSET = 50.0
"""Distance of the floor bolts from a bottom's ends, mm (common practice)."""

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
    points = [p for floor in floors for p in _bolt_places(draft, frame, floor)]
    # The bolts farthest apart hold best.
    free = corners_left([*points[:1], *points[1:][-1:]], known)
    for point in free[: max(0, wanted)]:
        draft.fixings.append(
            Fixing(module=draft.name, point=point, article=FLOOR_BOLT, anchor=None)
        )
    _brackets(draft, frame, walls, FIXINGS - len(draft.fixings))


def _bolt_places(draft: Draft, frame: Frame, floor: str) -> Iterator[Vector]:
    """Where a floor panel has room for a bolt near its ends, in the middle of its width."""
    panel = draft.panels[floor]
    u0, v0, u1, v1 = panel.outline.bounds
    for u in dict.fromkeys((min(u0 + FIXING_INSET, u1), max(u1 - FIXING_INSET, u0))):
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
    point = frame.at(x, frame.face, frame.z0 + BRACKET / 2.0)
    panels = (draft.panels[wall] for wall in walls)
    return any(within(p, np.array([p.local(point)]), BRACKET / 2.0 - 1.0)[0] for p in panels)
