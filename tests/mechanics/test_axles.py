from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitout.mechanics.axles import (
    AxleLoads,
    Mass,
    axle_loads,
    left_share,
    pitch_deg,
    rollover_threshold_g,
)

MASSES = st.lists(
    st.builds(
        Mass,
        st.floats(0.0, 500.0),
        st.floats(-2000.0, 4000.0),
        st.floats(-800.0, 800.0),
        st.floats(0.0, 2000.0),
    ),
    max_size=8,
)


def test_a_load_over_an_axle_is_borne_by_it_alone() -> None:
    assert axle_loads([Mass(100.0, 0.0)], 2800.0) == AxleLoads(0.0, 100.0)
    assert axle_loads([Mass(100.0, 2800.0)], 2800.0) == AxleLoads(100.0, 0.0)


def test_behind_the_rear_axle_the_front_becomes_lighter() -> None:
    loads = axle_loads([Mass(100.0, -700.0)], 2850.0)
    assert loads.front_kg < 0.0
    assert loads.rear_kg > 100.0


@given(MASSES, st.floats(1500.0, 4500.0))
def test_forces_and_moments_balance(masses: list[Mass], wheelbase: float) -> None:
    loads = axle_loads(masses, wheelbase)
    assert loads.total_kg == pytest.approx(sum(m.mass_kg for m in masses), abs=1e-6)
    moment = sum(m.mass_kg * m.ahead for m in masses)
    assert loads.front_kg * wheelbase == pytest.approx(moment, abs=1e-4)


def test_moving_a_mass_forward_moves_weight_by_the_lever() -> None:
    before = axle_loads([Mass(18.0, -200.0)], 2850.0)
    after = axle_loads([Mass(18.0, 300.0)], 2850.0)
    assert after.front_kg - before.front_kg == pytest.approx(18.0 * 500.0 / 2850.0)
    assert AxleLoads(1.0, 2.0).plus(AxleLoads(3.0, 4.0)) == AxleLoads(4.0, 6.0)


def test_left_and_right() -> None:
    assert left_share([], 1500.0) == 0.5
    assert left_share([Mass(40.0, 0.0, 750.0)], 1500.0) == pytest.approx(1.0)
    assert left_share([Mass(40.0, 0.0, 300.0), Mass(40.0, 0.0, -300.0)], 1500.0) == 0.5


def test_springs_and_pitch() -> None:
    assert pitch_deg(10.0, 10.0, 2800.0) == 0.0
    assert pitch_deg(0.0, 28.0, 2800.0) == pytest.approx(0.573, abs=1e-3)


def test_a_lower_centre_tips_later() -> None:
    assert rollover_threshold_g(1500.0, 700.0) > rollover_threshold_g(1500.0, 750.0)


@pytest.mark.parametrize(
    "asked",
    [
        lambda: axle_loads([], 0.0),
        lambda: left_share([], 0.0),
        lambda: rollover_threshold_g(1500.0, 0.0),
        lambda: pitch_deg(0.0, 0.0, 0.0),
    ],
)
def test_what_cannot_be_is_refused(asked: object) -> None:
    assert callable(asked)
    with pytest.raises(ValueError, match="must be above 0"):
        asked()
