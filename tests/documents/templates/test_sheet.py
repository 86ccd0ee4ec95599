"""Rulers of 100 mm on paper as poppler paints it; what stands above the tiles fits."""

import itertools
from pathlib import Path

import numpy as np
import pytest
from paper_seen import Grey, needs_poppler, painted

from fitout.documents.paper.fonts import text_width
from fitout.documents.paper.marks import Page, Text
from fitout.documents.paper.pdf import pdf
from fitout.documents.templates.sheet import MARGIN, RULER, RULER_ROOM, Sheet, furniture
from fitout.model.documents import PAPERS

DPI = 300
PIXELS = DPI / 25.4


def strokes(values: Grey) -> list[float]:
    """Middles of the dark runs along a line of pixels, mm."""
    dark = np.concatenate([[False], values < 128, [False]])
    edges = np.flatnonzero(dark[1:] != dark[:-1])
    return [float(a + b) / 2.0 / PIXELS for a, b in zip(edges[::2], edges[1::2], strict=True)]


@needs_poppler
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("lying", [False, True])
def test_both_rulers_are_100_mm_long(paper: str, lying: bool, tmp_path: Path) -> None:
    size = PAPERS[paper][::-1] if lying else PAPERS[paper]
    sheet = Sheet(*size)
    page = Page(*size, tuple(furniture(sheet, "A title", "Print at 100 %", "1 of 1")))
    (seen,) = painted(pdf([page], "t"), tmp_path, DPI)
    # Only the strokes at 0, 50 and 100 reach so far from the ruler's line.
    row = seen[round((size[1] - MARGIN - 4.0 - 2.8) * PIXELS), round((MARGIN + 6.0) * PIXELS) :]
    column = seen[: round((size[1] - MARGIN) * PIXELS), round((MARGIN + 4.0 - 2.8) * PIXELS)]
    column = column[round((MARGIN + 10.0) * PIXELS) :]
    for ends in (strokes(row), strokes(column)):
        assert len(ends) == 3
        assert ends[2] - ends[0] == pytest.approx(RULER, abs=0.1)
        assert ends[1] - ends[0] == pytest.approx(RULER / 2.0, abs=0.1)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_head_fits_above_the_tiles(paper: str) -> None:
    sheet = Sheet(*PAPERS[paper])
    advice = "Mit 100 % drucken (Originalgröße). Beide Maßstäbe müssen 100 mm messen."
    head = [
        mark
        for mark in furniture(sheet, "A very long name of a design " * 4, advice, "120 von 120")
        if isinstance(mark, Text) and mark.layer != "RULER"
    ]
    spans = []
    for mark in head:
        width = text_width(mark.text, mark.height, bold=mark.bold)
        left = mark.at[0] - (width if mark.anchor == "right" else 0.0)
        spans.append((left, left + width))
        assert mark.at[1] >= sheet.corner[1] + sheet.room[1]
    spans.sort()
    assert spans[0][0] >= MARGIN
    assert spans[-1][1] <= sheet.width - MARGIN + 1e-9
    assert all(a[1] < b[0] for a, b in itertools.pairwise(spans))
    assert sheet.corner[0] == MARGIN + RULER_ROOM
