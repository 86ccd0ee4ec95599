"""Cleats' screws beside others in the same board."""

import pytest

from fitout.modules.deck_screws import clear_of


@pytest.mark.parametrize(
    ("at", "screws", "place"),
    [
        (100.0, (), 100.0),
        (100.0, (92.0,), 100.0),
        (100.0, (99.0,), 107.0),
        (100.0, (101.0, 300.0), 93.0),
        (100.0, (98.0, 104.0), 90.0),
    ],
)
def test_a_screw_goes_to_the_nearest_place_8_from_all_others(at, screws, place):
    assert clear_of(at, screws) == pytest.approx(place)
