"""Outlines that cross themselves, and hollows too narrow for the bit."""

import pytest

from fitout.cutting.routable import crossing, enters, widest_bit
from fitout.model.outline import (
    Loop,
    Outline,
    Vertex,
    circle,
    polygon,
    rectangle,
    rounded,
    slot,
)


def test_sound_outlines():
    assert crossing(Outline(rectangle(300, 200), (circle(100, 100, 60),))) is None
    assert crossing(Outline(rounded(polygon([(0, 0), (40, 0), (40, 10), (10, 10), (10, 30),
                                             (0, 30)]), 2.0))) is None  # fmt: skip


def test_a_bow_tie_crosses_itself_in_its_middle():
    tie = Loop((Vertex(0, 0), Vertex(100, 60), Vertex(100, 0), Vertex(0, 60)))
    assert crossing(Outline(tie)) == pytest.approx((50.0, 30.0))


def test_a_cut_out_over_the_edge_crosses_it():
    assert crossing(Outline(rectangle(300, 200), (rectangle(50, 50, 270, 80),))) is not None


def test_an_arc_that_runs_into_an_edge_crosses_it():
    deep = Loop((Vertex(0, 0), Vertex(100, 0), Vertex(100, 15, 1.0), Vertex(60, 15), Vertex(0, 15)))
    assert crossing(Outline(deep)) is None
    inward = Loop(
        (Vertex(0, 0), Vertex(100, 0), Vertex(100, 15, -1.0), Vertex(60, 15), Vertex(0, 15))
    )
    assert crossing(Outline(inward)) is not None


@pytest.mark.parametrize(
    ("loop", "widest"),
    [
        (rectangle(300, 6.0), 6.0),
        (rectangle(300, 5.2), 5.0),
        (slot(0, 0, 100, 0, 8.0), 8.0),
        (slot(0, 0, 70, 70, 5.0), 5.0),
        (polygon([(0, 0), (200, 0), (200, 4.2), (4.2, 4.2), (4.2, 200), (0, 200)]), 4.0),
        (rectangle(50, 0.4), 0.0),
    ],
)
def test_the_widest_bit_that_enters(loop, widest):
    assert widest_bit(loop, 12.0) == widest
    if widest:
        assert enters(loop, widest)
    assert not enters(loop, widest + 0.9)
