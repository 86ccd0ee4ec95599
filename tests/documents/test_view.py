"""Who hides whom: held against rays sent towards the viewer."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.documents.view import (
    CORNERS,
    FRONT,
    LEFT_SIDE,
    PLAN,
    REAR,
    SIDE,
    THREE_QUARTER,
    box_body,
    convex_body,
    looking_from,
    paint_order,
    panel_body,
)
from fitout.model.outline import Outline, circle, rectangle
from fitout.model.panel import Face, Panel, Pocket
from fitout.model.placement import Placement, across, along, flat, flat_face_down

GREY = "#808080"
TO_VIEWER = THREE_QUARTER.to_viewer


def block(size, at):
    return box_body(*size, Placement(tuple(map(float, at))), GREY)


def area(ring):
    x, y = ring[:, 0], ring[:, 1]
    return abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1))) / 2.0


def test_the_view_is_a_right_handed_frame_from_the_rear_right_above():
    np.testing.assert_allclose(
        np.cross(THREE_QUARTER.rightward, THREE_QUARTER.upward), TO_VIEWER, atol=1e-12
    )
    assert np.sign(TO_VIEWER).tolist() == [-1.0, -1.0, 1.0]
    assert THREE_QUARTER.upward[2] > 0
    # On paper y runs down.
    assert THREE_QUARTER.on_paper(np.array([[0.0, 0.0, 1.0]]))[0, 1] < 0


@pytest.mark.parametrize(
    ("behind", "before"),
    [
        ((0, 0, 0), (0, 0, 100)),  # above
        ((100, 0, 0), (0, 0, 0)),  # nearer the tailgate
        ((0, 100, 0), (0, 0, 0)),  # further right
    ],
)
def test_of_two_touching_blocks_the_nearer_is_painted_last(behind, before):
    far, near = block((100, 100, 100), behind), block((100, 100, 100), before)
    assert paint_order([far, near]) == [0, 1]
    assert paint_order([near, far]) == [1, 0]


def test_a_long_block_behind_a_small_one_in_front():
    # Middles alone would get this wrong: the deck's middle is nearer than the block's.
    deck = block((2000, 50, 10), (-2000, 0, 0))
    post = block((20, 20, 200), (-100, 10, 10))
    assert paint_order([post, deck]) == [1, 0]


cells = st.lists(
    st.tuples(st.integers(0, 3), st.integers(0, 3), st.integers(0, 3)),
    min_size=2, max_size=9, unique=True,
)  # fmt: skip
sizes = st.tuples(st.floats(20, 100), st.floats(20, 100), st.floats(20, 100))


@settings(max_examples=25, deadline=None)
@given(places=cells, many=st.lists(sizes, min_size=9, max_size=9))
def test_no_block_is_painted_over_one_that_hides_it(places, many):
    boxes = [
        (np.array(place) * 100.0, np.array(place) * 100.0 + np.array(size))
        for place, size in zip(places, many, strict=False)
    ]
    order = paint_order([block(high - low, low) for low, high in boxes])
    rank = {i: k for k, i in enumerate(order)}
    for i, j in itertools.permutations(range(len(boxes)), 2):
        if hidden(boxes[i], boxes[j]):
            assert rank[i] < rank[j]


def hidden(box, other):
    """Whether a ray from inside `box` towards the viewer meets `other`, shrunk a little."""
    low, high = box
    for share in itertools.product((0.02, 0.5, 0.98), repeat=3):
        start = low + np.array(share) * (high - low)
        first = (other[0] + 0.5 - start) / TO_VIEWER
        second = (other[1] - 0.5 - start) / TO_VIEWER
        enter = np.minimum(first, second).max()
        leave = np.maximum(first, second).min()
        if leave > max(enter, 0.0):
            return True
    return False


def test_a_tongue_in_its_groove_is_painted_before_the_side_in_front_of_it():
    side = block((600, 12, 200), (0, 0, 0))
    bottom = block((600, 400, 6), (0, 6, 20))  # reaches 6 mm into the side
    assert paint_order([side, bottom]) == [1, 0]


def test_bodies_that_hide_each_other_in_a_ring_are_all_painted():
    bars = [
        block((300, 20, 20), (0, 0, 0)),
        block((300, 20, 20), (5, 5, 5)),
        block((20, 300, 20), (3, 3, 3)),
    ]
    assert sorted(paint_order(bars)) == [0, 1, 2]


def test_a_block_shows_three_faces_of_true_projected_size():
    body = block((300, 200, 100), (5, 6, 7))
    assert len(body.patches) == 3
    shown = sorted(area(patch.rings[0]) for patch in body.patches)
    wanted = sorted(
        a * b * abs(float(TO_VIEWER[k]))
        for a, b, k in ((200, 100, 0), (300, 100, 1), (300, 200, 2))
    )
    assert shown == pytest.approx(wanted)


def test_a_tapered_body_is_the_hull_of_its_corners():
    corners = np.array(
        [(x, y, 0.0) for x in (0, 300) for y in (0, 200)]
        + [(x, y, 100.0) for x in (50, 250) for y in (50, 150)]
    )
    body = convex_body(corners, GREY)
    assert len(body.normals) == 6
    assert len(body.patches) == 3


@pytest.mark.parametrize("place", [flat, flat_face_down, along, across])
def test_a_panel_shows_the_face_that_looks_at_the_viewer(board, place):
    panel = Panel(
        name="p", module="m", board=board, placement=place(1.0, 2.0, 3.0),
        outline=Outline(rectangle(400.0, 300.0), (circle(100.0, 100.0, 60.0),)),
        pockets=(
            Pocket(rectangle(50.0, 50.0, 300.0, 200.0), 5.0),
            Pocket(rectangle(40.0, 40.0, 200.0, 200.0), 5.0, face=Face.B),
        ),
    )  # fmt: skip
    body = panel_body(panel, GREY)
    toward = float(np.array(panel.placement.w) @ TO_VIEWER)
    face, sink = body.patches[-2:]
    assert len(face.rings) == 2
    assert area(face.rings[0]) == pytest.approx(400.0 * 300.0 * abs(toward))
    side = 50.0 if toward > 0 else 40.0
    assert area(sink.rings[0]) == pytest.approx(side * side * abs(toward))
    assert sink.brightness < face.brightness


def test_edges_of_a_notch_are_painted_before_the_face(board, panel):
    body = panel_body(panel, GREY)
    seen = [len(patch.rings) for patch in body.patches]
    # Edges one by one, then the face with its two cut-outs, then the sink on this face.
    assert seen[-2:] == [3, 1]
    assert set(seen[:-2]) == {1}


def test_brightness_follows_the_light():
    bright = {patch.brightness for patch in block((1, 1, 1), (0, 0, 0)).patches}
    assert len(bright) == 3
    assert all(0.5 < value <= 1.0 for value in bright)


@pytest.mark.parametrize("eye", [*CORNERS, PLAN, SIDE, LEFT_SIDE, REAR, FRONT])
def test_every_eye_is_a_right_handed_frame(eye):
    frame = np.array([eye.rightward, eye.upward, eye.to_viewer])
    np.testing.assert_allclose(frame @ frame.T, np.eye(3), atol=1e-12)
    assert np.linalg.det(frame) == pytest.approx(1.0)


def test_seen_from_the_side_and_above_forward_is_right_and_from_behind_left_is_left():
    for eye in (SIDE, PLAN):
        np.testing.assert_allclose(eye.on_sheet(np.eye(3)[:1]), [[1.0, 0.0]], atol=1e-12)
    np.testing.assert_allclose(REAR.on_sheet(np.eye(3)[1:2]), [[-1.0, 0.0]], atol=1e-12)
    for eye in (SIDE, REAR, FRONT):
        np.testing.assert_allclose(eye.on_sheet(np.eye(3)[2:]), [[0.0, 1.0]], atol=1e-12)


def test_nothing_is_up_when_seen_straight_from_above():
    with pytest.raises(ValueError, match="straight from above"):
        looking_from("above", 0.0, 0.0, 1.0)


def test_from_the_front_left_the_order_turns_round():
    rear, front = block((100, 100, 100), (0, 0, 0)), block((100, 100, 100), (100, 0, 0))
    assert paint_order([rear, front]) == [1, 0]
    assert paint_order([rear, front], CORNERS[3]) == [0, 1]
