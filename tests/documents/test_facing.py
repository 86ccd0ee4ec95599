"""Which way up, for panels placed in each of the usual ways."""

import pytest

from fitout.documents.facing import Facing, nearest, pointed, side_of_edge
from fitout.model.placement import (
    Placement,
    across,
    across_face_rear,
    along,
    along_face_left,
    flat,
    flat_face_down,
)

AT = (1.0, 2.0, 3.0)


@pytest.mark.parametrize(
    ("placement", "face", "facing", "edge"),
    [
        (flat(*AT), "top", Facing("front", 0.0), "right"),
        (flat_face_down(*AT), "bottom", Facing("front", 0.0), "right"),
        (along(*AT), "right", Facing("top", 90.0), "upper"),
        (along_face_left(*AT), "left", Facing("top", 90.0), "upper"),
        (across(*AT), "front", Facing("top", 90.0), "upper"),
        (across_face_rear(*AT), "rear", Facing("top", 90.0), "upper"),
        (Placement(AT, (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0)), "top", Facing("front", 270.0), "lower"),
    ],
)
def test_what_is_up_or_in_front(placement: Placement, face: str, facing: Facing, edge: str) -> None:
    assert nearest(placement.w) == face
    assert pointed(placement) == facing
    assert facing.edge == edge
    assert side_of_edge(placement, facing.edge) == facing.side


def test_a_leaning_panel_is_marked_at_its_upper_edge() -> None:
    leaning = Placement(AT, (0.0, 1.0, 0.0), (0.6, 0.0, 0.8))
    assert pointed(leaning) == Facing("top", 90.0)
    lying = Placement(AT, (0.0, 1.0, 0.0), (0.8, 0.0, 0.6))
    assert pointed(lying) == Facing("front", 90.0)
