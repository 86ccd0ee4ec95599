"""The first sheet: contents however long, line types, what the drawings are not."""

import pytest

from fitout.documents.dossier import Dossier
from fitout.documents.drawings.cover import KEY, Entry, cover_sheets
from fitout.documents.paper.marks import Stroke, Text
from fitout.documents.paper.room import overlaps


@pytest.mark.parametrize("count", [0, 1, 60, 300])
def test_any_number_of_pages_is_listed(small: Dossier, count: int) -> None:
    entries = [Entry(i, f"Sheet {i}", f"P{i}", "1:5") for i in range(1, count + 1)]
    found = cover_sheets(small, entries)
    told = [m.text for sheet in found for m in sheet.marks if isinstance(m, Text)]
    assert all(f"Sheet {i}" in told for i in range(1, count + 1))
    assert all(overlaps(sheet.marks) == [] for sheet in found)
    assert (len(found) > 1) is (count == 300)


def test_the_key_shows_each_line_type_as_it_is_drawn(small: Dossier) -> None:
    (cover,) = cover_sheets(small, [])
    shown = [m.pen for m in cover.marks if isinstance(m, Stroke) and m.layer == "KEY"]
    assert shown == [pen for pen, _ in KEY]
    told = " ".join(m.text for m in cover.marks if isinstance(m, Text))
    assert "no approval under any regulation" in told


def test_contents_of_a_usual_book_are_one_list(small: Dossier) -> None:
    entries = [Entry(i, f"Sheet {i}", f"P{i}", "1:5") for i in range(2, 52)]
    (cover,) = cover_sheets(small, entries)
    told = [m.text for m in cover.marks if isinstance(m, Text)]
    assert told.count("Contents") == 1


def test_inches_are_told_to_be_rounded(small: Dossier, foreign: Dossier) -> None:
    for made, there in ((small, False), (foreign, True)):
        (cover,) = cover_sheets(made, [])
        told = " ".join(m.text for m in cover.marks if isinstance(m, Text))
        assert ("1/32" in told) is there
