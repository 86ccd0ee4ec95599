"""The distance between outlines against shapely's."""

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.cutting.distance import SAGITTA, distance, edges
from fitout.model.outline import Outline, circle, polygon, rectangle, rounded, slot

SHAPES = [
    Outline(rectangle(100.0, 60.0)),
    Outline(polygon([(0, 0), (200, 0), (0, 120)])),
    Outline(rounded(rectangle(150.0, 90.0), 20.0)),
    Outline(slot(0.0, 0.0, 120.0, 50.0, 40.0)),
    Outline(circle(0.0, 0.0, 90.0)),
    Outline(rectangle(300.0, 300.0), (circle(150.0, 150.0, 240.0),)),
]


def material(outline):
    """The shape with arcs as fine chords on the arc's inner side."""
    return shapely.Polygon(
        outline.outer.chords(grows=False, sagitta=1e-3),
        [loop.chords(grows=True, sagitta=1e-3) for loop in outline.inner],
    )


@settings(max_examples=60, deadline=None)
@given(
    first=st.sampled_from(SHAPES),
    second=st.sampled_from(SHAPES),
    turns=st.integers(0, 3),
    dx=st.floats(-400.0, 400.0),
    dy=st.floats(-400.0, 400.0),
)
def test_distance_is_shapelys(first, second, turns, dx, dy):
    other = second.turned(turns).moved(dx, dy)
    ours = distance(edges(first), edges(other))
    theirs = material(first).distance(material(other))
    assert ours == pytest.approx(theirs, abs=2 * SAGITTA + 2e-3)
    assert ours == distance(edges(other), edges(first))


def test_inside_a_cut_out_is_apart():
    ring = SHAPES[-1]
    inside = Outline(rectangle(100.0, 100.0, 100.0, 100.0))
    gap = 120.0 - 50.0 * 2**0.5
    assert distance(edges(ring), edges(inside)) == pytest.approx(gap, abs=SAGITTA)


@pytest.mark.parametrize(
    "inner",
    [rectangle(20.0, 20.0, 30.0, 20.0), rectangle(100.0, 60.0), rectangle(300.0, 5.0, -50.0)],
)
def test_overlap_is_no_distance(inner):
    assert distance(edges(SHAPES[0]), edges(Outline(inner))) == 0.0
    assert distance(edges(Outline(inner)), edges(SHAPES[0])) == 0.0


def test_touching_is_no_distance():
    beside = Outline(rectangle(50.0, 60.0, 100.0, 0.0))
    assert distance(edges(SHAPES[0]), edges(beside)) == 0.0
