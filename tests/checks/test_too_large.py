from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from fitout.checks.too_large import extent_of, proof_of
from fitout.clearance.convex import hull_of
from fitout.model.bay import Bay
from fitout.model.design import BaySpec, OpeningSpec, SectionSpec
from fitout.model.spec import Measured
from fitout.survey.bay import build_bay

Make = Callable[..., Any]


def behind(width: float, height: float, upper: float | None = None) -> Bay:
    """A plain bay behind an opening, narrower at its upper edge where `upper` says so."""
    section = SectionSpec(at=Measured(0.0), widths={0.0: Measured(1200.0)}, roof=Measured(900.0))
    widths = {0.0: Measured(width)} | ({height: Measured(upper)} if upper else {})
    opening = OpeningSpec(height=Measured(height), widths=widths)
    return build_bay(BaySpec(sections=(section,), front_wall=Measured(1000.0), opening=opening))


def bodies(subject: Make, module: Make, *parts: Any) -> list[Any]:
    looked_at = subject(module("a", *parts))
    return [looked_at.bodies[p.id] for p in parts]


def test_the_extent_of_openings() -> None:
    plain, tapered = extent_of(behind(700.0, 500.0)), extent_of(behind(700.0, 500.0, 500.0))
    assert (plain.width, plain.height, plain.area) == pytest.approx((700.0, 500.0, 350_000.0))
    assert tapered.width == pytest.approx(700.0)
    assert 600.0 * 500.0 <= tapered.area <= 700.0 * 500.0


@pytest.mark.parametrize(("size", "proved"), [(499.0, False), (501.0, True)])
def test_a_ball_as_high_as_the_opening(
    subject: Make, module: Make, item: Make, size: float, proved: bool
) -> None:
    cube = item("a/cube", (0.0, size), (0.0, size), (0.0, size))
    proof = proof_of(behind(700.0, 500.0), bodies(subject, module, cube))
    assert (proof is not None) is proved
    if proof:
        assert "nowhere more than 500 mm high" in proof.words


def test_a_long_bar_as_thick_as_the_opening_is_small(
    subject: Make, module: Make, item: Make
) -> None:
    """A slab 900 by 900 by 300 halves to at least 186 000 mm²; the opening has 175 000."""
    slab = item("a/slab", (0.0, 900.0), (0.0, 900.0), (0.0, 300.0))
    proof = proof_of(behind(500.0, 350.0), bodies(subject, module, slab))
    assert proof is not None
    assert "cut in half anywhere" in proof.words


def test_what_is_hollow_is_not_judged_by_its_hull(subject: Make, module: Make, panel: Make) -> None:
    shelves = [panel(f"a/{k}", (0.0, 600.0), (0.0, 600.0), 300.0 * k) for k in range(3)]
    assert proof_of(behind(620.0, 30.0), bodies(subject, module, *shelves)) is None


@pytest.mark.parametrize("seed", range(20))
def test_no_halving_section_is_smaller_than_the_bound(seed: int) -> None:
    """Planes through random convex bodies, shifted until they halve them, by bisection."""
    rng = np.random.default_rng(seed)
    points = rng.normal(size=(12, 3)) * rng.uniform(50.0, 500.0, 3)
    solid = hull_of(points)
    diameter = np.linalg.norm(points[:, None] - points[None], axis=2).max()
    for normal in rng.normal(size=(10, 3)):
        unit = tuple(normal / np.linalg.norm(normal))
        low, high = (float(f(points @ np.array(unit))) for f in (np.min, np.max))
        for _ in range(30):
            middle = (low + high) / 2.0
            upper, _ = solid.split_by_plane(unit, middle)
            low, high = (middle, high) if upper.volume() > solid.volume() / 2.0 else (low, middle)
        thick = 1e-3 * (points @ np.array(unit)).std()
        slab = solid.split_by_plane(unit, low - thick)[0].split_by_plane(unit, low + thick)[1]
        assert slab.volume() / (2.0 * thick) >= solid.volume() / diameter
