"""The saw's placing engine, rule by rule."""

import pytest

from fitout.cutting.guillotine import RULES, fill
from fitout.cutting.layout import Blank


def blanks(*sizes, turnable=False):
    return [Blank(f"P{i}", 1, *size, turnable) for i, size in enumerate(sizes)]


@pytest.mark.parametrize("rule", RULES)
def test_each_rule_lays_each_blank_once_and_leaves_the_rest(rule):
    wanted = blanks((60, 40), (50, 50), (30, 20), (90, 10), (20, 70), turnable=True)
    layouts = fill(wanted, (100.0, 100.0), rule)
    laid = [p.blank for layout in layouts for p in layout.laid]
    assert sorted(laid, key=lambda b: b.number) == wanted
    for layout in layouts:
        used = sum(p.blank.area for p in layout.laid) + sum(r.area for r in layout.free)
        assert used == pytest.approx(100.0 * 100.0)


def test_a_blank_is_turned_only_if_it_may():
    rule = RULES[0]
    assert fill(blanks((40, 90), turnable=True), (100.0, 50.0), rule)[0].laid[0].turned
    with pytest.raises(ValueError, match="larger than a sheet"):
        fill(blanks((40, 90)), (100.0, 50.0), rule)


@pytest.mark.parametrize(
    ("split", "free"),
    [
        ("across", {(0.0, 20.0, 60.0, 80.0), (60.0, 0.0, 40.0, 100.0)}),
        ("lengthwise", {(0.0, 20.0, 100.0, 80.0), (60.0, 0.0, 40.0, 20.0)}),
        ("shorter rest", {(0.0, 20.0, 100.0, 80.0), (60.0, 0.0, 40.0, 20.0)}),
        ("longer rest", {(0.0, 20.0, 60.0, 80.0), (60.0, 0.0, 40.0, 100.0)}),
        ("large piece", {(0.0, 20.0, 100.0, 80.0), (60.0, 0.0, 40.0, 20.0)}),
        ("even pieces", {(0.0, 20.0, 60.0, 80.0), (60.0, 0.0, 40.0, 100.0)}),
    ],
)
def test_how_a_piece_is_divided(split, free):
    layout = fill(blanks((60, 20)), (100.0, 100.0), ("least area", split, True))[0]
    assert {(r.x, r.y, r.length, r.width) for r in layout.free} == free


@pytest.mark.parametrize(
    ("choice", "place"),
    [
        # After the first blank two pieces are free: 40 x 100 beside it, 60 x 30 above it.
        ("least area", (0.0, 70.0)),
        ("least short side", (60.0, 0.0)),
        ("least long side", (0.0, 70.0)),
    ],
)
def test_which_piece_a_blank_takes(choice, place):
    layout = fill(blanks((60, 70), (39, 20)), (100.0, 100.0), (choice, "across", True))[0]
    assert [(p.x, p.y) for p in layout.laid if p.blank.number == "P1"] == [place]


def test_the_first_sheet_may_have_to_take_it():
    sizes = ((100, 60), (100, 70), (100, 30))
    first = fill(blanks(*sizes), (100.0, 100.0), ("least area", "across", True))
    best = fill(blanks(*sizes), (100.0, 100.0), ("least area", "across", False))
    assert [len(layout.laid) for layout in first] == [2, 1]
    assert [len(layout.laid) for layout in best] == [1, 2]


@pytest.mark.parametrize("rule", RULES)
def test_more_sheets_than_wanted_are_given_up(rule):
    wanted = blanks((60, 60), (50, 50))
    assert len(fill(wanted, (100.0, 100.0), rule)) == 2
    assert fill(wanted, (100.0, 100.0), rule, most=1) == []
    assert len(fill(wanted[:1], (100.0, 100.0), rule, most=1)) == 1
