"""The fixing schedule's rows agree with the findings."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.restraint_rows import fixing_rows

Make = Callable[..., Any]


def test_the_worst_bolt_is_the_findings(evaluated: Make, only: Make) -> None:
    more = "restraint: {bolt: {washer: 40}, floor: {sheet: 0.8}}"
    heavy = "drawers: {kind: drawers, width: 800, stack: [{carries: 150 kg}]}"
    found = evaluated(heavy, more=more)
    rows = fixing_rows(found.subject)
    assert sorted(r.point for r in rows) == ["a1", "a2", "a3", "a4"]
    worst = max(r.crash.share for r in rows if r.crash)
    (finding,) = only(found, "crash")
    assert finding.value == pytest.approx(100.0 * worst, rel=1e-4)


def test_without_a_crash_there_is_none(evaluated: Make) -> None:
    drawers = "drawers: {kind: drawers, width: 800}"
    rows = fixing_rows(evaluated(drawers, more="restraint: {crash: no}").subject)
    assert [r.crash for r in rows] == [None] * 4
    assert all(r.road is not None for r in rows)


@pytest.mark.parametrize("name", ["touring-wagon", "canopy-tub", "small-hatch"])
def test_the_demos_hold_on_the_road(demo: Make, name: str) -> None:
    rows = fixing_rows(demo(name))
    assert rows
    assert all(r.road is not None and r.road.share < 1.0 for r in rows)


def test_a_barriers_feet_and_tops(demo: Make) -> None:
    rows = [r for r in fixing_rows(demo("touring-wagon")) if r.module == "barrier"]
    assert len(rows) == 6
    push = sum(r.crash.shear_n for r in rows if r.crash)
    subject = demo("touring-wagon")
    own = next(r for r in rows)
    assert own.crash is not None
    assert push > 20.0 * 9.80665 * subject.restraint.loose
