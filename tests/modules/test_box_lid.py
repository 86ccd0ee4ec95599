"""Lids of a box: sizes, hinge, swing and what they bear."""

import itertools
import math

import pytest

from fitout.model.module import Berth, MotionKind
from fitout.modules.box import BoxSpec, build
from fitout.survey.room import roof_height

BERTH = Berth(x0=50.0, x1=650.0, y0=-200.0, y1=200.0, z0=0.0, z1=300.0)


def panel(module, name):
    return next(p for p in module.panels if p.name == name)


@pytest.fixture
def setting(bays, setting_of):
    return setting_of(bays["van"], 12.0)


def test_a_lid_that_swings_up(setting):
    """A strip of 60 along the front, 1 between, 1.5 to either edge; it opens by 95°."""
    module = build("box", BoxSpec(lid="lift"), BERTH, setting)
    strip, lid = panel(module, "strip"), panel(module, "lid")
    assert strip.outline.size == (60.0, 400.0)
    assert lid.outline.size == (600.0 - 60.0 - 1.0, 400.0 - 3.0)
    (swing,) = [m for m in module.motions if m.kind is MotionKind.HINGE]
    assert swing.point == (589.0, -200.0, 300.0)
    assert swing.direction == (0.0, 1.0, 0.0)
    assert swing.travel == 95.0
    assert lid.moves == swing.name
    (hole,) = lid.outline.inner
    assert hole.bounds[0] > 12.0


@pytest.mark.parametrize("thickness", [12.0, 15.0, 17.6])
def test_a_lid_and_its_strip_are_drilled_for_the_hinge(bays, setting_of, faults_of, thickness):
    """On the upper faces, 8 off the middle of the gap of 1; a screw for every hole."""
    setting = setting_of(bays["van"], thickness)
    module = build("box", BoxSpec(lid="lift", dividers=2), BERTH, setting)
    strip, lid = panel(module, "strip"), panel(module, "lid")
    found = {p.name: [h for h in p.holes if h.purpose == "hinge screw"] for p in (strip, lid)}
    assert {h.x for h in found["strip"]} == {7.5}
    assert {round(lid.outline.size[0] - h.x, 6) for h in found["lid"]} == {7.5}
    for holes in found.values():
        ys = sorted(h.y for h in holes)
        assert max(b - a for a, b in itertools.pairwise(ys)) <= 84.0
        assert {h.depth for h in holes} < {10.0, 11.0, 15.0}
    bought = {line.purpose: line.quantity for line in module.hardware}
    assert bought["lid hinge"] == len(found["strip"]) + len(found["lid"])
    assert faults_of(module, setting) == []


def test_a_lid_under_a_low_roof_opens_as_far_as_it_goes(setting):
    """Its rear edge rises by length × sin; the roof leaves 200 less 1.5 above the box."""
    roof = roof_height(setting.bay, 50.0, 650.0, clear=setting.rules.moving)
    high = Berth(x0=50.0, x1=650.0, y0=-200.0, y1=200.0, z0=0.0, z1=roof - 200.0)
    module = build("box", BoxSpec(lid="lift"), high, setting)
    (swing,) = [m for m in module.motions if m.kind is MotionKind.HINGE]
    assert swing.travel == math.floor(math.degrees(math.asin(200.0 / 539.0)))


def test_a_lid_that_lifts_off_lies_on_cleats(setting):
    """Between walls of 12, 1.5 off all round; lifted straight up by 100."""
    module = build("box", BoxSpec(lid="loose"), BERTH, setting)
    lid = panel(module, "lid")
    assert lid.outline.size == (600.0 - 27.0, 400.0 - 27.0)
    for side in ("right", "left"):
        cleat = panel(module, f"{side} cleat")
        assert cleat.outline.size == (600.0 - 24.0, 20.0)
        assert cleat.placement.origin[2] == lid.placement.origin[2] - 20.0
        assert any({j.a, j.b} == {"box/lid", cleat.id} for j in module.joints)
    (lifts,) = [m for m in module.motions if m.kind is MotionKind.REMOVE]
    assert (lifts.direction, lifts.travel) == ((0.0, 0.0, 1.0), 100.0)


@pytest.mark.parametrize("lid", ["lift", "loose"])
def test_a_lid_bears_a_knee_between_its_uprights(setting, lid):
    module = build("box", BoxSpec(lid=lid, dividers=1), BERTH, setting)
    (duty,) = [d for d in module.plates if d.panel == "box/lid"]
    assert duty.patch
    assert duty.edges == "v ends"
    assert duty.spans[1] == pytest.approx((400.0 - 3.0 * 12.0) / 2.0, abs=30.0)
