"""Places that are seen, and which face is nearest."""

import numpy as np
import pytest

from fitout.documents.view import PLAN, REAR, THREE_QUARTER
from fitout.documents.views.forms import part_form
from fitout.documents.views.sight import nearest_faces, seen_counts, seen_places
from fitout.model.item import Item, block
from fitout.model.placement import Placement


def boxed(size, at=(0.0, 0.0, 0.0), name="box"):
    item = Item(name=name, module="m", pieces=(block(*size),), mass_kg=1.0, placement=Placement(at))
    return part_form(item)


def test_places_lie_on_the_form_and_tell_its_size():
    small, large = boxed((100.0, 100.0, 10.0)), boxed((200.0, 200.0, 10.0), (500.0, 0.0, 0.0), "l")
    one, other = seen_places([small, large], PLAN, 20.0)
    assert one[:, 0].min() > 0.0
    assert one[:, 0].max() < 100.0
    assert len(other) / len(one) == pytest.approx(4.0, rel=0.3)


def test_what_is_covered_is_not_seen():
    lid, box = boxed((100.0, 100.0, 10.0), (0.0, 0.0, 50.0), "lid"), boxed((200.0, 100.0, 50.0))
    _, seen = seen_places([lid, box], PLAN, 10.0)
    assert len(seen)
    assert seen[:, 0].min() > 100.0
    (alone,) = seen_places([box], PLAN, 10.0)
    assert len(seen) == pytest.approx(len(alone) / 2.0, rel=0.1)


def test_places_of_some_hidden_by_all():
    lid, box = boxed((100.0, 100.0, 10.0), (0.0, 0.0, 50.0), "lid"), boxed((100.0, 100.0, 50.0))
    (seen,) = seen_places([lid, box], PLAN, 10.0, [box])
    assert len(seen) == 0


def test_places_are_counted_without_the_others_and_with_them():
    lid, box = boxed((100.0, 100.0, 10.0), (0.0, 0.0, 50.0), "lid"), boxed((200.0, 100.0, 50.0))
    aside = boxed((50.0, 50.0, 50.0), (300.0, 0.0, 0.0), "aside")
    alone, seen = seen_counts([box, aside], [lid], PLAN, 10.0)
    assert alone.tolist() == [len(places) for places in seen_places([box, aside], PLAN, 10.0)]
    among = seen_places([lid, box, aside], PLAN, 10.0, [box, aside])
    assert seen.tolist() == [len(places) for places in among]
    assert 0 < seen[0] < alone[0]
    assert seen[1] == alone[1] > 0


def test_the_nearest_face_and_its_normal():
    near, far = (
        boxed((10.0, 50.0, 50.0), name="near"),
        boxed((10.0, 200.0, 80.0), (50, 0, 0), "far"),
    )
    points = np.array([[-25.0, 25.0], [-25.0, 70.0], [300.0, 0.0]])
    owners, normals = nearest_faces(points, [far, near], REAR)
    assert owners.tolist() == [1, 0, -1]
    assert normals[0].tolist() == pytest.approx([-1.0, 0.0, 0.0])


def test_an_empty_scene_has_no_places():
    assert seen_places([], THREE_QUARTER, 10.0) == ()
