"""Part drawings: each part once, at a scale of ISO 5455, with what its line in the list says."""

import dataclasses

from fitout.documents.dossier import Dossier
from fitout.documents.drawings.panel_sheets import (
    SCALES,
    panel_blocks,
    panel_sheets,
    ranges,
    scale_of,
    scales_told,
    with_heading,
)
from fitout.documents.paper.marks import PHANTOM, Stroke, Text, box
from fitout.documents.paper.room import extent
from fitout.documents.wording import decimal
from fitout.model.outline import rectangle
from fitout.model.scribing import Scribe


def _holds(told: str, number: str) -> bool:
    """Whether a number is among `P01, P04–P06`."""
    ends = (part.split("–") for part in told.split(", "))
    return any(end[0] <= number <= end[-1] for end in ends)


def test_each_part_has_one_heading_and_the_sheets_name_it(demo: Dossier) -> None:
    sheets = panel_sheets(demo)
    told = [m.text for s in sheets for m in s.marks if isinstance(m, Text) and m.bold]
    for line in demo.cuts.cut_list.lines:
        assert sum(t == line.number or t.startswith(f"{line.number} ") for t in told) == 1
        assert any(_holds(sheet.number, line.number) for sheet in sheets)
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


def test_what_is_left_to_scribe_is_told_and_drawn(wagon: Dossier) -> None:
    """The barrier's panel 5 mm larger at its left edge: what it comes down to is dash-dotted."""
    line = wagon.cuts.cut_list.line("P01")
    panel = line.panel
    x0, y0, x1, y1 = panel.outline.bounds
    scribe = Scribe(
        allowance=5.0,
        finished=rectangle(x1 - x0 - 5.0, y1 - y0, x0 + 5.0, y0),
        edges=(((x0 + 5.0, y1), (x0 + 5.0, y0)),),
    )
    cut = dataclasses.replace(line, panels=(dataclasses.replace(panel, scribe=scribe),))
    block = panel_blocks(cut, wagon.wording)[0][0]
    told = " ".join(m.text for m in block.marks if isinstance(m, Text))
    assert "Left to scribe to the vehicle: 5 mm left" in told
    assert [m.pen for m in block.marks if isinstance(m, Stroke) and m.layer == "SCRIBE"] == [
        PHANTOM
    ]


def test_a_sheet_is_titled_with_the_parts_that_are_on_it() -> None:
    assert ranges(["P09", "P11", "P10", "P17"]) == "P09–P11, P17"
    assert ranges(["P01", "P02"]) == "P01, P02"
    assert ranges(["P98", "P99", "P100", "B01"]) == "B01, P98–P100"


def test_a_long_part_is_not_drawn_smaller_than_a_sheet_has_room_for(sawn: Dossier) -> None:
    """A drawer side of 1.1 m with ten holes and a groove is 223 mm long on paper."""
    assert scale_of(sawn.cuts.cut_list.line("P07")) == 5


def test_rounded_edges_have_a_radius_and_foam_is_left_as_cut(
    wagon: Dossier, small: Dossier
) -> None:
    def told(number: str) -> str:
        block = panel_blocks(wagon.cuts.cut_list.line(number), wagon.wording)[0][0]
        return " ".join(m.text for m in block.marks if isinstance(m, Text))

    thin = next(ln for ln in small.cuts.cut_list.lines if ln.panel.edging and ln.thickness < 10.0)
    block = panel_blocks(thin, small.wording)[0][0]
    assert any("R2 on both faces" in m.text for m in block.marks if isinstance(m, Text))
    foam = next(ln for ln in wagon.cuts.cut_list.lines if ln.board.kind == "foam")
    assert "R3 on both faces" in told("P01")
    assert "Edges: as cut" in told(foam.number)
    assert "broken by hand" not in told(foam.number)
