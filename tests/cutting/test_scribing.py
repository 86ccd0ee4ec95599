"""Scribe allowance: edges that follow the vehicle are cut larger, nothing else changes."""

import csv
import dataclasses
import io
import itertools
import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from fitout import workflow
from fitout.cutting.cut_list import cut_list
from fitout.cutting.frame import Turn, reframed
from fitout.cutting.nest import nest
from fitout.cutting.scribing import (
    NOT_DONE,
    as_cut,
    nearest,
    once_scribed,
    scribe_lines,
    scribe_told,
)
from fitout.documents.tables import cutlist_csv
from fitout.model.cutting import CuttingSpec
from fitout.model.design import ClearanceSpec
from fitout.model.edging import EdgingSpec
from fitout.model.outline import Outline, polygon
from fitout.model.scribing import Scribe

LEFT = 5.0


@pytest.fixture(scope="module")
def wagon():
    design = workflow.load(Path(__file__).parents[2] / "designs" / "touring-wagon.yaml")
    return workflow.prepared(design, workflow.Memory())


@pytest.fixture(scope="module")
def pairs(wagon):
    """Every panel as designed and as cut."""
    panels = list(wagon.fitout.panels())
    return list(zip(panels, cut(wagon, panels), strict=True))


def cut(subject, panels, allowance=LEFT):
    return list(as_cut(panels, subject.setting.bay, subject.setting.rules, allowance))


def shape(outline, *, grows=False):
    return Polygon(outline.outer.chords(grows=grows))


def test_only_scribed_panels_are_cut_larger(pairs):
    larger = [old.id for old, new in pairs if new != old]
    assert larger == [old.id for old, new in pairs if old.scribed]
    assert len(larger) > 10


def test_each_is_larger_by_what_is_left_on_its_scribed_edges_alone(pairs):
    for old, new in pairs:
        if new.scribe is None:
            continue
        was, now = shape(old.outline), shape(new.outline, grows=True)
        assert was.difference(now.buffer(0.01)).area == 0.0
        near = [LineString(edge).buffer(10.0 * LEFT) for edge in new.scribe.edges]
        more = now.difference(shape(old.outline, grows=True))
        assert more.area > 0.5 * LEFT * sum(math.dist(*edge) for edge in new.scribe.edges)
        for zone in near:
            more = more.difference(zone)
        assert more.area < 0.5
        for a, b in new.scribe.edges:
            middle = LineString([(np.array(a) + b) / 2.0, (np.array(a) + b) / 2.0 + 1e-6])
            assert shape(new.outline).exterior.distance(middle) <= LEFT + 1e-6
        assert (new.holes, new.pockets, new.outline.inner) == (
            old.holes, old.pockets, old.outline.inner,
        )  # fmt: skip


def test_a_bins_upright_is_scribed_to_wall_and_arch_not_to_floor_or_inner_wall(wagon, pairs):
    upright = next(new for old, new in pairs if old.id == "bins left/divider 1")
    old = wagon.parts["bins left/divider 1"]
    walls = [(a, b) for a, b in upright.scribe.edges if a[0] > 30.0 and b[0] > 30.0]
    assert len(walls) == len(upright.scribe.edges)
    x0, y0, x1, y1 = old.outline.bounds
    assert upright.outline.bounds[:2] == pytest.approx((x0, y0))
    assert upright.outline.bounds[2] == pytest.approx(x1 + LEFT, abs=0.6)
    assert upright.outline.bounds[3] == pytest.approx(y1)


def test_left_at_nothing_everything_is_cut_as_designed(wagon):
    panels = list(wagon.fitout.panels())
    assert cut(wagon, panels, 0.0) == panels


def test_the_line_to_scribe_to_is_the_finished_edge(pairs):
    for old, new in pairs:
        if new.scribe is None:
            continue
        edge = shape(old.outline).exterior
        for run in scribe_lines(new):
            assert run[-1].bulge == 0.0
            straight = [(a, b) for a, b in itertools.pairwise(run) if not a.bulge]
            for a, b in straight:
                assert edge.distance(LineString([(a.x, a.y), (b.x, b.y)])) < 1e-6
        drawn = sum(len(run) - 1 for run in scribe_lines(new))
        assert drawn >= len(new.scribe.edges)
        assert once_scribed(new).outline.outer == old.outline.outer.anticlockwise()


@pytest.mark.parametrize("turn", [Turn(1), Turn(2, flipped=True), Turn(3, flipped=True)])
def test_a_part_turned_keeps_its_line_where_it_is(pairs, turn):
    for _, new in pairs:
        turned = reframed(new, turn, (40.0, 70.0))
        if new.scribe is None:
            continue
        here, there = (
            sorted(
                tuple(round(c, 5) for c in p.placement.at(v.x, v.y, 0.0 if p is new else back))
                for run in scribe_lines(p)
                for v in run
            )
            for p, back in ((new, 0.0), (turned, new.thickness if turn.flipped else 0.0))
        )
        assert np.allclose(here, there, atol=1e-4)


def test_the_cut_list_tells_cut_and_finished_size_and_which_edges(wagon, pairs):
    cuts = cut_list(new for _, new in pairs)
    rows = csv.DictReader(io.StringIO(cutlist_csv(cuts).decode("utf-8-sig")))
    row = next(r for r in rows if "barrier/panel" in r["panels"])
    assert float(row["length along grain (mm)"]) > float(row["finished length (mm)"]) + 2.0 * 4.9
    assert row["scribed"] == "5 mm left, right, upper edge"
    line = next(line for line in cuts.lines if line.panels[0].id == "barrier/panel")
    assert line.finished == pytest.approx(wagon.parts["barrier/panel"].outline.size)
    plain = cut_list(wagon.fitout.panels())
    assert sum(line.mass_kg for line in cuts.lines) > sum(line.mass_kg for line in plain.lines)


def test_nesting_takes_the_part_as_it_is_cut(pairs):
    parts = [new for old, new in pairs if old.scribed]
    plan = nest(cut_list(parts), CuttingSpec(by="saw", kerf=3.2))
    tops = next(line for line in plan.cut_list.lines if line.panels[0].id == "barrier/panel")
    assert tops.length == pytest.approx(1379.0, abs=0.5)


def test_edging_goes_on_the_other_edges(wagon, pairs):
    strip = wagon.parts["bins left/strip 1"]
    wish = EdgingSpec(thickness=2.0)
    edged = dataclasses.replace(strip, board=dataclasses.replace(strip.board, edging=wish))
    (made,) = cut(wagon, [edged])
    assert made.strips
    assert made.scribe is not None
    both = {(s.start, s.end) for s in made.strips} & set(made.scribe.edges)
    assert not both
    finished = cut_list([made]).lines[0].finished
    assert sorted(finished) == pytest.approx(sorted(strip.outline.size), abs=1e-6)


def test_where_edges_would_run_into_each_other_it_is_cut_as_designed_and_says_so(wagon):
    old = wagon.parts["barrier/panel"]
    x0, y0, x1, y1 = old.outline.bounds
    outline = polygon([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
    slot = polygon(
        [(x0, y0), (x1, y0), (x1, y1), (x0 + 402, y1), (x0 + 402, y0 + 50), (x0 + 400, y0 + 50),
         (x0 + 400, y1), (x0, y1)]
    )  # fmt: skip
    plain, slotted = (
        cut(wagon, [dataclasses.replace(old, outline=Outline(o))])[0] for o in (outline, slot)
    )
    assert NOT_DONE not in plain.edging
    assert slotted.scribe is None or shape(slotted.outline).is_valid


def test_a_panel_away_from_the_vehicle_is_told_nothing(wagon, make):
    lone = make(scribed=True, placement=make().placement)
    far = dataclasses.replace(
        lone, placement=dataclasses.replace(lone.placement, origin=(300.0, -100.0, 300.0))
    )
    (made,) = cut(wagon, [far])
    assert made == far
    assert scribe_told(made) == ""


@pytest.mark.parametrize("flipped", [False, True])
def test_an_edge_is_told_by_the_way_it_faces(make, flipped):
    """Over an arch an edge in the upper half of the part faces down all the same."""
    corners = ((0, 130), (240, 130), (240, 0), (546, 0), (546, 177), (0, 177))
    loop = polygon(corners)
    edges = tuple(((a.x, a.y), (b.x, b.y)) for a, b in itertools.islice(loop.segments(), 3))
    panel = make(outline=Outline(loop), scribe=Scribe(loop, edges, LEFT))
    if flipped:
        panel = reframed(panel, Turn(0, flipped=True))
    assert scribe_told(panel) == f"5 mm {'right, lower' if flipped else 'left, lower'} edge"


def test_rules_decide_what_is_near(wagon):
    panel = wagon.parts["bins left/divider 1"]
    tight = ClearanceSpec(scribed=0.0, seat=0.0)
    (made,) = as_cut([panel], wagon.setting.bay, tight, LEFT)
    assert made == panel


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.floats(-50.0, 50.0), min_size=9, max_size=9),
    st.lists(st.floats(-80.0, 80.0), min_size=3, max_size=3),
)
def test_the_nearest_point_of_a_triangle(corners, point):
    triangle, at = np.array(corners).reshape(1, 3, 3), np.array([point])
    if (
        np.linalg.norm(np.cross(triangle[0, 1] - triangle[0, 0], triangle[0, 2] - triangle[0, 0]))
        < 1
    ):
        return
    found = nearest(at, triangle)[0, 0]
    best = float(np.linalg.norm(found - at[0]))
    grid = np.linspace(0.0, 1.0, 41)
    shares = np.array([(s, t, 1.0 - s - t) for s in grid for t in grid if s + t <= 1.0])
    tried = np.linalg.norm(shares @ triangle[0] - at[0], axis=1).min()
    assert best <= tried + 1e-6
    assert tried - best < 100.0 * 1.8 / 40.0 * 2.0
