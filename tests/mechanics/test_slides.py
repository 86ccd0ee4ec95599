from __future__ import annotations

import math

import pytest

from fitout.mechanics.slides import pull_n, slide_utilisation, slope_of_pull_deg


def test_the_share_of_the_rating() -> None:
    assert slide_utilisation(36.0, 45.0) == pytest.approx(0.8)


def test_a_bump_of_one_more_g_doubles_it() -> None:
    assert slide_utilisation(36.0, 45.0, vertical_g=2.0) == pytest.approx(1.6)


@pytest.mark.parametrize(
    ("load_kg", "rating_kg", "vertical_g", "name"),
    [(-1, 45, 1, "load_kg"), (1, 0, 1, "rating_kg"), (1, 45, -1, "vertical_g")],
)
def test_what_cannot_be_is_refused(
    load_kg: float, rating_kg: float, vertical_g: float, name: str
) -> None:
    with pytest.raises(ValueError, match=name):
        slide_utilisation(load_kg, rating_kg, vertical_g)


def test_a_pull_on_the_level_is_the_share_of_the_weight() -> None:
    assert pull_n(50.0, 0.03) == pytest.approx(50.0 * 9.80665 * 0.03)


@pytest.mark.parametrize("slope", [-30.0, -1.0, 5.0, 12.0, 60.0])
def test_the_slope_of_a_pull_is_the_slope_it_was_reckoned_for(slope: float) -> None:
    pull = pull_n(40.0, 0.04, slope)
    if pull >= 0.0:
        assert slope_of_pull_deg(40.0, 0.04, pull) == pytest.approx(slope)
    else:
        assert slope < -math.degrees(math.atan(0.04))


def test_a_load_lighter_than_the_pull_goes_up_anything() -> None:
    assert slope_of_pull_deg(5.0, 0.03, 100.0) == 90.0


@pytest.mark.parametrize(
    ("arguments", "name"),
    [((-1.0, 0.03), "mass_kg"), ((1.0, -0.03), "rolling_share"), ((1.0, 0.03, 91.0), "slope_deg")],
)
def test_pulls_that_cannot_be_are_refused(arguments: tuple[float, ...], name: str) -> None:
    with pytest.raises(ValueError, match=name):
        pull_n(*arguments)


def test_a_slope_of_no_load_is_refused() -> None:
    with pytest.raises(ValueError, match="mass_kg"):
        slope_of_pull_deg(0.0, 0.03, 100.0)
