"""Are wrong notes found, and is the right one named? And how long does that take?

A single wrong note is judged by the first round of tests, so that ten thousand trials are one
matrix product; a sample is snooped in full and must come to the same end.
"""

from __future__ import annotations

import time
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt
import pytest
from scipy import stats

from fitout.survey.adjustment import Adjustment, Array, Observation, adjust
from fitout.survey.snooping import CRITICAL, snoop

if TYPE_CHECKING:
    from tests.benchmarks.conftest import Survey

pytestmark = pytest.mark.benchmark

Indices = npt.NDArray[np.intp]

TRIALS = 10_000
TWIN = 0.999


class Trials:
    """Surveys with one note wrong each, and how the first round of tests judges them."""

    def __init__(self, survey: Survey, adjustment: Adjustment, wrong: Indices, size: Array) -> None:
        random = np.random.default_rng(len(wrong) + int(wrong.sum()))
        u = np.array([note.u for note in survey.notes])
        self.wrong = wrong
        self.errors = random.normal(0.0, u, (len(wrong), len(u)))
        signs = random.choice([-1.0, 1.0], len(wrong))
        self.errors[np.arange(len(wrong)), wrong] += signs * size
        rows = adjustment.jacobian / u[:, None]
        left = np.eye(len(u)) - rows @ np.linalg.pinv(rows)
        own = np.sqrt(np.maximum(np.diag(left), 1e-12))
        self.w = np.where(np.diag(left) > 1e-9, -(self.errors / u) @ left / own, 0.0)
        self.likeness = left / np.outer(own, own)
        self.power = own[wrong] * size / u[wrong]

    @property
    def detected(self) -> npt.NDArray[np.bool_]:
        """The wrong note's own test speaks."""
        flagged: npt.NDArray[np.bool_] = np.abs(self.of_wrong) > CRITICAL
        return flagged

    @property
    def of_wrong(self) -> Array:
        w: Array = self.w[np.arange(len(self.wrong)), self.wrong]
        return w

    @property
    def found(self) -> npt.NDArray[np.bool_]:
        """Some test speaks."""
        flagged: npt.NDArray[np.bool_] = np.max(np.abs(self.w), axis=1) > CRITICAL
        return flagged

    @property
    def named(self) -> npt.NDArray[np.bool_]:
        """The wrong note's speaks loudest, and no other could stand in its place."""
        like = self.likeness[self.wrong]
        mine = self.of_wrong[:, None]
        instead = np.abs(mine - like * self.w) <= CRITICAL * np.sqrt(np.maximum(1 - like**2, 0))
        instead &= mine**2 - self.w**2 < 6.0
        instead[np.arange(len(self.wrong)), self.wrong] = False
        loudest = np.argmax(np.abs(self.w), axis=1) == self.wrong
        alone: npt.NDArray[np.bool_] = self.found & loudest & ~instead.any(axis=1)
        return alone


@pytest.fixture(scope="module")
def at_truth(made_up_bay: Survey) -> Adjustment:
    return adjust(made_up_bay.notes, made_up_bay.truth, made_up_bay.names)


@pytest.fixture(scope="module")
def checked(made_up_bay: Survey, at_truth: Adjustment) -> tuple[Indices, Indices]:
    """Lengths with a redundancy above 0.3: those of their own, and those with a twin.

    Twins are two notes that nothing tells apart, like two readings of one number.
    """
    lengths = np.array([note.name != "seat back's angle" for note in made_up_bay.notes])
    likeness = np.abs(at_truth.likeness() - np.diag(np.diag(at_truth.likeness())))
    twin = np.max(likeness, axis=1) > TWIN
    well = (at_truth.redundancy > 0.3) & lengths
    return np.flatnonzero(well & ~twin), np.flatnonzero(well & twin)


def drawn(among: Indices, count: int, seed: int) -> Indices:
    chosen: Indices = np.random.default_rng(seed).choice(among, count)
    return chosen


def test_thirty_millimetres_are_found_and_rightly_named(
    made_up_bay: Survey, at_truth: Adjustment, checked: tuple[Indices, Indices]
) -> None:
    single, _ = checked
    trials = Trials(made_up_bay, at_truth, drawn(single, TRIALS, 1), np.full(TRIALS, 30.0))
    worst = min(float(np.mean(trials.named[trials.wrong == k])) for k in single)
    print(f"\n{len(single)} notes: found {np.mean(trials.found):.4f}, ", end="")
    print(f"rightly named {np.mean(trials.named):.4f}, the hardest note {worst:.4f}")
    assert np.mean(trials.named) >= 0.99
    assert worst >= 0.99


def test_snooped_in_full_it_is_the_same(
    made_up_bay: Survey, at_truth: Adjustment, checked: tuple[Indices, Indices]
) -> None:
    single, _ = checked
    count = 500
    trials = Trials(made_up_bay, at_truth, drawn(single, count, 2), np.full(count, 30.0))
    values = np.array([note.value for note in made_up_bay.notes])
    named = alone = 0
    for wrong, error in zip(trials.wrong, trials.errors, strict=True):
        found = snoop(made_up_bay.read(values + error), made_up_bay.truth, made_up_bay.names)
        called = [blunder.index for blunder in found.blunders]
        named += wrong in called
        alone += called == [wrong] and not found.suspects
    print(f"\nnamed {named / count:.3f}, nothing else doubted {alone / count:.3f}")
    assert named / count >= 0.99
    # Each good note is doubted once in a thousand surveys: with some fifty, one survey in twenty.
    assert alone / count >= 0.90


def test_twins_are_called_together_and_none_is_named(
    made_up_bay: Survey, at_truth: Adjustment, checked: tuple[Indices, Indices]
) -> None:
    _, twins = checked
    values = np.array([note.value for note in made_up_bay.notes])
    random = np.random.default_rng(3)
    u = np.array([note.u for note in made_up_bay.notes])
    assert len(twins) >= 4
    for k in range(100):
        wrong = int(twins[k % len(twins)])
        error = random.normal(0.0, u)
        error[wrong] += 30.0
        found = snoop(made_up_bay.read(values + error), made_up_bay.truth, made_up_bay.names)
        assert any(wrong in suspect.indices for suspect in found.suspects)
        assert wrong not in [blunder.index for blunder in found.blunders]


@pytest.mark.parametrize("size", [2.0, 4.0, 6.0, 8.0, 10.0, 14.0, 20.0])
def test_smaller_errors_are_found_as_often_as_theory_says(
    made_up_bay: Survey, at_truth: Adjustment, checked: tuple[Indices, Indices], size: float
) -> None:
    single, _ = checked
    trials = Trials(made_up_bay, at_truth, drawn(single, TRIALS, 4), np.full(TRIALS, size))
    power = stats.norm.sf(CRITICAL - trials.power) + stats.norm.cdf(-CRITICAL - trials.power)
    detected, theory = float(np.mean(trials.detected)), float(np.mean(power))
    print(f"\n{size:g} mm: detected {detected:.4f}, theory {theory:.4f}, ", end="")
    print(f"found at all {np.mean(trials.found):.4f}, rightly named {np.mean(trials.named):.4f}")
    assert detected == pytest.approx(theory, abs=0.015)


def test_the_smallest_detectable_error_is_found_in_four_of_five(
    made_up_bay: Survey, at_truth: Adjustment, checked: tuple[Indices, Indices]
) -> None:
    wrong = drawn(np.concatenate(checked), TRIALS, 5)
    trials = Trials(made_up_bay, at_truth, wrong, at_truth.detectable[wrong])
    assert np.mean(trials.detected) == pytest.approx(0.80, abs=0.015)


def test_sixty_notes_take_less_than_fifty_milliseconds(made_up_bay: Survey) -> None:
    """Forty unknowns, one note wrong, from sizes 2 % off."""
    more = 13
    n = len(made_up_bay.names)

    def width(k: int) -> Observation:
        like = made_up_bay.notes[0]
        return replace(
            like, name=f"width {k}", value=900.0, predict=lambda x: float(x[n + k]), on=(n + k,)
        )

    values = np.array([note.value for note in made_up_bay.notes])
    values[10] += 30.0
    notes = [*made_up_bay.read(values), *(width(k) for k in range(more))]
    names = (*made_up_bay.names, *(f"width {k}" for k in range(more)))
    start = np.concatenate((made_up_bay.truth, np.full(more, 900.0))) * 1.02
    took = []
    for _ in range(7):
        before = time.perf_counter()
        found = snoop(notes, start, names)
        took.append(time.perf_counter() - before)
    print(
        f"\n{len(notes)} notes, {len(names)} unknowns: {1000.0 * min(took):.1f} ms at best, ",
        end="",
    )
    print(f"{1000.0 * sorted(took)[3]:.1f} ms in the middle")
    assert [blunder.index for blunder in found.blunders] == [10]
    assert min(took) < 0.050
