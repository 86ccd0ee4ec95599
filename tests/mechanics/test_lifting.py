import math

import pytest

from fitout.mechanics.lifting import Lift, reach_for, recommended_weight

BEST = Lift(reach=25.0, height=75.0, travel=25.0)


def test_at_its_best_the_load_constant_holds() -> None:
    assert recommended_weight(BEST) == pytest.approx(23.0)
    assert recommended_weight(Lift(reach=0.0, height=75.0, travel=0.0)) == pytest.approx(23.0)


@pytest.mark.parametrize(
    "worse",
    [
        Lift(reach=50.0, height=75.0, travel=25.0),
        Lift(reach=25.0, height=20.0, travel=25.0),
        Lift(reach=25.0, height=75.0, travel=90.0),
        Lift(reach=25.0, height=75.0, travel=25.0, turned_deg=90.0),
        Lift(reach=25.0, height=75.0, travel=25.0, coupling=0.9),
    ],
)
def test_each_departure_costs(worse: Lift) -> None:
    assert recommended_weight(worse) < recommended_weight(BEST)


@pytest.mark.parametrize(
    "beyond",
    [
        Lift(reach=63.1, height=75.0, travel=25.0),
        Lift(reach=25.0, height=175.1, travel=25.0),
        Lift(reach=25.0, height=75.0, travel=25.0, turned_deg=-136.0),
    ],
)
def test_beyond_the_equation_nothing_is_recommended(beyond: Lift) -> None:
    assert recommended_weight(beyond) == 0.0


@pytest.mark.parametrize("reach", [-1.0, math.nan, math.inf])
def test_no_lift_of_no_size(reach: float) -> None:
    with pytest.raises(ValueError, match="0 or more"):
        recommended_weight(Lift(reach=reach, height=75.0, travel=25.0))


def test_bulk_keeps_the_hands_away() -> None:
    assert reach_for(40.0) == 40.0
