"""Permissible errors of tapes against Directive 2014/32/EU, Annex X (MI-008), chapter I.

Also published as schedule 1I of the Measuring Instruments Regulations 2016 (UK SI 2016/1153).
Table 1 gives a, b and c of classes I, II and III; the error is ± (a + b L) mm with L in
metres, rounded up to the next whole metre, and c more where the tape begins in a hook.
"""

from __future__ import annotations

import math

import pytest

from fitout.model.notes import TapeClass
from fitout.survey.tape import PLACING_U, largest_error, reading


@pytest.mark.parametrize(
    ("tape", "a", "b", "c"), [("I", 0.1, 0.1, 0.1), ("II", 0.3, 0.2, 0.2), ("III", 0.6, 0.4, 0.3)]
)
def test_table_1(tape: TapeClass, a: float, b: float, c: float) -> None:
    for metres in (1, 2, 3, 5, 8):
        straight = largest_error(1000.0 * metres, tape)
        assert straight == pytest.approx(a + b * metres)
        assert largest_error(1000.0 * metres, tape, hooked=True) == pytest.approx(straight + c)


@pytest.mark.parametrize(
    ("length", "errors"), [(2300.0, (0.4, 0.9, 1.8)), (4600.0, (0.6, 1.3, 2.6))]
)
def test_worked_lengths(length: float, errors: tuple[float, ...]) -> None:
    assert [largest_error(length, tape) for tape in ("I", "II", "III")] == pytest.approx(errors)


def test_from_the_hook() -> None:
    assert largest_error(2300.0, "II", hooked=True) == pytest.approx(1.1)


def test_as_a_standard_uncertainty() -> None:
    """2.3 m, class II, read at both ends: 0.9 / √3, and with both readings 0.661 mm."""
    taken = reading(2300.0, "II")
    assert taken.shared == pytest.approx(0.520, abs=5e-4)
    assert math.sqrt(taken.u**2 - PLACING_U**2) == pytest.approx(0.661, abs=5e-4)
