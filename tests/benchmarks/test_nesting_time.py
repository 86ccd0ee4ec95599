"""How long nesting takes: a typical job, and one of five hundred parts."""

import time

import pytest

from fitout.cutting.beam import Enough
from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import Effort, nest
from fitout.cutting.verify import verify
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Grain, Panel
from fitout.model.placement import Placement
from fitout.model.stock import Board


def board(name):
    return Board(
        key=name, nominal=12.0, thickness=11.8, thickness_tolerance=0.4,
        density_kg_m3=680.0, length=2440.0, width=1220.0,
    )  # fmt: skip


def job(count, materials):
    """So many parts, few of them alike, of so many materials."""
    boards = [board(f"ply {i}") for i in range(materials)]
    return cut_list(
        Panel(
            name=f"n{i}", module="m", board=boards[i % materials], placement=Placement(),
            outline=Outline(rectangle(180.0 + 97 * (i % 11) + i // 77, 90.0 + 71 * (i % 7))),
            grain=(Grain.ALONG_U, Grain.EITHER)[i % 3 == 0],
        )
        for i in range(count)
    )  # fmt: skip


@pytest.mark.benchmark
@pytest.mark.parametrize("by", ["saw", "router"])
def test_a_typical_job(by):
    cuts, spec = job(60, 2), CuttingSpec(by=by, kerf=3.2)
    nest(job(4, 1), spec)

    def at_once(*_):
        raise Enough

    start = time.perf_counter()
    first = nest(cuts, spec, Effort(progress=at_once))
    middle = time.perf_counter()
    plan = nest(cuts, spec)
    end = time.perf_counter()
    print(f"{by}: {len(first.sheets)} sheets after {middle - start:.2f} s, "
          f"{len(plan.sheets)} after {end - middle:.1f} s")  # fmt: skip
    assert verify(first, cuts) == verify(plan, cuts) == ()
    assert len(plan.sheets) <= len(first.sheets)
    assert all(use.sheets <= use.least_sheets + 1 for use in plan.boards)
    assert middle - start < 0.5
    assert end - middle < 10.0


@pytest.mark.benchmark
@pytest.mark.parametrize("by", ["saw", "router"])
def test_five_hundred_parts_within_a_minute(by):
    cuts, spec = job(500, 1), CuttingSpec(by=by, kerf=3.2)
    start = time.perf_counter()
    plan = nest(cuts, spec)
    taken = time.perf_counter() - start
    (use,) = plan.boards
    print(f"{by}: {use.sheets} sheets, bound {use.least_sheets}, {taken:.1f} s")
    assert verify(plan, cuts) == ()
    assert use.sheets <= use.least_sheets + 2
    assert taken < 60.0
