"""The sun above the air against published values.

FAO Irrigation and Drainage Paper 56 (1998), example 8: 20° S, 3 September (day 246), declination
0.120 rad, sunset at 1.527 rad, 32.2 MJ/m². It takes a declination of its own (0.409 sin(2 pi
J / 365 - 1.39)) and 0.0820 MJ/m² a minute: 1 % apart at most. Duffie and Beckman, Solar
Engineering of Thermal Processes, example 1.10.1: 43° N, 15 April (day 105), 9.4°, 98.9°,
33.8 MJ/m² (from memory).
"""

import math

import pytest

from fitout.mechanics.solar import above_the_air_kwh_m2, declination_deg, sunset_hour_angle_deg

MJ = 3.6


def test_fao_paper_56_example_8() -> None:
    declination = declination_deg(246)
    assert math.radians(declination) == pytest.approx(0.120, abs=0.01)
    assert math.radians(sunset_hour_angle_deg(-20.0, declination)) == pytest.approx(1.527, abs=5e-3)
    assert MJ * above_the_air_kwh_m2(-20.0, 246) == pytest.approx(32.2, rel=0.01)


def test_duffie_and_beckman_example_1_10_1() -> None:
    declination = declination_deg(105)
    assert declination == pytest.approx(9.4, abs=0.05)
    assert sunset_hour_angle_deg(43.0, declination) == pytest.approx(98.9, abs=0.05)
    assert MJ * above_the_air_kwh_m2(43.0, 105) == pytest.approx(33.8, abs=0.05)
