"""Axle loads against published worked examples."""

from __future__ import annotations

import pytest

from fitout.mechanics.axles import Mass, axle_loads
from fitout.mechanics.springs import AirState, settles_on_air


def test_the_body_builder_example() -> None:
    """A truck maker's body-builder manual, appendix B: wheelbase 214 in, centre 133 in.

    The manual prints 62.14 and, by a slip, 38.86 for the front; 37.85 balances the load.
    """
    loads = axle_loads([Mass(100.0, (214.0 - 133.0) * 25.4)], 214.0 * 25.4)
    assert loads.rear_kg == pytest.approx(62.15, abs=0.005)
    assert loads.front_kg == pytest.approx(37.85, abs=0.005)


def test_centre_of_gravity_by_moments() -> None:
    """FAA-H-8083-1, Weight and Balance Handbook, chapter 2 (from memory).

    100 at 50, 100 at 90 and 200 at 150: moment 44 000, centre 110.0.
    """
    masses = [Mass(100.0, 50.0), Mass(100.0, 90.0), Mass(200.0, 150.0)]
    assert axle_loads(masses, 1000.0).front_kg == pytest.approx(44.0)
    assert axle_loads([Mass(400.0, 110.0)], 1000.0).front_kg == pytest.approx(44.0)


def test_an_axle_on_two_springs() -> None:
    """Hooke's law by hand: 200 kg · 9.80665 / (2 · 30 N/mm) = 32.69 mm."""
    assert settles_on_air(200.0, 2 * 30.0, AirState(0.0, 0.0), AirState(0.0, 0.0)) == pytest.approx(
        32.69, abs=0.005
    )
