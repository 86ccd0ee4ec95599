"""Drawers and lids that can't stand open together are told, and why."""

from collections.abc import Callable
from typing import Any

from fitout.checks.open_together import check_open_together
from fitout.model.finding import Severity
from fitout.model.module import Motion, MotionKind

Make = Callable[..., Any]


def slide(module: str, direction: tuple[float, float, float], **rest: Any) -> Motion:
    return Motion(
        name="out", module=module, kind=MotionKind.SLIDE, direction=direction, travel=300.0, **rest
    )


def test_drawers_side_by_side_may_stand_open(subject: Make, module: Make, panel: Make) -> None:
    left = panel("a/left", (100.0, 400.0), (2.0, 200.0), 100.0, moves="out")
    right = panel("b/right", (100.0, 400.0), (-200.0, -2.0), 100.0, moves="out")
    rear = (-1.0, 0.0, 0.0)
    (finding,) = check_open_together(
        subject(
            module("a", left, motions=(slide("a", rear),)),
            module("b", right, motions=(slide("b", rear),)),
        )
    )
    assert finding.severity is Severity.PASS
    assert finding.sentence.startswith("Of one pair of motions both may stand open")


def corner(subject: Make, module: Make, panel: Make, **rest: Any) -> Any:
    """One comes out rearward, one from the side: both want the corner between them."""
    first = panel("a/first", (400.0, 700.0), (-100.0, 100.0), 100.0, moves="out")
    second = panel("b/second", (100.0, 390.0), (150.0, 450.0), 100.0, moves="out")
    return list(
        check_open_together(
            subject(
                module("a", first, motions=(slide("a", (-1.0, 0.0, 0.0), **rest),)),
                module("b", second, motions=(slide("b", (0.0, -1.0, 0.0)),)),
            )
        )
    )


def test_a_corner_that_both_want(subject: Make, module: Make, panel: Make) -> None:
    (finding,) = corner(subject, module, panel)
    assert finding.severity is Severity.CAUTION
    assert finding.where == "a/out – b/out"
    assert "a/out and b/out can't stand open together: a/first meets b/second" in finding.sentence


def test_one_at_a_time_where_the_module_says_so(subject: Make, module: Make, panel: Make) -> None:
    (finding,) = corner(subject, module, panel, shut=("b/out",))
    assert finding.severity is Severity.PASS
    assert finding.sentence.startswith("a/out, b/out are opened one at a time")


def test_drawers_opened_one_at_a_time_are_not_said_to_stand_open_together(
    evaluated: Make, only: Make
) -> None:
    wish = "drawers: {kind: drawers, one_at_a_time: yes, columns: 1}"
    found = evaluated(wish).findings
    (finding,) = only(found, "open together")
    assert "drawers/drawer 1, drawers/drawer 2 are opened one at a time" in finding.sentence
    (order,) = only(found, "closing order")
    assert order.severity is Severity.PASS


def test_one_that_needs_the_other_open_is_checked_with_it(
    subject: Make, module: Make, panel: Make
) -> None:
    assert corner(subject, module, panel, needs=("b/out",)) == []


def test_passing_each_other_on_the_way_only(subject: Make, module: Make, panel: Make) -> None:
    """A drawer crosses a corner that a lid's edge cuts on its way up past it."""
    drawer = panel("a/drawer", (600.0, 650.0), (0.0, 200.0), 300.0, moves="out")
    lid = panel("b/lid", (100.0, 340.0), (0.0, 200.0), 100.0, moves="lid")
    hinge = Motion(
        name="lid", module="b", kind=MotionKind.HINGE, direction=(0.0, 1.0, 0.0), travel=90.0,
        point=(340.0, 0.0, 110.0),
    )  # fmt: skip
    out = Motion(
        name="out", module="a", kind=MotionKind.SLIDE, direction=(-1.0, 0.0, 0.0), travel=500.0
    )
    (finding,) = check_open_together(
        subject(module("a", drawer, motions=(out,)), module("b", lid, motions=(hinge,)))
    )
    assert finding.severity is Severity.CAUTION
    assert "hit each other on the way" in finding.sentence
