"""Part drawings: each part once, at a scale of ISO 5455, with what its line in the list says."""

from fitout.documents.dossier import Dossier
from fitout.documents.drawings.panel_sheets import (
    SCALES,
    panel_blocks,
    panel_sheets,
    scale_of,
    scales_told,
    with_heading,
)
from fitout.documents.paper.marks import Text, box
from fitout.documents.paper.room import extent
from fitout.documents.wording import decimal


def test_each_part_has_one_heading_and_the_sheets_name_it(demo: Dossier) -> None:
    sheets = panel_sheets(demo)
    told = [m.text for s in sheets for m in s.marks if isinstance(m, Text) and m.bold]
    for line in demo.cuts.cut_list.lines:
        assert sum(t == line.number or t.startswith(f"{line.number} ") for t in told) == 1
        assert any(line.number in sheet.number.split(", ") for sheet in sheets)
    assert len({sheet.name for sheet in sheets}) == len(sheets)


def test_scales_are_those_of_iso_5455(demo: Dossier) -> None:
    """ISO 5455:1979, 4: full size and 1:2, 1:5, 1:10, 1:20."""
    assert SCALES == (1, 2, 5, 10, 20)
    for line in demo.cuts.cut_list.lines:
        assert line.length / scale_of(line) <= 305.0
        assert f"1:{scale_of(line)}" in " ".join(
            m.text for m in panel_blocks(line, demo.wording)[0][0].marks if isinstance(m, Text)
        )
    assert scales_told([5]) == "1:5"
    assert scales_told([1, 5]) == "1:1, 1:5"
    assert scales_told([1, 2, 10]) == "1:1 … 1:10"


def test_notes_say_quantity_board_mass_and_edges(wagon: Dossier) -> None:
    line = wagon.cuts.cut_list.line("P04")
    first = panel_blocks(line, wagon.wording)[0][0]
    told = " ".join(m.text for m in first.marks if isinstance(m, Text))
    assert "3 off" in told
    assert "birch ply 18" in told
    assert f"{decimal(line.mass_each_kg, 2)} kg" in told
    assert "slanting edge rounded" in told
    assert "which looks to the right" in told


def test_a_heading_makes_the_block_higher_and_no_wider_than_it_needs() -> None:
    block = with_heading([box(-5.0, -5.0, 200.0, 50.0)], "P01  side", ["one note", "another"])
    assert block.width == 200.0
    assert 50.0 < block.height < 70.0
    left, bottom, _, top = extent(block.marks)
    assert abs(left) < 1e-9
    assert abs(bottom + block.height) < 1e-9
    assert top < 0.2
