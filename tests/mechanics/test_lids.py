"""Lids: levers, stays, and what a slide's slope does, in closed form."""

import math

import pytest

from fitout.mechanics.lids import (
    handle_force,
    stay_length,
    stay_moment,
    turned,
    weight_moment,
)

G = 9.80665


def test_a_quarter_turn_puts_the_free_edge_up() -> None:
    assert turned((300.0, -12.0), 90.0) == pytest.approx((12.0, 300.0))


def test_half_the_weight_is_lifted_at_the_free_edge() -> None:
    """An even lid of 6 kg, 400 long: 3 kg at its edge, none once it stands upright."""
    assert handle_force(weight_moment(6.0, (200.0, 0.0), 0.0), 400.0) == pytest.approx(3.0 * G)
    assert weight_moment(6.0, (200.0, 0.0), 90.0) == pytest.approx(0.0, abs=1e-9)
    assert weight_moment(6.0, (200.0, 0.0), 120.0) == pytest.approx(-6.0 * G * 100.0)


def test_a_stay_between_level_and_upright_pivots_is_a_hypotenuse() -> None:
    """Shut: 30 out and 40 down; open by 90°: the lid's pivot is right above the hinge."""
    assert stay_length((60.0, 0.0), (30.0, -40.0), 0.0) == pytest.approx(50.0)
    assert stay_length((60.0, 0.0), (30.0, -40.0), 90.0) == pytest.approx(math.hypot(30.0, 100.0))


def test_a_push_acts_with_its_arm_about_the_hinge() -> None:
    """Straight up under the lid at 200: 100 N × 200 mm; towards the hinge: none."""
    assert stay_moment(100.0, (200.0, 0.0), (200.0, -150.0), 0.0) == pytest.approx(20_000.0)
    assert stay_moment(100.0, (200.0, 0.0), (300.0, 0.0), 0.0) == pytest.approx(0.0)


def test_the_work_of_a_stay_is_its_push_times_its_stroke() -> None:
    """Moment summed over the angle equals force times how far it is let out (virtual work)."""
    lid, side, push = (180.0, -20.0), (40.0, -90.0), 120.0
    steps = 4000
    work = sum(
        stay_moment(push, lid, side, 90.0 * (i + 0.5) / steps) * math.radians(90.0 / steps)
        for i in range(steps)
    )
    stroke = stay_length(lid, side, 90.0) - stay_length(lid, side, 0.0)
    assert work == pytest.approx(push * stroke, rel=1e-6)


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(ValueError, match="mass_kg"):
        weight_moment(-1.0, (100.0, 0.0), 0.0)
    with pytest.raises(ValueError, match="reach"):
        handle_force(1.0, 0.0)
    with pytest.raises(ValueError, match="pivots"):
        stay_moment(100.0, (50.0, 0.0), (50.0, 0.0), 0.0)
