"""Painted pictures: faces filled exactly, what is new grey and wide."""

import numpy as np
import pytest
import shapely

from fitout.documents.guide.picture import BRIGHT, NEW, SHADE, THERE, Frame, painted
from fitout.documents.paper.marks import Area, Stroke
from fitout.documents.view import CORNERS, THREE_QUARTER
from fitout.documents.views.forms import part_form
from fitout.model.item import Item, block
from fitout.model.placement import Placement


def boxed(size, at=(0.0, 0.0, 0.0), name="box"):
    item = Item(name=name, module="m", pieces=(block(*size),), mass_kg=1.0, placement=Placement(at))
    return part_form(item)


def whole(forms, eye=THREE_QUARTER):
    flat = np.vstack([eye.on_sheet(form.vertices) for form in forms])
    (left, low), (right, top) = (flat.min(axis=0) - 5.0).tolist(), (flat.max(axis=0) + 5.0).tolist()
    return Frame((left, low, right, top), (0.0, 0.0), 1.0)


def areas(marks, grey):
    """The area painted in greys that `grey` is true of."""
    return sum(
        shapely.Polygon(mark.rings[0], mark.rings[1:]).area
        for mark in marks
        if isinstance(mark, Area) and grey(mark.colour[0])
    )


@pytest.mark.parametrize("eye", CORNERS)
def test_a_block_is_painted_as_large_as_it_is_seen(eye):
    form = boxed((300.0, 200.0, 100.0))
    marks = painted([form], {form.id}, eye, whole([form], eye))
    wanted = sum(
        a * b * abs(float(eye.to_viewer[k]))
        for a, b, k in ((200, 100, 0), (300, 100, 1), (300, 200, 2))
    )
    assert areas(marks, lambda grey: grey <= BRIGHT) == pytest.approx(wanted, rel=1e-3)
    greys = {mark.colour for mark in marks if isinstance(mark, Area)}
    assert len(greys) == 3


def test_new_and_old_are_told_apart_by_tone_and_by_line():
    old, new = boxed((300.0, 200.0, 100.0)), boxed((300.0, 200.0, 50.0), (0, 0, 100.0), "new")
    marks = painted([old, new], {new.id}, THREE_QUARTER, whole([old, new]))
    assert areas(marks, lambda grey: grey <= BRIGHT) > 0.0
    assert areas(marks, lambda grey: grey >= SHADE) > 0.0
    assert {mark.pen for mark in marks if isinstance(mark, Stroke)} == {NEW, THERE}


def test_what_is_hidden_is_painted_only_when_seen_through():
    new, wall = boxed((10.0, 50.0, 50.0), (100.0, 150.0, 5.0), "new"), boxed((50.0, 400.0, 400.0))
    forms = [wall, new]
    hidden = painted(forms, {new.id}, THREE_QUARTER, whole(forms))
    through = painted(forms, {new.id}, THREE_QUARTER, whole(forms), through=True)
    assert areas(hidden, lambda grey: grey <= BRIGHT) == 0.0
    assert areas(through, lambda grey: grey <= BRIGHT) > 1000.0


def test_nothing_is_drawn_beyond_the_frame():
    form = boxed((300.0, 200.0, 100.0))
    frame = Frame((0.0, 0.0, 60.0, 40.0), (10.0, 20.0), 2.0)
    for mark in painted([form], {form.id}, THREE_QUARTER, frame):
        rings = mark.rings if isinstance(mark, Area) else (mark.points,)
        for x, y in (point for ring in rings for point in ring):
            assert 10.0 - 1e-6 <= x <= 40.0 + 1e-6
            assert 20.0 - 1e-6 <= y <= 40.0 + 1e-6
