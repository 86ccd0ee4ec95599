"""Masses and centres of gravity from sizes and densities, by hand."""

import dataclasses
import math
from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.ledger import Load, together
from fitout.checks.mass import check_mass, contents_of, hardware_kg, parts_of
from fitout.model.finding import Severity
from fitout.model.hardware import HardwareLine, Slide
from fitout.model.module import Joint, JointKind, Motion, MotionKind, PlateDuty, SlideDuty

Make = Callable[..., Any]


def test_loads_add_up_at_their_common_centre() -> None:
    whole = together(
        [Load(2.0, (0.0, 10.0, 0.0)), Load(6.0, (8.0, -10.0, 4.0)), Load(0.0, (9, 9, 9))]
    )
    assert whole == Load(8.0, (6.0, -5.0, 3.0))
    assert together([]) == Load(0.0, (0.0, 0.0, 0.0))


def test_a_modules_parts(subject: Make, module: Make, panel: Make, item: Make) -> None:
    """A board of 1000 × 500 × 10 at 700 kg/m³ weighs 3.5 kg; the item 4."""
    board = panel("a/board", (0.0, 1000.0), (0.0, 500.0), 100.0)
    box = item("a/box", (0.0, 200.0), (0.0, 100.0), (110.0, 210.0))
    whole = module("a", board, box)
    load = parts_of(subject(whole), whole)
    assert load.mass_kg == pytest.approx(7.5)
    assert load.centre == pytest.approx(
        (
            (3.5 * 500.0 + 4.0 * 100.0) / 7.5,
            (3.5 * 250.0 + 4.0 * 50.0) / 7.5,
            (3.5 * 105.0 + 4.0 * 160.0) / 7.5,
        )
    )


def test_hardware_weighs_what_the_catalogue_says(subject: Make, module: Make) -> None:
    line = HardwareLine(article="bolt M8 x 40", quantity=5, module="a", purpose="")
    looked_at = subject(module("a", hardware=(line,)))
    each = looked_at.setting.catalogue.articles["bolt M8 x 40"].mass_kg
    assert each > 0.0
    assert hardware_kg(looked_at, looked_at.fitout.modules[0]) == pytest.approx(5.0 * each)


@pytest.fixture
def slide() -> Slide:
    return Slide(
        key="s",
        length=1.0,
        travel=1.0,
        rating_kg=100.0,
        side_clearance=1.0,
        height=1.0,
        mass_pair_kg=1.0,
        locks=False,
        carcass_holes=(),
        drawer_holes=(),
        screw="",
    )


def test_contents_are_counted_once(
    subject: Make, module: Make, panel: Make, item: Make, slide: Slide
) -> None:
    """A fridge's contents belong to the fridge: not again to its slides, nor to its tray."""
    tray = panel("a/tray", (0.0, 500.0), (0.0, 400.0), 50.0, moves="out")
    fridge = item(
        "a/fridge", (0.0, 500.0), (0.0, 400.0), (60.0, 460.0), contents_kg=24.0, moves="out"
    )
    shelf = panel("a/shelf", (0.0, 500.0), (0.0, 400.0), 600.0)
    duty = SlideDuty(name="a/out", slide=slide, moving=("a/tray", "a/fridge"), contents_kg=24.0)
    plates = tuple(
        PlateDuty(panel=p, load_kg=kg, spans=(500.0, 400.0), edges="all", purpose="")
        for p, kg in (("a/tray", 28.0), ("a/shelf", 9.0))
    )
    whole = module("a", tray, fridge, shelf, slides=(duty,), plates=plates)
    looked_at = subject(whole, joints=(Joint("a/fridge", "a/tray", JointKind.RESTS),))
    load = contents_of(looked_at, whole)
    assert load.mass_kg == pytest.approx(24.0 + 9.0)
    assert load.centre[2] == pytest.approx((24.0 * 260.0 + 9.0 * 605.0) / 33.0)


def test_a_drawers_contents_lie_in_the_drawer(
    subject: Make, module: Make, panel: Make, slide: Slide
) -> None:
    base = panel("a/bottom", (100.0, 500.0), (-100.0, 300.0), 50.0, moves="out")
    duty = SlideDuty(name="a/out", slide=slide, moving=("a/bottom",), contents_kg=20.0)
    whole = module("a", base, slides=(duty,))
    load = contents_of(subject(whole), whole)
    assert load == Load(20.0, (300.0, 100.0, 55.0))


def test_the_whole(subject: Make, module: Make, item: Make) -> None:
    """4 kg with 6 in it 100 left, 4 kg 300 right: 14 kg laden, 14.3 right of the middle."""
    left = item("a/box", (0.0, 200.0), (0.0, 200.0), (0.0, 100.0), contents_kg=6.0)
    right = item("b/box", (400.0, 600.0), (-400.0, -200.0), (100.0, 200.0))
    found = list(check_mass(subject(module("a", left), module("b", right))))
    assert [f.code for f in found] == ["module mass", "module mass", "total mass"]
    assert [f.value for f in found] == [4.0, 4.0, 14.0]
    assert found[0].sentence == "a weighs 4.0 kg empty and carries 6.0 kg."
    # (10 · 100 + 4 · 500) / 14, (10 · 100 − 4 · 300) / 14, (10 · 50 + 4 · 150) / 14
    assert found[2].sentence == (
        "The fit-out weighs 8.0 kg empty (standard uncertainty 0.3 kg) and 14.0 kg laden (0.4 kg); "
        "laden, its centre of gravity lies 214 mm forward of the sill, 14 mm right "
        "of the centre line and 79 mm above the floor."
    )
    # 5 % of each mass, which err apart: 0.2 and 0.2, then 0.3 for what is carried.
    assert found[2].u == pytest.approx(math.sqrt(0.2**2 + 0.2**2 + 0.3**2), abs=1e-4)


@pytest.mark.parametrize(("mass", "count"), [(24.0, 0), (26.0, 1)])
def test_what_is_lifted_out_above_25_kg_takes_two(
    subject: Make, module: Make, item: Make, mass: float, count: int
) -> None:
    box = item("a/box", (0.0, 200.0), (0.0, 200.0), (0.0, 100.0), mass_kg=mass)
    lift = Motion(
        name="lift", module="a", kind=MotionKind.REMOVE, direction=(-1.0, 0.0, 0.0), travel=900.0
    )
    found = [f for f in check_mass(subject(module("a", box, motions=(lift,)))) if f.code == "lift"]
    assert len(found) == count
    assert all(f.severity is Severity.CAUTION and f"{mass:.1f} kg" in f.sentence for f in found)
    fixed = dataclasses.replace(module("a", box))
    assert [f for f in check_mass(subject(fixed)) if f.code == "lift"] == []


def test_a_designs_mass_follows_the_board(evaluated: Make, only: Make) -> None:
    drawers = "drawers: {kind: drawers, width: 800, stack: [{carries: 10 kg}]}"
    usual = evaluated(drawers)
    (light,) = only(usual, "module mass")
    (heavy,) = only(
        evaluated(drawers, more="boards: {carcass: {sheet: birch ply 18}}"), "module mass"
    )
    assert light.value is not None
    assert heavy.value is not None
    assert heavy.value > light.value + 3.0
    parts = usual.totals
    whole = sum(parts[k] for k in ("panels_kg", "bars_kg", "items_kg", "hardware_kg"))
    assert whole == pytest.approx(light.value, abs=0.002)
