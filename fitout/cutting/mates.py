"""Which stretches of a small part's edge stand against another part.

A tab leaves a stub to be trimmed off, so it stands where nothing meets the edge, if it can.
An edge is held to meet whatever lies within a millimetre of it, the bottom of a groove too.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from fitout.cutting.bodies import Body, block_round, meeting
from fitout.cutting.cut_list import CutLine, CutList
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Point
from fitout.model.panel import Bar, Panel

OFF = (0.2, 0.9)
"""So far off the edge bodies are looked for, mm."""

DEPTHS = (0.15, 0.5, 0.85)
"""Where through the thickness, as shares."""

STEP = 8.0
"""An edge is looked at in stretches about so long, mm."""


def mated(cuts: CutList, bodies: Sequence[Panel | Bar], spec: CuttingSpec) -> CutList:
    """The cut list, its small routed parts with the stretches of their edges that meet others."""
    held = [Body(body) for body in bodies]
    lines = []
    for line in cuts.lines:
        own = spec.of(line.board.key)
        small = max(line.length, line.width) < own.tabs.below
        asks = own.by == "router" and small and own.skin == 0.0
        lines.append(dataclasses.replace(line, mates=tuple(_mates(line, held))) if asks else line)
    return dataclasses.replace(cuts, lines=tuple(lines))


def _mates(line: CutLine, bodies: Sequence[Body]) -> Iterator[tuple[Point, Point]]:
    """The stretches of straight edge that meet a body at any of the part's panels."""
    others = [(panel, _beside(panel, bodies)) for panel in line.panels]
    for a, b in line.panel.outline.outer.anticlockwise().segments():
        run = math.hypot(b.x - a.x, b.y - a.y)
        if a.bulge or run < STEP:
            continue
        count = math.ceil(run / STEP)
        ends = [(a.x + (b.x - a.x) * i / count, a.y + (b.y - a.y) * i / count)
                for i in range(count + 1)]  # fmt: skip
        outwards = ((b.y - a.y) / run, (a.x - b.x) / run)
        start: Point | None = None
        for here, there in pairwise(ends):
            middle = ((here[0] + there[0]) / 2.0, (here[1] + there[1]) / 2.0)
            meets = _meets(others, line.thickness, middle, outwards)
            if meets and start is None:
                start = here
            elif not meets and start is not None:
                yield start, here
                start = None
        if start is not None:
            yield start, ends[-1]


def _beside(panel: Panel, bodies: Sequence[Body]) -> list[Body]:
    """The bodies that its edges may meet."""
    (x0, y0, z0), (x1, y1, z1) = Body(panel).block
    off = OFF[-1]
    grown = (x0 - off, y0 - off, z0 - off), (x1 + off, y1 + off, z1 + off)
    return [body for body in meeting(bodies, grown) if body.part.id != panel.id]


def _meets(
    others: Sequence[tuple[Panel, Sequence[Body]]], thick: float, at: Point, outwards: Point
) -> bool:
    """Whether anything beside one of the panels stands against their edge at a place."""
    spots = [
        (at[0] + off * outwards[0], at[1] + off * outwards[1], depth * thick)
        for off in OFF
        for depth in DEPTHS
    ]
    for panel, beside in others:
        places = [panel.placement.at(*spot) for spot in spots]
        for body in meeting(beside, block_round(places)):
            if any(body.holds(place) for place in places):
                return True
    return False
