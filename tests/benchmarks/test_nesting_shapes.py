"""Nesting of shaped panels, invented for this project, by true shapes against the area bound.

`panel_shapes.json`: notched, L, raked and clipped parts with cut-outs; 2440 x 1220, spacing 8.
"""

import json
import time
from pathlib import Path

import pytest

from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import nest
from fitout.cutting.verify import verify
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Outline, polygon
from fitout.model.panel import Grain, Panel
from fitout.model.placement import Placement
from fitout.model.stock import Board

SETS = json.loads((Path(__file__).parent / "panel_shapes.json").read_text(encoding="utf-8"))


def panels(each):
    length, width = map(float, SETS["sheet"])
    board = Board(
        key="ply", nominal=12.0, thickness=11.8, thickness_tolerance=0.4, density_kg_m3=680.0,
        length=length, width=width, price=float(each["sheet_price"]),
    )  # fmt: skip
    for part in each["parts"]:
        outline = Outline(polygon(part["outline"]), tuple(polygon(h) for h in part["holes"]))
        assert outline.area == pytest.approx(part["area"])
        grain = Grain.ALONG_U if part["grain_locked"] else Grain.EITHER
        for copy in range(part["copies"]):
            yield Panel(
                name=f"{part['name']} {copy}", module="m", board=board, placement=Placement(),
                outline=outline, grain=grain,
            )  # fmt: skip


@pytest.mark.benchmark
@pytest.mark.parametrize("each", SETS["instances"], ids=lambda each: each["id"])
def test_shaped_panels_within_a_sheet_of_the_area_bound(each):
    cuts = cut_list(panels(each))
    spec = CuttingSpec(by="router", kerf=6.0, spacing=each["spacing"] - 6.0, trim=each["trim"])
    start = time.perf_counter()
    plan = nest(cuts, spec)
    taken = time.perf_counter() - start
    assert verify(plan, cuts) == ()
    (use,) = plan.boards
    largest = max(rect.area for sheet in plan.sheets for rect in sheet.offcuts)
    print(
        f"{each['id']}: {use.sheets} sheets, bound {use.least_sheets}, "
        f"largest offcut {largest / 1e6:.2f} m², {taken:.1f} s"
    )
    assert use.sheets <= each["area_lb"] + 1
    assert use.least_sheets >= each["area_lb"]
