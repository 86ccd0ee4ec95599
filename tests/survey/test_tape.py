"""How sure a reading is, from the tape's class, its hook and what it touches."""

from __future__ import annotations

import math

import pytest

from fitout.survey.tape import (
    PLACING_U,
    largest_error,
    level_u_deg,
    lining,
    reading,
    tolerated,
)


def test_a_length_counts_by_whole_metres_upwards() -> None:
    assert largest_error(1000.0) == largest_error(999.0)
    assert largest_error(1000.1) == pytest.approx(largest_error(1000.0) + 0.2)
    assert largest_error(0.0) == pytest.approx(0.3)


def test_better_tapes_and_no_hook_are_surer() -> None:
    classes = [reading(1046.0, tape).u for tape in ("I", "II", "III")]
    assert classes == sorted(classes)
    assert reading(1046.0, hooked=True).shared > reading(1046.0).shared


def test_a_reading_is_its_parts() -> None:
    taken = reading(2300.0)
    tape = 0.9 / math.sqrt(3.0)
    each_end = 0.5 / math.sqrt(3.0)
    assert taken.shared == pytest.approx(tape)
    assert taken.u == pytest.approx(math.sqrt(tape**2 + 2 * each_end**2 + PLACING_U**2))
    hooked = reading(2300.0, hooked=True)
    own = math.sqrt(hooked.u**2 - hooked.shared**2)
    assert own == pytest.approx(math.sqrt(each_end**2 + PLACING_U**2))


def test_a_tolerance_is_a_rectangle_and_all_its_own() -> None:
    assert tolerated(3.0).u == pytest.approx(math.sqrt(3.0))
    assert tolerated(3.0).shared == 0.0
    for tolerance in (0.0, -2.0):
        with pytest.raises(ValueError, match="must be above 0"):
            tolerated(tolerance)


@pytest.mark.parametrize("length", [-1.0, math.nan, math.inf])
def test_no_length(length: float) -> None:
    with pytest.raises(ValueError, match="can't be measured"):
        reading(length)


def test_a_lining_may_stand_off_by_nothing_unless_the_builder_says() -> None:
    mean, u = lining()
    assert mean - u * math.sqrt(3.0) == pytest.approx(0.0)
    mean, u = lining(8.0)
    assert mean - u * math.sqrt(3.0) == pytest.approx(4.0)
    with pytest.raises(ValueError, match="must be above 0"):
        lining(0.0)


def test_a_level_is_good_to_a_few_tenths_of_a_degree() -> None:
    assert 0.2 < level_u_deg() < 0.4
