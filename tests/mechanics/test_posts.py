"""Posts held at foot and top: statics, give, section values."""

import pytest

from fitout.mechanics import posts


def test_a_cantilever() -> None:
    found = posts.post_forces(900.0, [(100.0, 600.0), (50.0, 300.0)], top_held=False)
    assert found.moment_nmm == found.foot_moment_nmm == pytest.approx(75_000.0)
    assert (found.foot_n, found.top_n) == (150.0, 0.0)


def test_held_at_both_ends() -> None:
    """P a b / L under the push; reactions by the lever."""
    found = posts.post_forces(900.0, [(90.0, 600.0)], top_held=True)
    assert found.moment_nmm == pytest.approx(90.0 * 600.0 * 300.0 / 900.0)
    assert (found.foot_n, found.top_n) == pytest.approx((30.0, 60.0))
    assert found.foot_moment_nmm == 0.0


def test_give() -> None:
    assert posts.give(900.0, 600.0, 1e9, top_held=False) == pytest.approx(600.0**3 / 3e9)
    middle = posts.give(900.0, 450.0, 1e9, top_held=True)
    assert middle == pytest.approx(900.0**3 / 48e9)


def test_section_values() -> None:
    assert posts.elastic_modulus(40.0, 10.0) == pytest.approx(40.0 * 100.0 / 6.0)
    assert posts.plastic_modulus(40.0, 10.0) == pytest.approx(40.0 * 100.0 / 4.0)
    tube = posts.plastic_modulus(30.0, 30.0, 2.0)
    assert tube == pytest.approx((30.0**3 - 26.0**3) / 4.0)


def test_refused() -> None:
    with pytest.raises(ValueError, match="length: 0"):
        posts.post_forces(0.0, [], top_held=True)
    with pytest.raises(ValueError, match="between foot and top"):
        posts.post_forces(900.0, [(1.0, 901.0)], top_held=True)
    with pytest.raises(ValueError, match="positive"):
        posts.give(900.0, 0.0, 1e9, top_held=True)
