"""Exploded views: every part with its balloon and its row, nothing written on anything."""

import pytest
from dossiers import NAMES, dossier, told_in

from fitout.documents.drawings.exploded import balloon_numbers, exploded_sheets, part_rows
from fitout.documents.drawings.sketch import SPACE, TITLE_BLOCK
from fitout.documents.paper.marks import Text
from fitout.documents.paper.room import extent, overlaps


@pytest.mark.parametrize("entries", [{}, {"language": "de", "lengths": "in"}])
@pytest.mark.parametrize("name", NAMES)
def test_every_sheet_keeps_its_space_and_no_text_lies_on_anything(name, entries):
    for sheet in exploded_sheets(told_in(dossier(name), **entries)):
        left, bottom, right, top = extent(sheet.marks)
        assert left >= SPACE[0] - 0.01
        assert bottom >= SPACE[1] - 0.01
        assert right <= SPACE[2] + 0.01
        assert top <= SPACE[3] + 0.01
        assert overlaps(sheet.marks) == []
        for mark in sheet.marks:
            _, low, end, _ = extent([mark])
            assert end <= TITLE_BLOCK[0] + 0.1 or low >= TITLE_BLOCK[3] - 0.1, mark


@pytest.mark.parametrize("name", NAMES)
def test_every_number_of_a_module_has_a_balloon_and_a_row(name):
    made = dossier(name)
    by_module = {}
    for sheet in exploded_sheets(made):
        by_module.setdefault(sheet.module, []).extend(sheet.marks)
    for module in made.fitout.modules:
        numbers = set(balloon_numbers(made, module).values())
        balloons = {
            m.text for m in by_module[module.name] if isinstance(m, Text) and m.layer == "BALLOON"
        }
        rows = [row[0] for row in part_rows(made, module, balloon_numbers(made, module))]
        assert balloons == numbers
        assert sorted(rows) == sorted(numbers)


def test_quantities_add_up_to_all_parts():
    made = dossier("touring-wagon")
    for module in made.fitout.modules:
        rows = part_rows(made, module, balloon_numbers(made, module))
        assert sum(int(row[2]) for row in rows) == len(tuple(module.parts()))


def test_parts_carry_the_cut_lists_numbers():
    made = dossier("small-hatch")
    for module in made.fitout.modules:
        numbers = balloon_numbers(made, module)
        for panel in module.panels:
            assert numbers[panel.id] == made.numbers[panel.id]
