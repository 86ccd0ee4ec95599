"""Visible lines: held against rays, and against another kernel's hidden-line remover."""

import itertools
import time

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout import workflow
from fitout.documents.view import CORNERS, FRONT, PLAN, REAR, SIDE, THREE_QUARTER
from fitout.documents.views.forms import part_form
from fitout.documents.views.hidden_lines import visible_lines
from fitout.model.item import Item, block
from fitout.model.placement import Placement

SQUARE = ("barrier", "drawers", "fridge", "tank")


def boxed(size, at=(0.0, 0.0, 0.0), name="box"):
    item = Item(name=name, module="m", pieces=(block(*size),), mass_kg=1.0, placement=Placement(at))
    return part_form(item)


def length(seen):
    return sum(
        float(np.linalg.norm(np.diff(line, axis=0), axis=1).sum())
        for one in seen
        for line in one.lines
    )


def test_a_block_shows_nine_of_its_twelve_edges():
    seen = visible_lines([boxed((300.0, 200.0, 100.0))], THREE_QUARTER)
    flat = THREE_QUARTER.on_sheet(np.eye(3))
    each = np.linalg.norm(flat, axis=1) * [300.0, 200.0, 100.0]
    assert length(seen) == pytest.approx(3.0 * sum(each), rel=1e-4)


@pytest.mark.parametrize(
    ("eye", "around"), [(PLAN, 1000.0), (SIDE, 800.0), (REAR, 600.0), (FRONT, 600.0)]
)
def test_seen_square_a_block_is_its_outline_once(eye, around):
    seen = visible_lines([boxed((300.0, 200.0, 100.0))], eye)
    assert length(seen) == pytest.approx(around, abs=0.1)


def test_what_stands_behind_is_seen_only_beside():
    near, far = (
        boxed((10.0, 100.0, 50.0), name="near"),
        boxed((10.0, 200.0, 80.0), (50.0, 0.0, 0.0), "far"),
    )
    seen = {one.id: [one] for one in visible_lines([near, far], REAR)}
    assert length(seen["m/near"]) == pytest.approx(300.0, abs=0.1)
    # Of its outline are hidden: 100 of the lower edge and 50 of the right upright; the lower
    # stretches lie on those of the nearer.
    assert length(seen["m/far"]) == pytest.approx(560.0 - 150.0, abs=0.1)


def test_flush_neighbours_keep_the_joints_line_once():
    blocks = [boxed((100.0, 50.0, 20.0)), boxed((100.0, 50.0, 20.0), (100.0, 0.0, 0.0), "other")]
    assert length(visible_lines(blocks, PLAN)) == pytest.approx(2 * 250.0 + 50.0, abs=0.1)


@pytest.mark.parametrize("eye", CORNERS)
def test_blocks_that_hide_each_other_in_a_ring_are_seen_right(eye):
    # Each passes before one and behind the other: no order of painting serves.
    places = [((0, 0, 30), (300, 20, 20)), ((30, 0, 0), (20, 300, 20)), ((0, 30, 0), (20, 20, 300))]
    held_against_rays([(np.array(at, float), np.array(at) + np.array(s)) for at, s in places], eye)


def test_no_bodies_no_lines():
    assert visible_lines([], PLAN) == ()


cells = st.lists(
    st.tuples(st.integers(0, 2), st.integers(0, 2), st.integers(0, 2)),
    min_size=1, max_size=6, unique=True,
)  # fmt: skip
sizes = st.tuples(st.floats(20, 95), st.floats(20, 95), st.floats(20, 95))


@settings(max_examples=25, deadline=None)
@given(places=cells, many=st.lists(sizes, min_size=6, max_size=6), eye=st.sampled_from(CORNERS))
def test_random_blocks_are_seen_as_rays_tell(places, many, eye):
    boxes = [
        (np.array(place) * 100.0, np.array(place) * 100.0 + np.array(size))
        for place, size in zip(places, many, strict=False)
    ]
    held_against_rays(boxes, eye)


def held_against_rays(boxes, eye):
    """Points of edges are on a drawn line if no ray to the viewer meets a block, else not."""
    forms = [boxed(tuple(high - low), tuple(low), str(k)) for k, (low, high) in enumerate(boxes)]
    drawn = [line for seen in visible_lines(forms, eye) for line in seen.lines]
    for low, high in boxes:
        corners = np.array(list(itertools.product(*zip(low, high, strict=True))))
        for a, b in itertools.combinations(corners, 2):
            if np.count_nonzero(a != b) != 1:
                continue
            point = a + 0.37 * (b - a)
            away = min(distance(line, eye.on_sheet(point[None])[0]) for line in drawn)
            own = [(low, high)]
            others = [box for box in boxes if box[0] is not low]
            if covered(point, own, eye, 0.5) or covered(point, others, eye, 0.5):
                assert away > 0.01 or crossed(point, boxes, eye)
            elif not covered(point, others, eye, -0.5):
                assert away < 0.01


def crossed(point, boxes, eye):
    """Whether a block nearer to the viewer has an edge that falls on the point on paper."""
    at = eye.on_sheet(point[None])[0]
    for low, high in boxes:
        corners = np.array(list(itertools.product(*zip(low, high, strict=True))))
        for a, b in itertools.combinations(corners, 2):
            if np.count_nonzero(a != b) == 1 and not (a <= point).all() & (point <= b).all():
                ends = eye.on_sheet(np.array([a, b]))
                if distance(ends, at) < 0.05:
                    return True
    return False


def covered(point, boxes, eye, grown):
    """Whether a ray from the point to the viewer meets a block, grown or shrunk a little."""
    for low, high in boxes:
        first = (low + grown - point) / eye.to_viewer
        second = (high - grown - point) / eye.to_viewer
        enter = np.minimum(first, second).max()
        leave = np.maximum(first, second).min()
        if leave > max(enter, 1e-9):
            return True
    return False


def distance(line, point):
    a, b = line[:-1], line[1:]
    along = b - a
    share = np.einsum("ij,ij->i", point - a, along) / np.einsum("ij,ij->i", along, along)
    return float(np.linalg.norm(a + share.clip(0, 1)[:, None] * along - point, axis=1).min())


@pytest.mark.thorough
@pytest.mark.parametrize("eye", [THREE_QUARTER, PLAN, SIDE, REAR, CORNERS[3]])
def test_lines_are_those_of_another_kernels_hidden_line_remover(eye):
    """Against OCC's exact remover on solids without drill holes: length within 1 %.

    Modules along the walls are left out: OCC draws the shallow kinks of a scribed edge too.
    """
    from tests.support.hidden_lines import occ_visible

    fitout = workflow.evaluate(workflow.load("designs/touring-wagon.yaml")).fitout
    parts = [part for part in fitout.parts() if part.module in SQUARE]
    start = time.perf_counter()
    ours = visible_lines([part_form(part) for part in parts], eye)
    here = time.perf_counter()
    theirs = occ_visible(parts, eye)
    there = time.perf_counter()
    print(
        f"{eye.name}: {length(ours):.0f} mm in {here - start:.2f} s, "
        f"OCC {theirs:.0f} mm in {there - here:.2f} s"
    )
    assert length(ours) == pytest.approx(theirs, rel=0.01)
    assert here - start < there - here
