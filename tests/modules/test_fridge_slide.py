"""The fridge slide: room asked for, tray and stops, slides, vents, lid, tie-downs."""

import dataclasses
from collections.abc import Callable, Mapping

import numpy as np
import pytest

from fitout.clearance.body import Body, body_of, body_of_obstacle, body_of_pieces
from fitout.clearance.contact import contact
from fitout.clearance.sweep import sweep
from fitout.model.bay import AnchorPoint, Bay
from fitout.model.design import ItemSpec, LidSpec
from fitout.model.item import Item, Zone
from fitout.model.module import Berth, Module, MotionKind
from fitout.model.spec import Size
from fitout.modules.fridge_slide import FridgeSlideSpec, build, needs
from fitout.modules.kind import Needs, Setting

Faults = Callable[[Module, Setting], list[str]]
SettingOf = Callable[..., Setting]

FRIDGE = ItemSpec(
    size=Size(420, 330, 340),
    mass=18.0,
    contents=15.0,
    vents=("left", "rear"),
    lid=LidSpec(hinge="left", opens=95.0),
)
LONG = ItemSpec(size=Size(690, 398, 470), mass=21.0, contents=24.0)
VENTED = ItemSpec(
    size=Size(400, 300, 320),
    top=(390, 292),
    mass=14.0,
    vents=("left", "right", "front", "rear"),
    vent_gap=90.0,
    lid=LidSpec(hinge="front", opens=80.0),
)
ITEMS = {"fridge": FRIDGE, "long": LONG, "vented": VENTED}
SPEC = FridgeSlideSpec(item="fridge")


def berth_for(asked: Needs, bay: Bay, depth: float | None = None) -> Berth:
    """The least room asked for, in the middle of the bay, a hand ahead of the sill."""
    x = asked.x.least if depth is None else depth
    y, floor = asked.y.least, bay.floor
    return Berth(x0=150.0, x1=150.0 + x, y0=-y / 2, y1=y / 2, z0=floor, z1=floor + asked.z.least)


def made(spec: FridgeSlideSpec, setting: Setting, depth: float | None = None) -> Module:
    return build("cold", spec, berth_for(needs(spec, setting), setting.bay, depth), setting)


def panel(module: Module, name: str):
    return next(p for p in module.panels if p.name == name)


def box(part) -> tuple[np.ndarray, np.ndarray]:
    body = body_of(part)
    return body.lo, body.hi


def bought(module: Module) -> dict[str, int]:
    counted: dict[str, int] = {}
    for line in module.hardware:
        counted[line.article] = counted.get(line.article, 0) + line.quantity
    return counted


def the_fridge(module: Module) -> Item:
    return next(i for i in module.items if i.moves == "fridge")


def zone_body(item: Item, zone: Zone) -> Body:
    return body_of_pieces(zone.name, [zone.piece], item.placement)


@pytest.fixture
def wagon(bays: Mapping[str, Bay], setting_of: SettingOf) -> Setting:
    return setting_of(bays["wagon"], items=ITEMS)


@pytest.mark.parametrize("thickness", [9.2, 11.7, 12.0, 17.6])
@pytest.mark.parametrize("item", ["fridge", "vented"])
def test_is_sound_in_every_bay_and_board(
    bay: Bay, setting_of: SettingOf, faults_of: Faults, thickness: float, item: str
) -> None:
    setting = setting_of(bay, thickness, items=ITEMS)
    spec = FridgeSlideSpec(item=item)
    inside = berth_for(needs(spec, setting), bay)
    module = build("cold", spec, inside, setting)
    # The small bay is too short for a fridge: where it stands is the arrangement's business.
    assert [f for f in faults_of(module, setting) if "seat" not in f] == []
    for part in module.parts():
        lo, hi = box(part)
        assert (lo >= np.array([inside.x0, inside.y0, inside.z0]) - 1e-6).all(), part.name
        assert (hi <= np.array([inside.x1, inside.y1, inside.z1]) + 1e-6).all(), part.name


def test_the_fridge_stands_on_the_tray_with_little_play_all_round(wagon: Setting) -> None:
    module = made(SPEC, wagon)
    lo, hi = box(the_fridge(module))
    assert lo[2] == pytest.approx(box(panel(module, "tray base"))[1][2])
    assert lo[0] - box(panel(module, "rear stop"))[1][0] == pytest.approx(4.0)
    assert box(panel(module, "front stop"))[0][0] - hi[0] == pytest.approx(4.0)
    assert lo[1] - box(panel(module, "tray right side"))[1][1] == pytest.approx(4.0)
    assert box(panel(module, "tray left side"))[0][1] - hi[1] == pytest.approx(4.0)
    assert panel(module, "rear stop").outline.size[1] == pytest.approx(40.0)


def test_all_that_moves_clears_the_lip(wagon: Setting) -> None:
    module = made(SPEC, wagon)
    moving = [p for p in module.parts() if getattr(p, "moves", None) == "fridge"]
    assert len(moving) == 6
    lowest = min(box(p)[0][2] for p in moving)
    assert lowest == pytest.approx(max(wagon.bay.lip + 2 * wagon.rules.moving, 12.0 + 9.0))


def test_a_high_lip_raises_the_tray_and_the_room_asked_for(wagon: Setting) -> None:
    high = dataclasses.replace(wagon, bay=dataclasses.replace(wagon.bay, lip=80.0))
    raised = 80.0 + 3.0 - max(wagon.bay.lip + 3.0, 21.0)
    assert needs(SPEC, high).z.least == pytest.approx(needs(SPEC, wagon).z.least + raised)


def test_the_tray_runs_out_without_touching(bay: Bay, setting_of: SettingOf) -> None:
    setting = setting_of(bay, items=ITEMS)
    module = made(SPEC, setting)
    motion = module.motions[0]
    assert motion.direction == (-1.0, 0.0, 0.0)
    joined = {frozenset((j.a, j.b)) for j in module.joints}
    sill = next(o for o in bay.obstacles if o.name == "sill")
    still = [body_of(p) for p in module.parts() if getattr(p, "moves", None) is None]
    still.append(body_of_obstacle(sill))
    for part in module.parts():
        if getattr(part, "moves", None) is None:
            continue
        swept = sweep(body_of(part), motion.direction, motion.travel)
        for other in still:
            if frozenset((part.id, other.id)) in joined:
                continue
            assert contact(swept, other, 5.0).gap >= setting.rules.moving - 1e-6


def test_the_shortest_slide_that_brings_the_fridge_right_out_is_taken(wagon: Setting) -> None:
    spec = FridgeSlideSpec(item="long")
    asked = needs(spec, wagon)
    wide = made(spec, wagon, asked.x.wanted)
    assert wide.slides[0].slide.key == "heavy locking 800"
    assert wide.motions[0].travel == 800.0
    assert panel(wide, "tray base").outline.size[0] == 800.0
    rear = box(panel(wide, "left cheek"))[0][0]
    assert box(the_fridge(wide))[1][0] - wide.motions[0].travel <= rear
    short = made(spec, wagon)
    assert short.slides[0].slide.key == "heavy locking 700"
    assert asked.x.least < asked.x.wanted
    deep = made(spec, wagon, 1000.0)
    assert deep.slides[0].slide.key == "heavy locking 800"
    assert box(panel(deep, "base"))[1][0] == pytest.approx(1150.0)


def test_slides_wished_for_are_taken(wagon: Setting) -> None:
    named = FridgeSlideSpec(item="fridge", slides="full extension 400")
    assert made(named, wagon).slides[0].slide.key == "full extension 400"
    long = FridgeSlideSpec(item="fridge", slides="heavy locking 700")
    module = made(long, wagon)
    assert panel(module, "tray base").outline.size[0] == 700.0
    sort = FridgeSlideSpec(item="fridge", slides="full extension")
    assert made(sort, wagon, 700.0).slides[0].slide.key == "full extension 500"


def test_what_slides_and_tray_carry(wagon: Setting) -> None:
    module = made(SPEC, wagon)
    duty = module.slides[0]
    by_id = {p.id: p for p in module.parts()}
    moving = sum(by_id[i].mass_kg for i in duty.moving)
    wood = sum(p.mass_kg for p in module.panels if p.moves == "fridge")
    assert moving == pytest.approx(wood + 18.0)
    assert duty.contents_kg == 15.0
    plate = module.plates[0]
    assert plate.load_kg == 33.0
    assert plate.spans == pytest.approx(panel(module, "tray base").outline.size)
    assert plate.edges == "v ends"


def test_vents_get_their_air(bay: Bay, setting_of: SettingOf) -> None:
    for item, zones in (("fridge", 2), ("vented", 4)):
        module = made(FridgeSlideSpec(item=item), setting_of(bay, items=ITEMS))
        fridge, inside = the_fridge(module), module.berth
        air = [z for z in fridge.zones if z.when == "always"]
        assert len(air) == zones
        for zone in air:
            body = zone_body(fridge, zone)
            assert inside.x0 - 1e-6 <= body.lo[0]
            assert body.hi[0] <= inside.x1 + 1e-6
            assert inside.y0 - 1e-6 <= body.lo[1]
            assert body.hi[1] <= inside.y1 + 1e-6
            assert body.hi[2] == pytest.approx(body_of(fridge).hi[2])
            for part in module.parts():
                assert part is fridge or not contact(body, body_of(part), 1.0).clashes


def test_vents_widen_and_lengthen_the_berth_by_what_is_missing(wagon: Setting) -> None:
    items = {
        "without": dataclasses.replace(VENTED, vents=()),
        "sides": dataclasses.replace(VENTED, vents=("left", "right")),
        "ends": dataclasses.replace(VENTED, vents=("rear", "front")),
    }
    setting = dataclasses.replace(wagon, items=items)
    plain, sides, ends = (needs(FridgeSlideSpec(item=i), setting) for i in items)
    # Beside the fridge stand 4 of play, a side and a cheek of 12 each, a slide of 19.1.
    assert sides.y.least - plain.y.least == pytest.approx(2 * (90 - 47.1))
    assert sides.x == plain.x
    # Behind it lie 36 of tray, ahead of it 36 of tray, 10 of gap and a rail of 12; or more
    # tray, where the slide is longer than the fridge needs.
    more = (90 - 36) + (90 - 58)
    assert ends.x.least - plain.x.least <= more
    assert ends.y == plain.y
    assert plain.y.least == pytest.approx(300 + 2 * 47.1)


def test_the_lid_opens_once_the_fridge_is_out(wagon: Setting) -> None:
    module = made(SPEC, wagon)
    lid = next(m for m in module.motions if m.of)
    assert lid.of == the_fridge(module).id
    assert lid.needs == (next(m for m in module.motions if m.kind is MotionKind.SLIDE).id,)
    assert lid.travel == 95.0


@pytest.mark.parametrize(("eyes", "straps"), [(0, 0), (2, 1), (4, 2)])
def test_tie_downs(wagon: Setting, faults_of: Faults, eyes: int, straps: int) -> None:
    module = made(FridgeSlideSpec(item="fridge", tie_downs=eyes), wagon)
    assert faults_of(module, wagon) == []
    counted = bought(module)
    for article in ("tie-down eye", "bolt M6 x 30", "lock nut M6", "large washer M6"):
        assert counted.get(article, 0) == eyes
    assert counted.get("cam strap 25", 0) == straps
    holes = [h for h in panel(module, "tray base").holes if h.purpose == "tie-down eye"]
    assert len(holes) == eyes
    inner = panel(module, "tray base").outline.size[1]
    short = sum(inner - panel(module, f"{e} stop").outline.size[0] for e in ("rear", "front"))
    assert short == pytest.approx(36.0 * eyes)


def test_thick_trays_take_longer_bolts(bays: Mapping[str, Bay], setting_of: SettingOf) -> None:
    module = made(SPEC, setting_of(bays["wagon"], 20.4, items=ITEMS))
    assert bought(module)["bolt M6 x 40"] == 4


def test_a_thin_tray_board_gives_way_to_the_carcass_board(wagon: Setting) -> None:
    assert wagon.boards["tray"].thickness < wagon.boards["carcass"].thickness
    assert panel(made(SPEC, wagon), "tray base").board == wagon.boards["carcass"]
    thick = {**wagon.boards, "tray": wagon.catalogue.sheets["birch ply 15"]}
    module = made(SPEC, dataclasses.replace(wagon, boards=thick))
    assert panel(module, "tray base").board == thick["tray"]


def test_the_base_is_bolted_between_the_cheeks(wagon: Setting) -> None:
    anchor = AnchorPoint(name="eye", x=300.0, y=100.0, z=0.0, thread="M8", below="clear")
    under = AnchorPoint(
        name="cheek", x=300.0, y=needs(SPEC, wagon).y.least / 2 - 6, z=0.0, thread="M8", below="x"
    )
    bay = dataclasses.replace(wagon.bay, anchors=(anchor, under))
    module = made(SPEC, dataclasses.replace(wagon, bay=bay))
    assert [f.anchor for f in module.fixings] == ["eye", None, None, None]
    holes = [h for h in panel(module, "base").holes if h.purpose == "floor bolt"]
    assert len(holes) == 1
    inner = box(panel(module, "right cheek"))[1][1], box(panel(module, "left cheek"))[0][1]
    for fixing in module.fixings:
        assert inner[0] + 12 < fixing.point[1] < inner[1] - 12


def test_on_another_module_it_is_bolted_to_that(wagon: Setting, faults_of: Faults) -> None:
    spec = FridgeSlideSpec(item="fridge", on="drawers")
    asked = needs(spec, wagon)
    berth = dataclasses.replace(berth_for(asked, wagon.bay), z0=250.0, z1=250.0 + asked.z.least)
    module = build("cold", spec, berth, wagon)
    assert faults_of(module, wagon) == []
    assert module.fixings == ()
    assert bought(module)["bolt M6 x 30"] == 8
    assert box(the_fridge(module))[1][2] == pytest.approx(berth.z1 - 10.0)


def test_sizes_given_are_kept_and_too_small_ones_contradict(wagon: Setting) -> None:
    usual = needs(SPEC, wagon)
    roomy = needs(FridgeSlideSpec(item="fridge", width=600.0), wagon).y
    assert (roomy.least, roomy.most, roomy.given) == (600.0, 600.0, "width")
    tight = needs(FridgeSlideSpec(item="fridge", width=300.0), wagon).y
    assert tight.most == 300.0
    assert tight.least == usual.y.least
    module = build(
        "cold",
        SPEC,
        dataclasses.replace(berth_for(usual, wagon.bay), y0=-300.0, y1=300.0),
        wagon,
    )
    assert panel(module, "base").outline.size[1] == 600.0
    lo, hi = box(the_fridge(module))
    assert lo[1] - 50 > -300
    assert hi[1] + 50 < 300


def test_a_fridge_wider_at_the_top_gets_the_width_of_its_top(
    wagon: Setting, faults_of: Faults
) -> None:
    wide = dataclasses.replace(FRIDGE, top=(440, 360))
    setting = dataclasses.replace(wagon, items={"fridge": wide})
    assert needs(SPEC, setting).y.least == pytest.approx(needs(SPEC, wagon).y.least + 30.0)
    module = made(SPEC, setting)
    assert faults_of(module, setting) == []
    lo, hi = box(the_fridge(module))
    assert lo[1] - box(panel(module, "tray right side"))[1][1] == pytest.approx(4.0)
    assert box(panel(module, "front stop"))[0][0] - hi[0] == pytest.approx(4.0)
