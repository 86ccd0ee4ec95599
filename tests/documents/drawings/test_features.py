"""Corners, openings and holes as a draughtsman would tell them."""

import math

import pytest

from fitout.documents.drawings.features import (
    Corner,
    corners,
    distinct,
    hole_kinds,
    letter_of,
    opening,
    openings,
)
from fitout.model.outline import Loop, Vertex, circle, polygon, rectangle, rounded, slot
from fitout.model.panel import Face, Panel


def _points(found: tuple[Corner, ...]) -> list[tuple[float, float]]:
    return [(round(c.x, 6), round(c.y, 6)) for c in found]


def test_a_rounded_outline_is_told_by_its_sharp_corners() -> None:
    sharp = polygon([(0, 0), (700, 0), (700, 300), (0, 300)])
    found = corners(rounded(sharp, 20.0))
    assert sorted(_points(found)) == [(0, 0), (0, 300), (700, 0), (700, 300)]
    assert {round(c.radius, 6) for c in found} == {20.0}
    assert all(c.arc is None for c in found)


def test_a_rounding_whose_corner_lies_off_the_blank_is_told_as_an_arc() -> None:
    trapezoid = polygon([(-30, 0), (730, 0), (700, 300), (0, 300)])
    found = corners(rounded(trapezoid, 80.0))
    least = min(v.x for v in rounded(trapezoid, 80.0).vertices)
    assert all(c.x >= least - 0.5 for c in found)
    arcs = [c.arc for c in found if c.arc is not None]
    assert arcs == pytest.approx([80.0, 80.0])


def test_corners_run_anticlockwise_whichever_way_the_loop_runs() -> None:
    loop = polygon([(0, 0), (100, 0), (60, 50)])
    assert sorted(_points(corners(loop))) == sorted(_points(corners(loop.reversed())))
    inward = Loop((Vertex(0, 0), Vertex(100, 0, -0.3), Vertex(100, 60), Vertex(0, 60)))
    (arc,) = [c.arc for c in corners(inward) if c.arc is not None]
    assert arc < 0.0


@pytest.mark.parametrize(
    ("loop", "size", "radius", "free"),
    [
        (rectangle(100, 40, 10, 20), (100, 40), 0.0, False),
        (rounded(rectangle(100, 40, 10, 20), 8.0), (100, 40), 8.0, False),
        (slot(30, 50, 110, 50, 30), (110, 30), 15.0, False),
        (slot(50, 30, 50, 110, 30), (30, 110), 15.0, False),
        (circle(50, 50, 60), (60, 60), 30.0, False),
        (slot(30, 30, 90, 90, 30), None, None, True),
        (polygon([(0, 0), (100, 0), (60, 50)]), (100, 50), 0.0, True),
    ],
)
def test_openings_that_a_rectangle_and_a_radius_tell_are_known(
    loop: Loop, size: tuple[float, float] | None, radius: float | None, free: bool
) -> None:
    found = opening(loop, None, Face.A, "cut-out")
    assert found.free is free
    if size is not None:
        assert found.size == pytest.approx(size)
        assert found.radius == pytest.approx(radius)
    assert found.round is (not free and math.isclose(loop.area, math.pi * found.radius**2))


def test_a_panel_s_openings_and_holes_are_all_told(panel: Panel) -> None:
    found = openings(panel)
    assert [(one.purpose, one.depth, one.face) for one in found] == [
        ("cut-out", None, Face.A), ("cut-out", None, Face.A),
        ("groove", 5.0, Face.A), ("groove", 6.0, Face.B),
    ]  # fmt: skip
    kinds = hole_kinds(panel)
    assert sum(len(kind.holes) for kind in kinds) == len(panel.holes)
    assert {(k.diameter, k.depth) for k in kinds} == {(4.5, 10.0), (20.0, None), (5.0, None)}
    assert [k.letter for k in kinds] == ["a", "b", "c"]


def test_letters_go_on_after_z() -> None:
    assert [letter_of(i) for i in (0, 25, 26, 51, 52, 701, 702)] == [
        "a", "z", "aa", "az", "ba", "zz", "aaa",
    ]  # fmt: skip


def test_distances_that_are_one_are_told_once() -> None:
    assert distinct([3.0, 1.0, 1.00001, 2.0, 1.0]) == (1.0, 2.0, 3.0)
    assert distinct([1.0, 1.04, 1.2], 0.05) == (1.0, 1.2)
