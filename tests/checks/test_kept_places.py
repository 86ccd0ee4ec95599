"""A hand comes to kept-clear places, and a jack comes out at the tailgate."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.gaps import check_gaps
from fitout.checks.kept_places import check_kept_places
from fitout.model.bay import Bay
from fitout.model.design import BaySpec, KeepClearSpec, OpeningSpec, SectionSpec
from fitout.model.finding import Severity
from fitout.model.free_places import StrapSpec
from fitout.model.module import Motion, MotionKind
from fitout.model.spec import Measured
from fitout.survey.bay import build_bay

Make = Callable[..., Any]


def bay(*, comes_out: bool, lip: float = 0.0) -> Bay:
    """1200 wide, its opening 1000; the jack by the left wall, 300 to 420 forward, 100 deep."""
    section = SectionSpec(at=Measured(0.0), widths={0.0: Measured(1200.0)}, roof=Measured(900.0))
    jack = KeepClearSpec(
        name="jack", side="left", start=300.0, end=420.0, reach=100.0, up_to=150.0,
        comes_out=comes_out,
    )  # fmt: skip
    opening = OpeningSpec(lip=Measured(lip), height=Measured(850.0), widths={0.0: Measured(1000.0)})
    return build_bay(
        BaySpec(
            sections=(section,), front_wall=Measured(1000.0), opening=opening, keep_clear=(jack,)
        )
    )


@pytest.mark.parametrize("comes_out", [True, False])
@pytest.mark.parametrize("lip", [0.0, 60.0])
def test_an_empty_bay_leaves_the_way_free(subject: Make, comes_out: bool, lip: float) -> None:
    """Inwards past the jamb, over the sill, out."""
    (found,) = check_kept_places(subject(bay=bay(comes_out=comes_out, lip=lip)))
    assert (found.code, found.where, found.severity) == ("kept place", "jack", Severity.PASS)


def test_a_module_all_round_must_be_unbolted(subject: Make, module: Make, item: Make) -> None:
    """A block beside the jack, as high as the opening, another behind it."""
    beside = item("a/beside", (0.0, 600.0), (300.0, 495.0), (0.0, 849.0))
    made = subject(module("a", beside), bay=bay(comes_out=True))
    (found,) = check_kept_places(made)
    assert found.severity is Severity.CAUTION
    assert "only with a unbolted" in found.sentence


def test_a_hand_comes_by_where_a_jack_does_not_come_out(
    subject: Make, module: Make, item: Make
) -> None:
    """Between the block and the jamb are 60: a flat hand of 45 passes, a jack of 100 not."""
    beside = item("a/beside", (0.0, 600.0), (300.0, 440.0), (0.0, 849.0))
    for comes_out, severity in ((False, Severity.PASS), (True, Severity.CAUTION)):
        (found,) = check_kept_places(subject(module("a", beside), bay=bay(comes_out=comes_out)))
        assert found.severity is severity


def test_it_may_come_out_over_a_low_module(subject: Make, module: Make, item: Make) -> None:
    low = item("a/low", (0.0, 600.0), (-400.0, 495.0), (0.0, 300.0))
    (found,) = check_kept_places(subject(module("a", low), bay=bay(comes_out=True)))
    assert found.severity is Severity.PASS


def test_a_drawer_in_the_way_is_taken_out(subject: Make, module: Make, item: Make) -> None:
    drawer = item("a/box", (0.0, 600.0), (-400.0, 495.0), (0.0, 849.0), moves="drawer")
    motion = Motion(
        name="drawer", module="a", kind=MotionKind.SLIDE, direction=(-1.0, 0.0, 0.0), travel=600.0
    )
    made = subject(module("a", drawer, motions=(motion,)), bay=bay(comes_out=True))
    (found,) = check_kept_places(made)
    assert found.severity is Severity.PASS
    assert "with a/drawer out of the way" in found.sentence


def test_a_jack_that_the_opening_bars_was_not_checked(subject: Make) -> None:
    """A sill higher than the opening's upper edge less the jack's height."""
    (found,) = check_kept_places(subject(bay=bay(comes_out=True, lip=760.0)))
    assert found.severity is Severity.UNCHECKED


@pytest.mark.parametrize(("y", "fails"), [(0.0, True), (200.0, False)])
def test_nothing_may_stand_in_the_path_of_a_tether(
    subject: Make, module: Make, item: Make, y: float, fails: bool
) -> None:
    """From the wall ahead, 600 up, down to the floor at 400: a block in its middle, or beside."""
    section = SectionSpec(at=Measured(0.0), widths={0.0: Measured(1200.0)}, roof=Measured(900.0))
    path = StrapSpec(name="tether", start=(1000.0, 0.0, 600.0), end=(400.0, 0.0, 0.0), width=60.0)
    van = build_bay(BaySpec(sections=(section,), front_wall=Measured(1000.0), straps=(path,)))
    thing = item("a/thing", (650.0, 750.0), (y - 50.0, y + 50.0), (250.0, 350.0))
    found = [f for f in check_gaps(subject(module("a", thing), bay=van)) if "tether" in f.where]
    assert [f.severity for f in found] == ([Severity.FAIL] if fails else [])


def test_the_demos_lamp_and_eyes_are_reached(demo: Make) -> None:
    found = [
        f
        for name in ("touring-wagon", "small-hatch", "canopy-tub")
        for f in check_kept_places(demo(name))
    ]
    assert {f.where: f.severity for f in found} == {
        "first-aid pouch": Severity.PASS,
        "tail lamp access": Severity.PASS,
        "left belt tongue": Severity.PASS,
        "left lashing eye": Severity.PASS,
        "right lashing eye": Severity.PASS,
    }
