"""Upwards: the floor, what stands on what, one deck, roof and opening."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.arrange.heights import BELOW_DECK_GAP, heights
from fitout.model.design import ModuleSpec
from fitout.modules.kind import Extent

Make = Callable[..., Any]


def test_modules_stand_on_the_floor_or_on_each_other(ask: Make, puzzle: Make) -> None:
    base = ask("base", 300.0, 300.0, 250.0)
    upper = ask("upper", 300.0, 300.0, 180.0, ModuleSpec(on="base"))
    z, deck, collide = heights(puzzle(upper, base))
    assert z == {"base": (0.0, 250.0), "upper": (250.0, 430.0)}
    assert deck is None
    assert collide == ()


def test_the_floors_lining_lifts_everything(arranged: Make) -> None:
    found = arranged("a: {kind: drawers, height: 300}", bay="front_wall: 1000\n  trim: {floor: 6}")
    assert found.span("a", "z") == (6.0, 306.0)


def test_under_the_roof_or_the_openings_edge(ask: Make, puzzle: Make) -> None:
    """The roof is at 900, less 3; the edge at 803, less twice 1.5."""
    fills = Extent(least=100.0, fills=True)
    z, _, collide = heights(
        puzzle(ask("in", 1.0, 1.0, fills), ask("out", 1.0, 1.0, fills, opens_rear=True))
    )
    assert z == {"in": (0.0, 897.0), "out": (0.0, 800.0)}
    assert collide == ()


def test_what_is_too_high_sticks_out_by_the_millimetres_named(arranged: Make) -> None:
    found = arranged(
        "a: {kind: drawers, width: 500, height: 520}",
        "b: {kind: drawers, width: 500, height: 300, on: a}",
    )
    (conflict,) = found.conflicts
    assert conflict.by == pytest.approx(20.0)
    assert {w.text for w in conflict.wishes} == {
        "a's height of 520",
        "a stands on the floor",
        "b's height of 300",
        "b stands on a",
        "b stays under the opening's upper edge at 803",
    }
    assert [w.text for w in conflict.wishes if w.gives] == [
        "a's height of 520",
        "b's height of 300",
    ]
    assert conflict.sentence.startswith("Upwards, these wishes collide by 20.0 mm:")
    assert found.span("b", "z") == (520.0, 820.0)


def test_a_deck_to_fit_is_level_with_the_highest_need(arranged: Make) -> None:
    found = arranged(
        "a: {kind: drawers, height: 410, width: 400}",
        "b: {kind: drawers, width: 400}",
        "top: {kind: deck, level: fit}",
    )
    assert found.result.deck == 410.0
    assert found.span("a", "z") == found.span("b", "z") == (0.0, 410.0)
    assert "top" not in found.berths
    assert found.conflicts == ()


def test_a_deck_to_fit_leaves_room_for_what_stays_below_it(ask: Make, arranged: Make) -> None:
    """A fridge slide lies below deck, cleats and 2 mm."""
    found = arranged(
        "slide: {kind: fridge slide, item: fridge}",
        "a: {kind: drawers, width: 400, stack: [{front_height: 150}]}",
        "top: {kind: deck}",
    )
    high = found.berths["slide"].z1
    assert found.result.deck == pytest.approx(high + 12.0 + BELOW_DECK_GAP)
    assert found.berths["a"].z1 == found.result.deck
    assert found.conflicts == ()


def test_a_given_level_is_kept(arranged: Make) -> None:
    found = arranged("a: {kind: drawers}", "top: {kind: deck, level: 444}")
    assert found.result.deck == 444.0
    assert found.span("a", "z") == (0.0, 444.0)


def test_a_level_and_a_height_that_differ_collide(arranged: Make) -> None:
    found = arranged("a: {kind: drawers, height: 500}", "top: {kind: deck, level: 450}")
    (conflict,) = found.conflicts
    assert conflict.by == pytest.approx(50.0)
    assert {w.text for w in conflict.wishes if w.gives} == {
        "a's height of 500",
        "top's level of 450",
    }
    assert found.span("a", "z") == (0.0, 500.0)


def test_what_carries_another_module_does_not_reach_the_deck(arranged: Make) -> None:
    found = arranged(
        "low: {kind: drawers, height: 250, stack: [{}]}",
        "high: {kind: drawers, height: 220, stack: [{}], on: low}",
        "top: {kind: deck}",
    )
    assert found.conflicts == ()
    assert found.result.deck == 470.0
