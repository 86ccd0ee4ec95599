"""Clipping and enclosing, against shapely."""

import itertools
import math
import random

import pytest
from shapely.geometry import LineString, Point, Polygon, box

from fitout.documents.templates.clip import clipped, encloses, inside, ring
from fitout.model.outline import circle, polygon, rounded

STAR = [(0.0, 0.0), (60.0, 20.0), (100.0, -30.0), (90.0, 60.0), (30.0, 50.0), (10.0, 90.0)]


def length(points: tuple[tuple[float, float], ...]) -> float:
    return sum(math.dist(a, b) for a, b in itertools.pairwise(points))


@pytest.mark.parametrize("seed", range(20))
def test_what_is_left_is_what_shapely_leaves(seed: int) -> None:
    rng = random.Random(seed)
    points = [(rng.uniform(-50, 150), rng.uniform(-50, 150)) for _ in range(9)]
    span = (0.0, 10.0, 100.0, 80.0)
    expected = LineString(points).intersection(box(*span)).length
    assert sum(map(length, clipped(points, span))) == pytest.approx(expected, abs=1e-9)
    assert all(
        inside((round(x, 9), round(y, 9)), span) for p in clipped(points, span) for x, y in p
    )


def test_a_line_that_leaves_and_returns_is_in_pieces() -> None:
    pieces = clipped([(-5, 5), (5, 5), (5, 20), (8, 20), (8, 5)], (0.0, 0.0, 10.0, 10.0))
    assert pieces == [((0.0, 5.0), (5, 5), (5.0, 10.0)), ((8.0, 10.0), (8, 5))]


def test_encloses_as_shapely_does() -> None:
    rng = random.Random(1)
    star = Polygon(STAR)
    for _ in range(200):
        point = (rng.uniform(-10, 110), rng.uniform(-40, 100))
        assert encloses(STAR, point) == star.contains(Point(point))


def test_chords_stay_on_the_arc() -> None:
    for x, y in ring(circle(10.0, 20.0, 30.0)):
        assert math.dist((x, y), (10.0, 20.0)) == pytest.approx(15.0, abs=0.02)
    assert len(ring(rounded(polygon(STAR), 3.0))) > len(STAR)
