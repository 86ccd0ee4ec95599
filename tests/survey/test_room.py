"""How much space there is, against cases worked out by hand."""

import dataclasses
import itertools
import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from fitout.model.bay import Bay
from fitout.model.design import BaySpec
from fitout.model.spec import Measured
from fitout.model.tailgate import HeadRestraintSpec
from fitout.survey.bay import build_bay
from fitout.survey.room import (
    STEP,
    arch_span,
    arch_top,
    clear_width,
    front_face,
    half_width,
    opening_half_width,
    opening_top,
    rear_face,
    restraint_face,
    roof_height,
    wall_line_along,
    wall_line_up,
)

Make = Callable[..., Any]


@pytest.fixture
def leaning(plain_bay: Make, sections: Make, arches: Make) -> Bay:
    """The left wall runs in by 60 over 600, the right one stands upright; arches on both."""
    widths = {0.0: (600.0, 610.0), 600.0: (540.0, 610.0)}
    rows = sections((0.0, widths), (900.0, widths))
    return build_bay(plain_bay(sections=rows, wheel_arches=arches()))


def test_half_width_is_least_at_the_upper_edge_of_a_wall_that_leans_in(leaning: Bay) -> None:
    assert half_width(leaning, "left", (0.0, 200.0), (0.0, 300.0)) == pytest.approx(570.0)
    assert half_width(leaning, "right", (0.0, 200.0), (0.0, 300.0)) == pytest.approx(610.0)
    clear = half_width(leaning, "left", (0.0, 200.0), (0.0, 300.0), clear=10.0)
    assert clear == pytest.approx(570.0 - 10.0 * math.sqrt(1.01))


def test_arches_count_where_they_stand_and_are_asked_for(leaning: Bay) -> None:
    over_arch, beside, above = (250.0, 400.0), (0.0, 290.0), (261.0, 400.0)
    assert clear_width(leaning, over_arch, (0.0, 100.0)) == (-500.0, 500.0)
    assert clear_width(leaning, over_arch, (0.0, 100.0), clear=3.0) == (-497.0, 497.0)
    wide = clear_width(leaning, over_arch, (0.0, 100.0), arches=False)
    assert wide == pytest.approx((-610.0, 590.0))
    assert clear_width(leaning, beside, (0.0, 100.0)) == pytest.approx((-610.0, 590.0))
    assert clear_width(leaning, over_arch, above) == pytest.approx((-610.0, 560.0))


def test_an_arch_nearer_than_the_clearance_counts(leaning: Bay) -> None:
    """A block 1 above the arch, or 2 beside it, is too near for a gap of 3."""
    assert half_width(leaning, "right", (400.0, 500.0), (261.0, 400.0), clear=3.0) == 497.0
    assert half_width(leaning, "right", (0.0, 298.0), (0.0, 400.0), clear=3.0) == 497.0
    assert half_width(leaning, "right", (0.0, 296.0), (0.0, 400.0), clear=3.0) == 607.0


@pytest.fixture
def humped(plain_bay: Make, arches: Make) -> Bay:
    profile = ((300.0, 0.0), (400.0, 200.0), (700.0, 200.0), (800.0, 0.0))
    shape = arches(profile=profile, start=None, end=None, height=None)
    return build_bay(plain_bay(wheel_arches=shape))


def test_arch_top_and_span_of_a_profile(humped: Bay) -> None:
    assert arch_top(humped, "left", 0.0, 300.0) is None
    assert arch_top(humped, "left", 0.0, 350.0) == 100.0
    assert arch_top(humped, "left", 350.0, 750.0) == 200.0
    assert arch_top(humped, "left", 760.0, 900.0) == pytest.approx(80.0)
    assert arch_top(humped, "left", 800.0, 900.0) is None
    assert arch_span(humped, "right", 0.0) == (300.0, 800.0)
    assert arch_span(humped, "right", 50.0) == (325.0, 775.0)
    assert arch_span(humped, "right", 200.0) is None


def test_a_bay_without_arches_has_none(plain_bay: Make) -> None:
    bay = build_bay(plain_bay())
    assert arch_top(bay, "left", 0.0, 900.0) is None
    assert arch_span(bay, "left", 0.0) is None
    assert clear_width(bay, (0.0, 900.0), (0.0, 800.0)) == (-600.0, 600.0)


def test_roof(plain_bay: Make, sections: Make) -> None:
    """Lowest in the middle; under a slope of 1 in 10 the gap is square to it."""
    rows = sections(
        (0.0, {0.0: 1200.0}, 850.0), (400.0, {0.0: 1200.0}, 810.0), (800.0, {0.0: 1200.0}, 850.0)
    )
    bay = build_bay(plain_bay(sections=rows))
    assert roof_height(bay, 0.0, 900.0) == 810.0
    assert roof_height(bay, 500.0, 700.0) == 820.0
    assert roof_height(bay, 500.0, 700.0, clear=10.0) == pytest.approx(
        820.0 - 10.0 * math.sqrt(1.01)
    )
    # Over the lowest point both slopes and the ridge between them count.
    assert roof_height(bay, 300.0, 700.0, clear=10.0) == pytest.approx(
        810.0 - 10.0 * math.sqrt(1.01)
    )
    assert roof_height(bay, 850.0, 900.0, clear=10.0) == pytest.approx(840.0)


def test_front_face_of_a_seat_back(plain_bay: Make, seat: Make) -> None:
    bay = build_bay(plain_bay(seat_back=seat(notches=(10.0, 20.0))))
    tan = {d: math.tan(math.radians(d)) for d in (10.0, 15.0, 20.0)}
    length = 600.0 / math.cos(math.radians(15.0))
    assert front_face(bay, 0.0, 0.0) == 1000.0
    assert front_face(bay, 0.0, 400.0) == pytest.approx(1000.0 - 400.0 * tan[20.0])
    assert front_face(bay, 0.0, 400.0, "10°") == pytest.approx(1000.0 - 400.0 * tan[10.0])
    # Above its upper edge the back counts as going straight up.
    for notch, degrees in bay.seat_lean_deg.items():
        edge = 1000.0 - length * math.sin(math.radians(degrees))
        assert front_face(bay, 0.0, 800.0, notch) == pytest.approx(edge)
        assert front_face(bay, 700.0, 800.0, notch) == pytest.approx(edge)
    steepest = 1000.0 - length * math.sin(math.radians(20.0))
    assert front_face(bay, 0.0, 800.0) == pytest.approx(steepest)
    lean = math.radians(20.0)
    assert front_face(bay, 0.0, 400.0, clear=5.0) == pytest.approx(
        1000.0 - 400.0 * tan[20.0] - 5.0 / math.cos(lean)
    )


def test_head_restraints_go_on_in_the_seat_backs_plane(plain_bay: Make, seat: Make) -> None:
    """The back leans by 10° or 20° from 1000; its edge is 600 up at 10°, restraints 120 beyond."""
    plain = seat(leans=Measured(10.0), notches=(10.0, 20.0))
    raised = HeadRestraintSpec(raised=120.0, middles=(300.0, -280.0), across=200.0)
    bay = build_bay(plain_bay(seat_back=dataclasses.replace(plain, head_restraints=raised)))
    assert (bay.seat_raised, bay.raised_reach) == (120.0, 400.0)
    twenty = math.radians(20.0)
    long = 600.0 / math.cos(math.radians(10.0))
    # At 20° the edge is 572 up.
    assert restraint_face(bay, 570.0) == math.inf
    assert restraint_face(bay, 590.0) == pytest.approx(1000.0 - 590.0 * math.tan(twenty))
    tip = (long + 120.0) * math.sin(twenty)
    assert restraint_face(bay, 900.0) == pytest.approx(1000.0 - tip)
    clear = restraint_face(bay, 900.0, clear=5.0)
    assert clear == pytest.approx(1000.0 - tip - 5.0 / math.cos(twenty))
    assert front_face(bay, 0.0, 900.0) == pytest.approx(1000.0 - long * math.sin(twenty))
    assert restraint_face(build_bay(plain_bay(seat_back=plain)), 900.0) == math.inf


def test_front_face_of_a_wall(plain_bay: Make) -> None:
    bay = build_bay(plain_bay())
    assert front_face(bay, 0.0, 800.0) == 1000.0
    assert front_face(bay, 0.0, 800.0, clear=3.0) == 997.0


def test_rear_face_follows_the_tailgate(plain_bay: Make, tailgate: Make) -> None:
    """Upright up to 400, then in by a quarter, upright again above 800."""
    bay = build_bay(plain_bay(tailgate=tailgate({0.0: 0.0, 400.0: 0.0, 800.0: 100.0})))
    assert rear_face(bay, 0.0, 300.0) == 0.0
    assert rear_face(bay, 0.0, 300.0, clear=8.0) == 8.0
    assert rear_face(bay, 0.0, 600.0) == 50.0
    square = 8.0 * math.sqrt(1.0 + 1.0 / 16.0)
    assert rear_face(bay, 0.0, 600.0, clear=8.0) == pytest.approx(50.0 + square)
    assert rear_face(bay, 0.0, 840.0, clear=8.0) == pytest.approx(100.0 + square)
    assert rear_face(bay, 820.0, 840.0, clear=8.0) == 108.0


def test_rear_face_never_lies_behind_the_sill(plain_bay: Make, tailgate: Make) -> None:
    bay = build_bay(plain_bay(tailgate=tailgate({0.0: -30.0, 800.0: -10.0})))
    assert rear_face(bay, 0.0, 300.0) == 0.0
    assert rear_face(bay, 0.0, 300.0, clear=8.0) == 8.0


def test_opening(plain_bay: Make, opening: Make) -> None:
    hole = opening(20.0, 700.0, {0.0: 1000.0, 400.0: (520.0, 500.0), 700.0: 900.0})
    bay = build_bay(plain_bay(opening=hole))
    assert opening_top(bay) == 700.0
    assert opening_half_width(bay, "left", 100.0, 500.0) == pytest.approx(520.0 - 70.0 / 3.0)
    assert opening_half_width(bay, "left", 100.0, 200.0) == pytest.approx(505.0)
    assert opening_half_width(bay, "right", 0.0, 400.0) == 500.0


def true_least(bay: Bay, side: str, xs: Any, zs: Any) -> float:
    """The wall's least distance over sampled points, arch included, by brute force."""
    values = []
    for x, z in itertools.product(xs, zs):
        for piece in bay.walls[side]:
            value = inside(piece.corners, piece.offsets, x, z)
            if value is not None:
                values.append(value)
        top = arch_top(bay, side, x - 1e-9, x + 1e-9)
        if top is not None and z < top:
            values.append(bay.arches[side][1])
    return min(values)


def inside(corners: Any, offsets: Any, x: float, z: float) -> float | None:
    (ax, az), (bx, bz), (cx, cz) = corners
    whole = (bx - ax) * (cz - az) - (cx - ax) * (bz - az)
    b = ((x - ax) * (cz - az) - (cx - ax) * (z - az)) / whole
    c = ((bx - ax) * (z - az) - (x - ax) * (bz - az)) / whole
    if min(b, c, 1.0 - b - c) < -1e-9:
        return None
    return float((1.0 - b - c) * offsets[0] + b * offsets[1] + c * offsets[2])


def far_from(edges: list[float], at: float) -> bool:
    """Right at an arch's edge the line slants over `STEP`."""
    return all(abs(at - edge) > STEP for edge in edges)


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("x", [(20.0, 32.0), (400.0, 900.0), (0.0, 300.0), (839.0, 845.0)])
def test_wall_line_up_never_lies_outside_the_wall(
    tour_bay: BaySpec, side: str, x: tuple[float, float]
) -> None:
    bay = build_bay(tour_bay)
    line = wall_line_up(bay, side, *x, 0.0, 700.0)
    heights, offsets = zip(*line, strict=True)
    assert (heights[0], heights[-1]) == (0.0, 700.0)
    assert list(heights) == sorted(heights)
    xs = np.linspace(*x, 41)
    shortfall = []
    for z in np.linspace(0.0, 700.0, 57):
        if far_from([262.0], z):
            true = true_least(bay, side, xs, [z])
            reckoned = float(np.interp(z, heights, offsets))
            assert reckoned <= true + 1e-6
            shortfall.append(true - reckoned)
    # Nor, for a board's thickness, needlessly far inside it.
    assert max(shortfall) < (0.5 if x[1] - x[0] < 20.0 else 5.0)


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("z", [(300.0, 312.0), (100.0, 112.0), (0.0, 620.0), (255.0, 270.0)])
def test_wall_line_along_never_lies_outside_the_wall(
    tour_bay: BaySpec, side: str, z: tuple[float, float]
) -> None:
    bay = build_bay(tour_bay)
    line = wall_line_along(bay, side, *z, 10.0, 1100.0)
    stations, offsets = zip(*line, strict=True)
    assert (stations[0], stations[-1]) == (10.0, 1100.0)
    zs = np.linspace(*z, 31)
    shortfall = []
    for x in np.linspace(10.0, 1100.0, 59):
        if far_from([318.0, 842.0], x):
            true = true_least(bay, side, [x], zs)
            reckoned = float(np.interp(x, stations, offsets))
            assert reckoned <= true + 1e-6
            shortfall.append(true - reckoned)
    assert max(shortfall) < (0.5 if z[1] - z[0] < 20.0 else 5.0)


def test_wall_lines_by_hand(leaning: Bay) -> None:
    """A straight wall needs no points between; the arch adds its two edges."""
    up = wall_line_up(leaning, "left", 0.0, 12.0, 0.0, 600.0)
    assert np.array(up) == pytest.approx(np.array([(0.0, 600.0), (600.0, 540.0)]))
    over = wall_line_up(leaning, "left", 400.0, 412.0, 0.0, 600.0)
    assert np.array(over) == pytest.approx(
        np.array([(0.0, 500.0), (260.0 - STEP, 500.0), (260.0, 574.0), (600.0, 540.0)])
    )
    along = wall_line_along(leaning, "right", 0.0, 12.0, 0.0, 900.0)
    assert np.array(along) == pytest.approx(
        np.array(
            [
                (0.0, 610.0),
                (300.0 - STEP, 610.0),
                (300.0, 500.0),
                (800.0, 500.0),
                (800.0 + STEP, 610.0),
                (900.0, 610.0),
            ]
        )
    )
    above = wall_line_along(leaning, "left", 300.0, 600.0, 0.0, 900.0)
    assert np.array(above) == pytest.approx(np.array([(0.0, 540.0), (900.0, 540.0)]))
