"""Filling one sheet for a router: blanks laid in the lowest gap of a skyline.

         +-----+
+--+     |     |    The skyline is the upper edge of what is laid and of what is lost
|  |     |     |    beneath it. A blank goes to either end of its lowest gap; or the gap
|  +-----+     |    is given up to the level of its lower neighbour (up to twice), and
|  | gap |     |    the blank goes into the next one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fitout.cutting import free
from fitout.cutting.beam import Aim, Meter, Pattern, Trace, measure, survivors
from fitout.cutting.fits import CLOSE
from fitout.cutting.layout import Blank, Laid, Layout
from fitout.cutting.task import Flags, Offer, Values, Whole

MOST_GIVEN_UP = 2
OVERHEAD = 800
PER_SHEET = 150
"""Work of a level, and of each sheet on it, beside its comparisons."""

BEYOND = 1e18

LEVER = 97.3
"""Any length: sheets that agree in the area used and in its moment over it count as equal."""

Flat = tuple[float, float, float]
"""Start along the sheet, height, extent."""

Skyline = tuple[Flat, ...]


@dataclass(frozen=True, slots=True)
class _Gap:
    """A gap of a skyline in which the next blank may go, and what was lost to get to it."""

    skyline: Skyline
    at: int
    left_wall: float
    right_wall: float
    lost: float
    moment: float


@dataclass(frozen=True, slots=True, eq=False)
class _Sheets:
    """Half-filled sheets: skylines, what is left of each kind, area used, worth, area laid.

    `moment` is the area under the skyline, each bit times its height and its distance
    from a point left of the sheet.
    """

    skylines: list[Skyline]
    left: Whole
    used: Values
    value: Values
    area: Values
    tag: Whole
    moment: Values


@dataclass(frozen=True, slots=True, eq=False)
class _Choices:
    """The choices of an offer of which some are left."""

    number: Whole
    kinds: Whole
    along: Values
    across: Values
    worth: Values
    tags: Whole


def fill(offer: Offer, left: Whole, values: Values, aim: Aim, meter: Meter) -> list[Pattern]:
    """Fillings of one sheet from what is left of each kind, worth most first.

    `values` is the worth of one of each kind, in mm². Empty if nothing fits.
    """
    number = np.flatnonzero(left[offer.kinds] > 0)
    kinds = offer.kinds[number]
    choices = _Choices(
        number, kinds, offer.along[number], offer.across[number], values[kinds], offer.tags[number]
    )
    none, zero = np.zeros(1), np.zeros(1, dtype=np.int64)
    ground: Skyline = ((0.0, 0.0, offer.length),)
    sheets = _Sheets([ground], left[None, :].copy(), none, none, none, zero, none)
    trace = Trace()
    while True:
        gaps, owner = _gaps(sheets.skylines, offer.width)
        meter.spend(2 * len(number) * len(gaps) + PER_SHEET * len(owner) + OVERHEAD)
        alive = np.zeros(len(sheets.value), dtype=np.bool_)
        may, used = _continued(sheets, (gaps, owner), offer.width, choices)
        alive[owner[may.any(axis=1)]] = True
        trace.end(sheets.value, np.flatnonzero(~alive))
        found = np.flatnonzero(may)
        if not len(found):
            break
        sheets = _next(sheets, (gaps, owner), (found, used.ravel()[found]), choices, aim, trace)
    most = max(4, aim.width // 4) if trace.levels else 0
    return trace.patterns(offer, len(left), most, staged=False)


def _next(
    sheets: _Sheets,
    places: tuple[list[_Gap], Whole],
    offers: tuple[Whole, Values],
    choices: _Choices,
    aim: Aim,
    trace: Trace,
) -> _Sheets:
    """The best of the sheets with one blank more."""
    (gaps, owner), (found, used), n = places, offers, len(choices.number)
    gap, right, which = found // (2 * n), found // n % 2, found % n
    parent = owner[gap]
    areas = choices.along * choices.across
    value, area = sheets.value[parent] + choices.worth[which], sheets.area[parent] + areas[which]
    tag = sheets.tag[parent] + choices.tags[which]
    blank = area / (len(trace.levels) + 1)
    moment = sheets.moment[parent] + np.array([g.moment for g in gaps])[gap]
    start, low, extent = np.array([g.skyline[g.at] for g in gaps])[gap].T
    middle = start + np.where(right == 1, extent - choices.along[which], 0.0)
    middle += choices.along[which] / 2.0
    moment = moment + areas[which] * (low + choices.across[which] / 2.0) * (LEVER + middle)
    marks = used + moment / LEVER**2 if aim.fine else used
    kept = survivors(measure(aim, used - value, used, blank), marks, tag, aim.width)
    parent, which, gap, right = parent[kept], which[kept], gap[kept], right[kept]
    skylines, steps = [], []
    for chosen, where, to_right in zip(which.tolist(), gap.tolist(), right.tolist(), strict=True):
        size = float(choices.along[chosen]), float(choices.across[chosen])
        skyline, x, y = _laid(gaps[where], size, to_right=bool(to_right))
        skylines.append(skyline)
        steps.append((int(choices.number[chosen]), x, y))
    trace.levels.append((parent, steps))
    rest = sheets.left[parent]
    rest[np.arange(len(kept)), choices.kinds[which]] -= 1
    lost = np.array([gaps[where].lost for where in gap])
    return _Sheets(
        skylines,
        rest,
        sheets.used[parent] + lost + areas[which],
        value[kept],
        area[kept],
        tag[kept],
        moment[kept],
    )


def _gaps(skylines: Sequence[Skyline], width: float) -> tuple[list[_Gap], Whole]:
    """The gaps to try on each sheet, and which sheet each is of."""
    gaps: list[_Gap] = []
    owner: list[int] = []
    for i, ground in enumerate(skylines):
        skyline, lost, moment = ground, 0.0, 0.0
        for _ in range(1 + MOST_GIVEN_UP):
            heights = [flat[1] for flat in skyline]
            at = heights.index(min(heights))
            start, low, extent = skyline[at]
            left = skyline[at - 1][1] if at else width
            right = skyline[at + 1][1] if at + 1 < len(skyline) else width
            if low >= width - CLOSE:
                break
            gaps.append(_Gap(skyline, at, left, right, lost, moment))
            owner.append(i)
            level = min(left, right)
            lost += extent * (level - low)
            middle = LEVER + start + extent / 2.0
            moment += extent * (level - low) * (level + low) / 2.0 * middle
            skyline = _even((*skyline[:at], (start, level, extent), *skyline[at + 1 :]))
    return gaps, np.array(owner, dtype=np.int64)


def _even(skyline: Sequence[Flat]) -> Skyline:
    """Neighbours of the same height made one."""
    result = [skyline[0]]
    for x, y, extent in skyline[1:]:
        start, low, before = result[-1]
        if abs(low - y) < CLOSE:
            result[-1] = (start, low, before + extent)
        else:
            result.append((x, y, extent))
    return tuple(result)


def _laid(gap: _Gap, size: tuple[float, float], *, to_right: bool) -> tuple[Skyline, float, float]:
    """The skyline with a blank in the gap, and where the blank then lies."""
    start, low, extent = gap.skyline[gap.at]
    along, top = size[0], low + size[1]
    rest = extent - along
    x = start
    if rest < CLOSE:
        middle: tuple[Flat, ...] = ((start, top, extent),)
    elif to_right:
        x = start + rest
        middle = ((start, low, rest), (x, top, along))
    else:
        middle = ((start, top, along), (start + along, low, rest))
    before, after = gap.skyline[: gap.at], gap.skyline[gap.at + 1 :]
    return _even((*before, *middle, *after)), x, low


def _continued(
    sheets: _Sheets, places: tuple[list[_Gap], Whole], width: float, choices: _Choices
) -> tuple[Flags, Values]:
    """Which choices may go to the left and to the right of each gap, and the area then used.

    Both of shape (gaps, 2 times choices). The area counts what is lost for certain: a rest
    beside the blank, or above it, that is too narrow for anything left.
    """
    gaps, owner = places
    table = np.array(
        [(g.skyline[g.at][1], g.skyline[g.at][2], g.left_wall, g.right_wall, g.lost) for g in gaps]
    ).reshape(-1, 5)
    low, extent, left_wall, right_wall, lost = (column[:, None] for column in table.T)
    there = sheets.left[:, choices.kinds] > 0
    narrowest = np.where(there, choices.along, BEYOND).min(axis=1, initial=BEYOND)[owner][:, None]
    lowest = np.where(there, choices.across, BEYOND).min(axis=1, initial=BEYOND)[owner][:, None]
    rest, top = extent - choices.along, low + choices.across
    may = there[owner] & (rest >= -CLOSE) & (top <= width + CLOSE)
    areas = choices.along * choices.across
    above = np.where(width - top < lowest - CLOSE, choices.along * (width - top), 0.0)
    used = (sheets.used[owner][:, None] + lost) + areas + above
    beside = np.where(rest < narrowest - CLOSE, rest, 0.0)
    to_left = used + np.maximum(beside * (np.minimum(top, right_wall) - low), 0.0)
    to_right = used + np.maximum(beside * (np.minimum(top, left_wall) - low), 0.0)
    # On an empty sheet, right and left are the same but for a mirror.
    end = (rest > CLOSE) & (extent < _length(sheets) - CLOSE)
    return np.hstack([may, may & end]), np.hstack([to_left, to_right])


def _length(sheets: _Sheets) -> float:
    """How long the sheets are."""
    start, _, extent = sheets.skylines[0][-1]
    return start + extent


def layout(pattern: Pattern, blanks: Sequence[Blank | None]) -> Layout:
    """Where the blanks lie; `blanks` names the blank of each step, None to leave it out."""
    offer = pattern.offer
    laid = []
    for (choice, x, y), blank in zip(pattern.steps, blanks, strict=True):
        if blank is not None:
            at = (y, x) if offer.mirrored else (x, y)
            laid.append(Laid(blank, *at, bool(offer.turned[choice])))
    size = (offer.width, offer.length) if offer.mirrored else (offer.length, offer.width)
    return free.around(laid, size)
