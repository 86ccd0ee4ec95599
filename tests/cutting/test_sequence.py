"""The saw sequence: replayed on a bare sheet it must free every part at its true size."""

import pytest

from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import nest
from fitout.cutting.plan import Rect
from fitout.cutting.sequence import saw_steps
from fitout.model.cutting import CuttingSpec
from fitout.model.panel import Grain

KERF = 3.2


def replay(sheet, trim):
    """Cut a trimmed sheet as told; returns the pieces that no step cuts."""
    whole = (trim, trim, sheet.board.length - 2 * trim, sheet.board.width - 2 * trim)
    pieces = [whole]
    kept = {}
    for step in saw_steps(sheet):
        told = (step.piece.x, step.piece.y, step.piece.length, step.piece.width)
        found = next(p for p in pieces if p == pytest.approx(told, abs=1e-6))
        pieces.remove(found)
        x, y, length, width = found
        if step.across:
            first = (x, y, step.measure, width)
            rest = (x + step.measure + KERF, y, length - step.measure - KERF, width)
        else:
            first = (x, y, length, step.measure)
            rest = (x, y + step.measure + KERF, length, width - step.measure - KERF)
        pieces.append(first)
        if min(rest[2:]) > 1e-6:
            pieces.append(rest)
        if step.keeps not in {"strip", "offcut"}:
            kept[step.keeps] = first
    return pieces, kept


def test_replaying_the_cuts_frees_every_part(make):
    panels = [
        make(300.0 + 61 * (i % 7), 150.0 + 43 * (i % 5), name=f"n{i}",
             grain=Grain.EITHER if i % 3 else Grain.ALONG_U)
        for i in range(40)
    ]  # fmt: skip
    cuts = cut_list(panels)
    plan = nest(cuts, CuttingSpec(by="saw", kerf=KERF, trim=10.0))
    for sheet in plan.sheets:
        pieces, kept = replay(sheet, 10.0)
        for placed in sheet.placed:
            line = cuts.line(placed.number)
            size = (line.length, line.width)
            along, across = size[::-1] if placed.quarter_turns % 2 else size
            wanted = (placed.x, placed.y, along, across)
            assert any(piece == pytest.approx(wanted, abs=1e-6) for piece in pieces)
        for piece in kept.values():
            assert any(piece == pytest.approx(other) for other in pieces)
        for offcut in sheet.offcuts:
            told = (offcut.x, offcut.y, offcut.length, offcut.width)
            assert any(piece == pytest.approx(told, abs=1e-6) for piece in pieces)


def test_steps_of_a_plain_sheet(make):
    cuts = cut_list([make(1000.0, 400.0)])
    plan = nest(cuts, CuttingSpec(by="saw", kerf=KERF, trim=10.0))
    steps = saw_steps(plan.sheets[0])
    assert [step.number for step in steps] == [1, 2]
    assert steps[0].piece == Rect(10.0, 10.0, 2420.0, 1200.0)
    assert sorted((step.across, step.measure) for step in steps) == [
        (False, pytest.approx(400.0)),
        (True, pytest.approx(1000.0)),
    ]
    assert [step.keeps for step in steps] == ["strip", "P01 copy 1"]


def test_a_part_as_large_as_the_sheet_needs_no_cut(make):
    cuts = cut_list([make(2420.0, 1200.0)])
    plan = nest(cuts, CuttingSpec(by="saw", kerf=KERF, trim=10.0))
    assert saw_steps(plan.sheets[0]) == ()
    assert plan.sheets[0].cuts.part == ("P01", 1)


def test_a_rest_narrower_than_the_kerf_is_sawdust(make):
    cuts = cut_list([make(2418.0, 1200.0)])
    plan = nest(cuts, CuttingSpec(by="saw", kerf=KERF, trim=10.0))
    (step,) = saw_steps(plan.sheets[0])
    assert (step.across, step.measure) == (True, pytest.approx(2418.0))
    assert plan.sheets[0].cuts.second is None


def test_a_router_has_no_sequence(make):
    plan = nest(cut_list([make()]), CuttingSpec(by="router"))
    assert saw_steps(plan.sheets[0]) == ()
