"""Room an item needs about it: air at vents, its lid's swing, hands. In the item's own axes."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from fitout.model.design import ItemSpec, LidSpec
from fitout.model.item import Item, Zone, block, frustum
from fitout.model.module import Motion, MotionKind
from fitout.model.placement import Placement, X, Y, opposite
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
        zones=(*vent_zones(spec, boxed), *hand_zones(spec)),
        price=spec.price,
        moves=moves,
    )
    draft.items.append(item)
    if spec.lid is not None:
        draft.motions.append(lid_motion(draft, item, spec.lid))
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
            towards = (0.0, 1.0 if side == "left" else -1.0, 0.0)
        else:
            at = (size.length if side == "front" else -gap, 0.0, above)
            piece = block(gap, size.width, height, at)
            towards = (1.0 if side == "front" else -1.0, 0.0, 0.0)
        yield Zone(name=f"air at the {side} vent", piece=piece, towards=towards)


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


def lid_motion(draft: Draft, item: Item, lid: LidSpec) -> Motion:
    """The item's lid, turning about the lower edge of its hinge side once it is drawn out.

    A lid is taken as a block over the whole of the item, as wide as that is where it is widest.
    """
    corners = np.vstack([np.array(piece) for piece in item.pieces])
    (x0, y0, _), (x1, y1, top) = corners.min(axis=0).tolist(), corners.max(axis=0).tolist()
    under = top - min(lid.thickness, top / 2.0)
    edge, direction = {
        "left": ((x0, y1), opposite(X)),
        "right": ((x0, y0), X),
        "front": ((x1, y0), Y),
        "rear": ((x0, y0), opposite(Y)),
    }[lid.hinge]
    return Motion(
        name=f"{item.name} lid",
        module=draft.name,
        kind=MotionKind.HINGE,
        direction=direction,
        travel=lid.opens,
        point=item.placement.at(*edge, under),
        needs=() if item.moves is None else (f"{draft.name}/{item.moves}",),
        stop="the lid's own hinge",
        of=item.id,
        pieces=(block(x1 - x0, y1 - y0, top - under, (x0, y0, under)),),
    )
