"""What is bought, what it weighs, what is left over."""

import dataclasses

import pytest

from fitout.cutting.bars import cut_bars
from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import Effort, nest
from fitout.cutting.plan import BoardUse
from fitout.cutting.purchases import (
    bars_sentence,
    left_over,
    purchases,
    sheet_kg,
    sheets_sentence,
    short_of,
    wastes,
)
from fitout.model.cutting import BarStockSpec, CuttingSpec, OffcutSpec, SheetStockSpec, StockSpec
from fitout.model.panel import Bar
from fitout.model.placement import flat
from fitout.model.stock import Section

SAW = CuttingSpec(by="saw", kerf=3.0, trim=10.0)
QUICK = Effort(work=100_000)
TUBE = Section(
    key="tube", width=25.0, height=25.0, wall=2.0, density_kg_m3=7850.0, stock_length=6000.0
)


def cut(panels, stock, bars=()):
    cuts = cut_list(panels, bars)
    return nest(cuts, SAW, QUICK, stock), cut_bars(cuts, SAW, stock)


def test_alike_pieces_are_one_line(make, ply):
    stock = StockSpec(
        sheets={ply.key: (SheetStockSpec(size=(1220.0, 1220.0), price=48.0),)},
        offcuts=(OffcutSpec(sheet=ply.key, size=(1100.0, 1100.0), thickness=11.8),),
        bars={"tube": (BarStockSpec(length=1000.0, price=7.0),)},
    )
    bar = Bar(name="b", module="m", section=TUBE, length=900.0, placement=flat(0.0, 0.0, 0.0))
    panels = [make(1100.0, 1000.0, name=f"n{i}") for i in range(3)]
    found = purchases(*cut(panels, stock, [bar, dataclasses.replace(bar, name="c")]))
    assert [(p.name, p.kind, p.origin, p.quantity, p.price, p.cost) for p in found] == [
        ("ply 12", "part sheet", "bought", 2, 48.0, 96.0),
        ("ply 12", "offcut", "offcut", 1, 0.0, 0.0),
        ("tube", "bar", "bought", 2, 7.0, 14.0),
    ]
    # Of the tube's four walls, 25 × 25 less 21 × 21 mm.
    assert found[2].mass_kg == pytest.approx(184.0 * 1000.0 * 7850.0 * 1e-9)


def test_foam_is_bought_in_blocks_and_an_unknown_price_stays_unknown(make, ply):
    foam = dataclasses.replace(ply, key="foam 30", kind="foam", grain=False, price=None)
    (block,) = purchases(*cut([make(board=foam)], StockSpec()))
    assert (block.kind, block.price, block.cost) == ("block", None, None)


def test_a_sheet_weighs_what_its_data_sheet_says(ply):
    """Birch plywood 12 mm, 1220 × 2440: 24.8 kg at 695 kg/m³ (a maker's data sheet)."""
    board = dataclasses.replace(ply, thickness=12.0, density_kg_m3=695.0)
    assert sheet_kg(board) == pytest.approx(24.8, abs=0.05)


def test_every_square_millimetre_is_part_kept_or_waste(make, ply):
    plan, _ = cut([make(1000.0, 500.0)], StockSpec())
    (waste,) = wastes(plan)
    assert waste.taken == 2440.0 * 1220.0
    assert waste.parts == pytest.approx(500_000.0)
    kept = sum(rect.area for rect in plan.sheets[0].offcuts)
    assert waste.waste_share == pytest.approx(1.0 - (500_000.0 + kept) / waste.taken)


def test_what_is_left_over_is_what_was_not_used_and_what_the_sheets_leave(make, ply):
    small = OffcutSpec(sheet=ply.key, size=(710.0, 310.0), thickness=11.8, quantity=2, label="x")
    thick = OffcutSpec(sheet=ply.key, size=(900.0, 900.0), thickness=12.3)
    stock = StockSpec(offcuts=(small, thick))
    plan, _ = cut([make(700.0, 300.0), make(1000.06, 500.0, name="b")], stock)
    assert [sheet.origin for sheet in plan.sheets] == ["offcut", "bought"]
    first, second, *new = left_over(plan, stock, "Van")
    assert first == dataclasses.replace(small, quantity=1)
    assert second == thick
    assert [offcut.label for offcut in new] == [f"Van S02-{i}" for i in range(1, len(new) + 1)]
    assert len(new) == len(plan.sheets[1].offcuts)
    for offcut, rect in zip(new, plan.sheets[1].offcuts, strict=True):
        length, width = offcut.size
        assert 0.0 <= rect.length - length < 0.1
        assert 0.0 <= rect.width - width < 0.1
        assert offcut.thickness == 11.8


def test_no_two_offcuts_are_labelled_alike(make, ply):
    """A design built again on what it left names what it leaves now anew."""
    named = [
        OffcutSpec(sheet=ply.key, size=(90.0, 90.0), thickness=11.8, label=f"{name} S01-1")
        for name in ("Van", "Van 2")
    ]
    stock = StockSpec(offcuts=tuple(named))
    plan, _ = cut([make(1000.0, 500.0)], stock)
    *old, first, _ = left_over(plan, stock, "Van")
    assert old == named
    assert first.label == "Van 3 S01-1"


def test_the_sentences(ply):
    use = BoardUse(board=ply, sheets=3, least_sheets=3, used_share=0.8)
    assert sheets_sentence(use) == "3 sheets, proven least"
    more = dataclasses.replace(use, least_sheets=2)
    assert sheets_sentence(more) == "3 sheets; no fewer than 2 by bound"
    foam = dataclasses.replace(use, board=dataclasses.replace(ply, kind="foam"), sheets=1)
    assert sheets_sentence(dataclasses.replace(foam, least_sheets=1)) == "1 block, proven least"
    priced = dataclasses.replace(use, cost=132.5, least_cost=120.0)
    assert sheets_sentence(priced, "EUR") == (
        "3 sheets, 132.50 EUR to buy; no less than 120.00 EUR by bound"
    )
    bare = dataclasses.replace(priced, least_cost=132.5, priced=False)
    assert sheets_sentence(bare, "EUR") == "3 sheets, 132.50 m² to buy, proven least"


def test_lengths_have_a_sentence_too(make):
    stock = StockSpec(bars={"tube": (BarStockSpec(length=1000.0, price=7.0),)})
    bar = Bar(name="b", module="m", section=TUBE, length=900.0, placement=flat(0.0, 0.0, 0.0))
    (use,) = cut([make()], stock, [bar])[1].uses
    assert bars_sentence(use, "EUR") == "1 length, 7.00 EUR to buy, proven least"


def test_what_is_short_is_counted(make, ply):
    stock = StockSpec(sheets={ply.key: (SheetStockSpec(size=(1220.0, 1220.0), quantity=1),)})
    plan, bars = cut([make(1100.0, 1000.0, name=f"n{i}") for i in range(3)], stock)
    ((board, count),) = short_of(plan, bars)
    assert (board.key, count) == ("ply 12", 2)
