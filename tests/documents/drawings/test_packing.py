"""Blocks on sheets: none on another, in the frame, groups together where they fit."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.documents.drawings.packing import GAP, HEIGHT, ROOM, WIDTH, packed
from fitout.documents.drawings.sketch import TITLE_BLOCK
from fitout.documents.paper.marks import box
from fitout.documents.paper.room import extent
from fitout.documents.paper.table import Block


def block(width: float, height: float) -> Block:
    return Block(width, height, (box(0.0, -height, width, height),))


SIZES = st.tuples(st.floats(5.0, WIDTH), st.floats(5.0, 190.0))


@given(st.lists(st.lists(SIZES, min_size=1, max_size=3), min_size=1, max_size=8))
@settings(max_examples=40, deadline=None)
def test_blocks_are_apart_and_all_there(sizes: list[list[tuple[float, float]]]) -> None:
    groups = [[[block(*size) for size in group]] for group in sizes]
    sheets = packed(groups)
    assert sum(len(sheet.marks) for sheet in sheets) == sum(len(group) for group in sizes)
    for sheet in sheets:
        x0, y0, x1, y1 = extent(sheet.marks)
        assert x0 >= ROOM[0] - 1e-6
        assert y0 >= ROOM[1] - 1e-6
        assert x1 <= ROOM[2] + 1e-6
        assert y1 <= ROOM[3] + 1e-6
        boxes = [extent([mark]) for mark in sheet.marks]
        for a, b in itertools.combinations([*boxes, TITLE_BLOCK], 2):
            across = max(a[0], b[0]) - min(a[2], b[2])
            up = max(a[1], b[1]) - min(a[3], b[3])
            assert max(across, up) >= GAP - 1e-6


def test_a_group_stays_together_if_one_of_its_ways_fits() -> None:
    tall = [block(150.0, 100.0), block(80.0, 255.0), block(80.0, 255.0)]
    parted = [block(150.0, 100.0), *[block(80.0, 90.0)] * 4]
    (sheet,) = packed([[tall, parted]])
    assert len(sheet.marks) == 5


def test_what_fits_no_sheet_together_goes_on_to_the_next() -> None:
    sheets = packed([[[block(300.0, 150.0)] * 3]])
    assert [sheet.groups for sheet in sheets] == [[0], [0], [0]]


def test_later_blocks_fill_earlier_sheets_unless_order_is_kept() -> None:
    groups = [[[block(300.0, 150.0)]], [[block(300.0, 150.0)]], [[block(20.0, 20.0)]]]
    assert [sheet.groups for sheet in packed(groups)] == [[0, 2], [1]]
    assert [sheet.groups for sheet in packed(groups, still_open=1)] == [[0], [1, 2]]


def test_a_block_too_large_for_any_sheet_is_refused() -> None:
    with pytest.raises(ValueError, match="too large"):
        packed([[[block(WIDTH + 1.0, HEIGHT)]]])
