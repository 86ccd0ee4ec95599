import numpy as np
import pytest

from fitout.clearance.passage import Gateway, Turn, nearest, search, straight_gap
from fitout.clearance.passage_room import Plane, Room, room_of


def box_room(x: float, y: float, z: float, edges: bool = False) -> Room:
    sides: list[Plane] = [
        (f"{name}{sign:+d}", (sign * n[0], sign * n[1], sign * n[2]), size / 2.0)
        for name, n, size in (("y", (0.0, 1.0, 0.0), y), ("z", (0.0, 0.0, 1.0), z))
        for sign in (1, -1)
    ]
    ends: list[Plane] = [(f"x{s:+d}", (float(s), 0.0, 0.0), x / 2.0) for s in (1, -1)]
    return room_of(sides, ends, (0.0, 0.0)) if edges else room_of([], sides + ends, (0.0, 0.0))


def block(x: float, y: float, z: float) -> np.ndarray:
    signs = np.array([[i, j, k] for i in (-1, 1) for j in (-1, 1) for k in (-1, 1)])
    return signs * np.array([x, y, z]) / 2.0 + 7.0


GATE = Gateway(box_room(2000.0, 500.0, 400.0, edges=True), box_room(2000.0, 1500.0, 1200.0))


def test_straight_where_it_fits() -> None:
    way = search(block(900.0, 460.0, 300.0), [GATE])
    assert way is not None
    assert way.turn is None
    assert way.gap == pytest.approx(20.0)
    assert set(way.tight) == {"y+1", "y-1"}


def test_turned_end_first_with_the_angles_that_work() -> None:
    """400 · |cos| + 700 · |sin| over a turn about z, at most 500: up to 8.5° off end first."""
    way = search(block(400.0, 700.0, 300.0), [GATE])
    assert way is not None
    assert way.turn is not None
    assert (way.turn.axis, abs(way.turn.angle_deg)) == (2, pytest.approx(90.0, abs=0.2))
    off = np.radians(90.0 - min(abs(a) for a in way.span_deg))
    assert 400.0 * np.cos(off) + 700.0 * np.sin(off) == pytest.approx(500.0, abs=0.2)
    assert way.gap == pytest.approx(50.0, abs=0.2)


def test_a_second_turn_inside() -> None:
    """450 by 700 by 800: end first it is still too high, until it lies on its side."""
    body = block(450.0, 800.0, 380.0)
    flat = search(body, [GATE])
    assert flat is not None
    upright = block(380.0, 800.0, 450.0)
    assert search(upright, [GATE]) is None
    way = search(upright, [GATE], [Turn(axis=1, angle_deg=90.0)])
    assert way is not None
    assert way.before == (Turn(axis=1, angle_deg=90.0),)


def test_no_way_where_it_can_not_be_turned_back() -> None:
    cramped = Gateway(GATE.through, box_room(2000.0, 750.0, 400.0))
    assert search(block(600.0, 700.0, 300.0), [cramped]) is None
    assert search(block(400.0, 700.0, 300.0), []) is None


def test_how_near_it_comes() -> None:
    missing, turn, tight = nearest(block(900.0, 560.0, 560.0), [GATE])
    assert missing == pytest.approx(-80.0, abs=1.0)
    assert abs(turn.angle_deg) < 1.0
    assert set(tight) == {"z+1", "z-1"}
    assert straight_gap(block(900.0, 560.0, 560.0), [GATE]) is None
    assert straight_gap(block(900.0, 480.0, 390.0), [GATE]) == pytest.approx(5.0)
