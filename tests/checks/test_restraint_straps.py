"""Straps round a tank: tension by statics, labels not read, more straps."""

import dataclasses
import math
from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.restraint_cases import crash, everyday
from fitout.checks.restraint_straps import strapped
from fitout.model.finding import Severity

Make = Callable[..., Any]
TANK = "tank: {kind: water tank, item: tank}"
LABEL = "catalogue: {articles: {cam strap 25: {like: cam strap 25, rating_n: %d}}}"


def test_a_label_not_read_is_unchecked(evaluated: Make, only: Make) -> None:
    (found,) = only(evaluated(TANK), "strap")
    assert found.severity is Severity.UNCHECKED
    assert "daN on the road and" in found.sentence


def test_tension(evaluated: Make) -> None:
    """Fore and aft at 45 degrees; upwards on two legs, with fences not counted."""
    subject = evaluated(TANK).subject
    (thing,) = strapped(subject)
    weight = thing.mass_kg * 9.80665
    braking = everyday(subject)[0]
    expected = weight * 0.8 / (thing.count * math.cos(math.radians(45.0)))
    assert thing.tension_n(braking) == pytest.approx(expected)
    up = next(c for c in crash(subject) if c.way[2])
    assert thing.tension_n(up) == pytest.approx(10.0 * weight / (2.0 * thing.count))
    fenced = dataclasses.replace(thing, fenced=frozenset({"front", "rear"}))
    assert fenced.tension_n(braking) == 0.0


@pytest.mark.parametrize(
    ("rating", "road", "thrown"),
    [
        (20_000, Severity.PASS, Severity.PASS),
        (1000, Severity.PASS, Severity.CAUTION),
        (20, Severity.FAIL, Severity.CAUTION),
    ],
)
def test_a_label_read(
    evaluated: Make, only: Make, rating: int, road: Severity, thrown: Severity
) -> None:
    found = evaluated(TANK, more=LABEL % rating)
    (told,) = only(found, "strap")
    (crashed,) = only(found, "strap in a crash")
    assert (told.severity, crashed.severity) == (road, thrown)
    if thrown is Severity.CAUTION:
        assert "such straps would hold it" in crashed.sentence
