"""The demos' outputs under exports/ are what a build writes today.

`FITOUT_WRITE_EXPECTED=1 pytest tests/test_exports.py` writes them anew for review. Not kept are
the solids (STEP, GLB) and the drawing sheets as DXF: megabytes for each design, and the bytes of
the solids follow the kernel's version. PDF are compared by what their streams hold, since another
zlib packs the same otherwise.
"""

from __future__ import annotations

import base64
import os
import re
import zlib
from pathlib import Path

import pytest

from fitout import workflow
from fitout.documents.export import MANIFEST, write_folder

ROOT = Path(__file__).resolve().parent.parent
DESIGNS = sorted((ROOT / "designs").glob("*.yaml"))
NOT_KEPT = {"assembly.step", "assembly.glb"}

_STREAM = re.compile(rb"stream\r?\n(.*?)\r?\n?endstream", re.DOTALL)


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


def is_kept(name: str) -> bool:
    return name not in NOT_KEPT and not name.startswith("drawings/")


def unpacked(data: bytes) -> bytes:
    """A PDF without what packing decides: streams in the open, no lengths, no table of places,
    no word of letters that stand for the packed bytes."""

    def opened(stream: re.Match[bytes]) -> bytes:
        packed = stream[1]
        if packed.rstrip().endswith(b"~>"):
            packed = base64.a85decode(packed.rstrip()[:-2])
        # The last byte of its sum may have looked like the end of a line.
        return zlib.decompressobj().decompress(packed)

    text = _STREAM.sub(opened, data)
    return re.sub(rb"/Length1? \d+|/ASCII85Decode ", b"", text[: text.rfind(b"\nxref")])


def same(name: str, fresh: bytes, kept: bytes) -> bool:
    return fresh == kept or (name.endswith(".pdf") and unpacked(fresh) == unpacked(kept))


def test_exports_are_current(design: Path, tmp_path: Path) -> None:
    fresh = written(design, tmp_path)
    kept_in = ROOT / "exports" / design.stem
    if os.environ.get("FITOUT_WRITE_EXPECTED"):
        contents = {name: data for name, data in fresh.items() if name != MANIFEST}
        write_folder(kept_in, dict(contents))
    kept = {p.relative_to(kept_in).as_posix(): p for p in kept_in.rglob("*") if p.is_file()}
    assert set(fresh) >= NOT_KEPT
    wanted = set(filter(is_kept, fresh))
    assert set(filter(is_kept, kept)) == wanted
    stale = [n for n in sorted(wanted) if not same(n, fresh[n], kept[n].read_bytes())]
    assert stale == []


def test_a_pdf_packed_otherwise_is_the_same_and_one_with_another_word_is_not() -> None:
    def pdf(words: bytes, level: int) -> bytes:
        packed = base64.a85encode(zlib.compress(words, level)) + b"~>"
        head = b"%%PDF-1.4\n1 0 obj\n<< /Length %d >>\nstream\n" % len(packed)
        return head + packed + b"\nendstream\nendobj\nxref\n0 %d\n" % level

    words = b"the same words over and over " * 40
    assert pdf(words, 1) != pdf(words, 9)
    assert same("a.pdf", pdf(words, 1), pdf(words, 9))
    assert not same("a.pdf", pdf(words, 1), pdf(words + b"!", 1))
    assert not same("a.csv", pdf(words, 1), pdf(words, 9))
