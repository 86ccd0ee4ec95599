"""Room an item needs about it: air at vents, its lid's swing, hands. In the item's own axes."""

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
        zones=(*vent_zones(spec, boxed), *lid_zones(spec), *hand_zones(spec)),
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


def hand_zones(item: ItemSpec) -> Iterator[Zone]:
    """Before each place that a hand must come to, a box as deep as the room asked for."""
    size = item.size
    for place in item.reach_to:
        half, room = place.hand / 2.0, place.room
        height = size.height / 2.0 if place.height is None else place.height
        if place.side == "top":
            at = (size.length / 2.0 + place.along - half, size.width / 2.0 - half, size.height)
            piece = block(place.hand, place.hand, room, at)
        elif place.side in ("left", "right"):
            y = size.width if place.side == "left" else -room
            # A hand at a low place comes from above: it needs no room below the item.
            low = max(0.0, height - half)
            at = (size.length / 2.0 + place.along - half, y, low)
            piece = block(place.hand, room, height + half - low, at)
        else:
            x = size.length if place.side == "front" else -room
            low = max(0.0, height - half)
            at = (x, size.width / 2.0 + place.along - half, low)
            piece = block(room, place.hand, height + half - low, at)
        when = "out" if place.drawn_out else "always"
        yield Zone(name=f"a hand at the {place.name}", piece=piece, when=when, hand=True)


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
