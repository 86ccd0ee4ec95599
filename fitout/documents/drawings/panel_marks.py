"""What is marked on a drawn panel beside its dimensions: face A, grain, sides, finished edges."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Literal

from fitout.cutting.cut_list import CutLine
from fitout.documents.facing import SIDES, Side, side_of_edge
from fitout.documents.lettering import writing_room
from fitout.documents.paper.dimension import arrow
from fitout.documents.paper.fonts import text_width
from fitout.documents.paper.layout import Layout
from fitout.documents.paper.marks import BLACK, NARROW, Arc, Area, Mark, Pen, Text, line
from fitout.documents.paper.room import extent
from fitout.documents.wording import Wording
from fitout.model.outline import Point
from fitout.model.panel import Panel
from fitout.model.placement import Vector, opposite

FINISHED = Pen(0.5, (6.0, 1.0, 0.5, 1.0))
"""Edges that are finished: a wide long-dashed dotted line beside them (ISO 128-2, 04.2)."""

OUTSIDE = 1.1
"""From an edge to the line that tells it is finished, mm on paper."""

RIM = 0.05
"""What lies so near to the rectangle round a part lies on it, mm."""

CLEAR = 0.35
"""Room kept around the marks, mm."""

SMALL = 1.8
"""Height of the words for the vehicle's sides (ISO 3098-1), mm."""

INWARD = (1.2, 2.2, -1.2 - SMALL, -2.2 - SMALL, 4.5, 7.5)
"""How far within its edge a side's word is tried, mm; below 0 it is outside."""

ARROW = 16.0
"""Length of the grain arrow, mm."""

GRID = 11
"""Marks are tried at so many places each way over the panel."""

Edge = Literal["right", "upper", "left", "lower"]
EDGES: tuple[Edge, ...] = ("right", "upper", "left", "lower")


def finished_edges(panel: Panel, scale: float) -> Iterator[Mark]:
    """Lines beside the straight edges that the panel's edging names."""
    wanted = _finished(panel)
    loop = panel.outline.outer.anticlockwise()
    notches = panel.edging.startswith("strap notches")
    for a, b in loop.segments():
        length = math.hypot(b.x - a.x, b.y - a.y)
        if a.bulge or length * scale < 2.0:
            continue
        if notches and _at_rim((a.x, a.y), (b.x, b.y), loop.bounds):
            continue
        out = ((b.y - a.y) / length, (a.x - b.x) / length)
        if not wanted(out):
            continue
        dx, dy = OUTSIDE * out[0], OUTSIDE * out[1]
        start = (a.x * scale + dx, a.y * scale + dy)
        end = (b.x * scale + dx, b.y * scale + dy)
        yield line(start, end, FINISHED, "FINISHED")


def _at_rim(a: Point, b: Point, box: tuple[float, float, float, float]) -> bool:
    """Whether an edge lies on the rectangle round the part, or leads off it."""
    return any(
        min(abs(x - box[0]), abs(x - box[2]), abs(y - box[1]), abs(y - box[3])) < RIM
        for x, y in (a, b)
    )


class _Finished:
    """Whether an edge is finished, by where it looks: its outward normal on the part."""

    def __init__(self, panel: Panel) -> None:
        self.panel = panel
        self.words = panel.edging

    def __call__(self, out: Point) -> bool:
        if self.words.startswith(("all edges", "strap notches")):
            return True
        if self.words.startswith("slanting edge"):
            return min(abs(out[0]), abs(out[1])) > 0.05
        toward = self._toward()
        if toward is None:
            return False
        u, v = self.panel.placement.u, self.panel.placement.v
        looks = tuple(out[0] * a + out[1] * b for a, b in zip(u, v, strict=True))
        return sum(a * b for a, b in zip(looks, toward, strict=True)) > 0.8

    def _toward(self) -> Vector | None:
        sides = dict(SIDES)
        named: dict[str, Side] = {
            "rear edge": "rear", "front edge": "front", "top edge": "top", "upper edge": "top",
        }  # fmt: skip
        for words, side in named.items():
            if self.words.startswith(words):
                return sides[side]
        if self.words.startswith("inner edge"):
            return sides["left"] if self.panel.centroid[1] < 0.0 else opposite(sides["left"])
        return None


def _finished(panel: Panel) -> _Finished:
    return _Finished(panel)


def lay_marks(layout: Layout, line_: CutLine, scale: float, wording: Wording) -> None:
    """Face A, the grain and the vehicle's sides, each where there is room."""
    panel = line_.panel
    for edge in EDGES:
        sides = {side_of_edge(one.placement, edge) for one in line_.panels}
        if len(sides) == 1:
            told = wording.say(f"side_{sides.pop()}")
            _side(layout, edge, told, _rim(panel, edge, scale))
    room = writing_room(panel.outline)
    corner = (room.x * scale, room.y * scale)
    inner = (room.length * scale, room.width * scale)
    places = [(corner[0] + x, corner[1] + y) for x, y in _places(inner)]
    if line_.grain_locked:
        _lay(layout, partial(_grain, told=wording.say("grain")), places)
    _lay(layout, _face, places)


def _lay(layout: Layout, mark: Callable[[Point], list[Mark]], places: Sequence[Point]) -> None:
    """Rather where no line is crossed, else where no text is met."""
    if not layout.first(way for way in map(mark, places) if _is_clear(layout, way)):
        layout.first(map(mark, places))


def _is_clear(layout: Layout, marks: Sequence[Mark]) -> bool:
    """Whether marks, their filled areas too, have room of their own."""
    left, bottom, right, top = extent(marks)
    box = (left - CLEAR, bottom - CLEAR, right + CLEAR, top + CLEAR)
    filled = (extent([mark]) for mark in layout.marks if isinstance(mark, Area))
    return layout.is_free(box) and not any(
        area[0] < box[2] and box[0] < area[2] and area[1] < box[3] and box[1] < area[3]
        for area in filled
    )


def _places(size: tuple[float, float]) -> Iterator[Point]:
    """Places over the panel from its middle outwards, then below it and above it."""
    steps = [i / (GRID + 1) for i in range(1, GRID + 1)]
    shares = sorted(
        ((x, y) for x in steps for y in steps),
        key=lambda p: ((p[0] - 0.5) ** 2 + (p[1] - 0.5) ** 2, p),
    )
    yield from ((x * size[0], y * size[1]) for x, y in shares)
    for reach in range(4, 40, 3):
        for x in steps:
            yield x * size[0], -float(reach)
            yield x * size[0], size[1] + reach


def _grain(middle: Point, told: str) -> list[Mark]:
    """A two-headed arrow along the grain with its word above."""
    x, y = middle
    half = max(ARROW, text_width(told, SMALL) + 4.0) / 2.0
    ends = ((x - half, y), (x + half, y))
    return [
        line(*ends, NARROW, "GRAIN"),
        arrow(ends[0], math.pi, "GRAIN"),
        arrow(ends[1], 0.0, "GRAIN"),
        Text((x, y + 1.4), told, SMALL, "middle", layer="GRAIN"),
    ]


def _face(middle: Point) -> list[Mark]:
    """A circled A: the face that is seen."""
    x, y = middle
    return [
        Arc(middle, 2.8, pen=NARROW, layer="FACE"),
        Text((x, y - 1.25), "A", 2.5, "middle", bold=True, layer="FACE"),
    ]


def _side(layout: Layout, edge: Edge, told: str, rim: Rim) -> None:
    """The vehicle's side that an edge lies towards, small, within the edge or just outside."""
    level = edge in ("upper", "lower")
    far = edge in ("upper", "right")

    def ways() -> Iterator[list[Mark]]:
        for start, end in rim.stretches:
            for inward in (one for one in INWARD if one < 0.4 * rim.across or one < 2.5):
                for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88):
                    along = start + share * (end - start)
                    low = rim.across - inward - SMALL if far else inward
                    at, turned = ((along, low), 0.0) if level else ((low + SMALL, along), 90.0)
                    written = Text(at, told, SMALL, "middle", turned, layer="SIDE")
                    yield [_wedge(written, edge), written]

    # The triangle is filled: lines that run under it would not be seen.
    if not layout.first(way for way in ways() if layout.is_free(extent(way))):
        layout.first(ways())


@dataclass(frozen=True, slots=True)
class Rim:
    """One edge of the rectangle round a part, on paper.

    `across` is how far the opposite edge is; `stretches` are from where to where the part
    reaches this one at most, and the whole of it.
    """

    across: float
    stretches: tuple[tuple[float, float], ...]


def _rim(panel: Panel, edge: Edge, scale: float) -> Rim:
    x0, y0, x1, y1 = panel.outline.bounds
    axis = 0 if edge in ("upper", "lower") else 1
    at = {"left": x0, "right": x1, "lower": y0, "upper": y1}[edge]
    origin, whole = (x0, x1 - x0) if axis == 0 else (y0, y1 - y0)
    found = []
    for a, b in panel.outline.outer.segments():
        ends = ((a.x, a.y), (b.x, b.y))
        if not a.bulge and all(abs(end[1 - axis] - at) < RIM for end in ends):
            low, high = sorted((end[axis] - origin) * scale for end in ends)
            found.append((low, high))
    found.sort(key=lambda stretch: stretch[0] - stretch[1])
    across = ((y1 - y0) if axis == 0 else (x1 - x0)) * scale
    return Rim(across, (*found[:1], (0.0, whole * scale)))


def _wedge(text: Text, edge: Edge) -> Area:
    """A small triangle before a word that points to its edge."""
    half = text_width(text.text, text.height) / 2.0 + 1.6
    back = (-half, 0.0) if edge in ("upper", "lower") else (0.0, -half)
    x, y = text.at[0] + back[0], text.at[1] + back[1]
    x, y = (x, y + SMALL / 2.0) if edge in ("upper", "lower") else (x - SMALL / 2.0, y)
    turn = {"right": 0.0, "upper": 0.5, "left": 1.0, "lower": 1.5}[edge] * math.pi
    ring = tuple(
        (x + 0.9 * math.cos(turn + k * math.pi * 2.0 / 3.0),
         y + 0.9 * math.sin(turn + k * math.pi * 2.0 / 3.0))
        for k in range(3)
    )  # fmt: skip
    return Area((ring,), BLACK, "SIDE")
