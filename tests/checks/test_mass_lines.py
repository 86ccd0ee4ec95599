"""The ledger of hand-made modules: every line by hand."""

import dataclasses
import math
from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.ledger import Known, combined_u, summed
from fitout.checks.mass_lines import contents_lines, empty_lines, held_lines
from fitout.model.hardware import HardwareLine
from fitout.model.module import Joint, JointKind, PlateDuty
from fitout.model.stock import Board

Make = Callable[..., Any]


def test_panels_of_one_sheet_err_together(
    subject: Make, module: Make, panel: Make, board: Board
) -> None:
    """3.5 kg each; ± 0.3 of 10 mm and 4.5 % of density are 4.8 %, for both at once."""
    first = panel("a/one", (0.0, 1000.0), (0.0, 500.0), 100.0)
    second = panel("a/two", (0.0, 1000.0), (0.0, 500.0), 200.0)
    lines = empty_lines(subject(module("a", first, second)))
    share = math.hypot(0.3 / math.sqrt(3.0) / 10.0, 0.045)
    assert [x.mass_kg for x in lines] == [pytest.approx(3.5)] * 2
    assert [x.u_kg for x in lines] == [pytest.approx(3.5 * share)] * 2
    assert [x.known for x in lines] == [Known.COMPUTED] * 2
    assert summed(lines).u_kg == pytest.approx(7.0 * share)
    assert summed(lines).centre == pytest.approx((500.0, 250.0, 155.0))


def test_hardware_is_told_by_article_amid_its_module(
    subject: Make, module: Make, item: Make
) -> None:
    box = item("a/box", (0.0, 200.0), (0.0, 100.0), (0.0, 100.0))
    bolts = [
        HardwareLine(article="bolt M8 x 40", quantity=n, module="a", purpose=p)
        for n, p in ((2, "one"), (3, "another"))
    ]
    looked_at = subject(module("a", box, hardware=tuple(bolts)))
    box_line, bolt_line = empty_lines(looked_at)
    each = looked_at.setting.catalogue.goods["bolt M8 x 40"].mass_kg
    assert (bolt_line.name, bolt_line.kind) == ("5 x bolt M8 x 40", "hardware")
    assert bolt_line.mass_kg == pytest.approx(5.0 * each)
    assert bolt_line.known is Known.CATALOGUE
    assert bolt_line.centre == box_line.centre == (100.0, 50.0, 50.0)
    assert (box_line.known, box_line.u_kg) == (Known.ENTERED, pytest.approx(0.2))


def test_a_designs_items_are_as_entered_and_water_by_volume(evaluated: Make) -> None:
    modules = (
        "fridge: {kind: fridge slide, item: fridge}",
        "tank: {kind: water tank, item: tank, between: [front_wall, fridge]}",
    )
    guessed = evaluated(*modules).subject
    (line,) = [x for x in empty_lines(guessed) if x.name == "fridge"]
    assert (line.known, line.u_kg) == (Known.ENTERED, pytest.approx(0.75))
    held = {x.group: x for x in held_lines(guessed)}
    assert held["fridge"].mass_kg == 10.0
    assert held["fridge"].kind == "contents"
    assert held["tank"].kind == "water"
    assert held["tank"].kg_per_litre == pytest.approx(0.9982, abs=1e-4)
    assert held["tank"].name == "20 l of water in tank"
    slides = [x for x in empty_lines(guessed) if x.basis.startswith("catalogue: ")]
    assert slides
    assert all(x.known is Known.CATALOGUE for x in slides)


def test_a_scale_makes_it_surer(evaluated: Make) -> None:
    more = "  ice box: {size: 400 x 300 x 300, mass: 9 kg, weighed_to: 0.3 kg}"
    found = evaluated("cold: {kind: fridge slide, item: ice box}", more=more).subject
    (line,) = [x for x in empty_lines(found) if x.name == "ice box"]
    assert line.known is Known.WEIGHED
    assert line.u_kg == pytest.approx(0.3 / math.sqrt(3.0))
    assert line.basis == "weighed, ± 0.3 kg"


def test_tools_on_foam_are_not_what_the_base_carries_besides(
    subject: Make, module: Make, panel: Make, item: Make, board: Board
) -> None:
    foam = dataclasses.replace(board, key="foam", kind="foam")
    base = panel("a/base", (0.0, 400.0), (0.0, 300.0), 0.0)
    layer = panel("a/layer", (0.0, 400.0), (0.0, 300.0), 10.0, board=foam)
    tool = item("a/hammer", (0.0, 100.0), (0.0, 100.0), (20.0, 50.0))
    shelf = panel("a/shelf", (0.0, 400.0), (0.0, 300.0), 300.0)
    plates = tuple(
        PlateDuty(panel=p, load_kg=4.0, spans=(400.0, 300.0), edges="all", purpose="")
        for p in ("a/base", "a/shelf")
    )
    whole = module("a", base, layer, tool, shelf, plates=plates)
    joints = (
        Joint("a/hammer", "a/layer", JointKind.RESTS),
        Joint("a/layer", "a/base", JointKind.RESTS),
    )
    lines = list(contents_lines(subject(whole, joints=joints), whole))
    assert [x.name for x in lines] == ["on shelf"]


def test_a_lever_on_uncertainty(subject: Make, module: Make, item: Make) -> None:
    """0.2 kg at 100 mm and 0.2 at 300 mm, each turned about 0: 20 and 60 kg mm."""
    near = item("a/near", (0.0, 200.0), (0.0, 100.0), (0.0, 100.0))
    far = item("a/far", (200.0, 400.0), (0.0, 100.0), (0.0, 100.0))
    lines = empty_lines(subject(module("a", near, far)))
    assert combined_u(lines, (0.0, 1.0)) == pytest.approx(math.hypot(20.0, 60.0))
