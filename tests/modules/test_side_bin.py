"""The side bin: room asked for, scribed parts, what is kept clear, strip, lids, fixings."""

import dataclasses
import itertools
from collections.abc import Callable, Mapping

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fitout.clearance.body import body_of, body_of_obstacle
from fitout.clearance.contact import contact, contacts
from fitout.clearance.sweep import swing
from fitout.model.bay import AnchorPoint, Bay
from fitout.model.design import BaySpec, KeepClearSpec, TrimSpec
from fitout.model.module import Berth, Module
from fitout.model.panel import Panel
from fitout.model.placement import flat
from fitout.modules.joinery import Draft
from fitout.modules.kind import Setting
from fitout.modules.knee import bears_knee
from fitout.modules.side_bin import LEAST_UPRIGHT, SideBinSpec, build, needs
from fitout.survey.bay import build_bay
from fitout.survey.room import front_face, half_width, rear_face, roof_height

Faults = Callable[[Module, Setting], list[str]]
SettingOf = Callable[..., Setting]

SHORT = (44.0, 836.0)
"""Ends of a bin in the wagon that one lid covers."""

JACK = KeepClearSpec(name="jack", side="left", start=120.0, end=300.0, reach=90.0, up_to=210.0)


def berth_of(
    bay: Bay, side: str, inner: float, deck: float, ends: tuple[float, float] | None = None
) -> Berth:
    """From tailgate to front face, from `inner` to the wall at the top, floor to deck."""
    x0, x1 = ends or (
        rear_face(bay, bay.floor, deck, clear=3.0),
        front_face(bay, bay.floor, deck, clear=5.0),
    )
    outer = half_width(bay, side, (x0, x1), (deck - 40.0, deck), arches=False) - 2.0
    y0, y1 = (inner, outer) if side == "left" else (-outer, -inner)
    return Berth(x0=x0, x1=x1, y0=y0, y1=y1, z0=bay.floor, z1=deck)


def made(
    setting: Setting,
    side: str,
    inner: float,
    deck: float,
    ends: tuple[float, float] | None = None,
    **wishes: object,
) -> Module:
    spec = SideBinSpec(sides=side, **wishes)
    return build("bin", spec, berth_of(setting.bay, side, inner, deck, ends), setting)


def named(module: Module, word: str) -> list[Panel]:
    return [p for p in module.panels if p.name.startswith(word)]


def box(part) -> tuple[np.ndarray, np.ndarray]:
    body = body_of(part)
    return body.lo, body.hi


def bought(module: Module) -> dict[str, int]:
    counted: dict[str, int] = {}
    for line in module.hardware:
        counted[line.article] = counted.get(line.article, 0) + line.quantity
    return counted


def stays(module: Module) -> int:
    """How many lid stays are bought."""
    return sum(n for article, n in bought(module).items() if article.startswith("lid stay"))


def too_near(module: Module, setting: Setting) -> list[str]:
    """Parts nearer to the vehicle than the rules allow."""
    joined = {(j.a, j.b) for j in module.joints}
    parts = list(module.parts())
    around = [body_of_obstacle(o) for o in setting.bay.obstacles]
    kinds = {o.id: o.kind for o in setting.bay.obstacles}
    bodies = [body_of(p) for p in parts] + around
    faults = []
    for (i, j), found in contacts(bodies, 3.0).items():
        if i >= len(parts) or j < len(parts) or (bodies[i].id, bodies[j].id) in joined:
            continue
        rule = setting.rules.scribed if parts[i].scribed else setting.rules.wall
        least = 0.0 if kinds[bodies[j].id] == "keep clear" else rule
        if found.clashes or found.gap < least - 1e-3:
            faults.append(f"{bodies[i].id} is {found.gap:.2f} from {bodies[j].id}")
    return faults


def blocked(module: Module, setting: Setting) -> list[str]:
    """What lids run into as they open, the tailgate open as well."""
    faults = []
    still = [body_of_obstacle(o) for o in setting.bay.obstacles if o.kind != "tailgate"]
    joined = {(j.a, j.b) for j in module.joints}
    for motion in module.motions:
        lid = next(p for p in module.panels if p.moves == motion.name)
        swept = swing(body_of(lid), motion.point, motion.direction, motion.travel)
        free = [p for p in module.panels if p is not lid and (lid.id, p.id) not in joined]
        others = [body_of(p) for p in free]
        for other in [*still, *others]:
            gap = contact(swept, other, 5.0).gap
            if gap < setting.rules.moving - 1e-3:
                faults.append(f"{lid.id} passes {other.id} at {gap:.2f}")
    return faults


CASES = {
    "wagon": [(400.0, 480.0), (500.0, 430.0), (360.0, 300.0), (560.0, 480.0)],
    "van": [(430.0, 420.0), (560.0, 500.0), (640.0, 380.0)],
    "hatch": [(300.0, 400.0), (380.0, 360.0), (425.0, 420.0)],
}


@pytest.mark.parametrize(
    ("side", "thickness"), [("left", 9.2), ("right", 11.7), ("left", 12.0), ("right", 17.6)]
)
@pytest.mark.parametrize("name", sorted(CASES))
def test_is_sound_in_every_bay_and_board(
    bays: Mapping[str, Bay],
    setting_of: SettingOf,
    faults_of: Faults,
    name: str,
    side: str,
    thickness: float,
) -> None:
    setting = setting_of(bays[name], thickness)
    for inner, deck in CASES[name]:
        module = made(setting, side, inner, deck)
        assert faults_of(module, setting) == []
        assert too_near(module, setting) == []
        assert blocked(module, setting) == []
        assert module.berth is not None
        for part in module.parts():
            lo, hi = box(part)
            assert module.berth.x0 - 1e-6 <= lo[0]
            assert hi[0] <= module.berth.x1 + 1e-6
            assert module.berth.z0 - 1e-6 <= lo[2]
            assert hi[2] <= deck + 1e-6
            inside = lo[1] if side == "left" else -hi[1]
            assert inside >= inner - 1e-6


@pytest.mark.parametrize("kept", ["jack", "lamp", "buckle", "tall", "floor", "end", "deep"])
@pytest.mark.parametrize("inner", [400.0, 500.0])
def test_what_must_be_kept_clear_stays_clear(
    bay_specs: Mapping[str, BaySpec],
    setting_of: SettingOf,
    faults_of: Faults,
    kept: str,
    inner: float,
) -> None:
    zones = {
        "jack": JACK,
        "lamp": dataclasses.replace(JACK, start=0.0, end=110.0, above=250.0, up_to=380.0),
        "buckle": dataclasses.replace(JACK, start=780.0, end=900.0, above=300.0, up_to=520.0),
        "tall": dataclasses.replace(JACK, up_to=700.0),
        "floor": KeepClearSpec(
            name="jack", side="floor", start=650.0, end=760.0, left=560.0, right=300.0, up_to=60.0
        ),
        "end": dataclasses.replace(JACK, start=0.0, end=160.0),
        "deep": dataclasses.replace(JACK, reach=400.0),
    }
    bay = build_bay(dataclasses.replace(bay_specs["wagon"], keep_clear=(zones[kept],)))
    setting = setting_of(bay)
    module = made(setting, "left", inner, 480.0)
    assert faults_of(module, setting) == []
    assert too_near(module, setting) == []


@pytest.fixture
def wagon(bays: Mapping[str, Bay], setting_of: SettingOf) -> Setting:
    return setting_of(bays["wagon"])


@pytest.fixture
def with_jack(bay_specs: Mapping[str, BaySpec], setting_of: SettingOf) -> Setting:
    return setting_of(build_bay(dataclasses.replace(bay_specs["wagon"], keep_clear=(JACK,))))


def test_over_a_jack_the_bin_has_no_floor_but_its_lid(with_jack: Setting) -> None:
    module = made(with_jack, "left", 400.0, 480.0, SHORT)
    for floor in named(module, "floor"):
        lo, hi = box(floor)
        assert hi[0] <= 120.0 or lo[0] >= 300.0
    lid = named(module, "lid")[0]
    lo, hi = box(lid)
    assert lo[0] < 140.0
    assert hi[0] > 300.0
    divider = named(module, "divider")[0]
    assert box(divider)[0][0] == pytest.approx(301.5), "clear of what is drawn out past it"


def test_what_reaches_the_deck_leaves_the_top_open(
    bay_specs: Mapping[str, BaySpec], setting_of: SettingOf
) -> None:
    tall = dataclasses.replace(JACK, start=300.0, end=400.0, up_to=700.0)
    bay = build_bay(dataclasses.replace(bay_specs["wagon"], keep_clear=(tall,)))
    module = made(setting_of(bay), "left", 360.0, 480.0, SHORT)
    for word in ("lid", "strip", "top", "rail"):
        for part in named(module, word):
            lo, hi = box(part)
            assert hi[0] <= 300.0 or lo[0] >= 400.0
    assert len(named(module, "lid")) == 2


@pytest.mark.parametrize("side", ["left", "right"])
def test_lids_are_plain_and_flush_and_the_strip_follows_the_wall(wagon: Setting, side: str) -> None:
    module = made(wagon, side, 400.0, 480.0, SHORT)
    lid, strip = named(module, "lid")[0], named(module, "strip")[0]
    assert len(lid.outline.outer.vertices) == 4
    assert not lid.scribed
    assert len(lid.outline.inner) == 1
    assert strip.scribed
    assert box(lid)[1][2] == pytest.approx(480.0)
    assert box(strip)[1][2] == pytest.approx(480.0)
    assert min(strip.outline.size) >= 40.0
    sign = 1.0 if side == "left" else -1.0
    near = sorted(abs(v) for v in (box(lid)[0][1], box(lid)[1][1]))
    hinge = min(abs(v) for v in (box(strip)[0][1], box(strip)[1][1]))
    assert 401.6 <= near[0] <= 403.0
    assert hinge - near[1] == pytest.approx(2.0)
    motion = module.motions[0]
    assert motion.point[1:] == pytest.approx((sign * near[1], 480.0))
    swept = swing(body_of(lid), motion.point, motion.direction, 90.0)
    assert swept.hi[2] - 480.0 == pytest.approx(near[1] - near[0], abs=0.2)
    assert stays(module) == 1
    assert bought(module)["strip hinge"] == 1


def test_the_lid_starts_ahead_of_the_tailgates_frame(wagon: Setting) -> None:
    module = made(wagon, "left", 400.0, 480.0, SHORT)
    lid, fixed = named(module, "lid")[0], named(module, "top")[0]
    width = lid.outline.size[1]
    frame = rear_face(wagon.bay, 480.0, 480.0 + width)
    assert box(lid)[0][0] >= frame + wagon.rules.moving
    assert box(fixed)[0][0] == pytest.approx(module.berth.x0)
    assert box(lid)[0][0] - box(fixed)[1][0] == pytest.approx(3.0)
    assert {j.kind.name for j in module.joints if fixed.id in (j.a, j.b)} == {"SCREWED"}


def test_a_lid_does_not_open_against_what_stands_above(wagon: Setting) -> None:
    draft = Draft("barrier", "barrier", wagon)
    draft.panel("shelf", draft.board("deck"), (200.0, 800.0), flat(600.0, -400.0, 540.0))
    berth = Berth(x0=600, x1=800, y0=-400, y1=400, z0=540, z1=560)
    shelf = dataclasses.replace(
        wagon, built={"barrier": draft.finish(berth)}, berths={"barrier": berth}
    )
    free = made(wagon, "left", 380.0, 480.0, SHORT)
    under = made(shelf, "left", 380.0, 480.0, SHORT)
    assert box(named(free, "lid")[0])[1][0] > 620.0
    assert box(named(under, "lid")[0])[1][0] < 600.0 - 1.5
    assert len(named(under, "top")) == len(named(free, "top")) + 1


def test_under_a_low_roof_lids_open_less(bays: Mapping[str, Bay], setting_of: SettingOf) -> None:
    low = bays["hatch"]
    assert low.roof[0][1] == 640.0
    tight = made(setting_of(low), "left", 250.0, 500.0)
    motion = tight.motions[0]
    width = named(tight, "lid")[0].outline.size[1]
    lo, hi = box(named(tight, "lid")[0])
    roof = roof_height(low, lo[0], hi[0], clear=1.5)
    rises = [width * np.sin(np.radians(motion.travel + more)) for more in (0.0, 5.0)]
    assert 500.0 + rises[0] <= roof < 500.0 + rises[1]
    assert blocked(tight, setting_of(low)) == []


def test_a_long_bin_gets_several_lids_that_meet_over_dividers(
    bays: Mapping[str, Bay], setting_of: SettingOf
) -> None:
    module = made(setting_of(bays["van"]), "left", 430.0, 420.0)
    lids = sorted(named(module, "lid"), key=lambda p: box(p)[0][0])
    assert len(lids) == 3
    assert max(lid.outline.size[0] for lid in lids) <= 830.0
    seam = (box(lids[0])[1][0] + box(lids[1])[0][0]) / 2.0
    middles = [float(np.mean([b[0] for b in box(p)])) for p in named(module, "divider")]
    assert min(abs(seam - x) for x in middles) < 0.01
    assert stays(module) == 3
    assert len(module.motions) == 3


@pytest.mark.parametrize("thickness", [9.2, 11.7, 17.6])
@pytest.mark.parametrize("name", sorted(CASES))
def test_shelves_and_tops_bear_a_knee_by_themselves(
    bays: Mapping[str, Bay], setting_of: SettingOf, name: str, thickness: float
) -> None:
    setting = setting_of(bays[name], thickness)
    for (inner, deck), side in itertools.product(CASES[name], ("left", "right")):
        module = made(setting, side, inner, deck)
        assert module.plates
        for duty in module.plates:
            board = next(p.board for p in module.panels if p.id == duty.panel)
            bears = bears_knee(
                board, duty.spans, duty.edges, grain_along_u=True, load_kg=duty.load_kg
            )
            assert duty.patch
            assert bears, f"{name} {side} {inner:g} {deck:g}: {duty}"


def test_a_wide_bin_has_cross_rails_between_inner_wall_and_rail(
    wagon: Setting, faults_of: Faults
) -> None:
    module = made(wagon, "left", 200.0, 480.0, SHORT)
    crosses = named(module, "cross rail")
    assert crosses
    rails = [box(p) for p in named(module, "rail")]
    for cross in crosses:
        lo, hi = box(cross)
        assert lo[1] == pytest.approx(212.0)
        assert min(abs(hi[1] - rail[0][1]) for rail in rails) < 1e-6
        screwed = {j.a for j in module.joints if j.b == cross.id and j.kind.name == "SCREWED"}
        assert any("inner wall" in a for a in screwed)
        assert any("/rail" in a for a in screwed)
    assert faults_of(module, wagon) == []


def test_finger_holes_are_clear_of_what_carries_the_lid(wagon: Setting) -> None:
    for inner in (200.0, 360.0, 400.0):
        module = made(wagon, "left", inner, 480.0)
        below = [box(p) for word in ("divider", "cross rail") for p in named(module, word)]
        for lid in named(module, "lid"):
            (hole,) = lid.outline.inner
            x0, x1 = (lid.placement.at(u, 0.0)[0] for u in (hole.bounds[0], hole.bounds[2]))
            assert all(x1 <= lo[0] or x0 >= hi[0] for lo, hi in below)


def test_an_arch_that_leaves_no_room_parts_the_bin(wagon: Setting) -> None:
    beside = made(wagon, "right", 400.0, 480.0, SHORT)
    assert named(beside, "shelf") == []
    assert named(beside, "divider") == []
    assert len(named(beside, "floor")) == 1
    parted = made(wagon, "right", 460.0, 480.0, SHORT)
    shelf = named(parted, "shelf")
    assert shelf
    assert {round(box(s)[0][2], 6) for s in shelf} == {262.0 + 4.0}
    rear = min(named(parted, "divider"), key=lambda p: box(p)[0][0])
    assert box(rear)[1][0] == pytest.approx(318.0 - 4.0)
    assert box(rear)[0][2] == 0.0
    for plate in parted.plates:
        if "shelf" in plate.panel:
            assert plate.load_kg == 10.0
    heavy = made(wagon, "right", 460.0, 480.0, SHORT, carries=25.0)
    assert {p.load_kg for p in heavy.plates if "shelf" in p.panel} == {25.0}


def test_no_shelf_where_the_deck_lies_just_above_the_arch(wagon: Setting) -> None:
    module = made(wagon, "left", 460.0, 330.0, SHORT)
    assert named(module, "shelf") == []
    assert named(module, "floor")


def test_the_inner_wall_passes_over_an_arch_in_its_way(wagon: Setting) -> None:
    module = made(wagon, "left", 560.0, 480.0, SHORT)
    wall = named(module, "inner wall")[0]
    whole = wall.outline.size[0] * wall.outline.size[1]
    arch = min(842.0 + 4.0, module.berth.x1) - (318.0 - 4.0)
    assert wall.outline.area == pytest.approx(whole - arch * 266.0, rel=1e-3)
    straight = made(wagon, "left", 460.0, 480.0, SHORT)
    assert len(named(straight, "inner wall")[0].outline.outer.vertices) == 4


def test_a_narrow_bin_gets_a_fixed_top_and_closer_uprights(wagon: Setting) -> None:
    module = made(wagon, "left", 540.0, 480.0, SHORT)
    assert named(module, "lid") == []
    assert module.motions == ()
    assert len(named(module, "top")) == 1
    ends = sorted(box(p)[0][0] for p in module.panels if p.name.split()[0] in ("rear", "front"))
    dividers = sorted(box(p)[0][0] for p in named(module, "divider"))
    stations = [ends[0], *dividers, ends[-1]]
    assert max(np.diff(stations)) <= 400.0 + 1e-6


def test_without_lids_the_top_is_open_and_the_wall_reaches_it(
    wagon: Setting, faults_of: Faults
) -> None:
    module = made(wagon, "left", 400.0, 480.0, lids="none")
    assert faults_of(module, wagon) == []
    assert {p.name.split()[0] for p in module.panels} <= {
        "inner", "rear", "front", "divider", "floor", "shelf",
    }  # fmt: skip
    assert box(named(module, "inner wall")[0])[1][2] == pytest.approx(480.0)


def test_both_sides_of_an_even_bay_are_mirror_images(wagon: Setting) -> None:
    left, right = (made(wagon, side, 420.0, 470.0) for side in ("left", "right"))
    assert [p.name for p in left.panels] == [p.name for p in right.panels]
    for a, b in zip(left.panels, right.panels, strict=True):
        assert a.mass_kg == pytest.approx(b.mass_kg)
        assert a.centroid == pytest.approx((b.centroid[0], -b.centroid[1], b.centroid[2]))
        assert len(a.holes) == len(b.holes)
    assert bought(left) == bought(right)


def test_sides_that_differ_are_followed_each(bays: Mapping[str, Bay], setting_of: SettingOf):
    setting = setting_of(bays["van"])
    left, right = (made(setting, side, 430.0, 420.0) for side in ("left", "right"))
    strips = [named(module, "strip")[0] for module in (left, right)]
    reach = [max(abs(v) for v in (box(s)[0][1], box(s)[1][1])) for s in strips]
    assert reach[0] > reach[1] + 10.0


def test_soft_trim_makes_everything_narrower(
    bay_specs: Mapping[str, BaySpec], setting_of: SettingOf, faults_of: Faults
) -> None:
    lined = dataclasses.replace(bay_specs["wagon"], trim=TrimSpec(walls=5.0, floor=8.0))
    setting = setting_of(build_bay(lined))
    module = made(setting, "left", 400.0, 480.0)
    assert faults_of(module, setting) == []
    assert too_near(module, setting) == []
    bare = made(setting_of(build_bay(bay_specs["wagon"])), "left", 400.0, 480.0)
    assert box(named(module, "rear end")[0])[0][2] == pytest.approx(8.0)
    outer, plain = (box(named(m, "rear end")[0])[1][1] for m in (module, bare))
    assert plain - outer == pytest.approx(5.0, abs=0.3)


def test_it_is_bolted_through_its_floor_far_apart(wagon: Setting) -> None:
    module = made(wagon, "left", 400.0, 480.0, SHORT)
    assert module.needs_fixings == 2
    xs = sorted(f.point[0] for f in module.fixings)
    assert len(xs) == 2
    assert xs[1] - xs[0] > 0.7 * (module.berth.x1 - module.berth.x0)
    floors = [box(p) for p in named(module, "floor")]
    for fixing in module.fixings:
        x, y, _ = fixing.point
        assert any(lo[0] < x < hi[0] and lo[1] < y < hi[1] for lo, hi in floors)


def test_a_second_point_is_proposed_far_from_the_known_one(wagon: Setting) -> None:
    rear, front = sorted(f.point for f in made(wagon, "left", 400.0, 480.0, SHORT).fixings)
    for there, other in ((rear, front), (front, rear)):
        eye = AnchorPoint(name="eye", x=there[0], y=there[1], z=0.0, thread="M8", below="clear")
        setting = dataclasses.replace(wagon, bay=dataclasses.replace(wagon.bay, anchors=(eye,)))
        fixings = made(setting, "left", 400.0, 480.0, SHORT).fixings
        assert [f.anchor for f in fixings] == ["eye", None]
        assert abs(fixings[1].point[0] - other[0]) < abs(fixings[1].point[0] - there[0])


def test_known_points_are_used_first(wagon: Setting, faults_of: Faults) -> None:
    rear = AnchorPoint(name="rear eye", x=200.0, y=520.0, z=0.0, thread="M8", below="clear")
    front = AnchorPoint(name="bolt", x=600.0, y=455.0, z=0.0, thread="M10", below="clear")
    arch = AnchorPoint(name="in the arch", x=600.0, y=560.0, z=0.0, thread="M8", below="clear")
    setting = dataclasses.replace(
        wagon, bay=dataclasses.replace(wagon.bay, anchors=(rear, front, arch))
    )
    module = made(setting, "left", 400.0, 480.0, SHORT)
    assert faults_of(module, setting) == []
    assert [f.anchor for f in module.fixings] == ["rear eye", "bolt"]
    counted = bought(module)
    assert counted["bolt M8 x 40"] == 1
    assert counted["bolt M10 x 40"] == 1
    assert counted["large washer M10"] == 1


def test_without_a_floor_panel_brackets_hold_it(wagon: Setting) -> None:
    module = made(wagon, "left", 562.0, 480.0, SHORT)
    assert named(module, "floor") == []
    assert bought(module)["angle bracket 40"] == 2
    for fixing in module.fixings:
        assert fixing.point[0] < 318.0 - 20.0
        assert fixing.point[1] == pytest.approx(562.0 + 12.0 + 20.0)
    eye = AnchorPoint(name="eye", x=150.0, y=594.0, z=0.0, thread="M8", below="clear")
    bay = dataclasses.replace(wagon.bay, anchors=(eye,))
    held = made(dataclasses.replace(wagon, bay=bay), "left", 562.0, 480.0, SHORT)
    assert held.fixings[0].anchor == "eye"


def test_what_it_asks_for(wagon: Setting) -> None:
    left = needs(SideBinSpec(sides="left"), wagon)
    assert (left.lateral, left.top, left.place) == ("left wall", "deck", "rear")
    assert left.x.fills
    assert left.y.fills
    assert not left.opens_rear
    assert (left.y.most, left.x.most) == (400.0, None)
    right = needs(SideBinSpec(sides="right", width=180.0, depth=600.0), wagon)
    assert right.lateral == "right wall"
    assert (right.y.least, right.y.most, right.y.given) == (180.0, 180.0, "width")
    assert (right.x.least, right.x.given) == (600.0, "depth")


def test_beside_an_arch_higher_than_the_deck_the_top_stays_open_and_that_is_said(
    wagon: Setting, faults_of: Faults
) -> None:
    module = made(wagon, "right", 507.0, 247.0, (427.0, 769.0))
    assert faults_of(module, wagon) == []
    assert [r.code for r in module.remarks] == ["open bin"]
    assert "right wheel arch" in module.remarks[0].sentence
    assert named(module, "top") == []


def test_shelves_over_a_rounded_arch_lie_level_and_meet_the_inner_wall(
    bays: Mapping[str, Bay], setting_of: SettingOf, faults_of: Faults
) -> None:
    setting = setting_of(bays["van"])
    module = made(setting, "left", 640.0, 521.0)
    shelves = named(module, "shelf")
    assert len(shelves) > 1
    assert {round(box(s)[0][2], 6) for s in shelves} == {290.0 + 4.0}
    walls = {p.id for p in named(module, "inner wall")}
    for shelf in shelves:
        met = {j.a for j in module.joints if j.b == shelf.id}
        assert met & walls


def test_uprights_beside_a_place_that_covers_the_end_do_not_meet(
    bay_specs: Mapping[str, BaySpec], setting_of: SettingOf, faults_of: Faults
) -> None:
    zone = KeepClearSpec(name="jack", side="right", start=94.0, end=356.4, reach=200.0, up_to=253.7)
    bay = build_bay(dataclasses.replace(bay_specs["hatch"], keep_clear=(zone,)))
    setting = setting_of(bay, 17.6)
    module = made(setting, "right", 263.0, 328.6, (341.3, 666.3))
    assert faults_of(module, setting) == []
    tops = [p for word in ("strip", "top") for p in named(module, word)]
    assert min(box(p)[0][0] for p in tops) == pytest.approx(341.3)


def test_lids_do_not_swing_through_what_is_kept_clear_above(
    bay_specs: Mapping[str, BaySpec], setting_of: SettingOf
) -> None:
    zone = dataclasses.replace(JACK, start=240.0, end=370.0, reach=135.0, above=360.0, up_to=520.0)
    bay = build_bay(dataclasses.replace(bay_specs["wagon"], keep_clear=(zone,)))
    setting = setting_of(bay)
    module = made(setting, "left", 420.0, 335.0)
    assert named(module, "lid")
    assert blocked(module, setting) == []


@pytest.mark.parametrize("deck", [262, 268, 274, 276, 286])
def test_is_sound_where_the_deck_lies_just_over_the_wheel_arch(
    bay_specs: Mapping[str, BaySpec], setting_of: SettingOf, faults_of: Faults, deck: int
) -> None:
    """Stubs of uprights between arch and top, and lids hardly over it, are left out."""
    setting = setting_of(build_bay(bay_specs["wagon"]), 9.2)
    module = made(setting, "left", 493.0, float(deck))
    assert faults_of(module, setting) == []
    assert too_near(module, setting) == []
    assert blocked(module, setting) == []
    uprights = [p for p in module.panels if p.name.startswith("divider")]
    assert all(p.outline.bounds[3] - p.outline.bounds[1] >= LEAST_UPRIGHT for p in uprights)


@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(data=st.data())
def test_is_sound_wherever_it_stands_and_whatever_is_kept_clear(
    bay_specs: Mapping[str, BaySpec],
    setting_of: SettingOf,
    faults_of: Faults,
    data: st.DataObject,
) -> None:
    name, inners, decks = data.draw(
        st.sampled_from(
            [
                ("wagon", (330, 545), (200, 600)),
                ("van", (400, 660), (200, 700)),
                ("hatch", (250, 420), (180, 450)),
            ]
        )
    )
    side = data.draw(st.sampled_from(["left", "right"]))
    start, above = data.draw(st.integers(0, 900)), data.draw(st.sampled_from([0, 60, 250, 400]))
    zone = KeepClearSpec(
        name="zone",
        side=side,
        start=float(start),
        end=start + data.draw(st.integers(20, 300)) * 1.0,
        reach=float(data.draw(st.integers(20, 250))),
        above=float(above),
        up_to=above + data.draw(st.integers(30, 300)) * 1.0,
    )
    bay = build_bay(dataclasses.replace(bay_specs[name], keep_clear=(zone,)))
    setting = setting_of(bay, data.draw(st.sampled_from([9.2, 11.7, 14.8, 17.6])))
    inner, deck = (float(data.draw(st.integers(*span))) for span in (inners, decks))
    whole = berth_of(bay, side, inner, deck)
    if whole.x1 - whole.x0 < 400.0 or whole.y1 - whole.y0 < 60.0:
        return
    x0 = whole.x0 + data.draw(st.integers(0, int(whole.x1 - whole.x0) - 300))
    module = made(setting, side, inner, deck, (x0, whole.x1))
    assert faults_of(module, setting) == []
    assert too_near(module, setting) == []
    assert blocked(module, setting) == []
