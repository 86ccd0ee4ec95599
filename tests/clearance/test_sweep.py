import math

import numpy as np
import pytest
from manifold3d import Manifold

from fitout.clearance.body import body_of, body_of_pieces
from fitout.clearance.contact import contact
from fitout.clearance.convex import hull_of
from fitout.clearance.shape import Blocks, united
from fitout.clearance.sweep import SWING_GROWTH, rough_swing, sweep, swing
from fitout.model.item import block
from fitout.model.outline import Outline, polygon, rectangle, rounded, slot
from fitout.model.panel import Pocket
from fitout.model.placement import across, along, flat

ROUNDED = 0.5
"""What 1e-6 mm on surfaces of half a square metre may come to, in mm³."""

L_SHAPE = polygon([(0, 0), (300, 0), (300, 60), (80, 60), (80, 200), (0, 200)])


def turned(solid: Manifold, point, axis, degrees: float) -> Manifold:
    x, y, z = np.asarray(axis) / np.linalg.norm(axis)
    k = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    a = math.radians(degrees)
    rotation = np.eye(3) + math.sin(a) * k + (1 - math.cos(a)) * k @ k
    shift = np.asarray(point) - rotation @ np.asarray(point)
    return solid.transform(np.column_stack([rotation, shift]))


def test_blocks_slide_as_blocks(samples):
    body = body_of(samples.panel(pockets=(Pocket(rectangle(300, 10, 0, 50), 5.0),)))
    swept = sweep(body, (-1.0, 0.0, 0.0), 450.0)
    assert isinstance(swept.shape, Blocks)
    assert (tuple(swept.lo), tuple(swept.hi)) == ((-450, 0, 0), (300, 200, 12))
    # A groove along the way stays free over the whole of it.
    assert swept.manifold.volume() == pytest.approx(750 * 200 * 12 - 750 * 10 * 5)


@pytest.mark.parametrize("seed", range(4))
def test_a_sweep_contains_every_pose(samples, skewed, seed):
    outline = Outline(rounded(L_SHAPE, 12.0), (slot(120, 30, 200, 30, 25.0),))
    pocket = Pocket(slot(40, 80, 40, 160, 10.0), 6.0)
    body = body_of(samples.panel(outline, skewed(seed), pockets=(pocket,)))
    direction = np.random.default_rng(seed).normal(size=3)
    direction /= np.linalg.norm(direction)
    swept = sweep(body, tuple(direction), 120.0).manifold
    for travel in np.linspace(0.0, 120.0, 13):
        pose = body.manifold.translate(tuple(direction * travel))
        assert (pose - swept).volume() < ROUNDED


def test_a_sweep_is_exact_without_inward_arcs(samples):
    body = body_of(samples.panel(L_SHAPE, flat(0, 0, 0)))
    skew = (0.6, 0.8, 0.0)
    travel = 100.0
    dense = united(
        [body.manifold.translate((0.6 * s, 0.8 * s, 0.0)) for s in np.linspace(0, travel, 101)]
    )
    swept = sweep(body, skew, travel).manifold
    assert (dense - swept).volume() < ROUNDED
    assert swept.volume() == pytest.approx(dense.volume(), rel=2e-3)


def test_a_slot_is_swept_a_little_too_tight_at_most(samples):
    front = samples.panel(
        Outline(rectangle(400, 200), (slot(150, 150, 250, 150, 30.0),)), across(0, 0, 0)
    )
    body = body_of(front)
    swept = sweep(body, (0.8, 0.6, 0.0), 100.0)
    dense = united(
        [body.manifold.translate((0.8 * s, 0.6 * s, 0.0)) for s in np.linspace(0, 100.0, 101)]
    )
    assert (dense - swept.manifold).volume() < ROUNDED
    more = swept.manifold.volume() - dense.volume()
    assert more < 0.1 * front.outline.inner[0].length * 92.0 + 2e-3 * dense.volume()
    assert len(swept.pieces) < 40


@pytest.mark.parametrize("way", [(0.0, 0.0, 1.0), (0.0, 0.0, -1.0)])
def test_square_to_its_faces_a_panel_sweeps_a_thicker_panel(samples, way):
    outline = Outline(rounded(rectangle(400, 200), 20.0), (slot(150, 150, 250, 150, 30.0),))
    groove = Pocket(rectangle(400.0, 10.0, 0.0, 40.0), 6.0)
    body = body_of(samples.panel(outline, flat(5.0, 6.0, 7.0), pockets=(groove,)))
    swept = sweep(body, way, 100.0)
    dense = united([body.manifold.translate((0.0, 0.0, way[2] * s)) for s in range(0, 101, 5)])
    assert swept.manifold.volume() == pytest.approx(dense.volume())
    assert (dense - swept.manifold).volume() < ROUNDED
    assert (swept.lo[2], swept.hi[2]) == ((7.0, 119.0) if way[2] > 0 else (-93.0, 19.0))


def test_a_pocket_right_through_leaves_its_way_free(samples):
    window = Pocket(slot(150, 100, 250, 100, 30.0), 12.0)
    swept = sweep(body_of(samples.panel(pockets=(window,))), (0.0, 0.0, 1.0), 50.0)
    assert swept.manifold.volume() == pytest.approx((300 * 200 - window.loop.area) * 62.0, rel=1e-4)


def test_a_runner_in_the_groove_of_a_sliding_side_stays_free(samples):
    groove = Pocket(rectangle(420.0, 20.4, -10.0, 49.8), 8.0)
    side = body_of(
        samples.panel(rounded(rectangle(400.0, 200.0), 15.0), along(0, 12, 0), pockets=(groove,))
    )
    runner = body_of_pieces("runner", [block(500.0, 20.0, 20.0)], flat(-300.0, -12.4, 50.0))
    found = contact(sweep(side, (-1.0, 0.0, 0.0), 300.0), runner, 20.0)
    assert not found.clashes
    assert found.gap == pytest.approx(0.2, abs=1e-6)


@pytest.mark.parametrize(
    ("point", "axis", "angle"),
    [
        ((0.0, 0.0, 0.0), (0, 1, 0), -95.0),  # at the panel's lower edge
        ((-30.0, 50.0, 40.0), (0, 1, 0), 110.0),  # beside it
        ((25.0, 0.0, 6.0), (0, -1, 0), 95.0),  # the panel reaches past its hinge
        ((0.0, 0.0, 12.0), (0.8, 0.6, 0), 60.0),  # at a slant across the panel
    ],
)
def test_a_swing_contains_every_pose_and_little_more(samples, point, axis, angle):
    body = body_of(samples.panel(rectangle(500.0, 300.0)))
    swung = swing(body, point, axis, angle)
    union = united([turned(body.manifold, point, axis, angle * k / 120) for k in range(121)])
    assert (union - swung.manifold).volume() < ROUNDED
    # Between sampled poses the union lacks a little; beyond that the hulls stand out by 0.08.
    step = 620.0 * math.radians(abs(angle)) / 120
    sagitta = step * step / (8 * 560.0)
    excess = swung.manifold.volume() - union.volume()
    assert excess < swung.manifold.surface_area() * (SWING_GROWTH + sagitta)
    assert swung.growth == SWING_GROWTH


def test_a_swing_about_an_axis_askew_to_the_panel_still_contains_every_pose(samples):
    body = body_of(samples.panel(rectangle(500.0, 300.0)))
    point, axis = (100.0, 100.0, 100.0), (0.3, 1.0, 0.4)
    swung = swing(body, point, axis, 110.0).manifold
    for angle in np.linspace(0.0, 110.0, 23):
        assert (turned(body.manifold, point, axis, float(angle)) - swung).volume() < ROUNDED


def test_a_rough_swing_contains_every_pose_too(samples):
    body = body_of(samples.panel(rectangle(500.0, 300.0)))
    centre, axis = np.array([100.0, 100.0, 100.0]), np.array([0.0, 0.6, 0.8])
    pieces = rough_swing(body.pieces, centre, (axis, -52.0))
    swung = united([hull_of(piece) for piece in pieces])
    for angle in np.linspace(0.0, -52.0, 27):
        turn = (tuple(centre.tolist()), tuple(axis.tolist()), float(angle))
        assert (turned(body.manifold, *turn) - swung).volume() < ROUNDED


def test_a_swing_leaves_cut_outs_free_unless_they_are_filled(samples):
    """A pin stands in a finger hole that passes around it; filled, the lid would hit it."""
    hole = slot(200, 100, 300, 100, 60.0)
    lid = body_of(samples.panel(Outline(rectangle(500, 200), (hole,))))
    pin = body_of_pieces("pin", [block(4.0, 4.0, 30.0)], flat(250.0, 98.0, -15.0))
    way = ((0.0, 0.0, 0.0), (0.0, 1.0, 0.0), -4.0)
    assert not contact(swing(lid, *way), pin, 5.0).clashes
    filled = swing(lid, *way, filled=True)
    assert contact(filled, pin, 5.0).clashes
    assert (swing(lid, *way).manifold - filled.manifold).volume() < ROUNDED


def test_a_swing_reaches_as_far_as_its_radius(samples):
    body = body_of(samples.panel(rectangle(500.0, 300.0)))
    swung = swing(body, (0.0, 0.0, 0.0), (0.0, 1.0, 0.0), -90.0)
    radius = math.hypot(500.0, 12.0)
    assert radius <= swung.hi[2] <= radius + SWING_GROWTH + 1e-6
    assert swung.lo[0] == pytest.approx(-12.0, abs=SWING_GROWTH)


def test_sweeps_have_keys_by_content(samples):
    body = body_of(samples.panel(L_SHAPE))
    again = sweep(body_of(samples.panel(L_SHAPE, name="other")), (1.0, 0.0, 0.0), 50.0)
    assert sweep(body, (1.0, 0.0, 0.0), 50.0).key == again.key
    assert sweep(body, (1.0, 0.0, 0.0), 51.0).key != again.key
    assert sweep(body, (1.0, 0.0, 0.0), 50.0).id == body.id
