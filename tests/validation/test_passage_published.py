"""Bodies through openings: closed forms and a published condition, and brute force.

A p × q rectangle (p ≥ q) fits in an a × b rectangle (a ≥ b) if p ≤ a and q ≤ b, or if p > a,
q ≤ b and b ≥ (2pqa + (p² - q²) √(p² + q² - a²)) / (p² + q²): W. B. Carver, "Solution to
Problem E1225", American Mathematical Monthly 64 (1957), 114-116 (from memory; the boundary
follows from turning the inner rectangle until its corners meet all four sides).

A ladder is carried level round a right-angled corner between corridors a and b wide if it is no
longer than (a^(2/3) + b^(2/3))^(3/2), the classic result. At each angle it must lie before both
outer walls and beyond the line through the inner corner along which it lies.

A straight rod held across an a × b opening passes if it is no longer than √(a² + b²); so does
a thin board so wide, the diagonal of a door.
"""

import itertools
import math

import numpy as np
import pytest

from fitout.clearance.passage import Gateway, search
from fitout.clearance.passage_room import Plane, Room, room_of
from fitout.clearance.passage_turn import greatest, proven, reach_from, supports, turns

ROLL = np.array([1.0, 0.0, 0.0])


def rectangle(a: float, b: float) -> Room:
    planes: list[Plane] = [
        ("left", (0.0, 1.0, 0.0), a / 2),
        ("right", (0.0, -1.0, 0.0), a / 2),
        ("top", (0.0, 0.0, 1.0), b / 2),
        ("foot", (0.0, 0.0, -1.0), b / 2),
    ]
    return room_of(planes, [], (0.0, 0.0))


def block(x: float, y: float, z: float) -> np.ndarray:
    signs = np.array([[i, j, k] for i in (-1, 1) for j in (-1, 1) for k in (-1, 1)])
    return signs * np.array([x, y, z]) / 2.0


def most_slack(points: np.ndarray, room: Room) -> float:
    def slack(angles: np.ndarray) -> np.ndarray:
        return room.slack(supports(points, room.normals, turns(ROLL, angles)))

    return greatest(slack, (-90.0, 90.0), reach_from(points, ROLL), 0.01)[1]


def carver(p: float, q: float, a: float) -> float:
    """The least b for p > a."""
    return (2 * p * q * a + (p * p - q * q) * math.sqrt(p * p + q * q - a * a)) / (p * p + q * q)


@pytest.mark.parametrize("seed", range(30))
def test_a_rectangle_in_a_rectangle(seed: int) -> None:
    rng = np.random.default_rng(seed)
    a = float(rng.uniform(800, 1400))
    p = a * float(rng.uniform(1.005, 1.25))
    q = float(rng.uniform(20, 300))
    b = carver(p, q, a)
    while b > a:
        p, q = a + 0.8 * (p - a), 0.8 * q
        b = carver(p, q, a)
    assert most_slack(block(500.0, p, q), rectangle(a, b + 0.2)) > 0.0
    assert most_slack(block(500.0, p, q), rectangle(a, b - 0.2)) < 0.0


@pytest.mark.parametrize(("a", "b"), [(1164.0, 840.0), (900.0, 2000.0), (500.0, 500.0)])
def test_a_rod_across_an_opening_and_a_board_through_a_door(a: float, b: float) -> None:
    diagonal = math.hypot(a, b)
    for depth in (0.001, 600.0):
        assert most_slack(block(depth, diagonal - 0.2, 0.001), rectangle(a, b)) > 0.0
        assert most_slack(block(depth, diagonal + 0.2, 0.001), rectangle(a, b)) < 0.0


def test_a_rod_lengthwise_passes_any_opening() -> None:
    room = rectangle(30.0, 30.0)
    way = search(block(5000.0, 20.0, 20.0), [Gateway(room, room)])
    assert way is not None
    assert way.turn is None
    assert way.gap == pytest.approx(5.0)


def past_the_corner(length: float, a: float, b: float) -> float:
    """The least room, over all angles, that a rod is left between outer walls and corner."""
    rod = np.array([(-length / 2.0, 0.0, 0.0), (length / 2.0, 0.0, 0.0)])
    least = math.inf
    for angle in np.linspace(0.1, 89.9, 600):
        along = turns(np.array([0.0, 0.0, 1.0]), np.array([angle]))
        c, s = along[0, 0, 0], along[0, 1, 0]
        planes: list[Plane] = [
            ("outer wall", (0.0, -1.0, 0.0), 0.0),
            ("outer wall", (1.0, 0.0, 0.0), 0.0),
            ("inner corner", (-s, c, 0.0), s * a + c * b),
        ]
        room = room_of(planes, [], (0.0, 0.0))
        least = min(least, float(room.slack(supports(rod, room.normals, along))[0]))
    return least


@pytest.mark.parametrize(("a", "b"), [(900.0, 900.0), (1164.0, 840.0), (300.0, 1400.0)])
def test_a_ladder_round_a_corner(a: float, b: float) -> None:
    longest = (a ** (2 / 3) + b ** (2 / 3)) ** 1.5
    assert past_the_corner(longest - 0.2, a, b) > 0.0
    assert past_the_corner(longest + 0.2, a, b) < 0.0


def opening(rng: np.random.Generator) -> list[Plane]:
    """A convex opening: jambs of two pieces each, leaning in above."""
    low, high = rng.uniform(400, 600, 2)
    knee, head = float(rng.uniform(200, 400)), float(rng.uniform(500, 900))
    planes: list[Plane] = [("sill", (0.0, 0.0, -1.0), 0.0), ("head", (0.0, 0.0, 1.0), head)]
    for sign, foot in ((1.0, float(low)), (-1.0, float(high))):
        up = float(rng.uniform(-0.05, 0.1))
        leans = float(rng.uniform(0.1, 0.5))
        planes.append(("jamb", (0.0, sign, -up), foot))
        planes.append(("jamb", (0.0, sign, leans), foot + (up + leans) * knee))
    return planes


def fits_by_corners(
    planes: list[Plane], points: np.ndarray, angles: np.ndarray, clear: float
) -> np.ndarray:
    """Whether the turned points fit, keeping `clear`: some corner of what is left is in all."""
    c, s = np.cos(np.radians(angles))[:, None], np.sin(np.radians(angles))[:, None]
    y, z = points[:, 1] * c - points[:, 2] * s, points[:, 1] * s + points[:, 2] * c
    normals = np.array([[n[1], n[2]] for _, n, _ in planes])
    sizes = np.hypot(*normals.T)
    normals /= sizes[:, None]
    reach = (y[:, None] * normals[:, :1] + z[:, None] * normals[:, 1:]).max(axis=2)
    left = np.array([d for _, _, d in planes]) / sizes - reach - clear
    fits = np.zeros(len(angles), dtype=bool)
    for i, j in itertools.combinations(range(len(planes)), 2):
        pair = normals[[i, j]]
        if abs(np.linalg.det(pair)) > 1e-9:
            corner = left[:, [i, j]] @ np.linalg.inv(pair).T
            fits |= (corner @ normals.T <= left + 1e-9).all(axis=1)
    return fits


def compared(seed: int, steps: np.ndarray) -> None:
    rng = np.random.default_rng(seed)
    planes = opening(rng)
    room = room_of(planes, [], (0.0, 0.0))
    points = block(*rng.uniform((300, 500, 30), (1200, 1100, 500)))
    points[::2] *= rng.uniform(0.7, 1.0)

    def slack(angles: np.ndarray) -> np.ndarray:
        return room.slack(supports(points, room.normals, turns(ROLL, angles)))

    spans = proven(slack, (-180.0, 180.0), 0.0, reach_from(points, ROLL))
    ends = [end + d for span in spans.sure for end in span for d in (-0.05, 0.0, 0.05)]
    angles = np.concatenate([steps, [e for e in ends if abs(e) <= 180.0]])
    said = np.array([spans.round(float(angle)) is not None for angle in angles])
    assert not (said & ~fits_by_corners(planes, points, angles, -1e-6)).any(), "a collision missed"
    assert not (~said & fits_by_corners(planes, points, angles, 0.1)).any(), "a false alarm"


@pytest.mark.parametrize("seed", range(300))
def test_against_brute_force(seed: int) -> None:
    compared(seed, np.random.default_rng(1000 + seed).uniform(-180.0, 180.0, 12))


@pytest.mark.thorough
@pytest.mark.parametrize("seed", range(300))
def test_against_dense_brute_force(seed: int) -> None:
    compared(seed, np.arange(-180.0, 180.0, 0.05))
