"""Flow in pipes against published values and against a second way of working them out."""

from __future__ import annotations

import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from fitout.mechanics.hose import (
    drawing_time_s,
    friction_factor,
    gravity_flow_l_min,
    water_viscosity_pa_s,
)


def test_colebrook() -> None:
    """A fluids library's documented example (from memory): Re 1e5, ε/D 1e-4, f 0.0185139."""
    assert friction_factor(1e5, 1e-4) == pytest.approx(0.0185139, abs=2e-7)


@pytest.mark.parametrize(
    ("temperature_c", "micropascal_s"), [(10.0, 1306.0), (20.0, 1002.0), (30.0, 797.5)]
)
def test_viscosity_of_water(temperature_c: float, micropascal_s: float) -> None:
    """Tables of water, widely reprinted (from memory): 1306, 1002, 797.5 µPa·s."""
    assert water_viscosity_pa_s(temperature_c) * 1e6 == pytest.approx(micropascal_s, rel=0.01)


@pytest.mark.parametrize(("head", "litres_min"), [(400.0, 7.56), (200.0, 5.15)])
def test_gravity_flow_by_a_root_finder(head: float, litres_min: float) -> None:
    """Darcy and Weisbach solved by hand for 2 m of 12 mm bore and ΣK 1.5, by scipy here."""
    bore, length, viscosity, g = 0.012, 2.0, 1.004e-6, 9.80665

    def surplus(speed: float) -> float:
        friction = friction_factor(speed * bore / viscosity, 0.0015 / 12.0)
        return speed**2 / (2 * g) * (friction * length / bore + 1.5) - head / 1000.0

    speed = brentq(surplus, 0.3, 3.0)
    by_root = speed * 3.14159265 / 4 * bore**2 * 60_000.0
    ours = gravity_flow_l_min(head, 2000.0, 12.0, 1.5)
    assert ours == pytest.approx(by_root, rel=1e-3)
    assert ours == pytest.approx(litres_min, abs=0.02)


def test_time_to_draw_by_another_integration() -> None:
    """The falling head integrated by scipy's adaptive quadrature."""

    def per_litre(drawn: float) -> float:
        return 1.0 / gravity_flow_l_min(400.0 - drawn / 0.14, 2000.0, 12.0, 1.5)

    minutes, _ = quad(per_litre, 0.0, 10.0, limit=200)
    assert drawing_time_s(10.0, 0.14, 400.0, 2000.0, 12.0, 1.5) == pytest.approx(
        60.0 * minutes, rel=1e-4
    )
