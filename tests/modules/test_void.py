"""Voids outside the bay: slope, and the largest rectangle that keeps out of what is there."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.modules.void import Area, KeepOutSpec, SlopeSpec, VoidSpec, free_area


def leg(from_left: float, from_front: float, across: float, depth: float) -> KeepOutSpec:
    return KeepOutSpec(
        name="leg", from_left=from_left, from_front=from_front, across=across, depth=depth
    )


def test_an_empty_void_is_free_but_for_the_clearance() -> None:
    void = VoidSpec(across=900.0, depth=400.0, height=120.0)
    assert free_area(void, 3.0) == Area(x0=3.0, x1=397.0, y0=3.0, y1=897.0)


def test_legs_at_both_front_corners_leave_the_room_between_or_behind() -> None:
    narrow = VoidSpec(
        across=900.0,
        depth=400.0,
        height=120.0,
        keep_out=(leg(0, 0, 60, 80), leg(840, 0, 60, 80)),
    )
    # Between the legs 900 - 120 wide, behind them 400 - 80 deep: 774 x 394 beats 894 x 314.
    assert free_area(narrow, 3.0) == Area(x0=3.0, x1=397.0, y0=63.0, y1=837.0)
    deep = VoidSpec(
        across=900.0,
        depth=400.0,
        height=120.0,
        keep_out=(leg(0, 0, 200, 80), leg(700, 0, 200, 80)),
    )
    assert free_area(deep, 3.0) == Area(x0=3.0, x1=317.0, y0=3.0, y1=897.0)


def test_left_and_front_are_where_the_builder_says() -> None:
    void = VoidSpec(across=900.0, depth=400.0, height=120.0, keep_out=(leg(0, 0, 300, 399),))
    assert free_area(void, 0.0) == Area(x0=0.0, x1=400.0, y0=0.0, y1=600.0)


def test_nothing_left_is_none() -> None:
    void = VoidSpec(across=300.0, depth=200.0, height=90.0, keep_out=(leg(0, 0, 300, 200),))
    assert free_area(void, 2.0) is None
    assert free_area(VoidSpec(across=5.0, depth=200.0, height=90.0), 3.0) is None


def test_height_runs_evenly_from_rear_to_front() -> None:
    void = VoidSpec(across=900.0, depth=400.0, height=SlopeSpec(front=140.0, rear=100.0))
    assert [void.height_at(x) for x in (0.0, 100.0, 400.0)] == [100.0, 110.0, 140.0]
    assert void.lowest(Area(x0=100.0, x1=300.0, y0=0.0, y1=1.0)) == 110.0
    falling = VoidSpec(across=900.0, depth=400.0, height=SlopeSpec(front=100.0, rear=140.0))
    assert falling.lowest(Area(x0=100.0, x1=300.0, y0=0.0, y1=1.0)) == pytest.approx(110.0)


LEGS = st.builds(
    leg,
    st.integers(0, 18).map(lambda n: 10.0 * n),
    st.integers(0, 10).map(lambda n: 10.0 * n),
    st.integers(1, 8).map(lambda n: 10.0 * n),
    st.integers(1, 6).map(lambda n: 10.0 * n),
)


@settings(max_examples=25, deadline=None)
@given(st.lists(LEGS, max_size=3))
def test_no_larger_rectangle_on_a_grid_is_free(legs: list[KeepOutSpec]) -> None:
    void = VoidSpec(across=200.0, depth=120.0, height=100.0, keep_out=tuple(legs))
    xs, ys = range(13), range(21)
    blocked = [
        (
            12 - (one.from_front + one.depth) / 10.0,
            12 - one.from_front / 10.0,
            20 - (one.from_left + one.across) / 10.0,
            20 - one.from_left / 10.0,
        )
        for one in legs
    ]
    best = max(
        (
            100.0 * (x1 - x0) * (y1 - y0)
            for x0, x1 in itertools.combinations(xs, 2)
            for y0, y1 in itertools.combinations(ys, 2)
            if all(x1 <= a or x0 >= b or y1 <= c or y0 >= d for a, b, c, d in blocked)
        ),
        default=0.0,
    )
    free = free_area(void, 0.0)
    found = 0.0 if free is None else (free.x1 - free.x0) * (free.y1 - free.y0)
    assert found == pytest.approx(best)
