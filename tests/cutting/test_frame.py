"""The drawing frame: parts keep their place in the bay, and equal parts are recognised."""

import dataclasses
import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.cutting.frame import Turn, drawing_turn, is_circle, part_key, reframed, simplified
from fitout.model.outline import Loop, Outline, Vertex, circle, polygon, rectangle, rounded, slot
from fitout.model.panel import Face, Grain, Hole, Pocket
from fitout.model.placement import across, across_face_rear, along, flat

TURNS = [Turn(q, f) for q in range(4) for f in (False, True)]
SKEW = rounded(polygon([(0, 0), (700, 0), (700, 300), (100, 300), (0, 200)]), 20.0)


@pytest.fixture
def skew(make):
    """A part without any symmetry, all features through."""
    return make(
        outline=Outline(SKEW, (circle(600, 200, 60),)),
        holes=(Hole(50, 20, 5.0), Hole(300, 111, 8.0)),
        placement=across(11.0, -7.0, 3.0),
    )


def surface(panel):
    """Points of both faces of the outline and the holes, in the bay, in a fixed order."""
    points = []
    for loop in (panel.outline.outer, *panel.outline.inner, *(h.loop for h in panel.holes)):
        # A circle's two vertices turn with it, so its centre stands for it.
        ring = [loop.centroid] if is_circle(loop) else [(v.x, v.y) for v in loop.vertices]
        points += [panel.placement.at(x, y, w) for x, y in ring for w in (0.0, panel.thickness)]
    return np.array(sorted(tuple(np.round(p, 6) + 0.0) for p in points))


@pytest.mark.parametrize("turn", TURNS)
@pytest.mark.parametrize("place", [along, across, across_face_rear, flat])
def test_a_reframed_part_stays_where_it_is(skew, turn, place):
    panel = dataclasses.replace(
        skew,
        placement=place(3.0, 4.0, 5.0),
        outline=skew.outline.moved(13.0, -8.0),
        holes=(Hole(63, 12, 5.0, 4.0, face=Face.B),),
        pockets=(Pocket(rectangle(50, 6, 313, 100), 5.0),),
    )
    told = reframed(panel, turn)
    assert told.outline.bounds[:2] == pytest.approx((0.0, 0.0), abs=1e-9)
    np.testing.assert_allclose(surface(told), surface(panel), atol=1e-6)
    # The centroid sees which face the blind features are on.
    assert told.centroid == pytest.approx(panel.centroid, abs=1e-9)
    assert told.mass_kg == pytest.approx(panel.mass_kg, rel=1e-12)


@pytest.mark.parametrize(("first", "second"), list(itertools.product(TURNS, TURNS)))
def test_turns_compose_and_undo(skew, first, second):
    one_by_one = reframed(reframed(skew, first), second)
    at_once = reframed(skew, second.after(first))
    np.testing.assert_allclose(
        sorted((v.x, v.y) for v in at_once.outline.outer.vertices),
        sorted((v.x, v.y) for v in one_by_one.outline.outer.vertices),
        atol=1e-9,
    )
    assert first.after(first.undone()) == Turn()


@pytest.mark.parametrize(
    ("grain", "size", "drawn"),
    [
        (Grain.ALONG_U, (300.0, 700.0), (300.0, 700.0)),
        (Grain.ALONG_V, (300.0, 700.0), (700.0, 300.0)),
        (Grain.EITHER, (300.0, 700.0), (700.0, 300.0)),
        (Grain.EITHER, (700.0, 300.0), (700.0, 300.0)),
    ],
)
def test_length_runs_along_the_grain(make, grain, size, drawn):
    panel = make(*size, grain=grain)
    assert reframed(panel, drawing_turn(panel)).outline.size == pytest.approx(drawn)


def test_a_board_without_grain_frees_the_part(make, ply):
    panel = make(300.0, 700.0, board=dataclasses.replace(ply, grain=False))
    assert reframed(panel, drawing_turn(panel)).outline.size == pytest.approx((700.0, 300.0))


def key(panel):
    return part_key(panel)[0]


def test_half_turned_and_flipped_parts_are_the_same(skew):
    for turn in (Turn(2), Turn(0, flipped=True), Turn(2, flipped=True)):
        assert key(reframed(skew, turn)) == key(skew)


def test_quarter_turned_parts_are_the_same_only_with_free_grain(skew):
    across_grain = dataclasses.replace(reframed(skew, Turn(1)), grain=Grain.ALONG_U)
    assert key(across_grain) != key(skew)
    free = dataclasses.replace(skew, grain=Grain.EITHER)
    assert key(reframed(free, Turn(1))) == key(free)
    assert key(free) != key(skew)


@pytest.mark.parametrize(
    "blind",
    [
        {"holes": (Hole(50, 20, 5.0, 6.0),)},
        {"pockets": (Pocket(rectangle(100, 6, 50, 20), 5.0),)},
    ],
)
def test_mirror_images_with_blind_features_differ(skew, blind):
    panel = dataclasses.replace(skew, **blind)
    mirrored = dataclasses.replace(
        reframed(panel, Turn(0, flipped=True)),
        holes=tuple(
            dataclasses.replace(h, face=Face.A) for h in reframed(panel, Turn(0, True)).holes
        ),
        pockets=tuple(
            dataclasses.replace(p, face=Face.A) for p in reframed(panel, Turn(0, True)).pockets
        ),
    )
    assert key(mirrored) != key(panel)
    assert key(reframed(panel, Turn(2))) == key(panel)


def test_mirror_images_of_a_board_with_a_good_face_differ(skew, ply):
    panel = dataclasses.replace(skew, board=dataclasses.replace(ply, kind="one good face"))
    assert key(reframed(panel, Turn(0, flipped=True))) != key(panel)


@pytest.mark.parametrize(
    "change",
    [
        {"edging": "taped"},
        {"holes": (Hole(50, 20, 5.0),)},
        {"holes": (Hole(50, 20, 5.0), Hole(300, 111.00001, 8.0))},
        {"outline": Outline(SKEW)},
    ],
)
def test_a_difference_makes_another_part(skew, change):
    assert key(dataclasses.replace(skew, **change)) != key(skew)


def test_differences_below_a_millionth_do_not_count(skew):
    moved = dataclasses.replace(skew, outline=skew.outline.moved(1e-9, 0.0))
    assert key(moved) == key(skew)


def test_copies_on_either_side_of_a_half_are_the_same(make):
    """A third of a length may end in half a millionth, and its last bit differ by the way."""
    for size in (261.7186505, 100.25, 80.0 / 3.0, 190.0 / 7.0):
        less, more = (make(length=size + by) for by in (-1e-12, 1e-12))
        assert key(less) == key(more)


def test_needless_vertices_do_not_count(make):
    plain = make(outline=Outline(rounded(rectangle(400, 200), 30.0), (circle(200, 100, 50),)))
    split = []
    for a, b in plain.outline.outer.segments():
        split.append(a)
        if not a.bulge:
            split.append(Vertex((a.x + b.x) / 2, (a.y + b.y) / 2))
            split.append(Vertex((a.x + b.x) / 2, (a.y + b.y) / 2))
    quarter = 0.41421356237309503  # tan of 90 degrees over four
    four = ((175, 100), (200, 75), (225, 100), (200, 125))
    ring = Loop(tuple(Vertex(x, y, quarter) for x, y in four))
    other = make(outline=Outline(Loop(tuple(split)), (ring,)))
    assert key(other) == key(plain)


def test_split_arcs_are_joined():
    whole = slot(0, 0, 100, 0, 30)
    quarter = 0.41421356237309503
    split = Loop(
        (
            Vertex(0, -15),
            Vertex(100, -15, quarter),
            Vertex(115, 0, quarter),
            Vertex(100, 15),
            Vertex(0, 15, 1.0),
        )
    )
    tidy = simplified(split)
    assert len(tidy.vertices) == len(whole.vertices)
    assert tidy.area == pytest.approx(whole.area, rel=1e-12)
    assert tidy.bounds == pytest.approx(whole.bounds)


@settings(max_examples=25, deadline=None)
@given(
    points=st.lists(
        st.tuples(st.floats(0, 600), st.floats(0, 300)), min_size=1, max_size=4, unique=True
    ),
    turn=st.sampled_from(TURNS),
    grain=st.sampled_from(Grain),
)
def test_any_lawful_turn_keeps_the_part(make, points, turn, grain):
    panel = make(grain=grain, holes=tuple(Hole(x + 20, y, 4.0) for x, y in points))
    told = reframed(panel, turn)
    if grain is Grain.EITHER or turn.quarters % 2 == drawing_turn(panel).quarters % 2:
        assert key(told) == key(panel)
    assert reframed(told, turn.undone()).outline.size == pytest.approx(panel.outline.size)
