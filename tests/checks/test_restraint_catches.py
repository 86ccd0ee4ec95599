"""Latches and locks on a hill, on the road and in a crash."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.restraint_catches import catches
from fitout.model.finding import Severity

Make = Callable[..., Any]
LATCHED = "drawers: {kind: drawers, width: 500, stack: [{carries: %s kg}], pull: latch}"
LOCKED = "drawers: {kind: drawers, width: 500, stack: [{carries: 20 kg}], slides: heavy locking}"


def test_a_latch_on_a_hill(evaluated: Make, only: Make) -> None:
    found = evaluated(LATCHED % 20)
    (catch,) = catches(found.subject)
    (hill,) = only(found, "hill")
    assert hill.severity is Severity.PASS
    assert hill.limit == pytest.approx(catch.mass_kg * 9.80665 * 0.34202, rel=1e-4)
    assert "on 10°" in hill.sentence


def test_a_latch_that_lets_go_says_from_which_slope(evaluated: Make, only: Make) -> None:
    (hill,) = only(evaluated(LATCHED % 160), "hill")
    assert hill.severity is Severity.FAIL
    assert "It lets go from" in hill.sentence


def test_catches_in_a_crash_are_one_caution(evaluated: Make, only: Make) -> None:
    (found,) = only(evaluated(LATCHED % 20), "catches in a crash")
    assert found.severity is Severity.CAUTION
    assert found.value > 100.0
    assert "these catches let go: drawers/drawer 1" in found.sentence


def test_an_unknown_lock_is_unchecked_and_says_what_it_must_bear(
    evaluated: Make, only: Make
) -> None:
    (found,) = only(evaluated(LOCKED), "lock holds")
    assert found.severity is Severity.UNCHECKED
    assert "`lock_n`" in found.sentence


@pytest.mark.parametrize(("holds", "severity"), [(2000, Severity.PASS), (20, Severity.FAIL)])
def test_a_known_lock(evaluated: Make, only: Make, holds: int, severity: Severity) -> None:
    (key,) = {c.lock for c in catches(evaluated(LOCKED).subject)}
    more = f"catalogue: {{slides: {{{key}: {{like: {key}, lock_n: {holds}}}}}}}"
    found = evaluated(LOCKED, more=more)
    for code in ("hill", "lock holds"):
        (told,) = only(found, code)
        assert told.severity is severity
