"""Panels against sag, at once and in the end, and strength, by hand where a hand can."""

import dataclasses
import re
from collections.abc import Callable
from typing import Any

import pytest

from fitout import catalogue
from fitout.checks.loads import panel_details
from fitout.mechanics.boards import BUMP_G, KNEE_N
from fitout.mechanics.boards import STANDARD_GRAVITY as G
from fitout.model.finding import Finding, Severity
from fitout.model.module import PlateDuty
from fitout.model.panel import Grain

Make = Callable[..., Any]


def all_of(subject: Any) -> list[Finding]:
    return [d.finding for m in subject.fitout.modules for d in panel_details(subject, m)]


def two(subject: Any) -> tuple[Finding, Finding]:
    sag, *creep, bending = all_of(subject)
    assert (sag.code, bending.code) == ("panel sag", "panel bending")
    assert {f.code for f in creep} <= {"panel creep"}
    return sag, bending


def duty(**entries: Any) -> PlateDuty:
    usual = {"panel": "a/shelf", "load_kg": 40.0, "spans": (600.0, 400.0), "edges": "u ends"}
    return PlateDuty(**{"purpose": "its load", **usual, **entries})


@pytest.fixture
def shelf(panel: Make) -> Callable[..., Any]:
    return lambda **rest: panel("a/shelf", (0.0, 600.0), (0.0, 400.0), 100.0, **rest)


def test_a_shelf_on_two_ends_is_a_beam(subject: Make, module: Make, shelf: Make) -> None:
    """5qL⁴/384EI and M/W for 40 kg and its own mass over 600; free edges curl 3 % further."""
    board_n = 0.01 * 0.6 * 0.4 * 700.0 * G
    line = (40.0 * G + board_n) / 600.0
    stiffness = 10000.0 * 400.0 * 10.0**3 / 12.0
    sag_by_hand = 5.0 * line * 600.0**4 / (384.0 * stiffness)
    stress_by_hand = line * 600.0**2 / 8.0 / (400.0 * 10.0**2 / 6.0)
    part = shelf(grain=Grain.ALONG_U)
    sag, bending = two(subject(module("a", part, plates=(duty(),))))
    assert sag.value == pytest.approx(sag_by_hand, rel=0.03)
    assert sag.limit == 3.0
    assert sag.severity is Severity.FAIL
    assert sag.margin == pytest.approx(3.0 - (sag.value or 0.0), abs=1e-4)
    # A bump of 2 g, at k_mod 1.1, asks more than the goods that stay packed, at 0.7.
    share = 1.1 / 1.2 / 1.5
    expected = 100.0 * BUMP_G * stress_by_hand / 40.0 / share
    assert bending.value == pytest.approx(expected, rel=0.03)
    assert bending.limit == 100.0
    assert "by a bump of 2 g" in bending.sentence
    assert "a/shelf (test ply 10, its load) sags" in sag.sentence
    assert "40 kg spread over 600 mm; 3.0 mm are allowed" in sag.sentence


def test_what_stays_on_a_shelf_makes_it_creep(
    subject: Make, module: Make, shelf: Make, board: Any
) -> None:
    """Ply in a parked vehicle sags as far again, k_def 1; metal stays as it is."""
    sag, creep, _ = all_of(subject(module("a", shelf(grain=Grain.ALONG_U), plates=(duty(),))))
    assert creep.value == pytest.approx(2.0 * (sag.value or 0.0), rel=1e-3)
    assert creep.limit == 600.0 / 150.0
    assert "k_def 1" in creep.sentence
    metal = dataclasses.replace(board, kind="metal", grain=False)
    found = all_of(subject(module("a", shelf(board=metal), plates=(duty(),))))
    assert [f.code for f in found] == ["panel sag", "panel bending"]
    empty = duty(load_kg=0.0, patch=True)
    found = all_of(subject(module("a", shelf(), plates=(empty,))))
    assert [f.code for f in found] == ["panel sag", "panel bending"]


def test_room_beneath_bounds_the_final_sag(subject: Make, module: Make, shelf: Make) -> None:
    _, creep, _ = all_of(subject(module("a", shelf(), plates=(duty(most_sag=7.0),))))
    assert creep.limit == pytest.approx(12.25)


def test_a_thicker_board_passes(subject: Make, module: Make, shelf: Make, board: Any) -> None:
    """Twice as thick is eight times as stiff."""
    thick = dataclasses.replace(board, thickness=20.0)
    thin = two(subject(module("a", shelf(grain=Grain.ALONG_U), plates=(duty(),))))
    stiff = two(subject(module("a", shelf(grain=Grain.ALONG_U, board=thick), plates=(duty(),))))
    assert [f.severity for f in thin] == [Severity.FAIL, Severity.PASS]
    assert [f.severity for f in stiff] == [Severity.PASS, Severity.PASS]
    assert thin[0].value is not None
    assert stiff[0].value is not None
    assert thin[0].value / stiff[0].value == pytest.approx(8.0, rel=0.06)


def test_grain_across_the_span_sags_more_and_either_counts_as_the_weaker(
    subject: Make, module: Make, shelf: Make
) -> None:
    values = {
        grain: two(subject(module("a", shelf(grain=grain), plates=(duty(),))))
        for grain in (Grain.ALONG_U, Grain.ALONG_V, Grain.EITHER)
    }
    along, across, either = (values[g] for g in (Grain.ALONG_U, Grain.ALONG_V, Grain.EITHER))
    assert across[0].value == pytest.approx((along[0].value or 0.0) * 10.0 / 6.0, rel=0.02)
    assert across[1].value == pytest.approx((along[1].value or 0.0) * 40.0 / 30.0, rel=0.02)
    assert (either[0].value, either[1].value) == (across[0].value, across[1].value)


def test_a_knee(subject: Make, module: Make, shelf: Make) -> None:
    """1 kN on 100 × 100; it may sag a hundredth of its span; no spread load is told of."""
    part = shelf(grain=Grain.ALONG_U)
    sag, _ = two(subject(module("a", part, plates=(duty(patch=True, load_kg=0.0),))))
    assert sag.limit == 6.0
    assert "under a knee (1 kN on 100 × 100) over 600 mm" in sag.sentence
    # At least what the knee spread over the full width would bend a beam by.
    beam = KNEE_N * 600.0**3 / (48.0 * 10000.0 * 400.0 * 10.0**3 / 12.0)
    assert sag.value is not None
    assert beam * 0.95 < sag.value < 2.0 * beam
    both, _ = two(subject(module("a", part, plates=(duty(patch=True),))))
    assert "a knee (1 kN on 100 × 100) and 40 kg spread" in both.sentence
    assert both.value is not None
    assert both.value > sag.value


def test_a_knee_on_a_narrow_panel_rests_on_its_neighbour_too(
    subject: Make, module: Make, panel: Make
) -> None:
    """60 wide bears 0.6 kN over its whole width, which bends it as a beam."""
    sags = {}
    for width in (30.0, 60.0, 100.0):
        part = panel("a/shelf", (0.0, 600.0), (0.0, width), 100.0, grain=Grain.ALONG_U)
        narrow = duty(patch=True, load_kg=0.0, spans=(600.0, width))
        sag, _ = two(subject(module("a", part, plates=(narrow,))))
        line = 10.0 * width * 700.0e-9 * G
        stiffness = 10000.0 * width * 10.0**3 / 12.0
        knee = KNEE_N * width / 100.0
        dead = 5.0 * line * 600.0**4 / (384.0 * stiffness)
        assert sag.value == pytest.approx(dead + knee * 600.0**3 / (48.0 * stiffness), rel=0.05)
        sags[width] = sag.sentence
    assert "under its share of a knee (0.60 kN on 100 × 60) over 600 mm" in sags[60.0]
    assert "under a knee (1 kN on 100 × 100) over 600 mm" in sags[100.0]


@pytest.mark.parametrize(("edges", "span"), [("u ends", 600.0), ("v ends", 400.0), ("all", 400.0)])
def test_the_span_that_counts(
    subject: Make, module: Make, shelf: Make, edges: str, span: float
) -> None:
    sag, _ = two(subject(module("a", shelf(), plates=(duty(edges=edges),))))
    assert sag.limit == span / 200.0


def test_a_module_may_say_how_far_it_may_sag(subject: Make, module: Make, shelf: Make) -> None:
    sag, _ = two(subject(module("a", shelf(), plates=(duty(most_sag=50.0),))))
    assert (sag.limit, sag.severity) == (50.0, Severity.PASS)


@pytest.mark.parametrize("missing", ["e_along_mpa", "strength_across_mpa"])
def test_without_values_it_is_not_checked(
    subject: Make, module: Make, shelf: Make, board: Any, missing: str
) -> None:
    bare = dataclasses.replace(board, **{missing: None})
    (finding,) = all_of(subject(module("a", shelf(board=bare), plates=(duty(),))))
    assert finding.severity is Severity.UNCHECKED
    assert "a/shelf was not checked for bending" in finding.sentence
    assert "test ply 10" in finding.sentence


def test_a_design_fails_when_the_deck_is_too_thin(evaluated: Make, only: Make) -> None:
    drawers = "drawers: {kind: drawers, width: 800, columns: 1, stack: [{carries: 10 kg}]}"
    thin = "boards: {deck: {sheet: birch ply 6.5}}"
    found = only(evaluated(drawers, more=thin), "panel sag", Severity.FAIL)
    assert "drawers/top" in [f.where for f in found]
    thick = "boards: {deck: {sheet: birch ply 18}}"
    assert only(evaluated(drawers, more=thick), "panel sag", Severity.FAIL) == []


@pytest.mark.parametrize(
    ("role", "sheet", "part", "remedy"),
    [
        ("bottom", "birch ply 4", "drawer 1 bottom", "birch ply 9"),
        ("deck", "birch ply 9", "top", "birch ply 15"),
    ],
)
def test_the_remedy_is_the_thinnest_sheet_that_passes(
    evaluated: Make, only: Make, role: str, sheet: str, part: str, remedy: str
) -> None:
    drawers = "drawers: {kind: drawers, width: 800, columns: 1, stack: [{carries: 35 kg}]}"

    def failing(sheet: str) -> list[Finding]:
        found = evaluated(drawers, more=f"boards: {{{role}: {{sheet: {sheet}}}}}")
        both = [*only(found, "panel sag"), *only(found, "panel bending")]
        return [f for f in both if f.where == f"drawers/{part}" and f.severity is Severity.FAIL]

    found = failing(sheet)
    assert found
    for finding in found:
        assert f" {remedy} would do (`boards: {role}:`)" in finding.sentence
        assert finding.sentence.endswith(".")
    assert failing(remedy) == []
    sheets = catalogue.load({}).sheets
    family = [key for key in sheets if re.fullmatch(r"birch ply [0-9.]+", key)]
    thinner = family[family.index(sheet) + 1 : family.index(remedy)]
    assert all(failing(key) for key in thinner)


def test_where_no_thicker_sheet_would_do_the_span_must_be_shorter(
    subject: Make, module: Make, shelf: Make
) -> None:
    """Nothing in the catalogue is like the invented ply; nothing passes under two tonnes."""
    sheets = catalogue.load({}).sheets
    for board in (None, sheets["birch ply 12"]):
        part = shelf() if board is None else shelf(board=board)
        found = two(subject(module("a", part, plates=(duty(load_kg=2000.0),))))
        for finding in found:
            assert finding.severity is Severity.FAIL
            assert "No thicker sheet of its sort would do, nor is there" in finding.sentence


def test_only_the_finding_that_fails_names_a_remedy(
    subject: Make, module: Make, shelf: Make
) -> None:
    sag, bending = two(subject(module("a", shelf(grain=Grain.ALONG_U), plates=(duty(),))))
    assert (sag.severity, bending.severity) == (Severity.FAIL, Severity.PASS)
    assert "would do" in sag.sentence
    assert bending.sentence.endswith("loads × 1.5).")
