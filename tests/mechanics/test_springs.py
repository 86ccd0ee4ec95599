"""Air springs beside an axle's springs, by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitout.mechanics.springs import AirState, air_at, levelling_pressure, settles_on_air

TABLE = (AirState(0.5, 20.0, 1.0), AirState(1.5, 60.0, 3.0), AirState(3.0, 150.0, 4.5))
NONE = AirState(0.0, 0.0)


def test_between_rows_by_straight_lines() -> None:
    assert air_at(TABLE, 1.0) == AirState(1.0, 40.0, 2.0)
    assert air_at(TABLE, 3.0) == TABLE[-1]


def test_without_air_it_is_hookes_law() -> None:
    assert settles_on_air(200.0, 60.0, NONE, NONE) == pytest.approx(200.0 * 9.80665 / 60.0)


def test_air_takes_its_share() -> None:
    """60 kg more, 40 of them on the air springs: 20 kg on 60 and 3 N/mm."""
    down = settles_on_air(60.0, 60.0, TABLE[0], TABLE[1])
    assert down == pytest.approx(20.0 * 9.80665 / 63.0)


@given(st.floats(0.0, 130.0))
def test_at_the_levelling_pressure_nothing_settles(more: float) -> None:
    pressure = levelling_pressure(TABLE, TABLE[0], more)
    assert pressure is not None
    assert settles_on_air(more, 60.0, TABLE[0], air_at(TABLE, pressure)) == pytest.approx(
        0.0, abs=1e-9
    )


def test_no_pressure_levels_too_much() -> None:
    assert levelling_pressure(TABLE, TABLE[0], 131.0) is None
    assert levelling_pressure(TABLE, TABLE[0], -1.0) is None


@pytest.mark.parametrize("pressure", [0.4, 3.1])
def test_outside_the_table(pressure: float) -> None:
    with pytest.raises(ValueError, match=r"must be from 0\.5 to 3"):
        air_at(TABLE, pressure)


@pytest.mark.parametrize("table", [TABLE[:1], TABLE[::-1]])
def test_a_table_rises(table: tuple[AirState, ...]) -> None:
    with pytest.raises(ValueError, match="pressure and load rising"):
        air_at(table, 1.0)
    with pytest.raises(ValueError, match="pressure and load rising"):
        levelling_pressure(table, NONE, 1.0)


def test_a_rate_is_above_0() -> None:
    with pytest.raises(ValueError, match="must be above 0"):
        settles_on_air(1.0, 0.0, NONE, NONE)
