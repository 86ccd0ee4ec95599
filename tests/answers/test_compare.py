import dataclasses
from types import SimpleNamespace

import pytest

from fitout import workflow
from fitout.answers.compare import compared, finding_changes
from fitout.checks import Memory
from fitout.cutting.plan import BoardUse
from fitout.model.finding import Severity
from fitout.model.spec import Size


@pytest.fixture(scope="module")
def thicker(design):
    tank = dataclasses.replace(design.items["slim tank"], size=Size(95.0, 620.0, 230.0))
    other = dataclasses.replace(design, items={**design.items, "slim tank": tank})
    return workflow.evaluate(other, Memory())


def test_the_same_design_has_no_difference(evaluation) -> None:
    assert compared(evaluation, evaluation).is_none


def test_a_thicker_tank_changes_the_parts_beside_it(evaluation, thicker) -> None:
    changes = {c.part: c for c in compared(evaluation, thicker).parts}
    assert changes["tank/slim tank"].what == ("length 92 -> 95 mm",)
    assert any(what.startswith("length") for what in changes["drawers/base"].what)
    assert "drawers/drawer 1 left front" not in changes


def test_masses_are_those_of_the_ledger(evaluation, thicker) -> None:
    amounts = {a.name: a for a in compared(evaluation, thicker).amounts}
    empty = amounts["all, empty"]
    assert empty.after - empty.before == pytest.approx(
        thicker.totals["empty_kg"] - evaluation.totals["empty_kg"]
    )


def test_sheets_and_their_cost_are_told_by_board(evaluation) -> None:
    ply, foam = evaluation.setting.boards["carcass"], evaluation.setting.boards["deck"]

    def plan(*uses):
        return SimpleNamespace(boards=uses)

    before = plan(use(ply, 3, 180.0), use(foam, 1, None))
    after = plan(use(ply, 2, 120.0))
    found = compared(evaluation, evaluation, (before, after)).sheets
    told = {a.name: (a.before, a.after) for a in found}
    assert told == {
        f"sheets of {ply.key}": (3.0, 2.0),
        f"cost of {ply.key}": (180.0, 120.0),
        f"sheets of {foam.key}": (1.0, None),
    }


def use(board, sheets, cost):
    return BoardUse(board=board, sheets=sheets, least_sheets=sheets, used_share=0.8, cost=cost)


def test_what_got_worse_comes_first(evaluation) -> None:
    first, *rest = evaluation.findings
    tightest = next(f for f in rest if f.margin is not None and f.severity is Severity.PASS)
    failing = dataclasses.replace(tightest, severity=Severity.FAIL, margin=-1.0)
    after = [failing if f is tightest else f for f in rest]
    changes = finding_changes(evaluation.findings, after)
    assert changes[0].after is failing
    assert changes[-1].before is first
    assert changes[-1].after is None
