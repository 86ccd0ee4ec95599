"""Another nest where the first one leaves pieces that don't go into the car."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from fitout.cutting import search, staged
from fitout.cutting.carried import carryable
from fitout.cutting.plan import Sheet, gap_between
from fitout.cutting.search import Limits, Outcome
from fitout.cutting.task import Task
from fitout.cutting.yard import too_large_to_carry
from fitout.model.cutting import CuttingSpec
from fitout.model.stock import Board


def all_go(sheets: Iterable[Sheet], spec: CuttingSpec) -> bool:
    """Whether the yard's cuts leave nothing that is too large to take along."""
    return not any(too_large_to_carry(sheet, spec) for sheet in sheets)


def to_be_carried(
    job: Task, boards: Sequence[Board | None], spec: CuttingSpec, limits: Limits
) -> Outcome | None:
    """The cheapest sheets found which the yard's cuts part in pieces that can be carried.

    `boards` tells for each stock its whole sheet, None where nothing has to be carried. None if
    there are no such sheets: a part is too large, or the yard's cuts are too few.
    """
    yard = spec.saw.yard
    if spec.by != "saw" or yard is None:
        return None
    bounded = carryable(job, boards, yard, (gap_between(spec), spec.trim))
    if bounded is None:
        return None
    try:
        return search.search(bounded, [staged.fill], limits)
    except ValueError:
        return None
