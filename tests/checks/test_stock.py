"""Whether there is enough to cut from."""

import dataclasses

from fitout.checks.stock import check_stock, nested_findings
from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import Effort, nest
from fitout.model.cutting import CuttingSpec, OffcutSpec, SheetStockSpec, StockSpec
from fitout.model.finding import Severity


def looked_at(subject, module, panel, board, stock, count=1):
    shelves = [
        panel(f"a/s{i}", (0.0, 1000.0), (0.0, 1000.0), 20.0 * i, board=board) for i in range(count)
    ]
    return dataclasses.replace(subject(module("a", *shelves)), stock=stock)


def test_the_area_tells_how_few_sheets_can_do(subject, module, panel, board):
    """Seven times 1 m² on sheets of 2.48 × 1.23 m usable: three at least."""
    (finding,) = check_stock(looked_at(subject, module, panel, board, StockSpec(), 7))
    assert (finding.severity, finding.value) == (Severity.PASS, 3)
    assert "no fewer than 3 sheets by area" in finding.sentence


def test_stock_that_can_not_hold_the_parts_fails(subject, module, panel, board):
    stock = StockSpec(sheets={board.key: (SheetStockSpec(size=(1220.0, 1220.0), quantity=2),)})
    (finding,) = check_stock(looked_at(subject, module, panel, board, stock, 3))
    assert (finding.code, finding.severity) == ("stock", Severity.FAIL)
    assert "holds 2.88 m² and the parts take 3.00 m²" in finding.sentence


def test_an_offcut_of_another_thickness_is_told(subject, module, panel, board):
    offcut = OffcutSpec(sheet=board.key, size=(1220.0, 1220.0), thickness=9.0, label="S01-1")
    found = check_stock(looked_at(subject, module, panel, board, StockSpec(offcuts=(offcut,))))
    caution, _ = found
    assert (caution.code, caution.severity) == ("offcut thickness", Severity.CAUTION)
    assert caution.sentence.startswith(f"The offcut S01-1 of {board.key} is 9 mm thick")


def test_a_price_that_is_missing_is_a_caution(subject, module, panel, board):
    sizes = (
        SheetStockSpec(size=(1220.0, 1220.0), price=48.0),
        SheetStockSpec(size=(1500.0, 1220.0)),
    )
    stock = StockSpec(sheets={board.key: sizes})
    (caution,) = check_stock(looked_at(subject, module, panel, board, stock))
    assert (caution.code, caution.severity) == ("price", Severity.CAUTION)


def test_nesting_tells_what_is_short_and_what_is_proven(panel, board):
    cuts = cut_list(
        [panel(f"a/s{i}", (0.0, 1000.0), (0.0, 1000.0), 0.0, board=board) for i in range(2)]
    )
    spec = CuttingSpec(by="saw", kerf=3.0)
    stock = StockSpec(sheets={board.key: (SheetStockSpec(size=(1220.0, 1220.0), quantity=1),)})
    short, told, sawn = nested_findings(nest(cuts, spec, Effort(work=0), stock), stock)
    assert sawn.code == "saw"
    assert (short.severity, short.value) == (Severity.FAIL, -1)
    assert "does not hold all parts: 1 more is needed." in short.sentence
    plain, _ = nested_findings(nest(cuts, spec, Effort(work=0)), StockSpec())
    assert plain.sentence == f"{board.key}: 1 sheet, proven least."
    assert told.code == "nesting"
