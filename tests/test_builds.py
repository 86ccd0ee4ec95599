"""Whole builds: the same bytes each time, nothing half-written, whatever names and wishes say."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from hostile import BREAKS, DESIGN

from fitout import workflow
from fitout.documents.export import MANIFEST

ROOT = Path(__file__).resolve().parent.parent

EMPTY = """fitout: 1
name: A tank and no more
bay:
  sections:
    - {at: 0, widths: {0: 1046, 240: 1058, 620: 1012}, roof: 846}
    - {at: 1040, widths: {0: 1064, 240: 1070, 620: 1024}, roof: 868}
  seat_back: {foot: 1064, leans: 0 deg, top: 612}
  tailgate: {inner_face: {0: 0, 800: 165}, opens: upwards}
  opening: {height: 772, widths: {0: 1004, 772: 918}}
"""
BOLTS = """  anchors:
    - {name: 1, at: [987, -293], below: clear}
    - {name: 2, at: [987, 247], below: clear}
    - {name: 3, at: [1033, -293], below: clear}
    - {name: 4, at: [1033, 247], below: clear}
"""
TANK = f"""{EMPTY}{BOLTS}items:
  can: {{size: 92 x 620 x 180, mass: 1.9 kg, holds: 12 l, tap: {{side: left, height: 20}}}}
modules:
  tank: {{kind: water tank, item: can}}
"""
"""A quick build: four panels, one item."""

HOSTILE_BOLTS = "  anchors:\n" + "".join(
    f"    - {{name: {x} {y}, at: [{x}, {y}], below: clear}}\n"
    for x, y in (
        (78, 52), (78, 372), (1092, 52), (1092, 372), (71, -382), (71, -42), (601, -382), (601, -42)
    )
)  # fmt: skip

EVERYTHING = {
    "assembly.csv", "assembly.glb", "assembly.pdf", "assembly.step", "bill.csv", "cutlist.csv",
    "drawings.pdf", "findings.json", "hardware.csv", "labels.pdf", "nesting.csv", "report.html",
    "templates.pdf", MANIFEST,
}  # fmt: skip


def build(design: Path, out: Path, seed: int = 0, before: str = "") -> subprocess.CompletedProcess:
    """`fitout build` in a process of its own, after some lines of Python.

    With the seed of hashes the time zone changes.
    """
    program = f"import sys\n{before}\nfrom fitout.cli import main\nsys.exit(main(sys.argv[1:]))"
    environment = os.environ | {
        "PYTHONHASHSEED": str(seed),
        "PYTHONPATH": str(ROOT),
        "TZ": "UTC" if seed < 2 else "Pacific/Auckland",
    }
    return subprocess.run(
        [sys.executable, "-c", program, "build", str(design), "--out", str(out)],
        capture_output=True, env=environment, encoding="utf-8", cwd=out.parent, check=False,
    )  # fmt: skip


def tree(folder: Path) -> dict[str, bytes]:
    return {
        p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()
    }


@pytest.fixture(scope="module")
def tank(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("design") / "tank.yaml"
    path.write_text(TANK, encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def built(tank: Path) -> Path:
    """An export of the quick design."""
    done = build(tank, tank.parent / "out", seed=1)
    assert done.returncode == 0, done.stderr
    return tank.parent / "out"


@pytest.fixture
def former(built: Path, tmp_path: Path) -> Path:
    """A copy of it that a test may build over."""
    shutil.copytree(built, tmp_path / "out")
    return tmp_path / "out"


def test_a_build_writes_every_document(built: Path) -> None:
    names = set(tree(built))
    assert names >= EVERYTHING
    assert {"parts/P01.dxf", "sheets/S01.dxf"} <= names
    assert any(name.startswith("drawings/") for name in names)
    assert set(json.loads((built / MANIFEST).read_text(encoding="utf-8"))["files"]) == names - {
        MANIFEST
    }


def test_two_processes_of_other_hash_seeds_folders_and_zones_write_the_same_bytes(
    tank: Path, built: Path, tmp_path: Path
) -> None:
    done = build(tank, tmp_path / "again", seed=99)
    assert done.returncode == 0, done.stderr
    first, second = tree(built), tree(tmp_path / "again")
    assert set(first) == set(second)
    assert [name for name in sorted(first) if first[name] != second[name]] == []


@pytest.mark.thorough
@pytest.mark.parametrize("name", ["touring-wagon", "small-hatch", "canopy-tub"])
def test_the_demos_are_the_same_bytes_each_time(name: str, tmp_path: Path) -> None:
    design = ROOT / "designs" / f"{name}.yaml"
    for seed in (1, 4711):
        done = build(design, tmp_path / str(seed), seed)
        assert done.returncode == 0, done.stderr
    first, second = tree(tmp_path / "1"), tree(tmp_path / "4711")
    assert set(first) == set(second)
    assert [name for name in sorted(first) if first[name] != second[name]] == []


@pytest.mark.parametrize(
    "step",
    [
        "writing",
        *(pytest.param(s, marks=pytest.mark.thorough) for s in ("checking", "making drawings",
          "making assembly.step", "reading the cut files back")),
    ],
)  # fmt: skip
def test_killed_while_building_the_former_export_stays(tank: Path, former: Path, step: str) -> None:
    before = tree(former)
    command = [sys.executable, "-m", "fitout", "build", str(tank), "--out", str(former)]
    environment = os.environ | {"PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "utf-8"}
    with subprocess.Popen(
        command, stderr=subprocess.PIPE, encoding="utf-8", env=environment, cwd=former.parent
    ) as builder:
        assert builder.stderr is not None
        for line in builder.stderr:
            if step in line:
                builder.kill()
    if former.exists():
        assert tree(former) == before
    done = build(tank, former)
    assert done.returncode == 0, done.stderr
    assert tree(former) == before
    assert [p.name for p in former.parent.iterdir()] == ["out"]


def test_a_missing_font_is_told_and_leaves_the_former_export(tank: Path, former: Path) -> None:
    before = tree(former)
    done = build(tank, former, before="import reportlab\nreportlab.__file__ = '/nowhere/x.py'")
    assert done.returncode == 1
    assert "fitout: The font Vera.ttf that comes with reportlab can't be read" in done.stderr
    assert "Traceback" not in done.stderr
    assert tree(former) == before
    assert [p.name for p in former.parent.iterdir()] == ["out"]


def test_a_folder_that_cannot_be_written_is_told_before_anything_is_worked_out(
    tank: Path, tmp_path: Path
) -> None:
    (tmp_path / "file").write_bytes(b"")
    done = build(tank, tmp_path / "file")
    assert done.returncode == 1
    assert "is not a folder, so it was left as it is" in done.stderr
    assert "checking" not in done.stderr
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "notes.txt").write_bytes(b"mine")
    done = build(tank, tmp_path / "mine")
    assert "was not written by fitout" in done.stderr
    assert tree(tmp_path / "mine") == {"notes.txt": b"mine"}


def test_a_design_without_modules_is_written_too(tmp_path: Path) -> None:
    path = tmp_path / "empty.yaml"
    path.write_text(f"{EMPTY}modules: {{}}\n", encoding="utf-8")
    evaluation = workflow.build(workflow.load(path), tmp_path / "out", str)
    assert evaluation.totals["panels"] == 0
    assert set(tree(tmp_path / "out")) >= EVERYTHING


def test_names_that_try_to_break_out_end_as_text(tmp_path: Path) -> None:
    path = tmp_path / "hostile.yaml"
    path.write_text(DESIGN.replace("items:\n", f"{HOSTILE_BOLTS}items:\n", 1), encoding="utf-8")
    out = tmp_path / "درج 'q' \u202e 🚐"
    workflow.build(workflow.load(path), out, str)
    files = tree(out)
    assert set(files) >= EVERYTHING
    assert all(name.isascii() for name in files)
    assert BREAKS.encode() not in files["report.html"]
    for name, data in files.items():
        if name.endswith((".dxf", ".step")):
            assert data.isascii() or name.startswith("drawings/"), name
        if name.endswith((".csv", ".json", ".svg", ".html")):
            data.decode("utf-8")
    assert json.loads(files["findings.json"])["design"] == BREAKS
