"""What the directions share: names, sizes as wishes, what lies over what."""

import dataclasses
from collections.abc import Callable
from typing import Any

import pytest

from fitout.arrange.puzzle import over, size_wishes, spans
from fitout.arrange.wishes import Goal, conflicts, solve, variable
from fitout.model.design import ModuleSpec
from fitout.modules.deck import DeckSpec
from fitout.modules.kind import Extent

Make = Callable[..., Any]


def test_a_name_stands_for_the_module_or_its_two_halves(ask: Make, puzzle: Make) -> None:
    asks = [ask(n, 100.0, 100.0, 100.0) for n in ("bins left", "bins right", "box", "bin")]
    whole = puzzle(*asks)
    assert [a.name for a in whole.named("bins")] == ["bins left", "bins right"]
    assert [a.name for a in whole.named("box")] == ["box"]
    assert whole.named("none") == ()


def test_a_deck_is_wished_for_when_the_design_has_one(ask: Make, puzzle: Make) -> None:
    whole = puzzle(ask("box", 100.0, 100.0, 100.0))
    assert not whole.deck_is_wished
    decked = dataclasses.replace(whole.setting, specs={"top": DeckSpec()})
    assert dataclasses.replace(whole, setting=decked).deck_is_wished


def solved(ask: Any, extent: Extent, *more: Any) -> float:
    wishes, goals = size_wishes(ask, extent, "width")
    at = solve([*wishes, *more], goals)
    return at["box.high"] - at["box.low"]


@pytest.mark.parametrize(
    ("extent", "size"),
    [
        (Extent(least=300.0, most=300.0, given="width"), 300.0),
        (Extent(least=300.0, wanted=420.0), 420.0),
        (Extent(least=300.0, wanted=420.0, most=400.0), 400.0),
        (Extent(least=300.0, wanted=200.0), 300.0),
        (Extent(least=300.0, most=700.0, fills=True), 700.0),
    ],
)
def test_extents(ask: Make, extent: Extent, size: float) -> None:
    assert solved(ask("box", 1.0, 1.0, 1.0), extent) == size


def test_a_size_given_could_give_and_says_where_it_stands(ask: Make) -> None:
    box = ask("box", 1.0, 1.0, 1.0)
    (given,), _ = size_wishes(box, Extent(least=300.0, most=300.0, given="width"), "width")
    assert (given.text, given.gives) == ("box's width of 300", True)
    assert given.path == ("modules", "box", "width")
    (worked_out,), _ = size_wishes(box, Extent(least=300.0, most=300.0), "width")
    assert not worked_out.gives


def test_a_given_size_below_the_least_is_a_conflict(ask: Make) -> None:
    box = ask("box", 1.0, 1.0, 1.0)
    wishes, _ = size_wishes(box, Extent(least=320.0, most=300.0, given="width"), "width")
    (conflict,) = conflicts("across", wishes, solve(wishes, []))
    assert conflict.by == pytest.approx(20.0)
    assert [w.text for w in conflict.wishes] == [
        "box needs at least 320 of width",
        "box can use at most 300 of width",
    ]


def test_what_stands_on_both_halves_lies_over_both(ask: Make, puzzle: Make) -> None:
    asks = [
        ask("bins left", 1.0, 1.0, 1.0),
        ask("bins right", 1.0, 1.0, 1.0),
        ask("box", 1.0, 1.0, 1.0, ModuleSpec(on="bins")),
    ]
    whole = puzzle(*asks)
    fixed = {"bins left": (200.0, 500.0), "bins right": (-500.0, -200.0)}
    goals = over(whole, asks[2], [])
    assert over(whole, asks[0], []) == []
    for name, (low, high) in fixed.items():
        goals += [Goal(variable(f"{name}.low") - low, 50.0)]
        goals += [Goal(variable(f"{name}.high") - high, 50.0)]
    assert spans(whole, solve([], goals))["box"] == (-500.0, 500.0)
