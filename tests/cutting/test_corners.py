"""Corners are relieved where a part sits in them, and nowhere else; nothing is weakened by it."""

import dataclasses
import math

import pytest
import shapely

from fitout.cutting.corners import centre, inside_corners, relief, relieved
from fitout.cutting.cut_list import cut_list
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Outline, polygon, rectangle, rounded
from fitout.model.panel import Grain, Hole, Pocket
from fitout.model.placement import Placement, X, Y, Z, flat, opposite

ROUTER = CuttingSpec(by="router", kerf=6.0)
SLOT = rectangle(100.2, 12.0, 200.0, 94.0)
"""A slot for a tongue of a board 11.8 thick and 100 wide."""


@pytest.fixture
def plate(make):
    return make(
        500.0, 200.0, name="plate", outline=Outline(rectangle(500.0, 200.0), (SLOT,)),
        grain=Grain.EITHER,
    )  # fmt: skip


@pytest.fixture
def tongue(make):
    """A board that stands in the plate's slot: u along the slot, v upwards."""
    return make(
        100.0, 300.0, name="tongue", outline=Outline(rectangle(100.0, 300.0)), grain=Grain.EITHER,
        placement=Placement((200.1, 94.1 + 11.8, -50.0), X, Z),
    )  # fmt: skip


def solid(panel):
    outer = panel.outline.outer.chords(grows=False)
    return shapely.Polygon(outer, [i.chords(grows=True) for i in panel.outline.inner])


def cut(panels, spec=ROUTER, name="plate"):
    cuts = relieved(cut_list(panels), panels, spec)
    return next(line for line in cuts.lines if name in line.name)


def arcs(loop):
    return sum(v.bulge != 0.0 for v in loop.vertices)


def test_the_slot_of_a_tongue_is_relieved_at_all_four_corners(plate, tongue):
    line = cut([plate, tongue])
    (loop,) = line.panel.outline.inner
    assert arcs(loop) == 4
    # Half of each circle lies beyond the chord of r √2 along both walls, that cuts a triangle
    # of r² off the slot.
    r = 3.0
    assert loop.area - SLOT.area == pytest.approx(4 * (math.pi / 2.0 - 1.0) * r**2)
    assert line.by_hand == 0
    assert (line.length, line.width) == (500.0, 200.0)


def test_without_a_tongue_nothing_is_cut(plate, tongue):
    away = dataclasses.replace(tongue, placement=tongue.placement.moved(0.0, 0.0, 300.0))
    assert cut([plate]).panel.outline == cut_list([plate]).lines[0].panel.outline
    assert cut([plate, away]).panel.outline == cut_list([plate]).lines[0].panel.outline


def test_play_wider_than_what_the_bit_leaves_needs_no_relief(plate, tongue):
    small = dataclasses.replace(
        tongue, outline=Outline(rectangle(96.0, 300.0)),
        placement=tongue.placement.moved(2.0, -0.0, 0.0),
    )  # fmt: skip
    thin = dataclasses.replace(small, board=dataclasses.replace(small.board, thickness=7.0))
    thin = dataclasses.replace(thin, placement=thin.placement.moved(0.0, -2.4, 0.0))
    assert arcs(cut([plate, thin]).panel.outline.inner[0]) == 0


def test_a_rounded_slot_has_no_corners(plate, tongue):
    outline = Outline(plate.outline.outer, (rounded(SLOT, 3.0),))
    soft = dataclasses.replace(plate, outline=outline)
    assert cut([soft, tongue]).panel.outline.inner == cut_list([soft]).lines[0].panel.outline.inner


def test_a_saw_relieves_nothing(plate, tongue):
    spec = CuttingSpec(by="saw")
    assert arcs(cut([plate, tongue], spec).panel.outline.inner[0]) == 0


def test_none_leaves_them_to_be_squared_by_hand(plate, tongue):
    line = cut([plate, tongue], dataclasses.replace(ROUTER, corners="none"))
    assert arcs(line.panel.outline.inner[0]) == 0
    assert line.by_hand == 4


def test_seen_edges_and_thin_webs_are_left_to_be_squared_by_hand(plate, tongue):
    seen = dataclasses.replace(plate, edging="all edges rounded")
    assert cut([seen, tongue]).by_hand == 4
    near = dataclasses.replace(plate, holes=(Hole(203.0, 114.0, 5.0),))
    line = cut([near, tongue])
    assert line.by_hand == 1
    assert arcs(line.panel.outline.inner[0]) == 3


def test_like_parts_stay_alike(plate, tongue):
    twin = dataclasses.replace(plate, name="plate 2", placement=flat(0.0, 0.0, 900.0))
    cuts = relieved(cut_list([plate, twin, tongue]), [plate, twin, tongue], ROUTER)
    line = next(line for line in cuts.lines if "plate" in line.name)
    assert line.quantity == 2
    first, second = line.panels
    assert first.outline == second.outline
    assert arcs(first.outline.inner[0]) == 4


def test_a_closed_groove_is_relieved_and_an_open_one_not(make, tongue):
    deep = tongue.placement
    closed = make(
        500.0, 200.0, name="plate", grain=Grain.EITHER, pockets=(Pocket(SLOT, 6.0),),
        placement=flat(0.0, 0.0, 0.0),
    )  # fmt: skip
    standing = dataclasses.replace(
        tongue, placement=Placement((deep.origin[0], deep.origin[1], 11.8 - 5.5), X, Z)
    )
    line = cut([closed, standing])
    assert arcs(line.panel.pockets[0].loop) == 4
    assert line.panel.pockets[0].depth == 6.0
    through = rectangle(500.0, 12.0, 0.0, 94.0)
    open_ended = dataclasses.replace(closed, pockets=(Pocket(through, 6.0),))
    long = dataclasses.replace(
        standing, outline=Outline(rectangle(500.0, 300.0)),
        placement=Placement((0.0, deep.origin[1], 11.8 - 5.5), X, Z),
    )  # fmt: skip
    line = cut([open_ended, long])
    assert arcs(line.panel.pockets[0].loop) == 0
    assert line.by_hand == 0


def test_half_laps_are_relieved_in_both_parts(make):
    """Two boards notched to the middle, pushed into each other; alike or not."""
    notch = polygon([(0, 0), (500, 0), (500, 200), (256, 200), (256, 100), (244, 100),
                     (244, 200), (0, 200)])  # fmt: skip
    a = make(name="plate", outline=Outline(notch), grain=Grain.EITHER,
             placement=Placement((0.0, 0.0, 0.0), X, Z))  # fmt: skip
    # The other one stands across, its notch downwards.
    down = Placement((244.1, -255.9, 200.0), Y, opposite(Z))
    b = make(name="other", outline=Outline(notch), grain=Grain.EITHER, placement=down)
    line = cut([a, b])
    assert line.quantity == 2
    assert arcs(line.panel.outline.outer) == 2
    assert all(v.bulge <= 0.0 for v in line.panel.outline.outer.anticlockwise().vertices)
    assert solid(line.panel).area < solid(a).area


@pytest.mark.parametrize("style", ["dogbone", "T-bone"])
@pytest.mark.parametrize("bit", [3.175, 6.0, 6.35, 8.0])
def test_a_relieved_corner_takes_a_square_one(style, bit, plate, tongue):
    """What the bit can clear of the relieved slot holds the tongue's whole section."""
    line = cut([plate, tongue], dataclasses.replace(ROUTER, kerf=bit, corners=style))
    (loop,) = line.panel.outline.inner
    hollow = shapely.Polygon(loop.chords(grows=True, sagitta=1e-4))
    r = bit / 2.0
    cleared = hollow.buffer(-r + 1e-3, quad_segs=64).buffer(r, quad_segs=64)
    assert cleared.buffer(1e-3).covers(shapely.box(200.1, 94.1, 300.1, 105.9))
    assert hollow.is_valid
    bare = shapely.Polygon(SLOT.chords(grows=False))
    left = bare.buffer(-r, quad_segs=64).buffer(r, quad_segs=64)
    assert not left.covers(shapely.box(200.1, 94.1, 300.1, 105.9))


def test_corners_of_a_loop():
    ell = polygon([(0, 0), (40, 0), (40, 10), (10, 10), (10, 30), (0, 30)])
    assert [c.at for c in inside_corners(ell, hollow=False)] == [(10.0, 10.0)]
    assert len(inside_corners(ell, hollow=True)) == 5
    assert inside_corners(rounded(ell, 2.0), hollow=True) == []
    (corner,) = inside_corners(ell, hollow=False)
    assert corner.walls == (30.0, 20.0)
    assert relief(corner, 8.0, "dogbone") is None
    assert relief(corner, 8.0, "T-bone") is None
    # Dogbones of radius 7.2 would meet on the shorter wall: a T-bone stands on the longer.
    assert centre(corner, 7.2, "dogbone") == pytest.approx((17.2, 10.0))
    assert centre(corner, 6.0, "T-bone") == pytest.approx((16.0, 10.0))
    assert centre(corner, 3.0, "T-bone") == pytest.approx((10.0, 13.0))
