"""The cradle: fences, windows for taps, straps, notches, holes that find room."""

import itertools
import math

import pytest

from fitout.model.design import ItemSpec, TapSpec
from fitout.model.spec import Size
from fitout.modules.cradle import STRAP_ROOM, cradle_of, places_of, swelling


def tank(length: float, width: float, height: float, **more: object) -> ItemSpec:
    return ItemSpec(size=Size(length, width, height), mass=4.0, holds=30.0, **more)


def test_fences_stand_a_felt_off_and_are_a_quarter_of_a_low_tank() -> None:
    cradle = cradle_of(tank(160, 800, 200), 12.0, all_round=True, straps=None)
    assert cradle.fence_height == 50.0
    assert cradle.base == (160 + 2 * 14, 800 + 2 * 14)
    assert cradle_of(tank(160, 800, 400), 12.0, all_round=True, straps=None).fence_height == 60.0


def test_fences_at_the_ends_only_take_no_depth() -> None:
    cradle = cradle_of(tank(160, 800, 200), 12.0, all_round=False, straps=None)
    assert cradle.base == (160, 828)
    assert cradle.margins == {"rear": 0.0, "front": 0.0, "left": 14.0, "right": 14.0}


def test_a_tank_that_widens_upwards_clears_its_fences_at_their_upper_edge() -> None:
    cradle = cradle_of(tank(160, 800, 240, top=(160, 840)), 12.0, all_round=False, straps=None)
    # 60 of 240 mm up it is a quarter of the way from 800 to 840.
    assert cradle.base[1] == pytest.approx(810 + 2 * 14)
    assert cradle.tank == (160, 840)
    # Its top reaches 1 mm further than base and fence do.
    assert cradle.margins["left"] == 0.0


@pytest.mark.parametrize(
    ("size", "sides"), [((160, 800), "rear front"), ((500, 200), "left right")]
)
def test_the_long_sides_swell(size: tuple[float, float], sides: str) -> None:
    item = tank(*size, 300, bulge=9.0)
    assert " ".join(swelling(item)) == sides
    cradle = cradle_of(item, 12.0, all_round=True, straps=None)
    gaps = {"rear front": (9.0, 2.0), "left right": (2.0, 9.0)}
    assert cradle.gap == gaps[sides]


@pytest.mark.parametrize("width", [120.0, 333.0, 700.0, 1300.0])
@pytest.mark.parametrize("wish", [None, 1, 4, 6])
def test_straps_lie_evenly_about_the_middle_and_never_on_each_other(
    width: float, wish: int | None
) -> None:
    straps = cradle_of(tank(100, width, 300), 12.0, all_round=False, straps=wish).straps
    assert sum(straps) == pytest.approx(0.0, abs=1e-9)
    assert max(straps) + STRAP_ROOM / 2.0 <= width / 2.0
    for a, b in itertools.pairwise(straps):
        assert b - a > STRAP_ROOM
    if wish is not None and width > 400:
        assert len(straps) == wish


@pytest.mark.parametrize("width", [200.0, 700.0, 1200.0])
def test_taps_front_and_rear_keep_between_the_straps(width: float) -> None:
    item = tank(
        160,
        width,
        300,
        tap=TapSpec(side="rear", height=40),
        drain=TapSpec(side="rear", height=10),
    )
    cradle = cradle_of(item, 12.0, all_round=True, straps=None)
    places = list(places_of(item, cradle))
    assert [name for name, *_ in places] == ["tap", "drain"]
    (_, _, first, wide), (_, _, second, _) = places
    assert second - first == pytest.approx(wide)
    for _, _, middle, room in places:
        for strap in cradle.straps:
            assert abs(middle - strap) >= (room + STRAP_ROOM) / 2.0 - 1e-9
    assert math.isclose(cradle.margins["rear"], 60.0)


def test_a_short_end_keeps_fences_beside_its_tap() -> None:
    item = tank(100, 600, 300, tap=TapSpec(side="left", height=40))
    cradle = cradle_of(item, 12.0, all_round=False, straps=None)
    assert cradle.windows == {"left": (0.0, 50.0)}
    wide = cradle_of(
        tank(400, 600, 300, tap=TapSpec(side="left", height=40)), 12.0, all_round=False, straps=None
    )
    assert wide.windows == {"left": (0.0, 90.0)}
