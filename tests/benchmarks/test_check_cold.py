"""A check from a cold start against importing the CAD library alone, in processes of their own."""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

import pytest

from fitout.workflow import evaluate, load

ROOT = Path(__file__).parents[2]
DESIGN = ROOT / "designs" / "touring-wagon.yaml"
RUNS = 7

IMPORT = ["-c", "import cadquery"]
CHECK = ["-m", "fitout", "check", str(DESIGN), "--json"]


def spent(arguments: list[str]) -> tuple[float, str]:
    """Processor seconds of a fresh interpreter, and what it printed.

    Where the system does not count the processor time of children, the time by the clock.
    """
    before, start = os.times(), time.perf_counter()
    done = subprocess.run(
        [sys.executable, *arguments], cwd=ROOT, capture_output=True, encoding="utf-8", check=True
    )
    after, end = os.times(), time.perf_counter()
    used = after.children_user + after.children_system
    used -= before.children_user + before.children_system
    return used or end - start, done.stdout


@pytest.mark.benchmark
def test_check_against_importing_the_cad_library() -> None:
    spent(IMPORT)  # once before, so that neither side reads its files from a cold disk
    _, printed = spent(CHECK)
    fresh = evaluate(load(DESIGN)).as_object()
    assert json.loads(printed) == json.loads(json.dumps(fresh))
    times = {name: [0.0] * RUNS for name in ("check", "import")}
    for run in range(RUNS):
        times["check"][run] = spent(CHECK)[0]
        times["import"][run] = spent(IMPORT)[0]
    check, library = (statistics.median(times[name]) for name in ("check", "import"))
    print(
        f"\ncheck, cold: {check:.2f} s; import cadquery: {library:.2f} s; "
        f"ratio {check / library:.2f} (medians of {RUNS}, processor time)"
    )
