"""Combined uncertainty against JCGM 100:2008 (GUM), example H.1, end-gauge calibration.

Table H.1 gives the contributions to the length (nm) and their degrees of freedom; H.1.5 and
H.1.6 the results: u_c 32 nm, 16 effective degrees of freedom, U99 = 2.92 · 32 nm = 93 nm.
Degrees of freedom of the contributions are from memory. A Monte Carlo draw (JCGM 101) of the
same quantities is the second method.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from fitout.survey.uncertainty import Contribution, combine, expanded, rectangular, student_quantile

CONTRIBUTIONS = (
    Contribution(25.0, 18.0),  # calibration of the standard
    Contribution(9.7, 25.6),  # difference as compared
    Contribution(2.9, 50.0),  # difference of expansion coefficients
    Contribution(16.6, 2.0),  # difference of temperatures
)


def test_combined_standard_uncertainty() -> None:
    assert combine(CONTRIBUTIONS).u == pytest.approx(32.0, abs=0.5)
    assert combine(CONTRIBUTIONS).u == pytest.approx(31.7, abs=0.05)


def test_effective_degrees_of_freedom() -> None:
    freedom = combine(CONTRIBUTIONS).freedom
    assert freedom == pytest.approx(16.7, abs=0.1)
    assert math.floor(freedom) == 16


def test_expanded_uncertainty() -> None:
    assert student_quantile(0.99, 16) == pytest.approx(2.92, abs=5e-3)
    assert expanded(combine(CONTRIBUTIONS), 0.99) == pytest.approx(93.0, abs=0.55)
    assert expanded(Contribution(32.0, 16.7), 0.99) == pytest.approx(93.0, abs=0.5)


def test_against_drawing() -> None:
    """The spread of a sum drawn from its parts, a million times, is the combined one."""
    random = np.random.default_rng(11)
    drawn = sum(random.normal(0.0, c.u, 1_000_000) for c in CONTRIBUTIONS)
    assert np.std(drawn) == pytest.approx(combine(CONTRIBUTIONS).u, rel=3e-3)


def test_a_rectangle_drawn() -> None:
    """4.3.7: half width over the root of three."""
    drawn = np.random.default_rng(12).uniform(-0.9, 0.9, 1_000_000)
    assert rectangular(0.9) == pytest.approx(0.520, abs=5e-4)
    assert np.std(drawn) == pytest.approx(rectangular(0.9), rel=3e-3)
