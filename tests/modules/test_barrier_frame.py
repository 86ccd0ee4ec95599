"""Posts, foot plates and bolts of the barrier's frame."""

import dataclasses
import itertools

import pytest

from fitout.model.bay import AnchorPoint
from fitout.model.module import Berth
from fitout.modules.barrier_frame import (
    BOLT_PITCH,
    FOOT_BOLTS,
    Frame,
    bolt_points,
    build_frame,
    choose_foot,
    foot_section,
    post_extent,
)
from fitout.modules.joinery import Draft
from fitout.survey.room import half_width

MIDDLE = (1200.0, 500.0)


@pytest.fixture
def draft_with(bays, setting_of):
    """A draft in the van, with known points at given places and berths of others."""

    def make(*points, **others):
        anchors = tuple(
            AnchorPoint(name=f"p{i}", x=x, y=y, z=0.0, thread="M8", below="clear")
            for i, (x, y) in enumerate(points)
        )
        bay = dataclasses.replace(bays["van"], anchors=anchors)
        return Draft("barrier", "barrier", setting_of(bay, 12.0, berths=others))

    return make


def frame_of(draft, key="steel flat 40 x 5"):
    section = dataclasses.replace(draft.setting.catalogue.sections[key], height=40.0)
    return Frame(
        section=section,
        x0=1180.0,
        x1=1220.0,
        foot=0.0,
        top=1100.0,
        posts=((-520.0, -480.0), (480.0, 520.0)),
        rails=(("lower rail", 300.0), ("upper rail", 1000.0)),
    )


def chosen(draft):
    frame = frame_of(draft)
    return choose_foot(draft, frame, foot_section(draft, frame.section), "left", MIDDLE)


def test_frame_by_hand(draft_with):
    frame = frame_of(draft_with())
    assert frame.inner == (-480.0, 480.0)
    assert frame.middles == (-500.0, 500.0)


def test_feet_are_of_the_frames_own_metal(draft_with):
    draft = draft_with()
    for key in ("steel flat 40 x 10", "aluminium flat 40 x 10"):
        assert foot_section(draft, draft.setting.catalogue.sections[key]).key == key


def test_a_post_stands_as_near_the_wall_as_its_foot_allows(draft_with):
    """Whole millimetres, 3 off the wall over its height, mirrored for the right."""
    draft = draft_with()
    section = frame_of(draft).section
    y0, y1 = post_extent(draft, "left", section, (1180.0, 1220.0), (0.0, 1100.0))
    assert y1 - y0 == section.width
    assert y1 == int(y1)
    most = half_width(draft.setting.bay, "left", (1180.0, 1220.0), (0.0, 1100.0), clear=3.0)
    assert most - 60.0 < y1 <= most
    right = post_extent(draft, "right", section, (1180.0, 1220.0), (0.0, 1100.0))
    assert right[0] < right[1] < 0.0


def test_without_known_points_a_foot_lies_forward(draft_with):
    plan = chosen(draft_with())
    assert plan.along == (1.0, 0.0)
    assert [at for at, _ in plan.bolts] == list(FOOT_BOLTS)
    assert plan.hits == 0
    assert plan.length == 15.0 + 80.0 + 20.0


@pytest.mark.parametrize(
    ("point", "along"),
    [((1260.0, 500.0), (1.0, 0.0)), ((1140.0, 500.0), (-1.0, 0.0)), ((1200.0, 440.0), (0.0, -1.0))],
)
def test_a_foot_lies_towards_a_known_point(draft_with, point, along):
    plan = chosen(draft_with(point))
    assert plan.along == pytest.approx(along)
    assert plan.hits == 1
    ((at, _),) = [b for b in plan.bolts if b[1] is not None]
    x, y = (m + at * d for m, d in zip(plan.middle, plan.along, strict=True))
    assert (x, y) == pytest.approx(point)
    (first, _), (second, _) = plan.bolts
    assert abs(second - first) >= BOLT_PITCH - 1e-9


def test_two_points_on_a_line_take_both_bolts(draft_with):
    plan = chosen(draft_with((1240.0, 500.0), (1280.0, 500.0)))
    assert plan.hits == 2
    assert [at for at, _ in plan.bolts] == pytest.approx([40.0, 80.0])


def test_a_foot_keeps_out_of_other_modules(draft_with):
    ahead = Berth(x0=1225.0, x1=1600.0, y0=300.0, y1=700.0, z0=0.0, z1=300.0)
    assert chosen(draft_with(box=ahead)).along != (1.0, 0.0)
    above = dataclasses.replace(ahead, z0=50.0)
    assert chosen(draft_with(box=above)).along == (1.0, 0.0)


def test_points_out_of_reach_or_off_the_level_are_left(draft_with):
    assert chosen(draft_with((1310.0, 500.0))).hits == 1
    assert chosen(draft_with((1311.0, 500.0))).hits == 0


def test_a_bolt_stands_no_nearer_to_the_post_than_its_socket_needs(draft_with):
    """The post is 40 across: 20 to its face and 12 more; 12 more than 28 at its corner."""
    assert chosen(draft_with((1232.0, 500.0))).hits == 1
    assert chosen(draft_with((1231.9, 500.0))).hits == 0
    assert chosen(draft_with((1200.0 + 29.0, 500.0 - 29.0))).hits == 1
    assert chosen(draft_with((1200.0 + 28.0, 500.0 - 28.0))).hits == 0


def test_bolts_of_the_panel_stand_on_posts_and_rails(draft_with):
    """30 from the posts' ends, 40 from the rails', no more than 300 apart."""
    points = list(bolt_points(frame_of(draft_with()), 320.0, 300.0))
    posts = [z for bar, y, z in points if bar == "left post"]
    rails = [y for bar, y, _ in points if bar == "upper rail"]
    assert (posts[0], posts[-1]) == (350.0, 1070.0)
    assert (rails[0], rails[-1]) == (-440.0, 440.0)
    for row in (posts, rails):
        assert all(0.0 < b - a <= 300.0 for a, b in itertools.pairwise(row))
    assert {z for bar, _, z in points if bar == "upper rail"} == {1020.0}
    assert {y for bar, y, _ in points if bar == "right post"} == {-500.0}


def test_the_frames_bars(draft_with):
    draft = draft_with()
    frame = frame_of(draft)
    build_frame(draft, frame, list(bolt_points(frame, 320.0, 300.0)), 6.6)
    bars = {b.name: b for b in draft.bars}
    plates = {"left foot plate", "right foot plate"}
    assert set(bars) == {"left post", "right post", "lower rail", "upper rail", *plates}
    lift = foot_section(draft, frame.section).height
    assert bars["left post"].length == 1100.0 - lift
    assert bars["upper rail"].length == 960.0
    assert all(0.0 < at < b.length for b in bars.values() for at, _ in b.holes)
    rests = {j.a for j in draft.joints if j.b == "bay/floor"}
    assert rests == {f"barrier/{name}" for name in plates}
    assert len(draft.fixings) == 4
