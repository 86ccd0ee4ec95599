"""Named points and surfaces, against the bay's solids."""

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from fitout.model.bay import Bay
from fitout.model.design import BaySpec
from fitout.survey.bay import build_bay
from fitout.survey.parameters import parameters
from fitout.survey.points import Places, constant
from fitout.survey.room import front_face, half_width, roof_height

Make = Callable[..., Any]


@pytest.fixture
def curved(plain_bay: Make, sections: Make, seat: Make, arches: Make) -> BaySpec:
    """Walls that bend along and up, differently left and right; sections listed out of order."""
    rows = sections(
        (500.0, {0.0: (640.0, 655.0), 300.0: (660.0, 650.0), 700.0: (600.0, 615.0)}, 900.0),
        (0.0, {0.0: 1200.0, 250.0: (630.0, 612.0), 700.0: 1150.0}, 850.0),
        (1100.0, {0.0: (645.0, 640.0), 300.0: 1310.0}, 880.0),
    )
    return plain_bay(sections=rows, seat_back=seat(), wheel_arches=arches())


def values(spec: BaySpec) -> np.ndarray:
    return np.array([p.value for p in parameters(spec)])


def distance_to(bay: Bay, obstacle: str, point: np.ndarray) -> float:
    """How far a point lies from the nearest triangle's plane within the triangle's reach."""
    solid = next(o for o in bay.obstacles if o.id == obstacle)
    best = math.inf
    for a, b, c in solid.vertices[solid.triangles]:
        normal = np.cross(b - a, c - a)
        size = float(np.linalg.norm(normal))
        if size < 1e-9:
            continue
        normal /= size
        off = float((point - a) @ normal)
        foot = point - off * normal
        inside = all(
            float(np.cross(q - p, foot - p) @ normal) >= -1e-6 for p, q in ((a, b), (b, c), (c, a))
        )
        if inside:
            best = min(best, abs(off))
    return best


@pytest.mark.parametrize("name", ["tour_bay", "curved"])
def test_wall_points_lie_on_the_walls(name: str, request: pytest.FixtureRequest) -> None:
    spec = request.getfixturevalue(name)
    bay, places = build_bay(spec), Places(spec)
    walls = [p for p in places.points.values() if " wall " in p.name or " corner" in p.name]
    assert len(walls) > 12
    for point in walls:
        side = point.name.split()[0]
        assert distance_to(bay, f"bay/{side} wall", point.at(values(spec))) < 1e-6, point.name


def test_points_at_arches_lie_on_the_arches(tour_bay: BaySpec) -> None:
    bay, places = build_bay(tour_bay), Places(tour_bay)
    for name, place in {
        "left arch rear foot": (318.0, 500.0, 0.0),
        "left arch front top": (842.0, 500.0, 262.0),
        "right arch rear top": (318.0, -510.0, 262.0),
        "right arch front foot": (842.0, -510.0, 0.0),
    }.items():
        point = places.points[name].at(values(tour_bay))
        assert point == pytest.approx(place)
        assert distance_to(bay, f"bay/{name.split()[0]} wheel arch", point) < 1e-6


def test_points_of_seat_opening_and_roof(tour_bay: BaySpec) -> None:
    bay, places, now = build_bay(tour_bay), Places(tour_bay), values(tour_bay)
    top = places.points["seat top"].at(now)
    assert distance_to(bay, "bay/seat back at 17°", top) < 1e-6
    assert top[2] == 612.0
    for number, x in enumerate((0.0, 560.0, 1140.0), start=1):
        point = places.points[f"roof {number}"].at(now)
        assert point == pytest.approx((x, 0.0, roof_height(bay, x, x)))
    left = places.points["left opening top"].at(now)
    assert left == pytest.approx((30.0 + 135.0 * 322.0 / 350.0, 509.0, 772.0))
    assert distance_to(bay, "bay/tailgate", left) < 1e-6
    assert "tailgate 0" not in places.points, "the sill is there"
    inside = places.points["tailgate 450"].at(now)
    assert inside == pytest.approx((30.0, 0.0, 450.0))
    assert distance_to(bay, "bay/tailgate", inside) < 1e-6
    right = places.points["right opening foot"].at(now)
    assert right == pytest.approx((0.0, -552.0, 0.0))


@pytest.mark.parametrize("name", ["tour_bay", "curved"])
def test_walls_are_where_the_room_says(name: str, request: pytest.FixtureRequest) -> None:
    spec = request.getfixturevalue(name)
    bay, places, now = build_bay(spec), Places(spec), values(spec)
    rng = np.random.default_rng(7)
    for _ in range(200):
        x, z = rng.uniform(0.0, 1300.0), rng.uniform(0.0, 840.0)
        for side in ("left", "right"):
            half = places.half_at(side, constant(x), z)
            there = half_width(bay, side, (x, x), (z, z), arches=False)
            assert half.value(now) == pytest.approx(there, abs=1e-6), (side, x, z)


def test_what_a_wall_hangs_on_is_said(tour_bay: BaySpec) -> None:
    """Numbers that are not listed leave the value as it is."""
    places, now = Places(tour_bay), values(tour_bay)
    half = places.half_at("left", constant(300.0), 400.0)
    before = half.value(now)
    moved = {k for k in range(len(now)) if half.value(now + 7.0 * np.eye(len(now))[k]) != before}
    assert moved
    assert moved <= half.on


def test_one_height_is_carried_up_the_whole_wall(plain_bay: Make) -> None:
    spec = plain_bay()
    half = Places(spec).half_at("right", constant(400.0), 800.0)
    assert half.value(values(spec)) == 600.0


def test_front_is_the_seat_back_or_the_wall(tour_bay: BaySpec, plain_bay: Make) -> None:
    bay, now = build_bay(tour_bay), values(tour_bay)
    for z in (0.0, 123.0, 612.0):
        there = front_face(bay, z, z, "17°")
        assert Places(tour_bay).front(z).value(now) == pytest.approx(there)
    assert Places(plain_bay()).front(300.0).value(values(plain_bay())) == 1000.0


def test_roof_is_where_the_room_says(curved: BaySpec) -> None:
    bay, now = build_bay(curved), values(curved)
    for x in (0.0, 130.0, 500.0, 777.0, 1100.0, 1300.0):
        assert Places(curved).roof(x).value(now) == pytest.approx(roof_height(bay, x, x))


def test_sections_are_numbered_from_the_sill(curved: BaySpec) -> None:
    places = Places(curved)
    assert places.points["left wall 1/0"].at(values(curved)) == pytest.approx((0.0, 600.0, 0.0))
    assert places.points["left wall 2/0"].at(values(curved)) == pytest.approx((500.0, 640.0, 0.0))
    assert places.names[("sections", 0, "roof")] == "roof height at section 2"


def test_points_of_what_a_bay_has_not_are_left_out(plain_bay: Make, arches: Make) -> None:
    bare = Places(plain_bay()).points
    assert {"left sill corner", "right front corner", "sill middle", "roof 1"} <= set(bare)
    assert not [name for name in bare if "arch" in name or "seat" in name or "opening" in name]
    profile = ((300.0, 0.0), (500.0, 200.0), (700.0, 0.0))
    shaped = arches(start=None, end=None, height=None, profile=profile)
    assert not [name for name in Places(plain_bay(wheel_arches=shaped)).points if "arch" in name]
