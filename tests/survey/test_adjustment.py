"""Least squares of redundant notes: values, how sure, how well checked, what is missing."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np
import pytest

from fitout.survey.adjustment import (
    DETECTED,
    Array,
    Observation,
    adjust,
    gradients_of,
    weights_of,
)


def note(
    value: float,
    predict: Callable[[Array], float],
    on: tuple[int, ...],
    u: float = 1.0,
    name: str = "note",
) -> Observation:
    return Observation(name=name, path=("notes",), value=value, u=u, predict=predict, on=on)


def of(row: Sequence[float], value: float, u: float = 1.0) -> Observation:
    """A note linear in the unknowns."""
    on = tuple(k for k, share in enumerate(row) if share)
    return note(value, lambda x: float(np.dot(row, x)), on, u)


def repeated(values: Sequence[float], u: float, shared: float) -> list[Observation]:
    return [
        Observation(
            name=f"width, {i}",
            path=("notes", i),
            value=value,
            u=u,
            predict=lambda x: float(x[0]),
            on=(0,),
            group="width",
            shared=shared,
        )
        for i, value in enumerate(values)
    ]


def test_two_readings_meet_in_their_weighted_mean() -> None:
    taken = adjust([of([1.0], 1000.0, 1.0), of([1.0], 1006.0, 2.0)], np.array([990.0]), ["width"])
    assert taken.values[0] == pytest.approx(1001.2)
    assert taken.covariance[0, 0] == pytest.approx(0.8)
    assert taken.residuals == pytest.approx([1.2, -4.8])
    # The less sure reading is the better checked one.
    assert taken.redundancy == pytest.approx([0.2, 0.8])
    assert taken.standardised == pytest.approx([6.0 / math.sqrt(5.0), -6.0 / math.sqrt(5.0)])
    assert taken.detectable == pytest.approx(DETECTED * math.sqrt(5.0) * np.array([1.0, 1.0]))
    assert taken.freedom == 1
    assert taken.pvv == pytest.approx(7.2)
    assert taken.m0 == pytest.approx(math.sqrt(7.2))
    assert taken.limit == pytest.approx(3.841, abs=1e-3)
    assert not taken.consistent
    assert taken.settled


def test_just_enough_notes_fit_exactly_and_check_nothing() -> None:
    taken = adjust([of([1.0, 1.0], 7.0), of([1.0, -1.0], 1.0)], np.zeros(2), ["a", "b"])
    assert taken.values == pytest.approx([4.0, 3.0])
    assert taken.standardised == pytest.approx([0.0, 0.0])
    assert all(math.isinf(size) for size in taken.detectable)
    assert (taken.freedom, taken.m0, taken.limit, taken.consistent) == (0, 1.0, math.inf, True)
    assert taken.likeness() == pytest.approx(np.zeros((2, 2)))


def test_against_the_normal_equations() -> None:
    random = np.random.default_rng(3)
    rows = random.normal(size=(14, 5))
    u = random.uniform(0.5, 3.0, size=14)
    read = random.normal(size=14)
    notes = [of(row, value, sure) for row, value, sure in zip(rows, read, u, strict=True)]
    taken = adjust(notes, random.normal(size=5), list("abcde"))
    normal = np.linalg.inv(rows.T @ (rows / u[:, None] ** 2))
    assert taken.values == pytest.approx(normal @ rows.T @ (read / u**2), rel=1e-8)
    assert taken.covariance == pytest.approx(normal, rel=1e-7)
    left = u**2 - np.sum((rows @ normal) * rows, axis=1)
    assert taken.redundancy == pytest.approx(left / u**2)
    assert np.sum(taken.redundancy) == pytest.approx(taken.freedom)
    assert taken.standardised == pytest.approx((rows @ taken.values - read) / np.sqrt(left))
    assert taken.detectable == pytest.approx(4.13 * u / np.sqrt(taken.redundancy))
    assert np.diag(taken.likeness()) == pytest.approx(np.ones(14))


def test_repeating_never_averages_the_tape_away() -> None:
    u, shared = 1.2, 0.7
    readings = [1000.0, 1001.0, 1000.5, 999.5]
    taken = adjust(repeated(readings, u, shared), np.array([1000.0]), ["width"])
    assert taken.values[0] == pytest.approx(np.mean(readings))
    assert taken.covariance[0, 0] == pytest.approx(shared**2 + (u**2 - shared**2) / 4.0)
    # Against each other, the readings are as sure as what they do not share.
    own = math.sqrt(u**2 - shared**2)
    assert taken.detectable == pytest.approx(DETECTED * own / math.sqrt(0.75) * np.ones(4))
    scatter = np.array(readings) - np.mean(readings)
    assert taken.standardised == pytest.approx(-scatter / own / math.sqrt(0.75))
    assert np.sum(taken.redundancy) == pytest.approx(3.0)


def test_without_a_shared_part_readings_are_their_own() -> None:
    weights = weights_of(repeated([1.0, 2.0], 2.0, 0.0))
    assert weights == pytest.approx(np.diag([0.25, 0.25]))


def test_bent_notes_come_to_rest_from_afar() -> None:
    """A point by its distances from three corners, started 300 mm away."""
    corners = np.array([(0.0, 0.0), (1000.0, 0.0), (0.0, 1200.0)])
    truth = np.array([420.0, 380.0])
    notes = [
        note(math.dist(c, truth), lambda x, c=c: math.dist(c, x), (0, 1), 0.8)  # type: ignore[misc]
        for c in corners
    ]
    taken = adjust(notes, np.array([700.0, 200.0]), ["x", "y"])
    assert taken.settled
    assert taken.values == pytest.approx(truth, abs=1e-6)
    unit = (truth - corners) / np.linalg.norm(truth - corners, axis=1)[:, None]
    assert gradients_of(notes, truth) == pytest.approx(unit, abs=1e-7)
    assert taken.covariance == pytest.approx(0.64 * np.linalg.inv(unit.T @ unit), rel=1e-5)


def test_degrees_and_millimetres_stand_side_by_side() -> None:
    """A seat back's foot and lean, from depths at three heights and a level."""

    def depth(z: float) -> Callable[[Array], float]:
        return lambda x: float(x[0]) + z * math.tan(math.radians(float(x[1])))

    truth = np.array([1064.0, 17.0])
    notes = [note(depth(z)(truth), depth(z), (0, 1)) for z in (0.0, 300.0, 600.0)]
    notes.append(note(17.0, lambda x: float(x[1]), (1,), 0.3))
    taken = adjust(notes, np.array([1000.0, 5.0]), ["foot", "lean"])
    assert taken.settled
    assert not taken.undetermined
    assert taken.values == pytest.approx(truth, abs=1e-6)
    # One degree of lean is about 11 mm at the top, so the level adds little to the tape.
    assert 0.05 < math.sqrt(taken.covariance[1, 1]) < 0.15


def test_what_no_note_speaks_of_is_named_and_stays() -> None:
    notes = [of([1.0, 0.0, 0.0], 500.0), of([1.0, 0.0, 0.0], 502.0)]
    taken = adjust(notes, np.array([480.0, 33.0, -7.0]), ["width", "height", "depth"])
    assert taken.values == pytest.approx([501.0, 33.0, -7.0])
    assert [free.names for free in taken.undetermined] == [("height",), ("depth",)]
    assert taken.undetermined[0].combination == "no note says what height is"
    assert np.diag(taken.covariance) == pytest.approx([0.5, math.inf, math.inf])
    assert taken.freedom == 1
    assert taken.redundancy == pytest.approx([0.5, 0.5])


def test_a_difference_without_either_end() -> None:
    taken = adjust(
        [of([-1.0, 1.0, 0.0], 40.0), of([0.0, 0.0, 1.0], 9.0)], np.array([0.0, 30.0, 0.0]), "abc"
    )
    (free,) = taken.undetermined
    assert free.unknowns == (0, 1)
    assert free.combination == "a and b may all change alike: no note holds any of them"
    assert taken.values == pytest.approx([-5.0, 35.0, 9.0])
    wanted = np.array([[-1.0, 1.0, 0.0], [1.0, 1.0, 0.0], [0.0, 0.0, 1.0]])
    assert taken.variance(wanted) == pytest.approx([1.0, math.inf, 1.0])


def test_unlike_shares_are_told() -> None:
    taken = adjust([of([1.0, 2.0], 10.0)], np.zeros(2), ["foot", "rise"])
    (free,) = taken.undetermined
    told = "foot by 1 and rise by -0.5 may change together: no note would notice"
    assert free.combination == told


def test_a_whole_bay_adrift_is_told_in_one_sentence() -> None:
    """Differences in a ring hold no end: everything may shift."""
    rows = np.eye(9)[:-1] - np.eye(9)[1:]
    taken = adjust([of(row, 1.0) for row in rows], np.zeros(9), list("abcdefghi"))
    (free,) = taken.undetermined
    assert len(free.unknowns) == 9
    assert free.combination.startswith("a, b, c, d, e and 4 more may all change alike")


def test_no_notes_at_all() -> None:
    taken = adjust([], np.array([4.0, 5.0]), ["a", "b"])
    assert taken.values == pytest.approx([4.0, 5.0])
    assert len(taken.undetermined) == 2
    assert (taken.pvv, taken.freedom) == (0.0, 0)


@pytest.mark.parametrize("u", [0.1, 0.01, 0.001, 3e-4])
def test_what_is_so_by_definition_checks_nothing(u: float) -> None:
    """A note ten thousand times surer than another leaves no trace of rounding behind."""
    taken = adjust([of([1.0, -1.0], 40.0, u), of([1.0, 0.0], 500.0, 3.0)], np.zeros(2), "ab")
    assert not taken.undetermined
    assert taken.values == pytest.approx([500.0, 460.0])
    assert taken.redundancy == pytest.approx([0.0, 0.0], abs=0.0)
    assert taken.standardised == pytest.approx([0.0, 0.0], abs=0.0)


def test_a_step_out_of_what_can_be_is_halved() -> None:
    """Started far off, the first step would leave where the height exists."""

    def slant(x: Array) -> float:
        return math.sqrt(x[0]) if x[0] >= 0.0 else math.nan

    taken = adjust([note(3.0, slant, (0,))], np.array([4000.0]), ["a"])
    assert taken.settled
    assert taken.values[0] == pytest.approx(9.0)


def test_a_search_that_comes_to_no_rest_says_so() -> None:
    """A note folded at 0 that can never be met: steps go back and forth across the fold."""
    taken = adjust([note(0.0, lambda x: abs(float(x[0])) + 1.0, (0,))], np.array([3.0]), ["a"])
    assert not taken.settled
    assert abs(taken.values[0]) <= 3.0


def test_a_note_that_means_nothing_at_the_start_is_named() -> None:
    with pytest.raises(ValueError, match="roof: nothing to compare"):
        adjust([note(3.0, lambda _: math.nan, (0,), name="roof")], np.zeros(1), ["a"])


@pytest.mark.parametrize(
    ("value", "u", "shared"), [(math.nan, 1.0, 0.0), (1.0, 0.0, 0.0), (1.0, 1.0, 1.0)]
)
def test_readings_that_are_none(value: float, u: float, shared: float) -> None:
    with pytest.raises(ValueError, match="width"):
        repeated([value], u, shared)
