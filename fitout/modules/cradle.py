"""The cradle of a tank: base board, fences, where straps and taps go.

Everything is worked out about the tank's middle, so that it is the same wherever the tank
stands. See `fitout.modules.water_tank` for a sketch.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from fitout.model.design import ItemSpec, TapSpec
from fitout.model.module import Berth
from fitout.model.outline import Loop, Outline, Point, polygon, rectangle
from fitout.model.panel import Pocket
from fitout.model.placement import (
    Placement,
    Vector,
    across,
    across_face_rear,
    along,
    along_face_left,
    flat_face_down,
)
from fitout.modules.joinery import Draft

Side = Literal["left", "right", "rear", "front"]

FELT = 2.0
"""Gap between a fence and the empty tank, filled with felt, mm (common practice)."""

FENCE_HEIGHT = 60.0
"""Greatest height of a fence; a quarter of the tank's if that is less, mm (common practice)."""

STRAP_EVERY = 450.0
"""Greatest width of tank that one strap holds, mm (common practice)."""

STRAP_ROOM = 30.0
"""Width of a strap's notch and groove, for a 25 mm strap, mm."""

STRAP_NOTCH = 4.0
"""Depth of a strap's notch in the base's edge, mm."""

STRAP_GROOVE = 2.5
"""Depth of a strap's groove in the base's underside, more than a strap's thickness, mm."""

STRAP_LEAST_PITCH = 50.0
LEAST_FENCE = 20.0
HOLE_WEB = 2.0

HAND = 90.0
"""Width of the room a hand needs at a tap, mm (common practice)."""

DRAIN_NOTCH = (60.0, 30.0)
"""Width of the base's notch at a drain, and how far it reaches under the tank, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cradle:
    """The cradle worked out from the tank, about the tank's middle: pairs are (x, y).

    `tank` is the tank's whole extent, `foot` its underside, `base` the base board, `gap` the
    gap to the fences. `straps` are strap centres along y. `windows` are the places on each
    side kept free for taps: (middle, width) along the side. `margins` is how far the berth
    reaches beyond the tank on each side.
    """

    tank: Point
    foot: Point
    height: float
    base: Point
    gap: Point
    fence_height: float
    fenced: tuple[Side, ...]
    straps: tuple[float, ...]
    filler: float
    windows: Mapping[Side, Point]
    margins: Mapping[Side, float]


def cradle_of(item: ItemSpec, t: float, *, all_round: bool, straps: int | None) -> Cradle:
    """The cradle for a tank of boards `t` thick: fences, straps, the places of its taps.

    `straps` None works out how many: one for each 450 mm of width, at least two.
    """
    size = item.size
    foot = (size.length, size.width)
    top = item.top or foot
    tank = (max(foot[0], top[0]), max(foot[1], top[1]))
    fence_height = min(FENCE_HEIGHT, size.height / 4.0)
    share = fence_height / size.height
    # A tank that widens upwards must clear the fences at their upper edge.
    at_fence = [max(a, a + share * (b - a)) for a, b in zip(foot, top, strict=True)]
    swells = swelling(item)
    gap = (
        max(FELT, item.bulge) if "rear" in swells else FELT,
        max(FELT, item.bulge) if "left" in swells else FELT,
    )
    fenced: tuple[Side, ...] = ("left", "right")
    base = (tank[0], at_fence[1] + 2.0 * (gap[1] + t))
    if all_round:
        fenced = (*fenced, "rear", "front")
        base = (at_fence[0] + 2.0 * (gap[0] + t), base[1])
    narrow = min(foot[1], top[1])
    places = _strap_places(straps, narrow)
    free = _widest_gap(places, narrow)
    return Cradle(
        tank=tank,
        foot=foot,
        height=size.height,
        base=base,
        gap=gap,
        fence_height=fence_height,
        fenced=fenced,
        straps=places,
        filler=free[0],
        windows=_windows(item, foot[0], free),
        margins=_margins(item, tank, foot, base),
    )


def swelling(item: ItemSpec) -> tuple[Side, ...]:
    """The tank's long sides, which swell when it is full."""
    return ("rear", "front") if item.size.width >= item.size.length else ("left", "right")


def _strap_places(wish: int | None, width: float) -> tuple[float, ...]:
    wanted = max(2, math.ceil(width / STRAP_EVERY)) if wish is None else wish
    count = min(wanted, max(1, int(width // STRAP_LEAST_PITCH)))
    return tuple(width * ((i + 0.5) / count - 0.5) for i in range(count))


def _widest_gap(straps: tuple[float, ...], width: float) -> Point:
    """Middle and width of the widest room between straps, the one nearest the middle."""
    edges = [-width / 2.0]
    for strap in straps:
        edges += [strap - STRAP_ROOM / 2.0, strap + STRAP_ROOM / 2.0]
    edges.append(width / 2.0)
    gaps = [((a + b) / 2.0, b - a) for a, b in zip(edges[::2], edges[1::2], strict=True)]
    return max(gaps, key=lambda g: (round(g[1], 6), -round(abs(g[0]), 6), g[0]))


def outlets(item: ItemSpec) -> list[tuple[str, TapSpec]]:
    """A tank's tap and drain, as far as it has them, by name."""
    named = (("tap", item.tap), ("drain", item.drain))
    return [(name, outlet) for name, outlet in named if outlet is not None]


def _windows(item: ItemSpec, length: float, free: Point) -> dict[Side, Point]:
    """One place on each side that has taps, wide enough for a hand at each of them."""
    windows: dict[Side, Point] = {}
    for _, outlet in outlets(item):
        count = sum(1 for _, other in outlets(item) if other.side == outlet.side)
        if outlet.side in ("left", "right"):
            windows[outlet.side] = (0.0, min(HAND * count, max(length - 60.0, length / 2.0)))
        else:
            windows[outlet.side] = (free[0], min(HAND * count, free[1]))
    return windows


def _margins(item: ItemSpec, tank: Point, foot: Point, base: Point) -> dict[Side, float]:
    margins: dict[Side, float] = {}
    sides: tuple[tuple[Side, int], ...] = (("rear", 0), ("front", 0), ("left", 1), ("right", 1))
    for side, axis in sides:
        room = [0.0, (base[axis] - tank[axis]) / 2.0]
        room += [
            o.reach - (tank[axis] - foot[axis]) / 2.0 for _, o in outlets(item) if o.side == side
        ]
        if side in swelling(item):
            room.append(item.bulge)
        margins[side] = max(room)
    return margins


def add_base(draft: Draft, cradle: Cradle, item: ItemSpec, base: Berth) -> None:
    """The base board, its notched edges and strap grooves on the face below."""
    length, width = cradle.base
    notches: list[tuple[Side, float, float, float]] = []
    grooves = []
    for strap in cradle.straps:
        notches += [("rear", strap, STRAP_ROOM, STRAP_NOTCH)]
        notches += [("front", strap, STRAP_ROOM, STRAP_NOTCH)]
        run = rectangle(
            length - 2.0 * STRAP_NOTCH,
            STRAP_ROOM,
            STRAP_NOTCH,
            width / 2.0 - strap - STRAP_ROOM / 2.0,
        )
        grooves.append(Pocket(run, STRAP_GROOVE, "strap"))
    for name, outlet, middle, room in places_of(item, cradle):
        if name == "drain":
            axis = 1 if outlet.side in ("left", "right") else 0
            beyond = (cradle.base[axis] - cradle.foot[axis]) / 2.0
            # A third of a short side at most, so that bolts still find room beside it.
            wide = min(DRAIN_NOTCH[0], room, cradle.foot[1 - axis] / 3.0)
            notches.append((outlet.side, middle, wide, beyond + DRAIN_NOTCH[1]))
    draft.panel(
        "base",
        draft.board("carcass"),
        Outline(_notched(cradle.base, notches)),
        flat_face_down(base.x0, base.y1, base.z1),
        pockets=grooves,
        edging="strap notches rounded",
    )


def places_of(item: ItemSpec, cradle: Cradle) -> Iterator[tuple[str, TapSpec, float, float]]:
    """The tap and drain by name, with the middle and width of its share of its side's window."""
    seen: list[str] = []
    for name, outlet in outlets(item):
        middle, width = cradle.windows[outlet.side]
        count = sum(1 for _, other in outlets(item) if other.side == outlet.side)
        share = width / count
        yield name, outlet, middle - width / 2.0 + (seen.count(outlet.side) + 0.5) * share, share
        seen.append(outlet.side)


def _notched(size: Point, notches: Iterable[tuple[Side, float, float, float]]) -> Loop:
    """A base with notches in its edges, face A down: u forward, v to the right.

    Each notch is (side, middle from the base's own middle in bay direction, width, depth).
    """
    length, width = size
    # Along each edge, run anticlockwise: where it starts, its direction, which way is inwards,
    # and how the bay's coordinate becomes the distance along it.
    runs: dict[Side, tuple[Point, Point, Point, float, float]] = {
        "left": ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0), length / 2.0, 1.0),
        "front": ((length, 0.0), (0.0, 1.0), (-1.0, 0.0), width / 2.0, -1.0),
        "right": ((length, width), (-1.0, 0.0), (0.0, -1.0), length / 2.0, -1.0),
        "rear": ((0.0, width), (0.0, -1.0), (1.0, 0.0), width / 2.0, 1.0),
    }
    listed = list(notches)
    points: list[Point] = []
    for side, (start, way, inwards, half, sign) in runs.items():
        points.append(start)
        mine = sorted((half + sign * n[1], n[2], n[3]) for n in listed if n[0] == side)
        for at, wide, deep in mine:
            for s, d in (
                (at - wide / 2.0, 0.0),
                (at - wide / 2.0, deep),
                (at + wide / 2.0, deep),
                (at + wide / 2.0, 0.0),
            ):
                x = start[0] + s * way[0] + d * inwards[0]
                points.append((x, start[1] + s * way[1] + d * inwards[1]))
    return polygon(points)


def add_fences(draft: Draft, cradle: Cradle, base: Berth) -> None:
    """Fences on the base, screwed from below, open where taps and straps are."""
    t = draft.board("carcass").thickness
    for side in cradle.fenced:
        ends = side in ("left", "right")
        cuts = [] if ends else [(s, STRAP_ROOM + 4.0) for s in cradle.straps]
        if side in cradle.windows:
            at, width = cradle.windows[side]
            cuts.append((at, width + 2.0))
        # Fences front and rear stay a felt's gap short of those at the ends.
        run = cradle.base[0] if ends else cradle.base[1] - 2.0 * (t + cradle.gap[1])
        stretches = _left_over(run, cuts)
        for number, stretch in enumerate(stretches, start=1):
            name = f"{side} fence" if len(stretches) == 1 else f"{side} fence {number}"
            placement, row = _fence_place(side, stretch, base, t)
            size = (stretch[1] - stretch[0], cradle.fence_height)
            draft.panel(name, draft.board("carcass"), size, placement, edging="top edge rounded")
            draft.screw("base", name, *row)


def _fence_place(
    side: Side, stretch: Point, base: Berth, t: float
) -> tuple[Placement, tuple[Vector, Vector]]:
    """Where a fence stands at the base's edge, and the ends of its screw row below."""
    axis_middle = base.x0 + base.x1 if side in ("left", "right") else base.y0 + base.y1
    start, stop = (axis_middle / 2.0 + s for s in stretch)
    half, top, under = t / 2.0, base.z1, base.z0
    if side == "left":
        y = base.y1 - half
        return along(start, base.y1, top), ((start, y, under), (stop, y, under))
    if side == "right":
        y = base.y0 + half
        return along_face_left(stop, base.y0, top), ((start, y, under), (stop, y, under))
    if side == "front":
        x = base.x1 - half
        return across(base.x1 - t, start, top), ((x, start, under), (x, stop, under))
    x = base.x0 + half
    return across_face_rear(base.x0 + t, stop, top), ((x, start, under), (x, stop, under))


def hole_fits(draft: Draft, point: Vector, diameter: float) -> bool:
    """Whether a hole in the base stays inside it and clear of its grooves and other holes."""
    base = draft.panels["base"]
    u, v = base.local(point)
    reach = diameter / 2.0 + HOLE_WEB
    for pocket in base.pockets:
        x0, y0, x1, y1 = pocket.loop.bounds
        if x0 - reach < u < x1 + reach and y0 - reach < v < y1 + reach:
            return False
    if any(math.hypot(h.x - u, h.y - v) < reach + h.diameter / 2.0 for h in base.holes):
        return False
    inside = False
    for a, b in base.outline.outer.segments():
        share = ((u - a.x) * (b.x - a.x) + (v - a.y) * (b.y - a.y)) / math.dist(
            (a.x, a.y), (b.x, b.y)
        ) ** 2
        share = min(1.0, max(0.0, share))
        nearest = (a.x + share * (b.x - a.x), a.y + share * (b.y - a.y))
        if math.dist(nearest, (u, v)) < reach:
            return False
        if (a.y > v) != (b.y > v) and u < a.x + (v - a.y) / (b.y - a.y) * (b.x - a.x):
            inside = not inside
    return inside


def _left_over(run: float, cuts: Sequence[Point]) -> list[Point]:
    """What is left of a run about its middle once cuts (middle, width) are taken out."""
    stretches = []
    start = -run / 2.0
    for at, width in sorted(cuts):
        stretches.append((start, at - width / 2.0))
        start = max(start, at + width / 2.0)
    stretches.append((start, run / 2.0))
    return [(a, b) for a, b in stretches if b - a >= LEAST_FENCE]
