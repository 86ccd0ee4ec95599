"""Cost: boards by share of the sheet, items and hardware by piece; what has no price is told."""

from __future__ import annotations

from pathlib import Path

import pytest

from fitout import workflow
from fitout.model.finding import Finding, Severity

BAY = """
fitout: 1
name: Priced
bay:
  sections:
    - {at: 0, widths: {0: 1200, 600: 1200}, roof: 900}
    - {at: 1000, widths: {0: 1200, 600: 1200}, roof: 900}
  front_wall: 1000
modules:
  drawers: {kind: drawers, columns: 1, width: 500, depth: 600, height: 300, stack: [{carries: 5}]}
"""


def found(tmp_path: Path, text: str) -> dict[str, Finding]:
    path = tmp_path / "priced.yaml"
    path.write_text(text, encoding="utf-8")
    findings = workflow.evaluate(workflow.load(path)).findings
    return {f.code: f for f in findings if f.code in ("cost", "module cost")}


def test_without_any_price_the_cost_is_not_reckoned(tmp_path: Path) -> None:
    codes = found(tmp_path, BAY)
    assert codes["cost"].severity is Severity.UNCHECKED
    assert "module cost" not in codes


def test_a_board_costs_its_share_of_the_sheet(tmp_path: Path) -> None:
    text = BAY + "boards:\n  bottom: {sheet: birch ply 6.5, price: 50}\n"
    codes = found(tmp_path, text)
    evaluation = workflow.evaluate(workflow.load(tmp_path / "priced.yaml"))
    bottom = next(p for p in evaluation.fitout.panels() if p.name == "drawer 1 bottom")
    length, width = bottom.outline.size
    expected = 50.0 * length * width / (2440.0 * 1220.0)
    assert codes["cost"].value == pytest.approx(expected, abs=1e-3)
    assert codes["module cost"].value == codes["cost"].value
    assert "birch ply 12" in codes["cost"].sentence
    assert "birch ply 6.5" not in codes["cost"].sentence
