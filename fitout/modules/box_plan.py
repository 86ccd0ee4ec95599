"""How a box is parted: into boxes side by side, and those into fields by dividers."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass

from fitout.model.module import Berth
from fitout.model.panel import Grain
from fitout.model.stock import Board
from fitout.modules.joinery import Draft, sheet_room
from fitout.modules.knee import bears_knee

WIDEST_FIELD = 450.0
"""Greatest clear width between two uprights, mm (common practice)."""

LEAST_FIELD = 120.0
"""Dividers never stand nearer to each other, mm."""

MOST_FIELDS = 12
WIDEST_LID = 900.0
"""A wider lid is made as two, so that one hand can lift it, mm (common practice)."""

BOLT_ROOM = 15.0
"""From a floor bolt's middle to the nearest upright: washer and socket, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One box of those side by side.

    `under` is the height of its top's or lid's underside, `wall` the thickness of its
    walls; `uprights` are (name, y of its right face) of sides and dividers, from the right.
    """

    berth: Berth
    under: float
    wall: float
    suffix: str
    uprights: tuple[tuple[str, float], ...]

    @property
    def right_side(self) -> str:
        """The name of its right side."""
        return self.uprights[0][0]

    @property
    def left_side(self) -> str:
        """The name of its left side."""
        return self.uprights[-1][0]

    @property
    def dividers(self) -> tuple[str, ...]:
        """The names of the uprights between its sides."""
        return tuple(name for name, _ in self.uprights[1:-1])

    @property
    def fields(self) -> tuple[tuple[float, float], ...]:
        """The clear rooms between its uprights, as y from and to."""
        ys = [y for _, y in self.uprights]
        return tuple((a + self.wall, b) for a, b in itertools.pairwise(ys))

    def end(self, draft: Draft, side: str) -> str:
        """The name of what closes the rear or front: a whole end, or a rail."""
        whole = f"{side} end{self.suffix}"
        return whole if whole in draft.panels else f"{side} rail{self.suffix}"


def grain_of(board: Board, depth: float) -> Grain:
    """Grain from upright to upright, where the sheet is wide enough for the depth."""
    return Grain.ALONG_V if depth <= sheet_room(board)[1] else Grain.EITHER


def cells_of(
    draft: Draft,
    berth: Berth,
    under: float,
    reach: tuple[float, float],
    lid: str,
    dividers: int,
) -> tuple[Cell, ...]:
    """The boxes side by side that fill a berth, from the right.

    `reach` is the y from and to which their top goes; each piece of it must fit a sheet,
    and each lid a hand.
    """
    t = draft.board("carcass").thickness
    depth, wide = berth.x1 - berth.x0, reach[1] - reach[0]
    covers = [draft.board("carcass"), draft.board("deck" if lid == "none" else "lid")]
    count = 1
    if lid != "none":
        count = math.ceil((berth.y1 - berth.y0) / WIDEST_LID)
    while count < MOST_FIELDS and not all(_fits(b, depth, wide / count) for b in covers):
        count += 1
    # Seams part the top evenly, and stay clear of the berth's ends.
    seams = [reach[0] + i * wide / count for i in range(1, count)]
    seams = [y for y in seams if berth.y0 + LEAST_FIELD < y < berth.y1 - LEAST_FIELD]
    seams = [_beside_bolts(draft, berth, y - t, 2.0 * t) + t for y in seams]
    edges = [berth.y0, *seams, berth.y1]
    each = math.ceil((dividers + 1) / (len(edges) - 1)) - 1
    cells = []
    for number, (y0, y1) in enumerate(itertools.pairwise(edges), start=1):
        names = {1: ("",), 2: (" right", " left")}.get(len(edges) - 1)
        suffix = names[number - 1] if names else f" {number}"
        box = Berth(x0=berth.x0, x1=berth.x1, y0=y0, y1=y1, z0=berth.z0, z1=berth.z1)
        uprights = tuple(_uprights(draft, box, suffix, _fields(draft, box, covers[1], each)))
        cells.append(Cell(berth=box, under=under, wall=t, suffix=suffix, uprights=uprights))
    return tuple(cells)


def _fits(board: Board, depth: float, width: float) -> bool:
    """Whether a piece fits a sheet one way or the other."""
    length, across = sheet_room(board)
    short, long = sorted((depth, width))
    return short <= across and long <= length


def _uprights(draft: Draft, box: Berth, suffix: str, fields: int) -> Iterator[tuple[str, float]]:
    t = draft.board("carcass").thickness
    pitch = (box.y1 - box.y0 - t) / fields
    yield f"right side{suffix}", box.y0
    for i in range(1, fields):
        name = f"divider{suffix}" + (f" {i}" if fields > 2 else "")
        yield name, _beside_bolts(draft, box, box.y0 + i * pitch, t)
    yield f"left side{suffix}", box.y1 - t


def _fields(draft: Draft, box: Berth, cover: Board, dividers: int) -> int:
    """How many fields a box is parted into: as many as asked, or as bear a knee on top."""
    t = draft.board("carcass").thickness
    clear, depth = box.y1 - box.y0 - 2.0 * t, box.x1 - box.x0
    for count in range(1 + dividers, MOST_FIELDS):
        width = (clear - (count - 1) * t) / count
        following = (clear - count * t) / (count + 1)
        stiff = width <= WIDEST_FIELD and _bears(cover, depth, width)
        if stiff or following < LEAST_FIELD:
            return count
    return MOST_FIELDS


def _bears(board: Board, depth: float, width: float) -> bool:
    """Whether a board bears a knee over this clear width, whichever way its grain runs.

    One without published stiffness is left to the check, which says so.
    """
    along = False if grain_of(board, depth) is Grain.ALONG_V else None
    return bears_knee(board, (depth, width), "v ends", grain_along_u=along) is not False


def _beside_bolts(draft: Draft, box: Berth, y: float, thickness: float) -> float:
    """The y of an upright's right face, moved aside where a floor bolt would be under it."""
    for anchor in draft.setting.bay.anchors:
        inside = box.x0 <= anchor.x <= box.x1
        if inside and y - BOLT_ROOM < anchor.y < y + thickness + BOLT_ROOM:
            right, left = anchor.y - BOLT_ROOM - thickness, anchor.y + BOLT_ROOM
            return right if y - right <= left - y else left
    return y
