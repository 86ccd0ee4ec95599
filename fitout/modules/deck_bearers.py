"""Bearers under a piece of the deck that bears no knee between its cleats alone.

    seen from behind                         seen from above

      ====================  piece            +----------------------+
      |c====  bearer  ===c|                  |c====================c|  bearer along the
      |c                 c|  cleat           |c                    c|  free edge
      |                   |                  |c====================c|

Bearers are strips of the carcass board on edge. They run from one cleat to the one across
from it, which are as high as they, and are screwed to them before both go in. One lies
along each edge that has no cleat, others where the piece needs them, so that every field of
it is held all round. A narrow piece lies on one along its middle.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from fitout.model.module import Berth, Module, MotionKind
from fitout.model.panel import Grain, Panel
from fitout.model.placement import across, along
from fitout.model.stock import Board
from fitout.modules.joinery import Draft
from fitout.modules.kind import Setting
from fitout.modules.knee import bears_knee, edge_bears_knee, parted
from fitout.survey.room import front_face, half_width

HEIGHTS = (40.0, 60.0, 80.0, 100.0, 120.0)
"""Heights of bearers, the lowest that bears the knee is taken, mm."""

USUAL_HEIGHT = 80.0
"""The height where the board's stiffness isn't known, mm (common practice)."""

CLEAR_BELOW = 2.0
"""Least room between a bearer and what is below it, mm (common practice)."""

BESIDE_BEARER, SCREW_TO_END = 8.0, 8.0
"""From a bearer's face to a screw of the cleat it ends at, and from that to the cleat's end, mm
(common practice)."""

NARROW = 100.0
"""A piece no wider lies on one bearer along its middle, mm (common practice)."""

STEPS = tuple(10.0 * step for step in range(9))
"""How far inside an edge its bearer may stand to pass beside what is below, mm."""

MOST_FIELDS = 8

Way = Literal["x", "y"]
ENDS: Mapping[Way, tuple[str, str]] = {"x": ("rear", "front"), "y": ("right", "left")}
SIDES: Mapping[Way, tuple[str, str]] = {"x": ("right", "left"), "y": ("rear", "front")}


@dataclass(frozen=True, slots=True, kw_only=True)
class Cleat:
    """Where a cleat goes: on which side of its hollow, its block, and the panel that holds it."""

    side: str
    box: Berth
    panel: str

    def reach(self, way: Way) -> tuple[float, float]:
        """From where to where it offers its face to bearers that run along x or y."""
        b = self.box
        return (b.y0, b.y1) if way == "x" else (b.x0, b.x1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bearers:
    """Bearers that run along x or y: their blocks, their end cleats, the fields between them.

    `field` is the largest one's extent along x and y, None over a single bearer.
    """

    way: Way
    boxes: tuple[Berth, ...]
    cleats: tuple[Cleat, Cleat]
    field: tuple[float, float] | None

    @property
    def height(self) -> float:
        """The bearers' height, and that of the cleats at their ends."""
        return self.boxes[0].size[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lack:
    """Why there are no bearers: how high they would be, and the room below the piece."""

    wanted: float
    free: float


def bearers_under(
    draft: Draft, room: Berth, cleats: Mapping[float, Sequence[Cleat]], held: frozenset[str]
) -> Bearers | Lack | None:
    """The bearers that take least board, or what they lack; None where no way bears.

    `cleats` are those that can be had, by their height; `held` are the sides of the piece
    that have one all along.
    """
    found: list[Bearers] = []
    lacks: list[Lack] = []
    for way, ends in ENDS.items():
        if not held.issuperset(ends):
            continue
        for height, there in sorted(cleats.items()):
            bearers = _laid(draft, room, (way, height), (there, held))
            if isinstance(bearers, Lack):
                lacks.append(bearers)
            elif bearers is not None:
                found.append(bearers)
                break
    if found:
        return min(found, key=_area)
    return min(lacks, key=lambda lack: lack.wanted - lack.free, default=None)


def _area(bearers: Bearers) -> float:
    """What the bearers take of a board, mm²."""
    return sum(box.size[0 if bearers.way == "x" else 1] * box.size[2] for box in bearers.boxes)


def _laid(
    draft: Draft,
    room: Berth,
    how: tuple[Way, float],
    cleats: tuple[Sequence[Cleat], frozenset[str]],
) -> Bearers | Lack | None:
    """Bearers of one way and height; None where they don't bear, or cleats don't meet."""
    (way, height), (there, held) = how, cleats
    t = draft.board("carcass").thickness
    ends = [_longest(there, side, way) for side in ENDS[way]]
    if ends[0] is None or ends[1] is None:
        return None
    low, high = _along(ends[0].box, way)[1], _along(ends[1].box, way)[0]
    screwed = t + 2.0 * (BESIDE_BEARER + SCREW_TO_END)
    too_short = any(end.reach(way)[1] - end.reach(way)[0] < screwed for end in (ends[0], ends[1]))
    if too_short or not _carries(draft.board("carcass"), height, high - low):
        return None
    start = max(ends[0].reach(way)[0], ends[1].reach(way)[0])
    end = min(ends[0].reach(way)[1], ends[1].reach(way)[1])
    reach = _within_bay(draft.setting, room, (way, height), (start, end))
    z = (room.z0 - height, room.z0)

    def block(at: float) -> Berth:
        return _block(way, (low, high), (at, at + t), z)

    found: tuple[list[float], float] | None
    if end - start <= NARROW and not held.intersection(SIDES[way]):
        found = [sum(reach) / 2.0 - t / 2.0], 0.0
    else:
        edges = _edge_bearers(draft.setting, (*reach, t), block, (way, held))
        found = _places(draft, way, (room, high - low), edges)
    if found is None:
        return None
    at, widest = found
    boxes = tuple(map(block, at))
    free = min((_free_below(draft.setting, box) for box in boxes), default=math.inf)
    if free < height + CLEAR_BELOW:
        return Lack(wanted=height + CLEAR_BELOW, free=max(0.0, free))
    field = None
    if widest > 0.0:
        field = (high - low, widest) if way == "x" else (widest, high - low)
    return Bearers(way=way, boxes=boxes, cleats=(ends[0], ends[1]), field=field)


def _longest(cleats: Sequence[Cleat], side: str, way: Way) -> Cleat | None:
    there = [c for c in cleats if c.side == side]
    return max(there, key=lambda c: c.reach(way)[1] - c.reach(way)[0], default=None)


def _along(box: Berth, way: Way) -> tuple[float, float]:
    return (box.x0, box.x1) if way == "x" else (box.y0, box.y1)


def _block(
    way: Way, along: tuple[float, float], across: tuple[float, float], z: tuple[float, float]
) -> Berth:
    x, y = (along, across) if way == "x" else (across, along)
    return Berth(x0=x[0], x1=x[1], y0=y[0], y1=y[1], z0=z[0], z1=z[1])


def _carries(board: Board, height: float, span: float) -> bool:
    answer = edge_bears_knee(board, height, span)
    return height >= USUAL_HEIGHT if answer is None else answer


def _within_bay(
    setting: Setting, room: Berth, how: tuple[Way, float], span: tuple[float, float]
) -> tuple[float, float]:
    """How far apart the outermost bearers may stand, so that they are clear of the vehicle."""
    (way, height), bay = how, setting.bay
    z, clear = (room.z0 - height, room.z0), setting.rules.wall
    if way == "y":
        seat = setting.rules.seat if bay.front_kind == "seat_back" else clear
        return span[0], min(span[1], front_face(bay, *z, clear=seat))
    x = (room.x0, room.x1)
    right = -half_width(bay, "right", x, z, clear=clear)
    left = half_width(bay, "left", x, z, clear=clear)
    return max(span[0], right), min(span[1], left)


def _places(
    draft: Draft, way: Way, piece: tuple[Berth, float], along_edges: Mapping[str, float]
) -> tuple[list[float], float] | None:
    """Where the bearers begin, and the widest field; None where the piece bears in no case.

    `along_edges` are those along edges without a cleat, `piece` is its room and their length.
    """
    t = draft.board("carcass").thickness
    room, length = piece
    first, last = SIDES[way]
    edge0, edge1 = (room.y0, room.y1) if way == "x" else (room.x0, room.x1)
    low = along_edges.get(first, edge0) + t
    high = along_edges.get(last, edge1 - t)
    for count in range(1, MOST_FIELDS + 1):
        width = (high - low - (count - 1) * t) / count
        if width < t:
            return None
        field = (length, width) if way == "x" else (width, length)
        if bears_knee(draft.board("deck"), field, "all") is not False:
            return sorted([*along_edges.values(), *parted(low, high, count, t)]), width
    return None


def _edge_bearers(
    setting: Setting,
    reach: tuple[float, float, float],
    block: Callable[[float], Berth],
    edges: tuple[Way, frozenset[str]],
) -> dict[str, float]:
    """Where a bearer along each edge without a cleat begins: at the edge, or beside what is below.

    `reach` is from where to where bearers may stand, and their thickness; `edges` are their
    way and the sides that have cleats.
    """
    (start, end, t), (way, held) = reach, edges
    first, last = SIDES[way]
    found = {}
    for side, edge, inwards in ((first, start, 1.0), (last, end - t, -1.0)):
        if side not in held:
            places = [edge + inwards * step for step in STEPS]
            room = block(edge).size[2] + CLEAR_BELOW
            free = (at for at in places if _free_below(setting, block(at)) >= room)
            found[side] = next(free, edge)
    return found


def _free_below(setting: Setting, box: Berth) -> float:
    """Room from the piece's underside down to the highest thing under a bearer."""
    tops = [
        other.z1
        for other in _things(setting)
        if other.x0 < box.x1 + CLEAR_BELOW
        and box.x0 - CLEAR_BELOW < other.x1
        and other.y0 < box.y1
        and box.y0 < other.y1
        and other.z0 < box.z1
    ]
    return box.z1 - max(tops, default=setting.bay.floor)


def _things(setting: Setting) -> Iterator[Berth]:
    """The berths, the room what moves passes through, and what must be kept free."""
    for name, berth in setting.berths.items():
        module = setting.built[name]
        kinds = {m.kind for m in module.motions}
        slides = MotionKind.SLIDE in kinds
        lifts = MotionKind.HINGE in kinds
        yield Berth(
            x0=-math.inf if slides else berth.x0,
            x1=berth.x1,
            y0=berth.y0,
            y1=berth.y1,
            z0=berth.z0,
            z1=math.inf if lifts else berth.z1,
        )
        yield from _kept_by(module)
    for obstacle in setting.bay.obstacles:
        if obstacle.kind == "keep clear":
            yield _around(obstacle.vertices)


def _kept_by(module: Module) -> Iterator[Berth]:
    zones = [(a.zone, a.placement) for a in module.accesses]
    zones += [(z, i.placement) for i in module.items for z in i.zones if z.when == "always"]
    for zone, placement in zones:
        yield _around(placement.apply(np.array(zone.piece)))


def _around(points: np.ndarray) -> Berth:
    (x0, y0, z0), (x1, y1, z1) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    return Berth(x0=x0, x1=x1, y0=y0, y1=y1, z0=z0, z1=z1)


def held_sides(cleats: Sequence[Cleat], room: Berth, gap: float) -> frozenset[str]:
    """The sides of a piece whose cleats leave no stretch of its edge longer than `gap` free."""
    sides = set()
    for side in {c.side for c in cleats}:
        lengthwise = side in ("left", "right")
        start, end = (room.x0, room.x1) if lengthwise else (room.y0, room.y1)
        reaches = sorted(c.reach("y" if lengthwise else "x") for c in cleats if c.side == side)
        stations = [start, *(s for reach in reaches for s in reach), end]
        free = [b - a for a, b in zip(stations[::2], stations[1::2], strict=True)]
        if max(free) <= gap:
            sides.add(side)
    return frozenset(sides)


def make_bearers(draft: Draft, piece: Panel, bearers: Bearers, cleats: tuple[str, str]) -> None:
    """The bearers as panels, screwed to through the cleats at their ends (low end first)."""
    for number, box in enumerate(bearers.boxes, start=1):
        name = f"{piece.name.replace('piece', 'bearer')} {number}"
        length, height = max(box.size[:2]), box.size[2]
        x, y = (box.x0 + box.x1) / 2.0, (box.y0 + box.y1) / 2.0
        if bearers.way == "x":
            placement, ends = along(box.x0, box.y1, box.z0), ((box.x0, y), (box.x1, y))
        else:
            placement, ends = across(box.x0, box.y0, box.z0), ((x, box.y0), (x, box.y1))
        size = (length, height)
        draft.panel(name, draft.board("carcass"), size, placement, grain=Grain.ALONG_U)
        for cleat, end in zip(cleats, ends, strict=True):
            draft.screw(cleat, name, (*end, box.z0), (*end, box.z1))
        draft.rest(piece.name, name)
