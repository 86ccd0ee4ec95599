"""Water tank: a bought tank in a low cradle, strapped down, with tap, hose and room for hands.

    seen from behind                             seen from the left

             filler                                 strap over the top
    ..........[  ]...........                      .---------.
    |  s  tank           s  |  s: straps           |  tank   | bulges fore and aft when full
    |  s                 s  |                      |         |
    |f s                 s f|  f: fences           |f f f   f| fence, open where the tap is
    +=======================+  base                +=========+ base, straps under it

The base lies on the floor and is bolted down under the tank, bolt heads flush. Fences stand
on it at the left and right ends (all round if wished), a felt's thickness off the tank.
Each strap runs in a notch of the base's edges and a groove of its underside, up the tank's
front and rear and over its top: it holds tank and base as one and takes no room fore and
aft. The berth takes in the cradle, the room before taps and the bulge; the room above the
filler lies over it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, ClassVar, Literal

from fitout.mechanics.water import water_density_kg_m3
from fitout.model.bay import AnchorPoint, Bay
from fitout.model.design import ItemSpec, ModuleSpec, TapSpec
from fitout.model.item import Item, Zone, block, frustum
from fitout.model.module import Access, Berth, Fixing, Module
from fitout.model.placement import Vector, flat
from fitout.model.spec import Length, Quantity, Ref, Unit, entry
from fitout.modules.cradle import (
    HAND,
    STRAP_ROOM,
    Cradle,
    Side,
    add_base,
    add_fences,
    cradle_of,
    hole_fits,
    places_of,
    swelling,
)
from fitout.modules.item_zones import hand_zones
from fitout.modules.joinery import Draft, corners_left
from fitout.modules.kind import Extent, Kind, Needs, Setting
from fitout.survey.room import rear_face

STRAP_TAIL = 150.0
"""Length of strap the buckle and the hand need beyond the loop, mm (common practice)."""

FILLER_ROOM = (100.0, 100.0, 80.0)
"""Room a hand and a hose need above the filler: length, width, height, mm (common practice)."""

BULGING_SHARE = 0.8
"""Share of a side's width and height over which it swells (common practice)."""

BOLTS = 4
BOLT_INSET = 40.0
BOLT_EDGE = 15.0
FLOOR_BOLT = "countersunk bolt M8 x 40"
FILL_TEMPERATURE_C = 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterTankSpec(ModuleSpec):
    """A bought water tank, its long side across the bay, in a cradle with straps."""

    kind: ClassVar[str] = "water tank"

    item: Annotated[str, Ref("items")] = entry("the tank, one of the items", example="tank")
    between: tuple[str, ...] = entry(
        "what it stands between, front first", default=(), example="[seat_back, drawers]"
    )
    fences: Literal["all", "ends"] = entry(
        "ends: fences at the left and right, the straps hold it fore and aft; all: all round",
        default="ends",
    )
    straps: Annotated[int, Quantity(Unit.RATIO, least=1, most=6)] | None = entry(
        "how many straps",
        default=None,
        example="2",
        otherwise="one for each 450 mm of its width, at least two",
    )
    hose: Length | None = entry(
        "length of hose",
        default=None,
        example="1.5 m",
        otherwise="from the tap down and along the floor to the tailgate",
    )


def needs(spec: WaterTankSpec, setting: Setting) -> Needs:
    """Room for the tank in its cradle, taps and bulge included."""
    cradle = _cradle(spec, setting)
    margin = cradle.margins
    height = cradle.height + setting.boards["carcass"].thickness
    return Needs(
        x=_extent(spec.depth, cradle.tank[0] + margin["rear"] + margin["front"], "depth"),
        y=_extent(spec.width, cradle.tank[1] + margin["left"] + margin["right"], "width"),
        z=_extent(spec.height, height, "height"),
        top="below deck",
        lateral="across",
        place="front",
        gap=setting.rules.tank,
    )


def _cradle(spec: WaterTankSpec, setting: Setting) -> Cradle:
    t = setting.boards["carcass"].thickness
    item = setting.items[spec.item]
    return cradle_of(item, t, all_round=spec.fences == "all", straps=spec.straps)


def _extent(wish: float | None, least: float, key: str) -> Extent:
    if wish is not None and wish > least:
        return Extent(least=wish, most=wish, given=key)
    return Extent(least=least, most=least, given="item")


def build(name: str, spec: WaterTankSpec, berth: Berth | None, setting: Setting) -> Module:
    """The tank in its cradle, as far forward in the berth as it goes."""
    assert berth is not None
    draft = Draft(name, WaterTankSpec.kind, setting)
    item, cradle = setting.items[spec.item], _cradle(spec, setting)
    margin = cradle.margins
    spare = berth.size[1] - cradle.tank[1] - margin["left"] - margin["right"]
    middle = (
        berth.x1 - margin["front"] - cradle.tank[0] / 2.0,
        berth.y0 + margin["right"] + spare / 2.0 + cradle.tank[1] / 2.0,
    )
    t = draft.board("carcass").thickness
    base = Berth(
        x0=middle[0] - cradle.base[0] / 2.0,
        x1=middle[0] + cradle.base[0] / 2.0,
        y0=middle[1] - cradle.base[1] / 2.0,
        y1=middle[1] + cradle.base[1] / 2.0,
        z0=berth.z0,
        z1=berth.z0 + t,
    )
    centre = (middle[0], middle[1], base.z1)
    add_base(draft, cradle, item, base)
    _tank(draft, spec, cradle, centre)
    add_fences(draft, cradle, base)
    _straps(draft, cradle, t)
    _fix(draft, spec, cradle, base)
    _accesses(draft, item, cradle, centre)
    _plumbing(draft, spec, item, cradle, centre)
    return draft.finish(berth)


def contents_kg(item: ItemSpec) -> float:
    """Mass of a full tank's contents: as given, else of so much water at 20 °C."""
    if item.contents is not None:
        return item.contents
    return (item.holds or 0.0) * water_density_kg_m3(FILL_TEMPERATURE_C) / 1000.0


def _tank(draft: Draft, spec: WaterTankSpec, cradle: Cradle, centre: Vector) -> None:
    """The tank on the base."""
    item = draft.setting.items[spec.item]
    length, width = cradle.tank
    size = (length, width, cradle.height)
    zones = [_bulge(item, side, size) for side in swelling(item)] if item.bulge else []
    draft.items.append(
        Item(
            name=spec.item,
            module=draft.name,
            pieces=(frustum(cradle.foot, item.top or cradle.foot, cradle.height),),
            mass_kg=item.mass,
            placement=flat(centre[0] - length / 2.0, centre[1] - width / 2.0, centre[2]),
            contents_kg=contents_kg(item),
            zones=(*zones, *hand_zones(item)),
            price=item.price,
        )
    )
    # By its whole id, since an item's name may hold a stroke.
    draft.rest(f"{draft.name}/{spec.item}", "base")


def _bulge(item: ItemSpec, side: Side, size: Vector) -> Zone:
    """Where a long side swells to, in the tank's own axes."""
    rest = (1.0 - BULGING_SHARE) / 2.0
    axis = 0 if side in ("rear", "front") else 1
    extent = [BULGING_SHARE * s for s in size]
    at = [rest * s for s in size]
    extent[axis] = item.bulge
    at[axis] = size[axis] if side in ("front", "left") else -item.bulge
    piece = block(extent[0], extent[1], extent[2], (at[0], at[1], at[2]))
    return Zone(name=f"bulge when full, {side}", piece=piece, when="full")


def _straps(draft: Draft, cradle: Cradle, t: float) -> None:
    """Straps round tank and base, the shortest that are long enough; felt for the fences."""
    around = 2.0 * (max(cradle.tank[0], cradle.base[0]) + cradle.height + t) + STRAP_TAIL
    articles = draft.setting.catalogue.articles.values()
    straps = sorted((a.length or 0.0, a.key) for a in articles if a.kind == "strap")
    strap = next((key for length, key in straps if length >= around), straps[-1][1])
    draft.buy(strap, len(cradle.straps), "round tank and base")
    run = sum(p.outline.size[0] for n, p in draft.panels.items() if "fence" in n)
    draft.buy("felt strip", _pieces(draft, "felt strip", run), "fences")


def _pieces(draft: Draft, article: str, run: float) -> int:
    """How many pieces of an article sold by length make up a run."""
    length = draft.setting.catalogue.articles[article].length
    assert length is not None
    return math.ceil(run / length)


def _fix(draft: Draft, spec: WaterTankSpec, cradle: Cradle, base: Berth) -> None:
    """Down to the floor or the module below, bolt heads flush under the tank.

    Known points of the floor first; elsewhere the fixing is only proposed, and a check
    asks what lies beneath.
    """
    if spec.on is not None:
        points = [p for p in _corners(cradle, base) if hole_fits(draft, p, 6.6)]
        draft.drill_at("base", points, 6.6, "bolt to the module below")
        draft.buy("countersunk bolt M6 x 30", len(points), f"down to {spec.on}")
        draft.buy("insert nut M6", len(points), f"down to {spec.on}")
        return
    draft.rest("base", "bay/floor")
    draft.needs_fixings = BOLTS
    articles = draft.setting.catalogue.articles
    known: list[AnchorPoint] = []
    for anchor in draft.setting.bay.anchors:
        article = f"countersunk bolt {anchor.thread} x 40"
        if article not in articles:
            article = FLOOR_BOLT
        bolt = articles[article]
        point = (anchor.x, anchor.y, base.z0)
        if not (_under(cradle, base, point) and hole_fits(draft, point, bolt.width or 18.0)):
            continue
        known.append(anchor)
        draft.drill_at("base", [point], bolt.clearance_hole or 9.0, "floor bolt")
        draft.fixings.append(
            Fixing(module=draft.name, point=point, article=article, anchor=anchor.name)
        )
        draft.buy(article, 1, "floor fixing")
    free = corners_left(_corners(cradle, base), known)
    for point in free[: max(0, BOLTS - len(known))]:
        draft.fixings.append(
            Fixing(module=draft.name, point=point, article=FLOOR_BOLT, anchor=None)
        )


def _corners(cradle: Cradle, base: Berth) -> list[Vector]:
    """Points under the tank's corners, clear of the straps."""
    end = cradle.foot[1] / 2.0 - max(cradle.straps) - STRAP_ROOM / 2.0
    x = cradle.foot[0] / 2.0 - min(BOLT_INSET, cradle.foot[0] / 4.0)
    y = cradle.foot[1] / 2.0 - min(BOLT_INSET, end / 2.0)
    middle = ((base.x0 + base.x1) / 2.0, (base.y0 + base.y1) / 2.0)
    return [(middle[0] + a * x, middle[1] + b * y, base.z0) for a in (-1, 1) for b in (-1, 1)]


def _under(cradle: Cradle, base: Berth, point: Vector) -> bool:
    middle = ((base.x0 + base.x1) / 2.0, (base.y0 + base.y1) / 2.0)
    return all(abs(point[i] - middle[i]) <= cradle.foot[i] / 2.0 - BOLT_EDGE for i in (0, 1))


def _accesses(draft: Draft, item: ItemSpec, cradle: Cradle, centre: Vector) -> None:
    """Room for a hand at each tap and above the filler."""
    own = (draft.items[0].id, f"{draft.name}/base")
    boxes = [
        (f"hand at the {name}", _before(outlet, at, width, cradle))
        for name, outlet, at, width in places_of(item, cradle)
    ]
    low = (-FILLER_ROOM[0] / 2.0, cradle.filler - FILLER_ROOM[1] / 2.0, cradle.height)
    boxes.append(("hand and hose at the filler", (low, FILLER_ROOM)))
    for name, (low, size) in boxes:
        zone = Zone(name=name, piece=block(*size))
        place = flat(centre[0] + low[0], centre[1] + low[1], centre[2] + low[2])
        draft.accesses.append(Access(zone=zone, placement=place, except_ids=own))


def _before(outlet: TapSpec, at: float, width: float, cradle: Cradle) -> tuple[Vector, Vector]:
    """The box before a tap, from the tank's middle at its underside: low corner and size."""
    low = max(0.0, outlet.height - HAND / 2.0)
    height = outlet.height + HAND / 2.0 - low
    axis = 0 if outlet.side in ("rear", "front") else 1
    face = cradle.foot[axis] / 2.0
    start = face if outlet.side in ("front", "left") else -face - outlet.reach
    if axis == 0:
        return (start, at - width / 2.0, low), (outlet.reach, width, height)
    return (at - width / 2.0, start, low), (width, outlet.reach, height)


def _plumbing(
    draft: Draft, spec: WaterTankSpec, item: ItemSpec, cradle: Cradle, centre: Vector
) -> None:
    """Hose, its fittings, a breather and a drain cock; none for a can without a tap."""
    if item.tap is None and spec.hose is None:
        return
    run = spec.hose
    if run is None:
        assert item.tap is not None
        run = hose_run(item.tap, cradle, centre, draft.setting.bay)
    draft.buy("hose 12", _pieces(draft, "hose 12", run), "tap to tailgate")
    draft.buy("barb fitting 12", 2, "hose ends")
    draft.buy("hose clip 12", 2, "hose ends")
    draft.buy("breather", 1, "tank")
    if item.drain is None:
        draft.buy("drain cock", 1, "lowest point of the hose")


def hose_run(tap: TapSpec, cradle: Cradle, centre: Vector, bay: Bay) -> float:
    """Length of hose from the tap down to the floor and along it to the tailgate, mm."""
    height = centre[2] + tap.height
    half = cradle.foot[0] / 2.0
    x = centre[0] + {"front": half, "rear": -half}.get(tap.side, 0.0)
    return height - bay.floor + x - rear_face(bay, bay.floor, height)


KIND = Kind(kind=WaterTankSpec.kind, spec=WaterTankSpec, needs=needs, build=build)
