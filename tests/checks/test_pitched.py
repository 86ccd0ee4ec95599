"""A chest as high as what is left between sill and roof only when it is tilted."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from fitout.checks.going_in import check_going_in
from fitout.checks.pitched import pitched_in
from fitout.checks.subassemblies import sub_assemblies
from fitout.checks.ways_in import way_in
from fitout.model.bay import Bay
from fitout.model.design import BaySpec, OpeningSpec, SectionSpec
from fitout.model.finding import Severity
from fitout.model.spec import Measured
from fitout.survey.bay import build_bay

Make = Callable[..., Any]


def low_inside(lip: float = 150.0) -> Bay:
    """The roof comes down from 720 at the opening to 580 half a metre in, behind a sill."""
    sections = tuple(
        SectionSpec(at=Measured(at), widths={0.0: Measured(1000.0)}, roof=Measured(roof))
        for at, roof in ((0.0, 720.0), (500.0, 580.0), (1000.0, 580.0))
    )
    opening = OpeningSpec(lip=Measured(lip), height=Measured(700.0), widths={0.0: Measured(850.0)})
    return build_bay(BaySpec(sections=sections, front_wall=Measured(1050.0), opening=opening))


def chest_in(subject: Make, module: Make, item: Make, bay: Bay, height: float) -> Any:
    return subject(
        module("a", item("a/chest", (80.0, 980.0), (-400.0, 400.0), (0.0, height))), bay=bay
    )


def test_over_the_sill_and_level_under_the_roof(subject: Make, module: Make, item: Make) -> None:
    looked_at = chest_in(subject, module, item, low_inside(), 480.0)
    (sub,) = sub_assemblies(looked_at)
    entry = way_in(looked_at, sub)
    assert entry.way is None
    assert entry.pitched is not None
    assert entry.found
    assert entry.pitched.low_deg < -2.0
    # Over the sill its underside falls 150 mm along no more than its length.
    assert 0.0 < entry.gap < (700.0 - 150.0 - 480.0) / 2.0 + 1.0
    (found,) = check_going_in(looked_at)
    assert "tilted as it passes the opening, nose down" in found.sentence
    assert found.severity in (Severity.PASS, Severity.CAUTION)


def test_too_high_for_any_pitch(subject: Make, module: Make, item: Make) -> None:
    looked_at = chest_in(subject, module, item, low_inside(), 560.0)
    (sub,) = sub_assemblies(looked_at)
    assert pitched_in(looked_at, sub.bodies, 0.0) is None


def test_too_wide_for_the_opening(subject: Make, module: Make, item: Make) -> None:
    wide = item("a/chest", (80.0, 980.0), (-430.0, 430.0), (0.0, 300.0))
    looked_at = subject(module("a", wide), bay=low_inside())
    (sub,) = sub_assemblies(looked_at)
    assert pitched_in(looked_at, sub.bodies, 0.0) is None


@pytest.mark.parametrize("height", [300.0, 420.0])
def test_what_goes_straight_can_be_pitched_too(
    subject: Make, module: Make, item: Make, height: float
) -> None:
    looked_at = chest_in(subject, module, item, low_inside(), height)
    (sub,) = sub_assemblies(looked_at)
    assert way_in(looked_at, sub).pitched is None
    pitched = pitched_in(looked_at, sub.bodies, 0.0)
    assert pitched is not None
    assert np.isfinite(pitched.gap)


def test_the_higher_it_is_the_less_is_left(subject: Make, module: Make, item: Make) -> None:
    """Between sill and sloping roof the same chest keeps less the higher it is; none at last."""
    found = []
    for height in (440.0, 480.0, 520.0):
        looked_at = chest_in(subject, module, item, low_inside(), height)
        found.append(pitched_in(looked_at, [looked_at.bodies["a/chest"]], 0.0))
    first, second, third = found
    assert first is not None
    assert second is not None
    assert third is None
    assert first.gap > second.gap > 0.0
