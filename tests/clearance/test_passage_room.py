import math

import numpy as np
import pytest
from scipy.optimize import linprog

from fitout.clearance.passage_room import Plane, Room, mixes_of, room_of
from fitout.clearance.passage_turn import supports, turns

BOX: list[Plane] = [
    ("right", (0.0, -1.0, 0.0), 300.0),
    ("left", (0.0, 2.0, 0.0), 800.0),
    ("sill", (0.0, 0.0, -1.0), 0.0),
    ("head", (0.0, 0.0, 1.0), 500.0),
    ("rear", (-1.0, 0.0, 0.0), 0.0),
    ("front", (1.0, 0.0, 0.3), 1200.0),
]
AS_IS = np.eye(3)[None]


def corners(*size: float) -> np.ndarray:
    signs = np.array([[i, j, k] for i in (-1, 1) for j in (-1, 1) for k in (-1, 1)])
    return signs * np.array(size) / 2.0


def by_linear_programme(room: Room, held: np.ndarray) -> float:
    rows = np.column_stack([room.normals, np.ones(len(room.normals))])
    result = linprog([0.0, 0.0, 0.0, -1.0], rows, room.offsets - held, bounds=[(None, None)] * 4)
    return float(result.x[3])


def test_normals_of_any_length_make_the_same_room() -> None:
    room = room_of(BOX, [], (0.0, 0.0))
    assert room.offsets[room.names.index("left")] == 400.0


def test_slack_is_what_is_left_on_every_side() -> None:
    room = room_of(BOX[:4], [], (0.0, 0.0))
    held = supports(corners(100.0, 660.0, 200.0), room.normals, AS_IS)
    assert room.slack(held)[0] == pytest.approx(20.0)
    held = supports(corners(100.0, 660.0, 530.0), room.normals, AS_IS)
    assert room.slack(held)[0] == pytest.approx(-15.0)


def test_a_room_open_to_one_side_holds_anything() -> None:
    room = room_of(BOX[:1], [], (0.0, 0.0))
    assert room.slack(np.array([[1e6]]))[0] == np.inf
    assert mixes_of(np.empty((0, 3)), np.empty(0)).size == 0


@pytest.mark.parametrize("seed", range(40))
def test_slack_agrees_with_a_linear_programme(seed: int) -> None:
    rng = np.random.default_rng(seed)
    normals = [tuple(map(float, v)) for v in rng.normal(size=(7, 3))]
    more: list[Plane] = [("cut", n, float(rng.uniform(200, 600))) for n in normals]  # type: ignore[misc]
    room = room_of(BOX, more, (2.0, 0.5))
    held = supports(corners(*rng.uniform(20, 400, 3)), room.normals, AS_IS)
    assert room.slack(held)[0] == pytest.approx(by_linear_programme(room, held[0]), abs=1e-6)


def test_the_gap_counts_the_edges_alone() -> None:
    ends: list[Plane] = [BOX[4], ("front", (1.0, 0.0, 0.0), 1160.0)]
    room = room_of(BOX[:4], ends, (15.0, 0.0))
    body = corners(1100.0, 600.0, 300.0)
    held = supports(body, room.normals, AS_IS)
    assert room.gap(held)[0] == pytest.approx(35.0)
    assert set(room.tight(held[0])) == {"left", "right"}
    assert room.slack(held)[0] == pytest.approx(30.0)


def test_planes_parallel_to_a_nearer_one_are_left_out() -> None:
    nearer: Plane = ("shelf", (0.0, 0.0, 1.0), 450.0)
    room = room_of([nearer], BOX, (0.0, 0.0))
    assert "head" not in room.names
    assert len(room.names) == len(BOX)
    assert room.edges == 1


def test_an_edge_behind_a_wall_still_counts() -> None:
    wall: Plane = ("wall", (0.0, 1.0, 0.0), 390.0)
    room = room_of(BOX[:4], [wall], (0.0, 0.0))
    held = supports(corners(10.0, 600.0, 10.0), room.normals, AS_IS)
    assert {"left", "wall"} <= set(room.names)
    assert room.gap(held)[0] == pytest.approx(50.0)


def test_shifted_into_a_room() -> None:
    room = room_of(BOX, [], (0.0, 0.0))
    body = corners(100.0, 100.0, 100.0) + np.array([-200.0, 0.0, 100.0])
    ways = np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 0.0]])
    assert room.inside_after(body, ways, 0.0) == pytest.approx([250.0, math.inf, math.inf])
    assert room.inside_after(corners(9e3, 1.0, 1.0), ways[:1], 0.0).tolist() == [math.inf]
    assert room.inside_after(body + 250.0 * ways[0], ways[2:], 0.0).tolist() == [0.0]


def test_whether_a_slack_is_reached_is_what_the_slack_says() -> None:
    room = room_of(BOX, [], (0.0, 0.0))
    held = supports(corners(300.0, 200.0, 100.0), room.normals, turns(AS_IS[0][2], np.arange(90.0)))
    most = room.slack(held).max()
    assert room.reaches(held, most - 1e-6)
    assert not room.reaches(held, most + 1e-6)
