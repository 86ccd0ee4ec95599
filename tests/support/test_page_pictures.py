"""Pictures of pages show what the PDF of the same page shows."""

import xml.etree.ElementTree as ET

import pytest

from fitout.documents.paper.marks import BLACK, WIDE, Arc, Area, Page, Stroke, Text
from tests.support.page_pictures import page_svg

SVG = "{http://www.w3.org/2000/svg}"
RING = ((10.0, 10.0), (50.0, 10.0), (50.0, 50.0))


def drawn(*marks):
    root = ET.fromstring(page_svg(Page(60.0, 80.0, marks), "a <page>"))
    assert root.get("viewBox") == "0 0 60 80"
    assert root.findtext(f"{SVG}title") == "a <page>"
    group = root.find(f"{SVG}g")
    assert group is not None
    assert group.get("transform") == "matrix(1 0 0 -1 0 80)"
    return list(group)


def test_lines_and_areas_lie_where_they_were_put():
    stroke, area = drawn(Stroke(RING, WIDE, closed=True), Area((RING,), BLACK))
    assert stroke.get("d") == area.get("d") == "M10,10 50,10 50,50Z"
    assert (stroke.get("stroke-width"), stroke.get("fill")) == ("0.5", None)
    assert (area.get("fill"), area.get("stroke")) == ("#000000", None)


@pytest.mark.parametrize(("end", "large"), [(90.0, 0), (270.0, 1)])
def test_an_arc_runs_anticlockwise(end, large):
    (arc,) = drawn(Arc((30.0, 30.0), 20.0, 0.0, end))
    there = {90.0: "30,50", 270.0: "30,10"}[end]
    assert arc.get("d") == f"M50,30A20 20 0 {large} 1 {there}"


def test_a_whole_circle_is_one():
    (circle,) = drawn(Arc((30.0, 31.0), 20.0))
    assert [circle.get(key) for key in ("cx", "cy", "r")] == ["30", "31", "20"]


def test_text_stands_upright_and_is_as_wide_as_in_the_pdf():
    level, turned = drawn(Text((5.0, 6.0), "<12>", 2.5), Text((5.0, 6.0), "x", turned=90.0))
    assert level.text == "<12>"
    assert level.get("transform") == "matrix(1 0 0 -1 5 6)"
    assert 5.0 < float(level.get("textLength", 0)) < 12.0
    # Along the page's upward y, its letters' feet to the right.
    assert turned.get("transform") == "matrix(0 1 1 0 5 6)"


def test_the_same_page_gives_the_same_bytes():
    page = Page(60.0, 80.0, (Text((5.0, 6.0), "x"), Arc((1.0, 1.0), 1 / 3)))
    assert page_svg(page, "x") == page_svg(page, "x")
