"""What every kind asks of the arrangement makes sense, whatever the bay and the boards."""

import dataclasses

import pytest

from fitout.model.design import ItemSpec
from fitout.model.spec import Size
from fitout.modules.fridge_slide import FridgeSlideSpec
from fitout.modules.kind import Extent
from fitout.modules.registry import KINDS
from fitout.modules.water_tank import WaterTankSpec

ITEMS = {
    "fridge": ItemSpec(size=Size(500.0, 350.0, 300.0), mass=15.0),
    "can": ItemSpec(size=Size(150.0, 350.0, 300.0), mass=2.0, holds=10.0),
}
WISHES = {
    "fridge slide": FridgeSlideSpec(item="fridge"),
    "water tank": WaterTankSpec(item="can"),
}
ASKING = [kind for kind in KINDS if kind.kind not in ("deck", "seat tray")]


def sound(extent: Extent) -> bool:
    """Whether the least is above 0 and no more than what is wanted or can be used."""
    wanted = extent.least if extent.wanted is None else extent.wanted
    most = max(extent.least, wanted) if extent.most is None else extent.most
    return 0.0 < extent.least <= most and wanted <= max(most, extent.least)


@pytest.mark.parametrize("thickness", [9.0, 18.0])
@pytest.mark.parametrize("kind", ASKING, ids=lambda kind: kind.kind)
def test_needs_without_any_size_given(bay, setting_of, kind, thickness):
    setting = setting_of(bay, thickness, items=ITEMS)
    wishes = WISHES.get(kind.kind) or kind.spec()
    needs = kind.needs(wishes, setting)
    for extent in (needs.x, needs.y, needs.z):
        assert sound(extent), extent
        assert extent.given in ("", "item")


@pytest.mark.parametrize("entry", ["width", "depth", "height"])
@pytest.mark.parametrize("kind", ASKING, ids=lambda kind: kind.kind)
def test_a_size_given_is_told_by_its_entry(bays, setting_of, kind, entry):
    """Where a kind heeds an entry at all, a conflict can name it."""
    setting = setting_of(bays["van"], items=ITEMS)
    wishes = WISHES.get(kind.kind) or kind.spec()
    needs = kind.needs(dataclasses.replace(wishes, **{entry: 620.0}), setting)
    extent = {"width": needs.y, "depth": needs.x, "height": needs.z}[entry]
    if extent.given:
        assert extent.given == entry
        assert extent.most == 620.0
    else:
        assert extent == getattr(
            kind.needs(wishes, setting), {"width": "y", "depth": "x", "height": "z"}[entry]
        )


@pytest.mark.parametrize("name", ["deck", "seat tray"])
def test_what_has_no_berth_asks_for_none(bays, setting_of, name):
    (kind,) = [k for k in KINDS if k.kind == name]
    assert kind.needs(None, setting_of(bays["van"])) is None
