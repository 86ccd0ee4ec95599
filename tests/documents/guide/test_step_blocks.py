"""One step on paper: picture within its frame, text below each other."""

import pytest
from dossiers import dossier, told_in

from fitout.documents.drawings.exploded import balloon_numbers
from fitout.documents.guide.staging import Staging
from fitout.documents.guide.step_blocks import PICTURE, WIDTH, step_block, tool_words
from fitout.documents.paper.marks import Text
from fitout.documents.paper.room import extent


@pytest.fixture(scope="module")
def blocks():
    made = dossier("small-hatch")
    staging = Staging(made)
    numbers = {}
    for module in made.fitout.modules:
        numbers.update(balloon_numbers(made, module))
    return [(step, step_block(staging, step, numbers)) for step in made.steps]


def test_marks_lie_within_the_block(blocks):
    for _, block in blocks:
        left, bottom, right, top = extent(block.marks)
        assert left >= -0.01
        assert right <= WIDTH + 0.6
        assert top <= 0.01
        assert bottom >= -block.height - 0.01
        assert block.height >= PICTURE[1]


def test_a_step_tells_its_number_fasteners_and_what_comes_before(blocks):
    for step, block in blocks:
        texts = [mark.text for mark in block.marks if isinstance(mark, Text)]
        whole = " ".join(texts)
        assert str(step.number) in texts
        for article, count in step.fasteners:
            assert f"{count} × {article}".split()[0] in whole
        for number in step.after:
            assert str(number) in whole


def test_numbers_of_the_added_parts_stand_in_the_picture(blocks):
    made = dossier("small-hatch")
    step, block = next((s, b) for s, b in blocks if s.phase == "bench")
    shown = {m.text for m in block.marks if isinstance(m, Text) and m.layer == "BALLOON"}
    panels = [part for part in step.parts if part in made.numbers]
    assert {made.numbers[part] for part in panels} <= shown


def test_tools_are_told_in_the_builders_language():
    made = told_in(dossier("small-hatch"), language="de")
    assert tool_words(made, "driver, glue") == "Schraubendreher, Leim"
    assert tool_words(made, "ratchet from above") == "Ratsche von oben"
