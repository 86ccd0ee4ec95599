"""Sample parts for the tests of the clearance engine."""

import math
import random

import numpy as np
import pytest

from fitout.model.bay import Obstacle
from fitout.model.item import Item, block, frustum
from fitout.model.outline import Loop, Outline, rectangle
from fitout.model.panel import Bar, Panel
from fitout.model.placement import Placement, flat
from fitout.model.stock import Board, Section

BOARD = Board(
    key="ply", nominal=12.0, thickness=12.0, thickness_tolerance=0.5, density_kg_m3=680.0,
    length=2440.0, width=1220.0,
)  # fmt: skip
TUBE = Section(
    key="tube", width=40.0, height=20.0, wall=2.0, density_kg_m3=2700.0, stock_length=6000.0
)


class Samples:
    """Parts and obstacles with as little said about them as a test needs."""

    def panel(
        self, outline: Loop | Outline | None = None, placement=None, name="p", **more
    ) -> Panel:
        shape = outline or rectangle(300.0, 200.0)
        return Panel(
            name=name,
            module="m",
            outline=shape if isinstance(shape, Outline) else Outline(shape),
            board=BOARD,
            placement=placement or flat(0.0, 0.0, 0.0),
            **more,
        )

    def bar(self, length: float = 500.0, placement=None) -> Bar:
        return Bar(
            name="bar", module="m", section=TUBE, length=length,
            placement=placement or flat(0.0, 0.0, 0.0),
        )  # fmt: skip

    def item(self, *pieces, placement=None) -> Item:
        return Item(
            name="item",
            module="m",
            pieces=pieces or (frustum((200.0, 100.0), (160.0, 80.0), 150.0),),
            mass_kg=1.0,
            placement=placement or flat(0.0, 0.0, 0.0),
        )

    def cube(self, x: float, y: float, z: float, size: float = 100.0) -> Item:
        return self.item(block(size, size, size), placement=flat(x, y, z))

    def obstacle(self, lo, hi, flipped: bool = False) -> Obstacle:
        """A block as a mesh whose triangles don't share their corners."""
        corners = np.array([[(lo, hi)[k >> s & 1][s] for s in range(3)] for k in range(8)], float)
        quads = ((0, 2, 3, 1), (4, 5, 7, 6), (0, 1, 5, 4), (2, 6, 7, 3), (0, 4, 6, 2), (1, 3, 7, 5))
        triangles = [t for a, b, c, d in quads for t in ((a, b, c), (a, c, d))]
        order = [t[::-1] for t in triangles] if flipped else triangles
        vertices = np.vstack([corners[list(t)] for t in order])
        return Obstacle("wall", "surface", vertices, np.arange(36, dtype=np.uint32).reshape(-1, 3))


@pytest.fixture
def samples() -> Samples:
    return Samples()


@pytest.fixture
def skewed():
    """A function from a seed to a placement turned and shifted at random."""

    def placement(seed: int, reach: float = 200.0) -> Placement:
        rng = random.Random(seed)
        w, x, y, z = (rng.gauss(0.0, 1.0) for _ in range(4))
        n = math.sqrt(w * w + x * x + y * y + z * z)
        w, x, y, z = w / n, x / n, y / n, z / n
        u = (1 - 2 * (y * y + z * z), 2 * (x * y + w * z), 2 * (x * z - w * y))
        v = (2 * (x * y - w * z), 1 - 2 * (x * x + z * z), 2 * (y * z + w * x))
        return Placement(tuple(rng.uniform(-reach, reach) for _ in range(3)), u, v)

    return placement
