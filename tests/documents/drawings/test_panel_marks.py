"""Marks on a panel: sides of the vehicle, the grain, face A, edges that are finished."""

import dataclasses

import pytest

from fitout.cutting.cut_list import CutLine
from fitout.documents.drawings.panel_marks import OUTSIDE, finished_edges, lay_marks
from fitout.documents.paper.layout import Layout
from fitout.documents.paper.marks import Arc, Area, Stroke, Text, box
from fitout.documents.paper.room import extent
from fitout.documents.wording import Wording
from fitout.model.outline import Outline, polygon, rectangle
from fitout.model.panel import Grain, Panel
from fitout.model.placement import Placement, along, flat


@pytest.fixture
def plate(panel: Panel) -> Panel:
    """Upright along the bay, face A to the left: u forward, v up."""
    return dataclasses.replace(
        panel,
        outline=Outline(rectangle(700.0, 300.0)),
        holes=(),
        pockets=(),
        placement=along(100.0, 440.0, 0.0),
    )


def _lines(panel: Panel) -> list[tuple[float, ...]]:
    marks = [m for m in finished_edges(panel, 0.2) if isinstance(m, Stroke)]
    return [tuple(round(c, 3) for point in m.points for c in point) for m in marks]


@pytest.mark.parametrize(
    ("edging", "wanted"),
    [
        ("", 0), ("all edges rounded", 4), ("top edge rounded", 1), ("upper edge rounded", 1),
        ("rear edge rounded", 1), ("slanting edge rounded", 0), ("strap notches rounded", 0),
    ],
)  # fmt: skip
def test_as_many_edges_are_marked_as_are_named(plate: Panel, edging: str, wanted: int) -> None:
    assert len(_lines(dataclasses.replace(plate, edging=edging))) == wanted


def test_the_named_edge_is_the_one_that_looks_there(plate: Panel) -> None:
    upright = dataclasses.replace(plate, edging="top edge rounded")
    up = 1 if upright.placement.v[2] > 0.5 else -1
    ((x0, y0, x1, y1),) = _lines(upright)
    assert y0 == y1 == pytest.approx(60.0 + OUTSIDE if up > 0 else -OUTSIDE)
    lying = dataclasses.replace(plate, placement=flat(0.0, 0.0, 300.0), edging="rear edge rounded")
    assert lying.placement.u == (1.0, 0.0, 0.0)
    ((x0, _, x1, _),) = _lines(lying)
    assert x0 == x1 == pytest.approx(-OUTSIDE)


def test_an_inner_edge_looks_to_the_middle_of_the_bay(plate: Panel) -> None:
    for y, edge in ((300.0, -OUTSIDE), (-600.0, 60.0 + OUTSIDE)):
        lying = dataclasses.replace(
            plate, placement=Placement((0.0, y, 0.0)), edging="inner edge rounded"
        )
        ((_, y0, _, y1),) = _lines(lying)
        assert y0 == y1 == pytest.approx(edge)


def test_a_slanting_edge_is_the_one_out_of_square(plate: Panel) -> None:
    bracket = polygon([(0, 0), (160, 0), (160, 160), (120, 160), (0, 40)])
    cut = dataclasses.replace(plate, outline=Outline(bracket), edging="slanting edge rounded")
    assert len(_lines(cut)) == 1


def _words(*panels: Panel) -> list[str]:
    layout = Layout((-100.0, -100.0, 300.0, 200.0))
    lay_marks(layout, CutLine("P01", panels), 0.2, Wording("de"))
    return [m.text for m in layout.marks if isinstance(m, Text)]


def test_sides_grain_and_face_are_told_in_the_builder_s_words(plate: Panel) -> None:
    assert sorted(_words(plate)) == sorted(["vorn", "hinten", "oben", "unten", "Faser", "A"])


def test_what_differs_between_copies_or_is_free_is_not_told(plate: Panel) -> None:
    free = dataclasses.replace(plate, grain=Grain.EITHER)
    assert "Faser" not in _words(free)
    turned = dataclasses.replace(plate, placement=flat(0.0, 0.0, 0.0))
    told = _words(plate, turned)
    assert "oben" not in told
    assert "vorn" in told


def test_a_side_is_written_where_the_part_reaches_it(plate: Panel) -> None:
    """A wall with a wide notch below: "unten" stands at the foot, not in the notch."""
    notched = polygon([(0, 0), (250, 0), (250, 200), (690, 200), (690, 0), (700, 0),
                       (700, 300), (0, 300)])  # fmt: skip
    layout = Layout((-100.0, -100.0, 300.0, 200.0))
    cut = dataclasses.replace(plate, outline=Outline(notched))
    lay_marks(layout, CutLine("P01", (cut,)), 0.2, Wording("de"))
    (below,) = (m for m in layout.marks if isinstance(m, Text) and m.text == "unten")
    assert 0.0 < below.at[0] < 50.0


def test_marks_keep_off_each_other(plate: Panel) -> None:
    """The circle of face A and the triangles of the sides lie on no arrow and on no edge."""
    for height in (12.0, 40.0, 60.0, 300.0):
        strip = dataclasses.replace(plate, outline=Outline(rectangle(316.0, height)))
        layout = Layout((-60.0, -60.0, 160.0, 160.0))
        layout.draw([box(0.0, 0.0, 63.2, height * 0.2)])
        lay_marks(layout, CutLine("P01", (strip,)), 0.2, Wording())
        filled = [extent([m]) for m in layout.marks if isinstance(m, Area)]
        circle = next(extent([m]) for m in layout.marks if isinstance(m, Arc))
        for i, one in enumerate([circle, *filled]):
            for other in filled[i:]:
                apart = (one[2] <= other[0], other[2] <= one[0], one[3] <= other[1],
                         other[3] <= one[1])  # fmt: skip
                assert one is other or any(apart)
        for left, low, right, high in filled:
            for edge in (0.0, height * 0.2):
                assert not (low < edge < high and left < 63.2 and right > 0.0)
