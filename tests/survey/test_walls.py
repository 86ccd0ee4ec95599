"""Walls from sections: interpolation, lining, and the least distance over a rectangle."""

import math
from collections.abc import Callable
from typing import Any

import pytest

from fitout.model.bay import WallPiece
from fitout.model.design import Sides
from fitout.model.spec import Measured
from fitout.survey.walls import clipped, half, half_at, least_offset, wall_grid

Sections = Callable[..., Any]


def test_half_of_a_width_or_of_one_side() -> None:
    sides = Sides(left=Measured(612.0), right=Measured(598.5))
    assert half(Measured(1200.0), "left") == half(Measured(1200.0), "right") == 600.0
    assert (half(sides, "left"), half(sides, "right")) == (612.0, 598.5)


def test_between_measured_heights_the_wall_is_straight() -> None:
    widths = {0.0: Measured(1000.0), 400.0: Measured(1100.0)}
    assert half_at(widths, "left", 100.0) == 512.5
    assert half_at(widths, "left", 900.0) == 550.0


def test_grid_carries_the_end_sections_on_and_takes_off_the_lining(sections: Sections) -> None:
    """Heights measured at one station only are interpolated at the others."""
    rows = sections((100.0, {0.0: 1000.0, 400.0: 1100.0}), (500.0, {0.0: 1200.0}))
    grid = wall_grid(rows, "left", (0.0, 900.0), 800.0, 5.0)
    assert grid.xs == (0.0, 100.0, 500.0, 900.0)
    assert grid.zs == (0.0, 400.0, 800.0)
    assert grid.offsets.tolist() == [
        [495.0, 545.0, 545.0],
        [495.0, 545.0, 545.0],
        [595.0, 595.0, 595.0],
        [595.0, 595.0, 595.0],
    ]
    assert len(grid.pieces()) == 2 * 3 * 2


def test_clipped_cuts_a_triangle_to_a_rectangle() -> None:
    triangle = [(0.0, 0.0), (4.0, 0.0), (0.0, 4.0)]
    corners = clipped(triangle, 1.0, 9.0, 1.0, 9.0)
    assert set(corners) == {(1.0, 1.0), (3.0, 1.0), (1.0, 3.0)}
    assert clipped(triangle, 5.0, 9.0, 5.0, 9.0) == []


def plane(slope_x: float, slope_z: float) -> list[WallPiece]:
    """A plane wall 1000 by 1000, 600 off at the origin, as two triangles."""

    def off(x: float, z: float) -> float:
        return 600.0 + slope_x * x + slope_z * z

    corners = [(0.0, 0.0), (1000.0, 0.0), (1000.0, 1000.0), (0.0, 1000.0)]
    pieces = []
    for chosen in ((0, 1, 2), (0, 2, 3)):
        a, b, c = (corners[i] for i in chosen)
        pieces.append(WallPiece((a, b, c), (off(*a), off(*b), off(*c))))
    return pieces


@pytest.mark.parametrize(
    ("slope_x", "slope_z"), [(0.0, -0.2), (0.1, 0.0), (0.05, -0.1), (-0.3, 0.2)]
)
def test_a_block_stands_square_to_a_plane_wall(slope_x: float, slope_z: float) -> None:
    """The nearest corner's distance to the plane is just what is asked."""
    x, z, clear = (200.0, 500.0), (100.0, 400.0), 7.0
    found = least_offset(plane(slope_x, slope_z), *x, *z, clear)
    corner = 600.0 + min(slope_x * a + slope_z * b for a in x for b in z)
    assert found == pytest.approx(corner - clear * math.sqrt(1.0 + slope_x**2 + slope_z**2))


def test_a_ridge_beside_the_block_counts_within_the_clearance() -> None:
    """A step 3 mm before the block's end is nearer than the wall abreast of it."""
    near = WallPiece(((0.0, 0.0), (97.0, 0.0), (0.0, 5000.0)), (500.0, 500.0, 500.0))
    far = WallPiece(((90.0, -500.0), (3000.0, -500.0), (90.0, 5000.0)), (600.0, 600.0, 600.0))
    assert least_offset([near, far], 100.0, 200.0, 0.0, 0.0) == 600.0
    assert least_offset([near, far], 100.0, 200.0, 0.0, 0.0, 5.0) == 495.0
    assert least_offset([near, far], 100.0, 200.0, 0.0, 0.0, 2.0) == 598.0


def test_no_wall_where_none_was_measured() -> None:
    assert least_offset(plane(0.0, 0.0), 2000.0, 2100.0, 0.0, 10.0) is None
