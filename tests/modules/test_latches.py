"""Where a latch finds room, and what it needs."""

import dataclasses

import pytest

from fitout.model.module import Berth
from fitout.model.outline import rectangle
from fitout.model.panel import Hole
from fitout.model.placement import X, Y, Z, across, flat
from fitout.modules.joinery import Draft
from fitout.modules.latches import Catch, add_latch, beside_finger_hole, moved, serves

PLACE = ((112.0, 0.0, 210.0), None)
CATCH = Catch(motion="d", panel="front", striker_panel="top", normal=X, throw=Z)


@pytest.fixture
def draft(bays, setting_of):
    """A front of 12 mm, its inner face at 112, under a top at 210."""
    made = Draft("a", "drawers", setting_of(bays["van"], 12.0))
    front = made.board("front")
    made.panel("front", front, (300.0, 200.0), across(100.0, -150.0, 5.0), moves="d")
    made.panel("top", front, (210.0, 400.0), flat(90.0, -200.0, 210.0))
    return made


def latch_of(draft, name="finger catch"):
    return draft.setting.catalogue.latches[name]


def test_a_free_place_is_taken_and_drilled_once(draft):
    assert add_latch(draft, latch_of(draft), CATCH, [PLACE])
    assert len(draft.latches) == 1
    front = draft.panels["front"]
    assert sorted((h.x, h.y, h.diameter, h.purpose) for h in front.holes) == [
        (136.5, 182.5, 4.5, "latch"),
        (163.5, 182.5, 4.5, "latch"),
    ]
    assert {(h.x, h.y, h.purpose) for h in draft.panels["top"].holes} == {
        (31.5, 183.0, "striker"),
        (31.5, 217.0, "striker"),
    }


def test_a_button_goes_through_all_boards_before_it(draft):
    draft.panel("face", draft.board("front"), (320.0, 210.0), across(88.0, -160.0, 0.0))
    catch = Catch(
        motion="d", panel="front", striker_panel="top", normal=X, throw=Z, behind=("face",)
    )
    assert add_latch(draft, latch_of(draft, "push-button latch"), catch, [PLACE])
    heights = []
    for name in ("front", "face"):
        (hole,) = (h for h in draft.panels[name].holes if h.purpose == "latch button")
        assert hole.diameter == 22.0
        heights.append(draft.panels[name].placement.at(hole.x, hole.y)[2])
    assert heights == pytest.approx([210.0 - 10.5 - 26.0] * 2)
    assert draft.latches[0].passes == ("a/front", "a/face")


@pytest.mark.parametrize(
    "hole",
    [Hole(150.0, 170.0, 4.5), Hole(131.0, 182.5, 8.0), Hole(170.5, 160.0, 4.5)],
    ids=["under the case", "by a bolt", "at its edge"],
)
def test_a_place_with_something_in_it_is_passed_by(draft, hole):
    draft.drill("front", [hole])
    other = (moved(PLACE[0], Y, 60.0), None)
    assert add_latch(draft, latch_of(draft), CATCH, [PLACE, other])
    assert draft.latches[0].root == pytest.approx((112.0, 60.0, 199.5))


def test_it_keeps_from_cut_outs_pockets_and_parts(draft):
    draft.cut_out("front", [rectangle(40.0, 20.0, 130.0, 150.0)])
    assert not add_latch(draft, latch_of(draft), CATCH, [PLACE])
    free = [(moved(PLACE[0], Y, 70.0), None)]
    # A board that stands where the case would be.
    draft.panel("post", draft.board("carcass"), (50.0, 30.0), flat(120.0, 60.0, 180.0))
    assert not add_latch(draft, latch_of(draft), CATCH, free)
    draft.withdraw("post")
    assert add_latch(draft, latch_of(draft), CATCH, free)


@pytest.mark.parametrize("y", [-143.0, 143.0])
def test_no_bolt_comes_near_an_edge(draft, y):
    assert not add_latch(draft, latch_of(draft), CATCH, [(moved(PLACE[0], Y, y), None)])
    assert draft.panels["front"].holes == draft.panels["top"].holes == ()


@pytest.mark.parametrize(
    ("thickness", "able"),
    [
        (5.0, set()),
        (6.0, {"finger catch", "turn latch"}),
        (12.0, {"finger catch", "turn latch", "push-button latch"}),
        (28.0, {"turn latch", "push-button latch"}),
        (41.0, set()),
    ],
)
def test_boards_too_thin_or_thick_are_not_served(bays, setting_of, thickness, able):
    draft = Draft("a", "drawers", setting_of(bays["van"], thickness))
    board = draft.board("front")
    draft.panel("front", board, (300.0, 200.0), across(100.0, -150.0, 5.0), moves="d")
    draft.panel("top", board, (210.0, 400.0), flat(90.0, -200.0, 210.0))
    latches = draft.setting.catalogue.latches
    assert {key for key, kind in latches.items() if serves(draft, kind, CATCH)} == able
    for key, kind in latches.items():
        place = (moved(PLACE[0], X, thickness - 12.0), None)
        assert add_latch(draft, kind, CATCH, [place]) is (key in able)
        draft.panels["front"] = bare(draft.panels["front"])
        draft.panels["top"] = bare(draft.panels["top"])


def bare(panel):
    return dataclasses.replace(panel, holes=())


def test_a_lever_is_led_to_the_finger_hole(draft):
    places = list(beside_finger_hole(latch_of(draft), (0.0, 0.0, 0.0), 40.0, Y))
    assert [point[1] for point, _ in places] == [64.0, -64.0], "40, 6 between, half of 36"
    assert [lever for _, lever in places] == [(0.0, -1.0, 0.0), (0.0, 1.0, 0.0)]
    button = list(beside_finger_hole(latch_of(draft, "turn latch"), (0.0, 0.0, 0.0), 40.0, Y))
    assert [lever for _, lever in button] == [None, None]
    assert [*beside_finger_hole(latch_of(draft), (1.0, 2.0, 3.0), 0.0, Y)] == [
        ((1.0, 2.0, 3.0), None)
    ]


@pytest.mark.parametrize(
    ("thickness", "bolt"), [(12.0, 20), (13.5, 20), (14.0, 25), (18.5, 25), (21.0, 30), (27.0, 40)]
)
def test_bolts_reach_through_board_ear_and_nut(bays, setting_of, thickness, bolt):
    """1.5 mm of ear and a nut of 5 besides the board."""
    draft = Draft("a", "drawers", setting_of(bays["van"], thickness))
    board = draft.board("front")
    draft.panel("front", board, (300.0, 200.0), across(100.0, -150.0, 5.0), moves="d")
    draft.panel("top", board, (210.0, 400.0), flat(90.0, -200.0, 210.0))
    assert add_latch(draft, latch_of(draft), CATCH, [(moved(PLACE[0], X, thickness - 12.0), None)])
    berth = Berth(x0=0.0, x1=500.0, y0=-200.0, y1=200.0, z0=0.0, z1=300.0)
    bought = {line.article: line.quantity for line in draft.finish(berth).hardware}
    assert bought[f"countersunk bolt M4 x {bolt}"] == 4
    assert bought["lock nut M4"] == 4
