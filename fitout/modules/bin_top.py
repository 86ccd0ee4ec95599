"""The top of a side bin: strip along the wall, rail, lids; or one fixed panel."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass

from fitout.mechanics.plates import Edges
from fitout.model.module import JointKind, Motion, MotionKind, PlateDuty
from fitout.model.panel import Grain
from fitout.modules.bin_lids import Top, lid_opens, rail_height
from fitout.modules.bin_plan import Frame, Plan
from fitout.modules.fitting import meet
from fitout.modules.joinery import CARCASS_SCREW, Draft, hand_hole
from fitout.modules.scribe import flat_edge, flat_outline

DOWN = (0.0, 0.0, -1.0)

LID_GAP = 2.0
"""Gap between a lid and the strip it is hinged to, mm (common practice)."""

SURPLUS = 0.1
"""What a lid keeps beyond the least gap of a moving part, mm."""

SEAM_GAP = 3.0
"""Gap between two lids, or a lid and a fixed piece, mm (common practice)."""

FINGER_HOLE = (80.0, 24.0)
"""Length and width of the hole a lid is lifted by, mm (common practice)."""

FINGER_ROOM = 15.0
"""Distance of the finger hole from the inner wall, so that fingers get under the lid, mm."""

HINGE_SCREW_SPACING = 60.0
"""Distance between the screws of each leaf of the hinge, mm (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """Names of what the top rests on: pieces of the inner wall, of each upright, rails."""

    walls: tuple[str, ...]
    uprights: tuple[tuple[str, ...], ...]
    rails: tuple[str, ...] = ()


def add_rails(
    draft: Draft, frame: Frame, plan: Plan, parts: Parts, stretch: tuple[float, float], hinge: float
) -> Iterator[str]:
    """Rails under the hinge line from upright to upright, where there is room."""
    for index, c in enumerate(plan.compartments):
        height = rail_height(frame, c, hinge)
        if c.x0 < stretch[0] or c.x1 > stretch[1] or height is None:
            continue
        name, z = f"rail {index + 1}", frame.under - height
        placement = frame.facing_middle(hinge + frame.t, z, (c.x0, c.x1))
        size = (c.x1 - c.x0, height)
        draft.panel(name, draft.board("carcass"), size, placement, grain=Grain.ALONG_U)
        middle = hinge + frame.t / 2.0
        for beside, x, into in ((index, c.x0, 1.0), (index + 1, c.x1, -1.0)):
            line = frame.at(x, middle, z), frame.at(x, middle, frame.under)
            # Both rails at a divider would need their screws in the same place.
            screw = CARCASS_SCREW if beside in (0, len(plan.uprights) - 1) else None
            for upright in parts.uprights[beside]:
                meet(draft, (upright, name), line, (into, 0.0, 0.0), screw)
        yield name


def add_top(
    draft: Draft, frame: Frame, plan: Plan, parts: Parts, top: Top, ends: tuple[float, float]
) -> bool:
    """Strip and lids, or a fixed panel; `ends` are those of the whole stretch.

    Returns False where a wheel arch higher than the deck leaves no room for a top.
    """
    fixed = _next(draft, "strip" if top.lids else "top")
    x = (
        top.x0 + (0.0 if top.x0 == ends[0] else SEAM_GAP / 2.0),
        top.x1 - (0.0 if top.x1 == ends[1] else SEAM_GAP / 2.0),
    )
    start = top.hinge if top.lids else frame.inner
    widest = _scribed(draft, frame, x, fixed, start)
    if widest is None:
        return False
    for at, pieces in _over(frame, plan, parts, *x):
        middle = (max(at, x[0]) + min(at + frame.t, x[1])) / 2.0
        line = frame.at(middle, start, frame.under), frame.at(middle, widest, frame.under)
        for piece in pieces:
            meet(draft, (fixed, piece), line, DOWN)
    beams = [(rail, top.hinge + frame.t / 2.0) for rail in parts.rails]
    if not top.lids:
        beams += [(wall, frame.inner + frame.t / 2.0) for wall in parts.walls]
    for beam, s in beams:
        line = frame.at(x[0], s, frame.under), frame.at(x[1], s, frame.under)
        meet(draft, (fixed, beam), line, DOWN)
    if top.lids:
        _lids(draft, frame, plan, parts, top, ends)
        return True
    clear = min(_clear(plan, *x), x[1] - x[0])
    if parts.rails:
        _knee(draft, fixed, (clear, top.hinge - frame.face), "v ends")
    else:
        _knee(draft, fixed, (clear, widest - frame.face), "u ends")
    return True


def _next(draft: Draft, word: str) -> str:
    """The next name that starts with a word: lid 1, lid 2."""
    return f"{word} {sum(name.startswith(word) for name in draft.panels) + 1}"


def _scribed(
    draft: Draft, frame: Frame, x: tuple[float, float], name: str, start: float
) -> float | None:
    """The fixed panel from `start` to the wall; returns how far out it reaches, if at all."""
    box = frame.berth(frame.box(x, (frame.under, frame.z1), start))
    gap = frame.rules.scribed
    widest = max(s for _, s in flat_edge(frame.bay, frame.side, box, gap))
    placement = frame.lying(x[0], (start, widest), frame.under)
    try:
        outline = flat_outline(frame.bay, frame.side, box, placement, gap)
    except ValueError:
        return None
    draft.panel(name, draft.board("lid"), outline, placement, grain=Grain.ALONG_U, scribed=True)
    return widest


def _over(
    frame: Frame, plan: Plan, parts: Parts, x0: float, x1: float
) -> Iterator[tuple[float, tuple[str, ...]]]:
    """The uprights under a stretch: where each begins, and its pieces."""
    for x, pieces in zip(plan.uprights, parts.uprights, strict=True):
        if x < x1 - 1e-6 and x + frame.t > x0 + 1e-6:
            yield x, pieces


def _clear(plan: Plan, x0: float, x1: float) -> float:
    """The longest distance between uprights under a stretch."""
    return max(c.x1 - c.x0 for c in plan.compartments if c.x0 < x1 and c.x1 > x0)


def _lids(
    draft: Draft, frame: Frame, plan: Plan, parts: Parts, top: Top, ends: tuple[float, float]
) -> None:
    """Plain lids from the inner wall's face to the hinge line, side by side."""
    strip = list(draft.panels)[-1]
    edges = [top.x0, *top.seams, top.x1]
    total = 0.0
    for a, b in itertools.pairwise(edges):
        swing = frame.rules.moving + SURPLUS
        x0 = a + (swing if a == ends[0] else SEAM_GAP / 2.0)
        x1 = b - (swing if b == ends[1] else SEAM_GAP / 2.0)
        name = _next(draft, "lid")
        _lid(draft, frame, top, name, (x0, x1))
        draft.join(name, strip, JointKind.HINGED)
        for wall in parts.walls:
            middle = frame.inner + frame.t / 2.0
            line = frame.at(x0, middle, frame.under), frame.at(x1, middle, frame.under)
            meet(draft, (name, wall), line, DOWN, None, JointKind.RESTS)
        for x, pieces in _over(frame, plan, parts, x0, x1):
            middle = (max(x, x0) + min(x + frame.t, x1)) / 2.0
            line = (
                frame.at(middle, frame.face, frame.under),
                frame.at(middle, top.hinge, frame.under),
            )
            for piece in pieces:
                meet(draft, (name, piece), line, DOWN, None, JointKind.RESTS)
        _knee(draft, name, (_clear(plan, x0, x1), top.hinge - frame.face), "all")
        total += x1 - x0
    count = len(edges) - 1
    hinge = draft.setting.catalogue.articles["strip hinge"]
    draft.buy("strip hinge", math.ceil(total / (hinge.length or 1000.0)), "lids")
    screws = 2 * count + 2 * math.ceil(total / HINGE_SCREW_SPACING)
    draft.buy("wood screw 3.5 x 16", screws + 4 * count, "lids")
    draft.buy("lid stay", count, "lids")


def _lid(draft: Draft, frame: Frame, top: Top, name: str, x: tuple[float, float]) -> None:
    """One lid with its finger hole and its swing."""
    board = draft.board("lid")
    s1 = top.hinge - LID_GAP
    # As it lifts, the lower edge swings out beyond where the lid lies.
    width = s1 - frame.inner
    swing = math.hypot(width, board.thickness) - width
    s0 = frame.inner + swing + frame.rules.moving + SURPLUS
    size = (x[1] - x[0], s1 - s0)
    placement = frame.lying(x[0], (s0, s1), frame.under)
    panel = draft.panel(
        name,
        board,
        size,
        placement,
        grain=Grain.ALONG_U,
        edging="inner edge rounded",
        moves=name,
    )
    length, width = min(FINGER_HOLE[0], size[0] / 3.0), FINGER_HOLE[1]
    middle = frame.at((x[0] + x[1]) / 2.0, frame.face + FINGER_ROOM + width / 2.0, frame.under)
    draft.cut_out(name, [hand_hole(*panel.local(middle), length, width)])
    draft.motions.append(
        Motion(
            name=name,
            module=draft.name,
            kind=MotionKind.HINGE,
            # Seen along the axis the lid's inner edge rises.
            direction=(-1.0, 0.0, 0.0) if frame.side == "left" else (1.0, 0.0, 0.0),
            point=frame.at(x[0], s1, frame.z1),
            travel=lid_opens(frame, x, s1, size[1]),
        )
    )


def _knee(draft: Draft, panel: str, spans: tuple[float, float], edges: Edges) -> None:
    draft.plates.append(
        PlateDuty(
            panel=f"{draft.name}/{panel}",
            load_kg=0.0,
            spans=spans,
            edges=edges,
            purpose="a knee on the deck",
            patch=True,
        )
    )
