"""Templates on paper as poppler paints it: holes lie where the part has them, tile by tile."""

import dataclasses
import math
from pathlib import Path

import numpy as np
import pytest
from dossiers import NAMES, dossier, told_in
from paper_seen import Grey, needs_poppler, painted

from fitout.documents.paper.marks import Page, Text
from fitout.documents.paper.pdf import pdf
from fitout.documents.templates.book import (
    filled_pages,
    template_pages,
    templates_pdf,
    tiles_of,
)
from fitout.documents.templates.crosses import crosses
from fitout.documents.templates.sheet import Sheet
from fitout.documents.templates.tile import Tile
from fitout.model.outline import Point

A4 = (Sheet(210.0, 297.0), Sheet(297.0, 210.0))
DPI = 300
PIXELS = DPI / 25.4


def middle(seen: Grey, at: Point, off: float) -> Point:
    """Where upright and level strokes through a point are, told from them `off` mm away from it."""
    height = seen.shape[0]

    def dark(x: float, y: float) -> float:
        """Darkness of the pixels within 0.7 mm, to the side where strokes lie across."""
        column, row = int(x * PIXELS), int(height - y * PIXELS)
        return 255.0 - float(seen[row, column])

    steps = np.arange(-0.7, 0.7, 0.25 / PIXELS)
    across = np.array([dark(at[0] + s, at[1] + off) for s in steps])
    along = np.array([dark(at[0] + off, at[1] + s) for s in steps])
    assert across.max() > 80.0
    assert along.max() > 80.0
    x = at[0] + float((steps * across).sum() / across.sum())
    y = at[1] + float((steps * along).sum() / along.sum())
    return x, y


def measured(seen: Grey, tile: Tile, corner: Point, words) -> list[tuple[Point, Point]]:
    """For each hole: where the part has it, and where it is by measuring from a cross on paper."""
    panel, span = tile.line.panel, tile.cutting.span
    mark = crosses(tile.cutting, panel, words)[0]

    def paper(point: Point) -> Point:
        return corner[0] + point[0] - span[0], corner[1] + point[1] - span[1]

    origin = middle(seen, paper(mark), 2.4)
    found = []
    for hole in panel.holes:
        if not (span[0] < hole.x - 3 and hole.x + 3 < span[2]):
            continue
        if not (span[1] < hole.y - 3 and hole.y + 3 < span[3]):
            continue
        x, y = middle(seen, paper((hole.x, hole.y)), max(hole.diameter / 2.0 + 1.5, 2.5) - 0.6)
        found.append(((hole.x, hole.y), (mark[0] + x - origin[0], mark[1] + y - origin[1])))
    return found


@needs_poppler
def test_holes_are_where_the_part_has_them_on_adjoining_tiles(tmp_path: Path) -> None:
    one = dossier("small-hatch")
    made = tiles_of(one.cuts.cut_list.lines, A4, one.wording)
    filled = filled_pages(made)
    maps = len(template_pages(one)) - len(filled)
    seen = painted(templates_pdf(one), tmp_path, DPI)[maps:]
    worst, holes, joined = 0.0, 0, 0
    for page, pixels in zip(filled, seen, strict=True):
        for tile, corner in page.placed:
            if not crosses(tile.cutting, tile.line.panel, one.wording):
                continue
            joined += tile.cutting.goes_on
            for real, found in measured(pixels, tile, corner, one.wording):
                holes += 1
                worst = max(worst, math.dist(real, found))
    print(f"worst {worst:.3f} mm of {holes} holes")
    assert joined >= 5
    assert holes >= 20
    assert worst <= 0.1


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_tiles_lie_on_their_pages_apart_from_each_other(name: str, paper: str) -> None:
    one = told_in(dossier(name), paper=paper)
    width, height = {"A4": (210.0, 297.0), "letter": (215.9, 279.4)}[paper]
    sheets = (Sheet(width, height), Sheet(height, width))
    made = tiles_of(one.cuts.cut_list.lines, sheets, one.wording)
    filled = filled_pages(made)
    names = [tile.name for page in filled for tile, _ in page.placed]
    assert sorted(names) == sorted(tile.name for _, tiles in made.values() for tile in tiles)
    for page in filled:
        boxes = []
        left, bottom = page.sheet.corner
        for tile, (x, y) in page.placed:
            wide, high = tile.size
            assert left - 1e-9 <= x
            assert x + wide <= left + page.sheet.room[0] + 1e-9
            assert bottom - 1e-9 <= y
            assert y + high <= bottom + page.sheet.room[1] + 1e-9
            assert all(x + wide <= a or c <= x or y + high <= b or d <= y for a, b, c, d in boxes)
            boxes.append((x, y, x + wide, y + high))


@pytest.mark.parametrize(("name", "most"), [("touring-wagon", 80), ("small-hatch", 22)])
def test_the_stack_of_paper_stays_small(name: str, most: int) -> None:
    one = dossier(name)
    pages = template_pages(one)
    with_tiles = tiles_of(one.cuts.cut_list.lines, A4, one.wording)
    assert len(pages) <= most
    assert len(pages) < 2 * len(with_tiles)


def test_alike_parts_have_one_template() -> None:
    one = dossier("small-hatch")
    made = tiles_of(one.cuts.cut_list.lines, A4, one.wording)
    assert all(number == tiles[0].line.number for number, (_, tiles) in made.items())
    texts = [m.text for page in template_pages(one) for m in page.marks if isinstance(m, Text)]
    assert "2 pieces" in texts


def test_no_part_gives_a_page_that_says_so() -> None:
    one = dossier("small-hatch")
    cuts = dataclasses.replace(
        one.cuts, cut_list=dataclasses.replace(one.cuts.cut_list, lines=(), bars=()), sheets=()
    )
    (page,) = template_pages(dataclasses.replace(one, cuts=cuts))
    assert any("No part needs" in m.text for m in page.marks if isinstance(m, Text))


def test_the_same_bytes_each_time() -> None:
    assert templates_pdf(dossier("small-hatch")) == templates_pdf(dossier("small-hatch"))
    assert pdf([Page(10.0, 10.0, ())], "x").startswith(b"%PDF-")
