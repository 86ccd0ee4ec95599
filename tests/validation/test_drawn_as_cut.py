"""Drawings against the cut files: what is told on paper is what ezdxf reads in the DXF files.

The circles and perimeters come from the files as written, through a reader that is not ours; the
texts are those of the part drawings and cutting plans.
"""

from __future__ import annotations

import io
import re

import ezdxf
import pytest
from dossiers import NAMES, dossier
from ezdxf.layouts import Modelspace
from ezdxf.path import make_path

from fitout.documents.cut_files import cut_files
from fitout.documents.dossier import Dossier
from fitout.documents.drawings.cutting_sheets import cutting_sheets
from fitout.documents.drawings.panel_sheets import panel_blocks
from fitout.documents.paper.marks import Text

TOLD = 0.06
"""Drawings tell tenths; arcs are read as chords, mm."""


def _files(made: Dossier) -> dict[str, Modelspace]:
    written = cut_files(made.cuts, made.design.stock, made.design.name)
    return {
        name: ezdxf.read(io.StringIO(data.decode("utf-8"))).modelspace()
        for name, data in written.items()
        if name.endswith(".dxf")
    }


def _numbers(texts: list[str]) -> list[float]:
    return [float(n) for told in texts for n in re.findall(r"\d+(?:\.\d+)?", told)]


def _told(value: float, numbers: list[float]) -> bool:
    return value < TOLD or any(abs(value - n) < TOLD for n in numbers)


def _boxes(space: Modelspace) -> list[tuple[float, float, float, float]]:
    """Left, lower, length and width of each closed perimeter."""
    found = []
    for line in space.query("LWPOLYLINE"):
        if line.dxf.layer.startswith("PERIMETER"):
            points = list(make_path(line).flattening(0.005))
            xs, ys = [p.x for p in points], [p.y for p in points]
            found.append((min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)))
    return found


@pytest.mark.parametrize("name", NAMES)
def test_every_hole_and_size_in_a_part_s_file_is_told_on_its_drawing(name: str) -> None:
    made = dossier(name)
    files = _files(made)
    for line in made.cuts.cut_list.lines:
        space = files[f"parts/{line.number}.dxf"]
        blocks = panel_blocks(line, made.wording)[0]
        numbers = _numbers([m.text for b in blocks for m in b.marks if isinstance(m, Text)])
        circles = list(space.query("CIRCLE"))
        assert len(circles) == len(line.panel.holes)
        for hole in circles:
            for value in (hole.dxf.center.x, hole.dxf.center.y, 2.0 * hole.dxf.radius):
                assert _told(value, numbers), (line.number, value)
        for _, _, length, width in _boxes(space):
            assert _told(length, numbers), line.number
            assert _told(width, numbers), line.number


@pytest.mark.parametrize("name", NAMES)
def test_parts_lie_in_the_sheet_s_file_where_the_plan_tells(name: str) -> None:
    made = dossier(name)
    files = _files(made)
    plans = {sketch.name: sketch for sketch in cutting_sheets(made)}
    for sheet in made.cuts.sheets:
        words = [m.text for m in plans[f"sheet-{sheet.number}"].marks if isinstance(m, Text)]
        numbers = _numbers(words)
        boxes = _boxes(files[f"sheets/{sheet.number}.dxf"])
        assert len(boxes) == len(sheet.placed)
        for left, low, _, _ in boxes:
            assert _told(left, numbers), sheet.number
            assert _told(low, numbers), sheet.number
        for placed in sheet.placed:
            assert any(
                abs(b[0] - placed.x) < TOLD and abs(b[1] - placed.y) < TOLD for b in boxes
            ), placed
