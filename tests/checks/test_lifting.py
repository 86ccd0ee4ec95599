from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.lifting import check_lifting
from fitout.model.finding import Severity

Make = Callable[..., Any]


def test_the_bulkier_the_less(subject: Make, module: Make, item: Make) -> None:
    """NIOSH: a 300 mm deep load is held 35 cm off, 23 · 25 / 35 = 16.4 kg; 500 mm, 12.8 kg."""
    for depth, limit in ((300.0, 16.43), (500.0, 12.78)):
        box = item("a/box", (0.0, depth), (0.0, 500.0), (0.0, 500.0), mass_kg=20.0)
        (found,) = check_lifting(subject(module("a", box)))
        assert found.severity is Severity.CAUTION
        assert found.limit == pytest.approx(limit, abs=0.01)
        assert "with 2 people" in found.sentence


def test_what_one_person_can_lift_is_no_finding(subject: Make, module: Make, item: Make) -> None:
    box = item("a/box", (0.0, 300.0), (0.0, 500.0), (0.0, 500.0), mass_kg=16.0)
    assert not list(check_lifting(subject(module("a", box))))


def test_beyond_any_reach_two_carry_it(subject: Make, module: Make, item: Make) -> None:
    box = item("a/box", (0.0, 900.0), (-450.0, 450.0), (0.0, 880.0), mass_kg=5.0)
    (found,) = check_lifting(subject(module("a", box)))
    assert found.limit == 0.0
    assert "with 2 people" in found.sentence


def test_what_stands_outside_the_bay_is_left_out(subject: Make, module: Make, item: Make) -> None:
    box = item("a/box", (0.0, 300.0), (0.0, 500.0), (0.0, 500.0), mass_kg=90.0)
    assert not list(check_lifting(subject(module("a", box, in_bay=False))))
