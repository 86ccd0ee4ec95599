import dataclasses
import itertools
import math

import pytest

from fitout.clearance.body import body_of, body_of_obstacle, body_of_pieces
from fitout.clearance.contact import contact
from fitout.model.bay import AnchorPoint
from fitout.model.module import Berth
from fitout.model.panel import Bar
from fitout.modules.barrier import (
    KIND,
    BarrierSpec,
    PassThroughSpec,
    ShelfSpec,
    VisionSpec,
    build,
    needs,
)
from fitout.survey.room import clear_width, front_face, roof_height


def berth_in(setting, spec):
    """Where the arrangement puts a barrier: behind the seat back or wall ahead, floor to roof."""
    bay, wish = setting.bay, needs(spec, setting)
    roof = roof_height(bay, 0.0, bay.front, clear=setting.rules.wall)
    z1 = bay.floor + wish.z.most if wish.z.most else roof
    x1 = front_face(bay, bay.floor, z1, clear=setting.rules.seat)
    x0 = x1 - wish.x.least
    right, left = clear_width(bay, (x0, x1), (0.0, z1), arches=False, clear=3.0)
    return Berth(x0=x0, x1=x1, y0=right, y1=left, z0=bay.floor, z1=z1)


def built(setting, spec=BarrierSpec(), name="barrier"):  # noqa: B008 - frozen
    return build(name, spec, berth_in(setting, spec), setting)


def panel(module, name):
    return next(p for p in module.panels if p.name == name)


def bar(module, name):
    return next(b for b in module.bars if b.name == name)


def holes(panel_, purpose):
    return [h for h in panel_.holes if h.purpose == purpose]


def openings(module):
    """Each opening of the panel in the bay: y0, y1, z0, z1, the lowest first."""
    part = panel(module, "panel")
    _, y, z = part.placement.origin
    found = []
    for loop in part.outline.inner:
        u0, v0, u1, v1 = loop.bounds
        found.append((y - u1, y - u0, z + v0, z + v1))
    return sorted(found, key=lambda o: (round(o[2], 3), o[0]))


SPECS = {
    "plain": BarrierSpec(),
    "shelf": BarrierSpec(shelf=True),
    "deep shelf, low lip": BarrierSpec(shelf=ShelfSpec(depth=330.0, lip=30.0, light_load=5.0)),
    "no lip, no windows": BarrierSpec(shelf=ShelfSpec(lip=0.0), vision=False),
    "aluminium": BarrierSpec(shelf=True, frame="aluminium tube 25 x 25 x 3"),
    "flat tube": BarrierSpec(frame="steel tube 40 x 20 x 2", pass_through=True),
    "narrow and low": BarrierSpec(width=700.0, height=520.0),
}


@pytest.mark.parametrize("thickness", [9.2, 11.7, 17.6])
@pytest.mark.parametrize("deck", [None, 300.0])
@pytest.mark.parametrize("name", sorted(SPECS))
def test_sound_in_every_bay(bay, setting_of, faults_of, name, deck, thickness):
    setting = setting_of(bay, thickness, deck=deck)
    module = built(setting, SPECS[name])
    assert faults_of(module, setting) == []


@pytest.mark.parametrize("deck", [None, 420.0])
def test_it_stays_behind_the_seat_within_walls_and_roof(bay, setting_of, deck):
    setting = setting_of(bay, deck=deck)
    spec = BarrierSpec(shelf=True)
    module, berth, rules = built(setting, spec), berth_in(setting, spec), setting.rules
    for part in module.parts():
        body = body_of(part)
        if part.name.startswith("shelf"):
            assert body.hi[0] <= berth.x0 + 12.01
        elif part.name.endswith("post") or part.name.endswith("rail") or part.name == "panel":
            assert body.lo[0] >= berth.x0 - 1e-6
            assert body.hi[0] <= berth.x1 + 1e-6
        scribed = part.name == "panel"
        for obstacle in bay.obstacles:
            if obstacle.name == "floor":
                continue
            gap = contact(body, body_of_obstacle(obstacle), 8.0).gap
            if obstacle.kind == "seat":
                least = rules.seat
            else:
                least = rules.scribed if scribed else rules.wall
            assert gap >= least - 1e-6, (part.id, obstacle.name)


def test_the_panel_begins_at_the_deck_and_follows_the_roof(bays, setting_of):
    bay = bays["wagon"]
    module = built(setting_of(bay, deck=300.0))
    body = body_of(panel(module, "panel"))
    assert body.lo[2] == pytest.approx(302.0)
    at = (body.lo[0], body.hi[0] + 30.0)
    assert body.hi[2] == pytest.approx(roof_height(bay, *at, clear=3.0))
    on_floor = body_of(panel(built(setting_of(bay)), "panel"))
    assert on_floor.lo[2] == pytest.approx(12.0)


def test_it_stands_on_the_deck_if_told(bays, setting_of, faults_of):
    setting = setting_of(bays["wagon"], deck=300.0)
    module = built(setting, BarrierSpec(stands_on="deck"))
    assert body_of(bar(module, "left foot plate")).lo[2] == pytest.approx(302.0)
    assert not any(j.b == "bay/floor" for j in module.joints)
    assert faults_of(module, setting) == []
    without = built(setting_of(bays["wagon"]), BarrierSpec(stands_on="deck"))
    assert body_of(bar(without, "left foot plate")).lo[2] == pytest.approx(0.0)


def test_the_panel_goes_round_the_arches(bays, setting_of):
    """The small bay's arches reach to the barrier: 900 between them, 330 high."""
    module = built(setting_of(bays["hatch"]))
    part = panel(module, "panel")
    _, y, z = part.placement.origin
    outer = [(y - v.x, z + v.y) for v in part.outline.outer.vertices]
    low = max(py for py, pz in outer if pz < 325.0)
    high = max(py for py, pz in outer if pz > 335.0)
    assert 446.0 < low < 448.1
    assert high > 470.0
    posts = [body_of(bar(module, f"{side} post")) for side in ("left", "right")]
    assert posts[0].hi[1] <= 447.0
    assert posts[1].lo[1] >= -447.0
    # As far out as whole millimetres and the foot plate allow.
    assert posts[0].hi[1] > 440.0


def test_bolts_go_through_panel_and_tube_no_more_than_200_apart(bay, setting_of):
    module = built(setting_of(bay, deck=300.0), BarrierSpec(shelf=True))
    part = panel(module, "panel")
    drilled = {part.placement.at(h.x, h.y)[1:] for h in holes(part, "bolt to frame")}
    found = set()
    for tube in (b for b in module.bars if not b.name.endswith("plate")):
        ends = [u for u, _ in tube.holes]
        assert max(b - a for a, b in itertools.pairwise(ends)) <= 200.0 + 1e-9
        middle = tube.section.width / 2.0
        found |= {tube.placement.at(u, middle)[1:] for u, _ in tube.holes}
    rounded = [{(round(a, 6), round(b, 6)) for a, b in group} for group in (drilled, found)]
    assert rounded[0] == rounded[1]
    bought = {line.article: line.quantity for line in module.hardware}
    count = len(drilled)
    assert bought["bolt M6 x 60"] == bought["lock nut M6"] == count
    assert bought["large washer M6"] == 2 * count


def test_bolts_are_long_enough_for_a_thick_panel_and_tube(bays, setting_of):
    module = built(setting_of(bays["van"], 23.2), BarrierSpec())
    assert any(line.article == "bolt M6 x 70" for line in module.hardware)


@pytest.mark.parametrize(
    ("frame", "bolt"),
    [
        ("steel tube 25 x 25 x 2", "bolt M8 x 40"),
        ("steel tube 30 x 30 x 2", "bolt M8 x 60"),
        ("steel tube 40 x 20 x 2", "bolt M8 x 60"),
        ("steel tube 40 x 40 x 4", "bolt M8 x 60"),
    ],
)
def test_the_bolts_of_the_rails_brackets_reach_right_through_the_rail(
    bays, setting_of, frame, bolt
):
    module = built(setting_of(bays["wagon"]), BarrierSpec(frame=frame))
    rails = sum(bar_.name.endswith("rail") for bar_ in module.bars)
    bought = {li.article: li.quantity for li in module.hardware if li.purpose == "rails on posts"}
    assert rails
    assert bought == dict.fromkeys((bolt, "frame bracket", "lock nut M8"), 2 * rails)


def test_a_high_panel_gets_a_middle_rail(bays, setting_of):
    names = [b.name for b in built(setting_of(bays["van"])).bars]
    assert "middle rail" in names
    names = [b.name for b in built(setting_of(bays["wagon"], deck=300.0)).bars]
    assert "middle rail" not in names


def test_windows_lie_between_brackets_and_rails(bays, setting_of):
    module = built(setting_of(bays["wagon"], deck=300.0), BarrierSpec(shelf=True))
    right, left, above = openings(module)
    assert right[0] == pytest.approx(-left[1])
    assert right[1] < -30.0
    assert left[0] > 30.0
    shelf = body_of(panel(module, "shelf"))
    assert above[2] > shelf.hi[2]
    assert left[3] < shelf.lo[2]
    for part in module.panels:
        if part.name.startswith("shelf bracket"):
            body = body_of(part)
            assert not any(o[0] < body.hi[1] and body.lo[1] < o[1] for o in (right, left))


def test_window_and_opening_sizes_are_kept(bays, setting_of):
    spec = BarrierSpec(
        shelf=ShelfSpec(below_roof=260.0),
        vision=VisionSpec(width=240.0, height=110.0),
        pass_through=PassThroughSpec(width=500.0, height=140.0),
    )
    module = built(setting_of(bays["wagon"], deck=250.0), spec)
    right, left, above = openings(module)
    for opening in (right, left):
        assert (opening[1] - opening[0], opening[3] - opening[2]) == pytest.approx((240.0, 110.0))
    assert (above[1] - above[0], above[3] - above[2]) == pytest.approx((500.0, 140.0))
    frame = body_of(bar(module, "left post"))
    roof = roof_height(bays["wagon"], frame.lo[0] - 12.0, frame.hi[0])
    assert body_of(panel(module, "shelf")).hi[2] == pytest.approx(roof - 260.0)
    assert module.remarks == ()


def test_the_shelf_makes_room_for_the_opening_wished_for(bays, setting_of):
    spec = BarrierSpec(shelf=True, pass_through=PassThroughSpec(height=220.0))
    above = openings(built(setting_of(bays["wagon"], deck=250.0), spec))[-1]
    assert above[3] - above[2] == pytest.approx(220.0)


def test_no_opening_where_no_seat_is_ahead_unless_asked(bays, setting_of):
    setting = setting_of(bays["van"])
    assert len(openings(built(setting, BarrierSpec(shelf=True, vision=False)))) == 0
    wished = BarrierSpec(shelf=True, vision=False, pass_through=True)
    assert len(openings(built(setting, wished))) == 1


def test_the_shelf_is_the_size_wished_and_carried(bays, setting_of):
    bay = bays["wagon"]
    module = built(
        setting_of(bay, deck=300.0), BarrierSpec(shelf=ShelfSpec(depth=280.0, light_load=6.0))
    )
    shelf, frame = panel(module, "shelf"), body_of(panel(module, "panel"))
    body = body_of(shelf)
    assert body.hi[0] == pytest.approx(frame.lo[0])
    assert body.hi[0] - body.lo[0] == pytest.approx(280.0)
    lip = body_of(panel(module, "shelf lip"))
    assert lip.hi[2] - lip.lo[2] == pytest.approx(50.0)
    assert lip.lo[0] == pytest.approx(body.lo[0])
    (duty,) = module.plates
    assert duty.panel == shelf.id
    assert duty.load_kg == 6.0
    brackets = sorted(
        float((b.lo[1] + b.hi[1]) / 2.0)
        for b in (body_of(p) for p in module.panels if p.name.startswith("shelf bracket"))
    )
    assert len(brackets) == 3
    assert duty.spans == pytest.approx((280.0, brackets[1] - brackets[0]))
    assert any(line.article == "wood screw 4 x 40" for line in module.hardware)


def test_a_shelf_too_deep_for_the_tailgate_ends_before_it_and_says_so(bays, setting_of):
    setting = setting_of(bays["hatch"])
    module = built(setting, BarrierSpec(shelf=ShelfSpec(depth=700.0)))
    assert [r.code for r in module.remarks] == ["barrier shelf"]
    tailgate = next(o for o in bays["hatch"].obstacles if o.name == "tailgate")
    lip = body_of(panel(module, "shelf lip"))
    assert contact(lip, body_of_obstacle(tailgate), 50.0).gap == pytest.approx(3.0, abs=0.5)


@pytest.mark.parametrize("below_roof", [60.0, 100.0, 140.0, 170.0, 200.0, 230.0, 400.0])
def test_a_shelf_is_built_whole_or_left_out_and_that_is_said(
    bays, setting_of, faults_of, below_roof
):
    """A bracket is 50 high or more, 10 above the rail; 20 are kept above the shelf of 12."""
    bay = bays["wagon"]
    x1 = front_face(bay, 0.0, 840.0, clear=5.0)
    deck = roof_height(bay, x1 - 50.0, x1) - below_roof
    setting = setting_of(bay, 12.0, deck=deck)
    module = built(setting, BarrierSpec(shelf=True))
    assert faults_of(module, setting) == []
    rails = sorted(b.placement.origin[2] for b in module.bars if b.name.endswith("rail"))
    room = rails[-1] - (rails[0] + 30.0)
    shelf = [p for p in module.panels if p.name.startswith("shelf")]
    said = [r.sentence for r in module.remarks if r.code == "barrier shelf"]
    assert bool(shelf) == (room >= 92.0)
    assert bool(said) == (not shelf)
    for sentence in said:
        assert "wants 92 mm" in sentence
        assert f"{max(0.0, room):.0f} are there" in sentence
    if shelf:
        legs = [p.outline.size[1] for p in shelf if p.name.startswith("shelf bracket")]
        assert min(legs) >= 50.0 - 1e-6


def test_what_finds_no_room_is_said(bays, setting_of):
    setting = setting_of(bays["hatch"], deck=430.0)
    spec = BarrierSpec(shelf=ShelfSpec(below_roof=60.0), pass_through=True, vision=False)
    module = built(setting, spec)
    assert [r.code for r in module.remarks] == ["barrier opening"]
    assert openings(module) == []
    low = setting_of(bays["hatch"], deck=520.0)
    module = built(low, BarrierSpec())
    assert [r.code for r in module.remarks] == ["barrier vision"]
    assert openings(module) == []


def test_the_room_for_a_hand_is_free_of_the_barrier_itself(bays, setting_of):
    module = built(setting_of(bays["wagon"], deck=300.0), BarrierSpec(shelf=True))
    (access,) = module.accesses
    hand = body_of_pieces("hand", [access.zone.piece], access.placement)
    frame = body_of(panel(module, "panel"))
    assert hand.lo[0] < frame.lo[0] - 100.0
    assert hand.hi[0] > frame.hi[0] + 100.0
    for part in module.parts():
        assert not contact(hand, body_of(part), 5.0).clashes


def test_mass_is_the_sum_of_boards_and_tubes(bays, setting_of):
    module = built(setting_of(bays["wagon"], deck=300.0), BarrierSpec(shelf=True))
    boards = sum(p.volume for p in module.panels) * 680e-9
    steel = 0.0
    for part in module.bars:
        a = 30.0**2 - 26.0**2 if part.section.wall else 40.0 * 10.0
        steel += a * part.length * 7850e-9
    assert sum(p.mass_kg for p in module.parts()) == pytest.approx(boards + steel)
    assert 10.0 < boards + steel < 20.0


def feet(module):
    return {f.point for f in module.fixings}


def test_points_proposed_and_then_entered_are_used(bays, setting_of):
    setting = setting_of(bays["wagon"])
    first = built(setting)
    assert first.needs_fixings == 4
    assert len(first.fixings) == 4
    assert all(f.anchor is None for f in first.fixings)
    assert not any(line.purpose == "floor fixing" for line in first.hardware)
    anchors = tuple(
        AnchorPoint(name=f"bolt {i}", x=round(x), y=round(y), z=0.0, thread="M8", below="clear")
        for i, (x, y, _) in enumerate(sorted(feet(first)))
    )
    setting = setting_of(dataclasses.replace(setting.bay, anchors=anchors))
    second = built(setting)
    assert {f.anchor for f in second.fixings} == {a.name for a in anchors}
    for fixing in second.fixings:
        anchor = next(a for a in anchors if a.name == fixing.anchor)
        assert math.dist(fixing.point[:2], (anchor.x, anchor.y)) <= 1.0
    bought = {li.article: li.quantity for li in second.hardware if li.purpose == "floor fixing"}
    assert bought == {"bolt M8 x 40": 4, "large washer M8": 4}


def test_a_plate_turns_towards_a_known_point_it_can_reach(bays, setting_of, faults_of):
    plain = bays["wagon"]
    middle = _post_middle(built(setting_of(plain)))
    anchor = AnchorPoint(
        name="eye", x=middle[0] + 30.0, y=middle[1] - 50.0, z=0.0, thread="M10", below="clear"
    )
    far = dataclasses.replace(anchor, name="far", y=middle[1] - 120.0)
    setting = setting_of(dataclasses.replace(plain, anchors=(far, anchor)))
    module = built(setting)
    used = [f for f in module.fixings if f.anchor]
    assert [f.anchor for f in used] == ["eye"]
    assert used[0].point == pytest.approx((anchor.x, anchor.y, 0.0))
    assert used[0].article == "bolt M10 x 40"
    plate = bar(module, "left foot plate")
    at = [plate.placement.at(u, 20.0) for u, _ in plate.holes]
    assert any(math.dist(p[:2], (anchor.x, anchor.y)) < 0.01 for p in at)
    assert plate.holes[0][1] == 11.0
    assert faults_of(module, setting) == []


def _post_middle(module):
    body = body_of(bar(module, "left post"))
    return tuple(float(v) for v in (body.lo[:2] + body.hi[:2]) / 2.0)


def test_a_plate_keeps_out_of_another_berth(bays, setting_of):
    bay = bays["wagon"]
    x, _ = _post_middle(built(setting_of(bay)))
    other = Berth(x0=x + 20.0, x1=x + 200.0, y0=-700.0, y1=700.0, z0=0.0, z1=300.0)
    module = built(setting_of(bay, berths={"tank": other}))
    plates = [body_of(bar(module, f"{side} foot plate")) for side in ("left", "right")]
    assert all(plate.hi[0] <= other.x0 - 1.0 for plate in plates)
    free = built(setting_of(bay, berths={"barrier": other}))
    assert body_of(bar(free, "left foot plate")).hi[0] > other.x0


def test_plates_are_of_the_frames_own_metal(bays, setting_of):
    steel = built(setting_of(bays["wagon"]))
    light = built(setting_of(bays["wagon"]), BarrierSpec(frame="aluminium tube 25 x 25 x 3"))
    assert bar(steel, "left foot plate").section.key == "steel flat 40 x 10"
    assert bar(light, "left foot plate").section.key == "aluminium flat 40 x 10"
    tubes = {b.section.key for b in light.bars if isinstance(b, Bar) and b.section.wall}
    assert tubes == {"aluminium tube 25 x 25 x 3"}


def test_needs_ask_for_the_frame_alone(bays, setting_of):
    setting = setting_of(bays["wagon"])
    asked = needs(BarrierSpec(shelf=True), setting)
    assert asked.x.least == asked.x.most == pytest.approx(42.0)
    assert asked.z.fills
    assert asked.y.fills
    assert (asked.lateral, asked.place, asked.top) == ("across", "front", "free")
    given = needs(BarrierSpec(depth=80.0, width=900.0, height=500.0), setting)
    assert (given.x.most, given.y.most, given.z.most) == (80.0, 900.0, 500.0)
    assert (given.x.given, given.y.given, given.z.given) == ("depth", "width", "height")


def test_it_is_listed_as_a_kind():
    assert KIND.kind == "barrier"
    assert KIND.spec is BarrierSpec
