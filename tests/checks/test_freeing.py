import dataclasses
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from fitout.checks.freeing import corners_of, shifted_out, turned_out
from fitout.checks.gateways import gateways

Make = Callable[..., Any]


def test_the_corners_of_bodies_are_those_of_their_hull(
    subject: Make, module: Make, item: Make
) -> None:
    lower = item("a/lower", (0.0, 100.0), (0.0, 100.0), (0.0, 50.0))
    upper = item("a/upper", (25.0, 75.0), (25.0, 75.0), (50.0, 60.0))
    looked_at = subject(module("a", lower, upper))
    points = corners_of([looked_at.bodies["a/lower"], looked_at.bodies["a/upper"]])
    assert len(points) == 12
    assert points.max(axis=0) == pytest.approx([100.0, 100.0, 60.0])


def test_what_stands_free_needs_nothing(subject: Make, module: Make, item: Make) -> None:
    looked_at = subject(module("a", item("a/cube", (300.0, 500.0), (0.0, 200.0), (0.0, 200.0))))
    rooms = [g.inside for g in gateways(looked_at.fitout.bay)]
    freed = shifted_out(looked_at, [looked_at.bodies["a/cube"]], rooms)
    assert freed is not None
    assert (freed.turn, freed.rooms) == (None, (0,))


def test_what_stands_in_the_wall_is_not_freed(subject: Make, module: Make, item: Make) -> None:
    looked_at = subject(module("a", item("a/cube", (300.0, 500.0), (500.0, 700.0), (0.0, 200.0))))
    rooms = [g.inside for g in gateways(looked_at.fitout.bay)]
    bodies = [looked_at.bodies["a/cube"]]
    assert shifted_out(looked_at, bodies, rooms) is None
    assert all(turned_out(looked_at, bodies, rooms, axis) is None for axis in range(3))


def test_a_shelf_from_wall_to_wall_is_turned_out_of_its_place(
    subject: Make, module: Make, panel: Make
) -> None:
    """It keeps 0.05 mm from both walls, less than the rooms do: a turn frees it."""
    shelf = panel("a/shelf", (300.0, 400.0), (-599.95, 599.95), 400.0)
    looked_at = subject(module("a", shelf))
    rooms = [g.inside for g in gateways(looked_at.fitout.bay)]
    bodies, narrow = [looked_at.bodies["a/shelf"]], [_narrowed(r) for r in rooms]
    assert shifted_out(looked_at, bodies, narrow) is None
    freed = turned_out(looked_at, bodies, narrow, 0)
    assert freed is not None
    assert freed.turn is not None
    assert np.ptp(freed.points[:, 1]) < 1195.0


def _narrowed(room: Any) -> Any:
    """The room, 2 mm less on each side."""

    return dataclasses.replace(room, offsets=room.offsets - 2.0)
