"""How long nesting takes: sixty parts within half a second."""

import time

import pytest

from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import nest
from fitout.model.design import CuttingSpec
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Grain, Panel
from fitout.model.placement import Placement
from fitout.model.stock import Board


@pytest.mark.benchmark
@pytest.mark.parametrize("by", ["saw", "router"])
def test_sixty_parts_in_half_a_second(by):
    board = Board(
        key="ply 12", nominal=12.0, thickness=11.8, thickness_tolerance=0.4,
        density_kg_m3=680.0, length=2440.0, width=1220.0,
    )  # fmt: skip
    panels = [
        Panel(
            name=f"n{i}", module="m", board=board, placement=Placement(),
            outline=Outline(rectangle(180.0 + 97 * (i % 11), 90.0 + 71 * (i % 7))),
            grain=(Grain.ALONG_U, Grain.EITHER)[i % 2],
        )
        for i in range(60)
    ]  # fmt: skip
    cuts = cut_list(panels)
    start = time.perf_counter()
    plan = nest(cuts, CuttingSpec(by=by, kerf=3.2))
    taken = time.perf_counter() - start
    assert len(plan.sheets) <= plan.boards[0].least_sheets + 1
    assert taken < 0.5
