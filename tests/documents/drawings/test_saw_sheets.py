"""Saw sequences: the cuts of a material in the order in which all its sheets are sawn."""

import csv
import io

import pytest
from dossiers import told_in

from fitout.cutting.sequence import saw_order
from fitout.documents.dossier import Dossier
from fitout.documents.drawings.cutting_sheets import cutting_sheets
from fitout.documents.drawings.saw_sheets import sequence_sheets
from fitout.documents.drawings.sketch import SPACE, TITLE_BLOCK
from fitout.documents.paper.marks import Text
from fitout.documents.paper.room import extent, overlaps
from fitout.documents.tables import saw_csv


def _words(made: Dossier) -> list[str]:
    sheets = sequence_sheets(saw_order(made.cuts), made)
    return [m.text for sheet in sheets for m in sheet.marks if isinstance(m, Text)]


def test_steps_are_those_of_the_table_that_is_written_beside(sawn: Dossier) -> None:
    """The same cut has the same number in `saw.csv`, on its sheet and in the sequence."""
    rows = list(csv.reader(io.StringIO(saw_csv(sawn.cuts).decode("utf-8-sig"))))[1:]
    assert len(rows) > 80
    words = _words(sawn)
    pages = {sketch.name: sketch for sketch in cutting_sheets(sawn)}
    for row in rows:
        sheet, number, measure = row[0], row[2], row[9]
        assert sawn.wording.length(float(measure)) in words
        drawn = [
            m.text
            for m in pages[f"sheet-{sheet}"].marks
            if isinstance(m, Text) and m.layer in ("CUT", "DIMENSION")
        ]
        assert number in drawn, (sheet, number)
    ways = (sawn.wording.say("saw_along"), sawn.wording.say("saw_across"))
    steps = [step for step, way in zip(words, words[2:], strict=False) if way in ways]
    assert sorted(steps) == sorted(row[2] for row in rows)


def test_sheets_of_a_material_are_told_together(sawn: Dossier) -> None:
    words = _words(sawn)
    assert any(
        w.startswith("Saw sequence of birch ply 15: S01–S04 are sawn together") for w in words
    )
    assert "part P01 1502.3 x 1190" in words
    assert any(word.startswith("part P04 copy 2") for word in words)
    assert any(word.startswith("offcut S03-1 680.6 x 822.2") for word in words)


@pytest.mark.parametrize("entries", [{}, {"language": "de", "lengths": "in"}])
def test_they_keep_to_their_room(sawn: Dossier, entries: dict[str, str]) -> None:
    made = told_in(sawn, **entries)
    for sheet in sequence_sheets(saw_order(made.cuts), made):
        assert overlaps(sheet.marks) == []
        left, bottom, right, top = extent(sheet.marks)
        assert left >= SPACE[0]
        assert bottom >= SPACE[1]
        assert (right, top) <= (SPACE[2], SPACE[3])
        for mark in sheet.marks:
            _, low, end, _ = extent([mark])
            assert end <= TITLE_BLOCK[0] or low >= TITLE_BLOCK[3]


def test_nothing_sawn_makes_no_sheet(small: Dossier) -> None:
    assert list(sequence_sheets(saw_order(small.cuts), small)) == []
