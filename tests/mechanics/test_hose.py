from __future__ import annotations

import math

import pytest

from fitout.mechanics.hose import (
    drawing_time_s,
    friction_factor,
    gravity_flow_l_min,
    water_viscosity_pa_s,
)


def test_slow_flow_is_laminar() -> None:
    assert friction_factor(640.0, 0.001) == pytest.approx(0.1)


def test_between_laminar_and_turbulent_the_larger_counts() -> None:
    assert friction_factor(3000.0, 0.0001) == pytest.approx(max(64 / 3000, 0.0436), rel=5e-3)


def test_more_head_a_wider_or_shorter_hose_gives_more() -> None:
    flow = gravity_flow_l_min(400.0, 2000.0, 12.0, 1.5)
    assert gravity_flow_l_min(800.0, 2000.0, 12.0, 1.5) > flow
    assert gravity_flow_l_min(400.0, 2000.0, 16.0, 1.5) > flow
    assert gravity_flow_l_min(400.0, 1000.0, 12.0, 1.5) > flow
    assert gravity_flow_l_min(400.0, 2000.0, 12.0, 3.0) < flow
    assert gravity_flow_l_min(0.0, 2000.0, 12.0, 1.5) == 0.0


def test_a_falling_head_takes_longer_than_a_steady_one() -> None:
    steady = 10.0 / gravity_flow_l_min(400.0, 2000.0, 12.0, 1.5) * 60.0
    assert drawing_time_s(10.0, 1e6, 400.0, 2000.0, 12.0, 1.5) == pytest.approx(steady, rel=1e-4)
    falling = drawing_time_s(10.0, 0.14, 400.0, 2000.0, 12.0, 1.5)
    assert steady < falling < 1.3 * steady
    assert drawing_time_s(10.0, 0.02, 400.0, 2000.0, 12.0, 1.5) == math.inf


@pytest.mark.parametrize(
    "asked",
    [
        lambda: friction_factor(0.0, 0.0),
        lambda: friction_factor(1e4, 0.2),
        lambda: gravity_flow_l_min(400.0, -1.0, 12.0, 1.5),
        lambda: gravity_flow_l_min(400.0, 1.0, 0.0, 1.5),
        lambda: drawing_time_s(-1.0, 1.0, 400.0, 1.0, 12.0, 1.5),
        lambda: water_viscosity_pa_s(-1.0),
    ],
)
def test_what_cannot_be_is_refused(asked: object) -> None:
    assert callable(asked)
    with pytest.raises(ValueError, match="must"):
        asked()
