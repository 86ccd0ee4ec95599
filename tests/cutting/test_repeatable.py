"""The same plan in every process, and as many sheets for the mirrored job."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

import fitout
from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import Effort, nest
from fitout.cutting.verify import verify
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Outline, polygon
from fitout.model.panel import Grain

NESTED = """
import dataclasses, hashlib, sys
from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import Effort, nest
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Grain, Panel
from fitout.model.placement import flat
from fitout.model.stock import Board

ply = Board(
    key="ply 12", nominal=12.0, thickness=11.8, thickness_tolerance=0.4, density_kg_m3=680.0,
    length=2440.0, width=1220.0, price=100.0,
)
panels = [
    Panel(
        name=f"n{i}", module="box", board=ply, placement=flat(0.0, 0.0, 0.0),
        outline=Outline(rectangle(500.0 + 41 * (i % 7), 330.0 + 37 * (i % 5))),
        grain=Grain.EITHER,
    )
    for i in range(34)
]
for by in ("saw", "router"):
    plan = nest(cut_list(panels), CuttingSpec(by=by), Effort(work=1_500_000, seed=3))
    print(by, len(plan.sheets), hashlib.sha256(repr(plan.sheets).encode()).hexdigest())
"""


def nested(hash_seed):
    root = str(Path(fitout.__file__).parents[1])
    env = {**os.environ, "PYTHONHASHSEED": hash_seed, "PYTHONPATH": root}
    command = [sys.executable, "-c", NESTED]
    return subprocess.run(command, env=env, capture_output=True, text=True, check=True).stdout


def test_two_processes_find_the_same_plan():
    first = nested("0")
    assert first.count("\n") == 2
    assert nested("4711") == first


def mirrored(x):
    """A part of five corners, as it is and mirrored across the grain."""
    points = [(0.0, 0.0), (x, 0.0), (x, 0.4 * x), (0.6 * x, 0.7 * x), (0.0, 0.5 * x)]
    return points, [(px, 0.7 * x - py) for px, py in points[::-1]]


@pytest.mark.parametrize("by", ["saw", "router"])
@pytest.mark.parametrize("seed", range(3))
def test_the_mirrored_job_takes_as_many_sheets(make, by, seed):
    spec = CuttingSpec(by=by, kerf=4.0, trim=10.0)
    pairs = [mirrored(330.0 + 53.0 * ((i + seed) % 9)) for i in range(18)]
    counts = []
    for which in (0, 1):
        panels = [
            make(outline=Outline(polygon(pair[which])), name=f"n{i}", grain=Grain.EITHER)
            for i, pair in enumerate(pairs)
        ]
        cuts = cut_list(panels)
        plan = nest(cuts, spec, Effort(work=1_000_000))
        assert verify(plan, cuts) == ()
        counts.append(len(plan.sheets))
    assert counts[0] == counts[1]
