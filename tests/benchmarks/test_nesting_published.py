"""Nesting against published two-dimensional bin packing instances.

Classes 1 to 6: Berkey & Wang, "Two-dimensional finite bin-packing algorithms", Journal of
the Operational Research Society 38 (1987). Classes 7 to 10: Martello & Vigo, "Exact solution
of the two-dimensional finite bin packing problem", Management Science 44 (1998). `best` is
the fewest bins published for free and for three-stage guillotine cutting, with and without
quarter turns; a target, not a proof. Three of the 375 can't be right as they stand: c07_n080_05
(oriented) and c10_n100_07 (turned) have more bins free than guillotine, and c03_n020_05 was cut
in fewer than listed.
"""

import json
import time
from collections import Counter
from itertools import product
from pathlib import Path

import pytest
from filled import faults, in_three_stages

from fitout.cutting import free, guillotine, skyline, staged
from fitout.cutting.bounds import least_sheets
from fitout.cutting.cut_list import cut_list
from fitout.cutting.layout import Blank
from fitout.cutting.nest import Effort, nest
from fitout.cutting.search import Limits, layouts, search
from fitout.cutting.task import Stock, task
from fitout.cutting.tries import ORDERS
from fitout.cutting.verify import verify
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Grain, Panel
from fitout.model.placement import Placement
from fitout.model.stock import Board

INSTANCES = json.loads(
    (Path(__file__).parent / "bin_packing.json").read_text(encoding="utf-8")
)["instances"]  # fmt: skip

FEW = [next(i for i in INSTANCES if i["id"].startswith(f"c{which:02}_")) for which in range(1, 11)]

KERF = 1e-3
"""As good as none, the instances being whole numbers; the sheet is larger by as much a row."""

WORK = 100_000_000
"""Within five seconds on one core of 2020."""

WAYS = {
    ("guillotine3", False): 5375,
    ("guillotine3", True): 5190,
    ("free", False): 5335,
    ("free", True): 5160,
}
"""The most bins allowed over all instances."""


def key(way, turned):
    return f"{way}_{'rotated' if turned else 'oriented'}"


def planned(instance, by, turned):
    length, width = instance["bin"]
    slack = 100.0 * KERF
    board = Board(
        key="bin", nominal=1.0, thickness=1.0, thickness_tolerance=0.0, density_kg_m3=1.0,
        length=length + slack, width=width + slack,
    )  # fmt: skip
    panels = [
        Panel(
            name=f"n{i}", module="m", outline=Outline(rectangle(float(a), float(b))), board=board,
            placement=Placement(), grain=Grain.EITHER if turned else Grain.ALONG_U,
        )
        for i, (a, b) in enumerate(instance["items"])
    ]  # fmt: skip
    cuts = cut_list(panels)
    spec = CuttingSpec(by=by, kerf=KERF, trim=0.0, spacing=0.0)
    plan = nest(cuts, spec, Effort(work=3_000_000))
    assert verify(plan, cuts) == ()
    return plan


@pytest.mark.parametrize("turned", [False, True], ids=["oriented", "turned"])
@pytest.mark.parametrize(("by", "way"), [("saw", "guillotine3"), ("router", "free")])
def test_one_of_each_class_by_the_whole_of_nesting(by, way, turned):
    for instance in FEW:
        plan = planned(instance, by, turned)
        best = instance["best"][key(way, turned)]
        # The slack for the kerf leaves the bound a little below the true one.
        assert plan.boards[0].least_sheets <= best
        # The saw may cut in more than three stages, so it may do better by a sheet.
        assert len(plan.sheets) <= best + 1


def searched(instance, way, turned):
    """Bins found and the bound; the layouts judged."""
    size = tuple(float(side) for side in instance["bin"])
    blanks = [
        Blank(f"P{i}", 1, float(a), float(b), turned) for i, (a, b) in enumerate(instance["items"])
    ]
    least = least_sheets(blanks, size)
    job = task(blanks, [Stock(*size)])
    fills = [staged.fill] if way == "guillotine3" else [staged.fill, skyline.fill]
    outcome = search(job, fills, Limits(least_cost=float(least), work=WORK))
    sheets = [sheet for _, sheet in layouts(job, outcome.chosen)]
    assert faults(sheets, blanks, size) == []
    if way == "guillotine3":
        assert all(in_three_stages(sheet) for sheet in sheets)
    assert len(sheets) >= least
    return len(sheets), least


def ruled(instance, way, turned):
    """The fewest bins by any of rectpack's rules, as it sorts and as it is told to."""
    import rectpack

    kind = "Guillotine" if way == "guillotine3" else "MaxRects"
    names = sorted(n for n in dir(rectpack) if n.startswith(kind) and n != kind)
    sorts = (rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE, rectpack.SORT_PERI)
    fewest = len(instance["items"])
    for name, order in product(names, sorts):
        packer = rectpack.newPacker(
            mode=rectpack.PackingMode.Offline,
            bin_algo=rectpack.PackingBin.BFF,
            pack_algo=getattr(rectpack, name),
            sort_algo=order,
            rotation=turned,
        )
        for i, (a, b) in enumerate(instance["items"]):
            packer.add_rect(a, b, i)
        packer.add_bin(*instance["bin"], count=float("inf"))
        packer.pack()
        if len(packer.rect_list()) == len(instance["items"]):
            fewest = min(fewest, len(packer))
    return fewest


def ruled_by_us(instance, way, turned):
    """The fewest bins by any of our own simple rules, sawn in as many stages as they like."""
    size = tuple(float(side) for side in instance["bin"])
    blanks = [
        Blank(f"P{i}", 1, float(a), float(b), turned) for i, (a, b) in enumerate(instance["items"])
    ]
    orders = [sorted(blanks, key=order, reverse=True) for order in ORDERS]
    fewest = min(len(guillotine.fill(o, size, rule)) for o in orders for rule in guillotine.RULES)
    if way == "free":
        fewest = min(
            fewest, *(len(free.fill(o, size, rule)) for o in orders for rule in free.RULES)
        )
    return fewest


@pytest.mark.benchmark
@pytest.mark.parametrize(("way", "turned"), WAYS)
def test_all_of_them(way, turned):
    pytest.importorskip("rectpack")
    totals: Counter[str] = Counter()
    above: list[tuple[str, int]] = []
    worse: list[tuple[str, int, int]] = []
    longest = 0.0
    for instance in INSTANCES:
        start = time.perf_counter()
        found, least = searched(instance, way, turned)
        longest = max(longest, time.perf_counter() - start)
        best, rules = instance["best"][key(way, turned)], ruled(instance, way, turned)
        totals += Counter(found=found, best=best, bound=least, rules=rules, proven=found == least)
        if found > best:
            above.append((instance["id"], found - best))
        # Nesting tries its own rules as well; they and rectpack cut in any number of stages.
        if found > rules and ruled_by_us(instance, way, turned) > rules:
            worse.append((instance["id"], found, rules))
    print(f"{key(way, turned)}: {dict(totals)} of {len(INSTANCES)}, longest {longest:.1f} s")
    print(f"above the best known: {above}; worse than the rules: {worse}")
    # Chance may leave one: c04_n080_07, turned, is one sheet worse with this seed, not with others.
    assert len(worse) <= 1
    assert all(by == 1 for _, by in above)
    assert totals["found"] <= WAYS[way, turned]
