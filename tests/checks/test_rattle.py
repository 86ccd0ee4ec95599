"""Gaps that close on a rough road, and modules that only lie on each other."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.gaps import between_modules
from fitout.checks.rattle import COVERAGE, SHAKE, check_rattle
from fitout.checks.stack import stack_of
from fitout.model.finding import Severity
from fitout.model.module import Joint, JointKind

Make = Callable[..., Any]


def test_narrow_gaps_of_the_demo_are_told_once_a_module(demo: Make) -> None:
    """Each gap listed is one that two standard uncertainties bring below the shaking."""
    subject = demo("touring-wagon")
    found = [f for f in check_rattle(subject) if f.value is not None]
    assert {f.severity for f in found} == {Severity.CAUTION}
    assert len({f.where for f in found}) == len(found)
    narrow = {}
    for a, b in between_modules(subject):
        obstacle = subject.obstacles.get(b)
        if obstacle is None or obstacle.kind not in ("keep clear", "seat", "aperture"):
            stack = stack_of(subject, a, b)
            if stack.gap - COVERAGE * stack.u < SHAKE:
                narrow.setdefault(subject.parts[a].module, []).append((stack, f"{a} – "))
    assert {f.where for f in found} == set(narrow)
    for finding in found:
        stacks = narrow[finding.where]
        assert all(text in finding.sentence for _, text in stacks)
        least = min(s.gap - COVERAGE * s.u for s, _ in stacks)
        assert finding.value == pytest.approx(least, abs=1e-3)


@pytest.mark.parametrize("kind", [JointKind.RESTS, JointKind.BOLTED])
def test_what_only_lies_on_another_module_wants_felt(
    subject: Make, module: Make, panel: Make, kind: JointKind
) -> None:
    low = module("low", panel("low/top", (0.0, 300.0), (0.0, 300.0), 100.0))
    high = module("high", panel("high/base", (0.0, 300.0), (0.0, 300.0), 110.0))
    joints = [Joint("high/base", "low/top", JointKind.RESTS), Joint("high/base", "low/top", kind)]
    found = list(check_rattle(subject(low, high, joints=joints)))
    assert [f.where for f in found] == (["high – low"] if kind is JointKind.RESTS else [])


def test_parts_of_one_module_may_lie_on_each_other(
    subject: Make, module: Make, panel: Make
) -> None:
    parts = [panel(f"a/{n}", (0.0, 300.0), (0.0, 300.0), 10.0 * n) for n in (1, 2)]
    joint = Joint("a/1", "a/2", JointKind.RESTS)
    assert list(check_rattle(subject(module("a", *parts), joints=[joint]))) == []
