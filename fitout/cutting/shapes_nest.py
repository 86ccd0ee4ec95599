"""The router's last word on a nest: the same sheets filled by true shapes, if that is better.

The sheets that the nest by rectangles takes are filled anew, what is on hand or cheap first,
in orders that a seeded search varies: parts that came too late move forward. What is kept
costs less, or leaves a larger offcut at the same cost; otherwise the nest stays as it is.
Work is counted, nothing hangs on a clock; but where a design gives seconds for it, the emptiest
sheet is pressed together after that (see `strips`).
"""

from __future__ import annotations

import dataclasses
import itertools
from collections.abc import Callable, Iterator, Sequence

import numpy as np

from fitout.cutting import free, strips
from fitout.cutting.beam import Enough
from fitout.cutting.cut_list import CutLine
from fitout.cutting.layout import Blank, Laid
from fitout.cutting.plan import Placed, Rect, Sheet, gap_between, usable
from fitout.cutting.shapes import Barred, Shape, shapes_of
from fitout.cutting.shapes_fill import RULES, Floor, fill
from fitout.cutting.tries import travel
from fitout.model.cutting import CuttingSpec
from fitout.model.placement import Array

SHARE = 40
"""So many steps of the search by rectangles count as one of this search."""

TRIES = 12
"""Most fillings tried for each copy to cut."""

STIR = 0.15
"""By how much (standard deviation of the logarithm) the search varies the parts' weights."""

FORWARD = 1.1
"""How much more a part weighs after it came last."""

LEAST_ROOM = 60.0
"""Where a part leaves less than a triangle of such sides free, nothing is to be gained, mm."""

Priced = tuple[float, Sheet]
"""What a sheet costs, and the sheet."""

Score = tuple[float, float, float]
"""What the sheets cost, less the largest offcut's area, the router's way: less is better."""


@dataclasses.dataclass(frozen=True, slots=True)
class _Job:
    """Every copy to cut, the shapes it may take, and the sheets, in the order they are used."""

    copies: tuple[tuple[CutLine, int], ...]
    turns: tuple[tuple[int, ...], ...]
    shapes: tuple[Shape, ...]
    sheets: tuple[Priced, ...]
    spec: CuttingSpec

    @property
    def sizes(self) -> list[tuple[float, float]]:
        """Length and width of each sheet's usable area."""
        rooms = (_room(sheet, self.spec) for _, sheet in self.sheets)
        return [(room.length, room.width) for room in rooms]


def improved(
    lines: Sequence[CutLine],
    sheets: Sequence[Priced],
    spec: CuttingSpec,
    work: int,
    seed: int = 1,
    check: Callable[[], None] = lambda: None,
) -> tuple[list[Priced], bool]:
    """The sheets filled by true shapes if that is better, else as they are; whether it was ended.

    `sheets` hold every copy of `lines`, each with what it costs; `work` is the most to be
    done, some two hundred thousand a second. Plain rectangles lie as well by their bounding
    rectangles: ask `shaped` whether there are others. `check` is called often; it may raise
    `Enough` to end it with the best so far.
    """
    best, least = list(sheets), _score(sheets)
    if not sheets or work <= 0:
        return best, False
    try:
        for found in _fillings(_job(lines, sheets, spec), work, seed, check):
            if _score(found) < least:
                best, least = found, _score(found)
        check()
        if spec.squeeze_seconds > 0 and strips.available():
            best = _pressed(best, lines, spec, seed)
    except Enough:
        return best, True
    return best, False


def _fillings(job: _Job, work: int, seed: int, check: Callable[[], None]) -> Iterator[list[Priced]]:
    """The sheets filled in one order after the other, where they hold every part."""
    bars = Barred(job.shapes)
    done = 0
    for weights, rule in itertools.islice(_tries(job, seed), TRIES * len(job.copies)):
        order = sorted(range(len(job.copies)), key=lambda i: (-weights[i], i))
        floors, left = fill(order, job.turns, job.sizes, bars, RULES[rule], check)
        done += sum(floor.work for floor in floors)
        # What came last shall come earlier.
        used = [floor for floor in floors if floor.lain]
        late = left or [lain.part for lain in used[-1].lain]
        weights[late] *= FORWARD
        weights[:] /= weights.mean()
        if not left:
            yield _sheets(floors, job)
        if done >= work:
            break


def _pressed(
    sheets: Sequence[Priced], lines: Sequence[CutLine], spec: CuttingSpec, seed: int
) -> list[Priced]:
    """The emptiest sheet pressed together, if that makes its offcut larger."""
    before = list(sheets)
    i = min(range(len(before)), key=lambda i: len(before[i][1].placed))
    price, sheet = before[i]
    room = _room(sheet, spec)
    placed = strips.squeezed(lines, sheet.placed, room, spec, seed)
    if placed is None:
        return before
    sizes = {line.number: (line.length, line.width) for line in lines}
    boxes = []
    for each in placed:
        size = sizes[each.number]
        along, across = size if each.quarter_turns % 2 == 0 else size[::-1]
        boxes.append(Rect(each.x - room.x, each.y - room.y, along, across))
    pressed = dataclasses.replace(sheet, placed=placed, offcuts=_spare(boxes, room, spec))
    after = [*before[:i], (price, pressed), *before[i + 1 :]]
    return after if _score(after) < _score(before) else before


def shaped(line: CutLine, spec: CuttingSpec) -> bool:
    """Whether the part leaves room beside itself in its bounding rectangle, or in itself."""
    least = LEAST_ROOM + gap_between(spec)
    return line.length * line.width - line.panel.outline.area > least**2 / 2.0


def _job(lines: Sequence[CutLine], sheets: Sequence[Priced], spec: CuttingSpec) -> _Job:
    gap = gap_between(spec)
    least = min(min(line.length, line.width) for line in lines)
    shapes: list[Shape] = []
    copies: list[tuple[CutLine, int]] = []
    turns: list[tuple[int, ...]] = []
    for line in lines:
        first = len(shapes)
        shapes += shapes_of(line, gap, least)
        for copy in range(1, line.quantity + 1):
            copies.append((line, copy))
            turns.append(tuple(range(first, len(shapes))))
    ordered = sorted(sheets, key=lambda each: (each[0] / _area(each[1]), -_area(each[1])))
    return _Job(tuple(copies), tuple(turns), tuple(shapes), tuple(ordered), spec)


def _tries(job: _Job, seed: int) -> Iterator[tuple[Array, int]]:
    """Weights of the copies, the heaviest to be laid first, and the number of a rule; no end.

    The weights are changed by whoever takes them, and varied here from one try to the next.
    """
    sides = np.array([(line.length, line.width) for line, _ in job.copies])
    longer, shorter = sides.max(axis=1), sides.min(axis=1)
    starts = [sides.prod(axis=1), longer * longer, shorter * shorter, sides.sum(axis=1) ** 2]
    for weights, rule in itertools.product(starts, range(len(RULES))):
        yield weights / weights.mean(), rule
    chance = np.random.default_rng(seed)
    kept = [[weights / weights.mean() for _ in RULES] for weights in starts]
    for turn in itertools.count():
        weights = kept[turn % len(kept)][turn % len(RULES)]
        trial = weights * np.exp(STIR * chance.standard_normal(len(weights)))
        before = trial.copy()
        yield trial, turn % len(RULES)
        # Only what the filling taught is kept, not the noise.
        weights *= trial / before


def _sheets(floors: Sequence[Floor], job: _Job) -> list[Priced]:
    """The filled sheets as records; sheets with nothing on them are left out."""
    result = []
    for floor, (price, sheet) in zip(floors, job.sheets, strict=True):
        if not floor.lain:
            continue
        room = _room(sheet, job.spec)
        placed = []
        for lain in floor.lain:
            line, copy = job.copies[lain.part]
            turn = job.shapes[lain.shape].quarter_turns
            placed.append(Placed(line.number, copy, room.x + lain.x, room.y + lain.y, turn))
        placed.sort(key=lambda p: (p.number, p.copy))
        spare = _offcuts(floor, job, room)
        filled = dataclasses.replace(sheet, placed=tuple(placed), offcuts=spare, cuts=None)
        result.append((price, filled))
    return result


def _offcuts(floor: Floor, job: _Job, room: Rect) -> tuple[Rect, ...]:
    """What the filled sheet leaves."""
    boxes = []
    for lain in floor.lain:
        shape = job.shapes[lain.shape]
        boxes.append(Rect(lain.x, lain.y, shape.length, shape.width))
    return _spare(boxes, room, job.spec)


def _spare(boxes: Sequence[Rect], room: Rect, spec: CuttingSpec) -> tuple[Rect, ...]:
    """Rectangles worth keeping, clear of the parts' boxes in the room and apart, largest first."""
    gap = gap_between(spec)
    laid = []
    for box in boxes:
        blank = Blank("", 0, box.length + gap, box.width + gap, turnable=False)
        laid.append(Laid(blank, box.x, box.y, turned=False))
    spare = free.apart(free.around(laid, (room.length + gap, room.width + gap)).free)
    true = (Rect(room.x + r.x, room.y + r.y, r.length - gap, r.width - gap) for r in spare)
    return tuple(r for r in true if spec.worth_keeping(r.length, r.width))


def _score(sheets: Sequence[Priced]) -> Score:
    largest = max((rect.area for _, sheet in sheets for rect in sheet.offcuts), default=0.0)
    way = sum(travel([(p.x, p.y) for p in sheet.placed]) for _, sheet in sheets)
    return sum(price for price, _ in sheets), -round(largest, 3), way


def _room(sheet: Sheet, spec: CuttingSpec) -> Rect:
    """The sheet's usable area."""
    trim = spec.trim if sheet.trim is None else sheet.trim
    return usable(sheet.board, dataclasses.replace(spec, trim=trim))


def _area(sheet: Sheet) -> float:
    return sheet.board.length * sheet.board.width
