import itertools

import numpy as np
import pytest

from fitout.checks.gateways import covering, gateways
from fitout.model.bay import Bay
from fitout.model.design import ArchSpec, BaySpec, OpeningSpec, SeatBackSpec, SectionSpec
from fitout.model.spec import Measured
from fitout.survey.bay import build_bay


def pieces_of(*line: tuple[float, float]) -> list[tuple[np.ndarray, np.ndarray]]:
    return [
        (np.array([(1.0, s), (1.0, t)]), np.array([v, w]))
        for (s, v), (t, w) in itertools.pairwise(line)
    ]


def bay(**entries: object) -> Bay:
    section = SectionSpec(at=Measured(0.0), widths={0.0: Measured(1200.0)}, roof=Measured(900.0))
    opening = OpeningSpec(height=Measured(800.0), widths={0.0: Measured(1000.0)})
    usual = {"front_wall": Measured(1000.0), "opening": opening}
    return build_bay(BaySpec(sections=(section,), **{**usual, **entries}))  # type: ignore[arg-type]


def test_a_surface_that_bulges_outwards_is_bounded_by_itself() -> None:
    bounds = covering(pieces_of((0.0, 0.0), (10.0, 5.0), (20.0, 6.0)), 0.0)
    at = [min(a + b * s for a, b in bounds) for s in (0.0, 10.0, 20.0)]
    assert at == pytest.approx([0.0, 5.0, 6.0])


@pytest.mark.parametrize("seed", range(30))
def test_bounds_never_lie_above_the_surface(seed: int) -> None:
    rng = np.random.default_rng(seed)
    line = [
        (float(s), float(v))
        for s, v in zip(range(0, 700, 100), rng.uniform(400, 500, 7), strict=True)
    ]
    bounds = covering(pieces_of(*line), 0.0)
    for s in np.linspace(0.0, 600.0, 200):
        surface = float(np.interp(s, *np.array(line).T))
        assert min(a + b * s for a, b in bounds) <= surface + 1e-6


def test_nearly_equal_pieces_are_one() -> None:
    assert len(covering(pieces_of((0.0, 0.0), (10.0, 0.01), (20.0, 0.0)), 0.05)) == 1


def test_a_plain_bay_has_one_gateway_with_room_for_hands() -> None:
    (bare,) = gateways(bay())
    gateway = bare.drawn_in(15.0)
    through = dict(zip(gateway.through.names, gateway.through.offsets, strict=True))
    assert gateway.through.edges == 4
    assert through["the left jamb"] == pytest.approx(485.0)
    assert through["the opening's upper edge"] == pytest.approx(785.0)
    names = set(gateway.inside.names)
    assert names >= {"the left wall", "the roof", "the floor", "the wall ahead"}


def test_arches_part_the_room() -> None:
    arches = ArchSpec(
        between=Measured(900.0), start=Measured(300.0), end=Measured(700.0), height=Measured(200.0)
    )
    found = gateways(bay(wheel_arches=arches))
    assert len(found) == 5
    block = np.array([[x, y, z] for x in (400, 600) for y in (-440, 440) for z in (10, 100)])
    held = [bool((g.inside.gaps_at(block) > 0.0).all()) for g in found]
    assert held == [True, False, False, False, False]


def test_things_may_reach_over_the_seat_back() -> None:
    seat = SeatBackSpec(foot=Measured(1000.0), leans=Measured(20.0), top=Measured(500.0))
    found = gateways(bay(front_wall=None, seat_back=seat))
    assert len(found) == 3
    edge = 1000.0 - 500.0 * np.tan(np.radians(20.0))
    over = np.array([[edge - 30.0, 0.0, 800.0]])
    held = [bool((g.inside.gaps_at(over) > 0.0).all()) for g in found]
    assert held == [False, True, True]
