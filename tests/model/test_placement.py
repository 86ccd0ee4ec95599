"""Placements: where a part's own axes lie, and which way face A of a panel looks."""

import numpy as np
import pytest

from fitout.model.placement import (
    Placement,
    X,
    Y,
    Z,
    across,
    across_face_rear,
    along,
    along_face_left,
    flat,
    flat_face_down,
    opposite,
)

FACE_A = {
    flat: Z,
    flat_face_down: opposite(Z),
    along: opposite(Y),
    along_face_left: Y,
    across: X,
    across_face_rear: opposite(X),
}
UPRIGHT = (along, along_face_left, across, across_face_rear)
helpers = pytest.mark.parametrize("helper", FACE_A, ids=lambda h: h.__name__)


@helpers
def test_face_a_looks_where_the_name_says(helper):
    assert helper(1.0, 2.0, 3.0).w == FACE_A[helper]


@helpers
def test_axes_are_right_handed_and_square(helper):
    p = helper(5.0, -6.0, 7.0)
    frame = np.array([p.u, p.v, p.w])
    assert np.linalg.det(frame) == pytest.approx(1.0)
    assert frame @ frame.T == pytest.approx(np.eye(3))
    assert p.origin == (5.0, -6.0, 7.0)


@pytest.mark.parametrize("helper", UPRIGHT, ids=lambda h: h.__name__)
def test_upright_panels_stand_with_v_up(helper):
    assert helper(0.0, 0.0, 0.0).v == Z


def test_no_axis_holds_a_negative_zero():
    for helper in FACE_A:
        p = helper(0.0, 0.0, 0.0)
        for value in (*p.u, *p.v):
            assert np.copysign(1.0, value) == (1.0 if value >= 0.0 else -1.0)


def test_at_apply_and_matrix_agree():
    p = Placement((100.0, -20.0, 7.0), Y, Z)
    points = np.array([(0.0, 0.0, 0.0), (10.0, 20.0, 30.0), (-5.0, 2.5, 1.0)])
    applied = p.apply(points)
    for point, placed in zip(points, applied, strict=True):
        assert tuple(placed) == pytest.approx(p.at(*point))
        assert tuple(placed) == pytest.approx(tuple(p.matrix @ [*point, 1.0]))
    assert tuple(applied[1]) == pytest.approx((130.0, -10.0, 27.0))


def test_moved_shifts_and_keeps_the_turn():
    p = across(1.0, 2.0, 3.0).moved(10.0, dz=-3.0)
    assert p == across(11.0, 2.0, 0.0)
