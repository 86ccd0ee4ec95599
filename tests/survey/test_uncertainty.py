"""Uncertainties combined, and quantiles against an independent library of special functions."""

from __future__ import annotations

import math

import pytest
from scipy import stats

from fitout.survey.uncertainty import (
    Contribution,
    chi_square_probability,
    chi_square_quantile,
    combine,
    expanded,
    rectangular,
    student_quantile,
)

FREEDOMS = (1, 2, 3, 4, 5, 10, 17, 60, 121, 300)
LEVELS = (0.001, 0.05, 0.5, 0.9, 0.95, 0.99, 0.999)


@pytest.mark.parametrize("freedom", FREEDOMS)
@pytest.mark.parametrize("level", LEVELS)
def test_quantiles_are_those_of_scipy(level: float, freedom: int) -> None:
    assert chi_square_quantile(level, freedom) == pytest.approx(stats.chi2.ppf(level, freedom))
    two_sided = stats.t.ppf(0.5 + level / 2.0, freedom)
    assert student_quantile(level, freedom) == pytest.approx(two_sided)


def test_chi_square_is_never_negative_nor_above_one() -> None:
    assert chi_square_probability(-1.0, 4) == 0.0
    assert chi_square_probability(5000.0, 3) == pytest.approx(1.0)


@pytest.mark.parametrize(("level", "freedom"), [(0.95, 0), (0.0, 3), (1.0, 3)])
def test_quantiles_that_do_not_exist(level: float, freedom: int) -> None:
    with pytest.raises(ValueError, match="no quantile"):
        chi_square_quantile(level, freedom)
    with pytest.raises(ValueError, match="no quantile"):
        student_quantile(level, freedom)


def test_contributions_add_in_squares() -> None:
    together = combine([Contribution(3.0), Contribution(4.0)])
    assert together == Contribution(5.0, math.inf)
    assert expanded(together, 0.95) == pytest.approx(5.0 * 1.959964, rel=1e-6)


def test_two_equal_contributions_have_twice_the_freedom() -> None:
    together = combine([Contribution(2.0, 7.0), Contribution(2.0, 7.0)])
    assert together.freedom == pytest.approx(14.0)
    assert combine([Contribution(2.0, 7.0), Contribution(0.0, 1.0)]).freedom == pytest.approx(7.0)


def test_few_degrees_of_freedom_widen_the_interval() -> None:
    assert expanded(Contribution(1.0, 2.9), 0.95) == pytest.approx(stats.t.ppf(0.975, 2))


def test_rectangular_needs_a_width() -> None:
    assert rectangular(3.0) == pytest.approx(math.sqrt(3.0))
    with pytest.raises(ValueError, match="must be above 0"):
        rectangular(0.0)
