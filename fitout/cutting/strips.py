"""The shortest strip that shapes go into, by an optional library: a sheet pressed together.

`spyrrow` (extra `squeeze`) lays shapes in a strip of fixed height and makes it short; it works
against the clock on every core there is, so its layouts differ from run to run, and it is used
only where a design gives it seconds. It knows neither sheets nor holes, stops the program on
parts higher than the strip and on outlines that cross themselves, and reckons in single
precision: all that is seen to here, and what it gives is held against the true outlines before
it is taken.
"""

from __future__ import annotations

import dataclasses
import importlib
import importlib.util
import os
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
import shapely

from fitout.cutting.cut_list import CutLine
from fitout.cutting.distance import distance, edges
from fitout.cutting.plan import Placed, Rect, gap_between
from fitout.cutting.shapes import grown
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Outline
from fitout.model.placement import Array

LIBRARY = "spyrrow"

SINGLE = 2e-3
"""What parts are grown and the strip is lowered by (mm), since the library rounds."""

SPAN = 100.0
"""The library is given strips of this height: what it gives hangs on the scale."""

EXPLORING = 0.67
"""Share of the time in which the library looks for new arrangements, by trial."""

JUDGED = 1e-4
"""How far (mm) the judge lets a plan miss a limit by rounding."""


@dataclass(frozen=True, slots=True)
class StripItem:
    """A simple polygon without holes, shape (n, 2), and by which angles it may be turned."""

    points: Array
    copies: int
    angles_deg: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Standing:
    """A copy of item number `item` in the strip: turned about the origin, then shifted."""

    item: int
    angle_deg: float
    x: float
    y: float


def available() -> bool:
    """Whether the library is there."""
    return importlib.util.find_spec(LIBRARY) is not None


def shortest(
    items: Sequence[StripItem], height: float, seconds: int, seed: int
) -> tuple[float, list[Standing]] | None:
    """The shortest strip found and where everything stands in it.

    None if an item is too high for the strip or no simple polygon. `seed` sets its first steps
    alone: where the clock ends it, it is not repeatable. ModuleNotFoundError without the library.
    """
    if not all(_fits(item, height) for item in items):
        return None
    library = importlib.import_module(LIBRARY)
    scale = SPAN / height
    exploring = max(1, round(EXPLORING * seconds))
    shapes = []
    for i, item in enumerate(items):
        points = [(float(x), float(y)) for x, y in item.points * scale]
        shapes.append(library.Item(str(i), points, item.copies, list(item.angles_deg)))
    config = library.StripPackingConfig(
        early_termination=False,
        total_computation_time=None,
        exploration_time=exploring,
        compression_time=max(1, seconds - exploring),
        num_workers=os.cpu_count() or 1,
        seed=seed,
    )
    found = library.StripPackingInstance("", SPAN, shapes).solve(config)
    standing = [
        Standing(int(p.id), float(p.rotation), p.translation[0] / scale, p.translation[1] / scale)
        for p in found.placed_items
    ]
    return found.width / scale, standing


def _fits(item: StripItem, height: float) -> bool:
    """Whether the library can be asked about the item: simple, and low enough in some turn."""
    if not shapely.Polygon(item.points).is_valid:
        return False
    spans = (np.ptp(turned(item.points, angle)[:, 1]) for angle in item.angles_deg)
    return bool(min(spans) < height * (1.0 - 1e-5))


def turned(points: Array, angle_deg: float) -> Array:
    """`points`, shape (n, 2), turned about the origin; whole quarters exactly."""
    angle = np.deg2rad(angle_deg)
    cos, sin = np.cos(angle), np.sin(angle)
    if angle_deg % 90.0 == 0.0:
        cos, sin = round(float(cos)), round(float(sin))
    return np.asarray(points @ np.array([[cos, sin], [-sin, cos]]))


def squeezed(
    lines: Sequence[CutLine],
    placed: Sequence[Placed],
    room: Rect,
    spec: CuttingSpec,
    seed: int,
) -> tuple[Placed, ...] | None:
    """The same copies on the same room, pressed to its left; None if that can't be had.

    Parts that lie in others' cut-outs would not stay there, so such a sheet is left alone.
    """
    by_number = {line.number: line for line in lines}
    if _nested(by_number, placed):
        return None
    numbers = list(dict.fromkeys(p.number for p in placed))
    gap = gap_between(spec)
    items = []
    for number in numbers:
        line = by_number[number]
        copies = sum(p.number == number for p in placed)
        angles = (0.0, 180.0) if line.grain_locked else (0.0, 90.0, 180.0, 270.0)
        whole = Outline(line.panel.outline.outer)
        solid = grown(whole, gap + 2.0 * SINGLE)
        items.append(StripItem(shapely.get_coordinates(solid.exterior)[:-1], copies, angles))
    found = shortest(items, room.width + gap, spec.squeeze_seconds, seed)
    if found is None:
        return None
    left = {n: [p.copy for p in placed if p.number == n] for n in numbers}
    result = []
    for stand in found[1]:
        number = numbers[stand.item]
        quarters = round(stand.angle_deg / 90.0) % 4
        outline = by_number[number].panel.outline.turned(quarters)
        x, y = (
            low + shift - gap / 2.0
            for low, shift in zip(outline.bounds[:2], (stand.x, stand.y), strict=True)
        )
        # What was grown for rounding may stand out by it.
        length, width = outline.size
        x = min(max(x, 0.0), room.length - length)
        y = min(max(y, 0.0), room.width - width)
        result.append(Placed(number, left[number].pop(0), room.x + x, room.y + y, quarters))
    result.sort(key=lambda p: (p.number, p.copy))
    return tuple(result) if _sound(by_number, result, room, gap) else None


def _outline(line: CutLine, placed: Placed) -> Outline:
    turned_there = line.panel.outline.turned(placed.quarter_turns)
    x0, y0, _, _ = turned_there.bounds
    return turned_there.moved(placed.x - x0, placed.y - y0)


def _nested(lines: dict[str, CutLine], placed: Sequence[Placed]) -> bool:
    outlines = [_outline(lines[p.number], p) for p in placed]
    filled = [dataclasses.replace(o, inner=()) for o in outlines]
    return any(
        distance(edges(a), edges(b)) == 0.0 for a, b in combinations(filled, 2) if _boxes_meet(a, b)
    )


def _boxes_meet(a: Outline, b: Outline, gap: float = 0.0) -> bool:
    ax0, ay0, ax1, ay1 = a.bounds
    bx0, by0, bx1, by1 = b.bounds
    return max(bx0 - ax1, ax0 - bx1, by0 - ay1, ay0 - by1) < gap


def _sound(lines: dict[str, CutLine], placed: Sequence[Placed], room: Rect, gap: float) -> bool:
    """Whether the parts lie in the room and apart, by their true outlines."""
    outlines = [_outline(lines[p.number], p) for p in placed]
    for outline in outlines:
        x0, y0, x1, y1 = outline.bounds
        if min(x0 - room.x, y0 - room.y, room.x + room.length - x1, room.y + room.width - y1) < (
            -JUDGED
        ):
            return False
    return all(
        not _boxes_meet(a, b, gap) or distance(edges(a), edges(b)) >= gap - JUDGED
        for a, b in combinations(outlines, 2)
    )
