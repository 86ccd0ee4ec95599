"""The room tools take, and what stands in it, against plain geometry."""

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from fitout.checks.tool_room import (
    ARM,
    HANDLE,
    HANDLE_HIGH,
    REACH,
    SLACK,
    SOCKET,
    Room,
    arms_from,
    box_round,
    column_over,
    handle_of,
)
from fitout.clearance.body import body_of_pieces
from fitout.clearance.contact import common_solid
from fitout.model.outline import Outline, circle, rectangle
from fitout.model.panel import Panel
from fitout.model.placement import Placement, flat

Make = Callable[..., Any]
POINT = (400.0, 100.0, 20.0)


def test_the_column_holds_the_sockets_cylinder() -> None:
    """22 across for an M8 bolt; its corners stand out by no more than a fifth of a millimetre."""
    points = np.array(column_over(POINT, 8.0, 75.0))
    away = np.hypot(points[:, 0] - 400.0, points[:, 1] - 100.0)
    turned = np.radians(np.arange(0.0, 360.0, 22.5) + 11.25)
    middles = [np.mean([points[i], points[(i + 1) % 16]], axis=0) for i in range(16)]
    assert len(turned) == len(middles)
    assert min(math.hypot(m[0] - 400.0, m[1] - 100.0) for m in middles) >= 11.0 - 1e-9
    assert away.max() <= 11.25


@pytest.mark.parametrize("side", [(-1, 0), (1, 0), (0, -1), (0, 1)])
def test_the_handle_lies_to_its_side(side: tuple[int, int]) -> None:
    (x0, y0, z0), (x1, y1, z1) = box_round(handle_of(POINT, 75.0, side))
    reach = {(-1, 0): 400.0 - x0, (1, 0): x1 - 400.0, (0, -1): 100.0 - y0, (0, 1): y1 - 100.0}
    assert reach[side] == pytest.approx(HANDLE)
    assert (z0, z1) == (20.0 + SOCKET + 75.0, 20.0 + SOCKET + 75.0 + HANDLE_HIGH)


def test_arms_go_no_deeper_than_an_arm_is_long(module: Make) -> None:
    """The berth is 1000 long and 900 high: from above and behind are both too far from here."""
    handle = ((820.0, -60.0, 50.0), (1000.0, 60.0, 95.0))
    found = {words for words, _ in arms_from(module("a"), handle, (1, 0))}
    assert found == {"from the left", "from the right"}
    near = ((100.0, -60.0, 910.0 - REACH), (280.0, 60.0, 955.0 - REACH))
    assert {"from above", "from behind"} <= {w for w, _ in arms_from(module("a"), near, (-1, 0))}


def test_an_arm_is_as_wide_as_a_fist(module: Make) -> None:
    handle = ((100.0, -60.0, 400.0), (280.0, 60.0, 445.0))
    ways = dict(arms_from(module("a"), handle, (-1, 0)))
    (_, y0, z0), (_, y1, z1) = ways["from above"][-1]
    assert y1 - y0 == ARM
    assert (z0, z1) == (400.0, 1000.0)


def test_what_stands_in_a_block_is_found_and_what_only_touches_is_not(
    subject: Make, module: Make, item: Make
) -> None:
    inside = item("a/inside", (100.0, 200.0), (0.0, 50.0), (0.0, 50.0))
    beside = item("a/beside", (200.0, 300.0), (0.0, 50.0), (0.0, 50.0))
    room = Room(subject(module("a", inside, beside)))
    box = ((150.0, 10.0, 10.0), (200.0, 40.0, 40.0))
    assert room.within(box) == {"a/inside"}
    assert room.surely(box) == {"a/inside"}
    assert room.within(((300.0, 0.0, 0.0), (400.0, 50.0, 50.0))) == set()


def test_a_cut_out_is_no_obstacle(subject: Make, module: Make, board: Any) -> None:
    outline = Outline(rectangle(400.0, 400.0), (circle(200.0, 200.0, 200.0),))
    ring = Panel(
        name="ring", module="a", outline=outline, board=board, placement=flat(0.0, -200.0, 100.0)
    )
    room = Room(subject(module("a", ring)))
    assert room.within(((160.0, -40.0, 50.0), (240.0, 40.0, 200.0))) == set()
    assert room.within(((90.0, -40.0, 50.0), (240.0, 40.0, 200.0))) == {"a/ring"}


def test_a_round_piece_passes_where_its_block_does_not(
    subject: Make, module: Make, item: Make
) -> None:
    """A post whose edge is 11.5 off, diagonally: outside the socket, inside the block round it."""
    at = 11.5 / math.sqrt(2.0)
    post = item("a/post", (400.0 + at, 440.0), (100.0 + at, 140.0), (0.0, 200.0))
    room = Room(subject(module("a", post)))
    column = column_over(POINT, 8.0, 75.0)
    assert room.within(box_round(column)) == {"a/post"}
    assert room.within(box_round(column), column) == set()


@pytest.mark.parametrize("seed", range(8))
def test_what_is_told_at_once_is_what_the_solids_share(
    seed: int, subject: Make, module: Make, item: Make
) -> None:
    """A handle and a socket among posts and the vehicle's walls, against their solids."""
    rng = np.random.default_rng(seed)
    posts = []
    for k in range(6):
        x, y, z = (rng.uniform(-180.0, 180.0, 3) + POINT).tolist()
        posts.append(item(f"a/post {k}", (x, x + 60.0), (y, y + 40.0), (z, z + 90.0)))
    whole = subject(module("a", *posts))
    room = Room(whole)
    far = (POINT[0], float(rng.uniform(380.0, 520.0)), POINT[2])
    for piece in (
        handle_of(POINT, 75.0, (1, 0)),
        handle_of(far, 0.0, (0, 1)),
        column_over(POINT, 8.0, 150.0),
    ):
        asked = body_of_pieces("asked", [piece], Placement())
        shared = {
            id_ for id_ in room.ids if common_solid(asked, whole.bodies[id_], SLACK) is not None
        }
        assert room.within(box_round(piece), piece) == shared
