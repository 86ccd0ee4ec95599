"""How far fuel goes."""

import pytest

from fitout.mechanics.fuel import fuel_used_l, range_km


def test_litres_and_range_are_each_others_inverse() -> None:
    assert fuel_used_l(250.0, 8.0) == pytest.approx(20.0)
    assert range_km(30.0, 10.0, 8.0) == pytest.approx(250.0)
    assert range_km(9.0, 10.0, 8.0) == 0.0


def test_what_can_not_be_is_refused() -> None:
    with pytest.raises(ValueError, match="km"):
        fuel_used_l(-1.0, 8.0)
    with pytest.raises(ValueError, match="above 0"):
        range_km(10.0, 0.0, 0.0)
