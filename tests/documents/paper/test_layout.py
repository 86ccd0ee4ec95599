"""A drawing knows what room is taken, whatever is offered to it."""

import pytest

from fitout.documents.paper.layout import DIMENSION, EXTENSION, LEADER, Layout
from fitout.documents.paper.marks import NARROW, WIDE, Mark, Text, line

ROOM = (0.0, 0.0, 100.0, 80.0)


def _layout() -> Layout:
    layout = Layout(ROOM, ((60.0, 0.0, 100.0, 20.0),))
    layout.draw([line((10.0, 40.0), (90.0, 40.0), WIDE), Text((40.0, 60.0), "402.5")])
    return layout


@pytest.mark.parametrize(
    ("marks", "fits"),
    [
        ([Text((20.0, 50.0), "12")], True),
        ([Text((20.0, 39.0), "12")], False),
        ([Text((41.0, 61.0), "12")], False),
        ([Text((98.0, 50.0), "12")], False),
        ([Text((70.0, 10.0), "12")], False),
        ([line((42.0, 50.0), (42.0, 70.0), NARROW, EXTENSION)], False),
        ([line((20.0, 50.0), (20.0, 70.0), NARROW, EXTENSION)], True),
        ([line((10.0, 42.0), (90.0, 42.0), NARROW, DIMENSION)], False),
        ([line((10.0, 48.0), (90.0, 48.0), NARROW, DIMENSION)], True),
        ([Text((20.0, 50.0), "12"), Text((21.0, 51.0), "12")], False),
        ([Text((20.0, 50.0), "12"), line((20.0, 51.0), (30.0, 51.0))], False),
    ],
)
def test_marks_fit_where_nothing_is(marks: list[Mark], fits: bool) -> None:
    assert _layout().fits(marks) is fits


def test_leaders_cross_outlines_but_not_each_other() -> None:
    layout = _layout()
    first = [line((20.0, 30.0), (30.0, 50.0), NARROW, LEADER)]
    crossing = [line((30.0, 30.0), (20.0, 50.0), NARROW, LEADER)]
    assert layout.first([first])
    assert not layout.fits(crossing)


def test_the_first_way_that_fits_is_drawn_and_taken() -> None:
    layout = _layout()
    ways = [[Text((40.0, 60.0), "on it")], [Text((10.0, 70.0), "free")], [Text((10.0, 60.0), "x")]]
    before = len(layout.marks)
    assert layout.first(ways)
    assert list(layout.marks[before:]) == ways[1]
    assert not layout.first([ways[1]])
    assert not layout.is_free((10.0, 70.0, 12.0, 72.0))
    assert layout.is_free((10.0, 50.0, 12.0, 52.0))
