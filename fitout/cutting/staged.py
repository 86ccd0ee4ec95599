"""Filling one sheet for a saw in three stages: sections, rows in them, blanks in those.

    +-------+------------+----+        1  cuts right across the sheet part it in sections
    |  row  |     row    |    |        2  cuts right across a section part it in rows
    |-------|------------| of |        3  cuts across a row part it in blanks, and one more
    |  a |b |   c  |  d  |free|           trims a blank that is less wide than its row
    +-------+------------+----+

Blanks are added at the end of the last row, in a new row of the last section, or in a new
section; rows and sections grow with what is laid in them. Every layout in three stages can
be reached so, with the blanks of each row in the offer's order (widest first).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fitout.cutting.beam import Aim, Meter, Pattern, Step, Trace, measure, survivors
from fitout.cutting.carried import Split, split
from fitout.cutting.fits import CLOSE
from fitout.cutting.layout import Blank, Laid, Layout, Piece, sawn
from fitout.cutting.task import Flags, Offer, Values, Whole

SAME_ROW, NEW_ROW, NEW_SECTION = 0, 1, 2
OVERHEAD = 600
"""Work of a level beside its comparisons."""


@dataclass(frozen=True, slots=True, eq=False)
class _Fronts:
    """Where each half-filled sheet ends: the last section and its last row."""

    section: Values
    section_end: Values
    row: Values
    row_top: Values
    row_end: Values


@dataclass(frozen=True, slots=True, eq=False)
class _Sheets:
    """Half-filled sheets: fronts, what is left of each kind, worth, area, last choice."""

    fronts: _Fronts
    left: Whole
    value: Values
    area: Values
    tag: Whole
    last: Whole


def fill(offer: Offer, left: Whole, values: Values, aim: Aim, meter: Meter) -> list[Pattern]:
    """Fillings of one sheet from what is left of each kind, worth most first.

    `values` is the worth of one of each kind, in mm². Empty if nothing fits.
    """
    choices = np.flatnonzero(left[offer.kinds] > 0)
    kinds, along, across = offer.kinds[choices], offer.along[choices], offer.across[choices]
    worth, areas, tags = values[kinds], along * across, offer.tags[choices]
    none, zero = np.zeros(1), np.zeros(1, dtype=np.int64)
    fronts = _Fronts(none, none, none, none, none)
    sheets = _Sheets(fronts, left[None, :].copy(), none, none, zero, zero)
    trace = Trace()
    n, laid = len(choices), 0
    while True:
        meter.spend(3 * n * len(sheets.value) + OVERHEAD)
        may, used = _continued(sheets, offer, (kinds, along, across), first=laid == 0)
        trace.end(sheets.value, np.flatnonzero(~may.any(axis=1)))
        found = np.flatnonzero(may)
        if not len(found):
            break
        parent, way, which = found // (3 * n), found // n % 3, found % n
        used = used.ravel()[found]
        value, area = sheets.value[parent] + worth[which], sheets.area[parent] + areas[which]
        tag = sheets.tag[parent] + tags[which]
        laid += 1
        kept = survivors(measure(aim, used - value, used, area / laid), used, tag, aim.width)
        parent, way, which = parent[kept], way[kept], which[kept]
        fronts = _moved(sheets.fronts, parent, way, (along[which], across[which]))
        rest = sheets.left[parent]
        rest[np.arange(len(kept)), kinds[which]] -= 1
        sheets = _Sheets(fronts, rest, value[kept], area[kept], tag[kept], which)
        steps = [(int(choices[c]), float(w), 0.0) for c, w in zip(which, way, strict=True)]
        trace.levels.append((parent, steps))
    most = max(4, aim.width // 4) if len(trace.levels) else 0
    ends = trace.patterns(offer, len(left), most, staged=True)
    if offer.pieces is None:
        return ends
    carried = (_to_be_carried(pattern, values) for pattern in ends)
    return [pattern for pattern in carried if pattern is not None]


def _to_be_carried(pattern: Pattern, values: Values) -> Pattern | None:
    """The filled sheet without the last sections that leave no pieces which can be carried."""
    offer, steps = pattern.offer, list(pattern.steps)
    while steps and split(_extents(_filled(offer, steps, None)), offer) is None:
        while steps.pop()[1] != NEW_SECTION:
            pass
    if len(steps) == len(pattern.steps):
        return pattern
    counts = np.zeros_like(pattern.counts)
    for choice, _, _ in steps:
        counts[offer.kinds[choice]] += 1
    worth = float(sum((counts * values).tolist()))
    return Pattern(offer, pattern.staged, counts, worth, tuple(steps)) if steps else None


def _continued(
    sheets: _Sheets, offer: Offer, choices: tuple[Whole, Values, Values], *, first: bool
) -> tuple[Flags, Values]:
    """Which choices may come next in each of the three ways, and the area then used up.

    Both of shape (sheets, 3 times choices).
    """
    kinds, along, across = choices
    length, width = offer.length + CLOSE, offer.width + CLOSE
    f = sheets.fronts
    left = sheets.left[:, kinds] > 0
    section, row, row_top = f.section[:, None], f.row[:, None], f.row_top[:, None]
    end = f.row_end[:, None] + along
    most = np.inf if offer.pieces is None else offer.pieces.section + CLOSE
    top = np.maximum(row_top, row + across)
    same = left & (end <= length) & (top <= width) & (np.arange(len(kinds)) >= sheets.last[:, None])
    below = left & (section + along <= length) & (row_top + across <= width)
    beside = left & (f.section_end[:, None] + along <= length)
    same &= end - section <= most
    below &= along <= most
    beside &= along <= most
    if first:
        same[:], below[:] = False, False
    closed = section * offer.width
    reach = np.maximum(f.section_end[:, None], end) - section
    used_same = closed + reach * row + (end - section) * (top - row)
    reach = np.maximum(f.section_end[:, None] - section, along)
    used_below = closed + reach * row_top + along * across
    used_beside = f.section_end[:, None] * offer.width + along * across
    return np.hstack([same, below, beside]), np.hstack([used_same, used_below, used_beside])


def _moved(fronts: _Fronts, parent: Whole, way: Whole, size: tuple[Values, Values]) -> _Fronts:
    """The fronts once each chosen blank is laid."""
    along, across = size
    same, beside = way == SAME_ROW, way == NEW_SECTION
    section = np.where(beside, fronts.section_end[parent], fronts.section[parent])
    row_end = np.where(same, fronts.row_end[parent], section) + along
    row = np.where(same, fronts.row[parent], np.where(beside, 0.0, fronts.row_top[parent]))
    top = row + across
    return _Fronts(
        section,
        np.where(beside, row_end, np.maximum(fronts.section_end[parent], row_end)),
        row,
        np.where(same, np.maximum(fronts.row_top[parent], top), top),
        row_end,
    )


@dataclass(frozen=True, slots=True)
class _Lying:
    """A blank with its turn and its extent along and across."""

    blank: Blank | None
    turned: bool
    along: float
    across: float


def layout(pattern: Pattern, blanks: Sequence[Blank | None]) -> Layout:
    """How the filled sheet is sawn; `blanks` names the blank of each step, None to leave it out."""
    offer = pattern.offer
    root = rest = Piece(0.0, 0.0, offer.length, offer.width)
    sections = _filled(offer, pattern.steps, blanks)
    for first in split(_extents(sections), offer) or [Split(offer.length, range(len(sections)))]:
        whole, rest = _part(rest, first.extent, across=True)
        for which in first.sections:
            section = sections[which]
            piece, whole = _part(whole, max(_reach(row) for row in section), across=True)
            _saw_rows(piece, section, first.rows)
    return sawn(_mirrored(root) if offer.mirrored else root)


_Section = list[list[_Lying]]


def _filled(
    offer: Offer, steps: Sequence[Step], blanks: Sequence[Blank | None] | None
) -> list[_Section]:
    """The sections with their rows and what lies in them; without `blanks` all that can lie."""
    sections: list[_Section] = []
    for i, (choice, way, _) in enumerate(steps):
        if way == NEW_SECTION:
            sections.append([])
        if way != SAME_ROW:
            sections[-1].append([])
        blank = None if blanks is None else blanks[i]
        if blank is not None or blanks is None:
            turned = bool(offer.turned[choice])
            size = float(offer.along[choice]), float(offer.across[choice])
            sections[-1][-1].append(_Lying(blank, turned, *size))
    filled = ([row for row in section if row] for section in sections)
    return [section for section in filled if section]


def _extents(sections: Sequence[_Section]) -> list[tuple[float, list[float]]]:
    """How far each section reaches, and how wide its rows are."""
    return [
        (max(_reach(row) for row in section), [max(each.across for each in row) for row in section])
        for section in sections
    ]


def _reach(row: Sequence[_Lying]) -> float:
    return sum(each.along for each in row)


def _saw_rows(
    piece: Piece, section: Sequence[Sequence[_Lying]], first: Sequence[Split] = ()
) -> None:
    for part in first or [Split(piece.width, range(len(section)))]:
        whole, piece = _part(piece, part.extent, across=False)
        for which in part.sections:
            row = section[which]
            strip, whole = _part(whole, max(each.across for each in row), across=False)
            for each in row:
                column, strip = _part(strip, each.along, across=True)
                blank, _ = _part(column, each.across, across=False)
                assert each.blank is not None
                blank.laid = Laid(each.blank, blank.x, blank.y, each.turned)


def _part(piece: Piece, size: float, *, across: bool) -> tuple[Piece, Piece]:
    """Cut a size off a piece: what comes off and the rest, of no size if there is none."""
    x, y, length, width = piece.x, piece.y, piece.length, piece.width
    if across:
        rest = Piece(x + size, y, length - size, width)
        first = Piece(x, y, size, width)
    else:
        rest = Piece(x, y + size, length, width - size)
        first = Piece(x, y, length, size)
    if min(rest.length, rest.width) <= CLOSE:
        return piece, rest
    piece.across, piece.at = across, x + size if across else y + size
    piece.first, piece.second = first, rest
    return first, rest


def _mirrored(piece: Piece) -> Piece:
    """The piece mirrored at the sheet's diagonal."""
    laid = piece.laid
    return Piece(
        piece.y,
        piece.x,
        piece.width,
        piece.length,
        not piece.across,
        piece.at,
        _mirrored(piece.first) if piece.first else None,
        _mirrored(piece.second) if piece.second else None,
        Laid(laid.blank, laid.y, laid.x, laid.turned) if laid else None,
    )
