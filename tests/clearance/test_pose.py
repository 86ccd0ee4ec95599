"""Bodies shifted and turned: the same solids elsewhere, whatever they are made of."""

import numpy as np
import pytest

from fitout.clearance.body import Body, body_of, body_of_obstacle, body_of_pieces
from fitout.clearance.pose import shifted, turned_body
from fitout.clearance.sweep import sweep
from fitout.model.bay import Obstacle
from fitout.model.item import block
from fitout.model.outline import Outline, rectangle, slot
from fitout.model.placement import across, flat
from fitout.survey.meshes import column


def block_at(x: float, y: float, z: float, size: tuple[float, float, float]) -> Body:
    return body_of_pieces("block", [block(*size)], flat(x, y, z))


RINGS = [[(x, -9.0, z), (x + 5.0, -9.0, z), (x + 5.0, 9.0, z), (x, 9.0, z)]
         for x, z in ((0.0, 0.0), (3.0, 20.0), (1.0, 40.0))]  # fmt: skip


@pytest.mark.parametrize("kind", ["block", "prism", "swept", "mesh", "pieces"])
def test_poses_move_every_shape_alike(samples, kind: str) -> None:
    outline = Outline(rectangle(400, 200), (slot(150, 100, 250, 100, 30.0),))
    panel = body_of(samples.panel(outline, across(0, 0, 0)))
    bodies = {
        "block": block_at(1.0, 2.0, 3.0, (400.0, 200.0, 10.0)),
        "prism": panel,
        "swept": sweep(panel, (0.6, 0.8, 0.0), 10.0),
        "mesh": body_of_obstacle(Obstacle("m", "surface", *column(RINGS))),
        "pieces": turned_body(block_at(0, 0, 0, (9.0, 8.0, 7.0)), (0, 0, 0), (1, 1, 1), 33.0),
    }
    body = bodies[kind]
    moved = shifted(body, np.array([10.0, -20.0, 30.0]))
    assert moved.lo == pytest.approx(body.lo + np.array([10.0, -20.0, 30.0]), abs=1e-5)
    assert moved.manifold.volume() == pytest.approx(body.manifold.volume(), rel=1e-6)
    back = turned_body(turned_body(body, (5, 6, 7), (1, 2, 3), 40.0), (5, 6, 7), (1, 2, 3), -40.0)
    assert back.lo == pytest.approx(body.lo, abs=1e-4)
    assert back.manifold.volume() == pytest.approx(body.manifold.volume(), rel=1e-5)
    quarter = turned_body(body, (0.0, 0.0, 0.0), (0.0, 0.0, 1.0), 90.0)
    assert quarter.lo[1] == pytest.approx(body.lo[0], abs=1e-5)
    assert quarter.hi[0] == pytest.approx(-body.lo[1], abs=1e-5)
    assert quarter.key != body.key
