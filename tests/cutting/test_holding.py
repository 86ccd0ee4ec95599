"""Screws, leads and pins lie in the waste: clear of parts and of the bit's way round them."""

import dataclasses
import math

import numpy as np
import pytest
import shapely

from fitout.cutting.cut_list import cut_list
from fitout.cutting.holding import (
    EDGE,
    HEAD,
    INTO_OFFCUT,
    lead_ins,
    lying,
    material,
    pins,
    screws,
    worked_from_behind,
)
from fitout.cutting.nest import Effort, nest
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Outline, polygon, rectangle
from fitout.model.panel import Face, Grain, Hole, Pocket

ROUTER = CuttingSpec(by="router", kerf=6.0, spacing=2.0, trim=10.0)
ELL = Outline(polygon([(0, 0), (500, 0), (500, 150), (150, 150), (150, 400), (0, 400)]))


@pytest.fixture(params=range(4))
def job(request, make):
    """A filled sheet, its panels as they lie, and how it is cut."""
    chance = np.random.default_rng(request.param)
    parts = [make(outline=ELL, name="l", grain=Grain.EITHER)]
    for i in range(int(chance.integers(2, 20))):
        length, width = chance.uniform(80, 700), chance.uniform(60, 400)
        parts.append(make(length, width, name=f"p{i}", grain=Grain.EITHER))
    plan = nest(cut_list(parts), ROUTER, Effort(work=400_000))
    sheet = plan.sheets[0]
    return sheet, [lying(placed, plan.cut_list) for placed in sheet.placed]


def test_screws_keep_clear_of_the_bit_and_of_offcuts(job):
    sheet, panels = job
    found = screws(sheet, panels, ROUTER)
    assert found
    for x, y in found:
        spot = shapely.Point(x, y)
        assert min(material(p).distance(spot) for p in panels) >= ROUTER.kerf + HEAD - 1e-3
        assert min(x, y, sheet.board.length - x, sheet.board.width - y) >= EDGE
        for cut in sheet.offcuts:
            box = shapely.box(cut.x, cut.y, cut.x + cut.length, cut.y + cut.width)
            assert not box.buffer(-INTO_OFFCUT).contains(spot)


def test_leads_touch_no_part(job):
    _, panels = job
    found = lead_ins(panels, ROUTER)
    assert None not in found
    for at, own in zip(found, panels, strict=True):
        spot = shapely.Point(at)
        assert min(material(p).distance(spot) for p in panels) >= ROUTER.kerf / 2.0 - 1e-3
        assert material(own).distance(spot) <= ROUTER.kerf / 2.0 + ROUTER.spacing


def test_no_room_to_lead_in_is_told(make):
    """A part fits the cut-out round it with less than the bit's width all round."""
    frame = make(outline=Outline(rectangle(400, 300), (rectangle(200, 100, 100, 100),)))
    inner = make(outline=Outline(rectangle(196, 96, 102, 102)))
    assert lead_ins([frame, inner], ROUTER)[1] is None


def test_pins_only_for_work_from_behind_on_the_middle_line(make):
    plain = make(700, 300)
    far = make(700, 300, pockets=(Pocket(rectangle(50, 20, 100, 100), 4.0, face=Face.B),))
    blind = make(700, 300, holes=(Hole(50, 50, 5.0, 4.0, face=Face.B),))
    through = make(700, 300, holes=(Hole(50, 50, 5.0, None, face=Face.B),))
    assert not worked_from_behind([plain, through])
    assert worked_from_behind([plain, far])
    assert worked_from_behind([blind])
    plan = nest(cut_list([far]), ROUTER, Effort(work=0))
    (sheet,) = plan.sheets
    panels = [lying(placed, plan.cut_list) for placed in sheet.placed]
    first, last = pins(sheet, panels, ROUTER)
    assert first[1] == last[1] == sheet.board.width / 2.0
    assert math.dist(first, last) > sheet.board.length / 2.0
    for at in (first, last):
        assert min(material(p).distance(shapely.Point(at)) for p in panels) >= ROUTER.kerf + HEAD


def test_no_place_for_pins_is_told(make, ply):
    full = make(2420, 1200, grain=Grain.ALONG_U)
    plan = nest(cut_list([full]), ROUTER, Effort(work=0))
    (sheet,) = plan.sheets
    panels = [lying(placed, plan.cut_list) for placed in sheet.placed]
    assert pins(sheet, panels, ROUTER) is None
    assert screws(sheet, panels, ROUTER) == ()
    assert dataclasses.replace(ply) == sheet.board


def test_leads_keep_off_tabs(make):
    panel = make(100.0, 60.0)
    (at,) = lead_ins([panel], ROUTER)
    standing = rectangle(12.0, 12.0, at[0] - 6.0, at[1] - 6.0)
    (other,) = lead_ins([panel], ROUTER, [standing])
    assert other is not None
    assert math.dist(at, other) > 9.0
