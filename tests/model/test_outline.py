"""Outlines: exact areas, centroids, bounds and lengths, held against dense polygons."""

import math

import numpy as np
import pytest

from fitout.model.outline import (
    CHORD_SAGITTA,
    Arc,
    Loop,
    Outline,
    Vertex,
    arc_of,
    circle,
    polygon,
    rectangle,
    rounded,
    slot,
)

NOTCHED = polygon([(0, 0), (300, 0), (300, 120), (210, 200), (140, 200), (140, 90), (0, 90)])
SHAPES = {
    "rectangle": rectangle(320.0, 170.0, -40.0, 25.0),
    "triangle": polygon([(10, 10), (130, 40), (60, 190)]),
    "notched": NOTCHED,
    "disc": circle(55.0, -30.0, 80.0),
    "slot": slot(20.0, 10.0, 140.0, 90.0, 32.0),
    "rounded rectangle": rounded(rectangle(200.0, 90.0), 18.0),
    "rounded inside and out": rounded(NOTCHED, 14.0),
    "bite": Loop((Vertex(0, 0, -0.6), Vertex(100, 0), Vertex(100, 80), Vertex(0, 80))),
    "more than half a turn": Loop((Vertex(0, 0, 2.5), Vertex(40, 0), Vertex(20, 30))),
}


@pytest.fixture(params=sorted(SHAPES))
def loop(request) -> Loop:
    return SHAPES[request.param]


def dense(loop: Loop, steps: int = 4000) -> np.ndarray:
    """The loop as a fine polygon whose corners lie on it, by the arcs' own points."""
    points = []
    for a, b in loop.segments():
        points.append((a.x, a.y))
        if a.bulge:
            arc = arc_of(a, b)
            points += [arc.at(arc.start + arc.sweep * i / steps) for i in range(1, steps)]
    return np.array(points)


def moments(points: np.ndarray) -> tuple[float, float, float]:
    """Area and centroid of a polygon by summing triangles from its first corner."""
    first, a, b = points[0], points[1:-1], points[2:]
    areas = ((a - first)[:, 0] * (b - first)[:, 1] - (a - first)[:, 1] * (b - first)[:, 0]) / 2.0
    centres = (first + a + b) / 3.0
    x, y = (areas[:, None] * centres).sum(axis=0) / areas.sum()
    return float(areas.sum()), float(x), float(y)


def distance_to(points: np.ndarray, line: np.ndarray) -> np.ndarray:
    """From each point to the nearest edge of a closed line."""
    run = np.roll(line, -1, axis=0) - line
    away = points[:, None, :] - line
    share = np.clip((away * run).sum(axis=2) / (run * run).sum(axis=1), 0.0, 1.0)
    return np.linalg.norm(away - share[:, :, None] * run, axis=2).min(axis=1)


def test_area_and_centroid_agree_with_a_dense_polygon(loop):
    area, x, y = moments(dense(loop))
    assert loop.signed_area == pytest.approx(area, rel=2e-6)
    assert loop.centroid == pytest.approx((x, y), abs=1e-3)


def test_bounds_agree_with_a_dense_polygon(loop):
    points = dense(loop)
    expected = (*points.min(axis=0), *points.max(axis=0))
    assert loop.bounds == pytest.approx(expected, abs=1e-4)


def test_length_agrees_with_a_dense_polygon(loop):
    points = dense(loop)
    around = np.linalg.norm(np.roll(points, -1, axis=0) - points, axis=1).sum()
    assert loop.length == pytest.approx(float(around), rel=1e-6)


def test_simple_shapes_have_their_textbook_values():
    disc = circle(3.0, 4.0, 10.0)
    assert disc.area == pytest.approx(25.0 * math.pi)
    assert disc.length == pytest.approx(10.0 * math.pi)
    assert disc.centroid == pytest.approx((3.0, 4.0))
    assert disc.bounds == pytest.approx((-2.0, -1.0, 8.0, 9.0))
    around = slot(0.0, 0.0, 100.0, 0.0, 30.0)
    assert around.area == pytest.approx(100.0 * 30.0 + 225.0 * math.pi)
    assert around.length == pytest.approx(200.0 + 30.0 * math.pi)
    assert around.bounds == pytest.approx((-15.0, -15.0, 115.0, 15.0))
    soft = rounded(rectangle(200.0, 90.0), 18.0)
    assert soft.area == pytest.approx(200.0 * 90.0 - (4.0 - math.pi) * 18.0**2)
    assert soft.bounds == pytest.approx((0.0, 0.0, 200.0, 90.0))


def test_half_disc_centroid():
    half = Loop((Vertex(0, 0), Vertex(100, 0, 1.0)))
    assert half.area == pytest.approx(math.pi * 50.0**2 / 2.0)
    assert half.centroid == pytest.approx((50.0, 4.0 * 50.0 / (3.0 * math.pi)))


def test_arc_of_a_quarter_turn():
    arc = arc_of(Vertex(10.0, 0.0, math.tan(math.pi / 8.0)), Vertex(0.0, 10.0))
    assert arc.centre == pytest.approx((0.0, 0.0), abs=1e-9)
    assert arc.radius == pytest.approx(10.0)
    assert arc.sweep == pytest.approx(math.pi / 2.0)
    assert arc.at(arc.start + arc.sweep) == pytest.approx((0.0, 10.0), abs=1e-9)
    assert Arc((1.0, 2.0), 3.0, 0.0, 1.0).at(0.0) == (4.0, 2.0)


def test_clockwise_arc_turns_the_other_way():
    arc = arc_of(Vertex(0.0, 0.0, -1.0), Vertex(10.0, 0.0))
    assert arc.sweep == pytest.approx(-math.pi)
    assert arc.at(arc.start + arc.sweep / 2.0) == pytest.approx((5.0, 5.0))


@pytest.mark.parametrize("grows", [True, False])
def test_chords_lie_on_the_side_they_say(loop, grows):
    chords = loop.chords(grows=grows)
    exact = loop.anticlockwise()
    area = moments(chords)[0]
    assert area > 0.0, "chords run anticlockwise"
    if grows:
        assert area >= exact.area - 1e-6
    else:
        assert area <= exact.area + 1e-6
    points = dense(loop, 300)
    off = max(distance_to(points, chords).max(), distance_to(chords, points).max())
    assert off <= CHORD_SAGITTA * 1.5


def test_chords_on_either_side_differ_where_there_is_an_arc(loop):
    grown, shrunk = (moments(loop.chords(grows=g))[0] for g in (True, False))
    if any(v.bulge for v in loop.vertices):
        assert grown > shrunk
    else:
        assert grown == pytest.approx(shrunk)


def test_coarser_chords_are_fewer_but_within_their_sagitta():
    disc = circle(0.0, 0.0, 400.0)
    coarse = disc.chords(grows=False, sagitta=1.0)
    assert len(coarse) < len(disc.chords(grows=False))
    middles = (coarse + np.roll(coarse, -1, axis=0)) / 2.0
    assert 200.0 - np.linalg.norm(middles, axis=1).min() <= 1.0 + 1e-9


def test_reversed_turns_the_sign_only(loop):
    back = loop.reversed()
    assert back.signed_area == pytest.approx(-loop.signed_area)
    assert back.centroid == pytest.approx(loop.centroid)
    assert back.bounds == pytest.approx(loop.bounds)
    assert back.length == pytest.approx(loop.length)
    assert back.reversed().signed_area == pytest.approx(loop.signed_area)
    assert back.anticlockwise().signed_area > 0.0
    assert loop.anticlockwise().signed_area > 0.0


def test_mirrored_keeps_the_run_and_swaps_left_with_right(loop):
    other = loop.mirrored()
    x0, y0, x1, y1 = loop.bounds
    assert other.signed_area == pytest.approx(loop.signed_area)
    assert other.centroid == pytest.approx((-loop.centroid[0], loop.centroid[1]))
    assert other.bounds == pytest.approx((-x1, y0, -x0, y1))
    assert other.mirrored().bounds == pytest.approx(loop.bounds)


def test_moved(loop):
    other = loop.moved(12.5, -7.0)
    assert other.area == pytest.approx(loop.area)
    assert other.centroid == pytest.approx((loop.centroid[0] + 12.5, loop.centroid[1] - 7.0))


@pytest.mark.parametrize("turns", [-1, 0, 1, 2, 3, 4, 6])
def test_turned_by_quarter_turns(loop, turns):
    x, y = loop.centroid
    expected = {0: (x, y), 1: (-y, x), 2: (-x, -y), 3: (y, -x)}[turns % 4]
    other = loop.turned(turns)
    assert other.centroid == pytest.approx(expected)
    assert other.signed_area == pytest.approx(loop.signed_area)


def test_four_quarter_turns_are_exact(loop):
    whole = loop
    for _ in range(4):
        whole = whole.turned(1)
    assert whole == loop


def test_outline_takes_its_cut_outs_off():
    outline = Outline(
        rectangle(400.0, 200.0), (circle(100.0, 100.0, 60.0), rectangle(50.0, 40.0, 300.0, 20.0))
    )
    disc = 900.0 * math.pi
    area = 80_000.0 - disc - 2_000.0
    assert outline.area == pytest.approx(area)
    x = (80_000.0 * 200.0 - disc * 100.0 - 2_000.0 * 325.0) / area
    y = (80_000.0 * 100.0 - disc * 100.0 - 2_000.0 * 40.0) / area
    assert outline.centroid == pytest.approx((x, y))
    assert outline.size == pytest.approx((400.0, 200.0))
    assert outline.moved(5.0, 6.0).centroid == pytest.approx((x + 5.0, y + 6.0))
    turned = outline.turned(1)
    assert turned.centroid == pytest.approx((-y, x))
    assert turned.size == pytest.approx((200.0, 400.0))
    assert turned.area == pytest.approx(area)


def test_cut_outs_count_whichever_way_they_run():
    hole = rectangle(20.0, 20.0, 10.0, 10.0)
    there, back = (Outline(rectangle(100.0, 100.0), (h,)) for h in (hole, hole.reversed()))
    assert there.area == pytest.approx(back.area)
    assert there.centroid == pytest.approx(back.centroid)


def test_polygon_drops_repeated_points_and_runs_anticlockwise():
    loop = polygon([(0, 0), (0, 50), (0, 50.0000001), (80, 50), (80, 0), (0, 0)])
    assert len(loop.vertices) == 4
    assert loop.signed_area == pytest.approx(4000.0)


def test_rounding_keeps_straight_corners_and_short_edges():
    straight = polygon([(0, 0), (50, 0), (100, 0), (100, 60), (0, 60)])
    assert len(rounded(straight, 10.0).vertices) == 1 + 2 * 4
    slim = rounded(rectangle(100.0, 8.0), 30.0)
    assert slim.bounds == pytest.approx((0.0, 0.0, 100.0, 8.0))
    assert 0.0 < slim.area < 800.0


def test_a_rounded_inner_corner_adds_material():
    corner = polygon([(0, 0), (100, 0), (100, 40), (40, 40), (40, 100), (0, 100)])
    soft = rounded(corner, 10.0)
    # Five corners lose (1 - π/4) r², the inner one gains as much.
    assert soft.area == pytest.approx(corner.area - 4.0 * (1.0 - math.pi / 4.0) * 100.0)
