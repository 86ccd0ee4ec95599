"""Solids as they are looked at: true edges, shifts, cuts."""

import numpy as np
import pytest

from fitout.documents.views.forms import Crowd, extent, obstacle_form, part_form
from fitout.model.bay import Obstacle
from fitout.model.item import Item, block
from fitout.model.outline import Outline, circle, rectangle
from fitout.model.panel import Hole, Panel, Pocket
from fitout.model.placement import Placement, flat


def boxed(size, at=(0.0, 0.0, 0.0), name="box"):
    item = Item(name=name, module="m", pieces=(block(*size),), mass_kg=1.0, placement=Placement(at))
    return part_form(item)


def true_edges(form):
    _, _, ends, true = form.edges
    return ends[true]


def test_a_block_has_twelve_edges_and_no_diagonals():
    edges = true_edges(boxed((300.0, 200.0, 100.0)))
    assert len(edges) == 12
    assert sorted(np.linalg.norm(edges[:, 1] - edges[:, 0], axis=1)) == pytest.approx(
        [100.0] * 4 + [200.0] * 4 + [300.0] * 4
    )


def test_a_round_cut_out_has_no_lines_down_its_wall(board):
    panel = Panel(
        name="p", module="m", board=board, placement=flat(0.0, 0.0, 0.0),
        outline=Outline(rectangle(400.0, 300.0), (circle(100.0, 100.0, 60.0),)),
    )  # fmt: skip
    edges = true_edges(part_form(panel))
    along = edges[:, 1] - edges[:, 0]
    assert np.count_nonzero(np.abs(along[:, 2]) > 1.0) == 4
    flat_ones = np.linalg.norm(along, axis=1)[np.abs(along[:, 2]) < 1e-6]
    assert flat_ones.sum() == pytest.approx(2 * (1400.0 + np.pi * 60.0), rel=1e-3)


def test_drill_holes_are_left_out_and_grooves_are_cut(board):
    plain = {
        "name": "p", "module": "m", "board": board, "placement": flat(0.0, 0.0, 0.0),
        "outline": Outline(rectangle(400.0, 300.0)),
    }  # fmt: skip
    bare = true_edges(part_form(Panel(**plain)))
    drilled = true_edges(part_form(Panel(**plain, holes=(Hole(50.0, 50.0, 8.0),))))
    grooved = true_edges(
        part_form(Panel(**plain, pockets=(Pocket(rectangle(20.0, 20.0, 100.0, 50.0), 5.0),)))
    )
    assert len(bare) == len(drilled) == 12
    assert len(grooved) == 24


def test_what_lies_beyond_a_plane():
    form = boxed((300.0, 200.0, 100.0))
    half = form.beyond((0.0, 0.0, 1.0), 60.0)
    assert extent([half])[0].tolist() == pytest.approx([0.0, 0.0, 60.0])
    assert form.beyond((0.0, 0.0, 1.0), -5.0) is form
    assert form.beyond((0.0, 0.0, 1.0), 100.0) is None


def test_moved_keeps_its_shape():
    form = boxed((300.0, 200.0, 100.0)).moved((1.0, 2.0, 3.0))
    low, high = extent([form])
    assert low.tolist() == [1.0, 2.0, 3.0]
    assert high.tolist() == [301.0, 202.0, 103.0]


def test_an_obstacle_told_inside_out_looks_outwards():
    solid = boxed((30.0, 20.0, 10.0))
    for triangles in (solid.triangles, solid.triangles[:, ::-1]):
        # Every triangle has corners of its own, as surfaces of the bay may have.
        corners = solid.vertices[triangles].reshape(-1, 3)
        numbers = np.arange(len(corners)).reshape(-1, 3).astype(np.uint32)
        form = obstacle_form(Obstacle("wall", "surface", corners, numbers))
        outward = np.einsum("ij,ij->i", form.normals, form.corners.mean(axis=1) - [15, 10, 5])
        assert (outward > 0.0).all()
        assert len(true_edges(form)) == 12


def test_a_crowd_has_the_triangles_and_edges_of_all_its_forms():
    forms = [boxed((300.0, 200.0, 100.0)), boxed((50.0, 40.0, 30.0), (500.0, 0.0, 0.0), "other")]
    crowd = Crowd(forms)
    first, second, ends, true = crowd.edges
    assert true.sum() == 24
    assert crowd.owners[first].tolist() == crowd.owners[second].tolist()
    for k, form in enumerate(forms):
        own = crowd.owners == k
        assert np.array_equal(crowd.corners[own], form.corners)
        assert np.array_equal(crowd.normals[own], form.normals)
        assert np.array_equal(ends[crowd.owners[first] == k], form.edges[2])
    assert crowd.toward(np.array([0.0, 0.0, 1.0]), 0.5).sum() == 4
    assert len(Crowd(()).edges[2]) == len(Crowd(()).corners) == 0
