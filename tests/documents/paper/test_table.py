"""Tables: every cell is told, parts are no higher than asked, nothing overlaps."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.documents.paper.marks import Text
from fitout.documents.paper.room import extent, overlaps
from fitout.documents.paper.table import Column, Table, blocks, without_empty

COLUMNS = (Column("No.", "right"), Column("Name", most=40.0), Column("For", "middle", 30.0))
ROWS = tuple(
    (f"{i}", "drawer 1 left side " * (i % 3 + 1), "screw" if i % 2 else "") for i in range(40)
)


def _told(table: Table, height: float) -> str:
    texts = [m.text for b in blocks(table, height) for m in b.marks if isinstance(m, Text)]
    return " ".join(texts)


@pytest.mark.parametrize("height", [30.0, 60.0, 120.0, 1000.0])
def test_parts_are_no_higher_and_tell_every_row_once(height: float) -> None:
    table = Table(COLUMNS, ROWS, "Holes of P01")
    found = blocks(table, height)
    assert all(block.height <= height for block in found)
    told = [m.text for b in found for m in b.marks if isinstance(m, Text)]
    assert [t for t in told if t.isdigit() and t != "1"] == [r[0] for r in ROWS if r[0] != "1"]
    assert told.count("No.") == told.count("Holes of P01") == len(found)
    for block in found:
        assert overlaps(block.marks) == []
        left, bottom, right, top = extent(block.marks)
        assert left == 0.0
        assert -1.0 < top <= 0.0
        assert (right, bottom) == pytest.approx((block.width, -block.height), abs=0.05)


def test_a_table_is_stretched_by_its_last_column() -> None:
    (block,) = blocks(Table(COLUMNS, ROWS[:3]), 100.0, width=150.0)
    assert block.width == pytest.approx(150.0)


def test_columns_that_nothing_is_in_are_left_out() -> None:
    table = without_empty(Table(COLUMNS, (("1", "a", ""), ("2", "b", "")), "t"))
    assert [c.heading for c in table.columns] == ["No.", "Name"]
    assert table.rows == (("1", "a"), ("2", "b"))


@given(st.lists(st.tuples(*[st.text(max_size=40)] * 3), min_size=1, max_size=12))
@settings(max_examples=25, deadline=None)
def test_whatever_is_in_the_cells_nothing_overlaps(rows: list[tuple[str, ...]]) -> None:
    for block in blocks(Table(COLUMNS, tuple(rows), "any"), 80.0):
        assert overlaps(block.marks) == []
