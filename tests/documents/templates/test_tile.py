"""One tile: what stands on it, and that its texts lie clear of lines and each other."""

import dataclasses
import itertools

import pytest
from dossiers import NAMES, dossier, dossier_of, told_in

from fitout.documents.dossier import Dossier
from fitout.documents.paper.marks import PHANTOM, Arc, Mark, Stroke, Text
from fitout.documents.paper.room import apart, extent, lines_of, text_shape
from fitout.documents.templates.book import tiles_of
from fitout.documents.templates.sheet import Sheet
from fitout.documents.templates.tile import Tile, marks_of
from fitout.documents.wording import Wording

A4 = (Sheet(210.0, 297.0), Sheet(297.0, 210.0))


def made(one: Dossier) -> list[Tile]:
    found = tiles_of(one.cuts.cut_list.lines, A4, one.wording)
    return [tile for _, tiles in found.values() for tile in tiles]


def inner(marks: list[Mark], tile: Tile) -> list[Mark]:
    return [m for m in marks if getattr(m, "layer", "") != "TILE"]


@pytest.mark.parametrize("name", NAMES)
def test_each_hole_within_is_drawn_to_its_size_at_its_place(name: str) -> None:
    one = dossier(name)
    for tile in made(one):
        left, bottom, right, top = tile.cutting.span
        expected = {
            (round(h.x - left, 6), round(h.y - bottom, 6), h.diameter / 2.0)
            for h in tile.line.panel.holes
            if min(h.x - left, right - h.x, h.y - bottom, top - h.y) >= h.diameter / 2.0
        }
        drawn = {
            (round(m.centre[0], 6), round(m.centre[1], 6), m.radius)
            for m in marks_of(tile, one.wording)
            if isinstance(m, Arc) and m.layer == "HOLE"
        }
        assert drawn == expected


@pytest.mark.parametrize("name", NAMES)
def test_texts_lie_clear_of_lines_and_of_each_other(name: str) -> None:
    one = told_in(dossier(name), lengths="in", language="de")
    for tile in made(one):
        marks = inner(marks_of(tile, one.wording), tile)
        texts = [m for m in marks if isinstance(m, Text)]
        for a, b in itertools.combinations(texts, 2):
            assert apart(text_shape(a), text_shape(b)), (tile.name, a.text, b.text)
        for text in texts:
            for mark in marks:
                if isinstance(mark, Stroke | Arc):
                    shape = text_shape(text)
                    assert all(apart(shape, line) for line in lines_of(mark)), (
                        tile.name,
                        text.text,
                    )


@pytest.mark.parametrize("name", NAMES)
def test_nearly_every_hole_says_what_to_drill(name: str) -> None:
    one = dossier(name)
    holes = told = 0
    for tile in made(one):
        marks = marks_of(tile, one.wording)
        a, b, c, d = tile.cutting.span
        holes += sum(a <= h.x <= c and b <= h.y <= d for h in tile.line.panel.holes)
        told += sum(isinstance(m, Text) and m.text.startswith("ø") for m in marks)
    assert told == holes


def test_a_part_cut_larger_to_be_scribed_shows_the_line_to_come_down_to() -> None:
    design = dossier("canopy-tub").design
    cutting = dataclasses.replace(design.cutting, scribe_allowance=5.0)
    one = dossier_of(dataclasses.replace(design, cutting=cutting))
    scribed = [tile for tile in made(one) if tile.line.panel.scribe is not None]
    assert scribed
    lines = [
        mark
        for tile in scribed
        for mark in marks_of(tile, one.wording)
        if isinstance(mark, Stroke) and mark.layer == "CONTOUR"
    ]
    assert any(mark.pen == PHANTOM for mark in lines)


def test_the_head_says_where_to_lay_it_and_what_it_joins() -> None:
    one = dossier("small-hatch")
    tiles = {tile.name: " ".join(tile.head) for tile in made(one)}
    slides = [name for name in tiles if name.startswith("P05-")]
    assert len(slides) >= 2
    assert "left edge" in tiles[slides[0]]
    assert f"joins {slides[1]}" in tiles[slides[0]]
    assert "left side right" in tiles[slides[0]]


def test_words_beside_each_other_are_not_read_as_one() -> None:
    """Two crosses at one height: `220 | 170` and `250 | 170` must not run together."""
    seen = 0
    for tile in made(dossier("touring-wagon")):
        words = [m for m in inner(marks_of(tile, Wording()), tile) if isinstance(m, Text)]
        boxes = [extent([word]) for word in words]
        for a, b in itertools.combinations(boxes, 2):
            level = min(a[3], b[3]) - max(a[1], b[1]) > 0.5 * min(a[3] - a[1], b[3] - b[1])
            gap = max(a[0], b[0]) - min(a[2], b[2])
            if level and gap < 30.0:
                seen += 1
                assert gap > 1.9, tile.name
    assert seen > 10
