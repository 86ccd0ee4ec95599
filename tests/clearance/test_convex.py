import numpy as np
import pytest
from manifold3d import Manifold

from fitout.clearance.convex import (
    blunted,
    convex_polygons,
    convex_solids,
    eased,
    facets,
    mesh_of,
    shared_edges,
)
from fitout.model.outline import polygon, rectangle, rounded, slot


def area(p: np.ndarray) -> float:
    x, y = p.T
    return float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2.0


def is_convex(p: np.ndarray) -> bool:
    e = np.roll(p, -1, axis=0) - p
    f = np.roll(e, -1, axis=0)
    return bool(np.all(e[:, 0] * f[:, 1] - e[:, 1] * f[:, 0] > -1e-6))


@pytest.mark.parametrize(
    ("loops", "most"),
    [
        ([rectangle(100, 50).chords(grows=True)], 1),
        ([rounded(rectangle(100, 50), 10).chords(grows=True)], 1),
        ([polygon([(0, 0), (9, 0), (9, 3), (3, 3), (3, 9), (0, 9)]).chords(grows=True)], 2),
        (
            [
                rectangle(100, 50).chords(grows=True),
                rectangle(20, 10, 40, 20).chords(grows=False)[::-1],
            ],
            6,
        ),
    ],
)
def test_convex_polygons_fill_the_loops(loops, most):
    pieces = convex_polygons(loops)
    assert len(pieces) <= most
    assert all(is_convex(piece) for piece in pieces)
    assert sum(map(area, pieces)) == pytest.approx(sum(map(area, loops)))


def test_easing_fills_inward_arcs_only():
    outward = rounded(rectangle(200, 100), 15).chords(grows=True)
    assert np.array_equal(np.unique(eased(outward), axis=0), np.unique(outward, axis=0))
    hole = slot(60, 50, 140, 50, 30).chords(grows=False)
    smaller = eased(hole[::-1])[::-1]
    assert len(smaller) < len(hole) / 5
    length = slot(60, 50, 140, 50, 30).length
    assert 0.0 < area(hole) - area(smaller) < 1.0 * length


def test_easing_keeps_real_corners():
    angle = polygon([(0, 0), (90, 0), (90, 30), (30, 30), (30, 90), (0, 90)]).chords(grows=True)
    assert len(eased(angle)) == 6


def test_convex_solids_fill_a_solid():
    base = Manifold.cube((100.0, 100.0, 20.0))
    dented = base - Manifold.cube((30.0, 30.0, 30.0)).translate((40.0, 0.0, 10.0))
    ringed = dented - Manifold.cylinder(40.0, 12.0, 12.0, 16).translate((70.0, 70.0, -10.0))
    pieces = convex_solids(ringed)
    assert sum(p.volume() for p in pieces) == pytest.approx(ringed.volume(), rel=1e-9)
    assert all(p.hull().volume() - p.volume() < 1e-2 for p in pieces)
    assert len(convex_solids(base)) == 1


def test_the_facets_of_a_block_are_its_six_faces():
    corners = np.array([[x, y, z] for x in (0, 3) for y in (0, 4) for z in (0, 5)], float)
    faces = facets(corners)
    assert len(faces) == 6
    for face in faces:
        normal = np.cross(face[1] - face[0], face[2] - face[1])
        assert len(face) == 4
        # Anticlockwise seen from outside: the normal points away from the middle.
        assert normal @ (face[0] - corners.mean(axis=0)) > 0


def test_each_edge_is_shared_once():
    _, triangles = mesh_of(Manifold.cube((1.0, 1.0, 1.0)))
    first, second, start, end = shared_edges(triangles)
    assert len(first) == 18
    for f, s, a, b in zip(first, second, start, end, strict=True):
        assert {a, b} <= set(triangles[f]) & set(triangles[s])
        assert f != s


@pytest.mark.parametrize("radius", [2.0, 20.0, 200.0])
def test_a_blunted_polygon_contains_the_other_and_has_fewer_corners(radius: float) -> None:
    turns = np.radians(np.arange(0.0, 360.0, 1.0))
    centres = np.column_stack([np.sign(np.cos(turns)) * 300.0, np.sign(np.sin(turns)) * 100.0])
    outline = centres + radius * np.column_stack([np.cos(turns), np.sin(turns)])
    few = blunted(outline, 0.25)
    assert 4 <= len(few) <= 100
    edges = np.roll(few, -1, axis=0) - few
    normals = np.column_stack([edges[:, 1], -edges[:, 0]]) / np.hypot(*edges.T)[:, None]
    offsets = (normals * few).sum(axis=1)
    assert (normals @ outline.T - offsets[:, None]).max() < 1e-6
    directions = np.column_stack([np.cos(turns), np.sin(turns)])
    out = (directions @ few.T).max(axis=1) - (directions @ outline.T).max(axis=1)
    assert out.max() < 0.25 + 1e-6
