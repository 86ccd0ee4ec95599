"""What goes in as one, turned, in pieces, or not at all; the tub's carcass worked out anew."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from dossiers import evaluated
from scipy.optimize import linprog

from fitout.checks.going_in import check_going_in
from fitout.checks.subassemblies import SubAssembly, sub_assemblies
from fitout.checks.subject import Subject
from fitout.checks.ways_in import smallest_split, way_in
from fitout.model.bay import Bay
from fitout.model.design import BaySpec, OpeningSpec, SectionSpec
from fitout.model.finding import Finding, Severity
from fitout.model.spec import Measured
from fitout.survey.bay import build_bay
from fitout.workflow import Evaluation

Make = Callable[..., Any]

DESIGNS = Path(__file__).parents[2] / "designs"
HAND = 15.0
BOUND_DEG = 0.1


@pytest.fixture(scope="module")
def tub() -> Evaluation:
    return evaluated("canopy-tub")


@pytest.fixture(scope="module")
def wagon() -> Evaluation:
    return evaluated("touring-wagon")


def sub_of(subject: Subject, name: str) -> SubAssembly:
    return next(s for s in sub_assemblies(subject) if s.id == name)


def finding_of(whole: Evaluation, name: str) -> Finding:
    return next(f for f in whole.findings if f.code == "goes in" and f.where == name)


def passes_rolled(whole: Evaluation, corners: np.ndarray, angle_deg: float) -> bool:
    """Whether a roll passes the tub's opening and arches, hands included: a linear programme."""
    bay = whole.fitout.bay
    turn = np.radians(angle_deg)
    y = corners[:, 1] * np.cos(turn) - corners[:, 2] * np.sin(turn)
    z = corners[:, 1] * np.sin(turn) + corners[:, 2] * np.cos(turn)
    rows, limits = [(0.0, 1.0)], [bay.opening[-1][0] - HAND - z.max()]
    arch = max(h for profile, _ in bay.arches.values() for _, h in profile)
    rows.append((0.0, -1.0))
    limits.append(z.min() - arch - 0.1)
    for (z0, right0, left0), (z1, right1, left1) in zip(bay.opening, bay.opening[1:], strict=False):
        for sign, at0, at1 in ((1.0, left0, left1), (-1.0, right0, right1)):
            slope = (at1 - at0) / (z1 - z0)
            size = np.hypot(1.0, slope)
            rows.append((sign / size, -slope / size))
            reach = (sign * y - slope * z).max() / size
            limits.append((at0 - slope * z0) / size - HAND - reach)
    return bool(linprog([0.0, 0.0], rows, limits, bounds=[(None, None)] * 2).success)


def test_the_tubs_carcass_goes_in_only_rolled(tub: Evaluation) -> None:
    sub = sub_of(tub.subject, "drawers: carcass")
    entry = way_in(tub.subject, sub)
    assert entry.way is not None
    assert entry.way.turn is not None
    assert entry.way.turn.axis == 0
    assert entry.straight is not None
    assert entry.straight < HAND
    corners = np.vstack([piece for body in sub.bodies for piece in body.pieces])
    low, high = sorted(abs(a) for a in entry.way.span_deg)
    sign = -1.0 if entry.way.turn.angle_deg < 0.0 else 1.0
    inside = np.linspace(low, high, 60)
    assert all(passes_rolled(tub, corners, sign * a) for a in inside)
    assert not passes_rolled(tub, corners, sign * (low - BOUND_DEG))
    assert not passes_rolled(tub, corners, sign * (high + BOUND_DEG))
    assert not passes_rolled(tub, corners, 0.0)
    found = finding_of(tub, sub.id)
    assert found.severity is Severity.PASS
    assert f"{low:.1f}° to {high:.1f}°" in found.sentence
    assert "Straight it would keep only" in found.sentence


def test_the_long_box_goes_in_without_its_top(tub: Evaluation) -> None:
    sub = sub_of(tub.subject, "long box: box")
    assert way_in(tub.subject, sub).way is None
    parts = smallest_split(tub.subject, sub)
    assert parts is not None
    joints, pieces = parts
    assert {len(piece.parts) for piece in pieces} == {1, 7}
    assert all("long box/top" in (joint.a, joint.b) for joint in joints)
    found = finding_of(tub, sub.id)
    assert found.severity is Severity.CAUTION
    assert "No way in was found for long box: box as one" in found.sentence


def test_what_is_smaller_than_the_opening_goes_straight(wagon: Evaluation) -> None:
    found = finding_of(wagon, "fridge")
    opening, item = wagon.fitout.bay.opening, wagon.subject.parts["fridge/fridge"]
    height = opening[-1][0] - opening[0][0]
    assert found.value == pytest.approx((height - item.pieces[0][-1][2]) / 2.0, abs=0.5)  # type: ignore[union-attr]
    assert "goes in straight" in found.sentence


def test_the_barrier_is_put_together_inside(wagon: Evaluation) -> None:
    found = finding_of(wagon, "barrier")
    assert found.severity is Severity.CAUTION
    parts = smallest_split(wagon.subject, sub_of(wagon.subject, "barrier"))
    assert parts is not None
    assert sum(len(piece.parts) for piece in parts[1]) == 12


def test_what_stands_outside_the_bay_is_not_judged(wagon: Evaluation) -> None:
    found = finding_of(wagon, "tools: tray")
    assert found.severity is Severity.UNCHECKED
    assert "doors" in found.sentence


def test_each_thing_carried_has_its_finding_and_asking_again_says_the_same(
    wagon: Evaluation,
) -> None:
    again = list(check_going_in(wagon.subject))
    told = [f for f in wagon.findings if f.code == "goes in"]
    assert sorted(again, key=lambda f: f.where) == sorted(told, key=lambda f: f.where)
    assert {f.where for f in again} == {s.id for s in sub_assemblies(wagon.subject)}


def bay_with_opening(width: float, height: float) -> Bay:
    """The plain bay, 1200 wide and 900 high, behind a smaller opening."""
    section = SectionSpec(at=Measured(0.0), widths={0.0: Measured(1200.0)}, roof=Measured(900.0))
    opening = OpeningSpec(height=Measured(height), widths={0.0: Measured(width)})
    return build_bay(BaySpec(sections=(section,), front_wall=Measured(1000.0), opening=opening))


def only_finding(looked_at: Subject) -> Finding:
    (found,) = check_going_in(looked_at)
    return found


def test_a_block_too_wide_by_ten_lacks_five_on_each_side(
    subject: Make, module: Make, item: Make
) -> None:
    """A cube of 410 holds a ball of 410: no path leads it through an opening 400 wide."""
    cube = item("a/cube", (100.0, 510.0), (-205.0, 205.0), (0.0, 410.0))
    found = only_finding(subject(module("a", cube), bay=bay_with_opening(400.0, 400.0)))
    assert found.severity is Severity.FAIL
    assert found.value == pytest.approx(-5.0, abs=1.0)
    assert "however it is moved: it is 410 mm thick in every direction" in found.sentence


def test_what_is_only_not_found_is_not_failed(subject: Make, module: Make, item: Make) -> None:
    """380 by 420 by 500: no straight pose passes 400 by 400, and no proof says that none does."""
    chest = item("a/chest", (100.0, 480.0), (-210.0, 210.0), (0.0, 500.0))
    found = only_finding(subject(module("a", chest), bay=bay_with_opening(400.0, 400.0)))
    assert found.severity is Severity.UNCHECKED
    assert "No way in was found for a" in found.sentence
    assert "Only turns about one axis at a time were tried" in found.sentence


def test_an_opening_smaller_than_any_part_is_told(subject: Make, module: Make, panel: Make) -> None:
    board = panel("a/board", (100.0, 700.0), (-300.0, 300.0), 100.0)
    found = only_finding(subject(module("a", board), bay=bay_with_opening(50.0, 5.0)))
    assert found.severity is Severity.FAIL
    assert "does not go in through the opening, however it is moved" in found.sentence
    assert found.value is not None
    assert found.value < 0.0


def test_tight_for_fingers_is_a_caution(subject: Make, module: Make, item: Make) -> None:
    cube = item("a/cube", (100.0, 490.0), (-195.0, 195.0), (0.0, 390.0))
    found = only_finding(subject(module("a", cube), bay=bay_with_opening(400.0, 400.0)))
    assert (found.severity, found.value) == (Severity.CAUTION, 5.0)
    assert "mind your fingers, 15 mm are wanted" in found.sentence
    loose = subject(module("a", cube), bay=bay_with_opening(400.0, 400.0), hand=4.0)
    assert only_finding(loose).severity is Severity.PASS


def test_what_passes_but_can_not_be_turned_inside_is_not_judged(
    subject: Make, module: Make, item: Make
) -> None:
    """650 deep, 960 wide: end first through 700, but its diagonal is 1159 in a bay 1000 deep."""
    chest = item("a/chest", (100.0, 750.0), (-480.0, 480.0), (0.0, 600.0))
    found = only_finding(subject(module("a", chest), bay=bay_with_opening(700.0, 700.0)))
    assert found.severity is Severity.UNCHECKED
    assert "can't be moved from there to its place" in found.sentence


def test_what_can_be_turned_inside_goes_in_end_first(
    subject: Make, module: Make, item: Make
) -> None:
    chest = item("a/chest", (300.0, 600.0), (-400.0, 400.0), (0.0, 600.0))
    found = only_finding(subject(module("a", chest), bay=bay_with_opening(500.0, 700.0)))
    assert found.severity is Severity.PASS
    assert "turned nose to the" in found.sentence


def test_over_the_sill(subject: Make, module: Make, item: Make) -> None:
    section = SectionSpec(at=Measured(0.0), widths={0.0: Measured(1200.0)}, roof=Measured(900.0))
    opening = OpeningSpec(lip=Measured(80.0), height=Measured(700.0), widths={0.0: Measured(900.0)})
    bay = build_bay(BaySpec(sections=(section,), front_wall=Measured(1000.0), opening=opening))
    chest = item("a/chest", (300.0, 600.0), (-200.0, 200.0), (0.0, 560.0))
    found = only_finding(subject(module("a", chest), bay=bay))
    assert "straight, lowered over the sill" in found.sentence
    assert found.value == pytest.approx(30.0)
