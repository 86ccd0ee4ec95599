"""A drawer's box and front: bottoms fit their grooves, screws miss what they must miss."""

import dataclasses
import itertools

import pytest

from fitout.model.module import Berth, JointKind
from fitout.model.panel import Panel
from fitout.modules.carcass import Column, Opening
from fitout.modules.drawer_box import BOTTOM_RAISED, drawer_box, drawer_front
from fitout.modules.joinery import Draft
from fitout.modules.neighbours import box_of

BOX = Berth(x0=60.0, x1=660.0, y0=-200.0, y1=200.0, z0=20.0, z1=170.0)
COLUMN = Column(suffix="", y0=-219.1, y1=219.1)
RIM = ("left side", "right side", "inner front", "back")


@pytest.fixture
def make(bays, setting_of):
    """A drawer of boards as thick as asked: the draft and its bottom."""

    def build(
        thickness: float = 12.0, bottom: float = 6.4, box: Berth = BOX
    ) -> tuple[Draft, Panel]:
        setting = setting_of(bays["wagon"], thickness)
        thin = dataclasses.replace(setting.boards["bottom"], thickness=bottom)
        setting = dataclasses.replace(setting, boards={**setting.boards, "bottom": thin})
        draft = Draft("drawers", "drawers", setting)
        return draft, drawer_box(draft, "drawer 1", box, "drawer 1")

    return build


@pytest.mark.parametrize("thickness", [9.0, 11.7, 15.0, 18.0])
@pytest.mark.parametrize("bottom", [3.6, 6.4, 9.2, 11.7])
def test_the_bottom_fits_its_grooves(make, thickness, bottom):
    draft, panel = make(thickness, bottom)
    place = box_of(panel)
    for name in RIM:
        side = draft.panels[f"drawer 1 {name}"]
        (cut,) = side.pockets
        x0, y0, x1, y1 = cut.loop.bounds
        assert (x0, x1) == pytest.approx((0.0, side.outline.size[0])), "from end to end"
        assert y1 - y0 == pytest.approx(bottom + 0.2)
        assert BOX.z0 + y0 < place.z0 < place.z1 < BOX.z0 + y1
        assert cut.depth <= thickness / 2.0 + 0.05
        # Face A, where the groove is cut, looks into the drawer.
        box = box_of(side)
        w = side.placement.w
        middle = ((box.x0 + box.x1) / 2.0, (box.y0 + box.y1) / 2.0)
        assert w[0] * (360.0 - middle[0]) + w[1] * (0.0 - middle[1]) > 0.0
    cut = draft.panels["drawer 1 back"].pockets[0].depth
    assert place.x1 - place.x0 == pytest.approx(600.0 - 2.0 * thickness + 2.0 * (cut - 0.5))
    assert place.y1 - place.y0 == pytest.approx(400.0 - 2.0 * thickness + 2.0 * (cut - 0.5))


def test_the_bottom_is_held_on_all_four_sides(make):
    draft, bottom = make()
    held = {j.b for j in draft.joints if j.a == bottom.id and j.kind is JointKind.GROOVED}
    assert held == {f"drawers/drawer 1 {name}" for name in RIM}
    assert box_of(bottom).z0 == pytest.approx(BOX.z0 + BOTTOM_RAISED + 0.1)


def test_the_box_fills_its_room_and_ends_stand_between_the_sides(make):
    draft, _ = make(12.0)
    left, right, front, back = (box_of(draft.panels[f"drawer 1 {n}"]) for n in RIM)
    assert (right.y0, left.y1) == (BOX.y0, BOX.y1)
    assert (front.x0, back.x1) == (BOX.x0, BOX.x1)
    for end in (front, back):
        assert (end.y0, end.y1) == pytest.approx((right.y1, left.y0))
    for part in (left, right, front, back):
        assert (part.z0, part.z1) == (BOX.z0, BOX.z1)
    assert {p.moves for p in draft.panels.values()} == {"drawer 1"}


@pytest.mark.parametrize("holed", [True, False])
@pytest.mark.parametrize("width", [160.0, 220.0, 400.0, 900.0])
@pytest.mark.parametrize("height", [75.0, 90.0, 150.0, 400.0])
@pytest.mark.parametrize("bottom", [3.6, 11.7])
def test_screws_into_the_front_miss_groove_hole_and_each_other(make, holed, width, height, bottom):
    box = dataclasses.replace(BOX, y0=-width / 2.0, y1=width / 2.0, z1=BOX.z0 + height)
    draft, _ = make(12.0, bottom, box)
    column = Column(suffix="", y0=box.y0 - 19.1, y1=box.y1 + 19.1)
    opening = Opening(number=1, front0=14.0, front1=box.z1 + 8.0, carries_kg=10.0)
    drawer_front(draft, holed, column, opening, "drawer 1", box)
    inner = draft.panels["drawer 1 inner front"]
    (cut,) = inner.pockets
    screws = [h for h in inner.holes if h.purpose == "screw to front"]
    assert len(screws) >= 2
    for hole in screws:
        assert hole.y - hole.diameter / 2.0 > cut.loop.bounds[3]
        assert hole.y + hole.diameter / 2.0 < inner.outline.size[1] - 5.0
        for loop in inner.outline.inner:
            x0, y0, x1, y1 = loop.bounds
            beside = hole.x + 4.0 < x0 or hole.x - 4.0 > x1
            assert beside or hole.y + 4.0 < y0 or hole.y - 4.0 > y1
    for a, b in itertools.combinations(inner.holes, 2):
        assert abs(a.x - b.x) + abs(a.y - b.y) > 4.5
    for loop in inner.outline.inner:
        assert loop.bounds[1] > cut.loop.bounds[3], "the finger hole stands above the groove"


def test_the_front_covers_the_sides_less_half_a_gap(make):
    draft, _ = make(12.0)
    opening = Opening(number=1, front0=14.0, front1=180.0, carries_kg=10.0)
    drawer_front(draft, True, COLUMN, opening, "drawer 1", BOX)
    front = box_of(draft.panels["drawer 1 front"])
    assert (front.y0, front.y1) == pytest.approx((-219.1 - 12.0 + 1.5, 219.1 + 12.0 - 1.5))
    assert (front.z0, front.z1) == (14.0, 180.0)
    assert front.x1 == pytest.approx(BOX.x0), "it lies against the box"
    assert draft.panels["drawer 1 front"].edging
