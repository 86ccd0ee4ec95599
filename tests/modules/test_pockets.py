"""Pockets: exact where they can be, one closed loop, finger cuts in the right place."""

import math

import pytest

from fitout.model.outline import Loop, circle, polygon, rectangle
from fitout.modules.pockets import (
    FINGER,
    grown,
    is_simple,
    united,
    united_with_disc,
    with_fingers,
)


def bar(length: float, width: float) -> Loop:
    return rectangle(length, width, -length / 2.0, -width / 2.0)


def test_a_grown_rectangle_has_exact_round_corners() -> None:
    loop = grown(bar(180, 32), 2.0)
    assert loop.area == pytest.approx(184 * 36 - (4 - math.pi) * 4, abs=1e-9)
    assert loop.bounds == pytest.approx((-92, -18, 92, 18))
    assert len(loop.vertices) == 8


def test_grown_shapes_follow_the_rule_for_convex_ones() -> None:
    for loop in (polygon([(0, 0), (90, 10), (60, 70)]), circle(5, 5, 40)):
        expected = loop.area + loop.length * 3.0 + math.pi * 9.0
        assert grown(loop, 3.0).area == pytest.approx(expected, abs=1e-9)


def test_a_point_on_a_straight_edge_makes_no_corner() -> None:
    loop = polygon([(0, 0), (50, 0), (100, 0), (100, 40), (0, 40)])
    assert grown(loop, 2.0).area == pytest.approx(grown(rectangle(100, 40), 2.0).area)


def test_no_play_leaves_the_shape() -> None:
    assert grown(bar(50, 20), 0.0) == bar(50, 20)


def test_a_hollow_polygon_grows_within_a_twentieth_of_a_millimetre() -> None:
    hook = polygon([(0, 0), (100, 0), (100, 20), (20, 20), (20, 80), (0, 80)])
    # Five corners turn outwards, one inwards, where the grown edges meet square.
    exact = hook.area + hook.length * 2.0 + 5 * math.pi - 4.0
    found = grown(hook, 2.0)
    assert found.bounds == pytest.approx((-2, -2, 102, 82), abs=0.05)
    assert exact - 5 * 0.05 * math.pi <= found.area <= exact + 1e-3


@pytest.mark.parametrize(("sides", "cuts"), [(0, 0), (1, 1), (2, 2)])
def test_finger_cuts_are_half_discs_at_the_middle_of_the_long_sides(sides: int, cuts: int) -> None:
    pocket = grown(bar(180, 32), 2.0)
    cut = with_fingers(pocket, sides)
    half_disc = math.pi * FINGER**2 / 8.0
    assert cut.area - pocket.area == pytest.approx(cuts * half_disc, abs=1e-6)
    low, high = (-18 - 14 * (cuts == 2), 18 + 14 * (cuts > 0))
    assert cut.bounds == pytest.approx((-92, low, 92, high))


def test_finger_cuts_lie_at_the_long_sides_however_the_tool_lies() -> None:
    upright = with_fingers(grown(bar(32, 180), 2.0), 2)
    lying = with_fingers(grown(bar(180, 32), 2.0), 2)
    assert upright.area == pytest.approx(lying.area)
    assert upright.bounds == pytest.approx((-32, -92, 32, 92))


def test_finger_cuts_of_a_thin_tool_run_into_each_other() -> None:
    # The pocket is 8 mm wide: each cut reaches through it and 10 mm beyond.
    pocket = grown(bar(150, 4), 2.0)
    cut = with_fingers(pocket, 2)
    assert cut.bounds == pytest.approx((-77, -18, 77, 18), abs=0.05)
    assert cut.signed_area > 0


def test_finger_cuts_of_a_small_tool_are_smaller() -> None:
    cut = with_fingers(grown(circle(0, 0, 16), 2.0), 2)
    assert cut.bounds == pytest.approx((-10, -18, 10, 18), abs=0.01)


def test_a_disc_through_a_corner_is_moved_off_it() -> None:
    box = united_with_disc(bar(60, 40), (0.0, 20.0), 60.0)
    # The disc would end right at the corners; grown a little it takes both in.
    half = math.pi * 30.0**2 / 2.0
    assert box.area == pytest.approx(60 * 40 + half, abs=3.0)


def test_islands_are_filled() -> None:
    hook = polygon(
        [(-30, 0), (30, 0), (30, 40), (20, 40), (20, 10), (-20, 10), (-20, 40), (-30, 40)]
    )
    closed = united_with_disc(hook, (0.0, 40.0), 56.0)
    assert closed.area > 60 * 40
    assert closed.bounds == pytest.approx((-30, 0, 30, 68))


def test_a_disc_clear_of_the_edge_is_refused() -> None:
    with pytest.raises(ValueError, match="does not cross"):
        united_with_disc(bar(40, 40), (100.0, 0.0), 20.0)
    with pytest.raises(ValueError, match="does not cross"):
        united_with_disc(bar(40, 40), (0.0, 0.0), 10.0)


def test_shapes_that_overlap_become_one_loop_others_none() -> None:
    handle, head = bar(300, 30), bar(40, 110).moved(150, 0)
    hammer = united([handle, head])
    assert hammer is not None
    assert hammer.area == pytest.approx(300 * 30 + 40 * 110 - 20 * 30, abs=1e-3)
    assert united([handle, head.moved(100, 0)]) is None
    assert united([handle]) == handle


@pytest.mark.parametrize(
    ("points", "simple"),
    [
        (((0, 0), (10, 0), (10, 10)), True),
        (((0, 0), (10, 10), (10, 0), (0, 10)), False),
        (((0, 0), (10, 0), (20, 0)), False),
        (((0, 0), (10, 0)), False),
        (((0, 0), (40, 0), (40, 40), (20, 0), (0, 40)), False),
    ],
)
def test_shapes_that_cross_or_touch_themselves_are_known(
    points: tuple[tuple[float, float], ...], simple: bool
) -> None:
    assert is_simple(points) is simple
