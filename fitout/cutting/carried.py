"""Sheets cut first into pieces that go into the car.

+-----+-----+----+        The yard's few cuts part the sheet in pieces; each holds whole
|     |     |    |        sections (see `staged`). A piece that is still too wide is cut
|     |     |    |        once more, between its rows.
|     |     |    |
+-----+-----+----+
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from fitout.cutting.fits import CLOSE
from fitout.cutting.task import Offer, Pieces, Task
from fitout.cutting.yard import can_be_carried
from fitout.model.cutting import YardSpec
from fitout.model.stock import Board

Extents = Sequence[tuple[float, Sequence[float]]]
"""How far each section reaches, and how wide each of its rows is."""

HALVINGS = 50


@dataclass(frozen=True, slots=True)
class Split:
    """A piece of a first cut: how far it reaches, which sections (or rows) it holds, its own."""

    extent: float
    sections: Sequence[int]
    rows: Sequence[Split] = ()


def split(sections: Extents, offer: Offer) -> list[Split] | None:
    """The pieces of the first cuts; None if there are no rules for them or they can't be kept."""
    rules = offer.pieces
    if rules is None:
        return None
    short = [i for i, (reach, _) in enumerate(sections) if reach <= rules.along + CLOSE]
    long = [i for i in range(len(sections)) if i not in short]
    pieces: list[Split] = []
    left = offer.length
    for i in long:
        reach, widths = sections[i]
        rows = _grouped(list(enumerate(widths)), rules.across, offer.width)
        if rows is None:
            return None
        pieces.append(Split(reach, [i], rows))
        left -= reach
    rest: list[Split] | None = []
    if short or left > CLOSE:
        rest = _grouped([(i, sections[i][0]) for i in short], rules.along, left)
    if rest is None and not short:
        # What is left beside them can't be a piece of its own, but may stay with them.
        pieces, left = _stretched(pieces, rules.section, left)
        rest = [] if left <= CLOSE else None
    if rest is None:
        return None
    pieces += rest
    cuts = len(pieces) - 1 + sum(len(piece.rows) - 1 for piece in pieces if piece.rows)
    return pieces if cuts <= rules.cuts else None


def _stretched(pieces: Sequence[Split], most: float, free: float) -> tuple[list[Split], float]:
    """The pieces made longer, none beyond `most`, to take up what is free; what is still left."""
    result = []
    for piece in pieces:
        more = min(free, max(0.0, most - piece.extent))
        result.append(replace(piece, extent=piece.extent + more))
        free -= more
    return result, free


def _grouped(extents: Sequence[tuple[int, float]], most: float, whole: float) -> list[Split] | None:
    """Numbered extents in as few groups as first fit finds, none beyond `most`.

    The groups take up `whole` together, what is free lies with the emptiest. None if it can't be.
    """
    if most <= CLOSE or any(extent > most + CLOSE for _, extent in extents):
        return None
    groups: list[list[int]] = []
    filled: list[float] = []
    for i, extent in sorted(extents, key=lambda each: (-each[1], each[0])):
        fits = (k for k, used in enumerate(filled) if used + extent <= most + CLOSE)
        spot = next(fits, None)
        if spot is None:
            groups.append([i])
            filled.append(extent)
        else:
            groups[spot].append(i)
            filled[spot] += extent
    for _ in range(math.ceil((whole - CLOSE) / most) - len(groups)):
        groups.append([])
        filled.append(0.0)
    free = whole - sum(filled)
    order = sorted(range(len(groups)), key=lambda k: (-filled[k], k))
    for k in reversed(order):
        more = min(free, max(0.0, most - filled[k]))
        filled[k] += more
        free -= more
    return [Split(filled[k], sorted(groups[k])) for k in order]


def carryable(
    job: Task, boards: Sequence[Board | None], yard: YardSpec, edges: tuple[float, float]
) -> Task | None:
    """The same task with sheets that the yard's first cuts part in pieces to be carried.

    `boards` tells for each stock the whole sheet, None where nothing has to be carried; `edges`
    are the gap and the trim. None if a part itself is too large.
    """
    offers: list[Offer] = []
    for offer in job.offers:
        board = boards[offer.stock]
        offers += [offer] if board is None else _offers(offer, board, yard, edges)
    fitting = {int(kind) for offer in offers for kind in offer.kinds}
    if len(fitting) < len(job.kinds):
        return None
    return replace(job, offers=tuple(offers))


def _offers(offer: Offer, board: Board, yard: YardSpec, edges: tuple[float, float]) -> list[Offer]:
    """The offer cut in pieces right across, and in pieces cut twice, where that can be."""
    size = (board.length, board.width)
    along, across = size[::-1] if offer.mirrored else size

    def most(other: float, limit: float) -> float:
        """The greatest extent a piece may have whose other one is given."""
        if can_be_carried((limit, other), board, yard):
            return limit
        low, high = 0.0, limit
        for _ in range(HALVINGS):
            middle = (low + high) / 2.0
            if can_be_carried((middle, other), board, yard):
                low = middle
            else:
                high = middle
        return low

    gap, trim = edges
    grown = gap - trim
    once = most(across, along)
    found = []
    if once > trim:
        rules = Pieces(once + grown, once + grown, offer.width, yard.cuts)
        found.append(_limited(offer, rules))
    twice = min(along, yard.longest or along)
    rows = most(twice, across)
    if twice > once + CLOSE and rows > trim:
        rules = Pieces(max(0.0, once + grown), twice + grown, rows + grown, yard.cuts)
        found.append(_limited(offer, rules))
    return [offer for offer in found if len(offer.kinds)]


def _limited(offer: Offer, rules: Pieces) -> Offer:
    short = offer.along <= rules.along + CLOSE
    low = (offer.along <= rules.section + CLOSE) & (offer.across <= rules.across + CLOSE)
    may = np.flatnonzero(short | low)
    return replace(
        offer,
        kinds=offer.kinds[may],
        along=offer.along[may],
        across=offer.across[may],
        turned=offer.turned[may],
        tags=offer.tags[may],
        pieces=rules,
    )
