"""Room an item needs about it: air at its vents, its lid's swing. In the item's own axes."""

from __future__ import annotations

import math
from collections.abc import Iterator

from fitout.model.design import ItemSpec
from fitout.model.item import Item, Piece, Zone, block, frustum
from fitout.model.placement import Placement
from fitout.modules.joinery import Draft


def add_item(
    draft: Draft, name: str, placement: Placement, *, boxed: float = 0.0, moves: str | None = None
) -> Item:
    """Put an item of the design into a module, with the air and the lid room it needs.

    Its origin is the rear right corner of its underside; up to `boxed` above it the module
    stands close about it, so that air is asked for above that only.
    """
    spec = draft.setting.items[name]
    size = spec.size
    footprint = (size.length, size.width)
    top = spec.top or footprint
    item = Item(
        name=name,
        module=draft.name,
        pieces=(frustum(footprint, top, size.height),),
        mass_kg=spec.mass,
        contents_kg=spec.contents or 0.0,
        placement=placement,
        zones=(*vent_zones(spec, boxed), *lid_zones(spec)),
        price=spec.price,
        moves=moves,
    )
    draft.items.append(item)
    return item


def vent_zones(item: ItemSpec, above: float) -> Iterator[Zone]:
    """Air beside each vent side, from `above` its underside up: what is lower is boxed in."""
    size, gap = item.size, item.vent_gap
    height = size.height - above
    if height <= 0.0:
        return
    for side in item.vents:
        if side in ("left", "right"):
            at = (0.0, size.width if side == "left" else -gap, above)
            piece = block(size.length, gap, height, at)
        else:
            at = (size.length if side == "front" else -gap, 0.0, above)
            piece = block(gap, size.width, height, at)
        yield Zone(name=f"air at the {side} vent", piece=piece)


def lid_zones(item: ItemSpec) -> Iterator[Zone]:
    """What the lid sweeps about its hinge at the item's upper edge, once it is drawn out."""
    lid = item.lid
    if lid is None or lid.opens == 0.0:
        return
    size = item.size
    crosswise = lid.hinge in ("left", "right")
    reach, other = (size.width, size.length) if crosswise else (size.length, size.width)
    far = lid.hinge in ("left", "front")
    sector = [
        (reach - s if far else s, size.height + rise)
        for s, rise in _swept(reach, abs(math.radians(lid.opens)))
    ]
    piece: Piece = tuple(
        (end, p, z) if crosswise else (p, end, z) for p, z in sector for end in (0.0, other)
    )
    yield Zone(name="lid open", piece=piece, when="out")


def _swept(radius: float, angle: float) -> Iterator[tuple[float, float]]:
    """The sector a lid sweeps: (distance from its hinge, height), circumscribed about the arc."""
    yield 0.0, 0.0
    yield radius, 0.0
    steps = max(2, math.ceil(angle / math.radians(15.0)))
    outer = radius / math.cos(angle / steps / 2.0)
    for i in range(steps):
        turned = (i + 0.5) * angle / steps
        yield outer * math.cos(turned), outer * math.sin(turned)
    yield radius * math.cos(angle), radius * math.sin(angle)
