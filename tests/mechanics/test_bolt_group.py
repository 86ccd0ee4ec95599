"""Bolt groups against hand statics."""

import math

import pytest

from fitout.mechanics.bolt_group import Load, bolt_forces, residual

CORNERS = [(0.0, 0.0), (600.0, 0.0), (600.0, 400.0), (0.0, 400.0)]
FOUR = [(100.0, 100.0), (500.0, 100.0), (100.0, 300.0), (500.0, 300.0)]


def test_a_push_through_the_middle_is_shared_alike() -> None:
    found = bolt_forces(FOUR, CORNERS, Load((800.0, 0.0, -4000.0), (300.0, 200.0, 100.0)))
    assert found is not None
    assert found.shear == tuple([(200.0, 0.0)] * 4)
    assert found.tension == (0.0,) * 4
    assert sum(found.contact) == pytest.approx(4000.0)


def test_overturning_about_the_compression_edge() -> None:
    """Two bolts in one row: moment about the front edge over the lever of 500 mm."""
    bolts = [(100.0, 100.0), (100.0, 300.0)]
    load = Load((1000.0, 0.0, -500.0), (300.0, 200.0, 400.0))
    found = bolt_forces(bolts, CORNERS, load)
    assert found is not None
    each = (1000.0 * 400.0 - 500.0 * 300.0) / 500.0 / 2.0
    assert found.tension == pytest.approx((each, each))
    assert residual(bolts, CORNERS, load, found) < 1e-9


def test_tension_goes_with_the_distance_from_the_edge() -> None:
    found = bolt_forces(FOUR, CORNERS, Load((5000.0, 0.0, 0.0), (300.0, 200.0, 300.0)))
    assert found is not None
    rear, front = found.tension[0], found.tension[1]
    assert rear / front == pytest.approx(500.0 / 100.0, rel=0.02)
    moment = 2.0 * (500.0 * rear + 100.0 * front)
    assert moment == pytest.approx(5000.0 * 300.0, rel=1e-9)


def test_torsion() -> None:
    """A push beside the middle turns the group: each bolt by its distance from the middle."""
    load = Load((0.0, 1000.0, -9000.0), (500.0, 200.0, 1.0))
    found = bolt_forces(FOUR, CORNERS, load)
    assert found is not None
    polar = 4.0 * (200.0**2 + 100.0**2)
    turn = 1000.0 * 200.0 / polar
    assert found.shear[1] == pytest.approx((turn * 100.0, 250.0 + turn * 200.0))
    assert found.shear_n(1) == pytest.approx(math.hypot(*found.shear[1]))


def test_a_pull_upwards_is_shared() -> None:
    found = bolt_forces(FOUR, CORNERS, Load((0.0, 0.0, 400.0), (300.0, 200.0, 50.0)))
    assert found is not None
    assert found.tension == pytest.approx((100.0,) * 4)


@pytest.mark.parametrize(
    "bolts", [[], [(300.0, 200.0)]], ids=["no bolt", "one bolt it turns about"]
)
def test_what_does_not_hold(bolts) -> None:
    assert bolt_forces(bolts, CORNERS, Load((0.0, 1000.0, -1.0), (500.0, 200.0, 100.0))) is None


def test_what_tips_over_all_bolts() -> None:
    """Bolts along the edge it turns about, nothing beyond: a lift beside them can't be held."""
    bolts = [(600.0, 100.0), (600.0, 300.0)]
    assert bolt_forces(bolts, CORNERS, Load((0.0, 0.0, 1000.0), (100.0, 200.0, 10.0))) is None


def test_nothing_pushes() -> None:
    found = bolt_forces(FOUR, CORNERS, Load((0.0, 0.0, 0.0), (0.0, 0.0, 0.0)))
    assert found is not None
    assert found.tension == (0.0,) * 4
