"""Tabs stand on straight runs of small parts, away from corners, holes and each other."""

import dataclasses
import math

import pytest
import shapely

from fitout.cutting.tabs import CORNER, FEATURE, straight, tabs_of
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
