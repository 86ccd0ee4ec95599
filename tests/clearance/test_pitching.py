"""Chains of poses against brute force, and against a ladder carried round a corner."""

import math

import numpy as np
import pytest

from fitout.clearance.pitching import Chain, Outlines, chain_between, kept, outlines_of


def block(x: tuple[float, float], z: tuple[float, float]) -> np.ndarray:
    return np.array([(i, k) for i in x for k in z])


def distance(body: Outlines, still: Outlines, pose: np.ndarray) -> float:
    """The distance from corners of one to edges of the other, over all pairs of polygons."""
    cos, sin = math.cos(pose[2]), math.sin(pose[2])
    corners = body.corners @ np.array([[cos, sin], [-sin, cos]]) + pose[:2]
    least = math.inf
    ends = [*still.firsts[1:].tolist(), len(still.corners)]
    for start, end in zip(still.firsts.tolist(), ends, strict=True):
        other = still.corners[start:end]
        for points, ring in ((corners, other), (other, corners)):
            a, b = ring, np.roll(ring, -1, axis=0)
            along = b - a
            share = ((points[:, None] - a) * along).sum(axis=2) / (along**2).sum(axis=1)
            foot = a + share.clip(0.0, 1.0)[:, :, None] * along
            least = min(least, float(np.linalg.norm(points[:, None] - foot, axis=2).min()))
    return least


@pytest.mark.parametrize("seed", range(30))
def test_what_is_kept_is_never_overstated(seed: int) -> None:
    rng = np.random.default_rng(seed)
    body = outlines_of([rng.uniform(-100.0, 100.0, (8, 2))])
    still = outlines_of(
        [rng.uniform(-90.0, 90.0, (7, 2)) + rng.uniform(-300, 300, 2) for _ in "abc"]
    )
    poses = np.column_stack([rng.uniform(-300, 300, (40, 2)), rng.uniform(-3, 3, 40)])
    for pose, held in zip(poses, kept(body, still, poses).tolist(), strict=True):
        if held > 0.0:
            assert held <= distance(body, still, pose) + 1e-6


def free_between(body: Outlines, still: Outlines, chain: Chain) -> bool:
    """Whether a dense row of poses along a chain is free, each by itself."""
    poses = np.array(chain.poses)
    along = np.arange(len(poses), dtype=np.float64)
    shares = np.linspace(0.0, len(poses) - 1.0, 20_000)
    dense = np.column_stack([np.interp(shares, along, poses[:, k]) for k in range(3)])
    return bool((kept(body, still, dense) > -1e-9).all())


@pytest.mark.parametrize("seed", range(12))
def test_chains_past_random_obstacles_are_free(seed: int) -> None:
    rng = np.random.default_rng(seed)
    body = outlines_of([block((-100.0, 100.0), (-20.0, 20.0))])
    places = [rng.uniform((150.0, -300.0), (550.0, 300.0)) for _ in range(6)]
    still = outlines_of([rng.uniform(-60.0, 60.0, (6, 2)) + place for place in places])
    limits = np.array([(-50.0, -300.0, -1.5), (900.0, 300.0, 1.5)])
    chain = chain_between(body, still, (0.0, 0.0, 0.0), lambda p: 750.0 - p[:, 0], limits)
    if chain is not None:
        assert chain.poses[-1][0] >= 750.0
        assert free_between(body, still, chain)


def test_no_way_through_a_gap_smaller_than_the_body() -> None:
    body = outlines_of([block((-100.0, 100.0), (-30.0, 30.0))])
    still = outlines_of(
        [block((300.0, 320.0), (29.0, 400.0)), block((300.0, 320.0), (-400.0, -29.0))]
    )
    limits = np.array([(-50.0, -300.0, -1.5), (900.0, 300.0, 1.5)])
    assert chain_between(body, still, (0.0, 0.0, 0.0), lambda p: 500.0 - p[:, 0], limits) is None


def test_a_body_that_starts_in_an_obstacle_goes_nowhere() -> None:
    body = outlines_of([block((-10.0, 10.0), (-10.0, 10.0))])
    still = outlines_of([block((0.0, 50.0), (0.0, 50.0))])
    limits = np.array([(-500.0, -500.0, -1.0), (500.0, 500.0, 1.0)])
    assert chain_between(body, still, (0.0, 0.0, 0.0), lambda p: 100.0 - p[:, 0], limits) is None
