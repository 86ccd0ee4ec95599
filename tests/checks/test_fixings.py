"""Bolts to the vehicle, what lies below them, and what is not proved."""

import dataclasses
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from fitout import workflow
from fitout.checks.fixings import check_fixings
from fitout.model.bay import AnchorPoint, Bay
from fitout.model.finding import Severity
from fitout.model.module import Fixing

Make = Callable[..., Any]


def anchor(name: str, below: str = "clear") -> AnchorPoint:
    return AnchorPoint(name=name, x=100.0, y=-50.0, z=0.0, thread="M8", below=below)


def bolt(at: str | None, y: float = 50.0) -> Fixing:
    return Fixing(module="a", point=(100.0, y, 0.0), article="bolt M8 x 40", anchor=at)


@pytest.fixture
def anchored(plain_bay: Bay) -> Callable[..., Bay]:
    return lambda *anchors: dataclasses.replace(plain_bay, anchors=anchors)


@pytest.mark.parametrize(("used", "severity"), [(2, Severity.PASS), (1, Severity.FAIL)])
def test_enough_known_points(
    subject: Make, module: Make, anchored: Make, used: int, severity: Severity
) -> None:
    fixings = (bolt("one"), bolt("two") if used == 2 else bolt(None, -80.0))
    whole = module("a", fixings=fixings, needs_fixings=2)
    (finding,) = check_fixings(subject(whole, bay=anchored(anchor("one"), anchor("two"))))
    assert finding.severity is severity
    assert (finding.value, finding.limit, finding.margin) == (used, 2.0, used - 2.0)
    assert finding.sentence.startswith(f"a is bolted to {used} known point(s)")
    lines = finding.sentence.splitlines()[1:-1]
    assert lines == ["- {name: a 1, at: [100, -80], below: unknown}"] * (used == 1)


def test_proposed_holes_are_entries_under_names_of_their_own(
    subject: Make, module: Make, anchored: Make
) -> None:
    """Whole mm; the height where there is one; no name that is taken."""
    points = ((80.6, -516.4, 0.0), (700.4, 0.3, 12.4))
    fixings = [Fixing(module="a", point=p, article="bolt M8 x 40", anchor=None) for p in points]
    whole = module("a", fixings=tuple(fixings), needs_fixings=4)
    (finding,) = check_fixings(subject(whole, bay=anchored(anchor("a 1"), anchor("b 2"))))
    first, *lines, last = finding.sentence.splitlines()
    assert first.endswith(
        "look at what lies beneath, then enter under `bay: anchors:` with `below: clear`:"
    )
    assert lines == [
        "- {name: a 2, at: [81, -516], below: unknown}",
        "- {name: a 3, at: [700, 0], height: 12, below: unknown}",
    ]
    assert last == "There `at` is forward of the sill and left of the centre line."


def test_nothing_is_proposed_where_the_module_has_no_place_for_it(
    subject: Make, module: Make
) -> None:
    (finding,) = check_fixings(subject(module("a", needs_fixings=2)))
    assert finding.sentence.endswith("2 are wanted.")


@pytest.mark.parametrize("below", ["clear", "Clear ", "open air", "nothing"])
def test_nothing_below(subject: Make, module: Make, anchored: Make, below: str) -> None:
    whole = module("a", fixings=(bolt("one"),), needs_fixings=1)
    found = list(check_fixings(subject(whole, bay=anchored(anchor("one", below)))))
    assert [f.code for f in found] == ["fixing points"]


@pytest.mark.parametrize(
    ("below", "words"),
    [
        ("unknown", "what lies beneath is not known"),
        ("fuel tank", "towards fuel tank: use another"),
    ],
)
def test_something_or_who_knows_what_below(
    subject: Make, module: Make, anchored: Make, below: str, words: str
) -> None:
    whole = module("a", fixings=(bolt("one"),), needs_fixings=1)
    _, finding = check_fixings(subject(whole, bay=anchored(anchor("one", below))))
    assert (finding.code, finding.severity) == ("below a fixing", Severity.FAIL)
    assert finding.where == "a – one"
    assert words in finding.sentence


def test_a_module_that_needs_no_bolts_is_not_asked_for_any(subject: Make, module: Make) -> None:
    assert list(check_fixings(subject(module("a")))) == []


def test_a_design_fails_over_a_fuel_tank(evaluated: Make, only: Make) -> None:
    drawers = "drawers: {kind: drawers, width: 800}"
    assert evaluated(drawers).passed
    found = evaluated(drawers, below="fuel tank")
    (finding,) = only(found, "below a fixing")
    assert finding.where == "drawers – a1"
    assert not found.passed


def test_a_design_fails_where_too_few_points_are_known(
    evaluated: Make, design_text: Make, only: Make, tmp_path: Path
) -> None:
    """Narrow drawers, whose base reaches none of the four points 300 off the middle.

    With the proposed entries pasted in, and what lies beneath looked at, it passes.
    """
    (finding,) = only(evaluated("drawers: {kind: drawers, width: 500}"), "fixing points")
    assert finding.severity is Severity.FAIL
    assert (finding.value, finding.limit) == (0.0, 4.0)
    lines = [line for line in finding.sentence.splitlines() if line.startswith("- {")]
    assert len(lines) == 4
    pasted = "".join(f"    {line}\n" for line in lines).replace("unknown", "clear")
    path = tmp_path / "pasted.yaml"
    text = design_text("drawers: {kind: drawers, width: 500}")
    text = text.replace("\nitems:", f"\n{pasted}items:", 1)
    path.write_text(text, encoding="utf-8", newline="\n")
    (finding,) = only(workflow.evaluate(workflow.load(path)), "fixing points")
    assert (finding.severity, finding.value) == (Severity.PASS, 4.0)


@pytest.mark.parametrize("frame", ["steel tube 30 x 30 x 2", "steel tube 40 x 40 x 4"])
def test_feet_keep_to_their_points_when_the_seat_leans_by_half_a_degree_more_or_less(
    design_text: Make, tmp_path: Path, only: Make, frame: str
) -> None:
    """The holes that are proposed are entered; measuring the seat anew doesn't undo them."""

    def asked(leans: float, entered: str) -> Any:
        text = design_text(
            f"barrier: {{kind: barrier, behind: seat_back, frame: {frame}}}",
            front=f"seat_back: {{foot: 1000, leans: {leans} deg, top: 560}}",
        )
        path = tmp_path / "design.yaml"
        path.write_text(text.replace("  anchors:\n", f"  anchors:\n{entered}"), encoding="utf-8")
        return only(workflow.evaluate(workflow.load(path)), "fixing points")[0]

    first = asked(20.0, "")
    assert first.value == 0.0
    entered = "".join(f"    {line}\n" for line in first.sentence.splitlines()[1:-1])
    entered = entered.replace("unknown", "clear")
    for leans in (19.5, 20.0, 20.5):
        assert asked(leans, entered).value == 4.0
    off = asked(18.0, entered)
    assert off.value < 4.0
    assert "Entered, but not where a bolt can be: barrier " in off.sentence


def test_an_entered_point_beside_a_proposed_hole_is_told_with_how_far_it_is(
    subject: Make, module: Make, anchored: Make
) -> None:
    whole = module("a", fixings=(bolt(None, -80.0),), needs_fixings=1)
    (finding,) = check_fixings(subject(whole, bay=anchored(anchor("one"))))
    assert finding.sentence.endswith("Entered, but not where a bolt can be: one, 30.0 mm from a 1.")
