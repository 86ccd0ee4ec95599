"""What must be shut before what, and circles of it."""

import itertools
from collections.abc import Callable
from typing import Any

import pytest

from fitout import catalogue
from fitout.checks.closing import Before, check_closing, circles, closing_rules
from fitout.model.finding import Severity
from fitout.model.latch import Latch
from fitout.model.module import Joint, JointKind, Motion, MotionKind

Make = Callable[..., Any]
ROWS = catalogue.load()


def slide(name: str, **entries: Any) -> Motion:
    return Motion(
        name=name,
        module="a",
        kind=MotionKind.SLIDE,
        direction=(-1.0, 0.0, 0.0),
        travel=300.0,
        **entries,
    )


def flap(name: str, hinge: float, direction: float) -> Motion:
    """A lid hinged along y at `hinge`; 1 lifts what lies behind it, -1 what lies ahead."""
    return Motion(
        name=name,
        module="a",
        kind=MotionKind.HINGE,
        direction=(0.0, direction, 0.0),
        travel=90.0,
        point=(hinge, 0.0, 300.0),
    )


def latch(motion: str, panel: str, striker_panel: str) -> Latch:
    return Latch(
        motion=motion,
        module="a",
        type=ROWS.latches["finger catch"],
        panel=panel,
        root=(0.0, 0.0, 0.0),
        normal=(1.0, 0.0, 0.0),
        throw=(0.0, 0.0, 1.0),
        striker=ROWS.strikers["lip striker"],
        striker_panel=striker_panel,
        strikes=(0.0, 0.0, 0.0),
    )


@pytest.fixture
def pair(panel: Make) -> Any:
    """Two drawers side by side."""
    return (
        panel("a/one", (500.0, 800.0), (-300.0, -100.0), 100.0, moves="one"),
        panel("a/two", (500.0, 800.0), (100.0, 300.0), 100.0, moves="two"),
    )


def test_what_has_nothing_to_do_with_each_other_shuts_in_any_order(
    subject: Make, module: Make, pair: Any
) -> None:
    made = module("a", *pair, motions=(slide("one"), slide("two")))
    (finding,) = check_closing(subject(made))
    assert finding.severity is Severity.PASS
    assert "any order" in finding.sentence
    assert list(check_closing(subject(module("a", *pair)))) == []


def test_a_striker_on_another_drawer_says_which_is_shut_first(
    subject: Make, module: Make, pair: Any
) -> None:
    made = module(
        "a", *pair, motions=(slide("one"), slide("two")), latches=(latch("one", "a/one", "a/two"),)
    )
    (finding,) = check_closing(subject(made))
    assert finding.severity is Severity.PASS
    assert finding.sentence.startswith("Shut a/two before a/one: the bolt of a/one meets")


def test_strikers_on_each_other_are_a_circle(subject: Make, module: Make, pair: Any) -> None:
    latches = latch("one", "a/one", "a/two"), latch("two", "a/two", "a/one")
    made = module("a", *pair, motions=(slide("one"), slide("two")), latches=latches)
    (finding,) = check_closing(subject(made))
    assert finding.severity is Severity.FAIL
    assert "a/two must be shut before a/one, since the bolt of a/one" in finding.sentence
    assert "a/one must be shut before a/two, since the bolt of a/two" in finding.sentence


def test_a_lid_latched_to_the_front_it_needs_open_is_a_circle(
    subject: Make, module: Make, pair: Any
) -> None:
    motions = slide("one", needs=("a/two",)), slide("two")
    made = module("a", *pair, motions=motions, latches=(latch("one", "a/one", "a/two"),))
    (finding,) = check_closing(subject(made))
    assert finding.severity is Severity.FAIL
    assert "a/one moves only while a/two is open" in finding.sentence


def test_needs_and_shut_give_the_order(subject: Make, module: Make, pair: Any) -> None:
    motions = slide("one", needs=("a/two",)), slide("two")
    (rule,) = closing_rules(subject(module("a", *pair, motions=motions)))
    assert (rule.first, rule.then) == ("a/one", "a/two")
    motions = slide("one", shut=("a/two",)), slide("two")
    (rule,) = closing_rules(subject(module("a", *pair, motions=motions)))
    assert (rule.first, rule.then) == ("a/two", "a/one")


def test_a_flap_that_overlaps_another_is_shut_after_it(
    subject: Make, module: Make, panel: Make
) -> None:
    """The upper flap lies 20 over the lower one's edge and is in its way while shut."""
    lower = panel("a/lower", (200.0, 400.0), (-100.0, 100.0), 290.0, moves="lower")
    upper = panel("a/upper", (380.0, 600.0), (-100.0, 100.0), 300.0, moves="upper")
    motions = flap("lower", 200.0, -1.0), flap("upper", 600.0, 1.0)
    made = module("a", lower, upper, motions=motions)
    (rule,) = closing_rules(subject(made))
    assert (rule.first, rule.then) == ("a/lower", "a/upper")
    assert rule.reason == "a/lower would run into a/upper where that stands shut"
    rests = Joint("a/upper", "a/lower", JointKind.RESTS)
    assert list(closing_rules(subject(made, joints=[rests]))) == [rule], "resting is no bridge"
    hinged = Joint("a/upper", "a/lower", JointKind.HINGED)
    assert list(closing_rules(subject(made, joints=[hinged]))) == []


def test_two_flaps_that_overlap_each_other_can_not_be_shut(
    subject: Make, module: Make, panel: Make
) -> None:
    """Each has a tongue under the other."""
    left = panel("a/left", (200.0, 400.0), (-100.0, 100.0), 290.0, moves="left")
    under_right = panel("a/left tongue", (400.0, 440.0), (-100.0, 0.0), 280.0, moves="left")
    right = panel("a/right", (400.0, 600.0), (-100.0, 100.0), 290.0, moves="right")
    under_left = panel("a/right tongue", (360.0, 400.0), (0.0, 100.0), 280.0, moves="right")
    motions = flap("left", 200.0, -1.0), flap("right", 600.0, 1.0)
    made = module("a", left, under_right, right, under_left, motions=motions)
    (finding,) = check_closing(subject(made))
    assert finding.severity is Severity.FAIL
    assert finding.where == "a/left – a/right"
    assert finding.sentence.startswith("a/left can't be shut in any order")


def test_each_circle_is_told_once_and_by_its_shortest_way() -> None:
    rules = [
        Before(a, b, "")
        for a, b in [("1", "2"), ("2", "3"), ("3", "1"), ("2", "1"), ("4", "1"), ("3", "5")]
    ]
    found = [[rule.first for rule in circle] for circle in circles(rules)]
    assert found == [["1", "2"], ["3", "1", "2"]]


@pytest.mark.parametrize("count", [2, 3, 6])
def test_a_line_is_no_circle_and_a_ring_is(count: int) -> None:
    names = [str(i) for i in range(count)]
    line = [Before(a, b, "") for a, b in itertools.pairwise(names)]
    assert list(circles(line)) == []
    (ring,) = circles([*line, Before(names[-1], names[0], "")])
    assert len(ring) == count
