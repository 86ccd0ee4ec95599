"""The top of a side bin: strip along the wall, rails, lids; or one fixed panel.

The lids hang on a strip hinge that lies on the upper faces of lid and strip; see
`strip_hinge`. A rail under the hinge line carries both, and cross rails from the inner wall
to it carry what the uprights leave too long a span; see `bin_supports`.
"""

from __future__ import annotations

import dataclasses
import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fitout.mechanics.plates import Edges
from fitout.model.module import JointKind, Motion, MotionKind, PlateDuty
from fitout.model.panel import Grain
from fitout.model.placement import across, opposite
from fitout.modules.bin_lids import Top, hinge_line, lid_opens, rail_height
from fitout.modules.bin_plan import LEAST_SLOT, Frame, Plan
from fitout.modules.bin_supports import (
    Field,
    bent_spans,
    compartments_in,
    crossings,
    fields_of,
    overhang,
)
from fitout.modules.fitting import SAMPLE, SHORTEST_ROW, meet
from fitout.modules.joinery import CARCASS_SCREW, Draft, hand_hole
from fitout.modules.neighbours import box_of
from fitout.modules.scribe import flat_edge, flat_outline
from fitout.modules.strip_hinge import buy_hinges, drill_hinge
from fitout.survey.room import arch_top

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

TO_RAILS_EDGE = 5.0
"""From a rail's lower edge to where the row of screws into its end begins, mm."""

ABUTS = 1.0
"""What is nearer than this counts as touching, mm."""

FINGERS_TO_RAIL = 5.0
"""Least distance along a lid from its finger hole to what is below, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """Names of what the top rests on: pieces of the inner wall, of each upright, rails.

    With the rails stand the stretches they reach over, with the cross rails where they begin.
    """

    walls: tuple[str, ...]
    uprights: tuple[tuple[str, ...], ...]
    rails: tuple[str, ...] = ()
    railed: tuple[tuple[float, float], ...] = ()
    crosses: tuple[tuple[float, str], ...] = ()


def add_rails(
    draft: Draft, frame: Frame, plan: Plan, parts: Parts, stretch: tuple[float, float]
) -> Parts:
    """The parts with rails under the hinge line from upright to upright, and cross rails."""
    hinge = hinge_line(frame, *stretch)
    rails: dict[tuple[float, float], str] = {}
    for c in compartments_in(plan, stretch):
        height = rail_height(frame, c, hinge)
        if height is None:
            continue
        index = plan.compartments.index(c)
        name, z = f"rail {index + 1}", frame.under - height
        placement = frame.facing_middle(hinge + frame.t, z, (c.x0, c.x1))
        size = (c.x1 - c.x0, height)
        draft.panel(name, draft.board("carcass"), size, placement, grain=Grain.ALONG_U)
        middle = hinge + frame.t / 2.0
        low, high = _below_the_tops(draft, frame, z)
        for beside, x, into in ((index, c.x0, 1.0), (index + 1, c.x1, -1.0)):
            line = frame.at(x, middle, low), frame.at(x, middle, high)
            # Both rails at a divider would need their screws in the same place.
            screw = CARCASS_SCREW if beside in (0, len(plan.uprights) - 1) else None
            for upright in parts.uprights[beside]:
                meet(draft, (upright, name), line, (into, 0.0, 0.0), screw)
        rails[c.x0, c.x1] = name
    held = dataclasses.replace(parts, rails=tuple(rails.values()), railed=tuple(rails))
    crosses = []
    for c, x in crossings(frame, plan, stretch, draft.board("lid")):
        height = draft.panels[rails[c.x0, c.x1]].outline.size[1]
        cross = _cross_rail(draft, frame, held, (x, hinge, height), rails[c.x0, c.x1])
        if cross is not None:
            crosses.append((x, cross))
    return dataclasses.replace(held, crosses=tuple(crosses))


def _below_the_tops(draft: Draft, frame: Frame, z: float) -> tuple[float, float]:
    """Where screws go into the end of a rail that begins at height z.

    Those through the top come down in the middle of the same edge: the ends' stay beneath them
    where the rail is high enough.
    """
    screw = draft.setting.catalogue.articles[CARCASS_SCREW].length or 0.0
    low, high = z + TO_RAILS_EDGE, frame.under - (screw - draft.board("lid").thickness)
    return (low, high) if high - low >= SHORTEST_ROW + 2.0 * SAMPLE else (z, frame.under)


def _cross_rail(
    draft: Draft, frame: Frame, parts: Parts, at: tuple[float, float, float], rail: str
) -> str | None:
    """A rail from the inner wall to the one under the hinge line; `at`: x, hinge line, height.

    Returns its name; None where the inner wall leaves it nothing to be screwed to.
    """
    x, hinge, height = at
    name, z = _next(draft, "cross rail"), frame.under - height
    placement = across(x, min(frame.y(frame.face), frame.y(hinge)), z)
    size = (hinge - frame.face, height)
    draft.panel(name, draft.board("carcass"), size, placement, grain=Grain.ALONG_U)
    middle = x + frame.t / 2.0
    line = frame.at(middle, frame.face, z), frame.at(middle, frame.face, frame.under)
    met = [meet(draft, (wall, name), line, frame.outwards) for wall in parts.walls]
    if not any(met):
        draft.withdraw(name)
        return None
    line = frame.at(middle, hinge, z), frame.at(middle, hinge, frame.under)
    meet(draft, (rail, name), line, opposite(frame.outwards))
    return name


def add_top(
    draft: Draft, frame: Frame, plan: Plan, parts: Parts, top: Top, ends: tuple[float, float]
) -> bool:
    """Strip and lids, or a fixed panel; `ends` are those of the whole stretch.

    Returns False where the wheel arch leaves no room for a top.
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
    crosses = {name for _, name in parts.crosses}
    for at, pieces in _over(frame, plan, parts, *x):
        middle = (max(at, x[0]) + min(at + frame.t, x[1])) / 2.0
        line = frame.at(middle, start, frame.under), frame.at(middle, widest, frame.under)
        for piece in pieces:
            # A cross rail ends at the rail, under the strip's very edge.
            if not meet(draft, (fixed, piece), line, DOWN) and piece in crosses:
                draft.join(fixed, piece, JointKind.FITTED)
    beams = [(rail, top.hinge + frame.t / 2.0) for rail in parts.rails]
    if not top.lids:
        beams += [(wall, frame.inner + frame.t / 2.0) for wall in parts.walls]
    for beam, s in beams:
        line = frame.at(x[0], s, frame.under), frame.at(x[1], s, frame.under)
        meet(draft, (fixed, beam), line, DOWN)
    # What only its ends or corners touch is too short a line for `meet`.
    for name in (*parts.rails, *(p for pieces in parts.uprights for p in pieces)):
        if _abuts(draft, fixed, name):
            draft.join(fixed, name, JointKind.FITTED)
    outer = overhang(frame, plan, x, parts.railed, top.hinge)
    if outer is not None:
        _knee(draft, fixed, outer, "u ends")
    if top.lids:
        _lids(draft, frame, plan, parts, top, ends)
        return True
    supports = [at for at, _ in _over(frame, plan, parts, *x)]
    widths = top.hinge - frame.face, widest - frame.inner
    for spans, edges in bent_spans(fields_of(supports, frame.t, x, parts.railed), widths):
        _knee(draft, fixed, spans, edges)
    return True


def arch_beneath(frame: Frame, top: Top) -> bool:
    """Whether the wheel arch comes nearer to lids, which are not scribed, than a wall may."""
    height = arch_top(frame.bay, frame.side, top.x0, top.x1)
    inner = frame.bay.arches[frame.side][1] if height is not None else math.inf
    return height is not None and inner < top.hinge and height + frame.rules.wall > frame.under


def _abuts(draft: Draft, fixed: str, other: str) -> bool:
    """Whether a piece of the top comes up to a part below it without being joined to it yet."""
    a, b = draft.panels[fixed], draft.panels[other]
    if any({joint.a, joint.b} == {a.id, b.id} for joint in draft.joints):
        return False
    p, q = box_of(a), box_of(b)
    apart = (p.x0 - q.x1, q.x0 - p.x1, p.y0 - q.y1, q.y0 - p.y1, p.z0 - q.z1, q.z0 - p.z1)
    return max(apart) < ABUTS


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
    """The uprights and cross rails under a stretch: where each begins, and its pieces."""
    crosses = [(x, (name,)) for x, name in parts.crosses]
    for x, pieces in [*zip(plan.uprights, parts.uprights, strict=True), *crosses]:
        if x < x1 - 1e-6 and x + frame.t > x0 + 1e-6:
            yield x, pieces


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
        x0, x1 = _beside(frame, [*plan.uprights, *(x for x, _ in parts.crosses)], (x0, x1))
        below = list(_over(frame, plan, parts, x0, x1))
        supports = [at for at, _ in below]
        _lid(draft, frame, top, (name, x0, x1), supports)
        draft.join(name, strip, JointKind.HINGED)
        for wall in parts.walls:
            middle = frame.inner + frame.t / 2.0
            line = frame.at(x0, middle, frame.under), frame.at(x1, middle, frame.under)
            meet(draft, (name, wall), line, DOWN, None, JointKind.RESTS)
        for x, pieces in below:
            middle = (max(x, x0) + min(x + frame.t, x1)) / 2.0
            line = (
                frame.at(middle, frame.face, frame.under),
                frame.at(middle, top.hinge, frame.under),
            )
            for piece in pieces:
                meet(draft, (name, piece), line, DOWN, None, JointKind.RESTS)
        fields = fields_of(supports, frame.t, (x0, x1), ((x0, x1),))
        _lid_duty(draft, name, fields, (x1 - x0, top.hinge - frame.face))
        axis = top.hinge - LID_GAP / 2.0
        line = frame.at(x0, axis, frame.z1), frame.at(x1, axis, frame.z1)
        total += drill_hinge(draft, (name, strip), line, opposite(frame.outwards))
    buy_hinges(draft, total)


def _beside(frame: Frame, supports: Sequence[float], x: tuple[float, float]) -> tuple[float, float]:
    """A lid's ends, moved to swing clear of what ends just beside them."""
    x0, x1 = x
    clear = frame.rules.moving + SURPLUS
    for at in supports:
        if x0 - clear < at + frame.t <= x0 + 1e-6:
            x0 = at + frame.t + clear
        if x1 - 1e-6 <= at < x1 + clear:
            x1 = at - clear
    return x0, x1


def _lid_duty(draft: Draft, name: str, fields: Sequence[Field], spans: tuple[float, float]) -> None:
    """What a lid bears: held all round, or with an end that nothing is under, by its sides."""
    if all(field.held or field.length <= LEAST_SLOT for field in fields):
        longest = max((field.length for field in fields), default=spans[0])
        _knee(draft, name, (longest, spans[1]), "all")
    else:
        _knee(draft, name, spans, "v ends")


def _lid(
    draft: Draft,
    frame: Frame,
    top: Top,
    lid: tuple[str, float, float],
    supports: Sequence[float],
) -> None:
    """One lid, by its name and ends, with its finger hole and its swing."""
    board = draft.board("lid")
    name, x = lid[0], lid[1:]
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
    length, across_it = min(FINGER_HOLE[0], size[0] / 3.0), FINGER_HOLE[1]
    place = _finger_place(x, length, [(at, at + frame.t) for at in supports])
    middle = frame.at(place, frame.face + FINGER_ROOM + across_it / 2.0, frame.under)
    draft.cut_out(name, [hand_hole(*panel.local(middle), length, across_it)])
    draft.motions.append(
        Motion(
            name=name,
            module=draft.name,
            kind=MotionKind.HINGE,
            # Seen along the axis the lid's inner edge rises.
            direction=(-1.0, 0.0, 0.0) if frame.side == "left" else (1.0, 0.0, 0.0),
            point=frame.at(x[0], s1, frame.z1),
            travel=lid_opens(frame, x, s1, size[1]),
            stop="the lid stay",
        )
    )


def _finger_place(
    x: tuple[float, float], length: float, below: Sequence[tuple[float, float]]
) -> float:
    """Where along a lid its finger hole goes: in the middle, or the nearest place to it free."""
    middle, reach = (x[0] + x[1]) / 2.0, length / 2.0 + FINGERS_TO_RAIL
    beside = [place for a, b in below for place in (a - reach, b + reach)]
    places = [middle, *sorted(beside, key=lambda place: abs(place - middle))]
    for place in places:
        inside = x[0] + reach <= place <= x[1] - reach
        if inside and all(place + reach <= a + 1e-6 or place - reach >= b - 1e-6 for a, b in below):
            return place
    return middle


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
