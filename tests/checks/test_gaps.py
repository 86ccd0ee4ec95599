"""Gaps between parts and to the vehicle, against distances known by construction."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.gaps import REACH, check_gaps, wanted
from fitout.model.bay import Bay
from fitout.model.design import BaySpec, KeepClearSpec, SeatBackSpec, SectionSpec
from fitout.model.finding import Finding, Severity
from fitout.model.module import Joint, JointKind
from fitout.model.spec import Measured
from fitout.survey.bay import build_bay

Make = Callable[..., Any]

REST = JointKind.RESTS


def found_by(subject: Any) -> dict[str, Finding]:
    return {f.where: f for f in check_gaps(subject)}


def failing(subject: Any) -> list[str]:
    return sorted(f.where for f in check_gaps(subject) if f.severity is Severity.FAIL)


def test_parts_of_two_modules(subject: Make, module: Make, panel: Make) -> None:
    """4.2 apart where 1 is wanted; 0.4 apart fails by 0.6."""
    for gap, severity in ((4.2, Severity.PASS), (0.4, Severity.FAIL)):
        left = panel("a/board", (100.0, 300.0), (0.0, 200.0), 100.0)
        right = panel("b/board", (100.0, 300.0), (-200.0, -gap), 100.0)
        finding = found_by(subject(module("a", left), module("b", right)))["a/board – b/board"]
        assert (finding.severity, finding.unit) == (severity, "mm")
        assert finding.value == pytest.approx(gap, abs=1e-4)
        assert finding.limit == 1.0
        assert finding.margin == pytest.approx(gap - 1.0, abs=1e-4)
        assert finding.code == "gap between parts"
        assert "a/board" in finding.sentence
        assert "b/board" in finding.sentence
        assert f"{gap:.1f} mm" in finding.sentence


def test_an_overlap_is_told_by_its_depth_and_place(
    subject: Make, module: Make, panel: Make
) -> None:
    """Overlapping by 6 across, 200 fore and aft and 10 upwards: 6 part them."""
    left = panel("a/board", (100.0, 300.0), (0.0, 200.0), 100.0)
    right = panel("b/board", (100.0, 300.0), (-200.0, 6.0), 100.0)
    (finding,) = check_gaps(subject(module("a", left), module("b", right)))
    assert (finding.severity, finding.value, finding.margin) == (Severity.FAIL, -6.0, -7.0)
    assert finding.sentence.startswith("a/board runs 6.0 mm into b/board at ")
    assert "the centre line" in finding.sentence


def test_undeclared_touching_within_a_module_is_found(
    subject: Make, module: Make, panel: Make
) -> None:
    base = panel("a/base", (100.0, 300.0), (0.0, 200.0), 100.0)
    on_it = panel("a/upper", (100.0, 300.0), (0.0, 200.0), 110.0)
    above = panel("a/top", (100.0, 300.0), (0.0, 200.0), 120.6)
    (finding,) = check_gaps(subject(module("a", base, on_it, above)))
    assert (finding.where, finding.value, finding.limit) == ("a/base – a/upper", 0.0, 0.5)
    assert finding.severity is Severity.FAIL
    joint = Joint("a/upper", "a/base", JointKind.SCREWED)
    assert found_by(subject(module("a", base, on_it, above, joints=(joint,)))) == {}


def test_undeclared_touching_of_the_vehicle_is_found(
    subject: Make, module: Make, panel: Make
) -> None:
    base = panel("a/base", (100.0, 300.0), (0.0, 200.0))
    (finding,) = check_gaps(subject(module("a", base)))
    assert (finding.where, finding.value, finding.limit) == ("a/base – bay/floor", 0.0, 3.0)
    assert finding.code == "gap to the vehicle"
    resting = (Joint("a/base", "bay/floor", REST),)
    assert found_by(subject(module("a", base, joints=resting))) == {}


def test_declared_joints_may_touch_but_not_overlap(
    subject: Make, module: Make, panel: Make
) -> None:
    joint = Joint("a/base", "a/upper", JointKind.GROOVED)
    base = panel("a/base", (100.0, 300.0), (0.0, 200.0), 100.0)
    sunk = panel("a/upper", (100.0, 300.0), (0.0, 200.0), 109.5)
    (finding,) = check_gaps(subject(module("a", base, sunk, joints=(joint,))))
    assert (finding.severity, finding.value, finding.limit) == (Severity.FAIL, -0.5, 0.0)
    assert "are to meet but overlap by 0.50 mm" in finding.sentence


def test_moving_parts_keep_more(subject: Make, module: Make, panel: Make) -> None:
    """1.2 between a drawer and its carcass, or its neighbour, where 1.5 is wanted."""
    fixed = panel("a/side", (100.0, 300.0), (0.0, 200.0), 100.0)
    drawer = panel("a/drawer", (100.0, 300.0), (201.2, 400.0), 100.0, moves="drawer")
    other = panel("b/side", (100.0, 300.0), (401.2, 500.0), 100.0)
    looked_at = subject(module("a", fixed, drawer), module("b", other))
    assert failing(looked_at) == ["a/drawer – b/side", "a/side – a/drawer"]
    assert {f.limit for f in check_gaps(looked_at)} == {1.5}
    assert failing(subject(module("a", fixed, drawer), module("b", other), moving=1.1)) == []


def test_scribed_edges_may_come_nearer_to_the_wall(
    subject: Make, module: Make, panel: Make
) -> None:
    for scribed, limit in ((True, 2.0), (False, 3.0)):
        shelf = panel("a/shelf", (100.0, 300.0), (0.0, 597.5), 100.0, scribed=scribed)
        finding = found_by(subject(module("a", shelf)))["a/shelf – bay/left wall"]
        assert finding.limit == limit
        assert finding.value == pytest.approx(2.5)
        assert finding.severity is (Severity.PASS if scribed else Severity.FAIL)


def bay_with(**entries: Any) -> Bay:
    section = SectionSpec(at=Measured(0.0), widths={0.0: Measured(1200.0)}, roof=Measured(900.0))
    if "seat_back" not in entries:
        entries["front_wall"] = Measured(1000.0)
    return build_bay(BaySpec(sections=(section,), **entries))


def test_the_seat_back_and_kept_clear_places(subject: Make, module: Make, panel: Make) -> None:
    """An upright back 4 ahead, where 5 are wanted; a jack's place may be touched, not entered."""
    seat = SeatBackSpec(foot=Measured(1000.0), leans=Measured(0.0), top=Measured(600.0))
    jack = KeepClearSpec(
        name="jack", side="floor", start=100.0, end=200.0, left=100.0, right=0.0, up_to=80.0
    )
    bay = bay_with(seat_back=seat, keep_clear=(jack,))
    shelf = panel("a/shelf", (200.0, 996.0), (-200.0, 200.0), 40.0)
    looked_at = found_by(subject(module("a", shelf), bay=bay))
    assert looked_at["a/shelf – bay/seat back at 0°"].value == 4.0
    assert looked_at["a/shelf – bay/seat back at 0°"].limit == 5.0
    assert looked_at["a/shelf – bay/jack"].severity is Severity.PASS
    longer = panel("a/shelf", (188.0, 990.0), (-200.0, 200.0), 40.0)
    looked_at = found_by(subject(module("a", longer), bay=bay))
    assert looked_at["a/shelf – bay/jack"].value == -12.0
    assert looked_at["a/shelf – bay/jack"].severity is Severity.FAIL
    assert looked_at["a/shelf – bay/seat back at 0°"].severity is Severity.PASS


def test_a_tank_keeps_five_from_everything(subject: Make, module: Make, item: Make) -> None:
    tank = item("t/tank", (100.0, 300.0), (0.0, 596.0), (50.0, 300.0))
    box = item("b/box", (100.0, 300.0), (-300.0, -4.5), (50.0, 300.0))
    looked_at = subject(module("t", tank, kind="water tank"), module("b", box))
    assert failing(looked_at) == ["t/tank – b/box", "t/tank – bay/left wall"]
    assert wanted(looked_at, "b/box", "t/tank") == 5.0
    assert failing(subject(module("t", tank, kind="box"), module("b", box))) == []


def test_of_what_is_near_enough_the_tightest_of_each_pair_is_told(
    subject: Make, module: Make, panel: Make
) -> None:
    parts = [panel(f"a/{n}", (100.0, 300.0), (0.0, 600.0 - g), 100.0 * n) for n, g in
             ((1, 20.0), (2, 7.0), (3, 12.0))]  # fmt: skip
    looked_at = found_by(subject(module("a", *parts)))
    assert list(looked_at) == ["a/2 – bay/left wall"]
    assert looked_at["a/2 – bay/left wall"].value == pytest.approx(7.0)


def test_what_is_far_is_not_told(subject: Make, module: Make, panel: Make) -> None:
    far = panel("a/1", (100.0, 300.0), (0.0, 600.0 - REACH - 0.1), 100.0)
    assert found_by(subject(module("a", far))) == {}


def test_what_lies_in_a_void_of_its_own_meets_only_its_like(
    subject: Make, module: Make, panel: Make
) -> None:
    tray = panel("tray/base", (100.0, 300.0), (0.0, 200.0), 0.0)
    lid = panel("tray/lid", (100.0, 300.0), (0.0, 200.0), 5.0)
    inside = panel("a/base", (100.0, 300.0), (0.0, 200.0), 4.0)
    looked_at = subject(module("tray", tray, lid, in_bay=False), module("a", inside))
    assert failing(looked_at) == ["tray/base – tray/lid"]


def test_a_design_fails_when_a_place_is_to_be_kept_clear(evaluated: Make, only: Make) -> None:
    """A spare wheel's lid stands 5 out of the floor the drawers stand on."""
    drawers = "drawers: {kind: drawers, width: 700}"
    assert evaluated(drawers).passed
    zone = "{name: well, side: floor, from: 300, to: 600, left: 200, right: -200, up_to: 5}"
    found = evaluated(drawers, bay=f"keep_clear: [{zone}]")
    (finding,) = only(found, "gap to the vehicle", Severity.FAIL)
    assert finding.where == "drawers/base – bay/well"
    assert finding.value == pytest.approx(-5.0)
    assert finding.sentence.startswith("drawers/base runs 5.0 mm into bay/well at ")


@pytest.mark.parametrize("middles", ["", ", middles: [300, -300]"])
def test_a_barrier_keeps_clear_of_the_head_restraints(
    evaluated: Make, only: Make, middles: str
) -> None:
    """High enough to run through the barrier if it stood where the seat back lets it."""
    restraints = f"head_restraints: {{raised: 240{middles}}}"
    front = f"seat_back: {{foot: 1000, leans: 20 deg, top: 560, {restraints}}}"
    barrier = "barrier: {kind: barrier, behind: seat_back, vision: no}"
    found = evaluated(barrier, front=front)
    assert only(found, "gap to the vehicle", Severity.FAIL) == []
    near = [f for f in only(found, "gap to the vehicle") if "head restraint" in f.where]
    assert near
