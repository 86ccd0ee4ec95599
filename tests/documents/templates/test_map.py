"""The map: every part with tiles, every tile's page, and every hole that lies on none."""

import pytest
from dossiers import NAMES, dossier, told_in

from fitout.documents.paper.marks import Page, Text
from fitout.documents.templates.book import template_pages, tiles_of
from fitout.documents.templates.map import unseen
from fitout.documents.templates.sheet import MARGIN, Sheet

A4 = (Sheet(210.0, 297.0), Sheet(297.0, 210.0))


def texts(page: Page) -> list[str]:
    return [mark.text for mark in page.marks if isinstance(mark, Text)]


@pytest.mark.parametrize("name", NAMES)
def test_a_tile_is_on_the_page_the_map_says(name: str) -> None:
    one = dossier(name)
    made = tiles_of(one.cuts.cut_list.lines, A4, one.wording)
    pages = template_pages(one)
    words = " ".join(text for page in pages for text in texts(page))
    for number, (_, tiles) in made.items():
        on = [
            i
            for i, page in enumerate(pages, start=1)
            if any(tile.name in texts(page) for tile in tiles)
        ]
        names = {tile.name for tile in tiles}
        assert names <= {text for page in pages for text in texts(page)}
        told = ", ".join(tile.cutting.name for tile in tiles)
        assert f"{told} on page {', '.join(map(str, on))}" in words, number


@pytest.mark.parametrize("name", NAMES)
def test_each_hole_is_on_a_tile_or_told_in_distances(name: str) -> None:
    one = dossier(name)
    for _, tiles in tiles_of(one.cuts.cut_list.lines, A4, one.wording).values():
        panel = tiles[0].line.panel
        spans = [tile.cutting.span for tile in tiles]
        hidden = [
            hole
            for hole in panel.holes
            if not any(s[0] <= hole.x <= s[2] and s[1] <= hole.y <= s[3] for s in spans)
        ]
        told = list(unseen(panel, tiles, one.wording))
        assert {line.split(":")[0] for line in told} == {
            one.wording.say("templates_drill", size=one.wording.length(h.diameter))
            if h.depth is None
            else one.wording.say(
                "templates_drill_deep",
                size=one.wording.length(h.diameter),
                depth=one.wording.length(h.depth),
            )
            for h in hidden
        }
        places = sum(
            len(row.split(": ")[-1].split(", ")) for line in told for row in line.split("; ")
        )
        assert places == len({(round(h.x, 1), round(h.y, 1), h.diameter) for h in hidden})


def test_the_steps_stand_first_in_the_builders_language() -> None:
    page = template_pages(told_in(dossier("small-hatch"), language="de"))[0]
    assert any("Originalgröße" in text for text in texts(page))
    assert {"1", "2", "3", "4", "5"} <= set(texts(page))


@pytest.mark.parametrize("name", NAMES)
def test_strips_stay_on_their_page(name: str) -> None:
    for page in template_pages(dossier(name)):
        for mark in page.marks:
            if isinstance(mark, Text):
                assert MARGIN <= mark.at[1] <= page.height - MARGIN


@pytest.mark.parametrize("name", NAMES)
def test_drilled_parts_without_a_tile_are_named(name: str) -> None:
    """No drilled part is forgotten: it has tiles, or the first page sends to its drawing."""
    one = dossier(name)
    made = tiles_of(one.cuts.cut_list.lines, A4, one.wording)
    words = " ".join(texts(template_pages(one)[0]))
    drilled = {line.number for line in one.cuts.cut_list.lines if line.panel.holes}
    told = words.partition("without a template: ")[2].partition(".")[0]
    assert set(told.split(", ")) == drilled - set(made)
    assert "the assembly guide tells their places" in words
