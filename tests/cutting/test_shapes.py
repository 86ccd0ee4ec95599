"""True shapes: turns, where one may not lie beside another, and sheets filled by them."""

import math

import numpy as np
import pytest
import shapely

from fitout.cutting.cut_list import cut_list
from fitout.cutting.distance import distance, edges
from fitout.cutting.shapes import SNUG, Barred, barred, grown, shapes_of
from fitout.cutting.shapes_fill import RULES, fill
from fitout.model.outline import Outline, circle, polygon, rectangle, rounded
from fitout.model.panel import Grain

GAP = 8.0
ELL = Outline(polygon([(0, 0), (400, 0), (400, 90), (120, 90), (120, 300), (0, 300)]))
FRAME = Outline(rectangle(500, 400), (rounded(rectangle(300, 220, 90, 80), 30.0),))
RAKED = Outline(polygon([(0, 0), (400, 0), (300, 200), (0, 200)]))
ROUND = Outline(circle(100, 100, 200))


@pytest.fixture
def line(make):
    def of(outline, grain=Grain.EITHER):
        return cut_list([make(outline=outline, grain=grain)]).lines[0]

    return of


@pytest.mark.parametrize(
    ("outline", "grain", "turns"),
    [
        (Outline(rectangle(400, 200)), Grain.ALONG_U, 1),
        (Outline(rectangle(400, 200)), Grain.EITHER, 2),
        (Outline(rectangle(200, 200)), Grain.EITHER, 1),
        (RAKED, Grain.ALONG_U, 2),
        (RAKED, Grain.EITHER, 4),
        (ELL, Grain.EITHER, 4),
        (ROUND, Grain.EITHER, 1),
    ],
)
def test_only_turns_that_differ_and_grain_allows(line, outline, grain, turns):
    found = shapes_of(line(outline, grain), GAP, 50.0)
    assert len(found) == turns
    if grain is Grain.ALONG_U:
        assert {shape.quarter_turns for shape in found} <= {0, 2}


@pytest.mark.parametrize("outline", [ELL, FRAME, RAKED, ROUND])
def test_the_pieces_hold_the_part_grown(line, outline):
    part = line(outline)
    for shape in shapes_of(part, GAP, 50.0):
        turned = part.panel.outline.turned(shape.quarter_turns)
        turned = turned.moved(-turned.bounds[0], -turned.bounds[1])
        solid = shapely.Polygon(
            turned.outer.chords(grows=False), [i.chords(grows=True) for i in turned.inner]
        )
        held = shapely.union_all([shapely.Polygon(p) for p in shape.pieces])
        assert held.covers(solid.buffer(GAP / 2.0 - 2.0 * SNUG))
        assert (shape.length, shape.width) == pytest.approx(turned.size)


def test_a_cut_out_is_kept_where_the_smallest_part_fits():
    assert len(grown(FRAME, GAP, 100.0).interiors) == 1
    assert len(grown(FRAME, GAP, 213.0).interiors) == 0


def test_rectangles_bar_a_rectangle(line):
    (a,) = shapes_of(line(Outline(rectangle(300, 100)), Grain.ALONG_U), GAP, 50.0)
    (b,) = shapes_of(line(Outline(rectangle(60, 40)), Grain.ALONG_U), GAP, 50.0)
    bounds = barred(a, b).bounds
    assert bounds == pytest.approx((-60 - GAP, -40 - GAP, 300 + GAP, 100 + GAP), abs=1e-4)


@pytest.mark.parametrize("there", [ELL, FRAME, RAKED, ROUND])
@pytest.mark.parametrize("here", [ELL, RAKED, ROUND])
def test_beyond_the_barred_area_parts_are_apart(line, there, here):
    """On its border they are nowhere nearer than the gap; well within they are nearer."""
    first, second = line(there), line(here)
    a, b = shapes_of(first, GAP, 50.0)[0], shapes_of(second, GAP, 50.0)[0]
    area = barred(a, b)
    fixed = edges(first.panel.outline)
    for x, y in shapely.get_coordinates(area.boundary):
        near = distance(fixed, edges(second.panel.outline.moved(x, y)))
        # Square corners and filled hollows keep more than the gap, hardly ever much more.
        assert near >= GAP - 4.0 * SNUG
        assert near <= GAP * math.sqrt(2.0) + 2.0
    inside = area.buffer(-4.0)
    for x, y in shapely.get_coordinates(inside.boundary)[::3]:
        assert distance(fixed, edges(second.panel.outline.moved(x, y))) < GAP


def test_a_small_part_may_lie_in_a_cut_out(line):
    frame = shapes_of(line(FRAME, Grain.ALONG_U), GAP, 50.0)[0]
    small = shapes_of(line(Outline(rectangle(150, 100)), Grain.ALONG_U), GAP, 50.0)[0]
    bars = Barred([frame, small])
    floors, left = fill([0, 1], [(0,), (1,)], [(500.0, 400.0)], bars, RULES[0])
    assert left == []
    inner = floors[0].lain[1]
    assert 90 < inner.x < 240
    assert 80 < inner.y < 200


def test_parts_that_fill_a_sheet_exactly_are_laid(line):
    (shape,) = shapes_of(line(Outline(rectangle(300, 100)), Grain.ALONG_U), GAP, 50.0)
    size = (3 * 300 + 2 * GAP, 4 * 100 + 3 * GAP)
    for rule in RULES:
        floors, left = fill(range(12), [(0,)] * 12, [size], Barred([shape]), rule)
        assert left == []
        assert all(0.0 <= lain.x <= size[0] - 300 for lain in floors[0].lain)


def test_what_finds_no_room_is_told(line):
    (shape,) = shapes_of(line(Outline(rectangle(300, 100)), Grain.ALONG_U), GAP, 50.0)
    floors, left = fill(range(3), [(0,)] * 3, [(300.0, 100.0)] * 2, Barred([shape]), RULES[0])
    assert left == [2]
    assert [len(floor.lain) for floor in floors] == [1, 1]
    _, left = fill([0], [(0,)], [(299.0, 100.0)], Barred([shape]), RULES[0])
    assert left == [0]
    assert np.isfinite(floors[0].work)


@pytest.mark.parametrize("side", [60.0, 150.0, 203.0, 205.0, 290.0, 350.0])
def test_a_cut_out_counts_only_for_what_may_lie_in_it(line, side):
    frame = shapes_of(line(FRAME), GAP, 50.0)[0]
    square = shapes_of(line(Outline(rectangle(side, side))), GAP, 50.0)[0]
    corners = [-b for b in square.pieces]
    whole = shapely.union_all([
        shapely.convex_hull(shapely.multipoints((a[:, None] + b).reshape(-1, 2)))
        for a in frame.pieces
        for b in corners
    ])  # fmt: skip
    for found, mirrored in ((barred(frame, square), 1.0), (barred(square, frame), -1.0)):
        turned = shapely.transform(found, lambda at, by=mirrored: by * at)
        assert turned.symmetric_difference(whole).area < 1e-3
        assert bool(shapely.get_num_interior_rings(found)) is (side + GAP < 220.0 - GAP)


def test_what_is_barred_by_several_moves_with_each(line):
    shapes = shapes_of(line(ELL), GAP, 50.0)
    lain = [(0, 10.0, 20.0), (1, -30.0, 5.5), (0, 400.0, 0.0)]
    found = Barred(shapes).beside(lain, 2)
    for area, (there, *origin) in zip(found, lain, strict=True):
        alone = shapely.transform(
            barred(shapes[there], shapes[2]), lambda points, by=origin: points + np.array(by)
        )
        assert shapely.equals_exact(area, alone, 1e-9)
