from __future__ import annotations

import pytest

from fitout.mechanics.slides import slide_utilisation


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
