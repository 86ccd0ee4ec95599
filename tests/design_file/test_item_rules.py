"""Places to reach that are not on their item are told where they stand in the file."""

import pytest

from fitout.model.fault import DesignError

ITEM = "  fridge: {size: 690 x 398 x 470, mass: 21 kg}"


def with_place(whole: str, place: str) -> str:
    return whole.replace(ITEM, ITEM.replace("21 kg}", f"21 kg, reach_to: [{place}]}}"))


def test_a_place_on_a_side_is_read(read, whole):
    design = read(with_place(whole, "{name: plug, side: rear, height: 60, along: -150}"))
    (place,) = design.items["fridge"].reach_to
    assert (place.name, place.height, place.along, place.room) == ("plug", 60.0, -150.0, 80.0)


@pytest.mark.parametrize(
    ("place", "key", "found"),
    [
        ("{name: plug, side: rear, height: 480}", "height", "480, on an item 470 high"),
        ("{name: plug, side: rear, along: 200}", "along", "200 from the middle of a side 398 long"),
        (
            "{name: fuse, side: left, along: -346}",
            "along",
            "-346 from the middle of a side 690 long",
        ),
    ],
)
def test_a_place_off_its_item_is_told(read, whole, place, key, found):
    with pytest.raises(DesignError) as caught:
        read(with_place(whole, place))
    (fault,) = caught.value.faults
    assert fault.path == ("items", "fridge", "reach_to", 0, key)
    assert fault.found == found
    assert fault.line == 12
