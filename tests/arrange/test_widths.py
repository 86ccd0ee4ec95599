"""Across: walls, arches, jambs, order, and what shares the room."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.arrange.widths import widths
from fitout.model.design import ModuleSpec
from fitout.modules.kind import Extent

Make = Callable[..., Any]

FLOOR = (0.0, 300.0)
ARCHES = "front_wall: 1000\n  wheel_arches: {from: 300, to: 700, between: 1000, height: 250}"


def across(puzzle: Any, **spans: Any) -> dict[str, tuple[float, float]]:
    """The answer for modules that all lie side by side."""
    names = [a.name for a in puzzle.asks]
    z = {n: spans.get("z", {}).get(n, FLOOR) for n in names}
    x = {n: spans.get("x", {}).get(n, (3.0, 900.0)) for n in names}
    y, collide = widths(puzzle, z, x)
    assert collide == ()
    return y


def test_a_filling_module_keeps_three_from_either_wall(ask: Make, puzzle: Make) -> None:
    assert across(puzzle(ask("a", 1.0, None, 1.0))) == {"a": (-597.0, 597.0)}


def test_one_of_fixed_width_stands_in_the_middle(ask: Make, puzzle: Make) -> None:
    assert across(puzzle(ask("a", 1.0, 400.0, 1.0))) == {"a": (-200.0, 200.0)}


def test_fillers_share_what_a_fixed_one_leaves(ask: Make, puzzle: Make) -> None:
    """1194 less 390 and two gaps of 2: 400 each, in the order of the design."""
    y = across(
        puzzle(ask("a", 1.0, None, 1.0), ask("b", 1.0, 390.0, 1.0), ask("c", 1.0, None, 1.0))
    )
    assert y == {"a": (197.0, 597.0), "b": (-195.0, 195.0), "c": (-597.0, -197.0)}


def test_wanted_widths_are_had_before_fillers_take_the_rest(ask: Make, puzzle: Make) -> None:
    wanted = Extent(least=200.0, wanted=350.0)
    y = across(puzzle(ask("a", 1.0, wanted, 1.0), ask("b", 1.0, wanted, 1.0)))
    assert y == {"a": (1.0, 351.0), "b": (-351.0, -1.0)}


@pytest.mark.parametrize(
    ("relations", "order"),
    [
        ({}, "abc"),
        ({"a": ModuleSpec(right_of="b")}, "bac"),
        ({"c": ModuleSpec(left_of="a")}, "cab"),
        ({"b": ModuleSpec(left_of="a"), "a": ModuleSpec(right_of="c")}, "bca"),
        ({"c": ModuleSpec(left_of="b"), "a": ModuleSpec(right_of="b")}, "cba"),
    ],
)
def test_order_from_left_to_right(
    ask: Make, puzzle: Make, relations: dict[str, ModuleSpec], order: str
) -> None:
    """Told relations first; the others follow the design without contradicting them."""
    y = across(puzzle(*(ask(n, 1.0, 200.0, 1.0, relations.get(n)) for n in "abc")))
    assert "".join(sorted(y, key=lambda n: -y[n][0])) == order


def test_only_what_overlaps_in_height_and_depth_shares_the_width(ask: Make, puzzle: Make) -> None:
    whole = puzzle(ask("a", 1.0, None, 1.0), ask("b", 1.0, None, 1.0))
    full = {"a": (-597.0, 597.0), "b": (-597.0, 597.0)}
    assert across(whole, z={"b": (300.0, 500.0)}) == full
    assert across(whole, x={"a": (3.0, 400.0), "b": (400.0, 900.0)}) == full
    assert across(whole, x={"a": (3.0, 401.0), "b": (400.0, 900.0)})["a"] == (1.0, 597.0)


def test_a_module_may_ask_for_a_wider_gap(ask: Make, puzzle: Make) -> None:
    y = across(puzzle(ask("a", 1.0, 300.0, 1.0, gap=10.0), ask("b", 1.0, 300.0, 1.0)))
    assert y["a"][0] - y["b"][1] == pytest.approx(10.0)


def test_bins_take_what_the_middle_leaves(ask: Make, puzzle: Make) -> None:
    """A bin along a wall reaches to its scribed gap of 2; it is outermost whatever the order."""
    side = Extent(least=80.0, fills=True)
    asks = [
        ask("right", 1.0, side, 1.0, lateral="right wall"),
        ask("middle", 1.0, Extent(least=300.0, wanted=800.0), 1.0),
        ask("left", 1.0, side, 1.0, lateral="left wall"),
    ]
    y = across(puzzle(*asks))
    assert y["middle"][1] - y["middle"][0] == pytest.approx(800.0)
    assert y["left"] == (y["middle"][1] + 2.0, 598.0)
    assert y["right"] == (-598.0, y["middle"][0] - 2.0)


def test_what_goes_across_ignores_the_order(ask: Make, puzzle: Make) -> None:
    barrier = ask("barrier", 1.0, None, Extent(least=100.0, fills=True), lateral="across")
    y = across(puzzle(ask("a", 1.0, None, 1.0), barrier))
    assert y == {"a": (-597.0, 597.0), "barrier": (-597.0, 597.0)}


def test_arches_narrow_what_reaches_them(arranged: Make) -> None:
    """Between the arches 1000, less 3 on either side; behind them the walls."""
    long = arranged("a: {kind: drawers}", bay=ARCHES)
    assert long.span("a", "y") == (-497.0, 497.0)
    short = arranged("a: {kind: box, depth: 250}", bay=ARCHES)
    assert short.span("a", "y") == (-597.0, 597.0)
    above = arranged(
        "low: {kind: drawers, height: 260, stack: [{}]}",
        "high: {kind: drawers, width: 1190, height: 300, on: low}",
        bay=ARCHES,
    )
    assert above.span("high", "y") == (-595.0, 595.0)
    assert above.conflicts == ()


def test_what_is_drawn_out_passes_the_openings_jambs(arranged: Make) -> None:
    """The opening narrows to 1100 at 400 up: less twice 1.5 on either side."""
    narrow = "{height: 803, widths: {0: 1200, 400: 1100}}"
    found = arranged("a: {kind: drawers, height: 400}", opening=narrow)
    assert found.span("a", "y") == (-547.0, 547.0)


def test_too_wide_together_collides_by_what_is_missing(arranged: Make) -> None:
    found = arranged(
        "a: {kind: drawers, width: 700}",
        "b: {kind: drawers, width: 520, right_of: a}",
    )
    (conflict,) = found.conflicts
    # 700 + 520 + 2 between and 3 at either wall, in 1200.
    assert conflict.by == pytest.approx(28.0)
    assert conflict.axis == "across"
    assert {w.text for w in conflict.wishes if w.gives} == {
        "a's width of 700",
        "b's width of 520",
        "b stands to the right of a",
    }
    assert {w.text for w in conflict.wishes if not w.gives} == {
        "a stays clear of the left wall or wheel arch, 600 from the centre line",
        "b stays clear of the right wall or wheel arch, 600 from the centre line",
    }


def test_contradicting_relations_collide(arranged: Make) -> None:
    found = arranged(
        "a: {kind: drawers, width: 300, left_of: b}",
        "b: {kind: drawers, width: 300, left_of: a}",
    )
    (conflict,) = found.conflicts
    # Each asks for 300 + 2 to the left of the other's right end.
    assert conflict.by == pytest.approx(604.0)
    assert {w.path for w in conflict.wishes if "stands" in w.text} == {
        ("modules", "a", "left_of"),
        ("modules", "b", "left_of"),
    }


def test_what_stands_on_a_module_is_centred_on_it_and_keeps_its_side(arranged: Make) -> None:
    """`b` is listed between the two, yet what stands on `a` stays left of it."""
    found = arranged(
        "a: {kind: drawers, width: 400, height: 300}",
        "b: {kind: drawers, width: 400, height: 700}",
        "c: {kind: drawers, width: 300, height: 300, on: a}",
    )
    assert found.conflicts == ()
    assert found.span("a", "y") == (1.0, 401.0)
    assert found.span("c", "y") == (51.0, 351.0)


def test_told_relations_of_what_stands_above_carry_down(arranged: Make) -> None:
    found = arranged(
        "b: {kind: drawers, width: 400, height: 700}",
        "a: {kind: drawers, width: 400, height: 300}",
        "c: {kind: drawers, width: 300, height: 300, on: a, left_of: b}",
    )
    assert found.conflicts == ()
    assert found.span("a", "y") == (1.0, 401.0)
    assert found.span("c", "y") == (51.0, 351.0)


def test_what_stands_beside_posts_stays_between_them(ask: Make, puzzle: Make) -> None:
    """Walls 600 out, 3 clear, posts 40 wide, a gap of 2: 555 either way; behind them 597."""
    posts = ask("barrier", 1.0, None, 1.0, lateral="across", ends=(40.0, 100.0))
    asks = puzzle(posts, ask("beside", 1.0, None, 1.0), ask("behind", 1.0, None, 1.0))
    y = across(asks, x={"barrier": (800.0, 840.0), "beside": (100.0, 820.0), "behind": (3.0, 90.0)})
    assert y["beside"] == (-555.0, 555.0)
    assert y["behind"] == (-597.0, 597.0)
    ahead = across(
        asks, x={"barrier": (800.0, 840.0), "beside": (900.0, 980.0), "behind": (3.0, 90.0)}
    )
    assert ahead["beside"] == (-555.0, 555.0), "foot plates reach 100 ahead"
