"""The demos' outputs under exports/ are what a build writes today.

`FITOUT_WRITE_EXPECTED=1 pytest tests/test_exports.py` writes them anew for review. The STEP
file is not kept: it is large, and its bytes follow the kernel's version.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from fitout import workflow
from fitout.documents.export import MANIFEST, write_folder

ROOT = Path(__file__).resolve().parent.parent
DESIGNS = sorted((ROOT / "designs").glob("*.yaml"))
NOT_KEPT = {"assembly.step"}


@pytest.fixture(params=DESIGNS, ids=lambda path: path.stem)
def design(request: pytest.FixtureRequest) -> Path:
    path: Path = request.param
    return path


def written(design: Path, folder: Path) -> dict[str, bytes]:
    """Every file of a fresh export, by its path in the folder."""
    target = folder / design.stem
    workflow.build(workflow.load(design), target, lambda _step: None)
    return {
        p.relative_to(target).as_posix(): p.read_bytes() for p in target.rglob("*") if p.is_file()
    }


def test_exports_are_current(design: Path, tmp_path: Path) -> None:
    fresh = written(design, tmp_path)
    kept_in = ROOT / "exports" / design.stem
    if os.environ.get("FITOUT_WRITE_EXPECTED"):
        contents = {name: data for name, data in fresh.items() if name != MANIFEST}
        write_folder(kept_in, dict(contents))
    kept = {p.relative_to(kept_in).as_posix(): p for p in kept_in.rglob("*") if p.is_file()}
    assert set(fresh) >= NOT_KEPT
    assert set(kept) - NOT_KEPT == set(fresh) - NOT_KEPT
    stale = [n for n in sorted(set(fresh) - NOT_KEPT) if kept[n].read_bytes() != fresh[n]]
    assert stale == []
