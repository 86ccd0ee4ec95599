"""What to buy and what is left over, as files."""

import csv
import io

from fitout.cutting.bars import cut_bars
from fitout.documents.stock_tables import offcuts_yaml, purchase_csv
from fitout.model.cutting import OffcutSpec, StockSpec


def rows(data):
    return list(csv.reader(io.StringIO(data.decode("utf-8-sig"))))


def test_each_material_has_its_rows_and_a_total(plan):
    stock = StockSpec(currency="EUR")
    bars = cut_bars(plan.cut_list, plan.spec, stock)
    heading, *lines, total = rows(purchase_csv(plan, bars, stock))
    assert heading[7:9] == ["price each (EUR)", "price total (EUR)"]
    sheets = [line for line in lines if line[1] == "sheet"]
    assert sum(int(line[3]) for line in sheets) == len(plan.sheets)
    assert sheets[0][7] == "90.00"
    assert "proven least; " in sheets[0][-1]
    (bar,) = [line for line in lines if line[1] == "bar"]
    assert bar[8] == ""
    assert bar[-1].startswith("1 length, ")
    bought = 90.0 * len(plan.sheets)
    assert total[8] == f"{bought:.2f}"
    assert total[-1] == f"without the price of {bar[0]}"


def test_offcuts_are_yaml_that_a_design_reads(plan):
    from fitout.design_file.reader import read_record
    from fitout.model.cutting import OffcutsFile

    had = OffcutSpec(sheet="birch ply 12", size=(812.4, 96.0), thickness=12.31, quantity=3)
    text = offcuts_yaml(plan, StockSpec(offcuts=(had,)), 'The "blue" van: old').decode()
    read, faults = read_record(text, OffcutsFile, {"sheets": ("birch ply 12",)})
    assert faults == ()
    assert read.offcuts[0] == had
    assert read.offcuts[1].label == 'The "blue" van: old S01-1'
    assert len(read.offcuts) == 1 + sum(len(sheet.offcuts) for sheet in plan.sheets)


def test_nothing_left_over_is_an_empty_list(plan):
    import dataclasses

    bare = dataclasses.replace(plan, sheets=())
    assert offcuts_yaml(bare, StockSpec(), "Van").decode().endswith("\noffcuts: []\n")
