"""The book: nothing lies on anything on any page of any demo; files that others read; bytes."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from pathlib import Path

import ezdxf
import pytest
from poppler import words

from fitout.documents.dossier import Dossier
from fitout.documents.drawings.book import drawings_dxf, drawings_pages, drawings_pdf
from fitout.documents.drawings.sketch import TITLE_BLOCK, TITLE_HEIGHT, TITLE_WIDTH
from fitout.documents.paper.frame import MARGIN, MARGIN_LEFT, TITLE
from fitout.documents.paper.marks import Page, Stroke, Text
from fitout.documents.paper.room import apart, extent, lines_of, overlaps, text_shape
from fitout.documents.wording import table

ROOT = Path(__file__).parents[3]


def test_no_text_lies_on_a_text_or_a_line(book: tuple[Page, ...]) -> None:
    found = [f"{page.name}: {fault}" for page in book for fault in overlaps(page.marks)]
    assert found == []


def test_a_dimension_moved_onto_an_outline_is_found(book: tuple[Page, ...]) -> None:
    """The test above would see it: of every part drawing one dimension is moved on purpose."""
    tried = 0
    for page in book:
        lines = [m for m in page.marks if isinstance(m, Stroke) and m.layer == "OUTLINE"]
        texts = [m for m in page.marks if isinstance(m, Text) and m.layer == "DIMENSION"]
        if "parts" not in page.name or not texts:
            continue
        (ax, ay), (bx, by) = lines[0].points[:2]
        there = Text(((ax + bx) / 2.0, (ay + by) / 2.0 - 1.0), texts[0].text, layer="DIMENSION")
        marks = tuple(there if mark is texts[0] else mark for mark in page.marks)
        assert overlaps(marks), page.name
        tried += 1
    assert tried > 3


def test_every_mark_lies_in_the_frame_and_clear_of_the_title_block(book: tuple[Page, ...]) -> None:
    assert (TITLE_WIDTH, TITLE_HEIGHT) == TITLE
    left, bottom = TITLE_BLOCK[0] + MARGIN_LEFT, MARGIN
    right, top = TITLE_BLOCK[2] + MARGIN_LEFT, TITLE_BLOCK[3] + MARGIN
    block = ((left, bottom), (right, bottom), (right, top), (left, top))
    for page in book:
        assert extent(page.marks) == pytest.approx((15.0, 5.0, 415.0, 292.0), abs=0.01)
        own = [mark for mark in page.marks if mark.layer not in ("FRAME", "TITLE")]
        x0, y0, x1, y1 = extent(own)
        assert x0 >= MARGIN_LEFT
        assert y0 >= MARGIN
        assert x1 <= 410.0
        assert y1 <= 287.0
        shapes = [(m, s) for m in own for s in lines_of(m)]
        shapes += [(m, text_shape(m)) for m in own if isinstance(m, Text)]
        assert [m for m, shape in shapes if not apart(shape, block)] == [], page.name


def test_the_contents_list_every_page_that_follows(book: tuple[Page, ...]) -> None:
    told = [mark.text for mark in book[0].marks if isinstance(mark, Text)]
    for i in range(2, len(book) + 1):
        assert f"{i}" in told
    pages = [[m.text for m in page.marks if isinstance(m, Text)] for page in book]
    for i, texts in enumerate(pages, start=1):
        assert f"{i} of {len(book)}" in texts


def test_the_cover_says_it_is_no_approval(book: tuple[Page, ...]) -> None:
    told = " ".join(mark.text for mark in book[0].marks if isinstance(mark, Text))
    assert "no approval under any regulation" in told
    assert "Local codes" in told


def test_poppler_reads_every_page_and_every_part(demo: Dossier, tmp_path: Path) -> None:
    pages = drawings_pages(demo)
    told = words(drawings_pdf(demo, pages), tmp_path)
    assert told.count("\f") == len(pages)
    for line in demo.cuts.cut_list.lines:
        assert line.number in told
        assert demo.wording.length(line.length) in told
        assert demo.wording.length(line.width) in told
    for line in demo.cuts.cut_list.bars:
        assert line.number in told


def test_ezdxf_and_gdal_read_each_sheet(small: Dossier, tmp_path: Path) -> None:
    pyogrio = pytest.importorskip("pyogrio")
    pages = drawings_pages(small)
    files = drawings_dxf(small, pages)
    assert len(files) == len(pages)
    for path, content in files.items():
        assert path.startswith("drawings/")
        read = ezdxf.read(io.StringIO(content.decode("cp1252")))
        found = read.audit()
        assert (found.errors, found.fixes) == ([], [])
        assert read.header["$INSUNITS"] == 4
        (tmp_path / "one.dxf").write_bytes(content)
        _, bounds = pyogrio.read_bounds(tmp_path / "one.dxf")
        assert (bounds[0].min(), bounds[1].min()) == pytest.approx((15.0, 5.0), abs=0.01)
        assert (bounds[2].max(), bounds[3].max()) == pytest.approx((415.0, 292.0), abs=0.01)


def test_in_german_and_inches_nothing_overlaps_and_no_english_is_left(foreign: Dossier) -> None:
    pages = drawings_pages(foreign)
    assert [fault for page in pages for fault in overlaps(page.marks)] == []
    told = {mark.text for page in pages for mark in page.marks if isinstance(mark, Text)}
    assert {"Benennung", "J. Müller", "in"} <= told
    length = foreign.wording.length(foreign.cuts.cut_list.lines[0].length)
    assert length in told
    english = {
        texts["en"] for texts in table().values()
        if texts["en"] != texts["de"] and len(texts["en"]) > 12 and "{" not in texts["en"]
    }  # fmt: skip
    assert told & english == set()


def test_hostile_names_are_drawn_as_they_are(hostile: Dossier, tmp_path: Path) -> None:
    pages = drawings_pages(hostile)
    assert [fault for page in pages for fault in overlaps(page.marks)] == []
    made = drawings_pdf(hostile, pages)
    assert "</script>" in words(made, tmp_path)
    assert all(path.count("/") == 1 for path in drawings_dxf(hostile, pages))


@pytest.mark.thorough
def test_bytes_repeat_over_processes_and_hash_seeds() -> None:
    script = (
        "import hashlib, sys; sys.path.insert(0, 'tests/support');"
        "from dossiers import dossier;"
        "from fitout.documents.drawings.book import *;"
        "d = dossier('small-hatch'); pages = drawings_pages(d);"
        "made = [drawings_pdf(d, pages), *drawings_dxf(d, pages).values()];"
        "print([hashlib.sha256(one).hexdigest() for one in made])"
    )
    told = {
        subprocess.run(
            [sys.executable, "-c", script], check=True, capture_output=True, text=True, cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(sys.path)},
        ).stdout
        for seed in ("1", "2")
    }  # fmt: skip
    assert len(told) == 1
