"""How far things lie from each other, along their whole lines."""

import math
from dataclasses import replace

import numpy as np
import pytest

from fitout.documents.alike import (
    OFF,
    apart,
    called,
    counted,
    distances,
    far,
    missing_and_extra,
    points_of,
    told,
    trimmed,
    works,
)
from fitout.documents.cut_reading import Drawn, Work
from fitout.model.outline import circle, polygon, rectangle, rounded, slot
from fitout.model.panel import Face, Hole

EDGE = Work("PERIMETER", 118, None)
DRILL = Work("DRILL", 118, None)
SINK = Work("SINK", 50, Face.A)


@pytest.mark.parametrize(
    "loop", [rectangle(300.0, 200.0), rounded(rectangle(300.0, 200.0), 20.0), circle(5, 5, 40),
             slot(0.0, 0.0, 80.0, 30.0, 20.0)],
)  # fmt: skip
def test_a_loop_is_where_it_is_however_it_is_told(loop):
    vertices = loop.vertices
    turned = replace(loop, vertices=(*vertices[1:], vertices[0]))
    assert far(loop, loop.reversed()) == pytest.approx(0.0, abs=1e-9)
    assert far(loop, turned) == pytest.approx(0.0, abs=1e-9)
    assert far(loop, loop.moved(0.3, 0.4)) == pytest.approx(0.5, rel=0.2)


def test_distances_from_lines_and_arcs():
    ring = circle(0.0, 0.0, 20.0)
    points = np.array([(0.0, 0.0), (20.0, 0.0), (0.0, -9.0), (10.0, 0.0)])
    assert distances(points, ring) == pytest.approx([10.0, 10.0, 1.0, 0.0], abs=1e-9)
    half = replace(ring, vertices=(ring.vertices[0], replace(ring.vertices[1], bulge=0.0)))
    # The lower half stays an arc, the upper is its chord.
    assert distances(np.array([(0.0, 5.0), (0.0, -7.0)]), half) == pytest.approx([5.0, 3.0])


def test_a_flattened_arc_is_found_though_its_ends_are_in_place():
    loop = rounded(rectangle(300.0, 200.0), 20.0)
    flat = polygon([(v.x, v.y) for v in loop.vertices])
    assert far(loop, flat) == pytest.approx(20.0 * (1.0 - math.cos(math.pi / 4.0)), rel=1e-6)


def test_of_a_sink_only_what_lies_within_the_part_counts():
    outer = rectangle(300.0, 200.0)
    sink, run_out = rectangle(300.0, 6.0, 0.0, 20.0), rectangle(306.0, 6.0, -3.0, 20.0)
    wanted = Drawn(SINK, sink, within=outer)
    assert apart(wanted, Drawn(SINK, run_out)) <= OFF
    assert apart(replace(wanted, within=None), Drawn(SINK, run_out)) == pytest.approx(3.0)
    stopped = rectangle(290.0, 6.0, 0.0, 20.0)
    # The middle of its end lies between the two walls.
    assert apart(wanted, Drawn(SINK, stopped)) == pytest.approx(3.0)
    assert apart(wanted, Drawn(SINK, run_out.moved(0.0, 0.1))) == pytest.approx(0.1)
    assert len(counted(outer, outer)) == 0
    assert len(counted(outer, None)) == len(points_of(outer)) == 16


def test_what_is_wanted_twice_may_be_found_once_but_not_the_other_way_round():
    hole = Drawn(DRILL, Hole(10.0, 10.0, 5.0))
    assert missing_and_extra([hole, hole], [hole]) == ([], [])
    again = replace(hole)
    assert missing_and_extra([hole], [hole, again]) == ([], [again])
    assert missing_and_extra([hole], []) == ([hole], [])


def test_what_is_off_is_told_in_words():
    hole = Drawn(DRILL, Hole(10.0, 10.0, 5.0))
    moved = Drawn(DRILL, Hole(10.3, 10.4, 5.0))
    blind = Drawn(Work("DRILL", 60, Face.A), Hole(10.0, 10.0, 5.0))
    edge = Drawn(EDGE, rectangle(300.0, 200.0))
    assert told([hole], [moved]) == ["the hole of 5 mm at (10.0, 10.0) is 0.50 mm off"]
    assert told([hole], [blind]) == [
        "the hole of 5 mm at (10.0, 10.0) is on layer DRILL_0060_FACE_A, not DRILL_0118_THROUGH"
    ]
    assert told([edge], [hole]) == [
        "the outer edge of 300.0 x 200.0 mm at (0.0, 0.0) is missing",
        "the hole of 5 mm at (10.0, 10.0) is too many",
    ]


def test_the_work_of_a_panel(panel):
    layers = [str(drawn.work) for drawn in works(panel)]
    assert layers == [
        "PERIMETER_0118_THROUGH", "CUTOUT_0118_THROUGH", "CUTOUT_0118_THROUGH",
        "DRILL_0100_FACE_A", "DRILL_0118_THROUGH", "DRILL_0118_THROUGH",
        "SINK_0050_FACE_A", "SINK_0060_FACE_B",
    ]  # fmt: skip
    skinned = [str(drawn.work) for drawn in works(panel, skin=0.3)]
    assert skinned[:2] == ["PERIMETER_0115_FACE_A", "CUTOUT_0115_FACE_A"]
    assert skinned[3:] == layers[3:]
    assert called(works(panel)[3]) == "the hole of 4.5 mm at (60.0, 100.0)"


def test_a_pocket_that_runs_out_counts_as_far_as_the_part_goes(panel):
    beyond = replace(panel.pockets[0], loop=rectangle(800.0, 10.0, -50.0, 20.0))
    cut = trimmed(replace(panel, pockets=(beyond, panel.pockets[1])))
    assert cut.pockets[1] == panel.pockets[1]
    assert cut.pockets[0].depth == beyond.depth
    assert cut.pockets[0].loop.area == pytest.approx(700.0 * 10.0, rel=1e-2)
    assert cut.pockets[0].loop.bounds[2] == pytest.approx(700.0)
    outside = replace(panel, pockets=(replace(beyond, loop=rectangle(9.0, 9.0, -50.0, 0.0)),))
    assert trimmed(outside).pockets == ()
