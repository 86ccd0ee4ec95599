"""The carcass of drawers: columns of equal width, square and screwed on every edge."""

import dataclasses
import itertools

import pytest

from fitout.model.module import Berth, JointKind
from fitout.model.panel import Panel
from fitout.modules.carcass import RAIL, Opening, carcass, columns_of, rails, toe_board
from fitout.modules.joinery import Draft
from fitout.modules.neighbours import box_of

BERTH = Berth(x0=50.0, x1=800.0, y0=-450.0, y1=450.0, z0=0.0, z1=420.0)
SHELL = dataclasses.replace(BERTH, x0=64.0)


def opening(number: int, front0: float, front1: float) -> Opening:
    return Opening(number=number, front0=front0, front1=front1, carries_kg=20.0)


def built(setting, count: int, *openings: Opening) -> Draft:
    draft = Draft("drawers", "drawers", setting)
    columns = tuple(columns_of(count, BERTH, draft.board("carcass").thickness))
    carcass(draft, SHELL, BERTH, columns)
    for column in columns:
        rails(draft, SHELL, column, openings)
    return draft


def volume_between(panels: list[Panel]) -> float:
    boxes = [box_of(p) for p in panels]
    shared = 0.0
    for a, b in itertools.combinations(boxes, 2):
        sides = (
            min(a.x1, b.x1) - max(a.x0, b.x0),
            min(a.y1, b.y1) - max(a.y0, b.y0),
            min(a.z1, b.z1) - max(a.z0, b.z0),
        )
        if min(sides) > 1e-9:
            shared += sides[0] * sides[1] * sides[2]
    return shared


@pytest.mark.parametrize("count", [1, 2, 3, 4])
@pytest.mark.parametrize("thickness", [9.0, 11.7, 18.0])
def test_columns_are_equal_and_fill_the_berth(count, thickness):
    columns = list(columns_of(count, BERTH, thickness))
    assert len({c.suffix for c in columns}) == count
    assert columns[0].y1 == pytest.approx(BERTH.y1 - thickness)
    assert columns[-1].y0 == pytest.approx(BERTH.y0 + thickness)
    assert {round(c.y1 - c.y0, 6) for c in columns} == {round(900.0 / count - 2.0 * thickness, 6)}
    for left, right in itertools.pairwise(columns):
        assert left.y0 - right.y1 == pytest.approx(2.0 * thickness)


def test_columns_are_named_from_the_left():
    assert [c.suffix for c in columns_of(1, BERTH, 12.0)] == [""]
    assert [c.suffix for c in columns_of(2, BERTH, 12.0)] == [" left", " right"]
    assert [c.suffix for c in columns_of(3, BERTH, 12.0)] == [" 1", " 2", " 3"]


@pytest.mark.parametrize("count", [1, 2, 3])
@pytest.mark.parametrize("thickness", [9.0, 11.7, 18.0])
def test_parts_meet_and_never_share_room(bays, setting_of, count, thickness):
    openings = (opening(1, 30.0, 200.0), opening(2, 203.0, 380.0))
    draft = built(setting_of(bays["wagon"], thickness), count, *openings)
    assert volume_between(list(draft.panels.values())) == 0.0
    joined = {frozenset((j.a, j.b)) for j in draft.joints}
    for column in columns_of(count, BERTH, thickness):
        for side in ("left", "right"):
            for other in ("base", "top", f"back{column.suffix}"):
                name = f"drawers/{side} side{column.suffix}"
                assert frozenset((name, f"drawers/{other}")) in joined


def test_the_top_lies_over_the_fronts_and_the_base_does_not(bays, setting_of):
    draft = built(setting_of(bays["wagon"], 12.0), 1)
    assert box_of(draft.panels["top"]).x0 == pytest.approx(BERTH.x0)
    assert box_of(draft.panels["base"]).x0 == pytest.approx(SHELL.x0)


def test_a_rail_between_two_drawers_stands_behind_their_gap(bays, setting_of):
    draft = built(setting_of(bays["wagon"], 12.0), 1, opening(1, 3, 200.0), opening(2, 203.0, 380))
    rear, front = (box_of(draft.panels[f"{end} rail 1"]) for end in ("rear", "front"))
    for rail in (rear, front):
        assert rail.x1 - rail.x0 == pytest.approx(RAIL)
        assert (rail.z0 + rail.z1) / 2.0 == pytest.approx(201.5)
        assert (rail.y0, rail.y1) == pytest.approx((-438.0, 438.0))
    assert rear.x0 == pytest.approx(SHELL.x0)
    assert front.x1 == pytest.approx(SHELL.x1 - 12.0), "against the back"


def test_one_drawer_needs_no_rail(bays, setting_of):
    draft = built(setting_of(bays["wagon"], 12.0), 1, opening(1, 3.0, 380.0))
    assert not [n for n in draft.panels if "rail" in n]


def test_neighbouring_columns_are_screwed_together(bays, setting_of):
    draft = built(setting_of(bays["wagon"], 12.0), 3)
    pairs = [j for j in draft.joints if "right side" in j.a and "left side" in j.b]
    assert [(j.a, j.b) for j in pairs] == [
        ("drawers/right side 1", "drawers/left side 2"),
        ("drawers/right side 2", "drawers/left side 3"),
    ]
    assert {j.kind for j in pairs} == {JointKind.SCREWED}
    bought = {li.purpose: li.quantity for li in draft.finish(BERTH).hardware}
    assert bought["column to column"] == 12


def test_only_a_carcass_on_the_floor_rests_on_it(bays, setting_of):
    setting = setting_of(bays["wagon"], 12.0)
    assert "bay/floor" in {j.b for j in built(setting, 1).joints}
    draft = Draft("drawers", "drawers", setting)
    raised = dataclasses.replace(SHELL, z0=200.0)
    carcass(draft, raised, dataclasses.replace(BERTH, z0=200.0), tuple(columns_of(1, BERTH, 12.0)))
    assert "bay/floor" not in {j.b for j in draft.joints}


@pytest.mark.parametrize(("front0", "height"), [(31.0, None), (39.9, None), (40.5, 25.5), (67, 52)])
def test_a_toe_board_closes_a_gap_worth_closing(bays, setting_of, front0, height):
    draft = built(setting_of(bays["wagon"], 12.0), 1)
    (column,) = columns_of(1, BERTH, 12.0)
    toe_board(draft, SHELL, column, opening(1, front0, 300.0))
    if height is None:
        assert "toe board" not in draft.panels
        return
    box = box_of(draft.panels["toe board"])
    assert box.z1 - box.z0 == pytest.approx(height)
    assert box.z1 == pytest.approx(front0 - 3.0)
    assert volume_between(list(draft.panels.values())) == 0.0
