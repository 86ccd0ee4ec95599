"""What can't be true of an item: a place to reach that is not on it."""

from __future__ import annotations

from collections.abc import Iterator

from fitout.design_file.parts import Parts
from fitout.model.design import ItemSpec
from fitout.model.fault import Fault, Path


def places(parts: Parts) -> Iterator[Fault]:
    """Places a hand must come to lie on the side of the item they are said to be on."""
    for name, item in parts.below("items"):
        if not isinstance(item, ItemSpec):
            continue
        size = item.size
        for index, place in enumerate(item.reach_to):
            path: Path = ("items", name, "reach_to", index)
            if place.height is not None and place.height > size.height:
                found = f"{place.height:g}, on an item {size.height:g} high"
                yield Fault(path=(*path, "height"), found=found, expected="a place on the item")
            long = size.width if place.side in ("rear", "front") else size.length
            if abs(place.along) > long / 2.0:
                found = f"{place.along:g} from the middle of a side {long:g} long"
                yield Fault(path=(*path, "along"), found=found, expected="a place on that side")


RULES = (places,)
