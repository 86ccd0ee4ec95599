"""Every file that cutting needs."""

from fitout.documents.cut_files import cut_files
from fitout.model.cutting import StockSpec


def test_each_part_and_each_sheet_has_its_file(plan):
    files = cut_files(plan, StockSpec(), "Van")
    parts = {name for name in files if name.startswith("parts/")}
    assert parts == {f"parts/{line.number}.dxf" for line in plan.cut_list.lines}
    sheets = {name for name in files if name.startswith("sheets/")}
    assert sheets == {f"sheets/{sheet.number}.dxf" for sheet in plan.sheets}
    others = {"cutlist.csv", "nesting.csv", "purchase.csv", "offcuts.yaml", "sheets.svg"}
    assert others <= files.keys()
    assert b"T01" in files["nesting.csv"]
