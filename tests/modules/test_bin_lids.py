"""Strips, lids and rails of a side bin, and how far the lids open."""

import dataclasses

import pytest

from fitout.model.design import BaySpec, ClearanceSpec, SectionSpec
from fitout.model.spec import Measured
from fitout.modules.bin_lids import (
    hinge_line,
    lid_opens,
    rail_height,
    stretches,
    tops_of,
)
from fitout.modules.bin_plan import Box, Compartment, Frame, Plan, plan_of, with_uprights
from fitout.survey.bay import build_bay


@pytest.fixture
def frame_in():
    """A bin along an upright wall 600 off, inner face 400 off, deck at 400 under a roof at 900."""

    def make(width=1200.0, roof=900.0, **entries):
        section = SectionSpec(at=Measured(0.0), widths={0.0: Measured(width)}, roof=Measured(roof))
        bay = build_bay(BaySpec(sections=(section,), front_wall=Measured(1200.0)))
        usual = {"bay": bay, "side": "left", "rules": ClearanceSpec(), "t": 12.0, "kept": ()}
        usual |= {"x0": 50.0, "x1": 1100.0, "inner": 400.0, "z0": 0.0, "under": 388.0, "z1": 400.0}
        return Frame(**{**usual, **entries})

    return make


def test_the_strip_is_40_wide_at_its_narrowest(frame_in):
    """600 less the scribed gap of 2 and what a scribed edge keeps beyond it, less 40."""
    assert 557.5 < hinge_line(frame_in(), 50.0, 1100.0) <= 558.0


def test_lids_over_the_whole_length_meet_over_an_upright(frame_in):
    frame = frame_in()
    plan = plan_of(frame, 530.0)
    (top,) = tops_of(frame, plan, 50.0, 1100.0)
    assert top.lids
    assert (top.x0, top.x1) == (50.0, 1100.0)
    assert top.hinge == hinge_line(frame, 50.0, 1100.0)
    assert top.seams == (plan.uprights[1] + 6.0,)


def test_a_strip_too_narrow_for_lids_is_one_fixed_piece(frame_in):
    """At 469 off the inner face leaves 89 to the hinge line."""
    frame = frame_in(inner=469.0)
    (top,) = tops_of(frame, plan_of(frame, 530.0), 50.0, 1100.0)
    assert not top.lids


def test_what_stands_above_takes_the_lids_there(frame_in):
    above = Box(x0=800.0, x1=1100.0, s0=300.0, s1=700.0, z0=400.0, z1=600.0)
    frame = frame_in(above=(above,))
    lids, fixed = tops_of(frame, plan_of(frame, 530.0), 50.0, 1100.0)
    assert (lids.lids, fixed.lids) == (True, False)
    assert lids.x1 == fixed.x0 == 800.0 - 1.5
    assert fixed.x1 == 1100.0


def test_lids_that_end_just_beyond_an_upright_end_over_its_middle(frame_in):
    """Free to 798.5: the upright from 780 has its middle 12.5 before that, one from 760 32.5."""
    above = Box(x0=800.0, x1=1100.0, s0=300.0, s1=700.0, z0=400.0, z1=600.0)
    frame = frame_in(above=(above,))
    for upright, end in ((780.0, 786.0), (760.0, 798.5)):
        plan = with_uprights(frame, plan_of(frame, 2000.0), (upright,))
        lids, fixed = tops_of(frame, plan, 50.0, 1100.0)
        assert lids.x1 == fixed.x0 == end


def test_a_lid_opens_by_95_degrees_where_wall_and_roof_let_it(frame_in):
    """Hinged 558 off and 150 wide it leans 13 past upright: 571 of 598.5."""
    assert lid_opens(frame_in(), (50.0, 600.0), 558.0, 150.0) == 95.0


@pytest.mark.parametrize(("hinge", "opens"), [(585.0, 95.0), (586.0, 90.0), (598.0, 90.0)])
def test_near_the_wall_it_stays_more_upright(frame_in, hinge, opens):
    """At 95° it leans out by 150 · cos 85° = 13.07; the wall, 1.5 clear, is at 598.5."""
    assert lid_opens(frame_in(), (50.0, 600.0), hinge, 150.0) == opens


def test_a_low_roof_stops_it(frame_in):
    """150 · sin 50° is 114.9, sin 55° 122.9: 120 and 1.5 above the deck let it open by 50°."""
    frame = frame_in(roof=400.0 + 120.0 + 1.5)
    assert lid_opens(frame, (50.0, 600.0), 500.0, 150.0) == 50.0


def compartment(**entries):
    usual = {"x0": 62.0, "x1": 500.0, "bottom": 0.0, "shelf": False, "open_top": False}
    return Compartment(**{**usual, **entries})


def test_rails_under_the_hinge_line(frame_in):
    """60 high with room for a hand below; lower over a shelf; none right at the inner wall."""
    frame = frame_in()
    assert rail_height(frame, compartment(), 558.0) == 60.0
    high_shelf = compartment(bottom=388.0 - 12.0 - 30.0 - 45.0)
    assert rail_height(frame, high_shelf, 558.0) == 40.0
    assert rail_height(frame, compartment(bottom=340.0), 558.0) is None
    assert rail_height(frame, compartment(), 412.0 + 14.0) is None
    assert rail_height(frame, compartment(), 590.0) is None


def test_a_rail_passes_what_is_kept_clear(frame_in):
    kept = Box(x0=100.0, x1=200.0, s0=500.0, s1=700.0, z0=300.0, z1=340.0)
    frame = frame_in(kept=(kept,))
    assert rail_height(frame, compartment(), 558.0) == 40.0
    taller = dataclasses.replace(kept, z1=400.0)
    assert rail_height(frame_in(kept=(taller,)), compartment(), 558.0) is None


def test_stretches_end_where_the_top_stays_open(frame_in):
    frame = frame_in()
    plan = Plan(
        uprights=(50.0, 300.0, 600.0, 1088.0),
        compartments=(
            compartment(x0=62.0, x1=300.0),
            compartment(x0=312.0, x1=600.0, open_top=True),
            compartment(x0=612.0, x1=1088.0),
        ),
    )
    assert list(stretches(frame, plan)) == [(50.0, 312.0), (600.0, 1100.0)]
    closed = dataclasses.replace(
        plan, compartments=tuple(dataclasses.replace(c, open_top=False) for c in plan.compartments)
    )
    assert list(stretches(frame, closed)) == [(50.0, 1100.0)]
