"""The day's sun: equinox, poles, both halves of the earth, tilt."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitout.mechanics.solar import (
    MID_MONTH,
    above_the_air_kwh_m2,
    declination_deg,
    diffuse_share,
    sun_hours,
    sunset_hour_angle_deg,
)


def test_declination_at_equinox_and_solstice() -> None:
    assert declination_deg(81) == pytest.approx(0.0, abs=1e-9)
    assert declination_deg(172) == pytest.approx(23.45, abs=0.01)
    assert declination_deg(355) == pytest.approx(-23.45, abs=0.01)


def test_length_of_day() -> None:
    """Twelve hours at the equator and at equinox; none, or all day, near the poles."""
    assert sunset_hour_angle_deg(0.0, 23.0) == pytest.approx(90.0)
    assert sunset_hour_angle_deg(50.0, 0.0) == pytest.approx(90.0)
    assert sunset_hour_angle_deg(80.0, 23.0) == 180.0
    assert sunset_hour_angle_deg(-80.0, 23.0) == 0.0
    assert above_the_air_kwh_m2(-80.0, 172) == pytest.approx(0.0, abs=1e-9)


@given(st.floats(-66.0, 66.0), st.integers(1, 365))
def test_the_day_s_sum_is_the_integral_of_the_sun_s_height(latitude: float, day: int) -> None:
    """Against a sum over a thousand moments of the day."""
    phi, delta = math.radians(latitude), math.radians(declination_deg(day))
    steps = 1000
    total = 0.0
    for k in range(steps):
        hour = math.tau * ((k + 0.5) / steps - 0.5)
        height = math.sin(phi) * math.sin(delta)
        height += math.cos(phi) * math.cos(delta) * math.cos(hour)
        total += max(0.0, height)
    strength = 1.367 * (1.0 + 0.033 * math.cos(math.tau * day / 365.0))
    assert above_the_air_kwh_m2(latitude, day) == pytest.approx(
        24.0 * strength * total / steps, abs=2e-4
    )


@given(st.floats(1.0, 66.0), st.sampled_from(sorted(MID_MONTH.values())), st.floats(0.0, 90.0))
def test_a_tilted_panel_gets_what_its_height_over_the_day_says(
    latitude: float, day: int, tilt: float
) -> None:
    """The beam's ratio against a sum over the day of a panel that faces the noon sun."""
    clear = 0.6
    phi, delta = math.radians(latitude), math.radians(declination_deg(day))
    beta = math.radians(tilt)
    over = under = 0.0
    for k in range(2000):
        hour = math.tau * ((k + 0.5) / 2000 - 0.5)
        cosine = math.cos(delta) * math.cos(hour)
        level = math.sin(phi) * math.sin(delta) + math.cos(phi) * cosine
        facing = math.sin(phi - beta) * math.sin(delta) + math.cos(phi - beta) * cosine
        if level > 0.0:
            under += level
            over += max(0.0, facing)
    diffuse = diffuse_share(clear)
    share = (1.0 - diffuse) * over / under if under else 0.0
    share += diffuse * (1.0 + math.cos(beta)) / 2.0 + 0.2 * (1.0 - math.cos(beta)) / 2.0
    expected = clear * above_the_air_kwh_m2(latitude, day) * share
    assert sun_hours(latitude, day, clear, tilt) == pytest.approx(expected, rel=0.01, abs=0.02)


def test_south_of_the_equator_the_year_is_turned_round() -> None:
    north = sun_hours(40.0, MID_MONTH["June"], 0.5, 30.0)
    south = sun_hours(-40.0, MID_MONTH["December"], 0.5, 30.0)
    assert south == pytest.approx(north, rel=0.08)
    assert sun_hours(-40.0, MID_MONTH["June"], 0.5) < 0.5 * south


@pytest.mark.parametrize(
    "call",
    [
        lambda: declination_deg(0),
        lambda: sunset_hour_angle_deg(90.0, 0.0),
        lambda: diffuse_share(0.9),
        lambda: sun_hours(40.0, 100, 0.5, 95.0),
    ],
)
def test_what_can_not_be_is_refused(call) -> None:
    with pytest.raises(ValueError, match="must"):
        call()
