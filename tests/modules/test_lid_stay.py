"""Stays of lids: pivots that reach, holes with wood about them, everything bought."""

import math

import pytest

from fitout.mechanics.lids import stay_length
from fitout.model.module import Berth, Module
from fitout.modules.box import BoxSpec, build
from fitout.modules.side_bin import SideBinSpec
from fitout.modules.side_bin import build as build_bin


def box(setting, height: float = 300.0) -> Module:
    berth = Berth(x0=50.0, x1=650.0, y0=-250.0, y1=250.0, z0=0.0, z1=height)
    return build("box", BoxSpec(lid="lift"), berth, setting)


def bin_(setting) -> Module:
    berth = Berth(x0=60.0, x1=860.0, y0=400.0, y1=640.0, z0=0.0, z1=480.0)
    return build_bin("bin", SideBinSpec(sides="left"), berth, setting)


def pivots(module: Module, stay) -> tuple[tuple[float, float], tuple[float, float], float]:
    """Both pivots from the hinge as (out, up), and how far the lid opens."""
    motion = next(m for m in module.motions if m.name == stay.motion)
    out = (-motion.direction[1], motion.direction[0])

    def seen(point):
        dx, dy = point[0] - motion.point[0], point[1] - motion.point[1]
        return dx * out[0] + dy * out[1], point[2] - motion.point[2]

    return seen(stay.on_lid), seen(stay.on_side), motion.travel


@pytest.mark.parametrize("thickness", [9.2, 12.0, 17.6])
@pytest.mark.parametrize("make", [box, bin_])
def test_a_stay_is_taut_when_the_lid_is_open_and_folds_when_shut(bays, setting_of, make, thickness):
    setting = setting_of(bays["van"], thickness)
    module = make(setting)
    assert module.stays
    assert {m.stop for m in module.motions} == {"the stay"}
    for stay in module.stays:
        row = setting.catalogue.articles[stay.article]
        on_lid, on_side, travel = pivots(module, stay)
        lengths = [stay_length(on_lid, on_side, travel * i / 50.0) for i in range(51)]
        assert row.length - 4.0 <= lengths[-1] <= row.length
        assert max(lengths) <= row.length
        assert min(lengths) >= row.length - row.stroke


@pytest.mark.parametrize("make", [box, bin_])
def test_both_plates_are_drilled_and_bolted(bays, setting_of, make, faults_of):
    setting = setting_of(bays["van"], 12.0)
    module = make(setting)
    bought = {h.article: h.quantity for h in module.hardware if h.purpose == "lid stay"}
    holes = [h for p in module.panels for h in p.holes if h.purpose == "lid stay"]
    assert len(holes) == 4 * len(module.stays)
    assert bought["lock nut M4"] == len(holes)
    assert sum(n for a, n in bought.items() if "bolt" in a) == len(holes)
    assert sum(n for a, n in bought.items() if a.startswith("lid stay")) == len(module.stays)
    assert faults_of(module, setting) == []


def test_the_plates_lie_round_their_pivots_beside_the_upright(bays, setting_of):
    module = box(setting_of(bays["van"], 12.0))
    (stay,) = module.stays
    panels = {p.id: p for p in module.panels}
    lid = [h for h in panels[stay.lid].holes if h.purpose == "lid stay"]
    u, v = panels[stay.lid].local(stay.on_lid)
    assert sorted(h.x for h in lid) == pytest.approx([u - 10.0, u + 10.0])
    assert {h.y for h in lid} == {v}
    side = panels[stay.side]
    away = abs(
        sum(
            (a - b) * w
            for a, b, w in zip(stay.on_side, side.placement.origin, side.placement.w, strict=True)
        )
    )
    assert min(away, abs(away - side.thickness)) == pytest.approx(10.0)
    heights = [h.y for h in side.holes if h.purpose == "lid stay"]
    assert math.isclose(max(heights) - min(heights), 20.0)


def test_a_box_too_low_for_any_stay_has_one_left_to_place(bays, setting_of):
    module = box(setting_of(bays["van"], 12.0), height=60.0)
    bought = {h.article: h.quantity for h in module.hardware if h.purpose == "lid stay"}
    assert module.stays == ()
    assert bought == {"lid stay": 1, "wood screw 3.5 x 16": 4}
