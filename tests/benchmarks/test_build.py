"""A whole build against a script that only builds the same solids and writes them as STEP.

Both run in processes of their own, the imports included; the script is given the parts ready
made, so it measures and checks nothing. By the clock, since a build makes its documents in several
processes where there are cores for them, and by all processor time that was spent.
"""

from __future__ import annotations

import os
import pickle
import statistics
import subprocess
import sys
import time
from pathlib import Path

import pytest

from fitout.workflow import evaluate, load

ROOT = Path(__file__).parents[2]
DESIGN = ROOT / "designs" / "touring-wagon.yaml"
RUNS = 3

SCRIPT = """
import pickle, sys
import cadquery
from fitout.documents.solids import solid_of
assembly = cadquery.Assembly(name="wagon")
with open(sys.argv[1], "rb") as file:
    for part in pickle.load(file):
        shape = cadquery.Shape.cast(solid_of(part))
        assembly.add(shape, name=part.id.replace("/", " "))
assembly.export(sys.argv[2])
"""


def spent(arguments: list[str]) -> tuple[float, float]:
    """Seconds by the clock and of all processors for a fresh interpreter and what it starts."""
    before, start = os.times(), time.perf_counter()
    subprocess.run([sys.executable, *arguments], cwd=ROOT, capture_output=True, check=True)
    after, end = os.times(), time.perf_counter()
    used = after.children_user + after.children_system
    return end - start, used - before.children_user - before.children_system


@pytest.mark.benchmark
def test_build_against_a_script_that_writes_step(tmp_path: Path) -> None:
    parts, step, out = tmp_path / "parts", tmp_path / "wagon.step", tmp_path / "out"
    evaluation = evaluate(load(DESIGN))
    parts.write_bytes(pickle.dumps(list(evaluation.fitout.parts())))
    script = ["-c", SCRIPT, str(parts), str(step)]
    build = ["-m", "fitout", "build", str(DESIGN), "--out", str(out)]
    runs = [(spent(build), spent(script)) for _ in range(RUNS)]
    names = (out / "assembly.step").read_text(encoding="utf-8")
    assert all(f"'{part.id}'" in names for part in evaluation.fitout.parts())
    assert step.stat().st_size > 100_000
    for what, column in (("by the clock", 0), ("of all processors", 1)):
        ours, theirs = (statistics.median(run[who][column] for run in runs) for who in (0, 1))
        print(
            f"\n{what}: build, every file, {ours:.2f} s; script, STEP only, {theirs:.2f} s; "
            f"ratio {ours / max(theirs, 1e-9):.2f} (medians of {RUNS})"
        )
