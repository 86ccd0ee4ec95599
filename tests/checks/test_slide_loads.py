"""Slides against their rating, and their screws by hand."""

import dataclasses
import math
from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.slide_loads import load_kg, motion_of, slide_details
from fitout.mechanics.boards import STANDARD_GRAVITY as G
from fitout.model.finding import Finding, Severity
from fitout.model.hardware import Slide
from fitout.model.module import Joint, JointKind, Motion, MotionKind, SlideDuty

Make = Callable[..., Any]

SLIDE = Slide(
    key="test slide",
    length=500.0,
    travel=500.0,
    rating_kg=45.0,
    side_clearance=12.7,
    height=45.0,
    mass_pair_kg=1.2,
    locks=False,
    carcass_holes=(50.0, 450.0),
    drawer_holes=(50.0, 450.0),
    screw="pan head screw 4 x 12",
    source="a data sheet",
)


def all_of(subject: Any) -> list[Finding]:
    return [d.finding for m in subject.fitout.modules for d in slide_details(subject, m)]


@pytest.fixture
def drawer(subject: Make, module: Make, item: Make, panel: Make) -> Callable[..., Any]:
    """A box of 4 kg, 500 deep, on slides beside an upright panel of the test board."""

    def make(contents: float, slide: Slide = SLIDE, **rest: Any) -> Any:
        side = panel("a/side", (0.0, 500.0), (300.0, 600.0), **rest)
        box = item("a/box", (0.0, 500.0), (0.0, 280.0), (100.0, 200.0), moves="drawer")
        rail = item("a/rail", (0.0, 500.0), (280.0, 300.0), (120.0, 165.0), article=slide.key)
        joints = (Joint("a/rail", "a/side", JointKind.SLIDES),
                  Joint("a/rail", "a/box", JointKind.SLIDES))  # fmt: skip
        duty = SlideDuty(name="a/drawer", slide=slide, moving=("a/box",), contents_kg=contents)
        out = Motion(name="drawer", module="a", kind=MotionKind.SLIDE,
                     direction=(-1.0, 0.0, 0.0), travel=slide.travel)  # fmt: skip
        whole = module("a", side, box, rail, slides=(duty,), motions=(out,), joints=joints)
        return subject(whole)

    return make


@pytest.mark.parametrize(
    ("contents", "severity", "margin"), [(40.0, Severity.PASS, 1.0), (44.0, Severity.FAIL, -3.0)]
)
def test_slides(
    subject: Make, module: Make, item: Make, contents: float, severity: Severity, margin: float
) -> None:
    """A drawer of 4 kg and its contents on slides for 45."""
    box = item("a/box", (0.0, 500.0), (0.0, 300.0), (0.0, 100.0), moves="out")
    duty = SlideDuty(name="a/drawer", slide=SLIDE, moving=("a/box",), contents_kg=contents)
    (finding,) = all_of(subject(module("a", box, slides=(duty,))))
    assert (finding.code, finding.where, finding.unit) == ("slide load", "a/drawer", "kg")
    assert finding.severity is severity
    assert finding.value == contents + 4.0
    assert finding.limit == 45.0
    assert finding.margin == pytest.approx(margin)
    assert finding.source == "a data sheet"
    assert "test slide" in finding.sentence
    assert f"to {100.0 * (contents + 4.0) / 45.0:.0f} %" in finding.sentence


def test_what_the_maker_takes_off_for_width_and_for_being_out(drawer: Make) -> None:
    """280 wide, rated up to 180, a tenth less for the next 100; 0.8 of it fully out."""
    less = dataclasses.replace(SLIDE, rated_width=180.0, derate_width=0.1, derate_open=0.8)
    found = all_of(drawer(20.0, less))[0]
    assert found.limit == pytest.approx(45.0 * 0.9 * 0.8)
    assert "of 45 kg as the maker takes off for 280 wide" in found.sentence


def test_a_drawer_the_maker_rates_at_nothing_fails(drawer: Make) -> None:
    none = dataclasses.replace(SLIDE, rated_width=180.0, derate_width=1.0)
    found = all_of(drawer(20.0, none))[0]
    assert found.severity is Severity.FAIL
    assert "not rated for a drawer 280 wide" in found.sentence


def test_a_drawer_wider_than_its_slides_are_long_is_told(drawer: Make) -> None:
    short = dataclasses.replace(SLIDE, length=250.0, carcass_holes=(20.0, 200.0))
    assert "wider (280) than its slides are long (250)" in all_of(drawer(5.0, short))[0].sentence
    assert "ask the maker" not in all_of(drawer(5.0))[0].sentence


def test_a_stronger_slide_of_that_length_is_told_else_less_to_carry(drawer: Make) -> None:
    assert "heavy locking 500 would do" in all_of(drawer(60.0))[0].sentence
    assert "Carry 159 kg less" in all_of(drawer(200.0))[0].sentence


def test_screws_by_hand(drawer: Make) -> None:
    """24 kg whose middle hangs 250 before the slides: two screws 400 apart."""
    found = all_of(drawer(20.0))[1]
    assert (found.code, found.where, found.limit) == ("slide screws", "a/drawer", 100.0)
    load = 24.0 * G
    front = load / 2.0 * (1.0 + 300.0 / 400.0)
    assert f"{front:.0f} N and lifts the rear one with {load / 2.0 * 300.0 / 400.0:.0f} N" in (
        found.sentence
    )
    # In a board of 10 a screw of 12 would come through: one of 10, under steel of 1.5.
    # Of 700 kg/m³: dry gravity 0.636, characteristic density 648.5.
    axial = 108.25 * (0.7 / 1.1) ** 2 * 4.0 * 8.5 / 5.5
    d = 1.1 * 2.0 / 3.0 * 4.0
    crushes = 0.4 * 0.11 * 700.0 * 630.0 / 680.0 * d**-0.3 * 8.5 * d
    bends = 1.15 * math.sqrt(2.0 * 0.3 * 400.0 * d**2.6 * 0.11 * 648.53 * d**-0.3 * d)
    lateral = min(crushes, bends) * 0.9 / 1.3 / 1.5
    slope = math.radians(20.0)
    worst = math.hypot(front * math.cos(slope) / lateral, 2.0 * front * math.sin(slope) / axial)
    assert found.value == pytest.approx(100.0 * worst, rel=1e-3)


def test_twice_the_load_uses_the_screws_twice(drawer: Make) -> None:
    one, two = (all_of(drawer(kg))[1].value for kg in (10.0, 24.0))
    assert (two or 0.0) / (one or 1.0) == pytest.approx(28.0 / 14.0, rel=1e-3)


def test_too_much_for_the_screws(drawer: Make) -> None:
    found = all_of(drawer(120.0))[1]
    assert found.severity is Severity.FAIL
    assert "kg less, or bolt the slides through" in found.sentence


def test_what_holds_screws_in_another_board_is_not_known(drawer: Make, board: Any) -> None:
    other = dataclasses.replace(board, kind="mdf")
    found = all_of(drawer(20.0, board=other))[1]
    assert found.severity is Severity.UNCHECKED


def test_the_load_and_the_motion(drawer: Make) -> None:
    whole = drawer(20.0)
    (module,) = whole.fitout.modules
    assert load_kg(whole, module.slides[0]) == 24.0
    motion = motion_of(module, module.slides[0])
    assert motion is not None
    assert motion.travel == 500.0


def test_a_design_fails_when_a_drawer_carries_too_much(evaluated: Make, only: Make) -> None:
    text = "drawers: {{kind: drawers, width: 700, columns: 1, stack: [{{carries: {kg} kg}}]}}"
    good = only(evaluated(text.format(kg=40)), "slide load")
    assert [f.severity for f in good] == [Severity.PASS]
    (finding,) = only(evaluated(text.format(kg=400)), "slide load")
    assert finding.severity is Severity.FAIL
    assert finding.where == "drawers/drawer 1"
    assert finding.value == pytest.approx((good[0].value or 0.0) + 360.0, abs=5.0)
