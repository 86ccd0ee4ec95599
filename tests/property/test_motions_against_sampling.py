"""Random slides and hinges against dense sampling: nothing missed, false alarms within 0.1 mm.

The reference knows nothing of the engine: panels and obstacles are blocks, and at every pose,
0.1 mm or 0.05° apart, separating axes tell how far each two are apart (by the axis that parts
them most, which is never more than their distance) or how deep they overlap.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import pytest

from fitout.clearance.body import Body, body_of_pieces
from fitout.clearance.contact import contact
from fitout.clearance.reach import Way, free_travel
from fitout.model.item import block
from fitout.model.placement import Placement, Vector

Array = npt.NDArray[np.float64]

STEP = {True: 0.05, False: 0.1}
"""Between poses: degrees of a turn, mm of a slide."""

SURE = 0.02
"""Overlaps (mm) below it, and what is missed between two poses, are no hits of the reference."""

WITHIN = 0.1
"""How far apart (mm) may be what the engine takes to meet."""


@dataclass(frozen=True, slots=True)
class Case:
    """A panel of blocks, something that stands still, and a way."""

    moving: list[Array]
    still: Array
    way: Way


def rotation(rng: np.random.Generator) -> Array:
    q, _ = np.linalg.qr(rng.normal(size=(3, 3)))
    return np.asarray(q * np.sign(np.linalg.det(q)))


def box(size: Array, at: Array, turn: Array) -> Array:
    """The corners, shape (8, 3), in the order of `block`."""
    unit = np.array(block(1.0, 1.0, 1.0))
    return np.asarray(unit * size @ turn.T + at)


def case_of(seed: int) -> Case:
    rng = np.random.default_rng(seed)
    turn = np.eye(3) if rng.random() < 0.5 else rotation(rng)
    at = rng.uniform(-200.0, 200.0, 3)
    size = np.array([rng.uniform(150, 600), rng.uniform(100, 500), rng.uniform(6, 40)])
    moving = [box(size, at, turn)]
    if rng.random() < 0.5:
        # An L: a front that stands up at one end.
        front = np.array([size[2], size[1], rng.uniform(40, 200)])
        moving.append(box(front, at, turn))
    way = _way(rng, (at, size, turn))
    other = rotation(rng) if rng.random() < 0.5 else np.eye(3)
    middle = _posed(np.vstack(moving), way, np.array([rng.uniform(0.0, 1.2) * way.travel]))[0]
    weights = rng.dirichlet(np.ones(len(middle)))
    size = rng.uniform(5.0, 120.0, 3)
    offset = rng.normal(size=3) * rng.choice([5.0, 60.0, 150.0])
    return Case(moving, box(size, weights @ middle + offset - size / 2.0, other), way)


def _way(rng: np.random.Generator, panel: tuple[Array, Array, Array]) -> Way:
    at, size, turn = panel
    own = rng.random() < 0.6
    direction = turn[:, rng.integers(3)] if own else rng.normal(size=3)
    direction = direction / np.linalg.norm(direction)
    if rng.random() < 0.4:
        return Way(turns=False, direction=_vector(direction), travel=rng.uniform(50.0, 600.0))
    corner = rng.integers(0, 2, 3) if own else rng.uniform(-0.5, 1.5, 3)
    point = at + turn @ (size * corner)
    travel = rng.uniform(20.0, 110.0)
    return Way(turns=True, direction=_vector(direction), travel=travel, point=_vector(point))


def _vector(values: Array) -> Vector:
    x, y, z = values.tolist()
    return x, y, z


def _posed(points: Array, way: Way, travels: Array) -> Array:
    """The points at each travel, shape (travels, points, 3), by a rotation matrix of its own."""
    unit = np.array(way.direction)
    if not way.turns:
        return np.asarray(points[None] + travels[:, None, None] * unit)
    k = np.cross(unit, np.eye(3)).T
    angles = np.radians(travels)[:, None, None]
    turns = np.eye(3) + np.sin(angles) * k + (1.0 - np.cos(angles)) * (k @ k)
    arm = points - np.array(way.point)
    return np.asarray(np.einsum("nij,pj->npi", turns, arm) + np.array(way.point))


def apart(case: Case) -> tuple[Array, Array]:
    """The travels sampled, and how far apart the nearest blocks are there; negative: how deep."""
    count = int(np.ceil(case.way.travel / STEP[case.way.turns]))
    travels = np.linspace(0.0, case.way.travel, count + 1)
    return travels, _at(case, travels)


def _parted(moving: Array, still: Array) -> Array:
    sides = np.stack([moving[:, i] - moving[:, 0] for i in (4, 2, 1)], axis=1)
    others = np.array([still[i] - still[0] for i in (4, 2, 1)])
    crossed = np.cross(sides[:, :, None], others[None, None]).reshape(len(moving), 9, 3)
    axes = np.concatenate([sides, np.broadcast_to(others, sides.shape), crossed], axis=1)
    length = np.linalg.norm(axes, axis=2, keepdims=True)
    axes = np.where(length > 1e-6 * length.max(), axes / np.maximum(length, 1e-12), 0.0)
    a, b = np.einsum("nij,npj->nip", axes, moving), axes @ still.T
    gap = np.maximum(b.min(axis=2) - a.max(axis=2), a.min(axis=2) - b.max(axis=2))
    return np.asarray(np.where(length[..., 0] > 1e-6 * length.max(), gap, -np.inf).max(axis=1))


def bodies(case: Case) -> tuple[Body, Body]:
    def made(name: str, pieces: list[Array]) -> Body:
        return body_of_pieces(name, [tuple(map(_vector, piece)) for piece in pieces], Placement())

    return made("moving", case.moving), made("still", [case.still])


def judge(seed: int) -> str:
    """Hold one case against its sampling; says how it came out."""
    case = case_of(seed)
    travels, gaps = apart(case)
    moving, still = bodies(case)
    free = free_travel(moving, still, case.way)
    rough = contact(case.way.passed(moving, case.way.travel), still, 5.0)
    hits = travels[gaps < -SURE]
    if len(hits):
        assert free <= hits[0], f"case {seed}: met at {hits[0]}, free to {free}"
        assert rough.gap == 0.0, f"case {seed}: {rough} though met at {hits[0]}"
    least = _least(case, travels, gaps)
    if least > 2e-3:
        assert free == case.way.travel, f"case {seed}: apart by {least}, free to {free}"
    if least > WITHIN:
        assert rough.gap > 0.0, f"case {seed}: apart by {least}, yet {rough}"
    if free < case.way.travel:
        (stopped,) = _at(case, np.array([free]))
        assert stopped <= 2e-3, f"case {seed}: stopped at {free}, {stopped} before it"
        return "blocked"
    return "free"


def _least(case: Case, travels: Array, gaps: Array) -> float:
    """The least of the gaps, poses between the samples looked at wherever it may be there.

    Between two samples no gap is smaller than theirs less what the farthest corner moves.
    """
    ends = _posed(np.vstack(case.moving), case.way, travels[:2])
    moved = float(np.linalg.norm(ends[1] - ends[0], axis=1).max())
    low = np.minimum(gaps[:-1], gaps[1:]) - moved
    near = np.flatnonzero(low < gaps.min())
    finer = np.linspace(travels[near], travels[near + 1], 41)
    return min(float(_at(case, row).min()) for row in finer) - moved / 80.0


def _at(case: Case, travels: Array) -> Array:
    gaps = [_parted(_posed(piece, case.way, travels), case.still) for piece in case.moving]
    return np.asarray(np.min(gaps, axis=0))


def test_a_few_random_ways() -> None:
    assert {judge(seed) for seed in range(8)} == {"blocked", "free"}


@pytest.mark.thorough
def test_many_random_ways() -> None:
    found = [judge(seed) for seed in range(1000, 1400)]
    assert min(found.count("blocked"), found.count("free")) > 100
