"""Tabs stand on straight runs of small parts, away from corners, holes and each other."""

import dataclasses
import math

import pytest
import shapely

from fitout.cutting.tabs import CORNER, FEATURE, around, straight, tabs_of
from fitout.model.cutting import CuttingSpec, TabsSpec
from fitout.model.outline import Outline, circle, polygon, rectangle, rounded
from fitout.model.panel import Hole, Pocket

ROUTER = CuttingSpec(by="router", kerf=6.0)


def polygon_of(loop):
    return shapely.Polygon(loop.chords(grows=False))


@pytest.mark.parametrize(
    ("outline", "count"),
    [
        (Outline(rectangle(120, 80)), 2),
        (Outline(rectangle(290, 200)), 3),
        (Outline(rectangle(299, 299)), 3),
        (Outline(rounded(rectangle(200, 100), 15.0)), 2),
        (Outline(polygon([(0, 0), (160, 0), (160, 110), (50, 160), (0, 160)])), 2),
        (Outline(circle(80, 80, 160)), 2),
    ],
)
def test_tabs_lie_beside_the_part(make, outline, count):
    panel = make(outline=outline)
    tabs = tabs_of(panel, ROUTER)
    assert len(tabs) == count
    part = polygon_of(outline.outer)
    for tab in tabs:
        area = polygon_of(tab)
        assert area.area == pytest.approx(6.0 * 6.0)
        assert area.intersection(part).area < 1.0
        assert part.distance(area) < 0.2
        assert part.buffer(6.0).buffer(0.5).covers(area)
    middles = [polygon_of(tab).centroid for tab in tabs]
    assert min(a.distance(b) for i, a in enumerate(middles) for b in middles[:i]) > 60.0


def test_large_parts_and_skins_need_none(make):
    assert tabs_of(make(301.0, 100.0), ROUTER) == ()
    small = make(200.0, 100.0)
    assert tabs_of(small, dataclasses.replace(ROUTER, skin=0.3)) == ()
    assert tabs_of(small, dataclasses.replace(ROUTER, tabs=TabsSpec(below=0.0))) == ()
    assert len(tabs_of(small, dataclasses.replace(ROUTER, tabs=TabsSpec(below=201.0)))) == 2


def test_away_from_corners_holes_and_pockets(make):
    panel = make(
        outline=Outline(rectangle(200, 100)), holes=(Hole(100.0, 6.0, 4.5),),
        pockets=(Pocket(rectangle(30.0, 12.0, 85.0, 88.0), 5.0),),
    )  # fmt: skip
    for tab in tabs_of(panel, ROUTER):
        x, y = polygon_of(tab).centroid.coords[0]
        assert math.hypot(x - 100.0, y - 6.0) > FEATURE
        assert math.hypot(x - 100.0, y - 94.0) > FEATURE
        ends = [abs(x - c) for c in (0.0, 200.0)] if not 0 < y < 100 else [y, 100.0 - y]
        assert min(ends) >= CORNER + 3.0 - 1e-9


def test_runs_too_short_hold_none():
    assert list(straight(rectangle(10.0, 10.0), 6.0)) == []
    assert len(list(straight(rectangle(100.0, 10.0), 6.0))) == 6


def middles(panel, **others):
    return [polygon_of(tab).centroid.coords[0] for tab in tabs_of(panel, ROUTER, **others)]


def test_none_where_another_part_meets_the_edge(make):
    panel = make(200.0, 100.0)
    mates = [((0.0, 0.0), (200.0, 0.0)), ((200.0, 0.0), (200.0, 100.0)), ((0.0, 100.0), (0.0, 0.0))]
    found = middles(panel, mates=mates)
    assert len(found) == 2
    assert all(y > 100.0 for _, y in found)
    assert abs(found[0][0] - found[1][0]) > 90.0
    # A part that is met all round is still held.
    assert len(middles(panel, mates=[*mates, ((200.0, 100.0), (0.0, 100.0))])) == 2


def laid(make, *places):
    """Rectangles as (x, y, length, width), and what lies about each on a sheet."""
    panels = [
        make(outline=Outline(rectangle(length, width, x, y))) for x, y, length, width in places
    ]
    return list(zip(panels, around(panels, ROUTER, (2440.0, 1220.0)), strict=True))


def holds(tab, panels, own):
    """Whether the tab, after all passes, ties its part to another or to waste."""
    solid = polygon_of(panels[own].outline.outer)
    others = [polygon_of(p.outline.outer) for i, p in enumerate(panels) if i != own]
    swept = shapely.union_all([o.buffer(6.0, quad_segs=64) for o in others])
    area = polygon_of(tab)
    if any(o.distance(area) < 0.01 for o in others):
        return True
    beyond = area.buffer(2.0).difference(solid.buffer(6.0))
    return area.intersection(swept).area < 0.1 and beyond.difference(swept).area > 0.0


def test_a_tab_ties_its_part_to_firm_waste_or_to_its_neighbour(make):
    """Spaced by a bit and 2 mm, a neighbour's pass would cut a shorter tab off."""
    packed = laid(make, (10, 10, 200, 100), (218, 10, 600, 100), (10, 118, 200, 80),
                  (218, 118, 200, 80), (426, 118, 392, 300))  # fmt: skip
    panels = [panel for panel, _ in packed]
    counts = []
    for i, (panel, about) in enumerate(packed):
        tabs = tabs_of(panel, ROUTER, about)
        counts.append(len(tabs))
        assert all(holds(tab, panels, i) for tab in tabs)
    assert counts == [2, 0, 2, 2, 0]
    # Told nothing of its neighbours, a tab would have stood in their way.
    assert not all(holds(tab, panels, 0) for tab in tabs_of(panels[0], ROUTER))


def test_across_a_narrow_gap_a_tab_reaches_the_neighbour(make):
    walled = laid(make, (308, 308, 200, 100), (8, 8, 292, 900), (516, 8, 500, 900),
                  (308, 8, 200, 292), (308, 416, 200, 292))  # fmt: skip
    for tab in tabs_of(walled[0][0], ROUTER, walled[0][1]):
        assert sorted(polygon_of(tab).bounds[i + 2] - polygon_of(tab).bounds[i] for i in (0, 1)) \
            == pytest.approx([6.0, 8.0])  # fmt: skip


def test_firm_waste_before_a_small_neighbour(make):
    (panel, about), _ = laid(make, (100, 100, 200, 100), (100, 208, 200, 60))
    assert all(y < 200.0 for _, y in middles(panel, around=about))


def test_none_beyond_the_sheet(make):
    ((panel, about),) = laid(make, (5, 5, 200, 100))
    assert all(x > 5.0 and y > 5.0 for x, y in middles(panel, around=about))


def test_a_pass_beside_a_tab_takes_no_corner_of_it(make):
    """The neighbour below ends just before the tab, but its pass goes on round its corner."""
    for length in range(40, 121, 4):
        (panel, about), _ = laid(make, (100, 128, 130, 100), (100, 10, length, 110))
        neighbour = shapely.box(100, 10, 100 + length, 120).buffer(6.0, quad_segs=64)
        for tab in tabs_of(panel, ROUTER, about):
            area = polygon_of(tab)
            across = area.distance(shapely.box(100, 10, 100 + length, 120)) < 0.01
            assert across or area.intersection(neighbour).area < 0.1
