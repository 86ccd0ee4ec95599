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


@pytest.mark.parametrize("name", NAMES)
def test_sizes_are_told_as_in_the_cut_list(name):
    """The length of a panel lies along the grain on its drawing; here it must too."""
    made = dossier(name)
    sizes = {
        row[0]: row[3]
        for module in made.fitout.modules
        for row in part_rows(made, module, balloon_numbers(made, module))
    }
    for line in made.cuts.cut_list.lines:
        told = (made.wording.length(one) for one in (line.length, line.width, line.thickness))
        assert sizes[line.number] == " x ".join(told)


def test_what_is_bought_by_the_metre_says_so():
    made = dossier("canopy-tub")
    (sheet,) = (s for s in exploded_sheets(made) if s.module == "tank")
    words = [m.text for m in sheet.marks if isinstance(m, Text)]
    assert words[words.index("hose 12") - 1] == "2 m"
    assert words[words.index("hose clip 12") - 1] == "2"
