"""Bolt groups in random places under random loads: balance, proportion, symmetry."""

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from fitout.mechanics.bolt_group import Load, bolt_forces, residual

CORNERS = [(0.0, 0.0), (600.0, 0.0), (600.0, 400.0), (0.0, 400.0)]
force = st.floats(-20_000.0, 20_000.0)
places = st.lists(
    st.tuples(st.integers(20, 580), st.integers(20, 380)), min_size=2, max_size=8, unique=True
)
loads = st.builds(
    Load,
    st.tuples(force, force, force),
    st.tuples(st.floats(0.0, 600.0), st.floats(0.0, 400.0), st.floats(5.0, 700.0)),
)


@settings(max_examples=60, deadline=None)
@given(places, loads)
@example([(20, 20), (20, 21)], Load((0.0, 0.0, -1.0), (0.0, 0.0, 5.0)))  # right over a corner
def test_forces_and_moments_balance(bolts, load) -> None:
    found = bolt_forces(bolts, CORNERS, load)
    assert found is not None
    assert residual(bolts, CORNERS, load, found) < 1e-9
    assert min(*found.tension, *found.contact) >= 0.0


@settings(max_examples=25, deadline=None)
@given(places, loads)
def test_twice_the_load_is_twice_the_force(bolts, load) -> None:
    once = bolt_forces(bolts, CORNERS, load)
    fx, fy, fz = load.force
    twice = bolt_forces(bolts, CORNERS, Load((2.0 * fx, 2.0 * fy, 2.0 * fz), load.at))
    assert once is not None
    assert twice is not None
    size = max(1.0, abs(fx), abs(fy), abs(fz))
    for a, b in zip(once.tension, twice.tension, strict=True):
        assert b == pytest.approx(2.0 * a, rel=1e-6, abs=1e-6 * size)


@settings(max_examples=25, deadline=None)
@given(
    st.integers(30, 290),
    st.integers(20, 190),
    st.floats(1.0, 20_000.0),
    st.floats(-5000.0, 5000.0),
    st.floats(5.0, 700.0),
)
def test_left_and_right_share_alike(dx, dy, push, down, height) -> None:
    bolts = [(300.0 + a * dx, 200.0 + b * dy) for a in (-1, 1) for b in (-1, 1)]
    found = bolt_forces(bolts, CORNERS, Load((push, 0.0, down), (300.0, 200.0, height)))
    assert found is not None
    size = push + abs(down)
    for a, b in ((0, 1), (2, 3)):
        assert found.tension[a] == pytest.approx(found.tension[b], abs=1e-7 * size)
        assert found.shear_n(a) == pytest.approx(found.shear_n(b))
