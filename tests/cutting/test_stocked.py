"""Parts laid on stock of several sizes."""

import pytest

from fitout.cutting.cut_list import cut_list
from fitout.cutting.stocked import Limit, from_stock
from fitout.cutting.stocks import sources
from fitout.model.cutting import CuttingSpec, SheetStockSpec, StockSpec

SAW = CuttingSpec(by="saw", kerf=3.0, trim=10.0)
LIMIT = Limit(200_000, 1, lambda _: None, lambda: None)


def test_the_sheets_are_numbered_on_and_the_share_is_of_the_true_sheets(make, ply):
    lines = cut_list([make(1000.0, 500.0, name="a"), make(1100.0, 1100.0, name="b")]).lines
    stock = StockSpec(sheets={ply.key: (SheetStockSpec(size=(1220.0, 1220.0), price=40.0),)})
    found = from_stock(lines, sources(ply, stock, SAW), SAW, LIMIT)
    assert [sheet.number for sheet in found.numbered(4)] == ["S05", "S06"]
    use = found.use(ply)
    assert (use.sheets, use.cost, use.least_cost, use.proven_least) == (2, 80.0, 80.0, True)
    assert use.used_share == pytest.approx((1000 * 500 + 1100 * 1100) / (2 * 1220**2))


def test_nothing_that_fits_takes_nothing(make, ply):
    lines = cut_list([make(3000.0, 500.0)]).lines
    found = from_stock(lines, sources(ply, StockSpec(), SAW), SAW, LIMIT)
    assert (found.sheets, found.cost) == ([], 0.0)
    assert found.use(ply).used_share == 0.0
    assert found.unplaced[0].too_long == 580.0
