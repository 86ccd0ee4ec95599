from __future__ import annotations

import pytest

from fitout.mechanics.beams import (
    bending_stress_mpa,
    centre_load,
    second_moment,
    uniform_load,
)


def test_a_loaded_shelf() -> None:
    # 900 × 400 × 18 mm, E 9 000 N/mm²: 40 kg spread over it and its own weight at 680 kg/m³.
    load_n = (40.0 + 0.9 * 0.4 * 0.018 * 680.0) * 9.80665
    inertia = second_moment(400.0, 18.0)
    shelf = uniform_load(900.0, load_n, 9_000.0 * inertia)
    assert load_n / 900.0 == pytest.approx(0.48386, abs=5e-6)
    assert shelf.deflection == pytest.approx(2.363, abs=5e-4)
    assert bending_stress_mpa(shelf.moment_nmm, 18.0, inertia) == pytest.approx(2.27, abs=5e-3)


def test_a_strip_loaded_at_its_middle() -> None:
    strip = centre_load(900.0, 400.0, 9_000.0 * second_moment(400.0, 18.0))
    assert strip.deflection == pytest.approx(3.472, abs=5e-4)


def test_a_tube_is_a_bar_less_its_hollow() -> None:
    assert second_moment(30.0, 30.0, 2.0) == second_moment(30.0, 30.0) - second_moment(26.0, 26.0)


@pytest.mark.parametrize("wall", [0.0, 10.0, -1.0])
def test_a_wall_that_fills_the_tube_is_refused(wall: float) -> None:
    with pytest.raises(ValueError, match="wall"):
        second_moment(40.0, 20.0, wall)


@pytest.mark.parametrize("beam", [uniform_load, centre_load])
def test_a_beam_without_span_or_stiffness_is_refused(beam: object) -> None:
    assert callable(beam)
    with pytest.raises(ValueError, match="span"):
        beam(0.0, 1.0, 1.0)
    with pytest.raises(ValueError, match="stiffness_nmm2"):
        beam(1.0, 1.0, 0.0)
