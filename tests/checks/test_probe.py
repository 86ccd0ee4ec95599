"""How far a face can go before it meets a body, against plain distances."""

from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.probe import free_depth
from fitout.clearance.body import body_of

Make = Callable[..., Any]
FACE = ((0.0, -10.0, 0.0), (0.0, 10.0, 0.0), (0.0, 10.0, 20.0), (0.0, -10.0, 20.0))
REAR = (1.0, 0.0, 0.0)


def test_nothing_ahead_leaves_all_of_it(item: Make) -> None:
    beside = body_of(item("a/beside", (10.0, 50.0), (20.0, 60.0), (0.0, 50.0)))
    assert free_depth(FACE, REAR, 80.0, [beside]) == (80.0, None)


@pytest.mark.parametrize("ahead", [3.0, 41.5])
def test_the_nearest_body_ends_it(item: Make, ahead: float) -> None:
    near = body_of(item("a/near", (ahead, 90.0), (0.0, 60.0), (0.0, 50.0)))
    far = body_of(item("a/far", (60.0, 90.0), (-60.0, 60.0), (0.0, 50.0)))
    depth, met = free_depth(FACE, REAR, 80.0, [far, near])
    assert depth == pytest.approx(ahead)
    assert met is near


def test_a_face_that_starts_inside_has_no_room(item: Make) -> None:
    around = body_of(item("a/around", (-5.0, 5.0), (-60.0, 60.0), (0.0, 50.0)))
    assert free_depth(FACE, REAR, 80.0, [around])[0] == 0.0


def test_backwards_is_as_good(item: Make) -> None:
    behind = body_of(item("a/behind", (-40.0, -30.0), (-60.0, 60.0), (0.0, 50.0)))
    assert free_depth(FACE, (-1.0, 0.0, 0.0), 80.0, [behind])[0] == pytest.approx(30.0)
