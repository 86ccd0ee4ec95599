"""How few sheets can do at the very least, whatever the engine: proven, not estimated.

Dual feasible functions: each maps the lengths (and another the widths) to [0, 1] such that
whatever fits side by side in one sheet sums to at most 1. Grown so, the parts' areas still
add up to no more than 1 on any sheet, cut freely or from edge to edge; so their sum over all
parts is a lower bound. The families are those of Fekete & Schepers, "New classes of fast
lower bounds for bin packing problems", Mathematical Programming 91 (2001) and of Carlier,
Clautiaux & Moukrim, "New reduction procedures and lower bounds for the two-dimensional bin
packing problem with fixed orientation", Computers & Operations Research 34 (2007); formulas
from memory, and proven by cases in the tests. With whole lengths they contain the bounds of
Martello & Vigo, Management Science 44 (1998), for parts that take more than half a sheet.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from fitout.cutting.layout import Blank
from fitout.cutting.task import Stock

PER_MM = 1000.0
"""Lengths are compared as whole micrometres, parts rounded down and sheets up."""

MOST_STEPS = 100
"""How many thresholds of a family are tried at most."""

CLOSE = 1e-3
"""How far (micrometres) a length may miss a whole number by rounding."""

SLACK = 1e-7

Whole = npt.NDArray[np.int64]
Values = npt.NDArray[np.float64]


def least_sheets(blanks: Sequence[Blank], size: tuple[float, float]) -> int:
    """The least number of sheets of `size` (mm) that can hold the blanks, by any layout.

    Blanks with rooms in them count by their area alone, less the rooms.
    """
    if not blanks:
        return 0
    by_area = sum(b.area - sum(room.area for room in b.rooms) for b in blanks)
    least = by_area / (size[0] * size[1])
    solid = [b for b in blanks if not b.rooms]
    if solid:
        least = max(least, _stretched(solid, size))
    return max(1, math.ceil(least - SLACK))


def least_cost(blanks: Sequence[Blank], stocks: Sequence[Stock]) -> float:
    """The least that sheets of several sizes and prices can cost, those on hand used freely.

    No sheet holds more than one as long as the longest and as wide as the widest, so as many
    sheets are needed as of those; and the price of an area is at least that of the cheapest
    areas to be had. Infinite if there are not enough sheets.
    """
    if not blanks:
        return 0.0
    size = max(s.length for s in stocks), max(s.width for s in stocks)
    count = least_sheets(blanks, size)
    area = sum(b.area - sum(room.area for room in b.rooms) for b in blanks)
    by_count = 0.0
    for stock in sorted(stocks, key=lambda stock: stock.price):
        taken = count if stock.available is None else min(count, stock.available)
        by_count += taken * stock.price
        count -= taken
    by_area = 0.0
    for stock in sorted(stocks, key=lambda stock: stock.price / stock.area):
        share = area / stock.area
        taken_share = share if stock.available is None else min(share, stock.available)
        by_area += taken_share * stock.price
        area -= taken_share * stock.area
    short = count > 0 or area > SLACK * size[0] * size[1]
    return math.inf if short else max(by_count, by_area)


def _stretched(blanks: Sequence[Blank], size: tuple[float, float]) -> float:
    """The greatest sum of stretched areas over all pairs of functions."""
    length, width = (math.ceil(side * PER_MM - CLOSE) for side in size)
    along = _whole([b.length for b in blanks])
    across = _whole([b.width for b in blanks])
    unit = int(np.gcd.reduce(np.concatenate([along, across, [length, width]])))
    along, across, length, width = along // unit, across // unit, length // unit, width // unit
    turnable = np.array([b.turnable for b in blanks])
    both = np.concatenate([along, across[turnable]])
    f = family(both, length)
    g = family(np.concatenate([across, along[turnable]]), width)
    n = len(blanks)
    fixed = ~turnable
    areas = f[:, :n][:, fixed] @ g[:, :n][:, fixed].T
    if not turnable.any():
        return float(areas.max())
    f_along, f_across = f[:, :n][:, turnable], f[:, n:]
    g_across, g_along = g[:, :n][:, turnable], g[:, n:]
    if length == width and not fixed.any():
        # On a square sheet a layout may be mirrored at the diagonal, so both functions hold
        # either way round, and so does their mean, in which the turn no longer matters.
        return float(((f_along @ g_across.T + f_across @ g_along.T) / 2.0).max())
    return float(max(_least_turn(row, (f_along, f_across), (g_across, g_along), areas)
                     for row in range(len(f))))  # fmt: skip


def _least_turn(
    row: int, f: tuple[Values, Values], g: tuple[Values, Values], areas: Values
) -> float:
    """The best sum for one function of the lengths, each part in the turn that counts least."""
    as_drawn, turned = f[0][row] * g[0], f[1][row] * g[1]
    return float((np.minimum(as_drawn, turned).sum(axis=1) + areas[row]).max())


def _whole(sides: Sequence[float]) -> Whole:
    return np.array([math.floor(side * PER_MM + CLOSE) for side in sides], dtype=np.int64)


def family(sizes: Whole, whole: int) -> Values:
    """Every function of the families at the sizes, shape (functions, sizes), each in [0, 1].

    `sizes` are whole numbers in (0, whole]; each row is dual feasible for any selection of
    them in which each is taken at most once.
    """
    rows = [sizes / whole]
    rows += [_rounded_down(sizes, whole, k) for k in range(1, 13)]
    steps = np.unique(np.concatenate([sizes, whole - sizes, [whole // 2]]))
    steps = steps[(steps > 0) & (2 * steps <= whole)]
    if len(steps) > MOST_STEPS:
        steps = steps[np.unique(np.linspace(0, len(steps) - 1, MOST_STEPS).round().astype(int))]
    for step in steps:
        rows.append(_without_small(sizes, whole, int(step)))
        rows.append(_counted(sizes, whole, int(step)))
        rows.append(_in_steps(sizes, whole, int(step)))
        rows.append(_in_steps(sizes, whole, int(step) + 1))
    return np.unique(np.array(rows), axis=0)


def _rounded_down(sizes: Whole, whole: int, k: int) -> Values:
    """Fekete & Schepers' u^(k)."""
    scaled = (k + 1) * sizes
    return np.where(scaled % whole == 0, sizes / whole, (scaled // whole) / k)


def _without_small(sizes: Whole, whole: int, step: int) -> Values:
    """Parts below the step count nothing, those that leave less than it beside them all."""
    kept = np.where(sizes < step, 0.0, sizes / whole)
    return np.where(sizes > whole - step, 1.0, kept)


def _counted(sizes: Whole, whole: int, step: int) -> Values:
    """Middling parts count one each; a large part as many as it leaves no room for."""
    middling = np.sort(sizes[(sizes >= step) & (2 * sizes <= whole)])
    if not len(middling):
        return np.where(2 * sizes > whole, 1.0, 0.0)
    sums = np.cumsum(middling)
    most = int(np.searchsorted(sums, whole, side="right"))
    beside = np.searchsorted(sums, whole - sizes, side="right")
    counts = np.where(2 * sizes > whole, most - beside, np.where(sizes >= step, 1, 0))
    return counts / most


def _in_steps(sizes: Whole, whole: int, step: int) -> Values:
    """Everything rounded to steps: small parts down, large parts up."""
    most = 2 * (whole // step)
    large = most - 2 * ((whole - sizes) // step)
    counts = np.where(2 * sizes < whole, 2 * (sizes // step), large)
    return np.where(2 * sizes == whole, whole // step, counts) / most
