"""Whether a latch sits as it should: read from the built panels, not from how it was placed.

Everything is measured from where the two panels lie and from the holes they have: whether
case and striker lie on faces, which part the striker moves with, how far the bolt reaches
behind the lip, and whether the lip stands in the way the panel opens.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from fitout.model.item import Piece
from fitout.model.latch import Latch
from fitout.model.module import Motion, MotionKind, Part
from fitout.model.panel import Panel
from fitout.model.placement import Vector, opposite

ON_FACE = 0.1
"""How far case and striker may lie off the face they are bolted to, mm: rounding."""

IN_PLACE = 0.3
"""How far a hole may lie from where it should, mm: half the play of an M4 bolt in its hole."""

LEAST_BOLT_HOLE = 4.3
"""The narrowest hole an M4 bolt passes, mm: ISO 273, close fit."""

MOST_PLAY = 1.5
"""How far the panel may move before the bolt meets the lip, mm (common practice)."""

LEAST_RUN = 1.5
"""Least gap between the case's end and the lip that passes it, mm (common practice)."""

LEVER = 12.0
"""How far a lever reaches beside its case, mm (common practice)."""

FINGER = 25.0
"""Room a finger takes beside and behind a lever, mm (common practice)."""

HAND = 40.0
"""Room fingers take round a button and in front of it, mm (common practice)."""

Span = tuple[float, float]

SQUARE = 0.9
"""Cosine of the angle by which the lip may be askew to the way the bolt leaves."""


@dataclass(frozen=True, slots=True)
class Meeting:
    """How bolt and lip stand to each other, mm.

    `engagement` is how much of the bolt is behind the lip, 0 or less where it misses it;
    `beside` how much of the bolt's width stands out beside the lip; `play` how far the panel
    moves until they touch; `run` what is between the case's end and the lip.
    """

    engagement: float
    beside: float
    play: float
    run: float


def meeting(latch: Latch) -> Meeting:
    """Bolt and lip compared along the latch's own three directions."""
    axes = np.array([latch.across, latch.throw, latch.normal]).T
    bolt, lip = np.array(latch.bolt) @ axes, np.array(latch.lip) @ axes
    low, high = np.maximum(bolt.min(0), lip.min(0)), np.minimum(bolt.max(0), lip.max(0))
    return Meeting(
        engagement=float(high[1] - low[1]),
        beside=float(np.ptp(bolt[:, 0]) - (high[0] - low[0])),
        play=float(bolt[:, 2].min() - lip[:, 2].max()),
        run=float(lip[:, 1].min() - bolt[:, 1].min()),
    )


def faults(latch: Latch, motion: Motion, panels: Mapping[str, Part]) -> Iterator[str]:
    """What is wrong with a latch, each as the end of a sentence that names it."""
    moving, still = panels.get(latch.panel), panels.get(latch.striker_panel)
    if not isinstance(moving, Panel) or moving.moves != motion.name:
        yield f"is screwed to {latch.panel}, which does not move with it"
        return
    if not isinstance(still, Panel):
        yield f"has no striker: there is no panel {latch.striker_panel!r} for it"
        return
    if still.module == moving.module and still.moves == moving.moves:
        yield f"has its striker on {still.id}, which moves with it"
        return
    yield from _places(latch, motion, (moving, still))
    yield from _holes(latch, panels)
    yield from _thickness(latch, panels, still)
    if latch.lever is not None and not _lever_is_reached(latch, moving):
        yield "has a lever that no finger hole leads to"


def _places(latch: Latch, motion: Motion, panels: tuple[Panel, Panel]) -> Iterator[str]:
    """Case and striker on the panels' faces; the lip where the bolt would leave."""
    moving, still = panels
    for what, panel, point, normal in (
        ("case", moving, latch.root, latch.normal),
        ("striker", still, latch.strikes, opposite(latch.throw)),
    ):
        off = _off_face(panel, point, normal)
        if off > ON_FACE:
            yield f"has its {what} {off:.1f} mm off the face of {panel.id}"
    way = _way(motion, latch.root)
    if -float(np.dot(way, latch.normal)) < SQUARE:
        yield f"has its lip on the wrong side: {motion.id} opens past it"
    met = meeting(latch)
    if met.beside > ON_FACE:
        yield f"has {met.beside:.1f} mm of its bolt beside the striker's lip"
    if not -ON_FACE <= met.play <= MOST_PLAY:
        yield f"has {met.play:.1f} mm between bolt and lip, where 0 to {MOST_PLAY:g} are wanted"
    if met.run < LEAST_RUN:
        yield f"has only {met.run:.1f} mm between its case and the lip it passes"


def _off_face(panel: Panel, point: Vector, normal: Vector) -> float:
    """How far a point lies off the panel's face that looks along `normal`, mm."""
    place = panel.placement
    along = float(np.dot(place.w, normal))
    if abs(abs(along) - 1.0) > 1e-6:
        return math.inf
    height = float(np.dot(np.subtract(point, place.origin), place.w))
    return abs(height - (panel.thickness if along > 0.0 else 0.0))


def _way(motion: Motion, point: Vector) -> Vector:
    """The unit vector a point starts along when the motion opens."""
    if motion.kind is not MotionKind.HINGE:
        return motion.direction
    way = np.cross(motion.direction, np.subtract(point, motion.point))
    x, y, z = (way / np.linalg.norm(way)).tolist()
    return x, y, z


def _holes(latch: Latch, panels: Mapping[str, Part]) -> Iterator[str]:
    """Holes that case, striker and button need and their panels don't have."""
    wanted = [(latch.panel, p, LEAST_BOLT_HOLE, "case") for p in latch.case_holes]
    wanted += [(latch.striker_panel, p, LEAST_BOLT_HOLE, "striker") for p in latch.striker_holes]
    button = latch.type.clearance_hole or 0.0
    wanted += [(id_, latch.button, button, "button") for id_ in latch.passes]
    for id_, point, diameter, what in wanted:
        panel = panels[id_]
        assert isinstance(panel, Panel)
        u, v = panel.local(point)
        if not any(
            hole.depth is None
            and hole.diameter >= diameter
            and math.hypot(hole.x - u, hole.y - v) <= IN_PLACE
            for hole in panel.holes
        ):
            yield f"has no hole for its {what} in {id_}, where there should be one {u:.1f}, {v:.1f}"


def passed(latch: Latch, panels: Mapping[str, Part]) -> float:
    """How much board case or button sit on or pass, mm."""
    boards = [panels[id_] for id_ in latch.passes or (latch.panel,)]
    return sum(p.thickness for p in boards if isinstance(p, Panel))


def _thickness(latch: Latch, panels: Mapping[str, Part], still: Panel) -> Iterator[str]:
    """Panels too thin or too thick for case or striker."""
    kind, thick = latch.type, passed(latch, panels)
    if not kind.least_panel <= thick <= kind.most_panel:
        yield (
            f"is on {thick:.1f} mm of board, and a {kind.key} serves {kind.least_panel:g} to "
            f"{kind.most_panel:g} mm"
        )
    if still.thickness < latch.striker.least_panel:
        yield (
            f"has its striker on {still.id}, {still.thickness:g} mm thick, and it needs "
            f"{latch.striker.least_panel:g} mm"
        )


def hand_room(latch: Latch, thick: float) -> Piece:
    """Where fingers go: behind the finger hole beside the case, or round the button in front.

    `thick` is what the button passes, mm.
    """
    back = -latch.type.backset
    if latch.lever is not None:
        near = _side(latch) * (latch.type.width or 0.0) / 2.0
        far = near + _side(latch) * FINGER
        return _block(latch, (near, far), (back - FINGER / 2.0, back + FINGER / 2.0), (0.0, FINGER))
    half = HAND / 2.0
    return _block(latch, (-half, half), (back - half, back + half), (-thick - HAND, -thick))


def knob(latch: Latch, thick: float) -> Piece:
    """What of a button stands out in front while it is shut; `thick` is what it passes, mm."""
    half = (latch.type.clearance_hole or 0.0) / 2.0
    back, out = -latch.type.backset, latch.type.stands_out
    return _block(latch, (-half, half), (back - half, back + half), (-thick - out, -thick))


def _block(latch: Latch, across: Span, throw: Span, normal: Span) -> Piece:
    return tuple(latch.on_case(a, b, c) for a in across for b in throw for c in normal)


def _side(latch: Latch) -> float:
    """On which side of the case the lever is, seen along `across`."""
    return 1.0 if np.dot(latch.lever or latch.across, latch.across) > 0.0 else -1.0


def _lever_is_reached(latch: Latch, panel: Panel) -> bool:
    """Whether the panel is cut out beside the case, as far as a lever reaches."""
    reach = (latch.type.width or 0.0) / 2.0 + LEVER
    u, v = panel.local(latch.on_case(_side(latch) * reach, -latch.type.backset))
    return any(_in_bounds(loop.bounds, u, v) for loop in panel.outline.inner)


def _in_bounds(bounds: tuple[float, float, float, float], u: float, v: float) -> bool:
    return bounds[0] <= u <= bounds[2] and bounds[1] <= v <= bounds[3]
