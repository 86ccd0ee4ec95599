"""The top of a side bin: strip along the wall, rail, lids; or one fixed panel."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass

from fitout.mechanics.plates import Edges
from fitout.model.module import JointKind, Motion, MotionKind, PlateDuty
from fitout.model.panel import Grain
from fitout.modules.bin_plan import Frame, Plan, Top, lid_opens, rail_height
from fitout.modules.fitting import meet
from fitout.modules.joinery import Draft, hand_hole
from fitout.modules.scribe import flat_edge, flat_outline

DOWN = (0.0, 0.0, -1.0)

LID_INSET = 1.0
"""How far lids stay back from the bin's sides: a lid swings out a little as it lifts, mm."""

LID_GAP = 2.0
"""Gap between a lid and the strip it is hinged to, mm (common practice)."""

SEAM_GAP = 3.0
"""Gap between two lids, mm (common practice)."""

FINGER_HOLE = (80.0, 24.0)
"""Length and width of the hole a lid is lifted by, mm (common practice)."""

FINGER_ROOM = 15.0
"""Distance of the finger hole from the inner wall, so that fingers get under the lid, mm."""

HINGE_SCREW_SPACING = 60.0
"""Distance between the screws of each leaf of the hinge, mm (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """Names of what the top rests on: pieces of the inner wall, pieces of each upright."""

    walls: tuple[str, ...]
    uprights: tuple[tuple[str, ...], ...]


def add_top(
    draft: Draft, frame: Frame, plan: Plan, parts: Parts, top: Top, suffix: str = ""
) -> None:
    """Rail, strip and lids over one stretch, or rail and a fixed panel."""
    rails = _rails(draft, frame, plan, parts, top, suffix)
    fixed = ("strip" if top.lids else "top") + suffix
    start = top.hinge if top.lids else frame.inner
    widest = _scribed(draft, frame, top, fixed, start)
    for x, pieces in _over(frame, plan, parts, top.x0, top.x1):
        line = (
            frame.at(x + frame.t / 2.0, start, frame.under),
            frame.at(x + frame.t / 2.0, widest, frame.under),
        )
        for piece in pieces:
            meet(draft, (fixed, piece), line, DOWN)
    middle = frame.t / 2.0
    beams = [(rail, top.hinge + middle) for rail in rails]
    if not top.lids:
        beams += [(wall, frame.inner + middle) for wall in parts.walls]
    for beam, s in beams:
        line = frame.at(top.x0, s, frame.under), frame.at(top.x1, s, frame.under)
        meet(draft, (fixed, beam), line, DOWN)
    if top.lids:
        _lids(draft, frame, plan, parts, top, fixed)
        return
    held = len(rails) == sum(top.x0 <= c.x0 and c.x1 <= top.x1 for c in plan.compartments)
    spans = (_clear(plan, top.x0, top.x1), (top.hinge if held else widest) - frame.face)
    _knee(draft, fixed, spans, "all" if held else "u ends")


def _scribed(draft: Draft, frame: Frame, top: Top, name: str, start: float) -> float:
    """The fixed panel from `start` to the wall; returns how far out it reaches."""
    box = frame.berth(frame.box((top.x0, top.x1), (frame.under, frame.z1), start))
    gap = frame.rules.scribed
    widest = max(s for _, s in flat_edge(frame.bay, frame.side, box, gap))
    placement = frame.lying(top.x0, (start, widest), frame.under)
    outline = flat_outline(frame.bay, frame.side, box, placement, gap)
    draft.panel(name, draft.board("lid"), outline, placement, grain=Grain.ALONG_U, scribed=True)
    return widest


def _rails(
    draft: Draft, frame: Frame, plan: Plan, parts: Parts, top: Top, suffix: str
) -> tuple[str, ...]:
    """Rails under the hinge line from upright to upright, but for places kept clear."""
    names: list[str] = []
    for index, c in enumerate(plan.compartments):
        height = rail_height(frame, c, top.hinge)
        if c.x0 < top.x0 or c.x1 > top.x1 or height is None:
            continue
        name, z = f"rail{suffix} {index + 1}", frame.under - height
        placement = frame.facing_middle(top.hinge + frame.t, z, (c.x0, c.x1))
        size = (c.x1 - c.x0, height)
        draft.panel(name, draft.board("carcass"), size, placement, grain=Grain.ALONG_U)
        middle = top.hinge + frame.t / 2.0
        for beside, x, into in ((index, c.x0, 1.0), (index + 1, c.x1, -1.0)):
            line = frame.at(x, middle, z), frame.at(x, middle, frame.under)
            end = beside in (0, len(plan.uprights) - 1)
            for upright in parts.uprights[beside]:
                if end:
                    meet(draft, (upright, name), line, (into, 0.0, 0.0))
                else:
                    meet(draft, (upright, name), line, (into, 0.0, 0.0), None)
        names.append(name)
    return tuple(names)


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


def _lids(draft: Draft, frame: Frame, plan: Plan, parts: Parts, top: Top, strip: str) -> None:
    """Plain lids from the inner wall's face to the hinge line, side by side."""
    ends = [top.x0, *top.seams, top.x1]
    total = 0.0
    for number, (a, b) in enumerate(itertools.pairwise(ends), start=1):
        x0 = a + (LID_INSET if a == top.x0 else SEAM_GAP / 2.0)
        x1 = b - (LID_INSET if b == top.x1 else SEAM_GAP / 2.0)
        ending = strip.removeprefix("strip")
        name = f"lid{ending}" + (f" {number}" if len(ends) > 2 else "")
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
    count = len(ends) - 1
    hinge = draft.setting.catalogue.articles["strip hinge"]
    draft.buy("strip hinge", math.ceil(total / (hinge.length or 1000.0)), "lids")
    screws = 2 * count + 2 * math.ceil(total / HINGE_SCREW_SPACING)
    draft.buy("wood screw 3.5 x 16", screws + 4 * count, "lids")
    draft.buy("lid stay", count, "lids")


def _lid(draft: Draft, frame: Frame, top: Top, name: str, x: tuple[float, float]) -> None:
    """One lid with its finger hole and its swing."""
    s0, s1 = frame.inner + LID_INSET, top.hinge - LID_GAP
    size = (x[1] - x[0], s1 - s0)
    placement = frame.lying(x[0], (s0, s1), frame.under)
    board = draft.board("lid")
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
