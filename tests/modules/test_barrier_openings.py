"""Windows and the pass-through: within the frame, off the shelf, large enough to be of use."""

import dataclasses
import itertools

import pytest

from fitout.clearance.body import body_of_pieces
from fitout.model.placement import across_face_rear
from fitout.modules.barrier_frame import Frame
from fitout.modules.barrier_openings import (
    PassThroughSpec,
    VisionSpec,
    height_for,
    keep_hand_room,
    loop_of,
    pass_through,
    windows,
)
from fitout.modules.barrier_shelf import Shelf, bracket_middles
from fitout.modules.joinery import Draft


@pytest.fixture
def setting(bays, setting_of):
    return setting_of(bays["van"], 12.0)


@pytest.fixture
def frame(setting):
    """Posts' inner faces at ±560, rails at 300 and 1000, of 40."""
    return Frame(
        section=setting.catalogue.sections["steel flat 40 x 5"],
        x0=1500.0,
        x1=1540.0,
        foot=0.0,
        top=1100.0,
        posts=((-600.0, -560.0), (560.0, 600.0)),
        rails=(("lower rail", 300.0), ("upper rail", 1000.0)),
    )


SHELF = Shelf(
    x0=1250.0,
    x1=1500.0,
    y0=-640.0,
    y1=640.0,
    z0=788.0,
    z1=800.0,
    lip=50.0,
    leg=160.0,
    between=(-560.0, 560.0),
    load_kg=8.0,
)


def test_a_pass_through_lies_above_the_shelf_and_under_the_rail(frame):
    """12 above the shelf, 8 under the rail, 0.6 of the 1200 between the posts' outer faces."""
    opening = pass_through(PassThroughSpec(), frame, SHELF)
    assert (opening.z0, opening.z1) == (812.0, 992.0)
    assert (opening.y0, opening.y1) == (-360.0, 360.0)


def test_its_size_may_be_wished_for_within_the_frame(frame):
    small = pass_through(PassThroughSpec(width=300.0, height=100.0), frame, SHELF)
    assert (small.y0, small.y1, small.z0, small.z1) == (-150.0, 150.0, 812.0, 912.0)
    huge = pass_through(PassThroughSpec(width=5000.0, height=5000.0), frame, SHELF)
    assert (huge.y0, huge.y1, huge.z0, huge.z1) == (-530.0, 530.0, 812.0, 992.0)
    alone = pass_through(PassThroughSpec(height=150.0), frame, None)
    assert (alone.z0, alone.z1) == (842.0, 992.0)


@pytest.mark.parametrize(("level", "there"), [(919.0, True), (921.0, False)])
def test_one_too_low_for_a_hand_is_left_out(frame, level, there):
    """60 between 12 above the shelf and 992."""
    shelf = dataclasses.replace(SHELF, z0=level - 12.0, z1=level)
    assert (pass_through(PassThroughSpec(), frame, shelf) is not None) is there


def test_the_shelf_that_leaves_an_opening_of_a_height(frame):
    level = height_for(frame, 180.0)
    shelf = dataclasses.replace(SHELF, z0=level - 12.0, z1=level)
    opening = pass_through(PassThroughSpec(), frame, shelf)
    assert opening.z1 - opening.z0 == pytest.approx(180.0)


@pytest.mark.parametrize("shelf", [None, SHELF], ids=["bare", "with a shelf"])
def test_windows_lie_left_and_right_between_the_brackets(frame, shelf):
    found = list(windows(VisionSpec(), frame, shelf, (350.0, 620.0), 12.0))
    assert len(found) == 2
    left, right = found
    assert left.y0 > 0.0 > right.y1
    assert left.y0 == -right.y1
    assert left.y1 - left.y0 <= 0.3 * 1200.0
    assert (left.z1, left.z1 - left.z0) == (620.0, pytest.approx(162.0))
    edges = frame.inner if shelf is None else bracket_middles(shelf)
    for window, edge in itertools.product(found, edges):
        assert not window.y0 - 30.0 < edge < window.y1 + 30.0


def test_windows_too_small_to_see_through_are_left_out(frame):
    assert list(windows(VisionSpec(), frame, None, (350.0, 409.0), 12.0)) == []
    assert list(windows(VisionSpec(width=79.0), frame, None, (350.0, 620.0), 12.0)) == []
    assert len(list(windows(VisionSpec(width=81.0), frame, None, (350.0, 620.0), 12.0))) == 2


def test_an_opening_in_the_panels_own_axes(frame):
    """Seen from behind the panel's u runs to the right."""
    opening = pass_through(PassThroughSpec(width=300.0, height=100.0), frame, SHELF)
    loop = loop_of(opening, across_face_rear(1512.0, 650.0, 200.0))
    assert loop.bounds == pytest.approx((500.0, 612.0, 800.0, 712.0))


def test_a_hand_reaches_through(setting, frame):
    """150 ahead and behind, and 2 clear of the opening's edges and of its corners."""
    draft = Draft("barrier", "barrier", setting)
    opening = pass_through(PassThroughSpec(width=300.0, height=100.0), frame, SHELF)
    keep_hand_room(draft, opening)
    (access,) = draft.accesses
    body = body_of_pieces("hand", [access.zone.piece], access.placement)
    assert (body.lo[0], body.hi[0]) == (1350.0, 1690.0)
    inset = body.lo[1] - opening.y0
    assert inset == pytest.approx(2.0 + 30.0 * (1.0 - 0.5**0.5), abs=1e-6)
    assert opening.y1 - body.hi[1] == pytest.approx(inset)
    assert (body.lo[2] - opening.z0, opening.z1 - body.hi[2]) == pytest.approx((inset, inset))
