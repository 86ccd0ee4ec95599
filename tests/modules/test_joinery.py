"""What the kinds share: a draft that gathers parts, rows of screws, grooves, holes, bolts."""

import dataclasses
import itertools
import math

import pytest

from fitout.model.bay import AnchorPoint
from fitout.model.module import Berth, JointKind, Remark
from fitout.model.outline import Outline, circle, rectangle
from fitout.model.panel import Grain, Hole
from fitout.model.placement import along, flat
from fitout.modules.joinery import (
    Draft,
    anchors_within,
    corner_points,
    face_screw,
    fix_to_floor,
    fix_to_module,
    groove,
    groove_depth,
    hand_hole,
    screw_points,
    sheet_room,
    spread,
    window,
)


@pytest.fixture
def draft(bays, setting_of):
    return Draft("box", "drawers", setting_of(bays["wagon"], 12.0))


@pytest.mark.parametrize("length", [30.0, 80.0, 81.0, 230.0, 231.0, 400.0, 1000.0])
def test_spread_keeps_inset_and_spacing_and_is_even(length):
    places = spread(100.0, 100.0 + length, 40.0, 150.0)
    if length <= 80.0:
        assert places == (100.0 + length / 2.0,)
        return
    assert places[0] == pytest.approx(140.0)
    assert places[-1] == pytest.approx(60.0 + length)
    steps = [b - a for a, b in itertools.pairwise(places)]
    assert max(steps) <= 150.0 + 1e-9
    assert steps == pytest.approx([steps[0]] * len(steps))
    assert len(places) == 1 + math.ceil((length - 80.0) / 150.0)


def test_screws_stand_on_their_line_within_its_ends():
    points = screw_points((0.0, 0.0, 10.0), (300.0, 400.0, 10.0))
    assert points[0] == pytest.approx((24.0, 32.0, 10.0))
    assert points[-1] == pytest.approx((276.0, 368.0, 10.0))
    assert len(points) == 4
    assert len(screw_points((0.0, 0.0, 0.0), (0.0, 0.0, 60.0))) == 2


def test_a_row_of_screws_drills_only_what_it_passes_through(draft):
    board = draft.board("carcass")
    draft.panel("top", board, (400.0, 300.0), flat(0.0, 0.0, 100.0))
    draft.panel("side", board, (400.0, 100.0), along(0.0, 12.0, 0.0))
    draft.screw("top", "side", (0.0, 6.0, 100.0), (400.0, 6.0, 100.0))
    top, side = draft.panels["top"], draft.panels["side"]
    assert side.holes == ()
    assert [h.y for h in top.holes] == pytest.approx([6.0] * len(top.holes))
    assert [h.x for h in top.holes] == pytest.approx(
        [p[0] for p in screw_points((0.0, 6.0, 0.0), (400.0, 6.0, 0.0))]
    )
    assert {h.diameter for h in top.holes} == {4.5}
    (joint,) = draft.joints
    assert (joint.a, joint.b, joint.kind) == ("box/top", "box/side", JointKind.SCREWED)
    module = draft.finish(None)
    (line,) = module.hardware
    assert (line.article, line.quantity) == ("wood screw 4 x 40", len(top.holes))


@pytest.mark.parametrize(
    ("thickness", "article", "hole"),
    [
        (12.0, "wood screw 4 x 40", 4.5),
        (11.0, "wood screw 4 x 40", 4.5),
        (10.9, "wood screw 3.5 x 35", 4.0),
        (9.2, "wood screw 3.5 x 35", 4.0),
        (6.4, "wood screw 3.5 x 35", 4.0),
    ],
)
def test_the_edge_screwed_into_chooses_the_screw(draft, thickness, article, hole):
    board = draft.board("carcass")
    thin = dataclasses.replace(board, thickness=thickness)
    draft.panel("top", board, (400.0, 300.0), flat(0.0, 0.0, 100.0))
    for name, y in (("side", 12.0), ("other", 200.0)):
        draft.panel(name, thin, (400.0, 100.0), along(0.0, y, 0.0))
        draft.screw("top", name, (0.0, y - 6.0, 100.0), (400.0, y - 6.0, 100.0))
    assert {h.diameter for h in draft.panels["top"].holes} == {hole}
    module = draft.finish(None, [Remark("open deck", "The deck stays open.")])
    (line,) = module.hardware
    assert (line.article, line.quantity) == (article, 8)
    assert module.remarks[0] == Remark("open deck", "The deck stays open.")
    assert [r.code for r in module.remarks[1:]] == ["thin edge"] * (thickness < 7.5)
    if thickness < 7.5:
        assert "box has screws into edges of 6.4 mm" in module.remarks[1].sentence
        assert "fasten side, other with glue and cleats" in module.remarks[1].sentence


def test_a_screw_that_was_chosen_stays(draft):
    thin = dataclasses.replace(draft.board("carcass"), thickness=6.4)
    draft.panel("lid", thin, (400.0, 100.0), flat(0.0, 0.0, 6.4))
    draft.panel("cleat", thin, (400.0, 40.0), flat(0.0, 0.0, 0.0))
    ends = (0.0, 20.0, 12.8), (400.0, 20.0, 12.8)
    draft.screw("lid", "cleat", *ends, "wood screw 4 x 30")
    module = draft.finish(None)
    assert [li.article for li in module.hardware] == ["wood screw 4 x 30"]
    assert module.remarks == ()


def test_a_hole_that_is_there_is_not_drilled_twice(draft):
    draft.panel("top", draft.board("carcass"), (400.0, 300.0), flat(0.0, 0.0, 0.0))
    draft.drill("top", [Hole(10.0, 10.0, 4.5), Hole(20.0, 10.0, 4.5)])
    draft.drill("top", [Hole(10.0, 10.0, 4.5), Hole(30.0, 10.0, 4.5)])
    assert [h.x for h in draft.panels["top"].holes] == [10.0, 20.0, 30.0]


def test_cut_outs_add_up_and_a_panel_can_be_taken_out_again(draft):
    board = draft.board("carcass")
    draft.panel("top", board, Outline(rectangle(400.0, 300.0)), flat(0.0, 0.0, 0.0))
    draft.cut_out("top", [circle(100.0, 100.0, 50.0)])
    draft.cut_out("top", [circle(300.0, 100.0, 50.0)])
    assert len(draft.panels["top"].outline.inner) == 2
    draft.panel("side", board, (100.0, 100.0), flat(0.0, 0.0, 12.0))
    draft.rest("side", "top")
    draft.rest("top", "bay/floor")
    draft.withdraw("side")
    assert list(draft.panels) == ["top"]
    assert [(j.a, j.b) for j in draft.joints] == [("box/top", "bay/floor")]


def test_boards_without_grain_lie_either_way(draft):
    board = dataclasses.replace(draft.board("carcass"), grain=False)
    part = draft.panel("a", board, (10.0, 10.0), flat(0.0, 0.0, 0.0), grain=Grain.ALONG_V)
    assert part.grain is Grain.EITHER


def test_hardware_is_counted_by_article_and_purpose(draft):
    draft.buy("bolt M6 x 30", 2, "lid")
    draft.buy("bolt M6 x 30", 3, "lid")
    draft.buy("bolt M6 x 30", 1, "floor")
    lines = draft.finish(None).hardware
    assert [(li.quantity, li.purpose) for li in lines] == [(5, "lid"), (1, "floor")]


@pytest.mark.parametrize("thickness", [3.6, 6.4, 9.2, 11.7, 17.6])
def test_grooves_fit_the_board_with_a_little_play(draft, thickness):
    board = dataclasses.replace(draft.board("bottom"), thickness=thickness)
    cut = groove(500.0, 10.0, board, 5.9)
    assert cut.loop.bounds == pytest.approx((0.0, 10.0, 500.0, 10.0 + thickness + 0.2))
    assert cut.depth == 5.9
    assert groove_depth(board) <= min(6.0, thickness / 2.0 + 0.05)
    assert thickness - groove_depth(board) >= 1.7, "something is left behind the groove"


@pytest.mark.parametrize("first", [6.4, 9.0, 11.7, 14.6, 18.0, 24.0])
@pytest.mark.parametrize("second", [9.0, 12.0, 18.0])
def test_the_longest_screw_that_stays_inside(draft, first, second):
    board = draft.board("carcass")
    a, b = (dataclasses.replace(board, thickness=t) for t in (first, second))
    articles = draft.setting.catalogue.articles
    length = articles[face_screw(draft.setting, a, b)].length
    if first + second > 17.5:
        assert length <= first + second - 1.5
    longer = [articles[f"wood screw 3.5 x {n}"].length for n in (20, 25, 30)]
    assert all(n > first + second - 1.5 for n in longer if n > length)


def test_a_part_leaves_the_sheets_edges(draft):
    assert sheet_room(draft.board("carcass")) == (2410.0, 1190.0)


def test_hand_holes_and_windows_have_round_corners():
    hole = hand_hole(200.0, 50.0)
    assert hole.bounds == pytest.approx((150.0, 34.0, 250.0, 66.0))
    opening = window(10.0, 20.0, 110.0, 70.0, 8.0)
    assert opening.bounds == pytest.approx((10.0, 20.0, 110.0, 70.0))
    assert opening.area == pytest.approx(5000.0 - (4.0 - math.pi) * 64.0)


BERTH = Berth(x0=100.0, x1=700.0, y0=-300.0, y1=300.0, z0=0.0, z1=400.0)


def point(name: str, x: float, y: float, thread: str = "M8") -> AnchorPoint:
    return AnchorPoint(name=name, x=x, y=y, z=0.0, thread=thread, below="clear")


def based(bay, setting_of, *anchors: AnchorPoint) -> Draft:
    """A draft with a base over the berth's floor."""
    setting = setting_of(dataclasses.replace(bay, anchors=anchors), 12.0)
    draft = Draft("box", "drawers", setting)
    draft.panel("base", draft.board("carcass"), (600.0, 600.0), flat(100.0, -300.0, 0.0))
    return draft


def test_only_points_well_inside_the_berth_are_used():
    points = [point("in", 125.0, 0.0), point("edge", 124.0, 0.0), point("out", 50.0, 0.0)]
    assert [a.name for a in anchors_within(points, BERTH, 25.0)] == ["in"]
    assert len(set(corner_points(BERTH, 40.0))) == 4
    assert {z for _, _, z in corner_points(BERTH, 40.0)} == {0.0}


def test_known_points_are_drilled_for_their_own_thread(bays, setting_of):
    draft = based(
        bays["wagon"],
        setting_of,
        point("eight", 200.0, 100.0),
        point("ten", 200.0, -100.0, "M10"),
        point("odd", 500.0, 0.0, "7/16 UNF"),
    )
    fix_to_floor(draft, "base", BERTH)
    base = draft.panels["base"]
    holes = {base.placement.at(h.x, h.y)[:2]: h.diameter for h in base.holes}
    assert holes == {(200.0, 100.0): 9.0, (200.0, -100.0): 11.0, (500.0, 0.0): 9.0}
    used = {f.anchor: f.article for f in draft.fixings}
    assert used == {
        "eight": "bolt M8 x 40",
        "ten": "bolt M10 x 40",
        "odd": "bolt M8 x 40",
        None: "bolt M8 x 40",
    }
    assert draft.needs_fixings == len(draft.fixings) == 4


def test_points_are_proposed_only_at_corners_that_have_none(bays, setting_of):
    last = corner_points(BERTH, 40.0)[3]
    draft = based(bays["wagon"], setting_of, point("there", last[0] - 3.0, last[1]))
    fix_to_floor(draft, "base", BERTH)
    proposed = [f.point for f in draft.fixings if f.anchor is None]
    assert proposed == corner_points(BERTH, 40.0)[:3]


def test_more_points_than_needed_are_all_used(bays, setting_of):
    anchors = [point(f"p{i}", 150.0 + 100.0 * i, 0.0) for i in range(5)]
    draft = based(bays["wagon"], setting_of, *anchors)
    fix_to_floor(draft, "base", BERTH, count=2)
    assert [f.anchor for f in draft.fixings] == [a.name for a in anchors]


def test_a_bolt_has_room_for_its_washer(bays, setting_of):
    draft = based(bays["wagon"], setting_of, point("near", 300.0, 100.0), point("free", 300, 0.0))
    draft.panel("side", draft.board("carcass"), (600.0, 200.0), along(100.0, 120.0, 12.0))
    fix_to_floor(draft, "base", BERTH)
    assert [f.anchor for f in draft.fixings if f.anchor] == ["free"]


def test_what_hangs_high_or_moves_does_not_keep_a_bolt_away(bays, setting_of):
    draft = based(bays["wagon"], setting_of, point("free", 300.0, 0.0))
    board = draft.board("carcass")
    draft.panel("shelf", board, (600.0, 600.0), flat(100.0, -300.0, 100.0))
    draft.panel("drawer", board, (500.0, 500.0), flat(100.0, -250.0, 16.0), moves="drawer")
    fix_to_floor(draft, "base", BERTH)
    assert [f.anchor for f in draft.fixings if f.anchor] == ["free"]


def test_a_module_on_another_is_bolted_through_its_base(bays, setting_of):
    draft = based(bays["wagon"], setting_of)
    fix_to_module(draft, "base", BERTH, "long box")
    module = draft.finish(BERTH)
    assert len(module.panels[0].holes) == 4
    assert {li.article: li.quantity for li in module.hardware} == {
        "bolt M6 x 30": 4,
        "large washer M6": 4,
        "insert nut M6": 4,
    }
    assert module.fixings == ()
