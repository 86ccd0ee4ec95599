"""Are adjusted sizes as sure as said? Surveys of a known bay, simulated by the thousand.

The estimator is linear to within a small share of each uncertainty (tested on surveys adjusted
in full), so the ten thousand are one matrix product.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING

import numpy as np
import pytest
from scipy import stats

from fitout.survey.adjustment import Adjustment, Array, adjust
from fitout.survey.tape import PLACING_U, READING_HALF_WIDTH, largest_error

if TYPE_CHECKING:
    from tests.benchmarks.conftest import Survey

pytestmark = pytest.mark.benchmark

Draw = Callable[["Survey", int, int], Array]

SURVEYS = 10_000
WITHIN_95 = stats.norm.ppf(0.975)


@pytest.fixture(scope="module")
def at_truth(made_up_bay: Survey) -> Adjustment:
    return adjust(made_up_bay.notes, made_up_bay.truth, made_up_bay.names)


@pytest.fixture(scope="module")
def gaps(made_up_bay: Survey, at_truth: Adjustment) -> Array:
    """Gradients: beside an item between the arches, behind a tank at the leaning seat back,
    under the roof, between a scribed side and a straight deck, across the whole floor."""
    names = list(made_up_bay.names)
    rows = np.zeros((5, len(names)))
    rows[0, names.index("between")] = 1.0
    rows[1, names.index("seat foot")] = 1.0
    rows[1, names.index("seat leans")] = 330.0 * math.pi / 180.0 / math.cos(math.radians(17.0)) ** 2
    rows[2, names.index("height 2")] = 1.0
    rows[2, names.index("height 3")] = 0.5
    rows[3, [names.index("left 1 y"), names.index("left 2 y")]] = 0.5
    rows[4, names.index("left 3 x")] = 1.0
    rows[4, names.index("seat foot")] = -1.0
    return rows


def estimates(adjustment: Adjustment, errors: Array) -> Array:
    """Errors of the unknowns (surveys × n) that follow from errors of the notes."""
    gain = adjustment.spread @ adjustment.jacobian.T @ adjustment.weights
    found: Array = errors @ gain.T
    return found


def normal_errors(survey: Survey, count: int, seed: int) -> Array:
    u = np.array([note.u for note in survey.notes])
    drawn: Array = np.random.default_rng(seed).normal(0.0, u, (count, len(u)))
    return drawn


def tape_errors(survey: Survey, count: int, seed: int) -> Array:
    """As readings come about: the tape's and the reading's error evenly spread, placing normal."""
    random = np.random.default_rng(seed)
    errors = normal_errors(survey, count, seed)
    for k, note in enumerate(survey.notes):
        if note.name != "seat back's angle":
            tape = largest_error(note.value, hooked=True)
            errors[:, k] = random.uniform(-tape, tape, count)
            errors[:, k] += random.uniform(-READING_HALF_WIDTH, READING_HALF_WIDTH, count)
            errors[:, k] += random.normal(0.0, PLACING_U, count)
    return errors


@pytest.mark.parametrize("draw", [normal_errors, tape_errors])
def test_nineteen_in_twenty_intervals_hold_the_truth(
    made_up_bay: Survey, at_truth: Adjustment, gaps: Array, draw: Draw
) -> None:
    found = estimates(at_truth, draw(made_up_bay, SURVEYS, 1))
    sizes = np.mean(np.abs(found) <= WITHIN_95 * np.sqrt(np.diag(at_truth.covariance)), axis=0)
    across = np.mean(np.abs(found @ gaps.T) <= WITHIN_95 * np.sqrt(at_truth.variance(gaps)), axis=0)
    print(f"\nsizes {sizes.min():.4f} to {sizes.max():.4f}, mean {sizes.mean():.4f}")
    print(f"gaps {across.min():.4f} to {across.max():.4f}")
    assert np.all(np.abs(sizes - 0.95) <= 0.01)
    assert np.all(np.abs(across - 0.95) <= 0.01)


def test_probability_of_fit_is_how_often_it_fits(
    made_up_bay: Survey, at_truth: Adjustment, gaps: Array
) -> None:
    """Gaps of every size: of those called 70 to 80 % sure so many are positive, and so on."""
    found = estimates(at_truth, normal_errors(made_up_bay, SURVEYS, 2)) @ gaps.T
    u = np.sqrt(at_truth.variance(gaps))
    true = np.random.default_rng(3).uniform(-4.0, 4.0, found.shape) * u
    said = stats.norm.cdf((true + found) / u).ravel()
    fits = (true > 0.0).ravel()
    tenth = np.minimum((said * 10.0).astype(int), 9)
    for k in range(10):
        held = tenth == k
        differs = np.mean(fits[held]) - np.mean(said[held])
        print(f"\nsaid {np.mean(said[held]):.3f}, so it is {np.mean(fits[held]):.3f}", end="")
        assert abs(differs) <= 0.02


def test_surveys_adjusted_in_full_are_the_same(made_up_bay: Survey, at_truth: Adjustment) -> None:
    """Started from sizes 20 mm off; the global test passes as often as it should."""
    count = 600
    errors = normal_errors(made_up_bay, count, 4)
    expected = estimates(at_truth, errors)
    u = np.sqrt(np.diag(at_truth.covariance))
    values = np.array([note.value for note in made_up_bay.notes])
    start = made_up_bay.truth * np.where(np.arange(len(u)) % 2, 1.02, 0.98)
    passed, apart = 0, 0.0
    for error, expect in zip(errors, expected, strict=True):
        taken = adjust(made_up_bay.read(values + error), start, made_up_bay.names)
        assert taken.settled
        passed += taken.consistent
        apart = max(apart, float(np.max(np.abs(taken.values - made_up_bay.truth - expect) / u)))
    print(f"\nlinear to {apart:.4f} u; global test passed {passed / count:.3f}")
    assert apart < 0.02
    assert abs(passed / count - 0.95) <= 0.03
