"""The cases: each set's accelerations with their source."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.restraint_cases import crash, everyday, row_of

Make = Callable[..., Any]


@pytest.mark.parametrize(
    ("gross", "row"),
    [(1900.0, (0.9, 0.5, 0.7)), (2600.0, (0.9, 0.5, 0.7)), (5000.0, (0.8, 0.5, 0.5))],
)
def test_by_mass_class(gross: float, row: tuple[float, ...]) -> None:
    found = row_of("by mass class", gross)
    assert (found.forward, found.rearward, found.sideways) == row


def test_between_two_and_three_and_a_half_tonnes_the_larger_is_taken() -> None:
    assert "the larger is taken" in row_of("by mass class", 3000.0).source


def test_with_no_mass_known_the_set_asks_most() -> None:
    assert row_of("by mass class", None).forward == 0.9


def test_the_guide() -> None:
    found = row_of("road transport guide", None)
    assert (found.forward, found.rearward, found.sideways) == (0.8, 0.5, 0.5)


def test_ways_and_bases(evaluated: Make) -> None:
    subject = evaluated("drawers: {kind: drawers, width: 800}").subject
    road, thrown = everyday(subject), crash(subject)
    assert {c.basis for c in road} == {"working"}
    assert {c.basis for c in thrown} == {"ultimate"}
    assert [c.g for c in thrown] == [20.0, 10.0, 10.0, 10.0, 10.0]
    assert sorted(c.way for c in road) == sorted([(1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0)])
    assert all("no approval" in c.source for c in thrown)
