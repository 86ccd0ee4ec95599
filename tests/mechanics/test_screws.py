"""Screws through thin steel, by hand."""

import math

import pytest

from fitout.mechanics.screws import (
    both_ways_use,
    dry_gravity,
    effective_diameter,
    thin_steel_lateral_n,
)


def test_by_hand() -> None:
    """A 5 mm screw 10 deep, ply 47 N/mm²: it crushes the ply before it bends."""
    d = effective_diameter(5.0)
    assert d == pytest.approx(1.1 * 2.0 / 3.0 * 5.0)
    assert thin_steel_lateral_n(47.0, 10.0, d, 1e6) == pytest.approx(0.4 * 47.0 * 10.0 * d)


def test_a_soft_screw_bends_first() -> None:
    bends = 1.15 * math.sqrt(2.0 * 100.0 * 47.0 * 4.0)
    assert thin_steel_lateral_n(47.0, 10.0, 4.0, 100.0) == pytest.approx(bends)


def test_twice_as_deep_holds_twice_until_it_bends() -> None:
    assert thin_steel_lateral_n(47.0, 10.0, 4.0, 1e6) == pytest.approx(
        2.0 * thin_steel_lateral_n(47.0, 5.0, 4.0, 1e6)
    )


def test_both_ways_at_once() -> None:
    assert both_ways_use(0.6, 0.8) == pytest.approx(1.0)


def test_dry_gravity_of_birch_ply() -> None:
    assert dry_gravity(680.0) == pytest.approx(0.618, abs=5e-4)


@pytest.mark.parametrize("values", [(0, 1, 1, 1), (1, 0, 1, 1), (1, 1, 0, 1), (1, 1, 1, 0)])
def test_what_cannot_be_is_refused(values: tuple[float, ...]) -> None:
    with pytest.raises(ValueError, match="above 0"):
        thin_steel_lateral_n(*values)
    with pytest.raises(ValueError, match="shank"):
        effective_diameter(0.0)
