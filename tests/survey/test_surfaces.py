"""How surfaces move, against bays built anew and gaps measured between solids."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from fitout.clearance.body import body_of_obstacle
from fitout.clearance.witness import closest
from fitout.model.bay import Obstacle
from fitout.model.design import BaySpec
from fitout.model.spec import Measured
from fitout.survey.bay import build_bay
from fitout.survey.meshes import block_mesh
from fitout.survey.parameters import parameters, with_values
from fitout.survey.surfaces import surfaces_of

Make = Callable[..., Any]


def block(low: tuple[float, float, float], high: tuple[float, float, float]) -> Obstacle:
    return Obstacle("block", "surface", *block_mesh(low, high))


BLOCKS = {
    "bay/left wall": block((200.0, 100.0, 300.0), (500.0, 580.0, 500.0)),
    "bay/right wall": block((700.0, -590.0, 280.0), (900.0, -100.0, 600.0)),
    "bay/right wheel arch": block((400.0, -505.0, 100.0), (700.0, 0.0, 200.0)),
    "bay/seat back at 17°": block((600.0, -300.0, 50.0), (990.0, 300.0, 480.0)),
    "bay/roof": block((100.0, -300.0, 50.0), (700.0, 300.0, 840.0)),
    "bay/tailgate": block((120.0, -300.0, 50.0), (700.0, 300.0, 600.0)),
    "bay/left jamb of the opening": block((-30.0, 300.0, 50.0), (-10.0, 545.0, 300.0)),
}


@pytest.fixture
def surfaces(tour_bay: BaySpec) -> Any:
    return surfaces_of(tour_bay)


def gap(spec: BaySpec, obstacle: str, thing: Obstacle) -> float:
    solid = next(o for o in build_bay(spec).obstacles if o.id == obstacle)
    return closest(body_of_obstacle(thing), body_of_obstacle(solid)).gap


@pytest.mark.parametrize("obstacle", BLOCKS)
def test_gaps_change_as_the_surface_moves_at_the_nearest_point(
    tour_bay: BaySpec, surfaces: Any, obstacle: str
) -> None:
    thing = BLOCKS[obstacle]
    solid = next(o for o in surfaces.bay.obstacles if o.id == obstacle)
    found = closest(body_of_obstacle(thing), body_of_obstacle(solid))
    assert found.gap > 1.0
    away = np.subtract(found.point_b, found.point_a) / found.gap
    predicted = surfaces.shift_at(obstacle, found.point_b) @ away
    values = [p.value for p in parameters(tour_bay)]
    step, slopes = 0.05, []
    for k in range(len(values)):
        sides = []
        for sign in (1.0, -1.0):
            moved = [*values[:k], values[k] + sign * step, *values[k + 1 :]]
            sides.append(gap(with_values(tour_bay, moved), obstacle, thing))
        slopes.append((sides[0] - sides[1]) / (2.0 * step))
    assert np.abs(slopes).max() > 0.1
    assert predicted == pytest.approx(slopes, abs=2e-3)


def test_every_surface_has_a_shift_for_every_number(tour_bay: BaySpec, surfaces: Any) -> None:
    count = len(parameters(tour_bay))
    for solid in surfaces.bay.obstacles:
        assert surfaces.shifts[solid.id].shape == (count, *solid.vertices.shape)


def test_corners_that_would_merge_are_moved_the_other_way(
    plain_bay: Make, tailgate: Make, opening: Make
) -> None:
    """The opening's edge is as high as a point of the tailgate; raised, the ring parts in two."""
    spec = plain_bay(
        tailgate=tailgate({0.0: 0.0, 700.0: 100.0}), opening=opening(0.0, 700.0, {0.0: 1000.0})
    )
    surfaces = surfaces_of(spec)
    for solid in surfaces.bay.obstacles:
        assert surfaces.shifts[solid.id].shape[0] == len(parameters(spec))


@pytest.mark.parametrize("notches", [(16.0, 18.0), (14.0, 16.0)])
def test_a_lean_between_two_notches_takes_no_jump_for_a_slope(
    plain_bay: Make, seat: Make, notches: tuple[float, float]
) -> None:
    """A little more lean and the other notch is the usual one; a little less and it is not."""
    spec = plain_bay(seat_back=seat(leans=Measured(17.0), notches=notches))
    surfaces = surfaces_of(spec)
    lean = [p.name for p in parameters(spec)].index("seat_back.leans")
    for solid in surfaces.bay.obstacles:
        if solid.kind == "seat":
            fastest = np.abs(surfaces.shifts[solid.id][lean]).max()
            # A degree moves an edge at 600 by some 11 mm.
            assert 8.0 < fastest < 16.0
