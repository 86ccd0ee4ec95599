"""CSV tables, read back by the standard library's reader."""

import csv
import dataclasses
import io
import math

import pytest

from fitout.catalogue import load
from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import nest
from fitout.cutting.purchases import sheets_sentence
from fitout.documents.tables import cutlist_csv, hardware_csv, nesting_csv, purpose_of, saw_csv
from fitout.model.cutting import CuttingSpec
from fitout.model.hardware import Article, HardwareLine, Slide
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Panel
from fitout.model.placement import Placement


def rows(data):
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline="")))


def test_cut_list_has_a_row_for_each_part(cuts):
    table = rows(cutlist_csv(cuts))
    assert [row["part"] for row in table] == [
        *(line.number for line in cuts.lines),
        *(line.number for line in cuts.bars),
    ]
    side = next(row for row in table if row["name"] == "side")
    assert side["length along grain (mm)"] == "700.0"
    assert side["width (mm)"] == "300.0"
    assert side["thickness (mm)"] == "11.8"
    assert side["board"] == "birch ply 12"
    assert side["grain"] == "along length"
    assert side["edging"] == "oiled"
    assert side["scribed"] == "no"
    assert side["share of sheet price"] == f"{90.0 * 700 * 300 / (2440 * 1220):.2f}"
    assert side["panels"] == "drawers/side"
    total = sum(float(row["mass total (kg)"]) for row in table)
    assert total == pytest.approx(cuts.mass_kg, abs=0.0006 * len(table))


def test_bars_give_their_section(cuts):
    (bar,) = (row for row in rows(cutlist_csv(cuts)) if row["part"] == "B01")
    assert (bar["length along grain (mm)"], bar["width (mm)"], bar["thickness (mm)"]) == (
        "398.0",
        "30.0",
        "5.0",
    )
    assert bar["board"] == "flat 30 x 5"


def test_nesting_tells_where_each_copy_lies(plan):
    table = rows(nesting_csv(plan))
    placed = [(sheet, p) for sheet in plan.sheets for p in sheet.placed]
    assert len(table) == len(placed)
    for row, (sheet, p) in zip(table, placed, strict=True):
        assert (row["sheet"], row["part"], row["copy"]) == (sheet.number, p.number, str(p.copy))
        assert float(row["x (mm)"]) == pytest.approx(p.x, abs=0.051)
        assert float(row["y (mm)"]) == pytest.approx(p.y, abs=0.051)
        assert int(row["turned (deg)"]) == 90 * p.quarter_turns
        line = plan.cut_list.line(p.number)
        size = (line.length, line.width)
        along, across = size[::-1] if p.quarter_turns % 2 else size
        assert float(row["along sheet (mm)"]) == pytest.approx(along, abs=0.051)
        assert float(row["across sheet (mm)"]) == pytest.approx(across, abs=0.051)


def test_saw_cuts_are_listed_for_a_saw_only(cuts):
    assert rows(saw_csv(nest(cuts, CuttingSpec(by="router")))) == []
    plan = nest(cuts, CuttingSpec(by="saw", kerf=3.2))
    table = rows(saw_csv(plan))
    for board in {row["board"] for row in table}:
        own = [row for row in table if row["board"] == board]
        assert [row["step"] for row in own] == [str(i) for i in range(1, len(own) + 1)]
    assert {row["cut"] for row in table} == {"across the sheet", "along the sheet"}
    given = [row["at the fence"] for row in table if row["fence piece goes"] == "to the parts"]
    given += [row["falls off"] for row in table if row["falling piece goes"] == "to the parts"]
    placed = [f"{p.number} copy {p.copy}" for sheet in plan.sheets for p in sheet.placed]
    assert sorted(given) == sorted(placed)
    assert {(row["where"], row["set"]) for row in table} == {("saw", "fence")}


SLIDE = Slide(
    key="slide 700", length=700.0, travel=700.0, rating_kg=100.0, side_clearance=19.0,
    height=76.0, mass_pair_kg=5.2, locks=True, carcass_holes=(), drawer_holes=(),
    screw="screw 4 x 16", price=120.0,
)  # fmt: skip


def need(article, quantity, module, purpose):
    return HardwareLine(article=article, quantity=quantity, module=module, purpose=purpose)


SCREW = Article(key="screw 4 x 16", kind="wood screw", mass_kg=0.0015, price=0.05)
LATCH = Article(key="latch", kind="latch", mass_kg=0.08)


def test_hardware_is_summed_by_article_in_the_order_needed():
    lines = [
        need("slide 700", 2, "drawers", "drawer slides"),
        need("screw 4 x 16", 24, "drawers", "slides to carcass"),
        need("latch", 1, "fridge", "tray"),
        need("screw 4 x 16", 12, "fridge", "slides to carcass"),
        need("unheard of", 3, "fridge", "odd"),
    ]
    table = rows(hardware_csv(lines, {a.key: a for a in (SLIDE, SCREW, LATCH)}))
    found = [
        (r["article"], r["kind"], r["quantity"], r["unit"], r["mass total (kg)"], r["price total"])
        for r in table
    ]
    assert found == [
        ("slide 700", "slide", "2", "pair", "10.400", "240.00"),
        ("screw 4 x 16", "wood screw", "36", "piece", "0.054", "1.80"),
        ("latch", "latch", "1", "piece", "0.080", ""),
        ("unheard of", "", "3", "piece", "", ""),
    ]
    assert table[1]["for"] == "drawers: slides to carcass; fridge: slides to carcass"


def test_what_is_sold_by_length_is_counted_in_metres():
    articles = load().articles
    long = ("hose 12", "strip hinge", "edge tape", "felt strip")
    lines = [need(article, 2, "tank", "run") for article in (*long, "cam strap 25", "mine")]
    mine = dataclasses.replace(articles["hose 12"], key="mine", length=2500.0)
    table = rows(hardware_csv(lines, {**articles, "mine": mine}))
    units = {row["article"]: (row["quantity"], row["unit"]) for row in table}
    assert {article: units[article] for article in long} == dict.fromkeys(long, ("2", "m"))
    assert units["cam strap 25"] == ("2", "piece")
    assert units["mine"] == ("2", "piece"), "pieces of 2.5 m"
    assert table[0]["mass total (kg)"] == "0.240"


@pytest.mark.parametrize("start", ["=1+1", "+cmd", "-cmd|x", "@SUM(A1)", "\t=x", "\r\n =x"])
def test_names_are_never_formulas(board, start):
    panel = Panel(
        name=start, module="m", outline=Outline(rectangle(300, 200)), board=board,
        placement=Placement(),
    )  # fmt: skip
    (row,) = rows(cutlist_csv(cut_list([panel])))
    assert row["name"] == f"'{start.strip()}"


def test_quotes_commas_and_letters_survive(board):
    name = 'Bö "left", 棚; 2'
    panel = Panel(
        name=name, module="m", outline=Outline(rectangle(300, 200)), board=board,
        placement=Placement(),
    )  # fmt: skip
    (row,) = rows(cutlist_csv(cut_list([panel])))
    assert row["name"] == name


def test_a_name_on_two_lines_stays_in_one_row(board):
    panel = Panel(
        name="a\r\nb\tc", module="m", outline=Outline(rectangle(300, 200)), board=board,
        placement=Placement(),
    )  # fmt: skip
    (row,) = rows(cutlist_csv(cut_list([panel])))
    assert row["name"] == "a b c"


def test_numbers_stay_numbers(plan):
    table = rows(nesting_csv(plan))
    assert all(math.isfinite(float(row["x (mm)"])) for row in table)


def test_marked_as_unicode_and_plain_line_ends(cuts):
    data = cutlist_csv(cuts)
    assert data.startswith(b"\xef\xbb\xbf")
    assert b"\r" not in data


def test_each_material_says_once_how_many_sheets_it_takes_and_if_that_is_the_least(cuts):
    plan = nest(cuts, CuttingSpec(by="saw", kerf=3.2))
    told = [(row["board"], row["of this material"]) for row in rows(nesting_csv(plan))]
    said = [(board, sentence) for board, sentence in told if sentence]
    assert said == [(use.board.key, sheets_sentence(use)) for use in plan.boards]
    assert all("proven least" in each or "by bound" in each for _, each in said)


@pytest.mark.parametrize(
    ("purpose", "told"),
    [("drawers/drawer 1", "drawers: drawer 1"), ("floor fixing", "drawers: floor fixing")],
)
def test_what_hardware_is_for_names_its_module_once(purpose: str, told: str) -> None:
    line = HardwareLine(article="bolt", quantity=1, module="drawers", purpose=purpose)
    assert purpose_of(line) == told
