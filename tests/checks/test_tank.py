"""The tank between seat back, walls and what stands behind it."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.tank import FAR, check_tank
from fitout.model.finding import Finding, Severity
from fitout.model.module import Joint, JointKind

Make = Callable[..., Any]


def found_by(subject: Any) -> dict[str, Finding]:
    return {f.where: f for f in check_tank(subject)}


@pytest.fixture
def tank(item: Make) -> Any:
    """14 from the wall ahead, 100 from the left wall."""
    return item("t/tank", (786.0, 986.0), (-400.0, 500.0), (20.0, 350.0), contents_kg=60.0)


def test_gaps_to_walls_and_modules(subject: Make, module: Make, item: Make, tank: Any) -> None:
    box = item("b/near", (300.0, 780.0), (0.0, 200.0), (50.0, 300.0))
    far = item("b/far", (100.0, 200.0), (0.0, 200.0), (50.0, 300.0))
    strap = item("t/strap", (786.0, 800.0), (0.0, 10.0), (360.0, 370.0))
    looked_at = subject(module("t", strap, tank, kind="water tank"), module("b", far, box))
    found = found_by(looked_at)
    assert {where: f.value for where, f in found.items()} == {
        "t/tank – bay/left wall": 100.0,
        "t/tank – bay/right wall": 200.0,
        "t/tank – bay/front wall": 14.0,
        "t/tank – b/near": 6.0,
    }
    assert {f.limit for f in found.values()} == {5.0}
    assert {f.severity for f in found.values()} == {Severity.PASS}
    assert found["t/tank – b/near"].sentence.startswith(
        "t stands with 6.0 mm to b/near, nearest at"
    )


@pytest.mark.parametrize(
    ("end", "value", "words"),
    [
        (781.5, 4.5, "t has only 4.5 mm to b/box, 5 mm are wanted"),
        (789.0, -3.0, "t does not go in: it runs 3.0 mm into b/box"),
    ],
)
def test_too_near(
    subject: Make, module: Make, item: Make, tank: Any, end: float, value: float, words: str
) -> None:
    box = item("b/box", (300.0, end), (0.0, 200.0), (50.0, 300.0))
    found = found_by(subject(module("t", tank, kind="water tank"), module("b", box)))
    finding = found["t/tank – b/box"]
    assert finding.severity is Severity.FAIL
    assert finding.value == pytest.approx(value)
    assert finding.margin == pytest.approx(value - 5.0)
    assert finding.sentence.startswith(words)


def test_declared_neighbours_may_touch(subject: Make, module: Make, panel: Make, tank: Any) -> None:
    fence = panel("b/fence", (300.0, 786.0), (0.0, 200.0), 100.0)
    joint = Joint("t/tank", "b/fence", JointKind.RESTS)
    parts = module("t", tank, kind="water tank"), module("b", fence)
    assert found_by(subject(*parts))["t/tank – b/fence"].severity is Severity.FAIL
    touching = found_by(subject(*parts, joints=(joint,)))["t/tank – b/fence"]
    assert (touching.severity, touching.value, touching.limit) == (Severity.PASS, 0.0, 0.0)


def test_other_kinds_and_far_modules_are_not_looked_at(
    subject: Make, module: Make, item: Make, tank: Any
) -> None:
    assert list(check_tank(subject(module("t", tank, kind="box")))) == []
    elsewhere = item("b/box", (-FAR, -900.0), (0.0, 200.0), (50.0, 300.0))
    found = found_by(subject(module("t", tank, kind="water tank"), module("b", elsewhere)))
    assert not any("b/box" in where for where in found)


SEAT = "seat_back: {{foot: 1000, leans: 12 deg, notches: [8 deg, {most} deg], top: 600}}"


def test_every_notch_of_the_seat_is_a_finding(evaluated: Make, only: Make) -> None:
    """Each notch further back leaves the tank less room; the arrangement heeds the furthest."""
    tank = "tank: {kind: water tank, item: tank, between: [seat_back, drawers]}"
    drawers = "drawers: {kind: drawers, depth: 500, width: 700}"
    found = only(evaluated(drawers, tank, front=SEAT.format(most=20)), "tank gap")
    seats = {f.where.rsplit(" at ", 1)[1]: f for f in found if "seat back" in f.where}
    assert list(seats) == ["8°", "12°", "20°"]
    values = [f.value for f in seats.values()]
    assert values == sorted(values, reverse=True)
    assert {f.severity for f in found} == {Severity.PASS}
    assert all(f.sentence.startswith("tank goes with") for f in seats.values())


def test_a_design_fails_when_more_is_asked_than_the_walls_leave(
    evaluated: Make, only: Make
) -> None:
    """600 wide in the middle of 1200: 300 to either wall."""
    tank = "tank: {kind: water tank, item: tank}"
    found = evaluated(tank, more="clearances: {tank: 200}")
    walls = [f for f in only(found, "tank gap") if f.where.endswith(("left wall", "right wall"))]
    assert [(f.value, f.margin) for f in walls] == [(300.0, 100.0)] * 2
    assert {f.severity for f in walls} == {Severity.PASS}
    assert not evaluated(tank, more="clearances: {tank: 310}").passed
