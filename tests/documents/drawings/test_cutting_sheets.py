"""Cutting plans: every placed part has its number, every step its row and its line's number."""

import pytest

from fitout.cutting.sequence import saw_steps
from fitout.documents.dossier import Dossier
from fitout.documents.drawings.cutting_sheets import cutting_sheets, scale_of, sheet_block
from fitout.documents.paper.marks import Stroke, Text
from fitout.documents.paper.room import extent, overlaps


def test_every_part_and_offcut_of_every_sheet_is_named(demo: Dossier) -> None:
    for sheet in demo.cuts.sheets:
        marks = sheet_block(sheet, demo.cuts, demo.wording).marks
        assert overlaps(marks) == []
        told = [m.text.split("  ")[0] for m in marks if isinstance(m, Text)]
        for number in {placed.number for placed in sheet.placed}:
            count = sum(placed.number == number for placed in sheet.placed)
            assert told.count(number) == count, f"{sheet.number}: {number}"
        for i in range(1, len(sheet.offcuts) + 1):
            assert f"{sheet.number}-{i}" in told
        for step in saw_steps(sheet, demo.cuts.spec_of(sheet)):
            assert f"{step.number}" in told


def test_parts_lie_where_the_plan_puts_them(demo: Dossier) -> None:
    for sheet in demo.cuts.sheets:
        marks = sheet_block(sheet, demo.cuts, demo.wording).marks
        scale = 1.0 / scale_of(sheet)
        border = next(m for m in marks if isinstance(m, Stroke) and m.layer == "OUTLINE")
        left, bottom, right, top = extent([border])
        assert right - left == pytest.approx(sheet.board.length * scale)
        assert top - bottom == pytest.approx(sheet.board.width * scale)
        drawn = [extent([m]) for m in marks if m.layer == "PART"]
        for placed in sheet.placed:
            at = (left + placed.x * scale, bottom + placed.y * scale)
            assert any(box[:2] == pytest.approx(at, abs=0.05) for box in drawn)


def test_what_is_sawn_has_its_steps_and_what_is_routed_its_order(
    sawn: Dossier, small: Dossier
) -> None:
    names = [sketch.name for sketch in cutting_sheets(sawn)]
    assert names[:2] == ["sheet-S01", "saw-S01"]
    steps = saw_steps(sawn.cuts.sheets[0], sawn.cuts.spec_of(sawn.cuts.sheets[0]))
    told = [m.text for m in cutting_sheets(sawn)[1].marks if isinstance(m, Text)]
    assert all(f"{step.number}" in told for step in steps)
    assert sum(word.startswith("fence ") for word in told) == sum(s.fence for s in steps)
    routed = cutting_sheets(small)
    assert not any(sketch.name.startswith("saw") for sketch in routed)
    words = " ".join(m.text for m in routed[0].marks if isinstance(m, Text))
    assert "in the order of cutting" in words
