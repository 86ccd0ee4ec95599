"""Latches under hinged lids of bins and boxes."""

import pytest

from fitout.checks.latch_fit import faults, meeting
from fitout.model.fault import DesignError
from fitout.model.module import Berth, MotionKind
from fitout.modules.box import BoxSpec
from fitout.modules.box import build as build_box
from fitout.modules.side_bin import SideBinSpec
from fitout.modules.side_bin import build as build_bin

BOX = Berth(x0=50.0, x1=650.0, y0=-200.0, y1=200.0, z0=0.0, z1=300.0)


@pytest.fixture
def van(bays, setting_of):
    return lambda thickness=12.0: setting_of(bays["van"], thickness)


@pytest.mark.parametrize("thickness", [9.0, 12.0, 17.6])
@pytest.mark.parametrize("width", [200.0, 400.0, 800.0])
@pytest.mark.parametrize("length", [200.0, 600.0])
def test_a_box_lid_is_held_at_its_rear_edge(van, faults_of, thickness, width, length):
    setting = van(thickness)
    berth = Berth(x0=50.0, x1=50.0 + length, y0=-width / 2.0, y1=width / 2.0, z0=0.0, z1=300.0)
    module = build_box("box", BoxSpec(lid="lift"), berth, setting)
    swings = {m.name: m for m in module.motions if m.kind is MotionKind.HINGE}
    assert {latch.motion for latch in module.latches} == set(swings)
    parts = {p.id: p for p in module.parts()}
    for latch in module.latches:
        assert list(faults(latch, swings[latch.motion], parts)) == []
        assert meeting(latch).engagement == pytest.approx(6.0)
        assert latch.striker_panel.startswith("box/rear")
    assert faults_of(module, setting) == []


def test_the_catch_hangs_under_the_lid_beside_the_finger_hole(van):
    """Under the lid at 288, its end 10.5 off the rear end's inner face at 62."""
    module = build_box("box", BoxSpec(lid="lift", dividers=0), BOX, van())
    (latch,) = module.latches
    assert latch.type.key == "finger catch"
    assert latch.root == pytest.approx((72.5, 74.0, 288.0))
    assert latch.strikes == pytest.approx((62.0, 74.0, 282.5))
    assert (latch.normal, latch.throw) == ((0.0, 0.0, -1.0), (-1.0, 0.0, 0.0))
    assert latch.lever == (0.0, -1.0, 0.0)


def test_a_lid_with_no_room_for_a_catch_gets_a_button(van):
    berth = Berth(x0=50.0, x1=650.0, y0=-150.0, y1=150.0, z0=0.0, z1=300.0)
    for thickness, latch in ((12.0, "push-button latch"), (9.0, "turn latch")):
        module = build_box("box", BoxSpec(lid="lift", dividers=1), berth, van(thickness))
        assert [found.type.key for found in module.latches] == [latch]
        assert module.latches[0].lever is None


def test_compartments_too_narrow_for_any_have_none(van):
    module = build_box("box", BoxSpec(lid="lift", dividers=7), BOX, van())
    assert module.latches == ()


def test_both_bins_of_a_pair_are_held_alike(van):
    setting = van()
    found = []
    for side, sign in (("left", 1.0), ("right", -1.0)):
        y = sorted((sign * 450.0, sign * 690.0))
        berth = Berth(x0=20.0, x1=1500.0, y0=y[0], y1=y[1], z0=0.0, z1=420.0)
        module = build_bin("bin", SideBinSpec(sides=side), berth, setting)
        swings = {m.name: m for m in module.motions}
        assert {latch.motion for latch in module.latches} == set(swings)
        parts = {p.id: p for p in module.parts()}
        for latch in module.latches:
            assert list(faults(latch, swings[latch.motion], parts)) == []
            assert latch.throw == pytest.approx((0.0, -sign, 0.0))
            assert sign * latch.root[1] == pytest.approx(450.0 + 12.0 + 10.5)
        found.append(module)
    assert len(found[0].latches) == len(found[1].latches) > 0


@pytest.mark.parametrize("kind", ["finger catch", "push-button latch", "turn latch"])
def test_the_latch_asked_for_is_the_one_built(van, kind):
    module = build_box("box", BoxSpec(lid="lift", latch=kind), BOX, van())
    assert [latch.type.key for latch in module.latches] == [kind]


def test_none_means_none(van):
    assert build_box("box", BoxSpec(lid="lift", latch="none"), BOX, van()).latches == ()


def test_a_lid_too_thin_for_the_latch_asked_for_is_told(van):
    with pytest.raises(DesignError) as caught:
        build_box("box", BoxSpec(lid="lift", latch="push-button latch"), BOX, van(9.0))
    (fault,) = caught.value.faults
    assert fault.path == ("modules", "box", "latch")
    assert fault.hint == "These serve: finger catch, turn latch."
