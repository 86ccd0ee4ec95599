"""What holds a side bin to the vehicle: bolts through its floor, or brackets at its inner wall."""

import dataclasses

import pytest

from fitout.model.bay import AnchorPoint
from fitout.model.design import ClearanceSpec
from fitout.modules.bin_fixing import (
    BOLT_TO_EDGE,
    BRACKET,
    FIXING_INSET,
    FLOOR_BOLT,
    LEAST_INSET,
    fix_bin,
)
from fitout.modules.bin_plan import Box, Frame
from fitout.modules.joinery import Draft

INNER = 400.0


@pytest.fixture
def bin_in(bays, setting_of):
    """A frame in the wagon and a draft with an inner wall and a floor of 600 × 70."""

    def make(*anchors, kept=(), floor=True, floor_length=600.0):
        bay = dataclasses.replace(bays["wagon"], anchors=anchors)
        setting = setting_of(bay, 12.0)
        frame = Frame(
            bay=bay, side="left", rules=ClearanceSpec(), t=12.0, x0=50.0, x1=650.0,
            inner=INNER, z0=0.0, under=300.0, z1=312.0, kept=kept,
        )  # fmt: skip
        draft = Draft("bin", "side bin", setting)
        board = draft.board("carcass")
        draft.panel("inner wall", board, (600.0, 300.0), frame.facing_middle(frame.face, 0.0))
        if floor:
            place = frame.lying(50.0, (frame.face, frame.face + 70.0), 0.0)
            draft.panel("floor 1", board, (floor_length, 70.0), place)
        return draft, frame

    return make


def eye(name, x, y, thread="M8"):
    return AnchorPoint(name=name, x=x, y=y, z=0.0, thread=thread, below="clear")


def fix(draft, frame):
    fix_bin(draft, frame, ["inner wall"], [n for n in draft.panels if n.startswith("floor")])
    return draft.finish(None)


def test_two_bolts_near_the_floors_ends(bin_in):
    module = fix(*bin_in())
    assert module.needs_fixings == 2
    assert [f.point[0] for f in module.fixings] == [50.0 + FIXING_INSET, 650.0 - FIXING_INSET]
    assert {f.point[1] for f in module.fixings} == {INNER + 12.0 + 35.0}
    assert {f.anchor for f in module.fixings} == {None}


@pytest.mark.parametrize(
    ("length", "inset"), [(300.0, FIXING_INSET), (299.0, LEAST_INSET), (144.0, LEAST_INSET)]
)
def test_on_a_short_floor_the_bolts_move_to_its_ends(bin_in, length, inset):
    """With 50 mm at both ends bolts on 144 mm of floor would be 44 apart."""
    module = fix(*bin_in(floor_length=length))
    assert [f.point[0] for f in module.fixings] == [50.0 + inset, 50.0 + length - inset]


def test_one_bolt_where_the_floor_has_room_for_one(bin_in):
    module = fix(*bin_in(floor_length=48.0))
    assert len(module.fixings) == 2
    assert [f.article for f in module.fixings] == [FLOOR_BOLT] * 2
    bought = {h.article: h.quantity for h in module.hardware}
    assert bought["angle bracket 40"] == 1


def test_a_known_point_well_inside_the_floor_is_drilled_for(bin_in):
    """The floor reaches from 412 to 482: a point 19 from its edge holds no bolt."""
    inside = eye("eye", 300.0, 412.0 + BOLT_TO_EDGE + 1.0, "M10")
    beside = eye("edge", 400.0, 412.0 + BOLT_TO_EDGE - 1.0)
    module = fix(*bin_in(inside, beside))
    assert [f.anchor for f in module.fixings] == ["eye", None]
    (floor,) = [p for p in module.panels if p.name == "floor 1"]
    (hole,) = floor.holes
    assert (hole.x, hole.y, hole.diameter) == (250.0, BOLT_TO_EDGE + 1.0, 11.0)


def test_without_a_floor_brackets_hold_the_inner_wall(bin_in):
    module = fix(*bin_in(floor=False))
    assert len(module.fixings) == 2
    assert {f.point[1] for f in module.fixings} == {INNER + 12.0 + BRACKET / 2.0}
    bought = {h.article: h.quantity for h in module.hardware}
    assert bought == {"angle bracket 40": 2, "wood screw 3.5 x 16": 4}


def test_brackets_stay_out_of_what_is_kept_clear(bin_in):
    kept = Box(x0=60.0, x1=400.0, s0=400.0, s1=500.0, z0=0.0, z1=30.0)
    module = fix(*bin_in(floor=False, kept=(kept,)))
    assert min(f.point[0] for f in module.fixings) >= 400.0 + BRACKET / 2.0


def test_a_bracket_uses_a_known_point_it_can_reach(bin_in):
    module = fix(*bin_in(eye("eye", 200.0, 412.0 + BRACKET / 2.0), floor=False))
    assert [f.anchor for f in module.fixings] == ["eye", None]
    bought = {h.article: h.quantity for h in module.hardware}
    assert bought["bolt M8 x 40"] == 1
