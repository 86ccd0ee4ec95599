"""Cutting plans: every placed part has its number, every step its row and its line's number."""

import pytest

from fitout.cutting.plan import Sheet
from fitout.cutting.sequence import saw_order
from fitout.documents.dossier import Dossier
from fitout.documents.drawings.cutting_sheets import (
    cutting_sheets,
    scale_of,
    sheet_block,
    steps_of,
)
from fitout.documents.paper.marks import Mark, Stroke, Text
from fitout.documents.paper.room import extent, overlaps


def _marks(demo: Dossier, sheet: Sheet) -> tuple[Mark, ...]:
    steps = steps_of(sheet, saw_order(demo.cuts))
    return sheet_block(sheet, steps, demo.cuts, demo.wording).marks


def test_every_part_and_offcut_of_every_sheet_is_named(demo: Dossier) -> None:
    for sheet in demo.cuts.sheets:
        marks = _marks(demo, sheet)
        assert overlaps(marks) == []
        told = [m.text.split("  ")[0] for m in marks if isinstance(m, Text)]
        for number in {placed.number for placed in sheet.placed}:
            count = sum(placed.number == number for placed in sheet.placed)
            assert told.count(number) == count, f"{sheet.number}: {number}"
        for i in range(1, len(sheet.offcuts) + 1):
            assert f"{sheet.number}-{i}" in told
        for step in steps_of(sheet, saw_order(demo.cuts)):
            assert f"{step.number}" in told


def test_sizes_on_the_parts_are_those_of_the_cut_list(demo: Dossier) -> None:
    """A drawer bottom of 421.8 mm is not told as 422."""
    for sheet in demo.cuts.sheets:
        told = " ".join(m.text for m in _marks(demo, sheet) if isinstance(m, Text))
        lines = [demo.cuts.cut_list.line(p.number) for p in sheet.placed]
        whole = [line for line in lines if not line.panel.outline.inner]
        for line in sorted(whole, key=lambda one: one.length * one.width)[-1:]:
            size = " x ".join(demo.wording.length(one) for one in (line.length, line.width))
            assert size in told


def test_parts_lie_where_the_plan_puts_them(demo: Dossier) -> None:
    for sheet in demo.cuts.sheets:
        marks = _marks(demo, sheet)
        scale = 1.0 / scale_of(sheet)
        border = next(m for m in marks if isinstance(m, Stroke) and m.layer == "OUTLINE")
        left, bottom, right, top = extent([border])
        assert right - left == pytest.approx(sheet.board.length * scale)
        assert top - bottom == pytest.approx(sheet.board.width * scale)
        drawn = [extent([m]) for m in marks if m.layer == "PART"]
        for placed in sheet.placed:
            at = (left + placed.x * scale, bottom + placed.y * scale)
            assert any(box[:2] == pytest.approx(at, abs=0.05) for box in drawn)


def test_what_is_routed_has_its_order_and_no_saw_sequence(small: Dossier) -> None:
    routed = cutting_sheets(small)
    assert not any(sketch.name.startswith("saw") for sketch in routed)
    words = " ".join(m.text for m in routed[0].marks if isinstance(m, Text))
    assert "in the order of cutting" in words
