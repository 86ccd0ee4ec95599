"""PDF of pages: exact size and place as an independent reader sees them, repeating bytes."""

import re
import zlib
from pathlib import Path

import numpy as np
import pytest
from poppler import MM_PER_INCH, dots, words

from fitout.documents.paper.fonts import POINTS
from fitout.documents.paper.marks import BLACK, WIDE, Arc, Area, Page, Pen, Stroke, Text, line
from fitout.documents.paper.pdf import pdf

DPI = 300
MM = MM_PER_INCH / DPI


def test_a_line_lies_where_it_was_put_and_is_as_wide(tmp_path: Path) -> None:
    page = Page(210.0, 297.0, (line((30.0, 100.0), (130.0, 100.0), Pen(1.0)),))
    seen = dots(pdf([page], "a line"), tmp_path, dpi=DPI) < 128
    rows, columns = np.nonzero(seen)
    assert seen.shape == pytest.approx((297.0 / MM, 210.0 / MM), abs=1.0)
    # Round ends reach half the width beyond the points.
    assert columns.min() * MM == pytest.approx(29.5, abs=0.1)
    assert (columns.max() + 1) * MM == pytest.approx(130.5, abs=0.1)
    assert 297.0 - rows.mean() * MM == pytest.approx(100.0, abs=0.1)
    assert (rows.max() - rows.min() + 1) * MM == pytest.approx(1.0, abs=0.1)


def test_areas_are_filled_by_the_even_odd_rule(tmp_path: Path) -> None:
    outer = ((10.0, 10.0), (50.0, 10.0), (50.0, 50.0), (10.0, 50.0))
    inner = ((20.0, 20.0), (40.0, 20.0), (40.0, 40.0), (20.0, 40.0))
    page = Page(60.0, 60.0, (Area((outer, inner), BLACK),))
    seen = dots(pdf([page], "areas"), tmp_path, dpi=DPI) < 128
    assert seen.sum() * MM**2 == pytest.approx(40.0**2 - 20.0**2, rel=5e-3)


def test_an_arc_runs_anticlockwise_from_its_start(tmp_path: Path) -> None:
    page = Page(60.0, 60.0, (Arc((30.0, 30.0), 20.0, 0.0, 90.0, WIDE),))
    rows, columns = np.nonzero(dots(pdf([page], "arc"), tmp_path, dpi=DPI) < 128)
    assert columns.min() * MM == pytest.approx(30.0, abs=0.3)
    assert 60.0 - rows.max() * MM == pytest.approx(30.0, abs=0.3)


def test_text_is_kept_as_text_and_is_as_high(tmp_path: Path) -> None:
    page = Page(100.0, 50.0, (Text((10.0, 10.0), "H × Ø 12", 10.0),))
    made = pdf([page], "text")
    assert "H × Ø 12" in words(made, tmp_path)
    rows, _ = np.nonzero(dots(made, tmp_path, dpi=DPI)[:, : int(17 / MM)] < 128)
    assert (rows.max() - rows.min() + 1) * MM == pytest.approx(10.0, abs=0.1)


def test_bytes_repeat_and_pages_have_names_and_sizes() -> None:
    pages = [
        Page(420.0, 297.0, (Stroke(((0.0, 0.0), (1.0, 1.0)), closed=True),), "first"),
        Page(210.0, 297.0, (Text((1.0, 1.0), "x", turned=90.0, anchor="middle"),)),
    ]
    made = pdf(pages, "two")
    assert made == pdf(pages, "two")
    assert made.count(b"/Type /Page\n") == 2
    assert b"/Helvetica" not in made


@pytest.mark.parametrize("value", [0.0, -4e-7, 0.5, -0.25, 1.0, 9.9999999, -841.889764, 1190.55])
def test_numbers_are_told_to_a_thousandth_of_a_point_at_least(value: float) -> None:
    page = Page(500.0, 500.0, (line((value / POINTS, 0.0), (0.0, 0.0)),))
    told = [row for row in unpacked(pdf([page], "numbers")) if row.endswith(b" l")]
    assert len(told) == 1
    number = told[0].split()[1]
    assert b"e" not in number
    assert float(number) == pytest.approx(value, abs=5e-4)


def unpacked(data: bytes) -> list[bytes]:
    """The rows of the page's operators."""
    packed = re.search(rb"stream\r?\n(.*?)endstream", data, re.DOTALL)
    assert packed is not None
    return zlib.decompressobj().decompress(packed[1]).split(b"\n")
