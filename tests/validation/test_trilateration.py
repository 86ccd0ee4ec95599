"""A plane trilateration against an independent solver, and against drawing.

Distances between three fixed and three unknown points, with errors, solved here by
`scipy.optimize.least_squares` (trust region, analytic residuals of its own) and its Jacobian's
normal equations. A Monte Carlo draw (JCGM 101:2008) of the readings is the third method.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import optimize

from fitout.survey.adjustment import Adjustment, Array, Observation, adjust
from fitout.survey.snooping import snoop

FIXED = np.array([(0.0, 0.0), (1046.0, 0.0), (523.0, -640.0)])
TRUTH = np.array([(1061.0, 1043.0), (-9.0, 1035.0), (540.0, 520.0)])
POINTS = len(FIXED) + len(TRUTH)
PAIRS = [(i, j) for i in range(POINTS) for j in range(max(i + 1, len(FIXED)), POINTS)]
U = np.array([0.7 + 0.2 * (k % 4) for k in range(len(PAIRS))])
ERRORS = np.array([0.9, -0.4, 1.1, -1.3, 0.2, 0.6, -0.8, 0.3, -0.1, 1.2, -0.7, 0.5])
NAMES = ("x3", "y3", "x4", "y4", "x5", "y5")
START = np.array([1000.0, 1000.0, 50.0, 1000.0, 500.0, 500.0])


def distances(x: Array) -> Array:
    """All measured distances, in the order of PAIRS."""
    points = np.vstack((FIXED, x.reshape(-1, 2)))
    across = np.array([points[j] - points[i] for i, j in PAIRS])
    found: Array = np.hypot(across[:, 0], across[:, 1])
    return found


def notes(values: Array) -> list[Observation]:
    def place(x: Array, k: int) -> tuple[float, float]:
        if k < len(FIXED):
            return float(FIXED[k, 0]), float(FIXED[k, 1])
        return float(x[2 * (k - len(FIXED))]), float(x[2 * (k - len(FIXED)) + 1])

    def note(k: int, i: int, j: int) -> Observation:
        unknown = [2 * (p - len(FIXED)) + c for p in (i, j) if p >= len(FIXED) for c in (0, 1)]
        return Observation(
            name=f"{i} to {j}",
            path=("notes", k),
            value=float(values[k]),
            u=float(U[k]),
            predict=lambda x: math.dist(place(x, i), place(x, j)),
            on=tuple(unknown),
        )

    return [note(k, i, j) for k, (i, j) in enumerate(PAIRS)]


@pytest.fixture(scope="module")
def readings() -> Array:
    values: Array = distances(TRUTH.ravel()) + ERRORS
    return values


@pytest.fixture(scope="module")
def ours(readings: Array) -> Adjustment:
    return adjust(notes(readings), START, NAMES)


@pytest.fixture(scope="module")
def theirs(readings: Array) -> optimize.OptimizeResult:
    def residuals(x: Array) -> Array:
        weighted: Array = (distances(x) - readings) / U
        return weighted

    return optimize.least_squares(residuals, START, xtol=1e-14, ftol=1e-14, gtol=1e-14)


def test_values(ours: Adjustment, theirs: optimize.OptimizeResult) -> None:
    assert ours.settled
    assert ours.values == pytest.approx(theirs.x, abs=1e-5)
    assert ours.pvv == pytest.approx(2.0 * theirs.cost, rel=1e-9)


def test_covariance_and_redundancy(ours: Adjustment, theirs: optimize.OptimizeResult) -> None:
    covariance = np.linalg.inv(theirs.jac.T @ theirs.jac)
    assert ours.covariance == pytest.approx(covariance, rel=1e-4, abs=1e-6)
    hat = theirs.jac @ covariance @ theirs.jac.T
    assert ours.redundancy == pytest.approx(1.0 - np.diag(hat), abs=1e-5)
    assert ours.standardised == pytest.approx(theirs.fun / np.sqrt(1.0 - np.diag(hat)), abs=1e-4)


def test_against_drawing(ours: Adjustment) -> None:
    """Two thousand surveys of the true points, each adjusted in full."""
    random = np.random.default_rng(21)
    true = distances(TRUTH.ravel())
    drawn = np.array(
        [
            adjust(notes(true + random.normal(0.0, U)), TRUTH.ravel(), NAMES).values
            for _ in range(2000)
        ]
    )
    assert np.mean(drawn, axis=0) == pytest.approx(TRUTH.ravel(), abs=0.1)
    spread = np.cov(drawn.T)
    scale = np.sqrt(np.outer(np.diag(ours.covariance), np.diag(ours.covariance)))
    # Drawn 2000 times, a covariance is known to some 3 % of the variances.
    assert np.max(np.abs(spread - ours.covariance) / scale) < 0.1


def test_a_wrong_distance_is_the_one_without_which_all_agree(readings: Array) -> None:
    """Leaving out each distance in turn with the other solver points at the same one."""
    wrong = 7
    values = readings + np.where(np.arange(len(PAIRS)) == wrong, 30.0, 0.0)
    costs = []
    for k in range(len(PAIRS)):
        kept = np.arange(len(PAIRS)) != k

        def residuals(x: Array, kept: Array = kept) -> Array:
            weighted: Array = ((distances(x) - values) / U)[kept]
            return weighted

        costs.append(optimize.least_squares(residuals, START).cost)
    assert np.argmin(costs) == wrong
    (blunder,) = snoop(notes(values), START, NAMES).blunders
    assert blunder.index == wrong
    assert blunder.likely == pytest.approx(distances(TRUTH.ravel())[wrong], abs=3.0 * blunder.u)
