"""NIOSH 94-110, Applications Manual for the Revised NIOSH Lifting Equation.

Example 4 (Fig. 14): origin H 10, V 22, D 37 in, FM 0.88, CM 0.95: 34.9 lb; destination V 59,
CM 1.0: 15.2 lb (its H of 20 in follows from the printed HM of 0.50). Printed values come from
multipliers rounded to two decimals (p. 29); at full precision they are 34.81 and 15.25. The
metric case (12 kg, H 25, V 55, D 95 cm) is a published worked answer: 15.7 kg, index 0.76.
"""

import pytest

from fitout.mechanics.lifting import Lift, recommended_weight

ORIGIN = Lift(reach=10.0, height=22.0, travel=37.0, frequency=0.88, coupling=0.95)
DESTINATION = Lift(reach=20.0, height=59.0, travel=37.0, frequency=0.88, coupling=1.0)
METRIC = Lift(reach=25.0, height=55.0, travel=95.0, frequency=0.88, coupling=0.95)


def test_example_4_as_printed() -> None:
    assert round(recommended_weight(ORIGIN, "US", rounded=True), 1) == 34.9
    assert round(recommended_weight(DESTINATION, "US", rounded=True), 1) == 15.2


def test_example_4_at_full_precision() -> None:
    assert recommended_weight(ORIGIN, "US") == pytest.approx(34.81, abs=0.01)
    assert recommended_weight(DESTINATION, "US") == pytest.approx(15.25, abs=0.01)


def test_its_metric_twin() -> None:
    limit = recommended_weight(METRIC)
    assert round(limit, 1) == 15.7
    assert 12.0 / limit == pytest.approx(0.76, abs=0.01)
