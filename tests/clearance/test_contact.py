import math
from dataclasses import replace

import numpy as np
import pytest

from fitout.clearance.body import body_of, body_of_obstacle
from fitout.clearance.contact import (
    PairCache,
    common_solid,
    contact,
    contacts,
    least_gap,
    near_pairs,
    near_pairs_between,
)
from fitout.clearance.shape import Blocks
from fitout.model.outline import circle, rectangle, rounded
from fitout.model.panel import Pocket
from fitout.model.placement import along, flat


@pytest.mark.parametrize(
    ("at", "gap", "depth", "volume"),
    [
        ((104.0, 0.0, 0.0), 4.0, 0.0, 0.0),
        ((103.0, 104.0, 0.0), 5.0, 0.0, 0.0),
        ((102.0, 103.0, 106.0), 7.0, 0.0, 0.0),
        ((100.0, 0.0, 0.0), 0.0, 0.0, 0.0),
        ((100.0, 100.0, 100.0), 0.0, 0.0, 0.0),
        ((99.99995, 0.0, 0.0), 0.0, 0.0, 0.0),
        ((99.0, 0.0, 0.0), 0.0, 1.0, 1e4),
        ((90.0, 80.0, 70.0), 0.0, 10.0, 10 * 20 * 30),
        ((120.0, 0.0, 0.0), math.inf, 0.0, 0.0),
    ],
)
def test_blocks_in_closed_form(samples, at, gap, depth, volume):
    found = contact(body_of(samples.cube(0, 0, 0)), body_of(samples.cube(*at)), reach=20.0)
    assert (found.gap, found.depth, found.volume) == pytest.approx((gap, depth, volume))
    assert found.clashes is (depth > 0.0)


@pytest.mark.parametrize("lift", [0.0, 0.004, 0.1, 3.0, -0.5])
@pytest.mark.parametrize("seed", range(3))
def test_skew_panels_face_to_face(samples, skewed, seed, lift):
    placement = skewed(seed)
    w = placement.w
    above = replace(placement, origin=placement.at(20.0, 30.0, 12.0 + lift))
    assert w == pytest.approx(np.cross(placement.u, placement.v))
    found = contact(
        body_of(samples.panel(placement=placement)),
        body_of(samples.panel(rounded(rectangle(300.0, 200.0), 15.0), above)),
        reach=20.0,
    )
    if lift < 0.0:
        assert found.depth == pytest.approx(-lift, abs=1e-5)
        assert found.volume == pytest.approx(0.5 * 280 * 170, rel=0.01)
    else:
        assert found.gap == pytest.approx(lift, abs=1e-5)
        assert not found.clashes


def test_a_round_edge_touching_a_face_does_not_clash(samples):
    # An odd number of chords puts a corner of the tangent polygon where the circle touches.
    for diameter in np.linspace(90.0, 110.0, 21):
        disc = body_of(samples.panel(circle(0.0, 0.0, diameter), along(0.0, 0.0, diameter / 2.0)))
        floor = body_of(samples.panel(rectangle(300.0, 300.0, -150, -150), flat(0.0, 0.0, -12.0)))
        found = contact(disc, floor, reach=20.0)
        assert found.gap == pytest.approx(0.0, abs=0.005)
        assert not found.clashes


@pytest.mark.parametrize(("play", "clashes"), [(0.1, False), (0.0, False), (-0.1, True)])
def test_a_tongue_in_a_groove_clashes_only_without_room(samples, play, clashes):
    groove = Pocket(rectangle(300.0, 12.0 + 2.0 * play, 0.0, 50.0 - play), 5.0)
    side = samples.panel(placement=along(0.0, 12.0, 0.0), pockets=(groove,))
    shelf = samples.panel(placement=flat(0.0, -195.0 - play, 50.0))
    found = contact(body_of(side), body_of(shelf), reach=20.0)
    assert found.clashes is clashes
    # The groove's floor lies at y = 5, the shelf's edge at y = 5 - play.
    assert found.gap == pytest.approx(max(play, 0.0))


@pytest.mark.parametrize("seed", range(30))
def test_blocks_and_solids_agree(samples, seed):
    rng = np.random.default_rng(seed)
    cells = [Pocket(rectangle(*rng.uniform(20, 150, 4)), 5.0) for _ in range(2)]
    one = samples.panel(pockets=tuple(cells), placement=flat(0.0, 0.0, 0.0))
    shift = rng.uniform((-100, -50, -14), (200, 150, 30)).tolist()
    two = samples.panel(placement=along(*shift), pockets=(Pocket(rectangle(300, 30, 0, 9), 4.0),))
    a, b = body_of(one), body_of(two)
    found = contact(a, b, reach=50.0)
    assert isinstance(a.shape, Blocks)
    assert isinstance(b.shape, Blocks)
    common = common_solid(a, b)
    if common is None:
        assert found.gap == pytest.approx(least_gap(a, b, 50.0), abs=1e-6)
    else:
        assert found.volume == pytest.approx(common.volume())
        assert found.depth > 0.0


def test_a_part_wholly_inside_an_obstacle_clashes(samples):
    wall = samples.obstacle((-500, -500, -500), (500, 500, 500))
    wall.vertices[:, 0] += 0.2 * wall.vertices[:, 2]
    found = contact(body_of_obstacle(wall), body_of(samples.cube(0, 0, 0)), reach=20.0)
    assert found.volume == pytest.approx(1e6)
    # Out through the nearest leaning side: 500 + 0.2 * 100 - 0 across, at its lean.
    assert found.depth == pytest.approx(500.0)


def test_near_pairs_are_those_of_brute_force(samples):
    rng = np.random.default_rng(1)
    bodies = [body_of(samples.cube(*rng.uniform(0, 500, 3))) for _ in range(40)]
    expected = []
    for i, a in enumerate(bodies):
        for j in range(i + 1, len(bodies)):
            apart = np.maximum(a.lo - bodies[j].hi, bodies[j].lo - a.hi).clip(min=0.0)
            if math.hypot(*apart) <= 20.0:
                expected.append([i, j])
    assert 10 < len(expected) < 700
    assert near_pairs(bodies, 20.0).tolist() == expected
    between = near_pairs_between(bodies[:15], bodies[15:], 20.0).tolist()
    assert between == [[i, j - 15] for i, j in expected if i < 15 <= j]


def test_nothing_is_near_nothing(samples):
    lone = [body_of(samples.cube(0, 0, 0))]
    assert contacts([], 20.0) == {}
    assert contacts(lone, 20.0) == {}
    assert near_pairs_between(lone, [], 20.0).shape == (0, 2)


def scene(samples, lift: float):
    """A stack of rounded panels, the third raised by `lift`."""
    outline = rounded(rectangle(300.0, 200.0), 15.0)
    heights = [0.0, 25.0, 50.0 + lift, 75.0, 100.0]
    placements = [flat(1.7 * k, 0.9 * k, z) for k, z in enumerate(heights)]
    # Turned by a hair about z, so that only their solids can decide.
    turned = [replace(p, u=(math.cos(0.01), math.sin(0.01), 0.0),
                      v=(-math.sin(0.01), math.cos(0.01), 0.0)) for p in placements]  # fmt: skip
    return [samples.panel(outline, p, name=f"p{k}") for k, p in enumerate(turned)]


def test_a_cache_keeps_what_has_not_changed(samples):
    cache = PairCache()
    bodies = [cache.body(part) for part in scene(samples, 0.0)]
    before = contacts(bodies, 20.0, cache)
    changed = [cache.body(part) for part in scene(samples, 3.0)]
    after = contacts(changed, 20.0, cache)
    assert sorted(before) == [(0, 1), (1, 2), (2, 3), (3, 4)]
    assert {pair for pair in before if before[pair] is after[pair]} == {(0, 1), (3, 4)}
    assert (before[1, 2].gap, after[1, 2].gap) == pytest.approx((13.0, 16.0))
    assert (before[2, 3].gap, after[2, 3].gap) == pytest.approx((13.0, 10.0))
    assert [a.shape is b.shape for a, b in zip(bodies, changed, strict=True)] == [
        True, True, False, True, True,
    ]  # fmt: skip
    assert contacts(changed, 20.0) == after


def test_a_cache_tells_reaches_apart_and_bodies_by_content(samples):
    cache = PairCache()
    a, b = samples.cube(0, 0, 0), samples.cube(115, 0, 0)
    assert contact(cache.body(a), cache.body(b), 10.0, cache).gap == math.inf
    assert contact(cache.body(a), cache.body(b), 20.0, cache).gap == 15.0
    renamed = cache.body(replace(b, name="renamed"))
    assert renamed.id == "m/renamed"
    assert contact(renamed, cache.body(a), 20.0, cache) is contact(
        cache.body(a), cache.body(b), 20.0, cache
    )


def test_a_cache_drops_the_oldest(samples):
    cache = PairCache(limit=3)
    for k in range(6):
        contact(
            cache.body(samples.cube(0, 0, 0)), cache.body(samples.cube(110 + k, 0, 0)), 20.0, cache
        )
    assert len(cache.contacts) == 3
    assert len(cache.bodies) == 3
    assert sorted(c.gap for c in cache.contacts.values()) == [13.0, 14.0, 15.0]
