"""Drawers as a builder would measure them, in berths of many sizes and boards."""

import dataclasses
import itertools

import numpy as np
import pytest

from fitout.clearance.body import body_of
from fitout.clearance.sweep import sweep
from fitout.mechanics.plates import Patch, plate_of_board, plate_response
from fitout.model.bay import AnchorPoint
from fitout.model.fault import DesignError
from fitout.model.module import Berth, Module, MotionKind
from fitout.model.panel import Grain, Panel
from fitout.modules.drawers import KIND, DrawerSpec, DrawersSpec, build, columns_for, needs
from fitout.modules.neighbours import box_of

BERTH = Berth(x0=60.0, x1=850.0, y0=-410.0, y1=390.0, z0=0.0, z1=470.0)
THICKNESSES = (9.0, 11.7, 12.0, 14.6, 18.0)


@pytest.fixture
def wagon(bays, setting_of):
    """A setting with the wagon's floor and nothing else in the way; boards as thick as asked."""
    floor = tuple(o for o in bays["wagon"].obstacles if o.name == "floor")
    bay = dataclasses.replace(bays["wagon"], obstacles=floor)
    return lambda thickness=None, **changes: setting_of(bay, thickness, **changes)


def panels(module: Module) -> dict[str, Panel]:
    return {p.name: p for p in module.panels}


def outer_fronts(module: Module) -> list[Panel]:
    return [p for p in module.panels if p.name.endswith(" front") and "inner" not in p.name]


def boxes(module: Module, *names: str) -> list[Berth]:
    found = panels(module)
    return [box_of(found[n]) for n in names]


def test_the_kind_is_registered_under_its_name():
    assert KIND.kind == "drawers"
    assert KIND.spec is DrawersSpec


@pytest.mark.parametrize("thickness", THICKNESSES)
@pytest.mark.parametrize("columns", [1, 2, 3, 4])
@pytest.mark.parametrize("count", [1, 2, 3, 4])
def test_sound_whatever_the_board_columns_and_stack(wagon, faults_of, thickness, columns, count):
    setting = wagon(thickness)
    berth = dataclasses.replace(BERTH, y0=-500.0, y1=540.0, z1=110.0 * count + 60.0)
    spec = DrawersSpec(columns=columns, stack=(DrawerSpec(),) * count)
    module = build("drawers", spec, berth, setting)
    assert faults_of(module, setting) == []
    for panel in module.panels:
        box = box_of(panel)
        assert berth.x0 - 1e-6 <= box.x0
        assert box.x1 <= berth.x1 + 1e-6
        assert berth.y0 - 1e-6 <= box.y0
        assert box.y1 <= berth.y1 + 1e-6
        assert berth.z0 - 1e-6 <= box.z0
        assert box.z1 <= berth.z1 + 1e-6
    assert len(module.motions) == len(module.slides) == columns * count


@pytest.mark.parametrize(
    "changes",
    [
        {"deck": 18.0, "carcass": 12.0},
        {"deck": 9.0, "carcass": 14.6},
        {"front": 18.0},
        {"drawer": 9.0},
        {"drawer": 18.0, "bottom": 9.2},
        {"bottom": 3.6},
        {"drawer": 9.0, "bottom": 11.7},
    ],
    ids=str,
)
def test_sound_with_boards_of_different_thickness(wagon, faults_of, changes):
    setting = wagon(12.0)
    boards = dict(setting.boards)
    for role, thickness in changes.items():
        boards[role] = dataclasses.replace(boards[role], thickness=thickness)
    setting = dataclasses.replace(setting, boards=boards)
    module = build("drawers", DrawersSpec(columns=2), BERTH, setting)
    assert faults_of(module, setting) == []
    top, base, side = (panels(module)[n] for n in ("top", "base", "left side left"))
    assert top.thickness == boards["deck"].thickness
    standing = base.thickness + side.outline.size[1] + top.thickness
    assert standing == pytest.approx(BERTH.z1 - BERTH.z0)


@pytest.mark.parametrize("pull", ["finger hole", "latch"])
@pytest.mark.parametrize("removable", [False, True])
@pytest.mark.parametrize("slides", ["full extension", "heavy locking"])
def test_sound_whatever_the_hardware(wagon, faults_of, pull, removable, slides):
    setting = wagon()
    spec = DrawersSpec(pull=pull, removable=removable, slides=slides)
    assert faults_of(build("drawers", spec, BERTH, setting), setting) == []


def test_the_carcass_fills_the_berth(wagon):
    module = build("drawers", DrawersSpec(columns=2), BERTH, wagon())
    whole = boxes(module, *panels(module))
    assert min(b.x0 for b in whole) == pytest.approx(BERTH.x0)
    assert max(b.x1 for b in whole) == pytest.approx(BERTH.x1)
    assert min(b.y0 for b in whole) == pytest.approx(BERTH.y0)
    assert max(b.y1 for b in whole) == pytest.approx(BERTH.y1)
    assert min(b.z0 for b in whole) == pytest.approx(BERTH.z0)
    assert max(b.z1 for b in whole) == pytest.approx(BERTH.z1)


@pytest.mark.parametrize("columns", [1, 2, 3])
def test_fronts_cover_the_carcass_with_three_mm_between(wagon, columns):
    module = build("drawers", DrawersSpec(columns=columns), BERTH, wagon())
    fronts = [
        box_of(p) for p in module.panels if p.name.endswith("front") and "inner" not in p.name
    ]
    assert len(fronts) == 2 * columns
    for height in {round(b.z0) for b in fronts}:
        across = sorted((b for b in fronts if round(b.z0) == height), key=lambda b: b.y0)
        assert across[0].y0 == pytest.approx(BERTH.y0 + 1.5)
        assert across[-1].y1 == pytest.approx(BERTH.y1 - 1.5)
        for right, left in itertools.pairwise(across):
            assert left.y0 - right.y1 == pytest.approx(3.0)
    lower, upper = (sorted({(b.z0, b.z1) for b in fronts})[i] for i in (0, 1))
    assert upper[0] - lower[1] == pytest.approx(3.0)
    (top,) = boxes(module, "top")
    assert top.z0 - upper[1] == pytest.approx(3.0)
    assert {b.x0 for b in fronts} == {BERTH.x0}
    assert top.x0 == BERTH.x0, "the top lies over the fronts"


def test_the_stack_opens_from_the_lowest_up_with_the_heights_asked_for(wagon):
    spec = DrawersSpec(
        columns=1, stack=(DrawerSpec(), DrawerSpec(front_height=140.0), DrawerSpec())
    )
    module = build("drawers", spec, BERTH, wagon())
    fronts = boxes(module, "drawer 1 front", "drawer 2 front", "drawer 3 front")
    heights = [f.z1 - f.z0 for f in fronts]
    assert heights[1] == pytest.approx(140.0)
    assert heights[0] == pytest.approx(heights[2])
    assert fronts[0].z1 < fronts[1].z0 < fronts[1].z1 < fronts[2].z0


def test_heavy_things_go_below(wagon):
    module = build("drawers", DrawersSpec(columns=1), BERTH, wagon())
    loads = {d.name: d.contents_kg for d in module.slides}
    assert loads["drawers/drawer 1"] > loads["drawers/drawer 2"] > 0.0


def test_a_stack_left_out_means_the_usual_two(wagon):
    module = build("drawers", DrawersSpec(columns=1), BERTH, wagon())
    assert len(module.slides) == 2


def test_a_load_of_zero_is_kept(wagon):
    spec = DrawersSpec(columns=1, stack=(DrawerSpec(carries=0.0),))
    assert build("drawers", spec, BERTH, wagon()).slides[0].contents_kg == 0.0


@pytest.mark.parametrize("depth", [440.0, 480.0, 520.0, 790.0, 1100.0])
def test_the_longest_slides_that_fit_and_bear_the_load(wagon, depth):
    setting = wagon()
    berth = dataclasses.replace(BERTH, x1=BERTH.x0 + depth)
    module = build("drawers", DrawersSpec(columns=1), berth, setting)
    (back,) = boxes(module, "back")
    for duty in module.slides:
        slides = [i for i in module.items if i.article == duty.slide.key]
        behind = max(c[:, 0].max() for s in slides for c in s.corners())
        assert behind <= back.x0 + 1e-6
        room = back.x0 - min(c[:, 0].min() for s in slides for c in s.corners())
        sort = duty.slide.key.rsplit(" ", 1)[0]
        longer = [
            s
            for s in setting.catalogue.slides.values()
            if s.key.startswith(sort)
            and duty.slide.length < s.length <= room - 10.0
            and s.rating_kg >= duty.contents_kg
        ]
        assert longer == []


def test_heavy_loads_get_heavy_slides(wagon):
    spec = DrawersSpec(columns=1, stack=(DrawerSpec(carries=60.0), DrawerSpec(carries=10.0)))
    first, second = build("drawers", spec, BERTH, wagon()).slides
    assert first.slide.key.startswith("heavy locking")
    assert first.slide.locks
    assert second.slide.key.startswith("full extension")


def test_a_named_slide_is_kept(wagon):
    spec = DrawersSpec(columns=1, slides="full extension 400")
    module = build("drawers", spec, BERTH, wagon())
    assert {d.slide.key for d in module.slides} == {"full extension 400"}
    assert {m.travel for m in module.motions} == {400.0}


def test_each_drawer_box_leaves_its_slides_room(wagon):
    module = build("drawers", DrawersSpec(columns=2), BERTH, wagon())
    found = panels(module)
    for duty in module.slides:
        label = duty.name.removeprefix("drawers/")
        column = label.split(" ", 2)[2]
        left, right = box_of(found[f"{label} left side"]), box_of(found[f"{label} right side"])
        outer_left = box_of(found[f"left side {column}"])
        outer_right = box_of(found[f"right side {column}"])
        assert outer_left.y0 - left.y1 == pytest.approx(duty.slide.side_clearance)
        assert right.y0 - outer_right.y1 == pytest.approx(duty.slide.side_clearance)


def test_pilot_holes_stand_at_the_slides_own_distances(wagon):
    module = build("drawers", DrawersSpec(columns=1), BERTH, wagon())
    found = panels(module)
    for duty in module.slides:
        label = duty.name.removeprefix("drawers/")
        (item,) = [i for i in module.items if i.name == f"{label} left slide"]
        start = min(c[:, 0].min() for c in item.corners())
        for name, holes in (
            (f"{label} left side", duty.slide.drawer_holes),
            ("left side", duty.slide.carcass_holes),
        ):
            panel = found[name]
            places = [panel.placement.at(h.x, h.y) for h in panel.holes if h.purpose == "slide"]
            height = min(c[:, 2].min() for c in item.corners()) + duty.slide.height / 2.0
            on_this = sorted(p[0] - start for p in places if abs(p[2] - height) < 1e-6)
            assert on_this == pytest.approx(holes)


def test_slides_stand_in_the_middle_of_neither_board_through(wagon):
    module = build("drawers", DrawersSpec(columns=2), BERTH, wagon(9.0))
    for panel in module.panels:
        for hole in panel.holes:
            if hole.purpose == "slide" and panel.moves is None:
                assert hole.depth is not None
                assert hole.depth < panel.thickness - 1.0


def test_each_drawer_comes_out_past_everything(wagon):
    setting = wagon()
    module = build("drawers", DrawersSpec(columns=2, stack=(DrawerSpec(),) * 3), BERTH, setting)
    for motion in module.motions:
        assert motion.kind is MotionKind.SLIDE
        moving = [p for p in module.panels if p.moves == motion.name]
        assert len(moving) == 6
        for part in moving:
            swept = sweep(body_of(part), motion.direction, motion.travel)
            for other in module.panels:
                if other.moves == motion.name:
                    continue
                body = body_of(other)
                apart = np.maximum(body.lo - swept.hi, swept.lo - body.hi).max()
                assert apart >= setting.rules.moving - 1e-6, f"{part.name} {other.name}"


@pytest.mark.parametrize("lip", [0.0, 28.0, 64.0])
def test_the_lowest_drawer_clears_the_lip(bays, setting_of, lip):
    setting = setting_of(dataclasses.replace(bays["wagon"], lip=lip))
    module = build("drawers", DrawersSpec(columns=1), BERTH, setting)
    lowest = min(box_of(p).z0 for p in module.panels if p.moves)
    assert lowest >= lip + setting.rules.moving
    front = panels(module)["drawer 1 front"]
    assert box_of(front).z0 >= BERTH.z0 + 3.0 - 1e-6
    asked = needs(DrawersSpec(), setting)
    assert asked.z.least >= lip


def test_on_another_module_the_lip_is_far_below(wagon, faults_of):
    setting = wagon()
    setting = dataclasses.replace(setting, bay=dataclasses.replace(setting.bay, lip=64.0))
    berth = dataclasses.replace(BERTH, z0=264.0, z1=640.0)
    module = build("drawers", DrawersSpec(columns=1, on="box"), berth, setting)
    assert faults_of(module, setting) == []
    assert box_of(panels(module)["drawer 1 front"]).z0 == pytest.approx(267.0)
    bolts = [h for h in panels(module)["base"].holes if "module below" in h.purpose]
    assert len(bolts) == 4
    assert module.needs_fixings == 0
    bought = {line.article: line.quantity for line in module.hardware}
    assert bought["bolt M6 x 30"] == bought["insert nut M6"] == 4
    assert "bay/floor" not in {j.b for j in module.joints}


@pytest.mark.parametrize("thickness", [9.0, 11.7, 12.0, 14.8, 18.0])
@pytest.mark.parametrize("width", [500.0, 800.0, 1100.0, 1500.0])
def test_as_many_columns_as_the_top_needs_to_bear_a_knee(wagon, thickness, width):
    setting = wagon(thickness)
    count = columns_for(setting, width, 800.0)
    module = build(
        "drawers", DrawersSpec(), dataclasses.replace(BERTH, y0=-width / 2, y1=width / 2), setting
    )
    assert len(module.slides) == 2 * count
    t = setting.boards["carcass"].thickness

    def sags(columns: int) -> bool:
        clear = width / columns - 2.0 * t
        plate = plate_of_board(
            setting.boards["deck"], (800.0, clear), "v ends", grain_along_u=False
        )
        patch = Patch(load_n=1000.0, size_u=100.0, size_v=100.0)
        return plate_response(plate, patch=patch).deflection > clear / 100.0

    if count > 1:
        assert sags(count - 1)
    if count < 4 and width / (count + 1) - 2.0 * t >= 220.0:
        assert not sags(count)


def test_without_known_stiffness_columns_are_of_usual_width(wagon):
    setting = wagon()
    weak = dataclasses.replace(setting.boards["deck"], e_along_mpa=None, e_across_mpa=None)
    setting = dataclasses.replace(setting, boards={**setting.boards, "deck": weak})
    assert columns_for(setting, 480.0, 800.0) == 1
    assert columns_for(setting, 1000.0, 800.0) == 2
    assert columns_for(setting, 100.0, 800.0) == 1


def test_every_top_and_bottom_has_its_duty(wagon):
    module = build("drawers", DrawersSpec(columns=2), BERTH, wagon())
    duties = {d.panel.removeprefix("drawers/"): d for d in module.plates}
    assert duties["top"].patch
    assert duties["top"].edges == "v ends"
    assert panels(module)["top"].grain is Grain.ALONG_V, "stiff from side to side"
    for duty in module.slides:
        bottom = duties[f"{duty.name.removeprefix('drawers/')} bottom"]
        assert bottom.load_kg == duty.contents_kg
        assert bottom.edges == "all"
        # Its bottom may sag half the way to what lies beneath it, and no more.
        assert bottom.most_sag == pytest.approx(7.0)


def test_known_floor_points_are_drilled_and_used(wagon, faults_of):
    points = [(150.0, 200.0), (150.0, -200.0), (700.0, 200.0), (700.0, -200.0)]
    anchors = tuple(
        AnchorPoint(name=f"eye {i}", x=x, y=y, z=0.0, thread="M8", below="clear")
        for i, (x, y) in enumerate(points)
    )
    outside = AnchorPoint(name="far", x=950.0, y=0.0, z=0.0, thread="M8", below="clear")
    setting = wagon()
    bay = dataclasses.replace(setting.bay, anchors=(*anchors, outside))
    setting = dataclasses.replace(setting, bay=bay)
    module = build("drawers", DrawersSpec(columns=1), BERTH, setting)
    assert faults_of(module, setting) == []
    assert {f.anchor for f in module.fixings} == {a.name for a in anchors}
    base = panels(module)["base"]
    drilled = sorted(
        base.placement.at(h.x, h.y)[:2] for h in base.holes if h.purpose == "floor bolt"
    )
    assert np.array(drilled) == pytest.approx(np.array(sorted(points)))


def test_unknown_floor_points_are_only_proposed(wagon):
    module = build("drawers", DrawersSpec(columns=1), BERTH, wagon())
    assert module.needs_fixings == 4
    assert [f.anchor for f in module.fixings] == [None] * 4
    assert not [h for h in panels(module)["base"].holes if h.purpose == "floor bolt"]


def test_removable_drawers_have_hand_holes_and_a_way_out(wagon):
    setting = wagon()
    fixed = build("drawers", DrawersSpec(columns=2), BERTH, setting)
    module = build("drawers", DrawersSpec(columns=2, removable=True), BERTH, setting)
    held = [p.name for p in module.panels if p.moves is None and p.outline.inner]
    assert held == ["left side left", "right side right"], "the two outermost sides"
    assert not [p for p in fixed.panels if p.moves is None and p.outline.inner]
    for name in held:
        panel = panels(module)[name]
        (hole,) = panel.outline.inner
        x0, y0, x1, y1 = hole.bounds
        assert x1 - x0 == pytest.approx(110.0), "wide enough for four fingers"
        assert y1 - y0 == pytest.approx(36.0)
        assert y1 < panel.outline.size[1]
    assert [m.name for m in module.motions if m.kind is MotionKind.REMOVE] == ["lift out"]
    assert module.needs_fixings == 2


def test_one_at_a_time_each_drawer_wants_all_others_shut(wagon):
    stack = (DrawerSpec(), DrawerSpec())
    setting = wagon()
    together = build("drawers", DrawersSpec(stack=stack, columns=2), BERTH, setting)
    assert {motion.shut for motion in together.motions} == {()}
    spec = DrawersSpec(stack=stack, columns=2, one_at_a_time=True)
    singly = build("drawers", spec, BERTH, setting)
    ids = {motion.id for motion in singly.motions}
    assert len(ids) == 4
    assert {motion.id: {motion.id, *motion.shut} for motion in singly.motions} == dict.fromkeys(
        ids, ids
    )


def test_a_latch_stands_in_for_the_finger_hole(wagon):
    module = build("drawers", DrawersSpec(columns=2, pull="latch"), BERTH, wagon())
    bought = {line.article: line.quantity for line in module.hardware}
    assert bought["push-button latch"] == 4
    assert bought["lip striker"] == 4
    for front in outer_fronts(module):
        assert not front.outline.inner
        assert [h.diameter for h in front.holes] == [22.0], "a round hole for the button"


def test_every_screw_hole_has_its_screw(wagon):
    module = build("drawers", DrawersSpec(columns=2), BERTH, wagon())
    drilled = sum(1 for p in module.panels for h in p.holes if h.purpose == "screw")
    screws = [li for li in module.hardware if li.purpose == "joints"]
    assert drilled == sum(li.quantity for li in screws)
    pilots = sum(1 for p in module.panels for h in p.holes if h.purpose == "slide")
    assert pilots == sum(li.quantity for li in module.hardware if li.purpose == "slides")


def test_what_is_asked_for_is_what_is_needed(wagon):
    setting = wagon()
    asked = needs(DrawersSpec(), setting)
    assert asked.opens_rear
    assert asked.top == "deck"
    assert asked.x.fills
    assert asked.y.fills
    assert asked.z.least < asked.z.wanted
    fixed = needs(DrawersSpec(width=800.0, depth=600.0, height=400.0), setting)
    assert (fixed.y.least, fixed.y.most) == (800.0, 800.0)
    assert (fixed.x.given, fixed.y.given, fixed.z.given) == ("depth", "width", "height")
    more = needs(DrawersSpec(stack=(DrawerSpec(front_height=300.0), DrawerSpec())), setting)
    assert more.z.least > asked.z.least
    assert needs(DrawersSpec(columns=3), setting).y.least > 2.0 * asked.y.least


@pytest.mark.parametrize("columns", [1, 2, 3, 4])
@pytest.mark.parametrize("thickness", [9.0, 18.0])
def test_the_least_berth_asked_for_can_be_built(wagon, faults_of, columns, thickness):
    setting = wagon(thickness)
    spec = DrawersSpec(columns=columns)
    asked = needs(spec, setting)
    berth = Berth(
        x0=60.0, x1=60.0 + asked.x.least, y0=-asked.y.least / 2, y1=asked.y.least / 2,
        z0=0.0, z1=asked.z.least,
    )  # fmt: skip
    module = build("drawers", spec, berth, setting)
    assert faults_of(module, setting) == []
    assert all(p.outline.area > 0.0 and p.volume > 0.0 for p in module.panels)


@pytest.mark.parametrize("columns", [1, 2, 4])
def test_the_finger_hole_goes_right_through_to_the_inside(wagon, columns):
    spec = DrawersSpec(columns=columns, pull="finger hole")
    module = build("drawers", spec, BERTH, wagon())
    found = panels(module)
    for front in outer_fronts(module):
        inner = found[front.name.replace(" front", " inner front")]
        places = []
        for panel in (front, inner):
            (hole,) = panel.outline.inner
            x0, y0, x1, y1 = hole.bounds
            corners = [panel.placement.at(x, y) for x, y in ((x0, y0), (x1, y1))]
            places.append(sorted(c[1] for c in corners) + sorted(c[2] for c in corners))
        assert places[0] == pytest.approx(places[1])
        right, left, low, high = places[0]
        assert high - low >= 30.0, "high enough for fingers"
        assert left - right >= 60.0
        assert high <= box_of(inner).z1 - 14.0 + 1e-6


@pytest.mark.parametrize("thickness", THICKNESSES)
def test_face_screws_hold_and_stay_inside(wagon, thickness):
    setting = wagon(thickness)
    module = build("drawers", DrawersSpec(columns=2), BERTH, setting)
    lines = [li for li in module.hardware if li.purpose in ("column to column", "front to drawer")]
    assert len(lines) == 2
    for line in lines:
        length = setting.catalogue.articles[line.article].length
        assert thickness + 4.0 <= length < 2.0 * thickness
    holes = sum(1 for p in module.panels for h in p.holes if h.purpose == "screw to front")
    assert holes == sum(li.quantity for li in lines if li.purpose == "front to drawer")


@pytest.mark.parametrize(
    ("spec", "path", "least"),
    [
        (DrawersSpec(depth=300.0), ("depth",), 436.0),
        (DrawersSpec(width=120.0), ("width",), 147.0),
        (DrawersSpec(width=400.0, columns=3), ("width",), 439.0),
        # Lip 28 and 3 above it; for a 76 slide 88.5 of front above that; twice, with 3 above
        # each; the top's 12.
        (DrawersSpec(height=150.0), ("height",), 226.0),
        (
            DrawersSpec(stack=(DrawerSpec(), DrawerSpec(front_height=50.0))),
            ("stack", 1, "front_height"),
            85.0,
        ),
    ],
    ids=["depth", "width", "columns", "height", "front height"],
)
def test_sizes_no_drawer_goes_in_are_refused_with_what_would_do(wagon, spec, path, least):
    setting = wagon()
    asked = needs(spec, setting)
    berth = Berth(
        x0=60.0, x1=60.0 + asked.x.least, y0=-asked.y.least / 2, y1=asked.y.least / 2,
        z0=0.0, z1=asked.z.least,
    )  # fmt: skip
    with pytest.raises(DesignError) as refused:
        build("drawers", spec, berth, setting)
    (fault,) = refused.value.faults
    assert fault.path == ("modules", "drawers", *path)
    assert fault.expected == f"at least {least:.0f}"
    assert fault.hint


def test_what_is_said_to_be_the_least_height_can_be_built(wagon, faults_of):
    setting = wagon()
    for spec in (
        DrawersSpec(height=226.0, columns=1),
        DrawersSpec(columns=1, stack=(DrawerSpec(), DrawerSpec(front_height=85.0))),
    ):
        asked = needs(spec, setting)
        berth = dataclasses.replace(BERTH, z1=asked.z.least)
        assert faults_of(build("drawers", spec, berth, setting), setting) == []


def test_a_named_slide_asks_for_its_length(wagon):
    setting = wagon()
    named = needs(DrawersSpec(slides="full extension 700"), setting)
    shortest = needs(DrawersSpec(slides="full extension"), setting)
    assert named.x.least - shortest.x.least == pytest.approx(400.0)


def test_floor_points_under_a_side_or_the_back_are_left_alone(wagon):
    setting = wagon()
    under = {"side": (400.0, 0.0), "outer side": (400.0, 380.0), "back": (842.0, 200.0)}
    anchors = tuple(
        AnchorPoint(name=n, x=x, y=y, z=0.0, thread="M8", below="clear")
        for n, (x, y) in {**under, "free": (400.0, 200.0)}.items()
    )
    bay = dataclasses.replace(setting.bay, anchors=anchors)
    berth = dataclasses.replace(BERTH, y0=-400.0, y1=400.0)
    setting = dataclasses.replace(setting, bay=bay)
    module = build("drawers", DrawersSpec(columns=2), berth, setting)
    assert [f.anchor for f in module.fixings if f.anchor] == ["free"]
    assert len(module.fixings) == 4, "the others are proposed elsewhere"


@pytest.mark.parametrize("thickness", [9.0, 18.0])
def test_the_lowest_drawer_clears_the_heads_of_the_floor_bolts(wagon, thickness):
    setting = wagon(thickness)
    setting = dataclasses.replace(setting, bay=dataclasses.replace(setting.bay, lip=0.0))
    module = build("drawers", DrawersSpec(columns=2), BERTH, setting)
    lowest = min(box_of(p).z0 for p in module.panels if p.moves and "front" not in p.name)
    # An M8 head is 5.3 high, its washer 2.
    assert lowest - box_of(panels(module)["base"]).z1 >= 5.3 + 2.0 + setting.rules.moving


@pytest.mark.parametrize(
    ("spec", "deck", "carcass", "most"),
    [
        (DrawersSpec(), {}, {}, 1190.0),
        (DrawersSpec(width=1300.0), {"width": 1525.0}, {}, 1190.0 + 12.0 + 2.0),
        (DrawersSpec(), {"width": 1525.0}, {}, 1495.0),
        (DrawersSpec(width=1300.0), {"grain": False}, {"width": 1525.0}, 1190.0),
        (DrawersSpec(), {"grain": False}, {}, 2410.0),
        (DrawersSpec(width=900.0), {"width": 300.0}, {}, None),
        (DrawersSpec(depth=1500.0), {}, {}, 1500.0),
    ],
    ids=["usual", "wide", "wide deck", "wide, no grain", "no grain", "tiny sheet", "given"],
)
def test_no_deeper_than_the_sheets_of_top_and_base(wagon, spec, deck, carcass, most):
    """The opening is 1138 at its widest; a narrower base may lie along its sheet."""
    setting = wagon()
    boards = dict(setting.boards)
    boards["deck"] = dataclasses.replace(boards["deck"], **deck)
    boards["carcass"] = dataclasses.replace(boards["carcass"], **carcass)
    extent = needs(spec, dataclasses.replace(setting, boards=boards)).x
    assert extent.most == (extent.least if most is None else pytest.approx(most))
    assert extent.fills is (spec.depth is None)
