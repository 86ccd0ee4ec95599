"""Convex pieces of a measured wall make up the wall and no more."""

import numpy as np
import pytest
from manifold3d import Manifold, OpType

from fitout.clearance.body import body_of_obstacle, body_of_pieces
from fitout.clearance.contact import contact
from fitout.clearance.convex import hull_of
from fitout.model.bay import Obstacle
from fitout.model.item import block
from fitout.model.placement import Placement
from fitout.survey.meshes import slab


@pytest.fixture
def wall() -> Obstacle:
    """A wall with creases, whose pieces get triangles as thin as rounding when it is cut."""
    stations, heights = (0.0, 891.2, 1500.0), (0.0, 220.5, 267.6, 620.0, 801.0)
    rear = [541.2, 531.6, 531.6 + 17.4 * 47.1 / 399.5, 549.0, 549.0]
    front = [615.9, 615.9 - 64.1 * 220.5 / 267.6, 551.8, 570.7, 570.7]
    offsets = -np.array([rear, front, front])
    return Obstacle("right wall", "surface", *slab(stations, heights, offsets, -865.9, (0, 2, 1)))


def test_no_piece_stands_out_of_the_wall(wall: Obstacle) -> None:
    body = body_of_obstacle(wall)
    pieces = [hull_of(piece) for piece in body.pieces]
    whole = float(body.manifold.volume())
    assert sum(float(p.volume()) for p in pieces) == pytest.approx(whole, rel=1e-9)
    together = Manifold.batch_boolean(pieces, OpType.Add)
    assert float((together - body.manifold).volume()) < 1.0


def test_a_block_that_touches_a_creased_wall_does_not_clash(wall: Obstacle) -> None:
    """At 123 forward and 227 up, the block's nearest corner, the wall is 534.388 from y = 0."""
    touching = block(10.0, 500.0, 10.0, (123.0, -534.3880607813184, 217.0))
    found = contact(body_of_pieces("block", [touching], Placement()), body_of_obstacle(wall), 50.0)
    assert found.depth < 1e-4
    assert found.gap < 1e-4


def test_slivers_come_to_an_end() -> None:
    """Cut after cut once took off slivers of no volume from this wall, without end."""
    stations = (0.009711, 0.017353, 759.456603, 1500.044573, 1907.99659)
    heights = (-0.059384, 229.940616, 519.940616, 899.940616, 1043.576421)
    rear = (-736.446627, -747.715128, -741.52997, -652.711402, -652.711402)
    middle = (-738.10222, -751.800847, -743.678911, -658.201432, -658.201432)
    front = (-736.337428, -749.400321, -741.924746, -655.44275, -655.44275)
    offsets = np.array([rear, rear, middle, front, front])
    mesh = slab(stations, heights, offsets, -1001.800847, (0, 2, 1))
    body = body_of_obstacle(Obstacle("right wall", "surface", *mesh))
    whole = sum(float(hull_of(piece).volume()) for piece in body.pieces)
    assert whole == pytest.approx(float(body.manifold.volume()), rel=1e-8)
