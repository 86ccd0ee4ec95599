"""What room marks take, and texts that lie on something: each planted overlap is seen."""

import math

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from fitout.documents.paper.fonts import text_width
from fitout.documents.paper.marks import Arc, Area, Mark, Stroke, Text, line
from fitout.documents.paper.room import (
    Taken,
    apart,
    bounds,
    extent,
    lines_of,
    overlaps,
    text_shape,
)

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))


def test_a_text_takes_its_width_and_its_descenders() -> None:
    plain = bounds([text_shape(Text((5.0, 5.0), "12", 2.5))])
    assert plain[2] - plain[0] == pytest.approx(text_width("12", 2.5))
    assert plain[1] == 5.0
    assert bounds([text_shape(Text((5.0, 5.0), "gy", 2.5))])[1] < 5.0
    upright = bounds([text_shape(Text((5.0, 5.0), "12", 2.5, "middle", 90.0))])
    assert upright[3] - upright[1] == pytest.approx(text_width("12", 2.5))
    assert upright[2] == pytest.approx(5.0)


@pytest.mark.parametrize(
    ("other", "clear"),
    [
        (((12.0, 0.0), (20.0, 0.0), (20.0, 10.0)), True),
        (((9.0, 9.0), (20.0, 9.0), (20.0, 20.0)), False),
        (((11.0, -5.0), (11.0, 15.0)), True),
        (((5.0, -5.0), (5.0, 15.0)), False),
        (((8.0, 14.0), (14.0, 8.0)), True),
        (((2.0, 2.0), (3.0, 3.0)), False),
    ],
)
def test_polygons_and_lines_are_told_apart(
    other: tuple[tuple[float, float], ...], clear: bool
) -> None:
    assert apart(SQUARE, other) is clear
    assert apart(other, SQUARE) is clear


def test_crossing_lines_meet_and_collinear_ones_apart_do_not() -> None:
    assert not apart(((0.0, 0.0), (10.0, 10.0)), ((0.0, 10.0), (10.0, 0.0)))
    assert apart(((0.0, 0.0), (4.0, 4.0)), ((5.0, 5.0), (9.0, 9.0)))


@given(st.tuples(*[st.floats(-60.0, 60.0)] * 4))
@example((29.0, -29.5, 0.0, 0.0))  # ends in the very corner of a square
@settings(max_examples=50, deadline=None)
def test_what_is_near_holds_every_line_that_meets(ends: tuple[float, ...]) -> None:
    taken = Taken()
    taken.add(SQUARE, Text((0.0, 0.0), "x"))
    segment = ((ends[0], ends[1]), (ends[2], ends[3]))
    assert taken.meets(segment) is not apart(SQUARE, segment)


def test_arcs_are_chords_that_end_on_it() -> None:
    shapes = list(lines_of(Arc((10.0, 10.0), 5.0, 0.0, 90.0)))
    assert shapes[0][0] == pytest.approx((15.0, 10.0))
    assert shapes[-1][1] == pytest.approx((10.0, 15.0))
    assert all(math.dist(p, (10.0, 10.0)) == pytest.approx(5.0) for s in shapes for p in s)


def test_the_extent_counts_lines_texts_and_areas() -> None:
    marks: list[Mark] = [
        line((0.0, 0.0), (10.0, 0.0)),
        Area((((-5.0, 0.0), (0.0, 3.0), (0.0, 0.0)),), (0.0, 0.0, 0.0)),
        Text((0.0, 20.0), "12", 2.5),
    ]
    assert extent(marks) == pytest.approx((-5.0, 0.0, 10.0, 20.0 + 1.05 * 2.5))
    assert extent([]) == (0.0, 0.0, 0.0, 0.0)


CLEAN: tuple[Mark, ...] = (
    line((0.0, 0.0), (100.0, 0.0)),
    Text((50.0, 1.0), "402.5", 2.5, "middle", layer="DIMENSION"),
    Text((80.0, 1.0), "12", 2.5, "middle", layer="DIMENSION"),
)


@pytest.mark.parametrize(
    ("planted", "told"),
    [
        (Text((52.0, 2.0), "R25", 2.5), "“R25” lies on “402.5”"),
        (line((50.0, -5.0), (50.0, 20.0), layer="OUTLINE"), "“402.5” has a line through it"),
        (Arc((80.0, 0.0), 2.0), "“12” has a line through it"),
        (Stroke(((75.0, 0.5), (85.0, 0.5), (80.0, 3.0)), closed=True), "“12” has a line"),
        (Area((((80.0, 1.5), (82.0, 2.0), (82.0, 1.0)),), (0, 0, 0), "LEADER"), "“12” has a line"),
    ],
)
def test_a_planted_overlap_is_found(planted: Mark, told: str) -> None:
    assert overlaps(CLEAN) == []
    (found,) = overlaps((*CLEAN, planted))
    assert found.startswith(told)


def test_fills_may_be_written_on() -> None:
    ground = Area((((0.0, 0.0), (100.0, 0.0), (100.0, 20.0)),), (0.9, 0.9, 0.9))
    assert overlaps((ground, *CLEAN)) == []
