"""The picture of the nested sheets: every part, number, size and offcut, in scale."""

import dataclasses
import xml.etree.ElementTree as ET

import pytest

from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import nest
from fitout.documents.sheet_pictures import HEADING, MARGIN, WIDTH, sheets_svg
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Grain

NAME = "{http://www.w3.org/2000/svg}"


def words(picture):
    return [text.text for text in picture.iter(f"{NAME}text")]


def test_it_is_light_and_always_the_same(plan):
    data = sheets_svg(plan)
    assert data == sheets_svg(plan)
    assert len(data) < 300_000


def test_every_part_has_its_number_and_size(plan):
    told = words(ET.fromstring(sheets_svg(plan)))
    for sheet in plan.sheets:
        for placed in sheet.placed:
            line = plan.cut_list.line(placed.number)
            assert placed.number in told
            assert f"{line.length:.0f} × {line.width:.0f}" in told
    heading = next(text for text in told if text.startswith("S01"))
    assert heading.startswith("S01: birch ply 12, 2440 × 1220 mm, ")


def test_parts_are_drawn_to_scale_with_y_up(board, panel):
    plain = dataclasses.replace(
        panel, outline=Outline(rectangle(1000.0, 500.0)), holes=(), pockets=()
    )
    plan = nest(cut_list([plain]), CuttingSpec(trim=10.0))
    picture = ET.fromstring(sheets_svg(plan))
    (part,) = picture.findall(f"{NAME}path")
    scale = (WIDTH - 2 * MARGIN) / 2440.0
    points = [tuple(map(float, pair.split(","))) for pair in part.get("d").strip("MZ").split()]
    assert min(x for x, _ in points) == pytest.approx(MARGIN + 10 * scale, abs=0.06)
    assert max(x for x, _ in points) == pytest.approx(MARGIN + 1010 * scale, abs=0.06)
    bottom = MARGIN + HEADING + 1220.0 * scale
    assert max(y for _, y in points) == pytest.approx(bottom - 10 * scale, abs=0.06)
    assert min(y for _, y in points) == pytest.approx(bottom - 510 * scale, abs=0.06)


def test_grain_arrows_follow_the_turn(board, panel):
    plain = dataclasses.replace(
        panel, outline=Outline(rectangle(1000.0, 500.0)), holes=(), pockets=()
    )
    plan = nest(cut_list([plain]), CuttingSpec())
    sheet = plan.sheets[0]
    turned = dataclasses.replace(sheet.placed[0], quarter_turns=1)
    upright = dataclasses.replace(plan, sheets=(dataclasses.replace(sheet, placed=(turned,)),))
    for which, lengthwise in ((plan, True), (upright, False)):
        (arrow,) = ET.fromstring(sheets_svg(which)).findall(f"{NAME}polyline")
        points = [tuple(map(float, p.split(","))) for p in arrow.get("points").split()]
        wide = max(x for x, _ in points) - min(x for x, _ in points)
        high = max(y for _, y in points) - min(y for _, y in points)
        assert (wide > high) is lengthwise
    free = nest(cut_list([dataclasses.replace(plain, grain=Grain.EITHER)]), CuttingSpec())
    assert not ET.fromstring(sheets_svg(free)).findall(f"{NAME}polyline")


def test_offcuts_are_told_by_size(board, panel):
    plan = nest(cut_list([panel]), CuttingSpec(by="saw"))
    told = words(ET.fromstring(sheets_svg(plan)))
    assert plan.sheets[0].offcuts
    for offcut in plan.sheets[0].offcuts:
        assert f"{offcut.length:.0f} × {offcut.width:.0f}" in told


def test_no_sheets_no_harm():
    root = ET.fromstring(sheets_svg(nest(cut_list([]), CuttingSpec())))
    assert root.tag == f"{NAME}svg"
