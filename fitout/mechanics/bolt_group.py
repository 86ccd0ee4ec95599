"""Forces on the bolts of a rigid body that stands on a floor, by statics.

     force >----+                        The body turns about its compression edge: bolts on
                |  body                  the lifted side pull, the floor pushes at the corners
          ______|______                  of the footprint and never pulls. Across, the bolts
          |     :     |                  share alike, and turning about their middle by their
     =====T=====T=====C===== floor       distance from it.

A body on more than three bolts is held in more ways than statics alone decides; what decides is
how far each bolt is stretched when a rigid body tilts. Bolts are alike, the floor is `FLOOR`
times as stiff at a corner as a bolt. Friction is left out.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

Point = tuple[float, float]
Triple = tuple[float, float, float]

FLOOR = 1000.0
"""Stiffness of a corner on the floor over that of a bolt: near enough to a rigid edge."""

MOST_STEPS = 100
NEGLIGIBLE = 1e-9
SINGULAR = 1e-10
LOOSE = 1e-3


@dataclass(frozen=True, slots=True)
class Load:
    """A force (N) that acts on the body at a point (mm): x and y along the floor, z up."""

    force: Triple
    at: Triple


@dataclass(frozen=True, slots=True)
class GroupForces:
    """Tension and shear of each bolt, N, and the push at each corner of the footprint, N."""

    tension: tuple[float, ...]
    shear: tuple[Point, ...]
    contact: tuple[float, ...]

    def shear_n(self, bolt: int) -> float:
        """A bolt's shear, N."""
        return math.hypot(*self.shear[bolt])


def bolt_forces(bolts: Sequence[Point], corners: Sequence[Point], load: Load) -> GroupForces | None:
    """What bolts and floor bear, or None where they can't hold the body that way.

    `bolts` and `corners` are (x, y), mm, the floor at z = 0; `corners` of the footprint, any
    order. Equilibrium is exact to rounding whatever the stiffness. None without bolts, where one
    bolt alone would have to keep the body from turning, or where the body tips over all of them.

    Source: statics of a rigid body; bolt tension in proportion to its distance from the
    compression edge and shear by the polar second moment of the bolts are elastic analysis, as
    in EN 1993-1-8 3.12 (from memory).
    """
    if not bolts:
        return None
    shear = _shear(bolts, load)
    upright = _upright(bolts, corners, load)
    if shear is None or upright is None:
        return None
    tension, contact = upright
    return GroupForces(tension, shear, contact)


def residual(
    bolts: Sequence[Point], corners: Sequence[Point], load: Load, found: GroupForces
) -> float:
    """How far forces and moments are from balance, over the load and its reach: 0 in balance."""
    force, moment = list(load.force), list(_moment(load.at, load.force))
    given = [((x, y, 0.0), (-sx, -sy, -t)) for (x, y), (sx, sy), t
             in zip(bolts, found.shear, found.tension, strict=True)]  # fmt: skip
    given += [((x, y, 0.0), (0.0, 0.0, c)) for (x, y), c
              in zip(corners, found.contact, strict=True)]  # fmt: skip
    for at, pushes in given:
        turns = _moment(at, pushes)
        for k in range(3):
            force[k] += pushes[k]
            moment[k] += turns[k]
    size = math.sqrt(sum(f * f for f in load.force)) or 1.0
    reach = max([math.dist(load.at, (x, y, 0.0)) for x, y in (*bolts, *corners)] + [1.0])
    return max(*(abs(f) / size for f in force), *(abs(m) / (size * reach) for m in moment))


def _moment(at: Triple, force: Triple) -> Triple:
    (x, y, z), (a, b, c) = at, force
    return y * c - z * b, z * a - x * c, x * b - y * a


def _shear(bolts: Sequence[Point], load: Load) -> tuple[Point, ...] | None:
    """The body's force along the floor on each bolt; what it does to the bolts, not they to it."""
    count = len(bolts)
    xm, ym = sum(x for x, _ in bolts) / count, sum(y for _, y in bolts) / count
    fx, fy, _ = load.force
    turn = (load.at[0] - xm) * fy - (load.at[1] - ym) * fx
    polar = sum((x - xm) ** 2 + (y - ym) ** 2 for x, y in bolts)
    size = math.hypot(fx, fy)
    if polar < NEGLIGIBLE:
        if abs(turn) > NEGLIGIBLE * size * (1.0 + math.hypot(load.at[0], load.at[1])):
            return None
        return tuple((fx / count, fy / count) for _ in bolts)
    k = turn / polar
    return tuple((fx / count - k * (y - ym), fy / count + k * (x - xm)) for x, y in bolts)


def _upright(
    bolts: Sequence[Point], corners: Sequence[Point], load: Load
) -> tuple[tuple[float, ...], tuple[float, ...]] | None:
    """Tension and contact: the tilt at which springs that only pull, or only push, balance.

    The energy of the tilt is convex, so that taking up and letting go springs ends at its least
    value. Lengths are counted from the bolts' middle and in their reach, forces in the load's.
    """
    points = [*bolts, *corners]
    xm, ym = (sum(p[k] for p in points) / len(points) for k in (0, 1))
    reach = max(math.dist(p, (xm, ym)) for p in points) or 1.0
    fx, fy, fz = load.force
    x, y, z = load.at[0] - xm, load.at[1] - ym, load.at[2]
    size = math.sqrt(fx * fx + fy * fy + fz * fz)
    if not size:
        return (0.0,) * len(bolts), (0.0,) * len(corners)
    # Work of the load over a rise of 1 at the middle, and over a rise of 1 along x and y.
    asked = (fz / size, (x * fz - z * fx) / (size * reach), (y * fz - z * fy) / (size * reach))
    springs = [(1.0, *_scaled(p, xm, ym, reach), 1.0) for p in bolts]
    springs += [(1.0, *_scaled(p, xm, ym, reach), FLOOR) for p in corners]
    tilt = _settled(springs, len(bolts), asked)
    if tilt is None:
        return None
    rises = [_dot(spring, tilt) for spring in springs]
    tension = tuple(size * max(0.0, r) for r in rises[: len(bolts)])
    contact = tuple(size * FLOOR * max(0.0, -r) for r in rises[len(bolts) :])
    return tension, contact


def _scaled(p: Point, xm: float, ym: float, reach: float) -> Point:
    return (p[0] - xm) / reach, (p[1] - ym) / reach


Spring = tuple[float, float, float, float]


def _settled(springs: Sequence[Spring], bolts: int, asked: Triple) -> Triple | None:
    """The tilt (rise, rise along x, rise along y) at which the taut springs balance the load.

    Newton's steps, shortened where a whole one would raise the energy; None where the energy
    falls for ever, as it does for a body that tips.
    """
    tilt = (0.0, 0.0, 0.0)
    taut = [True] * len(springs)
    for _ in range(MOST_STEPS):
        held = _Held.by(s for s, is_taut in zip(springs, taut, strict=True) if is_taut)
        full = held.solve(asked)
        if full is None:
            full = _loosely(held, springs, asked, tilt)
        tried = full
        now = _taut(springs, bolts, tried)
        if now == taut and held.decides:
            return held.refined(tried, asked)
        least, step = _energy(springs, bolts, asked, tilt), 1.0
        while not _energy(springs, bolts, asked, tried) < least:
            step /= 2.0
            if step < 1e-12:
                # A load right over one corner is borne though the body could turn about it.
                return tilt if held.balances(tilt, asked) else None
            a, b = 1.0 - step, step
            tried = (
                a * tilt[0] + b * full[0],
                a * tilt[1] + b * full[1],
                a * tilt[2] + b * full[2],
            )
            now = _taut(springs, bolts, tried)
        tilt, taut = tried, now
    return None


def _loosely(held: _Held, springs: Sequence[Spring], asked: Triple, tilt: Triple) -> Triple:
    """A step where the taut springs leave the body free to turn: as if all held a little."""
    loose = _Held.by((*s[:3], LOOSE * s[3]) for s in springs).plus(held)
    pull = held.times(tilt)
    step = loose.solve((asked[0] - pull[0], asked[1] - pull[1], asked[2] - pull[2]))
    assert step is not None
    return tilt[0] + step[0], tilt[1] + step[1], tilt[2] + step[2]


def _taut(springs: Sequence[Spring], bolts: int, tilt: Triple) -> list[bool]:
    """Which bolts are stretched and which corners pressed."""
    rises = [_dot(s, tilt) for s in springs]
    return [r > 0.0 for r in rises[:bolts]] + [r < 0.0 for r in rises[bolts:]]


def _energy(springs: Sequence[Spring], bolts: int, asked: Triple, tilt: Triple) -> float:
    total = -(asked[0] * tilt[0] + asked[1] * tilt[1] + asked[2] * tilt[2])
    for i, spring in enumerate(springs):
        rise = _dot(spring, tilt)
        if rise > 0.0 if i < bolts else rise < 0.0:
            total += 0.5 * spring[3] * rise * rise
    return total


def _dot(spring: Spring, tilt: Triple) -> float:
    return spring[0] * tilt[0] + spring[1] * tilt[1] + spring[2] * tilt[2]


@dataclass(frozen=True, slots=True)
class _Held:
    """Σ k p pᵀ over springs p: what a tilt asks of them, and which tilt a load asks for."""

    aa: float
    ab: float
    ac: float
    bb: float
    bc: float
    cc: float

    @classmethod
    def by(cls, springs: Iterable[Spring]) -> _Held:
        aa = ab = ac = bb = bc = cc = 0.0
        for _, x, y, k in springs:
            aa += k
            ab += k * x
            ac += k * y
            bb += k * x * x
            bc += k * x * y
            cc += k * y * y
        return cls(aa, ab, ac, bb, bc, cc)

    def plus(self, other: _Held) -> _Held:
        return _Held(
            self.aa + other.aa,
            self.ab + other.ab,
            self.ac + other.ac,
            self.bb + other.bb,
            self.bc + other.bc,
            self.cc + other.cc,
        )

    @property
    def determinant(self) -> float:
        return (
            self.aa * (self.bb * self.cc - self.bc * self.bc)
            + self.ab * (self.bc * self.ac - self.ab * self.cc)
            + self.ac * (self.ab * self.bc - self.bb * self.ac)
        )

    @property
    def decides(self) -> bool:
        """Whether the springs hold the body in all three ways."""
        return self.determinant > SINGULAR * self.aa * self.bb * self.cc > 0.0

    def times(self, t: Triple) -> Triple:
        return (
            self.aa * t[0] + self.ab * t[1] + self.ac * t[2],
            self.ab * t[0] + self.bb * t[1] + self.bc * t[2],
            self.ac * t[0] + self.bc * t[1] + self.cc * t[2],
        )

    def balances(self, tilt: Triple, asked: Triple) -> bool:
        """Whether the springs so tilted bear what is asked, but for rounding."""
        return all(abs(a - b) < 1e-12 for a, b in zip(self.times(tilt), asked, strict=True))

    def solve(self, right: Triple) -> Triple | None:
        """The tilt by Cramer's rule; None where the springs don't decide it."""
        if not self.decides:
            return None
        a, b, c, d, e, f = self.aa, self.ab, self.ac, self.bb, self.bc, self.cc
        p, q, r = right
        whole = self.determinant
        return (
            (p * (d * f - e * e) + q * (c * e - b * f) + r * (b * e - c * d)) / whole,
            (p * (c * e - b * f) + q * (a * f - c * c) + r * (b * c - a * e)) / whole,
            (p * (b * e - c * d) + q * (b * c - a * e) + r * (a * d - b * b)) / whole,
        )

    def refined(self, tilt: Triple, asked: Triple) -> Triple:
        """The tilt with what rounding left taken off, twice."""
        for _ in range(2):
            now = self.times(tilt)
            more = self.solve((asked[0] - now[0], asked[1] - now[1], asked[2] - now[2]))
            assert more is not None
            tilt = (tilt[0] + more[0], tilt[1] + more[1], tilt[2] + more[2])
        return tilt
