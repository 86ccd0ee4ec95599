"""Where the uprights of a side bin stand, and what lies between them."""

import dataclasses
import itertools

import pytest

from fitout.model.design import ClearanceSpec, KeepClearSpec
from fitout.modules.bin_plan import (
    LEAST_COMPARTMENT,
    Box,
    Frame,
    free_heights,
    kept_clear,
    parted_arch,
    plan_of,
)
from fitout.survey.bay import build_bay

JACK = KeepClearSpec(name="jack", side="left", start=120.0, end=300.0, reach=90.0, up_to=210.0)


def box(x=(0.0, 1.0), s=(0.0, 1.0), z=(0.0, 1.0)):
    return Box(x0=x[0], x1=x[1], s0=s[0], s1=s[1], z0=z[0], z1=z[1])


@pytest.fixture
def frame_in(bays):
    """A bin 50 to 1000 forward, its inner face 460 off, under a deck at 400."""

    def make(bay=None, **entries):
        usual = {"bay": bay or bays["wagon"], "side": "left", "rules": ClearanceSpec(), "t": 12.0}
        usual |= {"x0": 50.0, "x1": 1000.0, "inner": 460.0, "z0": 0.0, "under": 388.0, "z1": 400.0}
        return Frame(**{**usual, "kept": (), **entries})

    return make


def test_blocks_that_touch_share_no_room():
    assert box().hits(box(x=(0.5, 2.0)))
    assert not box().hits(box(x=(1.0, 2.0)))
    assert not box().hits(box(z=(3.0, 4.0)))


def test_distances_become_places_on_either_side(frame_in):
    left, right = frame_in(), frame_in(side="right")
    assert (left.y(460.0), right.y(460.0)) == (460.0, -460.0)
    assert (left.outwards, right.outwards) == ((0.0, 1.0, 0.0), (0.0, -1.0, 0.0))
    assert left.at(1.0, 2.0, 3.0) == (1.0, 2.0, 3.0)
    assert right.at(1.0, 2.0, 3.0) == (1.0, -2.0, 3.0)
    block = box((0.0, 5.0), (460.0, 600.0), (0.0, 9.0))
    assert (right.berth(block).y0, right.berth(block).y1) == (-600.0, -460.0)
    for frame in (left, right):
        assert frame.facing_middle(472.0, 0.0).w[1] == -frame.y(1.0)
        assert frame.lying(50.0, (460.0, 500.0), 0.0).origin[1] == min(
            frame.y(460.0), frame.y(500.0)
        )
    assert left.face == 472.0


def test_what_is_kept_clear_grows_by_the_gap(bay_specs):
    """It comes out 90 from where the wall is nearest, seen from the middle on its own side."""
    spec = dataclasses.replace(bay_specs["wagon"], keep_clear=(JACK,))
    bay = build_bay(spec)
    (zone,) = kept_clear(bay, "left", 4.0)
    assert (zone.x0, zone.x1, zone.z1) == (116.0, 304.0, 214.0)
    assert 500.0 < zone.s0 < zone.s1
    (other,) = kept_clear(bay, "right", 4.0)
    assert other.s1 < 0.0


def test_an_arch_parts_the_bin_only_where_it_leaves_no_room(frame_in):
    """The arch's face is 506 off, from 318 to 842; 4 are kept; 60 beside it are enough."""
    assert parted_arch(frame_in()) == (314.0, 846.0)
    assert parted_arch(frame_in(inner=506.0 - 4.0 - 60.0 - 12.0)) is None
    assert parted_arch(frame_in(x0=850.0)) is None
    assert parted_arch(frame_in(z0=300.0)) is None


def test_uprights_stand_at_the_ends_and_beside_the_arch(frame_in):
    plan = plan_of(frame_in(), 2000.0)
    assert plan.uprights == (50.0, 302.0, 846.0, 988.0)
    assert [(c.x0, c.x1, c.shelf) for c in plan.compartments] == [
        (62.0, 302.0, False),
        (314.0, 846.0, True),
        (858.0, 988.0, False),
    ]
    assert [c.bottom for c in plan.compartments] == [0.0, 262.0 + 4.0, 0.0]


def test_too_low_over_the_arch_there_is_no_shelf(frame_in):
    """266 to 60 below the lids, less the board: 338."""
    assert plan_of(frame_in(under=339.0), 2000.0).compartments[1].bottom == 266.0
    assert plan_of(frame_in(under=337.0), 2000.0).compartments[1].bottom is None


def test_long_stretches_are_shared_out(frame_in):
    plan = plan_of(frame_in(inner=400.0), 350.0)
    steps = [b - a for a, b in itertools.pairwise(plan.uprights)]
    assert max(steps) <= 350.0
    assert steps == pytest.approx([steps[0]] * len(steps))
    assert all(c.x1 - c.x0 > LEAST_COMPARTMENT for c in plan.compartments)


def test_what_is_kept_clear_has_uprights_on_both_sides(frame_in):
    """From the floor up: it parts the bin, and there is no floor over it."""
    zone = box((400.0, 600.0), (480.0, 700.0), (-10.0, 200.0))
    plan = plan_of(frame_in(inner=400.0, kept=(zone,)), 2000.0)
    assert plan.uprights == (50.0, 388.0, 600.0, 988.0)
    assert [c.bottom for c in plan.compartments] == [0.0, None, 0.0]
    assert not any(c.open_top for c in plan.compartments)
    high = dataclasses.replace(zone, z0=300.0, z1=500.0)
    opened = plan_of(frame_in(inner=400.0, kept=(high,)), 2000.0)
    assert [c.open_top for c in opened.compartments] == [False, True, False]
    assert [c.bottom for c in opened.compartments] == [0.0, 0.0, 0.0]


def test_an_upright_leaves_out_the_heights_kept_clear(frame_in):
    zone = box((90.0, 200.0), (480.0, 700.0), (100.0, 250.0))
    frame = frame_in(kept=(zone,))
    assert free_heights(frame, 95.0) == [(0.0, 100.0), (250.0, 388.0)]
    assert free_heights(frame, 300.0) == [(0.0, 388.0)]
    low = dataclasses.replace(zone, z0=30.0)
    assert free_heights(frame_in(kept=(low,)), 95.0) == [(250.0, 388.0)]
