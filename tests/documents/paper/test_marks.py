"""Marks: rectangles, lines, and marks moved as they are."""

from fitout.documents.paper.marks import (
    BLACK,
    HIDDEN,
    MEDIUM,
    WIDE,
    Arc,
    Area,
    Mark,
    Stroke,
    Text,
    box,
    line,
    moved,
)


def test_moved_marks_differ_in_place_alone() -> None:
    marks: list[Mark] = [
        Stroke(((0.0, 0.0), (4.0, 3.0)), WIDE, closed=True, layer="A"),
        Arc((1.0, 2.0), 3.0, 10.0, 80.0, HIDDEN, "B"),
        Area((((0.0, 0.0), (1.0, 0.0), (0.0, 1.0)),), BLACK, "C"),
        Text((5.0, 6.0), "P01", 3.5, "right", 90.0, True, BLACK, "D"),
    ]
    there = moved(marks, (10.0, -20.0))
    assert [type(mark) for mark in there] == [type(mark) for mark in marks]
    assert there[3] == Text((15.0, -14.0), "P01", 3.5, "right", 90.0, True, BLACK, "D")
    assert moved(there, (-10.0, 20.0)) == marks


def test_a_box_is_closed_and_as_large_as_asked() -> None:
    assert box(1.0, 2.0, 30.0, 40.0, MEDIUM).points == (
        (1.0, 2.0), (31.0, 2.0), (31.0, 42.0), (1.0, 42.0),
    )  # fmt: skip
    assert box(0.0, 0.0, 1.0, 1.0).closed
    assert not line((0.0, 0.0), (1.0, 1.0)).closed


def test_line_widths_are_of_the_series_of_iso_128() -> None:
    """ISO 128-2: 0.13, 0.18, 0.25, 0.35, 0.5, 0.7, each the last times the root of two."""
    series = {0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0}
    assert {pen.width for pen in (WIDE, MEDIUM, HIDDEN)} <= series
    assert WIDE.width == 2.0 * HIDDEN.width
