"""How steps are told."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.order_ways import Way
from fitout.checks.order_words import (
    both,
    how_in,
    inwards,
    listed,
    people_for,
    quantities,
    tool_for,
)
from fitout.checks.subassemblies import SubAssembly, sub_assemblies
from fitout.model.hardware import Article
from fitout.model.module import Joint, JointKind


@pytest.fixture
def tank(subject: Callable[..., Any], module: Callable[..., Any], item: Any) -> Any:
    there = subject(module("a", item("a/tank", (0, 300), (0, 300), (0, 300))))
    return there, sub_assemblies(there)[0]


def test_the_way_in_is_the_way_out_backwards() -> None:
    way = Way(((0.0, -200.0, 0.0), (0.0, 0.0, 33.0), (-900.0, 0.0, 0.0)), frozenset())
    assert inwards(way) == ((900.0, 0.0, 0.0), (0.0, 0.0, -33.0), (0.0, 200.0, 0.0))


@pytest.mark.parametrize(
    ("way", "words"),
    [
        (None, "Set a: tank into its place (4.0 kg)."),
        (
            Way(((-900.0, 0.0, 0.0),), frozenset()),
            "Slide a: tank straight in through the tailgate (4.0 kg).",
        ),
        (
            Way(((0.0, -200.0, 0.0), (0.0, 0.0, 33.0), (-900.0, 0.0, 0.0)), frozenset()),
            "Bring a: tank in through the tailgate (4.0 kg), held 33 mm above and 200 mm right of "
            "its place; then set it down, then push it 200 mm to the left.",
        ),
        (
            Way(((-40.0, 0.0, 0.0),), frozenset(), turned=True),
            "Bring a: tank in turned or tilted (4.0 kg) and straighten it 40 mm behind its place; "
            "then push it 40 mm forwards.",
        ),
        (
            Way(((-700.0, 0.0, 0.0),), frozenset(), drawn=frozenset({"a: tray"})),
            "Draw a: tray out, set a: tank down on it and push it in (4.0 kg).",
        ),
    ],
)
def test_how_it_goes_in(way: Way | None, words: str, tank: tuple[Any, SubAssembly]) -> None:
    assert how_in(tank[1], way, 1) == words


def test_a_long_and_wide_thing_is_carried_by_two(
    subject: Callable[..., Any], module: Callable[..., Any], item: Any, tank: Any
) -> None:
    assert people_for(*tank) == 1
    there = subject(module("b", item("b/deck", (0, 1300), (-350, 350), (0, 20))))
    assert people_for(there, sub_assemblies(there)[0]) == 2


def test_lists_read_as_sentences_do() -> None:
    assert listed(["a"]) == "a"
    assert listed(["a", "b", "c"]) == "a, b and c"
    assert quantities((("bolt", 4), ("nut", 4))) == "4 × bolt and 4 × nut"
    assert both((("bolt", 4),), (("nut", 1), ("bolt", 2))) == (("bolt", 6), ("nut", 1))


@pytest.mark.parametrize(
    ("kind", "diameter", "tool"),
    [
        ("nut", 6.0, "driver, spanners"),
        ("bolt", 8.0, "driver, spanners"),
        ("countersunk bolt", 4.0, "driver"),
        ("countersunk bolt", 8.0, "driver, hex key"),
        ("hose", 12.0, "driver, knife"),
        ("plate", 8.0, "driver, drill"),
        ("washer", 6.0, "driver"),
    ],
)
def test_a_step_names_the_tools_of_all_that_goes_in(kind: str, diameter: float, tool: str) -> None:
    """A lock nut wants a spanner wherever it is, also beside wood screws."""
    article = Article(key="it", kind=kind, mass_kg=0.01, diameter=diameter)
    joint = Joint("a/x", "a/y", JointKind.SCREWED)
    assert tool_for([joint], [article]) == tool
