"""Rooms in notches and cut-outs, against shapely's distances."""

import itertools

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.cutting.rooms import LEAST_SIDE, rooms
from fitout.model.outline import Outline, circle, polygon, rectangle, rounded

GAP = 8.0


def material(outline):
    return shapely.Polygon(
        outline.outer.chords(grows=False), [loop.chords(grows=True) for loop in outline.inner]
    )


def box(room, grown=0.0):
    return shapely.box(room.x, room.y, room.x + room.length + grown, room.y + room.width + grown)


def notched(length=800.0, width=500.0, left=200.0, right=600.0, depth=250.0):
    corners = [(0, 0), (left, 0), (left, depth), (right, depth), (right, 0), (length, 0)]
    return polygon([*corners, (length, width), (0, width)])


def test_a_square_notch_is_used_to_the_gap():
    (room,) = rooms(Outline(notched()), GAP)
    assert (room.x, room.y) == pytest.approx((208.0, 0.0))
    assert (room.length, room.width) == pytest.approx((384.0, 242.0))


def test_a_square_window_is_used_to_the_gap():
    window = rectangle(300.0, 200.0, 100.0, 60.0)
    (room,) = rooms(Outline(rectangle(600.0, 400.0), (window,)), GAP)
    assert (room.x, room.y) == pytest.approx((108.0, 68.0))
    assert (room.length, room.width) == pytest.approx((284.0, 184.0))


def test_a_plain_or_hardly_cut_part_has_none():
    assert rooms(Outline(rectangle(600.0, 400.0)), GAP) == ()
    slit = rectangle(300.0, 2 * GAP + LEAST_SIDE - 1.0, 100.0, 60.0)
    assert rooms(Outline(rectangle(600.0, 400.0), (slit,)), GAP) == ()
    wide = rectangle(300.0, 2 * GAP + LEAST_SIDE + 1.0, 100.0, 60.0)
    assert len(rooms(Outline(rectangle(600.0, 400.0), (wide,)), GAP)) == 1


ODD = [
    Outline(rounded(notched(), 20.0)),
    Outline(circle(300.0, 300.0, 600.0)),
    Outline(polygon([(0, 0), (800, 0), (0, 500)])),
    Outline(rectangle(900.0, 500.0), (circle(200.0, 250.0, 300.0), circle(650.0, 250.0, 320.0))),
    Outline(rounded(notched(), 20.0), (rounded(rectangle(500.0, 120.0, 150.0, 330.0), 40.0),)),
]


@pytest.mark.parametrize("outline", ODD)
def test_rooms_keep_the_gap_and_lie_within(outline):
    found = rooms(outline, GAP)
    assert found
    part = material(outline)
    bounds = shapely.box(*outline.bounds)
    for room in found:
        assert box(room).distance(part) >= GAP - 1e-3
        assert bounds.buffer(1e-6, join_style="mitre").covers(box(room))
        assert min(room.length, room.width) >= LEAST_SIDE
    for a, b in itertools.combinations(found, 2):
        assert box(a, GAP).intersection(box(b, GAP)).area == pytest.approx(0.0, abs=1e-6)


@settings(max_examples=25, deadline=None)
@given(
    left=st.floats(50.0, 350.0),
    right=st.floats(450.0, 750.0),
    depth=st.floats(50.0, 400.0),
    radius=st.floats(1.0, 20.0),
    gap=st.floats(2.0, 20.0),
)
def test_any_notch(left, right, depth, radius, gap):
    outline = Outline(rounded(notched(left=left, right=right, depth=depth), radius))
    part = material(outline)
    for room in rooms(outline, gap):
        assert box(room).distance(part) >= gap - 1e-3
