"""Post tops take the known points near them, and no others."""

import dataclasses

import pytest

from fitout.model.bay import AnchorPoint
from fitout.modules.barrier_tops import hold_tops
from fitout.modules.joinery import Draft


def point(name, x, y, z, thread="M8"):
    return AnchorPoint(name=name, x=x, y=y, z=z, thread=thread, below="clear")


@pytest.fixture
def draft_of(bays, setting_of):
    def make(*points):
        bay = dataclasses.replace(bays["wagon"], upper_anchors=points)
        return Draft("barrier", "barrier", setting_of(bay))

    return make


POSTS = [(900.0, -600.0), (900.0, 600.0)]


def test_points_near_each_top_are_used(draft_of):
    draft = draft_of(point("left", 920.0, 640.0, 850.0), point("right", 880.0, -650.0, 900.0))
    hold_tops(draft, POSTS, (10.0, 900.0))
    assert [f.anchor for f in draft.tops] == ["left", "right"]
    bought = {h.article: h.quantity for h in draft.finish(None).hardware}
    assert bought == {"frame bracket": 2, "bolt M8 x 40": 2, "large washer M8": 2}


@pytest.mark.parametrize(
    "far",
    [
        point("aside", 900.0, 300.0, 850.0),
        point("low", 900.0, 600.0, 400.0),
        point("above", 900.0, 600.0, 1000.0),
    ],
    ids=lambda p: p.name,
)
def test_points_out_of_reach_are_left(draft_of, far):
    draft = draft_of(far)
    hold_tops(draft, POSTS, (10.0, 900.0))
    assert draft.tops == []


def test_an_odd_thread_takes_the_usual_bolt(draft_of):
    draft = draft_of(point("left", 900.0, 600.0, 850.0, thread="M7"))
    hold_tops(draft, POSTS, (10.0, 900.0))
    assert draft.tops[0].article == "bolt M8 x 40"
