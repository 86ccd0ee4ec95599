from __future__ import annotations

import math

import pytest

from fitout.mechanics.slides import (
    Derating,
    derated_kg,
    pull_n,
    row_forces_n,
    slide_utilisation,
    slope_of_pull_deg,
)


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


def test_two_screws_bear_what_two_bearings_do() -> None:
    # By moments: the rear one holds down with P a / s.
    rear = 600.0 * 350.0 / 300.0
    assert row_forces_n(600.0, -350.0, [0.0, 300.0]) == pytest.approx((600.0 + rear, -rear))


def test_a_row_is_in_balance() -> None:
    places = [35.0, 195.0, 355.0, 515.0, 675.0]
    forces = row_forces_n(500.0, -300.0, places)
    assert sum(forces) == pytest.approx(500.0)
    moments = sum(f * x for f, x in zip(forces, places, strict=True))
    assert moments == pytest.approx(500.0 * -300.0)


def test_what_the_maker_takes_off() -> None:
    """Full up to 450 wide, a tenth less for each 100 more, three quarters of it fully out."""
    derating = Derating(rated_width=450.0, loss_per_100=0.1, open_share=0.75)
    assert derated_kg(120.0, 400.0, derating) == pytest.approx(90.0)
    assert derated_kg(120.0, 650.0, derating) == pytest.approx(120.0 * 0.8 * 0.75)
    assert derated_kg(120.0, 2_000.0, derating) == 0.0
    assert derated_kg(120.0, 2_000.0, Derating()) == 120.0


def test_rows_and_ratings_that_cannot_be() -> None:
    with pytest.raises(ValueError, match="places"):
        row_forces_n(1.0, 1.0, [5.0])
    with pytest.raises(ValueError, match="all at one"):
        row_forces_n(1.0, 1.0, [5.0, 5.0])
    with pytest.raises(ValueError, match="width"):
        derated_kg(10.0, 0.0, Derating())
