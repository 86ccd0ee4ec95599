"""Meshes are closed, turned outwards, and hold as much as the solid they stand for."""

import manifold3d
import numpy as np
import pytest

from fitout.survey.meshes import Mesh, beam, block_mesh, column, slab


def solid(mesh: Mesh) -> manifold3d.Manifold:
    vertices, triangles = mesh
    return manifold3d.Manifold(
        manifold3d.Mesh64(vertices, triangles.astype(np.uint64), tolerance=1e-9)
    )


def volume(mesh: Mesh) -> float:
    made = solid(mesh)
    assert made.status() == manifold3d.Error.NoError
    return float(made.volume())


def test_block() -> None:
    mesh = block_mesh((10.0, -20.0, 0.0), (40.0, 30.0, 7.0))
    assert volume(mesh) == pytest.approx(30.0 * 50.0 * 7.0)
    assert mesh[0].min(axis=0).tolist() == [10.0, -20.0, 0.0]
    assert mesh[0].max(axis=0).tolist() == [40.0, 30.0, 7.0]


@pytest.mark.parametrize("upwards", [True, False])
def test_column_tapering_through_three_rings(upwards: bool) -> None:
    """Frustum volumes by the prismoidal rule, whichever way the rings run."""

    def ring(half: float, z: float) -> list[tuple[float, float, float]]:
        return [(-half, -half, z), (half, -half, z), (half, half, z), (-half, half, z)]

    rings = [ring(10.0, 0.0), ring(20.0, 30.0), ring(20.0, 50.0)]
    expected = 30.0 * (400.0 + 1600.0 + 4.0 * 900.0) / 6.0 + 20.0 * 1600.0
    assert volume(column(rings if upwards else rings[::-1])) == pytest.approx(expected)


@pytest.mark.parametrize("axes", [(0, 2, 1), (0, 1, 2), (2, 1, 0), (1, 0, 2), (2, 0, 1), (1, 2, 0)])
@pytest.mark.parametrize("far", [100.0, -100.0])
def test_slab_between_a_bent_surface_and_a_plane(axes: tuple[int, int, int], far: float) -> None:
    """Each cell's two triangles share the diagonal from its least to its greatest corner."""
    along, across = (0.0, 10.0, 30.0), (0.0, 20.0)
    surface = np.array([[1.0, 2.0], [4.0, 7.0], [3.0, 5.0]])
    mesh = slab(along, across, surface, far, axes)
    # Area of each triangle times its mean height above the far plane.
    below = 100.0 * ((1 + 4 + 7) / 3.0 + (1 + 7 + 2) / 3.0) + 200.0 * (
        (4 + 3 + 5) / 3.0 + (4 + 5 + 7) / 3.0
    )
    expected = far * 600.0 - below if far > 0.0 else below - far * 600.0
    assert volume(mesh) == pytest.approx(expected)
    assert np.ptp(mesh[0][:, axes[0]]) == 30.0
    assert np.ptp(mesh[0][:, axes[1]]) == 20.0


def test_a_mesh_with_its_triangles_turned_inwards_holds_less_than_nothing() -> None:
    """The measure the other tests rely on does tell inwards from outwards."""
    vertices, triangles = block_mesh((0.0, 0.0, 0.0), (1.0, 2.0, 3.0))
    corners = vertices[triangles[:, ::-1]]
    signed = np.einsum("ij,ij->", corners[:, 0], np.cross(corners[:, 1], corners[:, 2])) / 6.0
    assert signed == pytest.approx(-6.0)


@pytest.mark.parametrize("end", [(300.0, 0.0, 0.0), (0.0, 0.0, 250.0), (-200.0, 120.0, 90.0)])
def test_a_bar_is_as_long_as_its_ends_are_apart_and_as_thick_as_said(
    end: tuple[float, float, float],
) -> None:
    mesh = beam((0.0, 0.0, 0.0), end, 40.0)
    assert volume(mesh) == pytest.approx(float(np.linalg.norm(end)) * 1600.0)
    way = np.array(end) / np.linalg.norm(end)
    away = mesh[0] - np.outer(mesh[0] @ way, way)
    assert np.linalg.norm(away, axis=1) == pytest.approx(np.full(8, 20.0 * np.sqrt(2.0)))


def test_a_bar_between_equal_points_is_refused() -> None:
    with pytest.raises(ValueError, match="no direction"):
        beam((1.0, 2.0, 3.0), (1.0, 2.0, 3.0), 40.0)
