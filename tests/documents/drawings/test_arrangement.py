"""The general arrangement's sheets: within their space, nothing written on anything."""

import pytest
from dossiers import NAMES, dossier, dossier_of, told_in

from fitout import workflow
from fitout.documents.drawings.arrangement import arrangement_sheets
from fitout.documents.drawings.sketch import SPACE, TITLE_BLOCK
from fitout.documents.paper.marks import Text
from fitout.documents.paper.room import extent, overlaps

WAYS = (
    {},
    {"projection": "first angle", "language": "de", "lengths": "in"},
)


@pytest.mark.parametrize("entries", WAYS)
@pytest.mark.parametrize("name", NAMES)
def test_every_sheet_keeps_its_space_and_no_text_lies_on_anything(name, entries):
    sheets = arrangement_sheets(told_in(dossier(name), **entries))
    assert len({sheet.name for sheet in sheets}) == len(sheets) >= 3
    for sheet in sheets:
        left, bottom, right, top = extent(sheet.marks)
        assert left >= SPACE[0] - 0.01
        assert bottom >= SPACE[1] - 0.01
        assert right <= SPACE[2] + 0.01
        assert top <= SPACE[3] + 0.01
        assert overlaps(sheet.marks) == []
        for mark in sheet.marks:
            _, low, end, _ = extent([mark])
            assert end <= TITLE_BLOCK[0] + 0.1 or low >= TITLE_BLOCK[3] - 0.1, mark


def test_titles_stand_above_the_dimensions_where_there_is_room():
    sheet = arrangement_sheets(dossier("touring-wagon"))[0]
    title = next(m for m in sheet.marks if isinstance(m, Text) and m.text == "View from the right")
    low = extent([title])[1]
    for mark in sheet.marks:
        left, _, right, top = extent([mark])
        if mark.layer == "DIMENSION" and left < title.at[0] < right:
            assert top <= low


@pytest.mark.parametrize("name", NAMES)
def test_all_views_and_sections_are_there_with_every_modules_name(name):
    made = dossier(name)
    words = [
        mark.text
        for sheet in arrangement_sheets(made)
        for mark in sheet.marks
        if isinstance(mark, Text)
    ]
    for title in ("View from above", "View from the right", "View from behind"):
        assert title in words
    assert any(word.startswith("Section A–A") for word in words)
    assert any(word.startswith("Section B–B") for word in words)
    for module in made.fitout.modules:
        if module.berth is not None:
            assert module.name in words


def test_main_dimensions_are_the_modules_sizes():
    made = dossier("touring-wagon")
    words = {
        mark.text
        for sheet in arrangement_sheets(made)
        for mark in sheet.marks
        if isinstance(mark, Text) and mark.layer == "DIMENSION"
    }
    drawers = next(m for m in made.fitout.modules if m.name == "drawers")
    assert drawers.berth is not None
    told = made.wording.length
    assert {told(size) for size in drawers.berth.size} <= words
    assert told(made.fitout.bay.front) in words


def test_first_angle_puts_the_plan_below_on_the_same_sheet():
    sheets = arrangement_sheets(told_in(dossier("small-hatch"), projection="first angle"))
    titles = {m.text: m.at for m in sheets[0].marks if isinstance(m, Text)}
    assert titles["View from above"][1] < titles["View from the right"][1]
    assert titles["View from behind"][0] > titles["View from the right"][0]


LONG_TUB = """
fitout: 1
name: Long tub
bay:
  sections:
    - {at: 0, widths: {0: 1480, 254: 1524, 914: 1296}, roof: 952}
    - {at: 1829, widths: {0: 1483, 254: 1527, 914: 1299}, roof: 978}
  wheel_arches: {from: 584, to: 1359, between: 1108, height: 235}
  front_wall: 1841
items:
  fridge: {size: 686 x 394 x 432, mass: 21 kg, contents: 23 kg}
  tank: {size: 178 x 914 x 330, mass: 4 kg, holds: 42 l, tap: {side: left, height: 25}}
modules:
  drawers: {kind: drawers, depth: 1194, width: 597}
  fridge: {kind: fridge slide, item: fridge, right_of: drawers}
  tank: {kind: water tank, item: tank, between: [front_wall, drawers]}
  bins: {kind: side bin}
  deck: {kind: deck}
documents: {lengths: in, projection: first angle}
"""


def test_no_dimension_of_the_side_lies_within_the_plan_below_it(tmp_path):
    path = tmp_path / "tub.yaml"
    path.write_text(LONG_TUB, encoding="utf-8")
    sheet = arrangement_sheets(dossier_of(workflow.load(path)))[0]
    boxes = [extent([m]) for m in sheet.marks if m.layer == "VEHICLE"]
    boxes = [box for box in boxes if box[2] - box[0] > 1.0]  # not the sill's line
    left, bottom, right, top = min(boxes, key=lambda box: box[1])
    assert top < max(box[1] for box in boxes)
    told = [m for m in sheet.marks if isinstance(m, Text) and m.layer == "DIMENSION"]
    told = [m for m in told if m.text[0].isdigit()]
    within = [m.text for m in told if left < m.at[0] < right and bottom < m.at[1] < top]
    assert within == []
    length = next(m for m in told if m.text == "72 15/32")
    assert length.at[1] > top
    assert any(left < m.at[0] < right and m.at[1] < bottom for m in told)
    (plan,) = (m for m in sheet.marks if isinstance(m, Text) and m.text == "View from above")
    assert plan.at[1] > top


def test_the_same_marks_each_time():
    made = dossier("small-hatch")
    assert arrangement_sheets(made) == arrangement_sheets(made)


def test_each_sheet_says_where_the_vehicle_is_cut_in_its_own_views():
    made = dossier("touring-wagon")
    views, plan = arrangement_sheets(made)[:2]
    told = [" ".join(m.text for m in s.marks if isinstance(m, Text)) for s in (views, plan)]
    assert "cut along its middle, seen from behind" in told[0]
    assert "above the floor" not in told[0]
    assert "in the plan cut 525 mm above the floor" in told[1]
    assert "seen from behind" not in told[1]
