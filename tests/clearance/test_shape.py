"""Shapes: blocks inside and around the solid, pieces that make it up, looser covers of it."""

import numpy as np
import pytest
from manifold3d import Manifold

from fitout.clearance.convex import Array, Indices, hull_of, mesh_of
from fitout.clearance.shape import (
    Blocks,
    Hulls,
    Mesh,
    Shape,
    block_corners,
    rounded,
    solid_of_mesh,
    united,
)

UNIT = np.array([[0.0, 0.0, 0.0], [10.0, 20.0, 30.0]])
FAR = UNIT + np.array([40.0, 0.0, 0.0])
TETRAHEDRON = np.array([[0.0, 0, 0], [10.0, 0, 0], [0, 10.0, 0], [0, 0, 10.0]])


def volume(solid: Manifold) -> float:
    return float(solid.volume())


def surface() -> tuple[Array, Indices]:
    """The tetrahedron's corners and faces."""
    vertices, triangles = mesh_of(hull_of(TETRAHEDRON))
    return vertices.copy(), triangles.copy()


@pytest.fixture(params=["blocks", "hulls", "mesh"])
def shape(request: pytest.FixtureRequest) -> Shape:
    made: dict[str, Shape] = {
        "blocks": Blocks(np.array([UNIT, FAR])),
        "hulls": Hulls([TETRAHEDRON, TETRAHEDRON + 5.0]),
        "mesh": Mesh(*surface()),
    }
    return made[request.param]


def test_pieces_make_up_the_solid(shape: Shape) -> None:
    together = united([hull_of(piece) for piece in shape.pieces])
    assert volume(together - shape.manifold) == pytest.approx(0.0, abs=1e-6)
    assert volume(shape.manifold - together) == pytest.approx(0.0, abs=1e-6)
    assert volume(united(shape.solids)) == pytest.approx(volume(shape.manifold))


def test_cores_lie_inside_and_covers_around(shape: Shape) -> None:
    for box in shape.core:
        assert volume(hull_of(block_corners(box)) - shape.manifold) == pytest.approx(0.0, abs=1e-6)
    around = united([hull_of(block_corners(box)) for box in shape.cover])
    assert volume(shape.manifold - around) == pytest.approx(0.0, abs=1e-6)
    extents = united([hull_of(block_corners(box)) for box in shape.extents])
    assert volume(shape.manifold - extents) == pytest.approx(0.0, abs=1e-6)


def test_looser_pieces_contain_the_solid(shape: Shape) -> None:
    for pieces in (shape.eased, shape.filled):
        loose = united([hull_of(piece) for piece in pieces])
        assert volume(shape.manifold - loose) == pytest.approx(0.0, abs=1e-6)


def test_bounds_are_the_least_and_greatest_corner(shape: Shape) -> None:
    box = shape.manifold.bounding_box()
    low, high = shape.bounds
    assert [*low, *high] == pytest.approx(list(box))


def test_block_corners() -> None:
    corners = block_corners(UNIT)
    assert corners.shape == (8, 3)
    assert len({tuple(c) for c in corners.tolist()}) == 8
    assert (corners.min(axis=0) == UNIT[0]).all()
    assert (corners.max(axis=0) == UNIT[1]).all()


def test_rounding_leaves_no_minus_zero() -> None:
    points = rounded(np.array([-1e-9, 1.23456789, 2.0]))
    assert points.tolist() == [0.0, 1.234568, 2.0]
    assert not np.signbit(points).any()


def test_volumes_by_hand() -> None:
    """6000 each for two blocks; a sixth of 1000 for the corner of a cube."""
    assert volume(Blocks(np.array([UNIT, FAR])).manifold) == pytest.approx(12000.0)
    assert volume(Hulls([TETRAHEDRON]).manifold) == pytest.approx(1000.0 / 6.0)
    assert volume(solid_of_mesh(*surface())) == pytest.approx(1000.0 / 6.0)
