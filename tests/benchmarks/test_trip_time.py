"""A trip of 14 days, gone through with all it says, warm."""

import statistics
import time
from pathlib import Path

import pytest

from fitout import workflow
from fitout.checks.trip_findings import report_of
from fitout.checks.trip_plan import plans_of

DESIGN = Path(__file__).parents[2] / "designs" / "touring-wagon.yaml"
RUNS = 15
MOST_MS = 20.0


@pytest.mark.benchmark
def test_a_trip_of_14_days_takes_no_more_than_20_ms(capsys: pytest.CaptureFixture[str]) -> None:
    design = workflow.load(DESIGN)
    subject = workflow.evaluate(design).subject
    spent = []
    for _ in range(RUNS):
        start = time.perf_counter()
        plan, *_ = plans_of(design.trips, subject)
        report_of(plan)
        spent.append(1000.0 * (time.perf_counter() - start))
    assert plan.days == 14
    with capsys.disabled():
        print(f"\n14 days: {statistics.median(spent):.1f} ms (least {min(spent):.1f})")
    assert min(spent) <= MOST_MS
