import math
from dataclasses import replace

import numpy as np
import pytest

from fitout.clearance.body import body_of, body_of_obstacle, body_of_pieces, key_of
from fitout.model.item import block
from fitout.model.outline import Outline, circle, rectangle, rounded, slot
from fitout.model.panel import Face, Hole, Pocket
from fitout.model.placement import (
    across,
    across_face_rear,
    along,
    along_face_left,
    flat,
    flat_face_down,
)


@pytest.mark.parametrize(
    ("place", "lo", "hi", "face_a"),
    [
        (flat, (10, 20, 30), (310, 220, 42), (0, 0, 1)),
        (flat_face_down, (10, -180, 18), (310, 20, 30), (0, 0, -1)),
        (along, (10, 8, 30), (310, 20, 230), (0, -1, 0)),
        (along_face_left, (-290, 20, 30), (10, 32, 230), (0, 1, 0)),
        (across, (10, 20, 30), (22, 320, 230), (1, 0, 0)),
        (across_face_rear, (-2, -280, 30), (10, 20, 230), (-1, 0, 0)),
    ],
)
def test_a_plain_panel_is_the_block_its_placement_says(samples, place, lo, hi, face_a):
    panel = samples.panel(placement=place(10.0, 20.0, 30.0))
    body = body_of(panel)
    assert body.is_block
    assert (tuple(body.lo), tuple(body.hi)) == (lo, hi)
    assert panel.placement.w == face_a


@pytest.mark.parametrize(("face", "z"), [(Face.A, (8.0, 12.0)), (Face.B, (0.0, 4.0))])
def test_a_groove_is_taken_out_of_its_own_face(samples, face, z):
    groove = Pocket(rectangle(300.0, 10.0, 0.0, 50.0), 4.0, face=face)
    body = body_of(samples.panel(pockets=(groove,)))
    probe = body_of_pieces("probe", [block(100.0, 10.0, 4.0)], flat(50.0, 50.0, z[0])).manifold
    assert body.manifold.volume() == pytest.approx(300 * 200 * 12 - 300 * 10 * 4)
    assert (body.manifold ^ probe).volume() == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("seed", range(6))
def test_every_way_a_panel_is_built_has_the_panels_volume(samples, skewed, seed):
    outline = Outline(rounded(rectangle(300.0, 200.0), 20.0), (slot(80, 150, 160, 150, 30.0),))
    pockets = (
        Pocket(rectangle(300.0, 10.0, 0.0, 50.0), 4.0),
        Pocket(circle(220.0, 100.0, 40.0), 5.0, face=Face.B),
    )
    placement = skewed(seed) if seed % 2 else (flat, along, across)[seed // 2](5.0, 6.0, 7.0)
    panel = samples.panel(outline, placement, pockets=pockets)
    body = body_of(panel)
    pieces = sum(
        body_of_pieces("piece", [tuple(map(tuple, p))], flat(0, 0, 0)).manifold.volume()
        for p in body.pieces
    )
    # Chords lie outside the arcs by at most 0.004 mm.
    round_length = math.tau * 20 + math.pi * 30 + math.tau * 20
    assert panel.volume < body.manifold.volume() < panel.volume + 0.004 * 12 * round_length
    assert pieces == pytest.approx(body.manifold.volume(), abs=0.5)


def test_a_rebate_may_run_over_the_edge(samples):
    rebate = Pocket(rectangle(400.0, 20.0, -50.0, -10.0), 6.0)
    body = body_of(samples.panel(pockets=(rebate,)))
    assert body.manifold.volume() == pytest.approx(300 * 200 * 12 - 300 * 10 * 6)


def test_drill_holes_are_left_out(samples):
    plain = samples.panel()
    drilled = replace(plain, holes=(Hole(50.0, 50.0, 8.0),))
    assert key_of(drilled) == key_of(plain)
    assert body_of(drilled).is_block


def test_a_hollow_bar_is_its_whole_block(samples):
    body = body_of(samples.bar(500.0))
    assert body.is_block
    assert body.manifold.volume() == pytest.approx(500 * 40 * 20)


def test_an_item_is_the_union_of_its_pieces(samples):
    body = body_of(samples.item(block(100, 100, 100), block(100, 100, 100, (50, 0, 0))))
    assert body.manifold.volume() == pytest.approx(150 * 100 * 100)
    tapered = body_of(samples.item())
    ends = 200 * 100, 160 * 80
    prismoid = 150 / 6 * (sum(ends) + 4 * 180 * 90)
    assert tapered.manifold.volume() == pytest.approx(prismoid)


def test_a_flat_piece_is_refused(samples):
    flat_piece = ((0.0, 0.0, 0.0), (10.0, 0.0, 3.0), (0.0, 10.0, 5.0), (10.0, 10.0, 8.0))
    with pytest.raises(ValueError, match="encloses no volume"):
        body_of(samples.item(flat_piece))


def test_the_key_is_of_the_content_alone(samples):
    panel = samples.panel(rounded(rectangle(300.0, 200.0), 20.0))
    alike = replace(panel, name="other", module="elsewhere", edging="oiled")
    assert body_of(alike).key == body_of(panel).key
    for other in (
        replace(panel, placement=flat(0.0, 0.0, 0.001)),
        replace(panel, pockets=(Pocket(rectangle(10, 10, 5, 5), 3.0),)),
        replace(panel, board=replace(panel.board, thickness=12.1)),
    ):
        assert body_of(other).key != body_of(panel).key


@pytest.mark.parametrize("flipped", [False, True])
def test_an_obstacle_of_loose_triangles_is_a_solid(samples, flipped):
    body = body_of_obstacle(samples.obstacle((0, 1, 2), (10, 21, 32), flipped))
    assert body.id == "bay/wall"
    assert body.is_block
    assert body.manifold.volume() == pytest.approx(10 * 20 * 30)


def test_a_leaning_obstacle_may_come_either_way_round(samples):
    obstacle = samples.obstacle((0, 0, 0), (10, 20, 30), flipped=True)
    obstacle.vertices[:, 0] += 0.3 * obstacle.vertices[:, 2]
    assert body_of_obstacle(obstacle).manifold.volume() == pytest.approx(10 * 20 * 30)


def test_an_open_obstacle_is_refused(samples):
    whole = samples.obstacle((0, 0, 0), (10, 20, 30))
    whole.vertices[:, 0] += 0.3 * whole.vertices[:, 2]
    torn = replace(whole, triangles=whole.triangles[:-1])
    with pytest.raises(ValueError, match="wall: not a closed surface"):
        body_of_obstacle(torn)


def test_vertices_are_rounded_so_that_sums_meet(samples):
    third = samples.panel(rectangle(100.0 / 3.0, 100.0))
    beside = replace(third, placement=flat(0.1 + 0.2, 0.0, 0.0))
    assert np.array_equal(body_of(beside).lo, [0.3, 0.0, 0.0])
