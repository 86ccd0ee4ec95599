"""Sections: cut faces, what is seen beyond, hatches that tell neighbours apart."""

import numpy as np
import pytest
import shapely

from fitout.documents.view import PLAN, REAR, SIDE
from fitout.documents.views.forms import part_form
from fitout.documents.views.section import CutFace, hatches, section
from fitout.model.item import Item, block
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Panel, Pocket
from fitout.model.placement import Placement, flat


def boxed(size, at=(0.0, 0.0, 0.0), name="box"):
    item = Item(name=name, module="m", pieces=(block(*size),), mass_kg=1.0, placement=Placement(at))
    return part_form(item)


def test_a_cut_block_shows_its_cross_section():
    told = section([boxed((300.0, 200.0, 100.0), (10.0, 20.0, 30.0))], REAR, at=-50.0)
    (face,) = told.faces
    assert face.region.area == pytest.approx(200.0 * 100.0)
    assert face.region.bounds == pytest.approx((-220.0, 30.0, -20.0, 130.0))


def test_what_is_nearer_than_the_plane_is_taken_away():
    near, far = boxed((10.0, 50.0, 50.0), name="near"), boxed((10.0, 50.0, 50.0), (90, 0, 0), "far")
    told = section([near, far], REAR, at=-50.0)
    assert told.faces == ()
    assert [seen.id for seen in told.beyond] == ["m/far"]


def test_a_groove_stays_open_in_the_cut(board):
    panel = Panel(
        name="p", module="m", board=board, placement=flat(0.0, 0.0, 0.0),
        outline=Outline(rectangle(400.0, 300.0)),
        pockets=(Pocket(rectangle(20.0, 300.0, 100.0, 0.0), 5.0),),
    )  # fmt: skip
    told = section([part_form(panel)], SIDE, at=-150.0)
    assert told.faces[0].region.area == pytest.approx(400.0 * board.thickness - 100.0)


def test_neighbours_are_hatched_differently_and_all_lines_lie_within():
    blocks = [boxed((100.0, 50.0, 20.0), (100.0 * k, 0.0, 0.0), str(k)) for k in range(3)]
    blocks.append(boxed((300.0, 50.0, 20.0), (0.0, 50.0, 0.0), "long"))
    faces = section(blocks, PLAN, at=10.0).faces
    lines = hatches(faces, 8.0)
    slopes = []
    for face, own in zip(faces, lines, strict=True):
        area = face.region.buffer(0.01)
        assert own
        assert all(area.covers(shapely.linestrings(line)) for line in own)
        way = own[0][1] - own[0][0]
        slopes.append((round(float(way[1] / way[0]), 6), spacing(own)))
    assert abs(slopes[0][0]) == 1.0
    for i, j in ((0, 1), (1, 2), (0, 3), (1, 3), (2, 3)):
        assert slopes[i] != slopes[j]


def spacing(lines):
    way = lines[0][1] - lines[0][0]
    across = np.array([-way[1], way[0]]) / np.linalg.norm(way)
    offsets = np.unique(np.round([line[0] @ across for line in lines], 4))
    return round(float(np.diff(offsets).min()), 3)


def test_a_face_with_a_hole_is_hatched_around_it():
    outer = np.array([[0, 0], [100, 0], [100, 100], [0, 100]], dtype=float)
    face = CutFace("m/tube", (outer, outer * 0.8 + 10.0))
    assert face.region.area == pytest.approx(3600.0)
    (lines,) = hatches([face], 5.0)
    hole = shapely.box(10.01, 10.01, 89.99, 89.99)
    assert not any(hole.intersects(shapely.linestrings(line)) for line in lines)
