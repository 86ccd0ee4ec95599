"""Edges moved outwards: only they move, corners stay corners, and nothing is lost."""

import math

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

from fitout.cutting.outset import SPIKE, outset
from fitout.model.outline import Loop, Vertex, circle, polygon, rectangle, rounded

D = 5.0


def shape(loop: Loop, *, grows: bool = False) -> Polygon:
    return Polygon(loop.chords(grows=grows))


def corners(loop: Loop) -> list[tuple[float, float]]:
    return [(round(v.x, 6), round(v.y, 6)) for v in loop.vertices]


def test_one_edge_and_two_that_meet():
    whole = rectangle(700.0, 300.0)
    assert set(corners(outset(whole, {1: D}))) == {(0, 0), (705, 0), (705, 300), (0, 300)}
    assert set(corners(outset(whole, {1: D, 2: D}))) == {(0, 0), (705, 0), (705, 305), (0, 305)}


def test_a_rounded_corner_keeps_its_radius():
    made = outset(rounded(rectangle(700.0, 300.0), 25.0), {1: D})
    assert made.bounds == pytest.approx((0.0, -5.0, 700.0, 300.0))
    assert made.area == pytest.approx(700.0 * 305.0 - (4.0 - math.pi) * 25.0**2)


def test_round_an_arch_the_inside_corner_keeps_the_bits_radius():
    notched = polygon([(0, 0), (300, 0), (300, 200), (200, 200), (200, 500), (0, 500)])
    loop = rounded(notched, 3.0)
    straight = [i for i, (a, _) in enumerate(loop.segments()) if not a.bulge]
    found = [i for i in straight if min(v.x for v in list(loop.segments())[i]) >= 199.0]
    inner = [i for i in found if list(loop.segments())[i][0].y > 100.0]
    made = outset(loop, dict.fromkeys(inner, D))
    assert made is not None
    around = shape(made).difference(shape(loop, grows=True).buffer(0.01))
    assert around.area == pytest.approx(D * (100.0 + 300.0), rel=0.03)
    assert any(v.bulge < 0.0 for v in made.vertices)


def test_a_moved_edge_steps_out_beside_one_that_runs_on():
    bent = polygon([(0, 0), (200, 0), (200, 100), (195, 300), (0, 300)])
    made = outset(bent, {2: D})
    assert len(made.vertices) == 6
    assert shape(made).area - shape(bent).area == pytest.approx(D * math.hypot(5, 200), rel=0.02)


def test_a_spike_is_cut_off():
    needle = polygon([(0, 0), (300, 20), (0, 40)])
    made = outset(needle, {0: D, 1: D})
    assert made.bounds[2] < 300.0 + D * SPIKE


def test_an_edge_that_is_closed_over_goes():
    stepped = polygon([(0, 0), (200, 0), (200, 100), (203, 100), (203, 102), (200, 102),
                       (200, 300), (0, 300)])  # fmt: skip
    made = outset(stepped, {4: D, 6: D, 5: D})
    assert shape(made).is_valid
    assert made.bounds[2] == pytest.approx(205.0)


def test_what_would_run_into_itself_is_not_made():
    slotted = polygon([(0, 0), (100, 0), (100, 300), (56, 300), (56, 20), (50, 20), (50, 300),
                       (0, 300)])  # fmt: skip
    assert outset(slotted, {3: D, 5: D}) is None
    bulged = Loop((Vertex(0, 0), Vertex(300, 0, 0.4), Vertex(300, 200), Vertex(0, 200)))
    assert outset(bulged, {0: D}) is None
    assert outset(circle(0, 0, 50), {}) is None


def test_a_rounded_spike_is_cut_off_just_beyond_its_round():
    needle = rounded(polygon([(0, 0), (300, 15), (0, 30)]), 3.0)
    straight = [i for i, (a, _) in enumerate(needle.segments()) if not a.bulge]
    made = outset(needle, {straight[0]: D})
    assert shape(needle).difference(shape(made).buffer(0.02)).is_empty
    assert needle.bounds[2] < made.bounds[2] < needle.bounds[2] + 3.0 + D


@settings(max_examples=60, deadline=None)
@given(
    angles=st.lists(st.floats(0.0, 1.0), min_size=4, max_size=9),
    far=st.lists(st.floats(60.0, 300.0), min_size=9, max_size=9),
    radius=st.sampled_from([0.0, 3.0, 20.0]),
    chosen=st.sets(st.integers(0, 8), min_size=1),
    depth=st.floats(0.5, 12.0),
)
@example(
    angles=[0.0, 0.0, 0.0, 1.0], far=[60.0, 60.0, 141.0, 90.0], radius=3.0, chosen={0, 1}, depth=1.0
)
def test_moved_edges_lie_outwards_and_the_rest_stays(angles, far, radius, chosen, depth):
    turns, at = [], 0.0
    for share in angles:
        at += 0.2 + share
        turns.append(at)
    corners = [
        (r * math.cos(t * math.tau / (at + 0.2)), r * math.sin(t * math.tau / (at + 0.2)))
        for t, r in zip(turns, far, strict=False)
    ]
    # Corners all on one side of the middle may run clockwise, or across each other.
    assume(max(angles) + 0.2 < (at + 0.2) / 2.0)
    loop = polygon(corners)
    loop = rounded(loop, radius) if radius else loop
    segments = list(loop.segments())
    straight = [i for i, (a, _) in enumerate(segments) if not a.bulge]
    moved = {straight[i % len(straight)] for i in chosen}
    made = outset(loop, dict.fromkeys(moved, depth))
    if made is None:
        return
    assert shape(made).is_valid
    lost = shape(loop).difference(shape(made, grows=True).buffer(0.02))
    assert lost.area < 1.0 if not radius else lost.area < (4.0 - math.pi) * radius**2
    for i in moved:
        (a, b) = segments[i]
        middle = Point((a.x + b.x) / 2.0, (a.y + b.y) / 2.0)
        assert shape(made).exterior.distance(middle) > min(0.02, depth / 50.0)
    near = [LineString([(a.x, a.y), (b.x, b.y)]) for i, (a, b) in enumerate(segments) if i in moved]
    room = unary_union([line.buffer(4.2 * depth + 15.0 * radius) for line in near])
    assert shape(made).difference(shape(loop, grows=True)).difference(room).area < 1e-3
