"""Which bodies are near each other, and how they stand: apart, touching or clashing."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
import numpy.typing as npt

from fitout.clearance.body import Body, body_of, key_of
from fitout.clearance.convex import ROUNDING, Array, Solid
from fitout.clearance.depth import depth_of
from fitout.clearance.shape import united
from fitout.model.module import Part

TOUCH = 1e-4
"""Bodies that overlap by no more than this (mm), beyond their growth, only touch."""

Pairs = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Contact:
    """How two bodies stand to each other.

    `gap` is their least distance, 0 when they touch or overlap and infinite beyond the
    reach looked at. `depth` and `volume` (mm³) are 0 unless they clash. The depth is, over
    all pairs of convex pieces of the two, the greatest of the least translations that part
    the two pieces: no shorter shift frees the bodies.
    """

    gap: float
    depth: float = 0.0
    volume: float = 0.0

    @property
    def clashes(self) -> bool:
        """Whether the bodies share room; touching faces don't."""
        return self.depth > 0.0


APART = Contact(math.inf)


@dataclass(slots=True)
class PairCache:
    """Bodies and contacts of earlier calls, by content; the caller keeps it.

    After a change only what has changed is built and compared again. Holds at most `limit`
    contacts and as many bodies, the oldest dropped first.
    """

    limit: int = 20_000
    contacts: dict[tuple[bytes, bytes, float], Contact] = field(default_factory=dict)
    bodies: dict[bytes, Body] = field(default_factory=dict)

    def body(self, part: Part) -> Body:
        """The part's body, as built earlier if nothing that shapes it has changed."""
        known = self.bodies.get(key_of(part))
        return self.built(body_of(part) if known is None else replace(known, id=part.id))

    def built(self, body: Body) -> Body:
        """The body as built earlier for the same content, if there is one."""
        known = self.bodies.setdefault(body.key, body)
        return known if known.id == body.id else replace(known, id=body.id)

    def trim(self) -> None:
        """Drop the oldest entries beyond the limit."""
        while len(self.contacts) > self.limit:
            del self.contacts[next(iter(self.contacts))]
        while len(self.bodies) > self.limit:
            del self.bodies[next(iter(self.bodies))]


def near_pairs(bodies: Sequence[Body], reach: float) -> Pairs:
    """Index pairs (i < j), shape (n, 2), of bodies whose bounding boxes are within `reach`."""
    if len(bodies) < 2:
        return np.empty((0, 2), dtype=np.int64)
    lo, hi = np.array([b.lo for b in bodies]), np.array([b.hi for b in bodies])
    i, j = np.triu_indices(len(bodies), 1)
    return _within(i, j, (lo, hi), (lo, hi), reach)


def near_pairs_between(first: Sequence[Body], second: Sequence[Body], reach: float) -> Pairs:
    """Index pairs (of `first`, of `second`) whose bounding boxes are within `reach`."""
    if not first or not second:
        return np.empty((0, 2), dtype=np.int64)
    i, j = (k.ravel() for k in np.indices((len(first), len(second))))
    boxes = [
        (np.array([b.lo for b in group]), np.array([b.hi for b in group]))
        for group in (first, second)
    ]
    return _within(i, j, boxes[0], boxes[1], reach)


def _within(
    i: Pairs, j: Pairs, first: tuple[Array, Array], second: tuple[Array, Array], reach: float
) -> Pairs:
    apart = np.maximum(first[0][i] - second[1][j], second[0][j] - first[1][i]).clip(min=0.0)
    near = np.einsum("ij,ij->i", apart, apart) <= reach * reach
    return np.column_stack([i[near], j[near]]).astype(np.int64)


def contact(a: Body, b: Body, reach: float, cache: PairCache | None = None) -> Contact:
    """How `a` and `b` stand to each other, looking no further than `reach` mm."""
    return contacts([a, b], reach, cache, np.array([[0, 1]]))[0, 1]


def contacts(
    bodies: Sequence[Body],
    reach: float,
    cache: PairCache | None = None,
    pairs: Pairs | None = None,
) -> dict[tuple[int, int], Contact]:
    """The contact of every pair of `pairs`, by their indices; of all near pairs by default.

    Pairs that blocks along the axes can decide are decided together in closed form, the
    others one by one on their solids.
    """
    store = PairCache() if cache is None else cache
    wanted = near_pairs(bodies, reach) if pairs is None else pairs
    found: dict[tuple[int, int], Contact] = {}
    unknown: list[tuple[int, int]] = []
    for i, j in wanted.tolist():
        known = store.contacts.get(_key(bodies[i], bodies[j], reach))
        if known is None:
            unknown.append((i, j))
        else:
            found[i, j] = known
    for (i, j), result in zip(unknown, _by_blocks(bodies, unknown, reach), strict=True):
        a, b = bodies[i], bodies[j]
        fresh = (
            _by_solids(store.built(a), store.built(b), reach, result)
            if isinstance(result, float)
            else result
        )
        found[i, j] = store.contacts[_key(a, b, reach)] = fresh
    store.trim()
    return {(i, j): found[i, j] for i, j in wanted.tolist()}


def _key(a: Body, b: Body, reach: float) -> tuple[bytes, bytes, float]:
    return (a.key, b.key, reach) if a.key <= b.key else (b.key, a.key, reach)


def _by_blocks(
    bodies: Sequence[Body], pairs: list[tuple[int, int]], reach: float
) -> list[Contact | float]:
    """Contacts of the pairs that blocks alone decide, all at once; a bound for the others.

    The covers are at most as far apart as the bodies, the cores at least: where the two
    gaps agree, and the covers don't clash, that is the answer. Where not, no more is known
    than the gap of the cores.
    """
    if not pairs:
        return []
    least, deepest = _block_gaps([(bodies[i].shape.cover, bodies[j].shape.cover) for i, j in pairs])
    most, _ = _block_gaps([(bodies[i].shape.core, bodies[j].shape.core) for i, j in pairs])
    result: list[Contact | float] = []
    for (i, j), low, high, depth in zip(
        pairs, least.tolist(), most.tolist(), deepest.tolist(), strict=True
    ):
        a, b = bodies[i], bodies[j]
        known: Contact | float = float(high)
        if depth > TOUCH + a.growth + b.growth:
            if a.is_block and b.is_block:
                shared = np.minimum(a.hi, b.hi) - np.maximum(a.lo, b.lo)
                known = Contact(0.0, depth, float(shared.prod()))
        elif low >= reach or high - low <= ROUNDING:
            known = _apart(low, reach)
        result.append(known)
    return result


def _block_gaps(pairs: list[tuple[Array, Array]]) -> tuple[Array, Array]:
    """For each pair of block sets, shapes (n, 2, 3): the least gap and the greatest depth."""
    sizes = np.array([len(p) * len(q) for p, q in pairs])
    gaps, depths = np.full(len(pairs), np.inf), np.full(len(pairs), -np.inf)
    if not sizes.any():
        return gaps, depths
    first = np.concatenate([np.repeat(p, len(q), axis=0) for p, q in pairs])
    second = np.concatenate([np.tile(q, (len(p), 1, 1)) for p, q in pairs])
    apart = np.maximum(first[:, 0] - second[:, 1], second[:, 0] - first[:, 1])
    some = sizes > 0
    starts = (np.cumsum(sizes) - sizes)[some]
    gaps[some] = np.minimum.reduceat(np.linalg.norm(apart.clip(min=0.0), axis=1), starts)
    depths[some] = np.maximum.reduceat((-apart).min(axis=1), starts)
    return gaps, depths


def _apart(gap: float, reach: float) -> Contact:
    if gap >= reach:
        return APART
    return Contact(gap if gap > ROUNDING else 0.0)


def _by_solids(a: Body, b: Body, reach: float, bound: float) -> Contact:
    """The contact from the two bodies' solids, whose gap is at most `bound`."""
    slack = TOUCH + a.growth + b.growth
    # A little beyond the bound, so that rounding can't hide the gap.
    gap = least_gap(a, b, min(reach, bound + 1e-3))
    common = common_solid(a, b, slack) if gap == 0.0 else None
    if common is None:
        return _apart(gap, reach)
    depth = depth_of(a.pieces, b.pieces)
    return Contact(0.0, depth, float(common.volume())) if depth > slack else Contact(0.0)


def common_solid(a: Body, b: Body, slack: float = 0.0) -> Solid | None:
    """What two bodies share, None if nothing; boxes overlapping by no more than `slack` don't."""
    p, q = a.shape.extents, b.shape.extents
    ahead, behind = p[:, None, 1] - q[None, :, 0], q[None, :, 1] - p[:, None, 0]
    meeting = np.minimum(ahead, behind).min(axis=2) > slack
    if not meeting.any():
        return None
    first = [a.shape.solids[i] for i in np.flatnonzero(meeting.any(axis=1))]
    second = [b.shape.solids[j] for j in np.flatnonzero(meeting.any(axis=0))]
    common = united(first) ^ united(second)
    return common if common.volume() > 0.0 else None


def least_gap(a: Body, b: Body, search: float) -> float:
    """The least distance of two bodies; `search` if it is no less than that."""
    p, q = a.shape.extents, b.shape.extents
    apart = np.maximum(p[:, None, 0] - q[None, :, 1], q[None, :, 0] - p[:, None, 1])
    gaps = np.linalg.norm(apart.clip(min=0.0), axis=2)
    for flat in np.argsort(gaps, axis=None, kind="stable"):
        i, j = divmod(int(flat), len(q))
        if gaps[i, j] >= search:
            break
        search = min(search, float(a.shape.solids[i].min_gap(b.shape.solids[j], search)))
    return search
