"""Single sheets filled by value: published instances with proven optima.

cgcut: Christofides & Whitlock, "An algorithm for two-dimensional cutting problems", Operations
Research 25 (1977). gcut and ngcut: Beasley, Journal of the Operational Research Society 36
(1985) and Operations Research 33 (1985). wang: Wang, Operations Research 31 (1983). hadchr:
Hadjiconstantinou & Christofides, European Journal of Operational Research 83 (1995).
Attributions from memory. `items`: width, height, most copies, value.

An instance counts as reached if its first optimum below is reached: free and oriented, else in
three stages; two of the wang instances have none to compare with. Listed with turns, some are
not the optimum: of gcut4 more is found.
"""

import json
import time
from pathlib import Path

import numpy as np
import pytest
from filled import faults, in_three_stages

from fitout.cutting import skyline, staged
from fitout.cutting.layout import Blank
from fitout.cutting.search import layouts
from fitout.cutting.task import Stock, task
from tests.support.most_valuable import most_valuable

INSTANCES = json.loads(
    (Path(__file__).parent / "best_value.json").read_text(encoding="utf-8")
)["instances"]  # fmt: skip

WORK = 80_000_000
"""About five seconds."""


def best_value(instance, fills, turnable):
    """The value found, judged by laying it out."""
    size = tuple(float(side) for side in instance["sheet"])
    rows = [
        (float(a), float(b), copies, value)
        for a, b, copies, value in instance["items"]
        if any(x <= size[0] and y <= size[1] for x, y in ((a, b), (b, a))[: 1 + turnable])
    ]
    blanks = [
        Blank(f"P{i}", copy, a, b, turnable)
        for i, (a, b, copies, _) in enumerate(rows)
        for copy in range(1, copies + 1)
    ]
    value_of = {f"P{i}": value for i, (*_, value) in enumerate(rows)}
    job = task(blanks, [Stock(*size)])
    # Alike kinds share a value in all of these.
    assert all(len({value_of[b.number] for b in kind.blanks}) == 1 for kind in job.kinds)
    values = np.array([float(value_of[kind.blanks[0].number]) for kind in job.kinds])
    found = most_valuable(job, values, fills, WORK)
    ((_, sheet),) = layouts(job, [(found, 1)])
    laid = [each.blank for each in sheet.laid]
    assert faults([sheet], laid, size) == []
    assert len({(b.number, b.copy) for b in laid}) == len(laid)
    assert fills != [staged.fill] or in_three_stages(sheet)
    return sum(value_of[blank.number] for blank in laid)


@pytest.mark.benchmark
def test_optima_of_single_sheets():
    reached = compared = 0
    for instance in INSTANCES:
        optimum = instance["optimum"]
        way = next((w for w in ("free_oriented", "guillotine3_oriented") if w in optimum), None)
        if way is None:
            print(f"{instance['id']}: nothing to compare with")
            continue
        fills = [staged.fill, skyline.fill] if way == "free_oriented" else [staged.fill]
        start = time.perf_counter()
        value = best_value(instance, fills, turnable=False)
        taken = time.perf_counter() - start
        print(f"{instance['id']} {way}: {value} of {optimum[way]}, {taken:.1f} s")
        assert value <= optimum[way] or way != "free_oriented"
        compared += 1
        reached += value >= optimum[way]
    print(f"{reached} of {compared} optima reached")
    assert reached >= 22


@pytest.mark.benchmark
def test_optima_of_single_sheets_with_turns():
    reached = compared = 0
    for instance in INSTANCES:
        optimum = instance["optimum"].get("free_rotated")
        if optimum is None:
            continue
        value = best_value(instance, [staged.fill, skyline.fill], turnable=True)
        print(f"{instance['id']} turned: {value} of {optimum}")
        compared += 1
        reached += value >= optimum
    print(f"{reached} of {compared} optima reached")
    assert reached >= compared - 1


def test_two_small_instances_are_solved():
    for name, value in (("ngcut1", 164), ("hadchr_3", 1178)):
        instance = next(i for i in INSTANCES if i["id"] == name)
        assert best_value(instance, [staged.fill, skyline.fill], turnable=False) == value
