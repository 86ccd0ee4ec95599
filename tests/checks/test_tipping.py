"""Whether a module tips over when what runs out of it is out, by moments about its edge."""

import dataclasses
from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.tipping import check_tipping
from fitout.mechanics.boards import STANDARD_GRAVITY as G
from fitout.model.finding import Finding, Severity
from fitout.model.hardware import HardwareLine, Slide
from fitout.model.module import Fixing, Motion, MotionKind, SlideDuty

Make = Callable[..., Any]

SLIDE = Slide(
    key="test slide", length=500.0, travel=500.0, rating_kg=45.0, side_clearance=12.7,
    height=45.0, mass_pair_kg=1.2, locks=False, carcass_holes=(50.0, 450.0),
    drawer_holes=(50.0, 450.0), screw="pan head screw 4 x 12",
)  # fmt: skip


@pytest.fixture
def tipping(subject: Make, module: Make, item: Make) -> Callable[..., Finding]:
    """A carcass of `base_kg` from x 100 to 700, and drawers of 4 kg there with `contents`."""

    def ask(base_kg: float, *contents: float, **rest: Any) -> Finding:
        parts = [item("a/base", (100.0, 700.0), (0.0, 400.0), (0.0, 20.0), mass_kg=base_kg)]
        duties, motions = [], []
        for number, kg in enumerate(contents):
            name, z = f"drawer {number}", 50.0 + 100.0 * number
            box = (100.0, 600.0), (0.0, 400.0), (z, z + 80.0)
            parts.append(item(f"a/{name}", *box, moves=name))
            moving = (f"a/{name}",)
            duties.append(SlideDuty(name=f"a/{name}", slide=SLIDE, moving=moving, contents_kg=kg))
            motions.append(
                Motion(name=name, module="a", kind=MotionKind.SLIDE,
                       direction=(-1.0, 0.0, 0.0), travel=500.0)
            )  # fmt: skip
        if rest.pop("one_at_a_time", False):
            ids = {m.id for m in motions}
            motions = [dataclasses.replace(m, shut=tuple(ids - {m.id})) for m in motions]
        whole = module("a", *parts, slides=tuple(duties), motions=tuple(motions), **rest)
        (found,) = check_tipping(subject(whole))
        return found

    return ask


def test_by_hand(tipping: Make) -> None:
    """24 kg out by 250 before the edge against 10 kg 300 behind it; bolts 50 and 550 behind it."""
    at = {"article": "bolt M8 x 40", "module": "a"}
    fixings = tuple(Fixing(point=(x, 0.0, 0.0), anchor=f"p{x:g}", **at) for x in (150.0, 650.0))
    found = tipping(10.0, 20.0, fixings=fixings)
    lacks = (24.0 * 250.0 - 10.0 * 300.0) * G
    assert (found.severity, found.unit) == (Severity.PASS, "N·m")
    assert found.value == pytest.approx(lacks / 1000.0, rel=1e-3)
    worst = lacks * 550.0 / (50.0**2 + 550.0**2)
    assert f"{worst:.0f} N at the one that bears most" in found.sentence


def test_what_stands_by_itself(tipping: Make) -> None:
    found = tipping(40.0, 20.0)
    assert "stands by its own weight" in found.sentence
    assert found.severity is Severity.PASS


def test_bolted_to_nothing_it_tips_onto_someone(tipping: Make) -> None:
    found = tipping(10.0, 20.0)
    assert found.severity is Severity.FAIL
    assert found.sentence.endswith("Bolt it down.")


def test_one_at_a_time_is_enough(tipping: Make) -> None:
    found = tipping(20.0, 15.0, 15.0)
    assert found.severity is Severity.CAUTION
    assert "or open one at a time (`one_at_a_time: yes`; nothing in it bars" in found.sentence


def test_where_one_at_a_time_is_the_rule_no_two_are_out(tipping: Make) -> None:
    """What would tip with both stands with either; with one too heavy it tips all the same."""
    found = tipping(20.0, 15.0, 15.0, one_at_a_time=True)
    assert found.severity is Severity.PASS
    assert "with any one drawer right out" in found.sentence
    assert found.sentence.endswith("is up to you: nothing in it bars the others.")
    assert tipping(10.0, 20.0, 15.0, one_at_a_time=True).severity is Severity.FAIL
    # A single drawer has no others.
    assert "everything right out" in tipping(40.0, 20.0, one_at_a_time=True).sentence


def test_bolts_to_what_is_below_hold_it(tipping: Make) -> None:
    line = HardwareLine(article="bolt M6 x 30", quantity=4, module="a", purpose="down to box")
    found = tipping(10.0, 20.0, hardware=(line,))
    assert found.severity is Severity.PASS
    assert "the bolts to the module below" in found.sentence


def test_nothing_is_said_of_what_has_no_slides(subject: Make, module: Make, item: Make) -> None:
    plain = module("a", item("a/x", (0.0, 10.0), (0.0, 10.0), (0.0, 10.0)))
    assert list(check_tipping(subject(plain))) == []
