"""The least room of a drawer, by hand."""

import dataclasses

import pytest

from fitout.model.fault import DesignError
from fitout.modules.drawer_box import BOTTOM_RAISED, FINGER_HOLE, FINGER_INSET
from fitout.modules.drawer_room import (
    least_box,
    least_column,
    least_depth,
    least_front,
    refuse_too_small,
)


@pytest.fixture
def room(bays, setting_of):
    """Boards of 12 and one slide of each sort."""
    setting = setting_of(bays["van"], 12.0)
    slides = sorted(setting.catalogue.slides.values(), key=lambda s: (s.height, s.length))
    return setting.boards, [slides[0], slides[-1]]


def test_the_lowest_box(room):
    """A finger hole above the groove, or for a high slide the slide."""
    boards, slides = room
    groove = BOTTOM_RAISED + 12.0 + 8.0
    low = dataclasses.replace(slides[0], height=20.0)
    assert least_box(boards, low) == groove + FINGER_HOLE + FINGER_INSET
    tall = dataclasses.replace(slides[0], height=200.0)
    assert least_box(boards, tall) == 200.0


def test_the_lowest_front_has_the_box_behind_it(room):
    """A rail and a half less half a gap of 3, 10 below and 8 above the box."""
    boards, slides = room
    tall = dataclasses.replace(slides[0], height=200.0)
    assert least_front(boards, tall) == 18.0 - 1.5 + 10.0 + 8.0 + 200.0


def test_the_shortest_carcass_takes_the_longest_slide(room):
    """Front 12, 2 off, slide, 10 behind, back 12."""
    boards, slides = room
    longest = max(s.length for s in slides)
    assert least_depth(boards, slides) == 12.0 + 2.0 + longest + 10.0 + 12.0


def test_the_narrowest_column(room):
    """Two carcass sides, two slides, two drawer sides, 60 clear."""
    boards, slides = room
    widest = max(s.side_clearance for s in slides)
    assert least_column(boards, slides) == pytest.approx(2.0 * (12.0 + widest + 12.0) + 60.0)


def test_what_is_too_small_is_refused_with_the_least_that_goes():
    refuse_too_small(("modules", "d", "depth"), 400.0, 400.0, "")
    with pytest.raises(DesignError) as refused:
        refuse_too_small(("modules", "d", "depth"), 380.0, 400.2, "The slides need it.")
    (fault,) = refused.value.faults
    assert (fault.found, fault.expected) == ("380", "at least 401")
    assert fault.path == ("modules", "d", "depth")
    assert fault.hint == "The slides need it."
