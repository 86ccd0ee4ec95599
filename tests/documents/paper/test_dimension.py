"""Dimensions lie on nothing, tell what they were given, and measure where they should."""

import itertools
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.documents.paper.dimension import (
    Ordinate,
    Side,
    aligned,
    balloon,
    chain,
    leader,
    linear,
    running,
    spread,
)
from fitout.documents.paper.layout import DIMENSION, EXTENSION, Layout
from fitout.documents.paper.marks import WIDE, Arc, Stroke, Text, box
from fitout.documents.paper.room import extent, overlaps

LENGTH, WIDTH = 120.0, 60.0


def _layout() -> Layout:
    layout = Layout((-100.0, -100.0, LENGTH + 100.0, WIDTH + 100.0))
    layout.draw([box(0.0, 0.0, LENGTH, WIDTH, WIDE, "OUTLINE")])
    return layout


def _told(layout: Layout) -> list[str]:
    return [mark.text for mark in layout.marks if isinstance(mark, Text)]


@pytest.mark.parametrize("side", ["below", "above", "left", "right"])
def test_a_dimension_line_ends_at_its_extension_lines(side: Side) -> None:
    layout = _layout()
    corner = {"below": (LENGTH, 0.0), "above": (LENGTH, WIDTH), "left": (0.0, WIDTH),
              "right": (LENGTH, WIDTH)}[side]  # fmt: skip
    start = {"below": (0.0, 0.0), "above": (0.0, WIDTH), "left": (0.0, 0.0),
             "right": (LENGTH, 0.0)}[side]  # fmt: skip
    assert linear(layout, start, corner, "600", side)
    (along,) = [m for m in layout.marks if isinstance(m, Stroke) and m.layer == DIMENSION]
    axis = 0 if side in ("below", "above") else 1
    assert sorted(p[axis] for p in along.points) == [start[axis], corner[axis]]
    assert sum(m.layer == EXTENSION for m in layout.marks) == 2
    assert overlaps(layout.marks) == []


@pytest.mark.parametrize("span", [1.0, 4.0, 7.0, 10.0, 14.0, 60.0])
def test_a_span_of_any_length_is_told(span: float) -> None:
    layout = _layout()
    assert linear(layout, (20.0, WIDTH), (20.0 + span, WIDTH), "1234.5", "above")
    assert linear(layout, (LENGTH, 10.0), (LENGTH, 10.0 + span), "1234.5", "right")
    assert overlaps(layout.marks) == []


def test_further_dimensions_lie_further_out() -> None:
    layout = _layout()
    for i in range(5):
        assert linear(layout, (10.0 * i, WIDTH), (LENGTH - 2.0 * i, WIDTH), f"{i}", "above")
    levels = [m.at[1] for m in layout.marks if isinstance(m, Text)]
    assert levels == sorted(levels)
    assert min(b - a for a, b in itertools.pairwise(levels)) >= 5.0
    assert overlaps(layout.marks) == []


def test_a_chain_stands_on_one_line() -> None:
    layout = _layout()
    points = [(0.0, WIDTH), (2.0, WIDTH), (60.0, WIDTH), (LENGTH, WIDTH)]
    assert chain(layout, points, ["10", "290", "300"], "above")
    assert len({round(m.at[1], 6) for m in layout.marks if isinstance(m, Text)}) == 1
    assert overlaps(layout.marks) == []


def test_running_dimensions_tell_all_however_near() -> None:
    layout = _layout()
    places = [6.0, 7.0, 7.5, 8.0, 30.0, 31.0, 90.0, 119.0]
    told = [Ordinate((x, 5.0), f"{10.0 * x:g}") for x in places]
    assert running(layout, (0.0, 0.0), told, "below", 0.0)
    assert running(layout, (0.0, 0.0), [Ordinate((5.0, 20.0), "200")], "left", 0.0)
    assert sorted(_told(layout)) == sorted(["0", "0", "200", *(f"{10.0 * x:g}" for x in places)])
    assert overlaps(layout.marks) == []
    # Each extension line begins at its own place.
    starts = {
        m.points[0][0] for m in layout.marks if isinstance(m, Stroke) and m.layer == EXTENSION
    }
    assert set(places) <= starts


@given(st.lists(st.floats(0.0, 300.0), min_size=1, max_size=30))
@settings(max_examples=50, deadline=None)
def test_spread_places_keep_their_order_and_distance(wanted: list[float]) -> None:
    places = spread(wanted, 4.0)
    order = sorted(range(len(wanted)), key=lambda i: (wanted[i], i))
    for i, j in itertools.pairwise(order):
        assert places[j] - places[i] >= 4.0 - 1e-9
    if all(wanted[j] - wanted[i] >= 4.0 for i, j in itertools.pairwise(order)):
        assert places == pytest.approx(wanted)


@given(st.lists(st.floats(1.0, LENGTH - 1.0), min_size=1, max_size=18), st.booleans())
@settings(max_examples=25, deadline=None)
def test_running_dimensions_always_find_their_place(places: list[float], fractions: bool) -> None:
    layout = _layout()
    words = "42 27/32" if fractions else "1234.5"
    told = [Ordinate((x, 10.0), words) for x in places]
    assert running(layout, (0.0, 0.0), told, "below", 0.0)
    assert running(layout, (0.0, 0.0), [Ordinate((x, 50.0), words) for x in places], "above", WIDTH)
    assert overlaps(layout.marks) == []


def test_leaders_end_on_a_circle_and_balloons_at_their_part() -> None:
    layout = _layout()
    layout.draw([Arc((60.0, 30.0), 4.0)])
    assert leader(layout, (60.0, 30.0), "2 × Ø40 through", radius=4.0)
    for i in range(12):
        assert balloon(layout, (10.0 + 8.0 * i, 12.0), f"P{i:02d}")
    assert overlaps(layout.marks) == []


def test_a_slanting_edge_is_told_along_itself() -> None:
    layout = _layout()
    layout.draw([Stroke(((120.0, 60.0), (180.0, 100.0)), WIDE)])
    assert aligned(layout, (120.0, 60.0), (180.0, 100.0), "360.6")
    (text,) = [m for m in layout.marks if isinstance(m, Text)]
    assert text.turned == pytest.approx(33.69, abs=0.01)
    assert overlaps(layout.marks) == []


def test_where_no_place_is_left_nothing_is_drawn() -> None:
    layout = Layout((-1.0, -1.0, LENGTH + 1.0, WIDTH + 1.0))
    layout.draw([box(0.0, 0.0, LENGTH, WIDTH, WIDE)])
    assert not linear(layout, (0.0, WIDTH), (LENGTH, WIDTH), "600", "above")
    assert len(layout.marks) == 1


def test_a_hundred_random_dimensions_lie_on_nothing() -> None:
    dice = random.Random(7)
    layout = _layout()
    placed = 0
    for i in range(100):
        a, b = sorted((dice.uniform(0.0, LENGTH), dice.uniform(0.0, LENGTH)))
        side: Side = "above" if i % 2 else "below"
        y = WIDTH if i % 2 else 0.0
        placed += linear(layout, (a, y), (b, y), f"{10.0 * (b - a):.1f}", side)
        placed += leader(layout, (a, dice.uniform(0.0, WIDTH)), f"{i}")
    assert placed > 40
    assert overlaps(layout.marks) == []
    left, bottom, right, top = extent(layout.marks)
    assert left >= -100.0
    assert bottom >= -100.0
    assert right <= LENGTH + 100.0
    assert top <= WIDTH + 100.0
