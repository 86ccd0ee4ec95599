import dataclasses
import itertools
import math

import numpy as np
import pytest

from fitout.clearance.body import body_of, body_of_obstacle
from fitout.clearance.contact import contact
from fitout.mechanics.plates import Patch, plate_of_board, plate_response
from fitout.model.bay import AnchorPoint
from fitout.model.module import Berth, MotionKind, Remark
from fitout.model.panel import Grain
from fitout.modules.box import KIND, BoxSpec, build, needs
from fitout.modules.deck import DeckSpec
from fitout.modules.drawers import DrawersSpec
from fitout.survey.room import front_face, rear_face

BERTH = Berth(x0=60.0, x1=800.0, y0=-430.0, y1=440.0, z0=0.0, z1=310.0)
SMALL = Berth(x0=60.0, x1=212.0, y0=-80.0, y1=80.0, z0=0.0, z1=84.0)
LONG = Berth(x0=30.0, x1=1290.0, y0=-540.0, y1=555.0, z0=0.0, z1=320.0)

SPECS = {
    "plinth": BoxSpec(),
    "open rear": BoxSpec(open_side="rear", dividers=3),
    "open front": BoxSpec(open_side="front"),
    "open top": BoxSpec(open_side="top", carries=12.0),
    "lift": BoxSpec(lid="lift", carries=20.0),
    "lift, open rear": BoxSpec(lid="lift", open_side="rear"),
    "loose": BoxSpec(lid="loose"),
    "loose, open front": BoxSpec(lid="loose", open_side="front", dividers=1),
}


def built(setting, spec=BoxSpec(), berth=BERTH, name="box"):  # noqa: B008 - frozen
    return build(name, spec, berth, setting)


def panel(module, name):
    return next(p for p in module.panels if p.name == name)


def named(module, word):
    return [p for p in module.panels if p.name.startswith(word)]


@pytest.mark.parametrize("thickness", [9.2, 11.7, 17.6])
@pytest.mark.parametrize("berth", [BERTH, SMALL, LONG], ids=["usual", "small", "long"])
@pytest.mark.parametrize("name", sorted(SPECS))
def test_sound_and_within_its_berth(bays, setting_of, faults_of, name, berth, thickness):
    setting = setting_of(bays["van"], thickness)
    module = built(setting, SPECS[name], berth)
    assert faults_of(module, setting) == []
    low = np.min([body_of(p).lo for p in module.panels], axis=0)
    high = np.max([body_of(p).hi for p in module.panels], axis=0)
    assert low.tolist() == pytest.approx([berth.x0, berth.y0, berth.z0])
    assert high.tolist() == pytest.approx([berth.x1, berth.y1, berth.z1])


@pytest.mark.parametrize("thickness", [9.2, 11.7, 17.6])
def test_the_top_reaches_over_the_arches_to_the_walls(bay, setting_of, faults_of, thickness):
    setting = setting_of(bay, thickness)
    spec = BoxSpec(over_arches=True)
    wish = needs(spec, setting)
    inner = min(bay.arches[side][1] for side in bay.arches) - 3.0
    z1 = wish.z.wanted
    x0, x1 = rear_face(bay, 0.0, z1, clear=3.0), front_face(bay, 0.0, z1, clear=5.0)
    berth = Berth(x0=x0, x1=x1, y0=-inner, y1=inner, z0=0.0, z1=z1)
    module = built(setting, spec, berth)
    assert faults_of(module, setting) == []
    bodies = [body_of(p) for p in named(module, "top")]
    solids = [body_of_obstacle(o) for o in bay.obstacles if o.kind in ("surface", "arch")]
    for body, solid in itertools.product(bodies, solids):
        if solid.id != "bay/floor":
            assert contact(body, solid, 10.0).gap >= 2.0
    reach = max(b.hi[1] for b in bodies) - min(b.lo[1] for b in bodies)
    assert reach > 2.0 * inner + 60.0
    assert all(p.scribed for p in (named(module, "top")[0], named(module, "top")[-1]))


def test_parts_too_large_for_a_sheet_are_made_in_two(bays, setting_of):
    setting = setting_of(bays["van"])
    board = setting.boards["deck"]
    module = built(setting, BoxSpec(over_arches=True), LONG)
    assert len(named(module, "top")) == len(named(module, "base")) == 2
    for part in module.panels:
        short, long = sorted(part.outline.size)
        assert short <= board.width - 20.0
        assert long <= board.length - 20.0
    one = built(setting, BoxSpec(), BERTH)
    assert [p.name for p in named(one, "base")] == ["base"]


def test_uprights_stand_so_near_that_the_top_bears_a_knee(bays, setting_of):
    for thickness in (9.2, 12.0, 17.6):
        setting = setting_of(bays["van"], thickness)
        module = built(setting)
        (duty,) = module.plates
        assert duty.patch
        clear = duty.spans[1]
        assert clear <= 450.0
        top = panel(module, "top")
        assert top.grain is Grain.ALONG_V
        plate = plate_of_board(top.board, duty.spans, "v ends", grain_along_u=False)
        patch = Patch(load_n=1000.0, size_u=100.0, size_v=100.0)
        assert plate_response(plate, patch=patch).deflection <= clear / 100.0
        uprights = sorted(
            body_of(p).lo[1] for p in module.panels if "side" in p.name or "divider" in p.name
        )
        gaps = np.diff(uprights) - thickness
        assert max(gaps) == pytest.approx(clear)


def test_dividers_asked_for_are_there(bays, setting_of):
    setting = setting_of(bays["van"])
    assert len(named(built(setting, BoxSpec(dividers=4)), "divider")) == 4
    assert len(named(built(setting, BoxSpec(dividers=0)), "divider")) >= 1


def test_an_open_side_has_a_rail_and_no_wall(bays, setting_of):
    module = built(setting_of(bays["van"]), BoxSpec(open_side="rear"))
    names = {p.name for p in module.panels}
    assert "rear rail" in names
    assert "rear end" not in names
    rail = body_of(panel(module, "rear rail"))
    assert rail.hi[2] - rail.lo[2] == pytest.approx(60.0)
    assert rail.hi[2] == pytest.approx(BERTH.z1 - 12.0)
    top_open = built(setting_of(bays["van"]), BoxSpec(open_side="top"))
    assert not named(top_open, "top")
    assert not named(top_open, "lid")


def turned(point, motion, degrees):
    """A point of a hinged part after `degrees`, by the right-hand rule about +y."""
    assert motion.direction == (0.0, 1.0, 0.0)
    angle = math.radians(degrees)
    x, z = point[0] - motion.point[0], point[2] - motion.point[2]
    return (
        motion.point[0] + x * math.cos(angle) + z * math.sin(angle),
        point[1],
        motion.point[2] - x * math.sin(angle) + z * math.cos(angle),
    )


def test_a_lifting_lid_opens_up_and_forward(bays, setting_of):
    module = built(setting_of(bays["van"]), BoxSpec(lid="lift"))
    lid = panel(module, "lid")
    (motion,) = module.motions
    assert motion.kind is MotionKind.HINGE
    assert lid.moves == motion.name
    assert motion.travel == 95.0
    rear = turned((BERTH.x0, 0.0, BERTH.z1), motion, 90.0)
    assert rear[2] == pytest.approx(BERTH.z1 + (motion.point[0] - BERTH.x0))
    assert body_of(lid).hi[0] == pytest.approx(motion.point[0])
    bought = {(li.article, li.purpose): li.quantity for li in module.hardware}
    assert bought["strip hinge", "lid"] == 1
    assert sum(n for (a, _), n in bought.items() if a.startswith("lid stay")) == 1


def test_a_lid_opens_no_further_than_the_roof_lets_it(bays, setting_of):
    bay = bays["hatch"]
    berth = Berth(x0=140.0, x1=700.0, y0=-400.0, y1=400.0, z0=0.0, z1=420.0)
    module = built(setting_of(bay), BoxSpec(lid="lift"), berth)
    (motion,) = module.motions
    assert 15.0 < motion.travel < 60.0
    tip = turned((berth.x0, 0.0, berth.z1), motion, motion.travel)
    assert tip[2] <= np.interp(berth.x0, *np.array(bay.roof).T) - 1.5
    further = turned((berth.x0, 0.0, berth.z1), motion, motion.travel + 1.5)
    assert further[2] > np.interp(berth.x0, *np.array(bay.roof).T) - 3.0


def test_a_loose_lid_lies_flush_on_cleats_and_lifts_off(bays, setting_of):
    module = built(setting_of(bays["van"]), BoxSpec(lid="loose"))
    lid = body_of(panel(module, "lid"))
    assert lid.hi[2] == pytest.approx(BERTH.z1)
    assert lid.lo[1] == pytest.approx(BERTH.y0 + 12.0 + 1.5)
    (motion,) = module.motions
    assert motion.kind is MotionKind.REMOVE
    assert motion.direction == (0.0, 0.0, 1.0)
    for side in ("left", "right"):
        assert body_of(panel(module, f"{side} cleat")).hi[2] == pytest.approx(lid.lo[2])


@pytest.mark.parametrize("lid", ["lift", "loose"])
def test_a_hand_gets_under_a_lid(bays, setting_of, lid):
    module = built(setting_of(bays["van"]), BoxSpec(lid=lid, dividers=3))
    part = panel(module, "lid")
    (hole,) = part.outline.inner
    u0, v0, u1, v1 = hole.bounds
    assert (u1 - u0, v1 - v0) == pytest.approx((32.0, min(100.0, v1 - v0)))
    low, high = part.placement.at(u0, v0), part.placement.at(u1, v1)
    assert low[0] > BERTH.x0 + 12.0
    for upright in named(module, "divider"):
        body = body_of(upright)
        assert high[1] < body.lo[1] or low[1] > body.hi[1]


def test_a_wide_box_gets_two_lids(bays, setting_of):
    module = built(setting_of(bays["van"]), BoxSpec(lid="lift"), LONG)
    assert [p.name for p in named(module, "lid")] == ["lid right", "lid left"]
    assert {m.name for m in module.motions} == {"lid right", "lid left"}
    assert {p.moves for p in named(module, "lid")} == {"lid right", "lid left"}


def test_what_stands_on_it_gets_a_fixed_top_and_a_word(bays, setting_of):
    spec = BoxSpec(lid="lift", open_side="rear")
    setting = setting_of(bays["van"], specs={"box": spec, "drawers": DrawersSpec(on="box")})
    module = built(setting, spec)
    assert named(module, "top")
    assert not module.motions
    assert module.remarks == (
        Remark("box top", "The top of box is a fixed one, since drawers stands on it."),
    )
    assert built(setting_of(bays["van"], specs={"box": spec}), spec).remarks == ()


def test_its_goods_are_carried(bays, setting_of):
    setting = setting_of(bays["van"])
    assert [d.load_kg for d in built(setting, BoxSpec(carries=30.0)).plates] == [30.0]
    two = built(setting, BoxSpec(carries=30.0, lid="loose"), LONG)
    assert [d.load_kg for d in two.plates] == [15.0, 15.0]
    (open_top,) = built(setting, BoxSpec(carries=8.0, open_side="top")).plates
    assert open_top.panel == "box/base"
    assert not open_top.patch


def test_known_points_are_bolted_and_no_divider_stands_on_them(bays, setting_of, faults_of):
    plain = built(setting_of(bays["van"]))
    divider = body_of(named(plain, "divider")[0])
    at = float(divider.lo[1] + divider.hi[1]) / 2.0
    anchors = (
        AnchorPoint(
            name="under the divider", x=300.0, y=at + 4.0, z=0.0, thread="M8", below="clear"
        ),
        AnchorPoint(name="rear", x=150.0, y=300.0, z=0.0, thread="M10", below="clear"),
        AnchorPoint(name="at the edge", x=150.0, y=430.0, z=0.0, thread="M8", below="clear"),
    )
    setting = setting_of(dataclasses.replace(bays["van"], anchors=anchors))
    module = built(setting)
    assert faults_of(module, setting) == []
    assert {f.anchor for f in module.fixings} == {"under the divider", "rear", None}
    assert module.needs_fixings == len(module.fixings) == 4
    free = [f.point for f in module.fixings if f.anchor is None]
    assert all(math.dist(p[:2], (150.0, 300.0)) > 200.0 for p in free)
    for upright in named(module, "divider"):
        body = body_of(upright)
        assert not body.lo[1] - 14.9 < anchors[0].y < body.hi[1] + 14.9
    assert any(li.article == "bolt M10 x 40" for li in module.hardware)


def test_it_is_bolted_to_what_it_stands_on(bays, setting_of, faults_of):
    setting = setting_of(bays["van"])
    berth = dataclasses.replace(BERTH, z0=300.0, z1=560.0)
    module = built(setting, BoxSpec(on="drawers"), berth)
    assert module.needs_fixings == 0
    assert not module.fixings
    assert any(li.purpose == "down to drawers" for li in module.hardware)
    assert faults_of(module, setting) == []


def test_mass_is_the_sum_of_its_boards(bays, setting_of):
    module = built(setting_of(bays["van"]))
    solid = sum(p.outline.area * p.thickness for p in module.panels) * 680e-9
    drilled = sum(
        math.pi / 4.0 * h.diameter**2 * p.thickness for p in module.panels for h in p.holes
    )
    mass = sum(p.mass_kg for p in module.parts())
    assert mass == pytest.approx(solid - drilled * 680e-9)


def test_height_is_worked_out(bays, setting_of):
    wagon, van = bays["wagon"], bays["van"]
    spec = BoxSpec()
    # Arches 262 high and 290 high; no arches.
    assert needs(spec, setting_of(wagon)).z.wanted == pytest.approx(277.0)
    assert needs(spec, setting_of(van)).z.wanted == pytest.approx(305.0)
    bare = dataclasses.replace(wagon, arches={})
    assert needs(spec, setting_of(bare)).z.wanted == pytest.approx(200.0)
    over = needs(BoxSpec(over_arches=True), setting_of(wagon, 17.6))
    assert over.z.least == pytest.approx(262.0 + 17.6 + 3.0)
    given = needs(BoxSpec(height=333.0, width=500.0, depth=400.0), setting_of(wagon))
    assert (given.z.most, given.y.most, given.x.most) == (333.0, 500.0, 400.0)
    assert given.z.given == "height"


def test_its_top_is_the_deck_unless_something_stands_on_it(bays, setting_of):
    spec, deck = BoxSpec(), DeckSpec()
    bay = bays["wagon"]
    alone = needs(spec, setting_of(bay, specs={"low box": spec, "deck": deck}))
    assert alone.top == "deck"
    below = setting_of(
        bay, specs={"low box": spec, "deck": deck, "drawers": DrawersSpec(on="low box")}
    )
    assert needs(spec, below).top == "free"
    assert needs(spec, setting_of(bay, specs={"low box": spec})).top == "free"
    # Another box of the same entries is told apart by itself, not by what it says.
    twin = BoxSpec()
    both = setting_of(
        bay,
        specs={"a": spec, "b": twin, "deck": deck, "drawers": DrawersSpec(on="b")},
    )
    assert needs(spec, both).top == "deck"
    assert needs(twin, both).top == "free"


def test_it_is_listed_as_a_kind():
    assert KIND.kind == "box"
    assert KIND.spec is BoxSpec
