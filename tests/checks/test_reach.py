"""The barrier's shelf within arm's reach, its opening high enough for a hand."""

import math
from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.reach import check_reach
from fitout.model.design import BaySpec, SeatBackSpec, SectionSpec
from fitout.model.finding import Severity
from fitout.model.item import Zone, block
from fitout.model.module import Access
from fitout.model.placement import flat
from fitout.model.spec import Measured
from fitout.survey.bay import build_bay

Make = Callable[..., Any]


def bay(foot: float, top: float) -> Any:
    """An upright seat back."""
    section = SectionSpec(at=Measured(0.0), widths={0.0: Measured(1200.0)}, roof=Measured(900.0))
    seat = SeatBackSpec(foot=Measured(foot), leans=Measured(0.0), top=Measured(top))
    return build_bay(BaySpec(sections=(section,), seat_back=seat))


def opening(low: float, high: float, x: float) -> Access:
    zone = Zone(name="a hand through the barrier", piece=block(300.0, 400.0, high - low))
    return Access(zone=zone, placement=flat(x - 150.0, -200.0, low))


def test_a_shelf_near_the_sill_is_reached_from_the_tailgate(
    subject: Make, module: Make, panel: Make, only: Make
) -> None:
    shelf = panel("barrier/shelf", (300.0, 500.0), (-400.0, 400.0), 600.0)
    (found,) = only(check_reach(subject(module("barrier", shelf, kind="barrier"))), "reach")
    assert found.value == pytest.approx(400.0)
    assert found.severity is Severity.PASS
    assert "from the tailgate" in found.sentence


def test_a_shelf_far_ahead_is_reached_from_the_seat_through_its_opening(
    subject: Make, module: Make, panel: Make, only: Make
) -> None:
    """The seat back's upper edge at 1000 forward, 600 up: 100 ahead of it, grip 100 beyond 900."""
    shelf = panel("barrier/shelf", (700.0, 900.0), (-400.0, 400.0), 690.0)
    made = module("barrier", shelf, kind="barrier", accesses=(opening(710.0, 800.0, 905.0),))
    (found,) = only(check_reach(subject(made, bay=bay(1000.0, 600.0))), "reach")
    assert found.value == pytest.approx(math.hypot(1100.0 - 900.0 + 100.0, 101.0))
    assert "from the seat" in found.sentence


def test_a_shelf_out_of_reach_is_a_caution(
    subject: Make, module: Make, panel: Make, only: Make
) -> None:
    shelf = panel("barrier/shelf", (700.0, 900.0), (-400.0, 400.0), 690.0)
    (found,) = only(check_reach(subject(module("barrier", shelf, kind="barrier"))), "reach")
    assert found.severity is Severity.CAUTION
    assert found.margin == pytest.approx(650.0 - 800.0)


@pytest.mark.parametrize(
    ("top", "free", "severity"),
    [(600.0, 90.0, Severity.PASS), (735.0, 65.0, Severity.PASS), (750.0, 50.0, Severity.FAIL)],
)
def test_the_seat_back_covers_part_of_a_low_opening(
    subject: Make, module: Make, only: Make, top: float, free: float, severity: Severity
) -> None:
    made = module("barrier", kind="barrier", accesses=(opening(710.0, 800.0, 905.0),))
    (found,) = only(check_reach(subject(made, bay=bay(1000.0, top))), "hand aperture")
    assert found.value == pytest.approx(free)
    assert found.severity is severity


def test_the_wagon_demos_shelf_is_within_reach(demo: Make, only: Make) -> None:
    found = list(check_reach(demo("touring-wagon")))
    assert [f.code for f in found] == ["hand aperture", "reach"]
    assert {f.severity for f in found} == {Severity.PASS}
