"""Killed at any moment, a build loses nothing, and the next one clears up after it."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from fitout.documents.export import MANIFEST, check_target, write_folder
from fitout.documents.staging import LOCK, OLD, clear_left_over, staging

ROOT = Path(__file__).parents[2]

BUILDER = """
import sys, time
from pathlib import Path
from fitout.documents.export import write_folder
target, moment = Path(sys.argv[1]), sys.argv[2]
rename, write = Path.rename, Path.write_bytes

def here(*_):
    print("here", flush=True)
    time.sleep(60)

def slow(self, content):
    write(self, content)
    if self.name == "P01.dxf" and moment == "writing":
        here()

def renamed(self, to):
    if self.name == "new" and moment == "between":
        here()
    rename(self, to)
    if self.name == "new" and moment == "after":
        here()

Path.rename, Path.write_bytes = renamed, slow
files = {"a.csv": b"2", "parts/P01.dxf": b"2"}
write_folder(target, files, here if moment == "verifying" else None)
"""


def killed(target: Path, moment: str) -> None:
    """A build of `target` that is killed at that moment."""
    with subprocess.Popen(
        [sys.executable, "-c", BUILDER, str(target), moment], stdout=subprocess.PIPE, cwd=ROOT
    ) as builder:
        assert builder.stdout is not None
        assert builder.stdout.readline().strip() == b"here"
        builder.kill()


def tree(folder: Path) -> dict[str, bytes]:
    return {
        p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()
    }


@pytest.mark.parametrize("moment", ["writing", "verifying", "between", "after"])
def test_killed_at_any_moment_nothing_is_lost(tmp_path: Path, moment: str) -> None:
    target = tmp_path / "design"
    write_folder(target, {"a.csv": b"1"})
    former = tree(target)
    killed(target, moment)
    assert len(list(tmp_path.iterdir())) == (1 if moment == "between" else 2)
    clear_left_over(target)
    assert [p.name for p in tmp_path.iterdir()] == ["design"]
    if moment == "after":
        assert set(tree(target)) == {"a.csv", "parts/P01.dxf", MANIFEST}
    else:
        assert tree(target) == former
    killed(target, moment)
    write_folder(target, {"a.csv": b"3"})
    assert tree(target)["a.csv"] == b"3"
    assert [p.name for p in tmp_path.iterdir()] == ["design"]


def test_a_first_build_that_is_killed_leaves_no_export(tmp_path: Path) -> None:
    killed(tmp_path / "design", "writing")
    assert not (tmp_path / "design").exists()
    check_target(tmp_path / "design")
    assert list(tmp_path.iterdir()) == []


def test_what_another_build_is_at_work_in_is_left_alone(tmp_path: Path) -> None:
    target = tmp_path / "design"
    with staging(target) as folder:
        (folder / "new").mkdir()
        write_folder(target, {"a.csv": b"1"})
        assert (folder / "new").is_dir()
    assert [p.name for p in tmp_path.iterdir()] == ["design"]


def test_what_is_not_ours_or_meant_for_another_target_is_left_alone(tmp_path: Path) -> None:
    theirs, other = tmp_path / ".design-notes", tmp_path / ".design-abcdefgh"
    theirs.mkdir()
    (theirs / "notes.txt").write_text("mine", encoding="utf-8")
    other.mkdir()
    (other / LOCK).write_text("design-b", encoding="utf-8")
    young, old = tmp_path / ".design-young", tmp_path / ".design-old"
    for folder in (young, old):
        folder.mkdir()
    hour_ago = time.time() - 3600.0
    os.utime(old, (hour_ago, hour_ago))
    clear_left_over(tmp_path / "design")
    assert sorted(p.name for p in tmp_path.iterdir()) == sorted(
        [theirs.name, other.name, young.name]
    )
    clear_left_over(tmp_path / "missing" / "design")


def test_a_former_export_is_put_back_only_where_there_is_none(tmp_path: Path) -> None:
    target, left = tmp_path / "design", tmp_path / ".design-abcdefgh"
    (left / OLD).mkdir(parents=True)
    (left / OLD / "a.csv").write_bytes(b"former")
    (left / LOCK).write_text("design", encoding="utf-8")
    clear_left_over(target)
    assert tree(target) == {"a.csv": b"former"}
    (left / OLD).mkdir(parents=True)
    (left / OLD / "a.csv").write_bytes(b"older")
    (left / LOCK).write_text("design", encoding="utf-8")
    clear_left_over(target)
    assert tree(target) == {"a.csv": b"former"}
    assert not left.exists()


@pytest.mark.parametrize("name", ["x" * 200, "Ünï 🚐", "two  words", "a'quote"])
def test_any_name_a_folder_can_have_will_do(tmp_path: Path, name: str) -> None:
    target = tmp_path / name
    write_folder(target, {"a.csv": b"1"})
    killed(target, "writing")
    write_folder(target, {"a.csv": b"2"})
    assert [p.name for p in tmp_path.iterdir()] == [name]
