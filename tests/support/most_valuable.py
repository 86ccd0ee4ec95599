"""The most valuable filling of one sheet: what to cut when not everything is wanted from it.

The engines that fill one sheet are asked again and again with ever more half-filled sheets
kept, in every way of comparing them, and with the worth of the kinds scaled so that a sheet
as good as the best so far would just be worth its area: then only what may still beat it is
worth more than it uses up.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from fitout.cutting.beam import Aim, Enough, Meter, Pattern
from fitout.cutting.search import AIMS, Fill
from fitout.cutting.task import Task, Values

FIRST_WIDTH = 8
MOST_WIDTH = 4000
GROWTH = 2
OVER = 1.01
"""The sheet looked for is worth so much more than the best so far."""


def most_valuable(task: Task, values: Values, fills: Sequence[Fill], work: int) -> Pattern:
    """The filling found that is worth most; `values` of one of each kind, in any unit.

    The task's first stock is filled; `work` limits the steps (see `beam.Meter`). Raises
    `Enough` if that does not suffice for a first filling.
    """
    meter = Meter(work)
    area = task.stocks[0].area
    offers = [offer for offer in task.offers if offer.stock == 0]
    best: Pattern | None = None
    most = 0.0
    width = FIRST_WIDTH
    try:
        while width <= MOST_WIDTH:
            for bias, power, fine in AIMS:
                for fill in fills:
                    scale = area / (most * OVER) if most else _first_scale(task, values)
                    for offer in offers:
                        aim = Aim(width, bias, power, fine)
                        for pattern in fill(offer, task.demand, values * scale, aim, meter):
                            value = sum((pattern.counts * values).tolist())
                            if best is None or value > most:
                                best, most = pattern, value
            width *= GROWTH
    except Enough:
        if best is None:
            raise
    if best is None:
        raise ValueError("Nothing fits the sheet.")
    return best


def _first_scale(task: Task, values: Values) -> float:
    """By the best kinds alone, which is too good to be true."""
    return float(1.0 / np.max(values / task.areas))
