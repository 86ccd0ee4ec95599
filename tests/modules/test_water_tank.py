"""The water tank: berth, cradle, straps, taps, hose, contents."""

import dataclasses
from collections.abc import Callable, Mapping

import pytest

from fitout.model.bay import AnchorPoint, Bay
from fitout.model.design import ItemSpec, TapSpec
from fitout.model.module import Berth, Module
from fitout.model.spec import Size
from fitout.modules.kind import Needs, Setting
from fitout.modules.water_tank import WaterTankSpec, build, contents_kg, needs

Faults = Callable[[Module, Setting], list[str]]
SettingOf = Callable[..., Setting]

TANK = ItemSpec(
    size=Size(168, 700, 330), mass=4.5, holds=36.0, tap=TapSpec(side="left", height=20), bulge=8.0
)
CANISTER = ItemSpec(size=Size(240, 300, 400), top=(200, 260), mass=2.0, contents=18.0)
WIDENS = ItemSpec(
    size=Size(150, 600, 300),
    top=(170, 660),
    mass=4.0,
    holds=30.0,
    tap=TapSpec(side="rear", height=30, reach=50),
    drain=TapSpec(side="right", height=0, reach=40),
)
LENGTHWISE = ItemSpec(size=Size(420, 200, 240), mass=3.0, holds=25.0, bulge=6.0)
TWO_OUTLETS = ItemSpec(
    size=Size(180, 640, 260),
    mass=4.0,
    holds=25.0,
    tap=TapSpec(side="left", height=60),
    drain=TapSpec(side="left", height=0),
)
TANKS = {
    "tank": TANK,
    "canister": CANISTER,
    "widens": WIDENS,
    "lengthwise": LENGTHWISE,
    "two outlets": TWO_OUTLETS,
}


def berth_for(asked: Needs, bay: Bay, spare: float = 0.0) -> Berth:
    """A berth of the room asked for, or so much larger each way, between tailgate and seat."""
    x, y, z = asked.x.least + spare, asked.y.least + spare, asked.z.least + spare
    x1 = bay.front - 200.0
    floor = bay.floor
    return Berth(x0=x1 - x, x1=x1, y0=-y / 2.0, y1=y / 2.0, z0=floor, z1=floor + z)


def made(spec: WaterTankSpec, setting: Setting, spare: float = 0.0) -> Module:
    return build("tank", spec, berth_for(needs(spec, setting), setting.bay, spare), setting)


def bought(module: Module) -> dict[str, int]:
    counted: dict[str, int] = {}
    for line in module.hardware:
        counted[line.article] = counted.get(line.article, 0) + line.quantity
    return counted


@pytest.mark.parametrize("item", TANKS)
@pytest.mark.parametrize(
    ("thickness", "fences", "spare"), [(9.0, "all", 75.0), (11.7, "ends", 75.0), (18.0, "all", 0.0)]
)
def test_sound_and_within_its_berth(
    bay: Bay,
    setting_of: SettingOf,
    faults_of: Faults,
    item: str,
    thickness: float,
    fences: str,
    spare: float,
) -> None:
    setting = setting_of(bay, thickness, items=TANKS)
    module = made(WaterTankSpec(item=item, fences=fences), setting, spare)
    assert faults_of(module, setting) == []
    assert module.berth is not None
    berth = module.berth
    low, high = (berth.x0, berth.y0, berth.z0), (berth.x1, berth.y1, berth.z1)
    points = [corner for panel in module.panels for corner in _corners(panel)]
    points += [tuple(corner) for corner in module.items[0].corners()[0].tolist()]
    for point in points:
        assert all(a - 1e-6 <= p <= b + 1e-6 for a, p, b in zip(low, point, high, strict=True)), (
            point
        )


def _corners(panel):
    x0, y0, x1, y1 = panel.outline.bounds
    for w in (0.0, panel.thickness):
        yield panel.placement.at(x0, y0, w)
        yield panel.placement.at(x1, y1, w)


def test_asks_for_tank_fences_tap_room_and_bulge(
    bays: Mapping[str, Bay], setting_of: SettingOf
) -> None:
    setting = setting_of(bays["wagon"], 12.0, items=TANKS)
    asked = needs(WaterTankSpec(item="tank"), setting)
    assert asked.x.least == asked.x.most == 168 + 2 * 8
    # Left: 60 mm before the tap; right: fence and felt.
    assert asked.y.least == asked.y.most == 700 + 60 + 14
    assert asked.z.least == asked.z.most == 330 + 12
    assert (asked.top, asked.lateral, asked.place) == ("below deck", "across", "front")
    assert asked.gap == setting.rules.tank
    all_round = needs(WaterTankSpec(item="tank", fences="all"), setting)
    # The fences front and rear stand off by the bulge.
    assert all_round.x.least == 168 + 2 * (8 + 12)


def test_a_wish_larger_than_the_tank_is_taken_a_smaller_one_is_not(
    bays: Mapping[str, Bay], setting_of: SettingOf
) -> None:
    setting = setting_of(bays["wagon"], items=TANKS)
    assert needs(WaterTankSpec(item="tank", depth=300.0), setting).x.least == 300.0
    assert needs(WaterTankSpec(item="tank", depth=300.0), setting).x.given == "depth"
    assert needs(WaterTankSpec(item="tank", depth=100.0), setting).x.least == 184.0


def test_stands_as_far_forward_as_its_bulge_allows(
    bays: Mapping[str, Bay], setting_of: SettingOf
) -> None:
    setting = setting_of(bays["wagon"], items=TANKS)
    module = made(WaterTankSpec(item="tank"), setting, spare=120.0)
    (tank,) = module.items
    assert module.berth is not None
    assert tank.corners()[0][:, 0].max() == pytest.approx(module.berth.x1 - 8.0)


@pytest.mark.parametrize(("item", "sides"), [("tank", 0), ("lengthwise", 1)])
def test_long_sides_have_zones_for_the_bulge(
    bays: Mapping[str, Bay], setting_of: SettingOf, item: str, sides: int
) -> None:
    setting = setting_of(bays["wagon"], items=TANKS)
    (tank,) = made(WaterTankSpec(item=item), setting).items
    size = (TANKS[item].size.length, TANKS[item].size.width, TANKS[item].size.height)
    assert {zone.when for zone in tank.zones} == {"full"}
    for zone, edge in zip(tank.zones, (0, 1), strict=True):
        for axis in range(3):
            extent = [p[axis] for p in zone.piece]
            if axis == sides:
                swelling = {(-TANKS[item].bulge, 0.0), (size[axis], size[axis] + TANKS[item].bulge)}
                assert (min(extent), max(extent)) in swelling
            else:
                share = (max(extent) - min(extent)) / size[axis]
                assert share == pytest.approx(0.8), (zone.name, edge)


def test_contents_are_given_or_reckoned_as_water() -> None:
    assert contents_kg(CANISTER) == 18.0
    assert contents_kg(TANK) == pytest.approx(36.0 * 0.9982, abs=0.001)


def test_straps_one_for_each_450_mm_at_least_two(
    bays: Mapping[str, Bay], setting_of: SettingOf
) -> None:
    items = {
        str(width): ItemSpec(size=Size(160, width, 250), mass=3.0, holds=20.0)
        for width in (300, 900, 901)
    }
    setting = setting_of(bays["wagon"], items=items)
    counts = [bought(made(WaterTankSpec(item=i), setting))["cam strap 25"] for i in items]
    assert counts == [2, 2, 3]
    module = made(WaterTankSpec(item="300", straps=1), setting)
    assert bought(module)["cam strap 25"] == 1
    base = next(p for p in module.panels if p.name == "base")
    assert len(base.pockets) == 1


def test_a_long_loop_takes_a_longer_strap(bays: Mapping[str, Bay], setting_of: SettingOf) -> None:
    setting = setting_of(bays["van"], items=TANKS)
    # Round tank and base: 2 (420 + 240 + 12) + 150 mm for the hand.
    assert bought(made(WaterTankSpec(item="lengthwise"), setting))["cam strap 25"] == 2
    long = {"long": ItemSpec(size=Size(900, 200, 240), mass=5.0, holds=40.0)}
    setting = setting_of(bays["van"], items=long)
    assert bought(made(WaterTankSpec(item="long"), setting))["ratchet strap 25"] == 2


def test_hose_runs_from_the_tap_to_the_tailgate(
    bays: Mapping[str, Bay], setting_of: SettingOf
) -> None:
    setting = setting_of(bays["wagon"], 12.0, items=TANKS)
    spec = WaterTankSpec(item="tank")
    asked = needs(spec, setting)
    berth = Berth(x0=816, x1=816 + asked.x.least, y0=-387, y1=387, z0=0, z1=342)
    count = bought(build("tank", spec, berth, setting))
    # The tap is 900 mm forward and 32 mm up, where the tailgate leans in by 2.1 mm.
    assert count["hose 12"] == 1
    assert (count["barb fitting 12"], count["hose clip 12"]) == (2, 2)
    assert (count["breather"], count["drain cock"]) == (1, 1)
    further = Berth(x0=916, x1=916 + asked.x.least, y0=-387, y1=387, z0=0, z1=342)
    assert bought(build("tank", spec, further, setting))["hose 12"] == 2
    given = WaterTankSpec(item="tank", hose=2400.0)
    assert bought(build("tank", given, berth, setting))["hose 12"] == 3


def test_own_drain_needs_no_cock_and_a_can_needs_no_hose(
    bays: Mapping[str, Bay], setting_of: SettingOf
) -> None:
    setting = setting_of(bays["wagon"], items=TANKS)
    assert "drain cock" not in bought(made(WaterTankSpec(item="widens"), setting))
    assert "hose 12" not in bought(made(WaterTankSpec(item="canister"), setting))


def test_hands_reach_tap_drain_and_filler(bays: Mapping[str, Bay], setting_of: SettingOf) -> None:
    setting = setting_of(bays["wagon"], 12.0, items=TANKS)
    module = made(WaterTankSpec(item="widens"), setting)
    names = {access.zone.name: access for access in module.accesses}
    assert set(names) == {"hand at the tap", "hand at the drain", "hand and hose at the filler"}
    tap, filler = names["hand at the tap"], names["hand and hose at the filler"]
    (tank,) = module.items
    corners = tank.corners()[0]
    low = tap.placement.origin
    reach = max(p[0] for p in tap.zone.piece)
    # The tap's room ends at the tank's foot, 10 mm in from where its top reaches.
    assert low[0] + reach == pytest.approx(corners[:, 0].min() + 10.0)
    assert reach == 50.0
    assert filler.placement.origin[2] == pytest.approx(corners[:, 2].max())
    assert [max(p[k] for p in filler.zone.piece) for k in range(3)] == [100.0, 100.0, 80.0]


def test_known_points_of_the_floor_are_used_if_nothing_is_in_their_way(
    bays: Mapping[str, Bay], setting_of: SettingOf
) -> None:
    plain = setting_of(bays["wagon"], 12.0, items=TANKS)
    spec = WaterTankSpec(item="tank")
    berth = berth_for(needs(spec, plain), plain.bay)
    middle = (berth.x0 + berth.x1) / 2.0
    # The tank spans from 14 mm in from the berth's right edge; its straps lie a quarter in.
    strap = berth.y0 + 14.0 + 175.0
    points = {"good": (middle, strap + 120.0), "strap": (middle, strap), "off": (middle, 800.0)}
    anchors = tuple(
        AnchorPoint(name=n, x=x, y=y, z=0.0, thread="M8", below="clear")
        for n, (x, y) in points.items()
    )
    setting = setting_of(dataclasses.replace(plain.bay, anchors=anchors), 12.0, items=TANKS)
    module = build("tank", spec, berth, setting)
    assert [f.anchor for f in module.fixings] == ["good", None, None, None]
    base = next(p for p in module.panels if p.name == "base")
    assert [h.diameter for h in base.holes if h.purpose == "floor bolt"] == [9.0]
    assert bought(module)["countersunk bolt M8 x 40"] == 1
    assert module.needs_fixings == 4


def test_no_point_is_proposed_where_one_is_known(
    bays: Mapping[str, Bay], setting_of: SettingOf
) -> None:
    plain = setting_of(bays["wagon"], 12.0, items=TANKS)
    spec = WaterTankSpec(item="tank")
    berth = berth_for(needs(spec, plain), plain.bay)
    proposed = [f.point for f in build("tank", spec, berth, plain).fixings]
    anchors = tuple(
        AnchorPoint(name=f"{k}", x=x, y=y, z=0.0, thread="M8", below="clear")
        for k, (x, y, _) in enumerate(proposed[2:])
    )
    setting = setting_of(dataclasses.replace(plain.bay, anchors=anchors), 12.0, items=TANKS)
    fixings = build("tank", spec, berth, setting).fixings
    assert [f.anchor for f in fixings] == ["0", "1", None, None]
    assert [f.point for f in fixings[2:]] == proposed[:2]


def test_on_another_module_it_is_bolted_to_that(
    bays: Mapping[str, Bay], setting_of: SettingOf, faults_of: Faults
) -> None:
    setting = setting_of(bays["wagon"], items=TANKS)
    spec = WaterTankSpec(item="widens", on="drawers")
    module = made(spec, setting)
    assert bought(module)["insert nut M6"] == 4
    assert module.fixings == ()
    assert "bay/floor" not in {joint.b for joint in module.joints}
    # The berth of this test stands on the floor, which is then touched without a joint.
    assert [f for f in faults_of(module, setting) if "bay/floor" not in f] == []
