"""Bought-in items: blocks, tapering bodies, and where their middle lies."""

import numpy as np
import pytest

from fitout.model.item import Item, block, frustum
from fitout.model.module import Berth, Fitout, Joint, JointKind, Module
from fitout.model.placement import Placement, Y, flat, opposite


def item(*pieces, placement=None) -> Item:
    return Item(
        name="box", module="fridge", pieces=pieces, mass_kg=20.0,
        placement=placement or flat(0.0, 0.0, 0.0),
    )  # fmt: skip


def test_block_has_eight_corners_from_its_least_one():
    corners = np.array(block(60.0, 40.0, 20.0, (5.0, -6.0, 7.0)))
    assert len({tuple(c) for c in corners}) == 8
    assert corners.min(axis=0).tolist() == [5.0, -6.0, 7.0]
    assert corners.max(axis=0).tolist() == [65.0, 34.0, 27.0]


@pytest.mark.parametrize(
    ("bottom", "top"),
    [((230.0, 700.0), (190.0, 660.0)), ((190.0, 660.0), (230.0, 700.0)), ((200.0, 300.0),) * 2],
)
def test_frustum_starts_at_the_origin_and_centres_the_smaller_end(bottom, top):
    corners = np.array(frustum(bottom, top, 420.0))
    low, high = corners[corners[:, 2] == 0.0], corners[corners[:, 2] == 420.0]
    for ends, size in ((low, bottom), (high, top)):
        assert len(ends) == 4
        assert (ends.max(axis=0) - ends.min(axis=0))[:2].tolist() == list(size)
    assert corners.min(axis=0).tolist() == [0.0, 0.0, 0.0]
    assert (low.mean(axis=0) - high.mean(axis=0))[:2].tolist() == [0.0, 0.0]


def test_centroid_is_the_middle_of_the_bounding_block():
    whole = item(block(100.0, 60.0, 40.0), block(20.0, 20.0, 10.0, (0.0, 0.0, 40.0)))
    assert whole.centroid == pytest.approx((50.0, 30.0, 25.0))


def test_corners_follow_the_placement():
    turned = Placement((100.0, 0.0, 0.0), opposite(Y), (1.0, 0.0, 0.0))
    corners = item(block(100.0, 60.0, 40.0), placement=turned).corners()[0]
    assert corners.min(axis=0).tolist() == [100.0, -100.0, 0.0]
    assert corners.max(axis=0).tolist() == [160.0, 0.0, 40.0]
    assert item(block(1.0, 1.0, 1.0)).id == "fridge/box"


def test_a_fitout_walks_all_its_parts_and_joints():
    berth = Berth(x0=0.0, x1=10.0, y0=-5.0, y1=5.0, z0=0.0, z1=20.0)
    assert berth.size == (10.0, 10.0, 20.0)
    inside = Joint("fridge/box", "bay/floor", JointKind.RESTS)
    between = Joint("fridge/box", "bin/lid", JointKind.FITTED, "note")
    box = item(block(1.0, 1.0, 1.0))
    modules = (
        Module(name="fridge", kind="fridge slide", berth=berth, items=(box,), joints=(inside,)),
        Module(name="bin", kind="side bin", berth=None),
    )
    whole = Fitout(name="van", bay=None, modules=modules, joints=(between,))
    assert list(whole.parts()) == [box]
    assert list(whole.panels()) == []
    assert list(whole.all_joints()) == [inside, between]
