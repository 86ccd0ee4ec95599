"""Nesting of panel sets as load-space fit-outs have them, invented for this project.

`panel_sets.json`: parts as name, length along the grain, width, copies, grain kept or not;
sheets of 2440 x 1220, kerf 3, trim 10.
"""

import json
import time
from pathlib import Path

import pytest

from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import Effort, nest
from fitout.cutting.verify import verify
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Grain, Panel
from fitout.model.placement import Placement
from fitout.model.stock import Board

SETS = json.loads((Path(__file__).parent / "panel_sets.json").read_text(encoding="utf-8"))

EFFORT = Effort(work=80_000_000)
"""About five seconds."""


def parts(rows):
    length, width = SETS["sheet"]
    board = Board(
        key="ply", nominal=12.0, thickness=11.8, thickness_tolerance=0.4, density_kg_m3=680.0,
        length=float(length), width=float(width),
    )  # fmt: skip
    return [
        Panel(
            name=f"{name} {i}", module="m", board=board, placement=Placement(),
            outline=Outline(rectangle(float(along), float(across))),
            grain=Grain.ALONG_U if locked else Grain.EITHER,
        )
        for i, (name, along, across, copies, locked) in enumerate(rows)
        for _ in range(copies)
    ]  # fmt: skip


@pytest.mark.benchmark
@pytest.mark.parametrize(("by", "least_proven"), [("saw", 8), ("router", 9)])
def test_panel_sets_within_a_sheet_of_the_bound(by, least_proven):
    spec = CuttingSpec(by=by, kerf=SETS["kerf"], trim=SETS["trim"], spacing=0.0)
    proven = 0
    for each in SETS["instances"]:
        cuts = cut_list(parts(each["parts"]))
        start = time.perf_counter()
        plan = nest(cuts, spec, EFFORT)
        taken = time.perf_counter() - start
        assert verify(plan, cuts) == ()
        (use,) = plan.boards
        print(f"{by} {each['id']}: {use.sheets} sheets, bound {use.least_sheets}, {taken:.1f} s")
        assert use.sheets <= use.least_sheets + 1
        proven += use.proven_least
    print(f"{by}: {proven} of {len(SETS['instances'])} proven least")
    assert proven >= least_proven
