"""What holds up a side bin's shelves and top, so near each other that they bear a knee.

    seen from above, the wall at the top

          |   strip                |   top   |
          |------------------------|---------|  hinge line, a rail below it
          |u        lid           c|c        |u   u upright, c cross rail
          +-----------------------------------  inner wall

Where a rail runs under the hinge line, cross rails from the inner wall to it carry the top
between the uprights and part nothing off. Where there is none, more uprights stand there.
Shelves are held by uprights alone. A board of unknown stiffness is left to the checks.
"""

from __future__ import annotations

import dataclasses
import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from fitout.mechanics.boards import KNEE
from fitout.mechanics.plates import Edges
from fitout.model.stock import Board
from fitout.modules.bin_lids import LONGEST_FIXED, Top, hinge_line, rail_height, stretches, tops_of
from fitout.modules.bin_plan import (
    LEAST_SLOT,
    Box,
    Compartment,
    Frame,
    Plan,
    bottom_reach,
    with_uprights,
)
from fitout.modules.knee import MOST_FIELDS, bears_knee, fields_for, parted
from fitout.modules.scribe import flat_edge

LONGEST_OVERHANG = 90.0
"""How far the top may stand out beyond the rail, mm (common practice)."""

LEAST_BESIDE_RAIL = 10.0
"""Least room between a cross rail and the upright beside it, mm."""

Stretch = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bearing:
    """The boards of top and shelves, and what a shelf carries, kg; `covered`: there is a top."""

    top: Board
    shelf: Board
    carries_kg: float
    covered: bool


@dataclass(frozen=True, slots=True)
class Field:
    """A stretch of the top between two supports: its length, whether both are there, a rail."""

    length: float
    held: bool
    rail: bool


def stiffened(frame: Frame, plan: Plan, bearing: Bearing) -> Plan:
    """The plan with as many more uprights as shelves, and tops without a rail, need."""
    if bearing.covered:
        plan = with_uprights(frame, plan, tuple(_seam_uprights(frame, plan, bearing.top)))
    more: list[float] = []
    top_fields = dict(_top_fields(frame, plan, bearing.top)) if bearing.covered else {}
    for index, c in enumerate(plan.compartments):
        count = max(_shelf_fields(frame, c, bearing), top_fields.get(index, 1))
        more += parted(c.x0, c.x1, count, frame.t)
    return with_uprights(frame, plan, more)


def _shelf_fields(frame: Frame, c: Compartment, bearing: Bearing) -> int:
    if not c.shelf:
        return 1

    def width(x0: float, x1: float) -> float:
        reach = bottom_reach(frame, dataclasses.replace(c, x0=x0, x1=x1))
        return 0.0 if reach is None else reach - frame.face

    return _fields(frame, c, bearing.shelf, width, bearing.carries_kg)


def _seam_uprights(frame: Frame, plan: Plan, board: Board) -> Iterator[float]:
    """Uprights under the ends of lids and fixed pieces, where no rail could carry a cross rail."""
    for stretch, c, tops in _tops_over(frame, plan):
        hinge = hinge_line(frame, *stretch)
        if rail_height(frame, c, hinge) is not None or _strip_bears(frame, board, hinge):
            continue
        for seam in _seams_in(c, tops):
            x = seam - frame.t / 2.0
            if c.x0 + LEAST_SLOT < x < c.x1 - frame.t - LEAST_SLOT:
                yield x


def _top_fields(frame: Frame, plan: Plan, board: Board) -> Iterator[tuple[int, int]]:
    """Into how many fields the top asks to part compartments, by the compartment's index."""
    for stretch, c, tops in _tops_over(frame, plan):
        hinge = hinge_line(frame, *stretch)
        reach = widest_top(frame, (c.x0, c.x1))
        railed = rail_height(frame, c, hinge) is not None
        fixed = any(_covers(top, c) for top in tops if not top.lids)
        counts = [math.ceil((c.x1 - c.x0) / LONGEST_FIXED)] if fixed else [1]
        alone = fixed and not railed
        if not railed or reach - hinge - frame.t > LONGEST_OVERHANG:
            width = partial(_top_width, frame, frame.inner if alone else hinge)
            counts.append(_fields(frame, c, board, width))
        yield plan.compartments.index(c), max(counts)


def _top_width(frame: Frame, start: float, x0: float, x1: float) -> float:
    """How wide the top is over a stretch, from a distance off the centre line to the wall."""
    return widest_top(frame, (x0, x1)) - start


def _fields(
    frame: Frame,
    c: Compartment,
    board: Board,
    width: Callable[[float, float], float],
    carries_kg: float = 0.0,
) -> int:
    """Into how many fields a piece held at its ends alone must be parted.

    `width` tells how wide it is between two stations: along the wall it changes.
    """
    for count in range(1, MOST_FIELDS + 1):
        starts = parted(c.x0, c.x1, count, frame.t)
        fields = zip([c.x0, *(x + frame.t for x in starts)], [*starts, c.x1], strict=True)
        spans = [(b - a, width(a, b)) for a, b in fields]
        if all(
            across <= 0.0
            or bears_knee(board, (length, across), "u ends", grain_along_u=True, load_kg=carries_kg)
            is not False
            for length, across in spans
        ):
            return count
    return MOST_FIELDS


def _covers(top: Top, c: Compartment) -> bool:
    """Whether a piece of the top lies over a compartment, but for the gap at a seam."""
    return top.x0 < c.x0 + LEAST_SLOT and top.x1 > c.x1 - LEAST_SLOT


def _tops_over(frame: Frame, plan: Plan) -> Iterator[tuple[Stretch, Compartment, tuple[Top, ...]]]:
    """Each compartment under the top, with its stretch and all pieces of that."""
    for stretch in stretches(frame, plan):
        tops = tops_of(frame, plan, *stretch)
        for c in compartments_in(plan, stretch):
            yield stretch, c, tops


def compartments_in(plan: Plan, stretch: Stretch) -> list[Compartment]:
    """The compartments under a stretch of the top."""
    return [c for c in plan.compartments if c.x0 >= stretch[0] and c.x1 <= stretch[1]]


def _seams_in(c: Compartment, tops: Sequence[Top]) -> list[float]:
    """Where lids and fixed pieces meet between the uprights of a compartment."""
    return [top.x0 for top in tops[1:] if c.x0 < top.x0 < c.x1]


def _strip_bears(frame: Frame, board: Board, hinge: float) -> bool:
    """Whether a knee's width of the top bears it alone from inner wall to hinge line."""
    width = hinge - frame.face
    return (
        width <= 0.0 or bears_knee(board, (KNEE, width), "v ends", grain_along_u=True) is not False
    )


def widest_top(frame: Frame, x: Stretch) -> float:
    """How far from the centre line the top reaches over a stretch."""
    box = frame.berth(frame.box(x, (frame.under, frame.z1), frame.inner))
    return max(s for _, s in flat_edge(frame.bay, frame.side, box, frame.rules.scribed))


def crossings(
    frame: Frame, plan: Plan, stretch: Stretch, board: Board
) -> Iterator[tuple[Compartment, float]]:
    """Where cross rails begin under a stretch of the top, with their compartment."""
    hinge = hinge_line(frame, *stretch)
    tops = tops_of(frame, plan, *stretch)
    for c in compartments_in(plan, stretch):
        height = rail_height(frame, c, hinge)
        if height is None:
            continue
        for x in _crossings_in(frame, c, _seams_in(c, tops), (board, hinge)):
            beside = min(x - c.x0, c.x1 - x - frame.t)
            rail = Box(
                x0=x,
                x1=x + frame.t,
                s0=frame.face,
                s1=hinge,
                z0=frame.under - height,
                z1=frame.under,
            )
            if beside >= LEAST_BESIDE_RAIL and not frame.is_kept(rail):
                yield c, x


def _crossings_in(
    frame: Frame, c: Compartment, seams: Sequence[float], over: tuple[Board, float]
) -> Iterator[float]:
    board, hinge = over
    if seams and _strip_bears(frame, board, hinge):
        return
    at_seams = [seam - frame.t / 2.0 for seam in seams]
    yield from at_seams
    starts = [c.x0, *(x + frame.t for x in at_seams)]
    for start, end in zip(starts, [*at_seams, c.x1], strict=True):
        if end > start:
            spans = (end - start, hinge - frame.face)
            count = fields_for(board, spans, "all", frame.t) or 1
            yield from parted(start, end, count, frame.t)


def fields_of(
    supports: Sequence[float], t: float, x: Stretch, railed: Sequence[Stretch]
) -> list[Field]:
    """The fields of a piece of the top over `x`, supports of width `t` beginning at `supports`.

    `railed` are the stretches with a rail under the hinge line.
    """
    x0, x1 = x
    under = sorted(s for s in supports if s < x1 - 1e-6 and s + t > x0 + 1e-6)
    edges = [(x0, False), *((s, True) for s in under), (x1, False)]
    found = []
    for (a, from_support), (b, to_support) in itertools.pairwise(edges):
        start = a + t if from_support else a
        if b - start <= 1e-6:
            continue
        rail = any(r0 - 1e-6 <= start and b <= r1 + 1e-6 for r0, r1 in railed)
        found.append(Field(b - start, from_support and to_support, rail))
    return found


def bent_spans(
    fields: Sequence[Field], widths: tuple[float, float]
) -> Iterator[tuple[tuple[float, float], Edges]]:
    """The longest spans of each sort among a fixed piece's fields, and which edges are held.

    `widths` are those from the inner wall to the rail, and of the whole piece. What stands
    out by no more than a slot beyond its last support bears no knee of its own.
    """
    sorts: dict[Edges, list[float]] = {"all": [], "v ends": [], "u ends": []}
    for field in fields:
        if field.held:
            sorts["all" if field.rail else "u ends"].append(field.length)
        elif field.length > LEAST_SLOT:
            sorts["v ends" if field.rail else "u ends"].append(field.length)
    for edges, lengths in sorts.items():
        if lengths:
            yield (max(lengths), widths[1 if edges == "u ends" else 0]), edges


def overhang(
    frame: Frame, plan: Plan, x: Stretch, railed: Sequence[Stretch], hinge: float
) -> tuple[float, float] | None:
    """Length and width of the longest field of a piece that stands out far beyond its rail."""
    found = []
    for c in plan.compartments:
        start, end = max(c.x0, x[0]), min(c.x1, x[1])
        if end - start <= LEAST_SLOT or (c.x0, c.x1) not in railed:
            continue
        reach = widest_top(frame, (start, end))
        if reach - hinge - frame.t > LONGEST_OVERHANG:
            found.append((end - start, reach - hinge))
    return max(found, default=None)
