import numpy as np
import pytest

from fitout.clearance.convex import hull_of
from fitout.clearance.halfspaces import halfspaces_of


def block(x: tuple[float, float], y: tuple[float, float], z: tuple[float, float]) -> np.ndarray:
    return np.array([[i, j, k] for i in x for j in y for k in z])


WALLS = halfspaces_of(
    [
        [block((0.0, 100.0), (500.0, 600.0), (0.0, 900.0))],
        [block((x, x + 50.0), (0.0, 400.0), (-10.0, 0.0)) for x in (0.0, 50.0)],
    ]
)


def test_what_lies_beyond_one_plane_of_each_is_clear() -> None:
    assert WALLS.not_clear(block((0.0, 100.0), (0.0, 499.0), (1.0, 50.0)), 0.0) == []
    assert WALLS.not_clear(block((0.0, 100.0), (0.0, 501.0), (1.0, 50.0)), 0.0) == [0]
    assert WALLS.not_clear(block((40.0, 60.0), (0.0, 501.0), (-1.0, 50.0)), 0.5) == [0, 1]
    assert WALLS.not_clear(block((40.0, 60.0), (0.0, 500.4), (-0.4, 50.0)), 0.5) == []


def test_a_corner_behind_all_planes_is_inside() -> None:
    assert WALLS.entered(np.array([[50.0, 503.0, 10.0]]), 2.0) == [0]
    assert WALLS.entered(np.array([[50.0, 503.0, 10.0], [70.0, 9.0, -3.0]]), 2.0) == [0, 1]
    assert not WALLS.entered(np.array([[50.0, 503.0, 10.0]]), 4.0)
    assert not WALLS.entered(np.array([[50.0, 450.0, -5.0]]), 0.0)


@pytest.mark.parametrize("seed", range(40))
def test_never_clear_of_what_it_shares_room_with(seed: int) -> None:
    """Random hulls against their solids' intersection."""
    rng = np.random.default_rng(seed)
    still = [rng.uniform(-100.0, 100.0, (9, 3)) + np.array([0.0, k * 150.0, 0.0]) for k in range(3)]
    spaces = halfspaces_of([[piece] for piece in still])
    mover = rng.uniform(-60.0, 60.0, (12, 3)) + rng.uniform(-150.0, 450.0, 3)
    doubtful = spaces.not_clear(mover, 1e-6)
    for k, piece in enumerate(still):
        if (hull_of(mover) ^ hull_of(piece)).volume() > 1.0:
            assert k in doubtful
    if spaces.entered(mover, 0.0):
        assert any((hull_of(mover) ^ hull_of(p)).volume() > 0.0 for p in still)
