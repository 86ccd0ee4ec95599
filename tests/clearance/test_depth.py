import math
import random
from dataclasses import replace

import numpy as np
import pytest

from fitout.clearance.body import body_of
from fitout.clearance.depth import depth_of, parting, polytope

CUBE = np.array([[x, y, z] for x in (0, 10) for y in (0, 10) for z in (0, 10)], float)


def about_z(points: np.ndarray, degrees: float) -> np.ndarray:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return points @ np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])


@pytest.mark.parametrize(
    ("shift", "depth"),
    [((7, 2, 1), 3.0), ((10, 0, 0), 0.0), ((12, 0, 0), 0.0), ((0, 0, 0), 10.0), ((-4, 1, 9), 1.0)],
)
def test_cubes_part_along_their_shortest_overlap(shift, depth):
    assert parting(polytope(CUBE), polytope(CUBE + np.array(shift))) == pytest.approx(depth)


def test_a_tilted_cube_parts_across_its_edge():
    # The edge of a cube standing on it, 3 mm into the top face of another.
    standing = about_z(CUBE - 5.0, 45.0)[:, [0, 2, 1]] + (5.0, 5.0, 10.0 + 5.0 * math.sqrt(2) - 3)
    assert parting(polytope(CUBE), polytope(standing)) == pytest.approx(3.0)


def test_crossed_edges_part_along_their_common_normal():
    # Two wedges, edge against crossed edge, 2 mm past each other.
    down = np.array(
        [(-20, 0, 0), (20, 0, 0), (-20, -9, 9), (20, -9, 9), (-20, 9, 9), (20, 9, 9)], float
    )
    up = np.array(
        [(0, -20, 2), (0, 20, 2), (-9, -20, -7), (-9, 20, -7), (9, -20, -7), (9, 20, -7)], float
    )
    assert parting(polytope(down), polytope(up)) == pytest.approx(2.0)


@pytest.mark.parametrize("seed", range(20))
def test_no_direction_parts_convex_pieces_sooner(seed):
    rng = np.random.default_rng(seed)
    p, q = rng.normal(size=(12, 3)) * 10, rng.normal(size=(12, 3)) * 10 + rng.normal(size=3) * 4
    depth = parting(polytope(p), polytope(q))
    directions = rng.normal(size=(20_000, 3))
    directions /= np.linalg.norm(directions, axis=1)[:, None]
    overlap = (directions @ p.T).max(axis=1) - (directions @ q.T).min(axis=1)
    assert depth <= overlap.min() + 1e-9
    assert overlap.min() < max(1.1 * depth, depth + 0.3)


def test_an_answer_that_cannot_matter_is_cut_short():
    p, q = polytope(CUBE), polytope(about_z(CUBE, 30.0) + np.array([7.0, 1.0, 2.0]))
    exact = parting(p, q)
    assert exact <= parting(p, q, enough=9.0) <= 9.0


def test_the_deepest_pair_of_pieces_decides():
    shelf = [CUBE, CUBE + np.array([10.0, 0.0, 0.0])]
    post = [CUBE * 0.5 + np.array([12.0, 2.0, 6.0]), CUBE + np.array([-8.0, 0.0, 0.0])]
    each = [parting(polytope(a), polytope(b)) for a in shelf for b in post]
    assert depth_of(shelf, post) == pytest.approx(max(each))


@pytest.mark.parametrize("seed", range(5))
def test_shifting_a_convex_panel_by_less_than_the_depth_does_not_free_it(samples, skewed, seed):
    rng = random.Random(seed)
    # Both about the origin, so that they cross.
    first, second = skewed(seed, 0.0), skewed(seed + 100, 20.0)
    a, b = (
        body_of(samples.panel(placement=replace(p, origin=p.at(-150.0, -100.0, -6.0))))
        for p in (first, second)
    )
    depth = depth_of(a.pieces, b.pieces)
    assert depth > 0.0
    for _ in range(30):
        direction = np.array([rng.gauss(0, 1) for _ in range(3)])
        step = tuple((0.99 * depth * direction / np.linalg.norm(direction)).tolist())
        assert (a.manifold ^ b.manifold.translate(step)).volume() > 0.0


def test_a_sliver_has_faces_too():
    """What is left of a wall cut into convex pieces may be thinner than rounding."""
    sliver = np.array(
        [
            [149.99199121, -521.99989322, 621.14103699],
            [150.0, -550.93078771, 202.00000422],
            [150.0, -522.0, 620.00248515],
            [150.0, -522.0, 620.0],
            [150.0000175, -522.0, 620.0],
        ]
    )
    thin = polytope(sliver)
    assert np.linalg.norm(thin.normals, axis=1) == pytest.approx(1.0)
    around = np.array([[x, y, z] for x in (100, 200) for y in (-600, -500) for z in (0, 700)])
    assert 0.0 < depth_of([sliver], [around.astype(float)]) < 60.0
