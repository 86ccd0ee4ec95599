"""Blocks laid on sheets: those that belong together on one sheet, if they fit, in order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from fitout.documents.drawings.sketch import SPACE_HEIGHT, SPACE_WIDTH, TITLE_BLOCK, Box
from fitout.documents.paper.marks import Mark, moved
from fitout.documents.paper.table import Block

EDGE = 7.0
"""Room kept from the frame, which also clears its centring marks, mm."""

GAP = 7.0
"""Room between blocks, mm."""

OPEN = 5
"""So many of the last sheets still take what fits."""

ROOM: Box = (EDGE, EDGE, SPACE_WIDTH - EDGE, SPACE_HEIGHT - EDGE)
WIDTH, HEIGHT = ROOM[2] - ROOM[0], ROOM[3] - ROOM[1]
"""The largest block that a sheet takes if it keeps clear of the title block elsewhere, mm."""

TALL = ROOM[3] - TITLE_BLOCK[3] - GAP
"""The highest that a block of any width may be, mm."""


@dataclass(slots=True)
class Packed:
    """One sheet: which groups have blocks on it, and its marks."""

    groups: list[int] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)


def packed(groups: Sequence[Sequence[Sequence[Block]]], still_open: int = OPEN) -> list[Packed]:
    """The groups on sheets, each on one if it fits, each block near the upper left.

    Args:
        groups: for each group the ways its blocks can be made, the best first.
        still_open: so many of the last sheets still take what fits; 1 keeps the order.

    Raises:
        ValueError: for a block that no sheet takes; whoever made it is at fault.
    """
    sheets: list[Packed] = []
    for number, ways in enumerate(groups):
        tried = [*sheets[-still_open:], Packed()]
        fitting = (
            (sheet, way, places)
            for sheet in tried
            for way in ways
            if len(places := _places(way, sheet.boxes)) == len(way)
        )
        sheet, way, places = next(fitting, (None, ways[0], []))
        if sheet is not None:
            if sheet is tried[-1]:
                sheets.append(sheet)
            _put(sheet, number, way, places)
            continue
        rest = list(way)
        while rest:
            sheets.append(Packed())
            places = _places(rest, ())
            if not places:
                raise ValueError(f"a block of {rest[0].width} x {rest[0].height} is too large")
            _put(sheets[-1], number, rest[: len(places)], places)
            rest = rest[len(places) :]
    return sheets


def _put(sheet: Packed, number: int, group: Sequence[Block], places: Sequence[Box]) -> None:
    sheet.groups.append(number)
    sheet.boxes.extend(places)
    for block, place in zip(group, places, strict=True):
        sheet.marks += moved(block.marks, (place[0], place[3]))


def _places(group: Sequence[Block], taken: Sequence[Box]) -> list[Box]:
    """Where the first blocks of a group go, as many as find room."""
    boxes = [*taken, TITLE_BLOCK]
    found: list[Box] = []
    for block in group:
        box = _place(block, boxes)
        if box is None:
            break
        boxes.append(box)
        found.append(box)
    return found


def _place(block: Block, boxes: Sequence[Box]) -> Box | None:
    lefts = sorted({ROOM[0], *(box[2] + GAP for box in boxes)})
    tops = sorted({ROOM[3], *(box[1] - GAP for box in boxes)}, reverse=True)
    for top in tops:
        for left in lefts:
            box = (left, top - block.height, left + block.width, top)
            if _inside(box) and all(_clear(box, other) for other in boxes):
                return box
    return None


def _inside(box: Box) -> bool:
    return box[1] >= ROOM[1] - 1e-6 and box[2] <= ROOM[2] + 1e-6 and box[3] <= ROOM[3] + 1e-6


def _clear(box: Box, other: Box) -> bool:
    reach = GAP - 1e-6
    return (
        box[2] + reach <= other[0]
        or other[2] + reach <= box[0]
        or box[3] + reach <= other[1]
        or other[3] + reach <= box[1]
    )
