"""All that cutting needs, as files: lists, parts, sheets, what to buy, what is left over."""

from __future__ import annotations

from fitout.cutting.bars import cut_bars
from fitout.cutting.plan import CutPlan
from fitout.documents.dxf import part_dxf, sheet_dxf
from fitout.documents.sheet_pictures import sheets_svg
from fitout.documents.stock_tables import offcuts_yaml, purchase_csv
from fitout.documents.tables import cutlist_csv, nesting_csv, saw_csv
from fitout.model.cutting import StockSpec


def cut_files(plan: CutPlan, stock: StockSpec, name: str) -> dict[str, bytes]:
    """The files by their path in the export folder; `name` is the design's."""
    bars = cut_bars(plan.cut_list, plan.spec, stock)
    files: dict[str, bytes] = {
        "cutlist.csv": cutlist_csv(plan.cut_list),
        "nesting.csv": nesting_csv(plan, bars, stock.currency),
        "saw.csv": saw_csv(plan),
        "purchase.csv": purchase_csv(plan, bars, stock),
        "offcuts.yaml": offcuts_yaml(plan, stock, name),
        "sheets.svg": sheets_svg(plan, stock.currency),
    }
    for line in plan.cut_list.lines:
        own = plan.spec.of(line.board.key)
        bit = own.kerf if own.by == "router" else 0.0
        files[f"parts/{line.number}.dxf"] = part_dxf(line, bit)
    for sheet in plan.sheets:
        files[f"sheets/{sheet.number}.dxf"] = sheet_dxf(sheet, plan)
    return files
