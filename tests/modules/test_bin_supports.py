"""How near each other a bin's uprights and cross rails stand, and what the top then bears."""

import dataclasses
import itertools

import pytest

from fitout.catalogue import load
from fitout.model.design import BaySpec, ClearanceSpec, SectionSpec
from fitout.model.spec import Measured
from fitout.modules.bin_lids import LONGEST_LID, hinge_line, stretches
from fitout.modules.bin_plan import Box, Compartment, Frame, Plan, plan_of
from fitout.modules.bin_supports import (
    Bearing,
    Field,
    bent_spans,
    crossings,
    fields_of,
    overhang,
    stiffened,
    widest_top,
)
from fitout.modules.knee import bears_knee
from fitout.survey.bay import build_bay

BIRCH = load().sheets["birch ply 12"]
UNKNOWN = dataclasses.replace(BIRCH, e_along_mpa=None)
COVERED = Bearing(top=BIRCH, shelf=BIRCH, carries_kg=10.0, covered=True)


@pytest.fixture
def frame_in():
    """A bin along an upright wall 600 off, from 50 to 1100, deck at 400."""

    def make(**entries):
        section = SectionSpec(
            at=Measured(0.0), widths={0.0: Measured(1200.0)}, roof=Measured(900.0)
        )
        bay = build_bay(BaySpec(sections=(section,), front_wall=Measured(1200.0)))
        usual = {"bay": bay, "side": "left", "rules": ClearanceSpec(), "t": 12.0, "kept": ()}
        usual |= {"x0": 50.0, "x1": 1100.0, "inner": 400.0, "z0": 0.0, "under": 388.0, "z1": 400.0}
        return Frame(**{**usual, **entries})

    return make


def stiff(frame, bearing=COVERED):
    return stiffened(frame, plan_of(frame, LONGEST_LID), bearing)


def test_a_narrow_fixed_top_without_a_rail_stands_on_near_uprights(frame_in):
    """60 wide: too narrow for lids, and a rail under its hinge line would be at the inner wall."""
    frame = frame_in(inner=538.0)
    plan = stiff(frame)
    width = widest_top(frame, (50.0, 1100.0)) - 538.0
    clear = [c.x1 - c.x0 for c in plan.compartments]
    assert max(clear) <= 400.0
    for length in clear:
        assert bears_knee(BIRCH, (length, width), "u ends", grain_along_u=True)
    assert len(plan.uprights) > len(plan_of(frame, LONGEST_LID).uprights)


def test_lids_over_a_rail_need_no_more_uprights(frame_in):
    frame = frame_in()
    assert stiff(frame) == plan_of(frame, LONGEST_LID)


def test_a_board_of_unknown_stiffness_keeps_the_usual_distances(frame_in):
    frame = frame_in(inner=538.0)
    plan = stiff(frame, dataclasses.replace(COVERED, top=UNKNOWN, shelf=UNKNOWN))
    assert max(c.x1 - c.x0 for c in plan.compartments) <= 400.0
    lids = frame_in(inner=200.0)
    assert not list(crossings(lids, stiff(lids), (50.0, 1100.0), UNKNOWN))


def test_a_shelf_stands_on_uprights_so_near_that_it_bears_a_knee(bays):
    """Over the wagon's arch, 524 long, beside an inner wall 460 off."""
    frame = Frame(
        bay=bays["wagon"], side="left", rules=ClearanceSpec(), t=12.0, x0=50.0, x1=1000.0,
        inner=460.0, z0=0.0, under=388.0, z1=400.0, kept=(),
    )  # fmt: skip
    shelves = [c for c in stiff(frame).compartments if c.shelf]
    assert len(shelves) == 2
    heavy = stiff(frame, dataclasses.replace(COVERED, carries_kg=300.0))
    assert len([c for c in heavy.compartments if c.shelf]) > 2


def test_no_upright_stands_in_what_is_kept_clear(frame_in):
    kept = Box(x0=395.0, x1=420.0, s0=500.0, s1=700.0, z0=100.0, z1=200.0)
    frame = frame_in(inner=538.0, kept=(kept,))
    plan = stiff(frame)
    assert not [x for x in plan.uprights if x < 420.0 and x + 12.0 > 395.0]


@pytest.fixture
def wide(frame_in):
    """A bin 400 wide whose lids end 300 short of its front end."""
    above = Box(x0=800.0, x1=1100.0, s0=100.0, s1=700.0, z0=400.0, z1=600.0)
    return frame_in(inner=200.0, above=(above,))


def test_a_wide_top_gets_cross_rails_at_its_seams_and_between(wide):
    plan = stiff(wide)
    (stretch,) = stretches(wide, plan)
    hinge = hinge_line(wide, *stretch)
    found = [x for _, x in crossings(wide, plan, stretch, BIRCH)]
    seam = 800.0 - 1.5
    assert seam - 6.0 in found
    held = sorted([*plan.uprights, *found])
    for a, b in itertools.pairwise(held):
        spans = (b - a - 12.0, hinge - 212.0)
        assert bears_knee(BIRCH, spans, "all", grain_along_u=True)


def test_a_narrow_strip_bears_its_seam_alone(frame_in):
    """From inner wall to hinge line 110: no cross rail under the seam."""
    above = Box(x0=800.0, x1=1100.0, s0=300.0, s1=700.0, z0=400.0, z1=600.0)
    frame = frame_in(inner=436.0, above=(above,))
    plan = stiff(frame)
    (stretch,) = stretches(frame, plan)
    assert list(crossings(frame, plan, stretch, BIRCH)) == []


def test_no_cross_rail_in_what_is_kept_clear(wide):
    kept = Box(x0=780.0, x1=820.0, s0=300.0, s1=330.0, z0=340.0, z1=380.0)
    frame = dataclasses.replace(wide, kept=(kept,))
    plan = stiff(frame)
    for stretch in stretches(frame, plan):
        for _, x in crossings(frame, plan, stretch, BIRCH):
            assert x >= 820.0 or x + 12.0 <= 780.0


def test_without_a_rail_an_upright_stands_under_the_seam(wide):
    """A shelf just below the deck leaves no room for a rail."""
    low = dataclasses.replace(wide, under=45.0, z1=57.0)
    above = dataclasses.replace(wide.above[0], z0=57.0)
    low = dataclasses.replace(low, above=(above,))
    plan = stiff(low)
    assert 800.0 - 1.5 - 6.0 in plan.uprights


def test_fields_between_supports():
    """Supports of 12 at 0, 100 and 300 under a piece from 6 to 400."""
    fields = fields_of([0.0, 300.0, 100.0], 12.0, (6.0, 400.0), ((12.0, 100.0), (112.0, 300.0)))
    assert fields == [
        Field(88.0, held=True, rail=True),
        Field(188.0, held=True, rail=True),
        Field(88.0, held=False, rail=False),
    ]


def test_what_each_sort_of_field_bears():
    """With a rail by all edges or by its sides, without one between its ends."""
    fields = [
        Field(88.0, held=True, rail=True),
        Field(188.0, held=True, rail=True),
        Field(60.0, held=False, rail=True),
        Field(90.0, held=True, rail=False),
        Field(29.0, held=False, rail=False),
    ]
    assert list(bent_spans(fields, (110.0, 160.0))) == [
        ((188.0, 110.0), "all"),
        ((60.0, 110.0), "v ends"),
        ((90.0, 160.0), "u ends"),
    ]


def test_only_what_stands_far_out_beyond_its_rail_counts_as_overhang(frame_in):
    """Wall 598 off less the gap; a rail of 12 at 480 leaves 106, one at 500 leaves 86."""
    frame = frame_in()
    compartment = Compartment(x0=62.0, x1=500.0, bottom=0.0, shelf=False, open_top=False)
    plan = Plan(uprights=(50.0, 500.0), compartments=(compartment,))
    railed = ((62.0, 500.0),)
    far = overhang(frame, plan, (70.0, 512.0), railed, 480.0)
    assert far == pytest.approx((430.0, 598.0 - 480.0), abs=0.5)
    assert overhang(frame, plan, (70.0, 512.0), railed, 500.0) is None
    assert overhang(frame, plan, (70.0, 512.0), (), 480.0) is None
