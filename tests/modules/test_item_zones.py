"""Room about an item: air at its vents, its lid's swing, and the item itself."""

import dataclasses
from collections.abc import Callable, Mapping
from typing import Literal

import numpy as np
import pytest

from fitout.model.bay import Bay
from fitout.model.design import ItemSpec, LidSpec
from fitout.model.free_places import ReachSpec
from fitout.model.placement import flat, turned
from fitout.model.spec import Size
from fitout.modules.item_zones import add_item, hand_zones, vent_zones
from fitout.modules.joinery import Draft
from fitout.modules.kind import Setting

SettingOf = Callable[..., Setting]
BOX = ItemSpec(size=Size(600, 400, 300), mass=10.0, vents=("right", "front"), vent_gap=60.0)


def reach(zone) -> tuple[tuple[float, ...], tuple[float, ...]]:
    corners = np.array(zone.piece)
    return tuple(corners.min(axis=0)), tuple(corners.max(axis=0))


def test_air_beside_each_vent_side_above_what_boxes_it_in() -> None:
    right, front = vent_zones(BOX, 100.0)
    assert reach(right) == ((0, -60, 100), (600, 0, 300))
    assert reach(front) == ((600, 0, 100), (660, 400, 300))
    assert list(vent_zones(BOX, 300.0)) == []


def test_no_lid_no_motion(bays: Mapping[str, Bay], setting_of: SettingOf) -> None:
    draft = Draft("box", "box", setting_of(bays["wagon"], items={"crate": BOX}))
    add_item(draft, "crate", flat(0.0, 0.0, 0.0))
    assert draft.motions == []


@pytest.mark.parametrize("hinge", ["left", "right", "front", "rear"])
def test_a_lid_rises_about_the_lower_edge_of_its_hinge_side(
    bays: Mapping[str, Bay], setting_of: SettingOf, hinge: Literal["left", "right", "front", "rear"]
) -> None:
    """A quarter turn brings its free edge as high above the axis as it was away from it."""
    lid = LidSpec(hinge=hinge, opens=90.0, thickness=50.0)
    crate = dataclasses.replace(BOX, lid=lid)
    draft = Draft("box", "box", setting_of(bays["wagon"], items={"crate": crate}))
    item = add_item(draft, "crate", flat(100.0, -200.0, 40.0), moves="out")
    (motion,) = draft.motions
    assert (motion.id, motion.of, motion.needs) == ("box/crate lid", item.id, ("box/out",))
    assert motion.travel == 90.0
    shut = item.placement.apply(np.array(motion.pieces[0]))
    assert shut.min(axis=0) == pytest.approx((100.0, -200.0, 290.0))
    assert shut.max(axis=0) == pytest.approx((700.0, 200.0, 340.0))
    up = turned(shut, motion.point, motion.direction, 90.0)
    length = 400.0 if hinge in ("left", "right") else 600.0
    assert up[:, 2].max() == pytest.approx(290.0 + length)
    assert up[:, 2].min() == pytest.approx(290.0)
    beyond = {"left": up[:, 1].max() - 200.0, "right": -200.0 - up[:, 1].min(),
              "front": up[:, 0].max() - 700.0, "rear": 100.0 - up[:, 0].min()}  # fmt: skip
    assert beyond[hinge] == pytest.approx(50.0)


def test_an_item_that_tapers_keeps_its_shape(
    bays: Mapping[str, Bay], setting_of: SettingOf
) -> None:
    tapered = ItemSpec(size=Size(300, 200, 250), top=(320, 240), mass=4.0, contents=6.0)
    draft = Draft("box", "box", setting_of(bays["wagon"], items={"crate": tapered}))
    item = add_item(draft, "crate", flat(100.0, 0.0, 50.0), moves="out")
    corners = item.corners()[0]
    assert corners.max(axis=0) == pytest.approx((420.0, 240.0, 300.0))
    assert corners[corners[:, 2] < 51.0].min(axis=0) == pytest.approx((110.0, 20.0, 50.0))
    assert (item.mass_kg, item.contents_kg, item.moves) == (4.0, 6.0, "out")
    assert draft.items == [item]


@pytest.mark.parametrize(
    ("side", "along", "low", "high"),
    [
        ("rear", 0.0, (-80, 155, 15), (0, 245, 105)),
        ("front", 50.0, (600, 205, 15), (680, 295, 105)),
        ("left", -100.0, (155, 400, 15), (245, 480, 105)),
        ("right", 0.0, (255, -80, 15), (345, 0, 105)),
        ("top", 20.0, (275, 155, 300), (365, 245, 380)),
    ],
)
def test_room_for_a_hand_before_a_place(
    side: Literal["left", "right", "rear", "front", "top"],
    along: float,
    low: tuple[float, ...],
    high: tuple[float, ...],
) -> None:
    """90 wide and high round the place, 80 deep, on an item of 600 by 400 by 300."""
    place = ReachSpec(name="plug", side=side, height=60.0, along=along)
    (zone,) = hand_zones(dataclasses.replace(BOX, reach_to=(place,)))
    assert reach(zone) == (low, high)
    assert zone.hand
    assert zone.when == "always"


def test_a_low_place_is_reached_from_above_and_one_behind_drawn_out() -> None:
    place = ReachSpec(name="valve", side="rear", height=10.0, drawn_out=True)
    (zone,) = hand_zones(dataclasses.replace(BOX, reach_to=(place,)))
    assert reach(zone) == ((-80, 155, 0), (0, 245, 55))
    assert zone.when == "out"
