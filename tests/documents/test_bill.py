"""The bill: nothing twice, nothing missing, and one truth with the other tables."""

import csv
import dataclasses
import io

import pytest
from dossiers import NAMES, dossier, dossier_of

from fitout.checks.ledger import summed
from fitout.checks.mass_lines import empty_lines
from fitout.cutting.bars import cut_bars
from fitout.documents.bill import GROUPS, bill_csv, bill_rows, bill_sums
from fitout.documents.dossier import Dossier
from fitout.documents.stock_tables import purchase_csv
from fitout.documents.tables import hardware_csv
from fitout.model.design import BoardSpec
from fitout.model.edging import EdgingSpec

each_demo = pytest.mark.parametrize("name", NAMES)


def read(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"))))


@pytest.fixture(scope="module")
def edged() -> Dossier:
    """The small hatch with strips on its carcass and another thickness on its fronts."""
    design = dossier("small-hatch").design
    wishes = {"carcass": EdgingSpec(thickness=2.0, price=1.8), "front": EdgingSpec(thickness=0.8)}
    boards = dict(design.boards)
    for role, wish in wishes.items():
        boards[role] = dataclasses.replace(
            boards.get(role, BoardSpec(sheet="birch ply 9")), edging=wish
        )
    return dossier_of(dataclasses.replace(design, boards=boards))


def test_edging_is_told_as_bought_and_the_masses_stay_those_of_the_ledger(edged: Dossier) -> None:
    rows = [row for row in bill_rows(edged) if row.group == "edging"]
    assert {row.size[2] for row in rows} == {2.0, 0.8}
    for row in rows:
        assert row.mass_kg is not None
        assert 0.0 < row.built_in_kg < row.mass_kg
    assert any(row.cost for row in rows)
    built = summed(empty_lines(edged.subject)).mass_kg
    assert bill_sums(bill_rows(edged))[-1].built_in_kg == pytest.approx(built, abs=1e-9)
    bars = cut_bars(edged.cuts.cut_list, edged.cuts.spec, edged.design.stock)
    bought = read(purchase_csv(edged.cuts, bars, edged.design.stock))
    told = {r["what"]: r["price total"] for r in read(bill_csv(edged)) if r["group"] == "edging"}
    assert told == {r["what"]: r["price total"] for r in bought if r["kind"] == "edging"}


@each_demo
def test_what_is_built_in_weighs_what_the_ledger_says(name: str) -> None:
    made = dossier(name)
    built = summed(empty_lines(made.subject)).mass_kg
    *parts, whole = bill_sums(bill_rows(made))
    assert whole.built_in_kg == pytest.approx(built, abs=1e-9)
    assert sum(part.built_in_kg for part in parts) == pytest.approx(built, abs=1e-9)


@each_demo
def test_stock_is_that_of_the_purchase_list(name: str) -> None:
    made = dossier(name)
    bars = cut_bars(made.cuts.cut_list, made.cuts.spec, made.design.stock)
    bought = read(purchase_csv(made.cuts, bars, made.design.stock))[:-1]
    billed = [r for r in read(bill_csv(made)) if r["group"] in ("sheets", "bars")]
    assert billed
    same = ("what", "kind", "quantity", "from", "length (mm)", "mass total (kg)", "price total")
    assert [[r[k] for k in same] for r in billed] == [[r[k] for k in same] for r in bought]


@each_demo
def test_hardware_and_edging_are_those_of_the_hardware_list(name: str) -> None:
    made = dossier(name)
    listed = read(hardware_csv(made.hardware, made.articles))
    billed = [r for r in read(bill_csv(made)) if r["group"] in ("hardware", "edging")]
    same = ("kind", "quantity", "unit", "mass total (kg)", "price total", "for")
    assert {r["what"]: [r[k] for k in same] for r in billed} == {
        r["article"]: [r[k] for k in same] for r in listed
    }


@each_demo
def test_every_item_is_billed_once_and_groups_stand_together(name: str) -> None:
    made = dossier(name)
    rows = bill_rows(made)
    items = [i.name for m in made.fitout.modules for i in m.items if not i.article]
    billed = [row.name for row in rows if row.group == "items" for _ in range(row.quantity)]
    assert sorted(billed) == sorted(items)
    order = [GROUPS.index(row.group) for row in rows]
    assert order == sorted(order)


def test_sums_tell_what_has_no_price_and_count_what_has() -> None:
    made = dossier("small-hatch")
    by_name = {row["group"]: row for row in read(bill_csv(made)) if row["group"][:4] == "sum:"}
    assert by_name["sum: items"]["price total"] == "48.00"
    assert by_name["sum: items"]["for"] == ""
    assert by_name["sum: sheets"]["price total"] == ""
    assert by_name["sum: sheets"]["for"] == "no price is known"
    rows = bill_rows(made)
    unpriced = {row.name for row in rows if row.cost is None}
    note = f"without the price of {len(unpriced)} of {len({row.name for row in rows})}"
    assert by_name["sum: all"]["for"] == note


def test_what_is_on_hand_costs_nothing_and_is_not_added() -> None:
    rows = bill_rows(dossier("small-hatch"))
    tools = [row for row in rows if row.origin == "on hand"]
    assert {row.cost for row in tools} == {0.0}
    dear = [dataclasses.replace(row, price=5.0) for row in tools]
    assert bill_sums(dear)[-1].cost is None
    assert bill_sums([dataclasses.replace(r, origin="bought") for r in dear])[-1].cost == (
        5.0 * sum(row.quantity for row in tools)
    )


def test_an_article_that_no_catalogue_tells_is_named_as_without_mass() -> None:
    made = dossier("small-hatch")
    without = {key: row for key, row in made.articles.items() if key != "felt strip"}
    bare = dataclasses.replace(made, articles=without)
    assert bill_sums(bill_rows(bare))[-1].without_mass == ("felt strip",)
    assert "without the mass of felt strip" in bill_csv(bare).decode("utf-8-sig")
