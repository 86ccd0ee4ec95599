"""Crosses: round distances, on the part, the same on tiles that overlap."""

import itertools
import math

import pytest
from dossiers import NAMES, dossier
from shapely.geometry import Point, Polygon

from fitout.documents.templates.clip import ring
from fitout.documents.templates.content import content
from fitout.documents.templates.crosses import CROSS, crosses, edges_in
from fitout.documents.templates.cuttings import ways
from fitout.documents.wording import Wording
from fitout.model.panel import Panel

MOST = (184.0, 245.0)


def cut(name: str):
    for line in dossier(name).cuts.cut_list.lines:
        for way in ways(content(line), line.panel.outline.bounds, MOST):
            yield line.panel, way


def material(panel: Panel) -> Polygon:
    inner = [ring(loop) for loop in panel.outline.inner]
    return Polygon(ring(panel.outline.outer), inner)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize(("unit", "step"), [("mm", 5.0), ("in", 6.35)])
def test_crosses_lie_on_the_part_at_round_distances(name: str, unit: str, step: float) -> None:
    words = Wording("en", unit)
    seen = 0
    for panel, way in cut(name):
        x0, y0 = panel.outline.bounds[:2]
        shape = material(panel)
        for cutting in way:
            for x, y in crosses(cutting, panel, words):
                seen += 1
                assert ((x - x0) / step) == pytest.approx(round((x - x0) / step))
                assert ((y - y0) / step) == pytest.approx(round((y - y0) / step))
                assert shape.contains(Point(x, y))
                assert shape.exterior.distance(Point(x, y)) > CROSS
                for hole in panel.holes:
                    assert math.dist((x, y), (hole.x, hole.y)) > hole.diameter / 2.0 + CROSS
    assert seen > 20


@pytest.mark.parametrize("name", NAMES)
def test_overlapping_tiles_share_their_crosses(name: str) -> None:
    words = Wording()
    pairs = 0
    for panel, way in cut(name):
        for a, b in itertools.pairwise(way):
            if not (a.goes_on and b.follows):
                continue
            pairs += 1
            shared = set(crosses(a, panel, words)) & set(crosses(b, panel, words))
            k = 1 if a.upright else 0
            both = [p for p in shared if b.span[k] <= p[k] <= a.span[k + 2]]
            assert len(both) >= 1
    assert pairs


def test_only_straight_edges_long_enough_are_laid_on() -> None:
    line = next(
        line
        for line in dossier("touring-wagon").cuts.cut_list.lines
        if line.panel.id == "barrier/panel"
    )
    (way, *_) = ways(content(line), line.panel.outline.bounds, MOST)
    named = {cutting.name: edges_in(line.panel, cutting) for cutting in way}
    assert any("lower" in edges for edges in named.values())
    assert any(not edges for edges in named.values())
