"""How an evaluation's time grows with the design: one, two, four and eight rows of drawers."""

from __future__ import annotations

import statistics
import time
from pathlib import Path

import pytest

from fitout.checks import Memory
from fitout.model.design import Design
from fitout.model.finding import Severity
from fitout.workflow import Evaluation, evaluate, load

RUNS = 5
ROWS = (1, 2, 4, 8)

BAY = """fitout: 1
name: {rows} rows of drawers
bay:
  sections:
    - {{at: 0, widths: {{0: {floor}, 700: {top}}}, roof: 958}}
    - {{at: 1140, widths: {{0: {floor}, 700: {top}}}, roof: 978}}
  front_wall: 1164
  tailgate: {{inner_face: {{0: 0, 450: 30, 900: 165}}, opens: upwards}}
  opening: {{lip: 28, height: 868, widths: {{0: {top}, 868: {top}}}}}
modules:
"""

DRAWERS = "{{kind: drawers, width: 560, depth: 900, stack: [{{carries: {kg} kg}}, {{}}]{beside}}}"


def rows_of_drawers(rows: int, folder: Path, last_kg: int = 45) -> Design:
    """A bay as wide as it takes, each row with a carcass and two drawers."""
    lines = []
    for i in range(1, rows + 1):
        beside = f", right_of: row {i - 1}" if i > 1 else ""
        entries = DRAWERS.format(kg=last_kg if i == rows else 45, beside=beside)
        lines.append(f"  row {i}: {entries}\n")
    path = folder / f"{rows} {last_kg}.yaml"
    bay = BAY.format(rows=rows, floor=700 * rows + 40, top=700 * rows)
    path.write_text(bay + "".join(lines), encoding="utf-8", newline="\n")
    return load(path)


def timed(design: Design, memory: Memory | None = None) -> tuple[float, Evaluation]:
    start = time.process_time()
    evaluation = evaluate(design, memory)
    return time.process_time() - start, evaluation


@pytest.mark.benchmark
def test_time_grows_with_the_number_of_panels(tmp_path: Path) -> None:
    print()
    panels: dict[int, object] = {}
    for rows in ROWS:
        design = rows_of_drawers(rows, tmp_path)
        runs = [timed(design) for _ in range(RUNS)]
        evaluation = runs[0][1]
        failed = [f for f in evaluation.findings if f.severity is Severity.FAIL]
        # Nothing to bolt to is entered; else all rows stand as well as one.
        assert [f.code for f in failed] == ["fixing points"] * rows
        panels[rows] = evaluation.totals["panels"]
        assert panels[rows] == rows * int(str(panels[1]))
        whole = statistics.median(taken for taken, _ in runs)
        memory = Memory()
        evaluate(design, memory)
        changed = [
            timed(rows_of_drawers(rows, tmp_path, kg), memory)[0] for kg in range(40, 40 + RUNS)
        ]
        print(
            f"{panels[rows]:>4} panels: whole {1e3 * whole:4.0f} ms, "
            f"{1e3 * whole / int(str(panels[rows])):.2f} ms a panel; "
            f"one row changed {1e3 * statistics.median(changed):3.0f} ms"
        )
