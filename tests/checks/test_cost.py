"""What has a price, and what has none."""

import dataclasses
from collections.abc import Callable
from typing import Any

import pytest

from fitout.checks.cost import Cost, check_cost, cost_of
from fitout.model.finding import Severity
from fitout.model.hardware import HardwareLine

Make = Callable[..., Any]


def test_costs_add_up() -> None:
    whole = Cost(3.0, frozenset({"a"})) + Cost(4.5, frozenset({"a", "b"}))
    assert whole == Cost(7.5, frozenset({"a", "b"}))


def test_a_panel_bears_its_blanks_share_of_the_sheet(
    subject: Make, module: Make, panel: Make, item: Make, board: Any
) -> None:
    """500 × 625 is a tenth of 2500 × 1250: 8 of 80; the box costs 30; screws have no price."""
    priced = dataclasses.replace(board, price=80.0)
    shelf = panel("a/shelf", (0.0, 500.0), (0.0, 625.0), 100.0, board=priced)
    box = item("a/box", (0.0, 200.0), (0.0, 100.0), (200.0, 300.0), price=30.0)
    screws = HardwareLine(article="wood screw 4 x 40", quantity=8, module="a", purpose="")
    whole = module("a", shelf, box, hardware=(screws,))
    looked_at = subject(whole)
    cost = cost_of(looked_at, whole)
    assert cost.known == pytest.approx(38.0)
    assert cost.without_price == {"wood screw 4 x 40"}
    each, total = check_cost(looked_at)
    assert (each.code, each.where, each.value) == ("module cost", "a", 38.0)
    assert (total.code, total.value) == ("cost", 38.0)
    assert total.sentence.endswith("Without a price: wood screw 4 x 40.")


def test_a_trays_tools_are_the_builders_already(subject: Make, module: Make, item: Make) -> None:
    tool = item("tray/spanner", (0.0, 200.0), (0.0, 30.0), (0.0, 10.0))
    for kind, missing in (("seat tray", set()), ("box", {"spanner"})):
        whole = module("tray", tool, kind=kind)
        assert cost_of(subject(whole), whole).without_price == missing


def test_without_any_price_the_cost_is_not_checked(
    subject: Make, module: Make, panel: Make
) -> None:
    shelf = panel("a/shelf", (0.0, 500.0), (0.0, 625.0), 100.0)
    (finding,) = check_cost(subject(module("a", shelf)))
    assert finding.severity is Severity.UNCHECKED
    assert finding.value is None


def test_a_designs_cost_follows_the_sheets_price(evaluated: Make, only: Make) -> None:
    def cost(price: int) -> float:
        boards = f"boards: {{carcass: {{sheet: birch ply 12, price: {price}}}}}"
        (finding,) = only(evaluated("a: {kind: drawers}", more=boards), "cost")
        assert finding.value is not None
        return finding.value

    assert cost(90) == pytest.approx(1.5 * cost(60), rel=1e-4)


def test_a_board_costs_its_share_of_the_sheet(evaluated: Make, only: Make) -> None:
    drawers = "drawers: {kind: drawers, columns: 1, width: 500, stack: [{carries: 5}]}"
    priced = "boards: {bottom: {sheet: birch ply 6.5, price: 50}}"
    found = evaluated(drawers, more=priced)
    (bottom,) = [p for p in found.fitout.panels() if p.name == "drawer 1 bottom"]
    length, width = bottom.outline.size
    (total,), (each,) = only(found, "cost"), only(found, "module cost")
    assert total.value == pytest.approx(50.0 * length * width / (2440.0 * 1220.0), abs=1e-3)
    assert each.value == total.value
    assert "birch ply 12" in total.sentence
    assert "birch ply 6.5" not in total.sentence


def test_a_design_without_prices(evaluated: Make, only: Make) -> None:
    found = evaluated("drawers: {kind: drawers}")
    assert [f.severity for f in only(found, "cost")] == [Severity.UNCHECKED]
    assert only(found, "module cost") == []
