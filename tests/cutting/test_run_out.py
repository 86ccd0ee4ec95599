"""What is open at the part's edge is drawn beyond it, so that a round bit clears its corners."""

import pytest
import shapely

from fitout.cutting.run_out import run_out
from fitout.model.outline import Loop, Vertex, circle, polygon, rectangle

BOARD = rectangle(700.0, 220.0)
RADIUS = 3.0


def area(loop):
    return shapely.Polygon(loop.chords(grows=False))


def routed(loop):
    """What a round bit kept inside the loop reaches."""
    return area(loop).buffer(-RADIUS + 1e-6).buffer(RADIUS, quad_segs=64)


@pytest.mark.parametrize(
    ("groove", "bounds"),
    [
        (rectangle(700.0, 6.6, 0.0, 12.0), (-3.0, 12.0, 703.0, 18.6)),
        (rectangle(400.0, 6.6, 300.0, 12.0), (300.0, 12.0, 703.0, 18.6)),
        (rectangle(12.0, 220.0, 90.0, 0.0), (90.0, -3.0, 102.0, 223.0)),
    ],
)
def test_an_open_end_is_moved_out_by_the_radius(groove, bounds):
    drawn = run_out(groove, BOARD, RADIUS)
    assert len(drawn.vertices) == 4
    assert area(drawn).bounds == pytest.approx(bounds)
    # Inside the part it is as it was.
    assert area(drawn).intersection(area(BOARD)).equals(area(groove))


def test_a_bit_reaches_the_corners_at_the_edge():
    groove = rectangle(700.0, 12.0, 0.0, 12.0)
    missed = area(groove).difference(routed(groove)).area
    assert missed == pytest.approx(4 * (1 - 3.14159 / 4) * RADIUS**2, rel=1e-2)
    drawn = run_out(groove, BOARD, RADIUS)
    assert area(groove).difference(routed(drawn)).area < 1e-3


def test_a_rebate_along_two_edges_reaches_both():
    rebate = polygon([(0, 0), (80, 0), (80, 60), (0, 60)])
    drawn = run_out(rebate, BOARD, RADIUS)
    missed = area(rebate).difference(routed(drawn))
    # Only the corner inside the part stays round.
    assert missed.area < 1.1 * (1 - 3.14159 / 4) * RADIUS**2
    assert missed.centroid.distance(shapely.Point(80, 60)) < RADIUS


@pytest.mark.parametrize(
    "closed",
    [
        rectangle(60.0, 6.6, 15.0, 20.0),
        circle(100.0, 100.0, 30.0),
        Loop((Vertex(700.0, 50.0, 1.0), Vertex(700.0, 90.0, 1.0))),
    ],
)
def test_what_is_closed_stays_as_it_is(closed):
    assert run_out(closed, BOARD, RADIUS) is closed
