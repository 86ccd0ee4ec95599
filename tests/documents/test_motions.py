"""What `check --json` says of motions, so that a viewer can play them."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from dossiers import evaluated

from fitout.workflow import Evaluation

DESIGNS = Path(__file__).parents[2] / "designs"

KEYS = {
    "id", "module", "kind", "direction", "point", "travel", "unit", "needs", "shut", "tailgate",
    "stop", "parts", "reaches", "stopped_by",
}  # fmt: skip


@pytest.fixture(scope="module")
def wagon() -> Evaluation:
    return evaluated("touring-wagon")


@pytest.fixture(scope="module")
def rows(wagon: Evaluation) -> dict[str, Any]:
    told = json.loads(json.dumps(wagon.as_object()))
    return {row["id"]: row for row in told["motions"]}


def test_every_motion_has_a_row(wagon: Evaluation, rows: dict[str, Any]) -> None:
    modules = [m.id for module in wagon.fitout.modules for m in module.motions]
    assert [*rows] == [*modules, *(f"bay/{s.name}" for s in wagon.fitout.bay.swings)]
    assert all(set(row) >= KEYS for row in rows.values())


def test_a_drawer(wagon: Evaluation, rows: dict[str, Any]) -> None:
    row = rows["drawers/drawer 1"]
    assert (row["kind"], row["unit"], row["point"]) == ("slide", "mm", None)
    assert row["direction"] == [-1.0, 0.0, 0.0]
    assert row["reaches"] == row["travel"] == 700.0
    assert row["stopped_by"] is None
    assert "drawers/drawer 1 front" in row["parts"]
    known = {part.id for part in wagon.fitout.parts()}
    assert all(part in known for r in rows.values() for part in r["parts"] if r["module"] != "bay")


def test_the_fridges_lid_is_a_piece_where_it_starts(rows: dict[str, Any]) -> None:
    lid, slide = rows["fridge/fridge lid"], rows["fridge/fridge"]
    assert lid["needs"] == [slide["id"]]
    assert lid["parts"] == ["fridge/fridge"]
    (piece,) = lid["pieces"]
    assert len(piece) == 8
    # It starts on the fridge drawn out: the axis is given where the lid is shut and in.
    assert max(y for _, y, _ in piece) == pytest.approx(lid["point"][1])
    assert min(z for _, _, z in piece) == pytest.approx(lid["point"][2])


def test_the_tailgate_and_the_seat_carry_their_solids(rows: dict[str, Any]) -> None:
    gate = rows["bay/tailgate"]
    assert (gate["kind"], gate["unit"], gate["module"]) == ("hinge", "deg", "bay")
    assert gate["parts"] == ["bay/tailgate"]
    assert len(gate["pieces"]) >= 1
    assert rows["bay/seat back from 21°"]["travel"] == pytest.approx(7.0)
