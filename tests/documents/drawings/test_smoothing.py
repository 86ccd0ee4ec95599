"""An outline without corners on straight sides, chords told as the arc they stand for."""

import math

import pytest

from fitout.documents.drawings.features import Corner, corners
from fitout.documents.drawings.smoothing import chords, straightened
from fitout.model.outline import Loop, Point, Vertex, polygon


def _arc(centre: Point, radius: float, start_deg: float, end_deg: float, count: int) -> list[Point]:
    angles = [math.radians(start_deg + (end_deg - start_deg) * i / count) for i in range(count + 1)]
    return [(centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in angles]


def _sharp(found: tuple[Corner, ...]) -> list[tuple[float, float, float]]:
    return [(round(c.x, 2), round(c.y, 2), c.radius) for c in found]


def test_a_vertex_on_a_straight_side_is_no_corner() -> None:
    loop = polygon([(0, 12), (1, 12), (2.3, 12.01), (100, 12), (100, 80), (0, 80)])
    assert len(straightened(loop.anticlockwise().vertices)) == 4
    bent = polygon([(0, 12), (50, 12.2), (100, 12), (100, 80), (0, 80)])
    assert len(straightened(bent.anticlockwise().vertices)) == 5


def test_many_small_bends_are_not_straightened_one_by_one() -> None:
    """Each vertex lies near to the line between its neighbours, but not all of them."""
    bow = [(10.0 * i, 0.02 * i * (10 - i)) for i in range(11)]
    kept = straightened(polygon([*reversed(bow), (0, -60), (100, -60)]).anticlockwise().vertices)
    assert 6 < len(kept) < 13


@pytest.mark.parametrize("outer", [2.0, 2.0 / math.cos(math.radians(11.25))])
def test_a_rounding_of_chords_is_told_by_its_corner_and_radius(outer: float) -> None:
    """Chords within the arc and chords along its tangents, as other programs cut them."""
    rounding = _arc((98.0, 48.0), outer, 0.0, 90.0, 4)
    if outer > 2.0:
        rounding = _arc((98.0, 48.0), outer, 11.25, 78.75, 3)
    found = corners(polygon([(0, 0), (100, 0), *rounding, (0, 50)]))
    assert _sharp(found) == [(0, 0, 0.0), (100, 0, 0.0), (100, 50, 2.0), (0, 50, 0.0)]


def test_chords_that_run_into_no_side_are_told_as_an_arc() -> None:
    bow = _arc((50.0, 50.0), 22.0, -40.0, 220.0, 20)
    found = corners(polygon([(20, 0), (80, 0), *bow]))
    arcs = [c for c in found if c.arc is not None]
    assert [c.arc for c in arcs] == pytest.approx([22.0], abs=0.15)
    assert (arcs[0].x, arcs[0].y) == pytest.approx(bow[0])
    assert len(found) == 4


def test_chords_that_bend_inwards_are_an_arc_inwards() -> None:
    bow = _arc((50.0, 0.0), 20.0, 180.0, 0.0, 12)
    found = corners(polygon([(0, 0), *bow, (100, 0), (100, 60), (0, 60)]))
    assert [c.arc for c in found if c.arc is not None] == pytest.approx([-20.0], abs=0.15)


@pytest.mark.parametrize("count", [4, 6, 8, 24])
def test_a_regular_polygon_stays_one(count: int) -> None:
    ring = _arc((0.0, 0.0), 30.0, 0.0, 360.0, count)[:-1]
    assert len(corners(polygon(ring))) == count


def test_true_arcs_stay_as_they_are() -> None:
    loop = Loop((Vertex(0, 0), Vertex(100, 0, -0.3), Vertex(100, 60), Vertex(0, 60)))
    assert list(chords(loop.anticlockwise().vertices)) == []
    assert [c.arc for c in corners(loop) if c.arc is not None] == [pytest.approx(-54.5)]
