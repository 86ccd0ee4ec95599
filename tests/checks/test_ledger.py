"""Masses and their common centre of gravity, by hand."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.ledger import Load, load_of, together

Make = Callable[..., Any]


def test_loads_add_up_at_their_common_centre() -> None:
    heavy, light = Load(6.0, (8.0, -10.0, 4.0)), Load(2.0, (0.0, 10.0, 0.0))
    assert together([light, heavy]) == Load(8.0, (6.0, -5.0, 3.0))


def test_what_weighs_nothing_moves_no_centre() -> None:
    heavy = Load(6.0, (8.0, -10.0, 4.0))
    assert together([heavy, Load(0.0, (900.0, 900.0, 900.0))]) == heavy
    assert together([]) == Load(0.0, (0.0, 0.0, 0.0))


def test_a_board_and_an_empty_item(panel: Make, item: Make) -> None:
    """1000 × 500 × 10 at 700 kg/m³; of the item only its own 4 kg."""
    board = load_of(panel("a/board", (0.0, 1000.0), (0.0, 500.0), 100.0))
    assert board.mass_kg == pytest.approx(3.5)
    assert board.centre == (500.0, 250.0, 105.0)
    box = item("a/box", (0.0, 200.0), (0.0, 100.0), (110.0, 210.0), contents_kg=30.0)
    assert load_of(box) == Load(4.0, (100.0, 50.0, 160.0))
