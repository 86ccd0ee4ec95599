"""A day's energy: duty between rows, what is drawn, what a battery keeps."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitout.mechanics.energy import USUAL_DUTY, battery_day, duty_at, fridge_wh, panel_wh

ROWS = {20.0: 0.2, 30.0: 0.5}
amount = st.floats(0.0, 3000.0)


@pytest.mark.parametrize(
    ("ambient", "duty"),
    [(10.0, 0.2), (20.0, 0.2), (25.0, 0.35), (30.0, 0.5), (40.0, 0.8), (60.0, 1.0)],
)
def test_duty_between_and_beyond_rows(ambient: float, duty: float) -> None:
    assert duty_at(ROWS, ambient) == pytest.approx(duty)


def test_a_single_row_holds_everywhere() -> None:
    assert duty_at({25.0: 0.4}, -5.0) == duty_at({25.0: 0.4}, 45.0) == 0.4


def test_falling_rows_do_not_fall_beyond_the_last() -> None:
    assert duty_at({20.0: 0.5, 30.0: 0.2}, 50.0) == 0.2


@given(st.floats(-20.0, 60.0), st.floats(0.0, 20.0))
def test_warmer_is_never_less(ambient: float, more: float) -> None:
    assert duty_at(USUAL_DUTY, ambient + more) >= duty_at(USUAL_DUTY, ambient) - 1e-12


def test_a_day_of_a_fridge_and_a_panel() -> None:
    assert fridge_wh(45.0, 0.35) == pytest.approx(378.0)
    assert panel_wh(120.0, 5.0, 0.25) == pytest.approx(450.0)


def test_a_battery_from_morning_to_morning() -> None:
    """600 held + 300 charged - 100 by day = 800, 750 at most; 250 by night leave 500."""
    day = battery_day(600.0, 750.0, 300.0, 100.0, 250.0)
    assert (day.left_wh, day.kept_wh, day.short_wh) == (500.0, 250.0, 0.0)
    flat = battery_day(100.0, 750.0, 0.0, 80.0, 120.0)
    assert (flat.left_wh, flat.kept_wh, flat.short_wh) == (0.0, 0.0, 100.0)


@given(st.floats(0.0, 1.0), st.floats(1.0, 2000.0), amount, amount, amount)
def test_energy_is_neither_made_nor_lost(
    share: float, holds: float, charge: float, by_day: float, by_night: float
) -> None:
    held = share * holds
    day = battery_day(held, holds, charge, by_day, by_night)
    drawn = by_day + by_night - day.short_wh
    assert day.left_wh == pytest.approx(held + day.kept_wh - drawn, abs=1e-6)
    assert 0.0 <= day.left_wh <= holds + 1e-9
    assert day.kept_wh <= charge + 1e-6


@pytest.mark.parametrize(
    "call",
    [
        lambda: duty_at({}, 20.0),
        lambda: duty_at({20.0: 1.2}, 20.0),
        lambda: fridge_wh(-1.0, 0.3),
        lambda: fridge_wh(40.0, 1.1),
        lambda: panel_wh(100.0, -1.0, 0.2),
        lambda: panel_wh(100.0, 4.0, 1.2),
        lambda: battery_day(10.0, 5.0, 0.0, 0.0, 0.0),
        lambda: battery_day(1.0, 5.0, -1.0, 0.0, 0.0),
    ],
)
def test_what_can_not_be_is_refused(call) -> None:
    with pytest.raises(ValueError, match=r"must|rows|none"):
        call()
