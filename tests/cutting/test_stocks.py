"""What there is to cut a board from, and parts laid on it."""

import dataclasses

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import Effort, nest
from fitout.cutting.stocks import (
    as_stocks,
    is_plain,
    odd_offcuts,
    sizes_of,
    sources,
    with_missing,
    without_price,
)
from fitout.cutting.verify import verify
from fitout.model.cutting import CuttingSpec, OffcutSpec, SheetStockSpec, StockSpec

SAW = CuttingSpec(by="saw", kerf=3.0, trim=10.0)
QUICK = Effort(work=200_000)


def offcut(length, width, **fields):
    given = {"sheet": "ply 12", "size": (length, width), "thickness": 11.8, **fields}
    return OffcutSpec(**given)


def stock(*sheets, offcuts=()):
    return StockSpec(sheets={"ply 12": sheets} if sheets else None, offcuts=tuple(offcuts))


def origins(plan):
    return [sheet.origin for sheet in plan.sheets]


def test_without_entries_a_board_is_bought_in_its_own_size(ply):
    (only,) = found = sources(ply, StockSpec(), SAW)
    assert is_plain(found)
    assert (only.board, only.trim, only.kind) == (ply, 10.0, "bought")


def test_offcuts_come_first_then_what_is_on_hand_then_what_is_bought(ply):
    had = stock(
        SheetStockSpec(size=(1220.0, 1220.0), price=48.0),
        SheetStockSpec(size=(2440.0, 1220.0), on_hand=True),
        offcuts=[offcut(800.0, 400.0), offcut(800.0, 400.0, thickness=12.1)],
    )
    found = sources(ply, had, SAW)
    assert [s.kind for s in found] == ["offcut", "on hand", "bought"]
    assert [s.quantity for s in found] == [1, 1, None]
    # The edges of an offcut are clean; on a router its rim holds it down.
    assert found[0].usable == (800.0, 400.0)
    assert sources(ply, had, dataclasses.replace(SAW, by="router"))[0].usable == (780.0, 380.0)
    # One that is thicker than the parts are drawn is left where it is.
    assert [o.thickness for o in odd_offcuts(ply, had)] == [12.1]
    assert sizes_of(ply, had, SAW) == ((800.0, 400.0), (2420.0, 1200.0), (1200.0, 1200.0))


def test_a_size_without_a_price_of_its_own_costs_as_the_board(ply):
    same, other = SheetStockSpec(size=(2440.0, 1220.0)), SheetStockSpec(size=(1220.0, 1220.0))
    found = sources(ply, stock(same, other), SAW)
    assert [s.board.price for s in found] == [100.0, None]
    assert without_price(found)
    assert not without_price(sources(ply, stock(other), SAW))
    # Then sizes are compared by what they measure, in m².
    assert [s.price for s in as_stocks(found, 3.0)] == pytest.approx([2.9768, 1.4884])


def test_an_offcut_is_used_before_a_sheet_is_bought(make):
    cuts = cut_list([make(700.0, 300.0)])
    plan = nest(cuts, SAW, QUICK, stock(offcuts=[offcut(700.0, 300.0)]))
    assert origins(plan) == ["offcut"]
    assert (plan.boards[0].cost, plan.boards[0].proven_least) == (0.0, True)
    assert verify(plan, cuts) == ()
    short = nest(cuts, SAW, QUICK, stock(offcuts=[offcut(699.0, 300.0)]))
    assert origins(short) == ["bought"]
    # Its grain would run the wrong way.
    across = nest(cuts, SAW, QUICK, stock(offcuts=[offcut(300.0, 700.0)]))
    assert origins(across) == ["bought"]


def test_the_cheaper_size_is_bought(make):
    had = stock(
        SheetStockSpec(size=(2440.0, 1220.0), price=85.0),
        SheetStockSpec(size=(1220.0, 1220.0), price=40.0),
    )
    cuts = cut_list([make(1000.0, 500.0, name="a"), make(1000.0, 501.0, name="b")])
    plan = nest(cuts, SAW, QUICK, had)
    assert [(s.board.length, s.board.price) for s in plan.sheets] == [(1220.0, 40.0)]
    assert (plan.boards[0].cost, plan.boards[0].least_cost) == (40.0, 40.0)


def test_what_is_not_to_be_had_is_told(make):
    had = stock(SheetStockSpec(size=(1220.0, 1220.0), price=40.0, quantity=1))
    cuts = cut_list([make(1000.0, 700.0, name=f"n{i}") for i in range(3)])
    plan = nest(cuts, SAW, QUICK, had)
    assert origins(plan) == ["bought", "missing", "missing"]
    assert verify(plan, cuts) == ()


def test_a_part_larger_than_all_there_is_has_no_place(make):
    had = stock(SheetStockSpec(size=(1220.0, 1220.0)), offcuts=[offcut(1500.0, 200.0)])
    plan = nest(cut_list([make(1480.0, 150.0), make(1501.0, 150.0, name="b")]), SAW, QUICK, had)
    (unplaced,) = plan.unplaced
    assert (unplaced.too_long, unplaced.too_wide) == (1.0, 0.0)
    assert origins(plan) == ["offcut"]


def test_each_sheet_is_cut_with_its_own_tool(make, ply):
    other = dataclasses.replace(ply, key="ply 6", thickness=6.4)
    spec = CuttingSpec(by={"ply 6": "saw"}, kerf=6.0, saw=dataclasses.replace(SAW.saw, kerf=2.8))
    plan = nest(cut_list([make(), make(board=other)]), spec, QUICK)
    assert [sheet.cuts is None for sheet in plan.sheets] == [True, False]
    assert [plan.spec_of(s).kerf for s in plan.sheets] == [6.0, 2.8]


def test_nothing_is_missing_where_one_size_has_no_end(ply):
    had = sources(ply, stock(offcuts=[offcut(800.0, 400.0)]), SAW)
    assert with_missing(had) == had


sides = st.tuples(st.floats(60.0, 900.0), st.floats(60.0, 500.0), st.booleans())


@settings(max_examples=25, deadline=None)
@given(
    parts=st.lists(sides, min_size=1, max_size=12),
    offcuts=st.lists(st.tuples(st.floats(100.0, 1200.0), st.floats(100.0, 900.0)), max_size=4),
    by=st.sampled_from(["saw", "router"]),
)
def test_any_stock_gives_a_sound_plan(make, parts, offcuts, by):
    from fitout.model.panel import Grain

    panels = [
        make(a, b, name=f"n{i}", grain=Grain.EITHER if free else Grain.ALONG_U)
        for i, (a, b, free) in enumerate(parts)
    ]
    cuts = cut_list(panels)
    spec = dataclasses.replace(SAW, by=by)
    had = stock(offcuts=[offcut(*size) for size in offcuts])
    plan = nest(cuts, spec, Effort(work=0), had)
    assert verify(plan, cuts) == ()
    assert not plan.unplaced
    used = [s for s in plan.sheets if s.origin == "offcut"]
    assert len(used) <= len(offcuts)
    bought = [s for s in plan.sheets if s.origin == "bought"]
    assert len(bought) <= len(nest(cuts, spec, Effort(work=0)).sheets) + 1
