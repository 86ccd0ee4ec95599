"""Restraint of whole designs: what passes, what is a caution, what is not known."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.model.fault import DesignError
from fitout.model.finding import Severity

Make = Callable[..., Any]
DRAWERS = "drawers: {kind: drawers, width: 800, stack: [{carries: 20 kg}]}"
KNOWN = "restraint: {bolt: {washer: 40}, floor: {sheet: 1.0, plate: 60}}"


def test_a_module_holds_on_the_road_and_names_what_governs(evaluated: Make, only: Make) -> None:
    (found,) = only(evaluated(DRAWERS, more=KNOWN), "restraint")
    assert found.severity is Severity.PASS
    assert found.where == "drawers"
    assert 0.0 < found.value < 100.0 == found.limit
    assert "Load Restraint Guide" in found.source
    assert "No approval under any regulation" in found.sentence
    assert "N pull and" in found.sentence


def test_the_crash_is_a_caution_at_most_with_its_cure(evaluated: Make, only: Make) -> None:
    heavy = "drawers: {kind: drawers, width: 800, stack: [{carries: 150 kg}]}"
    (found,) = only(evaluated(heavy, more=KNOWN), "crash")
    assert found.severity is Severity.CAUTION
    assert found.value > 100.0
    assert "our own prudent crash case" in found.sentence
    assert "It would hold with" in found.sentence
    assert "no approval under UN R17" in found.source


def test_no_crash_where_it_is_not_wished(evaluated: Make, only: Make) -> None:
    assert only(evaluated(DRAWERS, more="restraint: {crash: no}"), "crash") == []


def test_an_unknown_floor_is_unchecked_and_says_what_to_enter(evaluated: Make, only: Make) -> None:
    (found,) = only(evaluated(DRAWERS), "restraint floor")
    assert found.severity is Severity.UNCHECKED
    assert "`restraint: floor: {sheet: …}`" in found.sentence
    assert only(evaluated(DRAWERS, more=KNOWN), "restraint floor") == []


def test_a_rivet_nut_asks_for_what_was_tested(evaluated: Make, only: Make) -> None:
    more = "restraint: {bolt: {into: rivet nut}, floor: {sheet: 1.0}}"
    (found,) = only(evaluated(DRAWERS, more=more), "restraint floor")
    assert "enter what was `tested`" in found.sentence
    told = "restraint: {bolt: {into: rivet nut, tested: 4.2 kN}, floor: {sheet: 1.0}}"
    assert only(evaluated(DRAWERS, more=told), "restraint floor") == []


def test_heavier_goods_use_more(evaluated: Make, only: Make) -> None:
    used = []
    for carried in (20, 60):
        stack = f"drawers: {{kind: drawers, width: 800, stack: [{{carries: {carried} kg}}]}}"
        (found,) = only(evaluated(stack, more=KNOWN), "crash")
        used.append(found.value)
    assert used[1] > 1.3 * used[0]


def test_the_mass_class_asks_more_of_small_vehicles(evaluated: Make, only: Make) -> None:
    (usual,) = only(evaluated(DRAWERS, more=KNOWN), "restraint")
    by_mass = KNOWN.replace("{bolt", "{set: by mass class, bolt")
    (found,) = only(evaluated(DRAWERS, more=by_mass), "restraint")
    assert found.value > usual.value
    assert "VDI 2700" in found.source


def test_a_weak_rating_fails_on_the_road(evaluated: Make, only: Make) -> None:
    """Every point rated for 1 kg cannot hold 40 kg against braking."""
    rated = "restraint: {floor: {sheet: 1.0}}"
    found = evaluated(DRAWERS, more=rated, below="clear, rating: 1 kg")
    (finding,) = only(found, "restraint")
    assert finding.severity is Severity.FAIL
    assert "anchor's rating (at a1" in finding.sentence


def test_what_is_bolted_to_nothing_is_unchecked(evaluated: Make, only: Make) -> None:
    narrow = "drawers: {kind: drawers, width: 500}"
    (found,) = only(evaluated(narrow), "restraint")
    assert found.severity is Severity.UNCHECKED
    assert "bolted to no known point" in found.sentence


def test_loose_goods_are_always_a_caution(evaluated: Make, only: Make) -> None:
    (found,) = only(evaluated("barrier: {kind: barrier}"), "loose goods")
    assert found.severity is Severity.CAUTION
    assert "barrier's shelf" in found.sentence
    seat = {"front": "seat_back: {foot: 1000, leans: 15 deg, top: 600}"}
    (found,) = only(evaluated(DRAWERS, **seat), "loose goods")
    assert "No barrier stands behind the seats" in found.sentence


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ("restraint: {bolt: {grade: 9.9}}", "8.8"),
        ("restraint: {floor: {sheet: -0.8}}", "above 0"),
        ("restraint: {set: by mas class}", "by mass class"),
        ("restraint: {bolt: {into: glue}}", "captive nut"),
        ("restraint: {floor: {strength: 0 MPa}}", "above 0"),
    ],
)
def test_bad_entries_are_located(evaluated: Make, more: str, said: str) -> None:
    with pytest.raises(DesignError) as caught:
        evaluated(DRAWERS, more=more)
    (fault,) = caught.value.faults
    assert fault.line > 0
    assert fault.path[0] == "restraint"
    assert said in f"{fault.expected} {fault.hint}"
