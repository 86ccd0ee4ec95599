"""How long all that has to do with strength takes in the first example, asked again."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from fitout import workflow
from fitout.checks.fixings import check_fixings
from fitout.checks.restraint import check_restraint
from fitout.checks.restraint_barrier import check_barrier
from fitout.checks.restraint_catches import check_catches
from fitout.checks.restraint_straps import check_straps
from fitout.checks.strength import check_strength
from fitout.checks.tipping import check_tipping

pytestmark = pytest.mark.benchmark

DESIGN = Path(__file__).parents[2] / "designs" / "touring-wagon.yaml"
CHECKS = (
    check_strength, check_tipping, check_fixings, check_restraint, check_barrier, check_catches,
    check_straps,
)  # fmt: skip
RUNS = 20
MOST_MS = 30.0


def test_strength_is_told_at_once() -> None:
    """The best of twenty, so that what else the machine does counts little."""
    subject = workflow.evaluate(workflow.load(DESIGN)).subject
    best: dict[str, float] = {}
    for check in CHECKS:
        for _ in range(RUNS):
            start = time.perf_counter()
            found = list(check(subject))
            spent = 1000.0 * (time.perf_counter() - start)
            best[check.__name__] = min(spent, best.get(check.__name__, spent))
        print(f"{check.__name__:20s} {best[check.__name__]:6.2f} ms  {len(found)} findings")
    print(f"{'all':20s} {sum(best.values()):6.2f} ms")
    assert sum(best.values()) < MOST_MS
