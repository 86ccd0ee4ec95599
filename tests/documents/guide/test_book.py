"""The whole guide: every step once, all fasteners, the same bytes, any name."""

import dataclasses
import io
from collections import Counter

import pytest
from dossiers import NAMES, dossier, told_in

from fitout.documents.guide.book import assembly_pages, assembly_pdf
from fitout.documents.paper.marks import WHITE, Text
from fitout.documents.paper.room import extent


def words(pages):
    return [mark.text for page in pages for mark in page.marks if isinstance(mark, Text)]


@pytest.mark.parametrize("name", NAMES)
def test_every_step_is_there_and_pages_are_of_the_chosen_paper(name):
    made = dossier(name)
    pages = assembly_pages(made)
    told = words(pages)
    for step in made.steps:
        assert str(step.number) in told
    assert {(page.width, page.height) for page in pages} == {(210.0, 297.0)}
    letter = assembly_pages(told_in(made, paper="letter"))
    assert {(page.width, page.height) for page in letter} == {(215.9, 279.4)}
    for page in letter:
        _, low, right, top = extent(page.marks)
        assert low > 8.0
        assert right < 215.9 - 8.0
        assert top < 279.4 - 8.0
    assert any("no approval" in word for word in told)
    assert "Before you drive" in told


def test_the_first_page_counts_every_fastener():
    made = dossier("touring-wagon")
    counted = Counter()
    for step in made.steps:
        for article, count in step.fasteners:
            counted[article] += count
    wanted = Counter()
    slides = {duty.slide.key for module in made.fitout.modules for duty in module.slides}
    for line in made.hardware:
        if line.article not in slides:  # told among the parts
            wanted[line.article] += line.quantity
    assert counted == wanted
    told = words(assembly_pages(made)[:2])
    for article, count in counted.items():
        assert article in told
        assert str(count) in told


def test_german_has_no_english_headings():
    told = words(assembly_pages(told_in(dossier("small-hatch"), language="de")))
    assert "Zusammenbau und Einbau" in told
    assert "Bevor Sie fahren" in told
    assert not {"Parts", "Tool", "Fasteners", "On the bench"} & set(told)


def test_the_same_bytes_each_time():
    made = dossier("canopy-tub")
    assert assembly_pdf(made) == assembly_pdf(made)


def test_any_name_is_drawn():
    made = dossier("canopy-tub")
    name = 'A "very" <b>long</b> \u202eשלום 🚐 name ' * 6
    design = dataclasses.replace(made.design, name=name)
    data = assembly_pdf(dataclasses.replace(made, design=design))
    assert io.BytesIO(data).read(5) == b"%PDF-"


def test_without_steps_there_are_still_a_first_and_a_last_page():
    made = dataclasses.replace(dossier("canopy-tub"), steps=())
    assert len(assembly_pages(made)) == 2


def test_letter_paper_holds_as_many_steps_of_usual_height_as_a4():
    """Each step's number is white on a black disc."""
    made = dossier("canopy-tub")
    counts = []
    for paper in ("A4", "letter"):
        texts = [[m for m in p.marks if isinstance(m, Text)]
                 for p in assembly_pages(told_in(made, paper=paper))]  # fmt: skip
        counts.append(max(sum(m.colour == WHITE for m in page) for page in texts))
    assert counts == [3, 3]
