"""Rectangles in rows: no two meet, walls are kept, nothing that fits alone is lost for long."""

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.modules.shelves import Packing, pack

WALL = 12.0


def test_one_row_as_wide_as_needed() -> None:
    packing = pack([(30, 100), (30, 100), (30, 100)], (54, 348), WALL)
    assert packing.left == ()
    assert [len(row.lying) for row in packing.rows] == [3]
    assert packing.depth(WALL) == 54.0
    assert pack([(30, 100), (30, 100), (30, 100)], (53.9, 348), WALL).left == (0, 1, 2)


def test_a_box_too_long_across_is_turned() -> None:
    packing = pack([(40, 400)], (430, 300), WALL)
    ((lying,),) = [row.lying for row in packing.rows]
    assert lying.turned
    assert packing.rows[0].depth == 400


def test_what_does_not_fit_is_named() -> None:
    assert pack([(40, 100), (500, 500), (40, 100)], (300, 300), WALL).left == (1,)


def test_depth_that_would_do_is_known_from_a_room_without_end() -> None:
    boxes = [(90.0, 90.0)] * 4
    assert pack(boxes, (150.0, 240.0), WALL).left == (2, 3)
    assert pack(boxes, (math.inf, 240.0), WALL).depth(WALL) == 2 * 90 + 3 * WALL


BOXES = st.lists(st.tuples(st.integers(10, 200), st.integers(10, 200)), min_size=1, max_size=12)


@settings(max_examples=40, deadline=None)
@given(BOXES, st.integers(150, 500), st.integers(150, 900))
def test_rows_hold_what_they_say(boxes: list[tuple[int, int]], depth: int, width: int) -> None:
    packing = pack(boxes, (depth, width), WALL)
    placed = [lying.index for row in packing.rows for lying in row.lying]
    assert sorted([*placed, *packing.left]) == list(range(len(boxes)))
    assert packing == pack(boxes, (depth, width), WALL)
    if packing.rows:
        assert packing.depth(WALL) <= depth + 1e-6
    for row in packing.rows:
        assert sum(lying.along + WALL for lying in row.lying) + WALL <= width + 1e-6
        for lying in row.lying:
            across = boxes[lying.index] if not lying.turned else boxes[lying.index][::-1]
            assert lying.along == across[1]
            assert across[0] <= row.depth
    for index in packing.left:
        assert _no_room(boxes[index], packing, depth, width)


def _no_room(box: tuple[int, int], packing: Packing, depth: int, width: int) -> bool:
    """Whether a box that was left out fits neither a new row nor the end of any row."""
    free = depth - packing.depth(WALL) if packing.rows else depth - WALL
    for deep, along in itertools.permutations(box):
        if deep + WALL <= free - 1e-6 and along + 2 * WALL <= width - 1e-6:
            return False
        for row in packing.rows:
            used = sum(lying.along + WALL for lying in row.lying) + WALL
            if deep <= row.depth and used + along + WALL <= width - 1e-6:
                return False
    return True


def test_the_way_that_leaves_least_out_wins() -> None:
    # Laid flat, the two long ones take a row each; stood up, one row holds everything.
    boxes = [(100.0, 30.0), (100.0, 30.0), (100.0, 30.0)]
    packing = pack(boxes, (124.0, 150.0), WALL)
    assert packing.left == ()
    assert len(packing.rows) == 1
    assert packing.rows[0].depth == pytest.approx(100.0)
