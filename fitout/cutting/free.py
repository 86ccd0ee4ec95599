"""Placing for a router: parts lie freely, in the largest rectangles that are still free."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Literal

from fitout.cutting.fits import CLOSE
from fitout.cutting.layout import Blank, Laid, Layout
from fitout.cutting.plan import Rect

Rule = Literal["least short side", "least area", "least long side", "low and left", "left and low"]
RULES: tuple[Rule, ...] = (
    "least short side",
    "least area",
    "least long side",
    "low and left",
    "left and low",
)

Box = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y."""


def fill(
    blanks: Sequence[Blank], size: tuple[float, float], rule: Rule, most: float = math.inf
) -> list[Layout]:
    """Lay `blanks` in the order given on as few sheets of `size` as the rule manages.

    Every blank must fit an empty sheet in one of its turns. Each sheet keeps the list of
    all maximal free rectangles; the rooms in a blank join it once the blank is laid. Gives
    nothing where it would take more than `most` sheets.
    """
    laid: list[list[Laid]] = []
    free: list[list[Box]] = []
    for blank in blanks:
        offers = (_best(boxes, blank, rule) for boxes in free)
        sheet, found = next(((i, f) for i, f in enumerate(offers) if f), (len(free), None))
        if found is None:
            if len(laid) >= most:
                return []
            laid.append([])
            free.append([(0.0, 0.0, *size)])
            found = _best(free[sheet], blank, rule)
        if found is None:
            raise ValueError(f"{blank.number} is larger than a sheet")
        laid[sheet].append(found)
        free[sheet] = _without(free[sheet], _box(found)) + _rooms(found)
    return [
        Layout(tuple(placed), tuple(Rect(x0, y0, x1 - x0, y1 - y0) for x0, y0, x1, y1 in boxes))
        for placed, boxes in zip(laid, free, strict=True)
    ]


def around(laid: Sequence[Laid], size: tuple[float, float]) -> Layout:
    """The layout of a sheet on which some blanks lie, with all its maximal free rectangles."""
    boxes: list[Box] = [(0.0, 0.0, *size)]
    for each in laid:
        boxes = _without(boxes, _box(each)) + _rooms(each)
    return Layout(tuple(laid), tuple(Rect(x0, y0, x1 - x0, y1 - y0) for x0, y0, x1, y1 in boxes))


def _box(laid: Laid) -> Box:
    length, width = laid.blank.length, laid.blank.width
    if laid.turned:
        length, width = width, length
    return laid.x, laid.y, laid.x + length, laid.y + width


def _rooms(laid: Laid) -> list[Box]:
    """The rooms of a blank where they come to lie."""
    boxes = []
    for room in laid.blank.rooms:
        x, y, length, width = room.x, room.y, room.length, room.width
        if laid.turned:
            x, y, length, width = laid.blank.width - y - width, x, width, length
        boxes.append((laid.x + x, laid.y + y, laid.x + x + length, laid.y + y + width))
    return boxes


def _best(boxes: Sequence[Box], blank: Blank, rule: Rule) -> Laid | None:
    """The blank in the corner of the free rectangle that suits the rule best."""
    best: Laid | None = None
    least = (float("inf"), float("inf"))
    turns = blank.turns
    for x0, y0, x1, y1 in boxes:
        for length, width, turned in turns:
            rest_length, rest_width = x1 - x0 - length, y1 - y0 - width
            if rest_length < -CLOSE or rest_width < -CLOSE:
                continue
            short, long = min(rest_length, rest_width), max(rest_length, rest_width)
            if rule == "least short side":
                waste = (short, long)
            elif rule == "least area":
                waste = ((x1 - x0) * (y1 - y0), short)
            elif rule == "least long side":
                waste = (long, short)
            elif rule == "low and left":
                waste = (y0 + width, x0)
            else:
                waste = (x0 + length, y0)
            if waste < least:
                least, best = waste, Laid(blank, x0, y0, turned)
    return best


def _without(boxes: Sequence[Box], taken: Box) -> list[Box]:
    """The maximal free rectangles once `taken` is laid upon."""
    tx0, ty0, tx1, ty1 = taken
    kept: list[Box] = []
    pieces: list[Box] = []
    for box in boxes:
        x0, y0, x1, y1 = box
        if tx0 >= x1 - CLOSE or tx1 <= x0 + CLOSE or ty0 >= y1 - CLOSE or ty1 <= y0 + CLOSE:
            kept.append(box)
            continue
        if tx0 > x0 + CLOSE:
            pieces.append((x0, y0, tx0, y1))
        if tx1 < x1 - CLOSE:
            pieces.append((tx1, y0, x1, y1))
        if ty0 > y0 + CLOSE:
            pieces.append((x0, y0, x1, ty0))
        if ty1 < y1 - CLOSE:
            pieces.append((x0, ty1, x1, y1))
    for i, piece in enumerate(pieces):
        if not (_lies_in(piece, kept) or _lies_in(piece, pieces[i + 1 :])):
            kept.append(piece)
    return kept


def _lies_in(inner: Box, boxes: Iterable[Box]) -> bool:
    """Whether one of the boxes holds it."""
    left, low, right, top = inner
    left, low, right, top = left + CLOSE, low + CLOSE, right - CLOSE, top - CLOSE
    # A loop of its own, for this is asked some hundred thousand times.
    for x0, y0, x1, y1 in boxes:  # noqa: SIM110
        if x0 <= left and y0 <= low and x1 >= right and y1 >= top:
            return True
    return False


def apart(rects: Sequence[Rect]) -> list[Rect]:
    """Free rectangles that do not overlap, made from ones that may: the largest first."""
    boxes = [(r.x, r.y, r.x + r.length, r.y + r.width) for r in rects]
    result: list[Rect] = []
    while boxes:
        x0, y0, x1, y1 = max(boxes, key=lambda b: ((b[2] - b[0]) * (b[3] - b[1]), -b[0], -b[1]))
        result.append(Rect(x0, y0, x1 - x0, y1 - y0))
        boxes = _without(boxes, (x0, y0, x1, y1))
    return result
