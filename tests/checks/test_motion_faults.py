"""Motions that can't be are told where they are, and nothing else is said of them."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.motions import check_motions
from fitout.model.finding import Severity
from fitout.model.module import Motion, MotionKind

Make = Callable[..., Any]


def motion(name: str, module: str = "a", **rest: Any) -> Motion:
    entries = {"kind": MotionKind.SLIDE, "direction": (-1.0, 0.0, 0.0), "travel": 300.0, **rest}
    return Motion(name=name, module=module, **entries)


@pytest.fixture
def told(subject: Make, module: Make, panel: Make) -> Callable[..., list[Any]]:
    """What is said of motions of one drawer each, one above the other."""

    def check(*motions: Motion) -> list[Any]:
        drawers = [
            panel(m.id, (100.0, 600.0), (0.0, 200.0), 100.0 * k, moves=m.name)
            for k, m in enumerate(motions, start=1)
        ]
        modules = [
            module(m.module, drawer, motions=(m,))
            for m, drawer in zip(motions, drawers, strict=True)
        ]
        return list(check_motions(subject(*modules)))

    return check


@pytest.mark.parametrize("travel", [0.0, -20.0])
def test_no_range(told: Make, travel: float) -> None:
    (finding,) = told(motion("drawer", travel=travel))
    assert finding.severity is Severity.FAIL
    assert finding.where == "a/drawer"
    assert "a/drawer has no range" in finding.sentence


@pytest.mark.parametrize(("deep", "fails"), [(0.0, False), (0.4, False), (5.0, True)])
def test_an_axis_inside_what_turns(told: Make, deep: float, fails: bool) -> None:
    """The panel is 10 thick and lies from 100 to 110 up; the axis runs along its front end."""
    lid = motion(
        "lid",
        kind=MotionKind.HINGE,
        direction=(0.0, 1.0, 0.0),
        travel=60.0,
        point=(600.0 - 8.0 * deep, 0.0, 110.0 - deep),
    )
    found = told(lid)
    assert (found[0].severity is Severity.FAIL) is fails
    if fails:
        (finding,) = found
        assert "axis 5.0 mm inside a/lid" in finding.sentence


def test_motions_that_wait_for_each_other(told: Make) -> None:
    first = motion("x", module="a", needs=("b/y",))
    second = motion("y", module="b", needs=("c/z",))
    third = motion("z", module="c", needs=("a/x",))
    found = told(first, second, third)
    assert [f.where for f in found] == ["a/x", "b/y", "c/z"]
    assert "a/x needs b/y needs c/z needs a/x" in found[0].sentence
    assert all(f.severity is Severity.FAIL for f in found)


def test_one_that_waits_for_a_ring_is_not_in_it(told: Make) -> None:
    found = told(
        motion("x", module="a", needs=("b/y",)),
        motion("y", module="b", needs=("a/x",)),
        motion("w", module="c", needs=("a/x",)),
    )
    faulty = {f.where for f in found if "can never start" in f.sentence}
    assert faulty == {"a/x", "b/y"}


def test_what_it_waits_for_must_be_there(told: Make) -> None:
    (finding,) = told(motion("x", needs=("b/door",)))
    assert "a/x waits for b/door, which no module has" in finding.sentence


@pytest.mark.parametrize("by_way", [False, True])
def test_open_and_shut_at_once(told: Make, by_way: bool) -> None:
    needs = ("c/z",) if by_way else ("b/y",)
    first = motion("x", module="a", needs=needs, shut=("b/y",))
    found = told(first, motion("y", module="b"), motion("z", module="c", needs=("b/y",)))
    (finding,) = [f for f in found if f.severity is Severity.FAIL]
    assert finding.where == "a/x"
    assert ("by way of what it needs" if by_way else "open and shut at once") in finding.sentence
