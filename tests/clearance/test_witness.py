import math
from dataclasses import replace

import numpy as np
import pytest

from fitout.clearance.body import body_of, body_of_obstacle
from fitout.clearance.contact import contact
from fitout.clearance.sweep import swing
from fitout.clearance.witness import closest
from fitout.model.outline import Outline, polygon, rectangle, rounded, slot
from fitout.model.panel import Pocket
from fitout.model.placement import along, flat


def on_surface(body, point) -> bool:
    """Whether a ball of 1e-4 mm about the point is partly in the body and partly out of it."""
    probe = body.manifold ^ type(body.manifold).sphere(1e-3, 16).translate(point)
    return 0.0 < probe.volume() < 0.99 * type(body.manifold).sphere(1e-3, 16).volume()


@pytest.mark.parametrize("seed", range(12))
def test_the_witness_has_the_gap_and_lies_on_both_bodies(samples, skewed, seed):
    outlines = (
        Outline(rounded(rectangle(300.0, 200.0), 20.0), (slot(80, 150, 160, 150, 30.0),)),
        Outline(polygon([(0, 0), (300, 0), (300, 80), (120, 80), (120, 200), (0, 200)])),
    )
    a = body_of(samples.panel(outlines[seed % 2], skewed(seed)))
    b = body_of(samples.item(placement=skewed(seed + 50)))
    found, gap = closest(a, b), contact(a, b, 1000.0).gap
    assert found.gap == pytest.approx(gap, abs=1e-6)
    if gap > 0.0:
        assert math.dist(found.point_a, found.point_b) == pytest.approx(gap, abs=1e-6)
        assert on_surface(a, found.point_a)
        assert on_surface(b, found.point_b)


@pytest.mark.parametrize("seed", [0, 1, 2])
def test_moving_along_the_direction_widens_the_gap_by_as_much(samples, skewed, seed):
    a, item = (
        body_of(samples.panel(placement=skewed(seed))),
        samples.item(placement=skewed(seed + 7)),
    )
    found = closest(a, body_of(item))
    assert found.direction is not None
    assert np.linalg.norm(found.direction) == pytest.approx(1.0)
    moved = item.placement.moved(*(0.001 * d for d in found.direction))
    wider = closest(a, body_of(samples.item(placement=moved)))
    assert wider.gap - found.gap == pytest.approx(0.001, rel=1e-2)


def test_corner_to_corner(samples):
    found = closest(body_of(samples.cube(0, 0, 0)), body_of(samples.cube(102, 103, 106)))
    assert found.gap == pytest.approx(7.0)
    assert found.point_a == pytest.approx((100, 100, 100))
    assert found.point_b == pytest.approx((102, 103, 106))
    assert found.direction == pytest.approx((2 / 7, 3 / 7, 6 / 7))


def test_touching_bodies_share_a_point(samples):
    found = closest(body_of(samples.cube(0, 0, 0)), body_of(samples.cube(100, 20, 30)))
    assert (found.gap, found.direction) == (0.0, None)
    assert found.point_a == pytest.approx(found.point_b)
    assert found.point_a[0] == 100.0


def test_overlapping_bodies_share_a_corner_of_what_they_share(samples):
    found = closest(body_of(samples.cube(0, 0, 0)), body_of(samples.cube(90, 80, 70)))
    assert (found.gap, found.direction) == (0.0, None)
    assert found.point_a == found.point_b
    assert all(abs(x - lo) < 1e-9 or abs(x - 100.0) < 1e-9
               for x, lo in zip(found.point_a, (90, 80, 70), strict=True))  # fmt: skip


@pytest.mark.parametrize("seed", range(3))
def test_large_faces_with_many_features(samples, skewed, seed):
    outline = rounded(rectangle(500.0, 400.0), 15.0)
    lower = skewed(seed)
    upper = replace(lower, origin=lower.at(0.0, 0.0, 15.25))
    a, b = (body_of(samples.panel(outline, p)) for p in (lower, upper))
    found = closest(a, b)
    assert found.gap == pytest.approx(3.25, abs=1e-5)
    assert found.direction == pytest.approx(lower.w, abs=1e-5)


def test_facing_blocks_are_nearest_in_the_middle_of_what_they_share(samples):
    # Rounded corners and a groove elsewhere change nothing.
    groove = Pocket(rectangle(300.0, 10.0, 0.0, 20.0), 5.0)
    lower = samples.panel(rounded(rectangle(300.0, 200.0), 15.0), flat(0, 0, 0), pockets=(groove,))
    found = closest(body_of(lower), body_of(samples.cube(250.0, 150.0, 14.0)))
    assert found.gap == pytest.approx(2.0)
    assert found.point_a[2] == 12.0
    assert found.point_b[2] == 14.0
    assert found.point_a[:2] == found.point_b[:2]
    assert 250.0 < found.point_a[0] < 300.0
    assert 150.0 < found.point_a[1] < 200.0
    plain = closest(body_of(samples.panel()), body_of(samples.cube(250.0, 150.0, 14.0)))
    assert plain.point_a == (275.0, 175.0, 12.0)


@pytest.mark.parametrize("seed", range(20))
def test_witnesses_of_upright_panels_lie_on_them_and_agree_with_the_contact(samples, seed):
    rng = np.random.default_rng(seed)
    outlines = (
        rectangle(300.0, 200.0),
        rounded(rectangle(300.0, 200.0), 20.0),
        Outline(rectangle(300.0, 200.0), (slot(80, 100, 160, 100, 30.0),)),
    )
    groove = Pocket(rectangle(300.0, 13.0, 0.0, 50.0), 5.0)
    a = body_of(samples.panel(outlines[seed % 3], pockets=(groove,)))
    shift = rng.uniform((-250, -30, -200), (250, 200, 30)).tolist()
    b = body_of(samples.panel(outlines[seed // 3 % 3], along(*shift)))
    found, seen = closest(a, b), contact(a, b, 1000.0)
    assert found.gap == pytest.approx(seen.gap, abs=1e-6)
    if not seen.clashes:
        assert math.dist(found.point_a, found.point_b) == pytest.approx(seen.gap, abs=1e-5)
        assert on_surface(a, found.point_a)
        assert on_surface(b, found.point_b)


def test_bodies_of_many_hulls(samples):
    lid = swing(body_of(samples.panel()), (0.0, 0.0, 0.0), (0.0, 1.0, 0.0), -90.0)
    wall = body_of_obstacle(samples.obstacle((-40, 0, 0), (-20, 200, 300)))
    found = closest(lid, wall)
    assert found.gap == pytest.approx(8.0, abs=0.08)
    assert found.gap == pytest.approx(contact(lid, wall, 50.0).gap, abs=1e-6)
