"""Sums of tolerances against three published articles on tolerance stack-up.

1. A published article on tolerance stack-up, worked example: 40.00 ± 0.10, less 25.00 ± 0.05,
   2.00 ± 0.03 and 10.00 ± 0.05. Inputs and nominal gap (3.00) as printed; worst case ± 0.23
   and root sum of squares ± 0.126 reckoned again from them.
2. Another, worked example: a gap of 0.020 from ± 0.005, ± 0.003, ± 0.002 and ± 0.005; worst
   case ± 0.015 and root sum of squares ± 0.00794 as printed, and reckoned again.
3. A third: ten terms of ± 0.1; worst case ± 1.0 and root sum of squares ± 0.316 as printed.

The second method is a draw of the terms. The first and third are also put together as parts
in a bay, so that the same numbers come out of a gap's stack-up.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest

from fitout import catalogue
from fitout.checks import Subject, subject_of
from fitout.checks.stack import Stack, stack_of
from fitout.model.cutting import CuttingSpec
from fitout.model.design import BaySpec, ClearanceSpec, SectionSpec
from fitout.model.module import Fitout, Joint, JointKind, Module
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Panel
from fitout.model.placement import across
from fitout.model.spec import Measured
from fitout.model.stock import Board
from fitout.modules.kind import Setting
from fitout.survey.adjusted import survey_of
from fitout.survey.bay import build_bay
from fitout.survey.uncertainty import rectangular, root_sum_square, worst_case

ARTICLES = [
    ((0.10, 0.05, 0.03, 0.05), 0.23, 0.126, 5e-4),
    ((0.005, 0.003, 0.002, 0.005), 0.015, 0.00794, 5e-6),
    ((0.1,) * 10, 1.0, 0.316, 5e-4),
]


@pytest.mark.parametrize(("tolerances", "worst", "statistical", "printed"), ARTICLES)
def test_sums(
    tolerances: Sequence[float], worst: float, statistical: float, printed: float
) -> None:
    assert worst_case(tolerances) == pytest.approx(worst, abs=1e-12)
    assert root_sum_square(tolerances) == pytest.approx(statistical, abs=printed)


@pytest.mark.parametrize(("tolerances", "worst", "statistical", "printed"), ARTICLES)
def test_against_drawing(
    tolerances: Sequence[float], worst: float, statistical: float, printed: float
) -> None:
    """Terms of a third of their tolerance: three sigma of the sum; none beyond the worst case."""
    random = np.random.default_rng(5)
    normal = sum(random.normal(0.0, t / 3.0, 400_000) for t in tolerances)
    assert 3.0 * np.std(normal) == pytest.approx(statistical, rel=5e-3)
    even = sum(random.uniform(-t, t, 400_000) for t in tolerances)
    assert np.max(np.abs(even)) <= worst
    assert np.std(even) == pytest.approx(rectangular(root_sum_square(tolerances)), rel=5e-3)


def sheet(key: str, thickness: float, tolerance: float) -> Board:
    return Board(
        key=key,
        nominal=thickness,
        thickness=thickness,
        thickness_tolerance=tolerance,
        density_kg_m3=700.0,
        length=2500.0,
        width=1250.0,
        e_along_mpa=10000.0,
        e_across_mpa=6000.0,
        shear_mpa=600.0,
        strength_along_mpa=40.0,
        strength_across_mpa=30.0,
        source="invented",
    )


def in_a_row(length: Measured, terms: Sequence[tuple[float, float]]) -> Stack:
    """The gap between a wall so far ahead and sheets standing one against the other.

    The first sheet, which bears them all, ends where lengths begin and is exact.
    """
    boards = [sheet("start", 10.0, 0.0)]
    boards += [sheet(f"term {k}", *term) for k, term in enumerate(terms, start=1)]
    panels, x = [], -10.0
    for board in boards:
        outline, place = Outline(rectangle(200.0, 100.0)), across(x, -100.0, 0.0)
        panels.append(
            Panel(name=board.key, module="m", outline=outline, board=board, placement=place)
        )
        x += board.thickness
    ids = ["bay/floor", *(panel.id for panel in panels)]
    joints = [Joint(a, b, JointKind.SCREWED) for a, b in zip(ids[1:], ids[:-1], strict=True)]
    subject = put_together(
        length, Module(name="m", kind="box", berth=None, panels=tuple(panels), joints=tuple(joints))
    )
    stack = stack_of(subject, ids[-1], "bay/front wall")
    assert stack is not None
    return stack


def put_together(length: Measured, module: Module) -> Subject:
    section = SectionSpec(at=Measured(0.0), widths={0.0: Measured(1200.0)}, roof=Measured(900.0))
    spec = BaySpec(sections=(section,), front_wall=length)
    bay, rows = build_bay(spec), catalogue.load({})
    setting = Setting(
        bay=bay,
        boards={role: rows.sheets[key] for role, key in catalogue.DEFAULT_BOARDS.items()},
        items={},
        catalogue=rows,
        rules=ClearanceSpec(),
        specs={},
    )
    fitout = Fitout(name="Row", bay=bay, modules=(module,))
    return subject_of(fitout, setting, CuttingSpec(), (), survey=survey_of(spec))


def half_widths(stack: Stack) -> list[float]:
    """The ranges of all inputs but where the sheets stand, which no article knows."""
    return [math.sqrt(3.0) * d.u for d in stack.drivers if d.name != "where m is fixed"]


def test_the_first_article_as_parts_in_a_bay() -> None:
    stack = in_a_row(Measured(40.0, 0.10), [(25.0, 0.05), (2.0, 0.03), (10.0, 0.05)])
    assert stack.gap == pytest.approx(3.00, abs=1e-6)
    found = half_widths(stack)
    assert sorted(found) == pytest.approx([0.03, 0.05, 0.05, 0.10], abs=1e-6)
    assert worst_case(found) == pytest.approx(0.23, abs=1e-6)
    assert root_sum_square(found) == pytest.approx(0.126, abs=5e-4)
    # With where they stand, to ± 1.5 mm, the stack-up is whole.
    assert stack.gap - stack.worst == pytest.approx(0.23 + 1.5, abs=1e-6)
    assert stack.rss == pytest.approx(math.hypot(root_sum_square(found), 1.5), abs=1e-6)


def test_the_third_article_as_parts_in_a_bay() -> None:
    """A wall and nine sheets."""
    stack = in_a_row(Measured(100.0, 0.1), [(10.0, 0.1)] * 9)
    assert stack.gap == pytest.approx(10.0, abs=1e-6)
    found = half_widths(stack)
    assert len(found) == 10
    assert worst_case(found) == pytest.approx(1.0, abs=1e-5)
    assert root_sum_square(found) == pytest.approx(0.316, abs=5e-4)
