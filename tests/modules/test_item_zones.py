"""Room about an item: air at its vents, its lid's swing, and the item itself."""

from collections.abc import Callable, Mapping

import numpy as np
import pytest

from fitout.model.bay import Bay
from fitout.model.design import ItemSpec, LidSpec
from fitout.model.placement import flat
from fitout.model.spec import Size
from fitout.modules.item_zones import add_item, lid_zones, vent_zones
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


def test_no_lid_needs_no_room() -> None:
    assert list(lid_zones(BOX)) == []


@pytest.mark.parametrize("opens", [30.0, 90.0, 120.0, 180.0])
def test_every_place_of_the_lid_lies_in_its_zone(opens: float) -> None:
    item = ItemSpec(size=Size(600, 400, 300), mass=10.0, lid=LidSpec(hinge="left", opens=opens))
    (zone,) = lid_zones(item)
    assert zone.when == "out"
    profile = {(round(y, 6), round(z, 6)) for _, y, z in zone.piece}
    centre = np.mean(list(profile), axis=0)
    ring = np.array(sorted(profile, key=lambda p: np.arctan2(p[1] - centre[1], p[0] - centre[0])))
    sides = np.roll(ring, -1, axis=0) - ring
    for angle in np.radians(np.linspace(0.0, opens, 37)):
        tip = np.array([400.0 - 400.0 * np.cos(angle), 300.0 + 400.0 * np.sin(angle)])
        away = tip - ring
        assert (sides[:, 0] * away[:, 1] - sides[:, 1] * away[:, 0] >= -1e-3).all()
    assert {x for x, _, _ in zone.piece} == {0.0, 600.0}


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
