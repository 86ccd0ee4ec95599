"""Edging: what is cut off and glued on again is the finished part, whatever its shape."""

import csv
import dataclasses
import io
import math
from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from fitout import workflow
from fitout.catalogue import load
from fitout.catalogue.boards import boards_of
from fitout.cutting.bars import BarPlan
from fitout.cutting.cut_list import cut_list
from fitout.cutting.edging import NOT_DONE, TRIMMING, edged, finished_size, inset, strips_told
from fitout.cutting.nest import nest
from fitout.cutting.purchases import purchases
from fitout.documents.dxf import shapes
from fitout.documents.tables import cutlist_csv
from fitout.model.cutting import CuttingSpec
from fitout.model.design import BoardSpec
from fitout.model.edging import EdgingSpec
from fitout.model.outline import Loop, Outline, Vertex, polygon, rectangle, rounded
from fitout.model.panel import Hole, Pocket
from fitout.model.placement import Placement, flat

T = 2.0
UPRIGHT = Placement((0.0, 300.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0))
"""A front seen from behind the vehicle: along it to the right, across it upwards."""


@pytest.fixture
def of(make, ply):
    """of(edges, thickness, **fields) -> the panel as it is cut, edged by its board."""

    def cut(*edges, thickness=T, price=None, **fields):
        wish = EdgingSpec(thickness=thickness, edges=edges or ("all",), price=price)
        return next(edged([make(board=dataclasses.replace(ply, edging=wish), **fields)]))

    return cut


def test_all_round(of):
    cut = of(length=700.0, width=300.0)
    assert cut.outline.size == pytest.approx((696.0, 296.0))
    assert finished_size(cut) == pytest.approx((700.0, 300.0))
    assert [s.length for s in cut.strips] == pytest.approx([700.0, 300.0, 700.0, 300.0])
    assert strips_told(cut) == "2 mm edging all round"


@pytest.mark.parametrize(
    ("edges", "size", "told"),
    [
        (("top",), (700.0, 298.0), "2 mm edging upper edge"),
        (("top", "bottom"), (700.0, 296.0), "2 mm edging lower, upper edge"),
        (("left",), (698.0, 300.0), "2 mm edging left edge"),
        (("right",), (698.0, 300.0), "2 mm edging right edge"),
        (("long",), (700.0, 296.0), "2 mm edging lower, upper edge"),
        (("short",), (696.0, 300.0), "2 mm edging left, right edge"),
        (("top", "short"), (696.0, 298.0), "2 mm edging left, right, upper edge"),
        (("front", "rear"), (700.0, 300.0), ""),
    ],
)
def test_edges_as_they_lie_in_the_vehicle(of, edges, size, told):
    cut = of(*edges, placement=UPRIGHT)
    assert cut.outline.size == pytest.approx(size)
    assert strips_told(cut) == told


def test_an_edge_is_the_same_whichever_way_the_panel_is_told(of):
    seen_from_ahead = Placement((0.0, -400.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    one, other = of("left", placement=UPRIGHT), of("left", placement=seen_from_ahead)
    assert one.placement.at(*one.strips[0].start, 0.0)[1] == pytest.approx(300.0)
    assert other.placement.at(*other.strips[0].start, 0.0)[1] == pytest.approx(300.0)


def test_features_keep_their_finished_places(of):
    hole, groove = Hole(100.0, 50.0, 5.0), Pocket(rectangle(600.0, 6.5, 50.0, 200.0), 6.0)
    cut = of(holes=(hole,), pockets=(groove,))
    assert cut.holes == (hole,)
    assert cut.pockets == (groove,)
    line = cut_list([cut]).lines[0]
    (drawn,) = line.panel.holes
    # As drawn all is told from the cut corner, which lies a strip's thickness further in.
    assert (drawn.x, drawn.y) == pytest.approx((98.0, 48.0))
    assert line.panel.placement.at(drawn.x, drawn.y, 0.0) == pytest.approx((100.0, 50.0, 0.0))
    assert line.finished == pytest.approx((700.0, 300.0))
    assert min(v.x for v in line.panel.pockets[0].loop.vertices) == pytest.approx(48.0)


SIZES = st.floats(60.0, 900.0)


@settings(max_examples=40, deadline=None)
@given(
    corners=st.lists(st.tuples(st.floats(-1.0, 1.0), SIZES), min_size=3, max_size=8),
    thickness=st.floats(0.4, 8.0),
    data=st.data(),
)
def test_cut_and_strips_make_the_finished_part(corners, thickness, data):
    """Star-shaped outlines: each edged segment loses a band of the thickness, nothing else."""
    step = math.tau / len(corners)
    points = [
        (r * math.cos((i + 0.3 * off) * step), r * math.sin((i + 0.3 * off) * step))
        for i, (off, r) in enumerate(corners)
    ]
    loop = polygon(points).anticlockwise()
    whole = Polygon([(v.x, v.y) for v in loop.vertices])
    assume(whole.is_valid and whole.area > 1000.0)
    chosen = data.draw(st.sets(st.integers(0, len(points) - 1), min_size=1))
    cut = inset(loop, chosen, thickness)
    assume(cut is not None)
    left = Polygon([(v.x, v.y) for v in cut.vertices])
    assume(left.is_valid)
    sides = list(loop.segments())
    for i, (a, b) in enumerate(cut.segments()):
        old = LineString([(v.x, v.y) for v in sides[i]])
        away = thickness if i in chosen else 0.0
        for v in (a, b):
            x0, y0 = sides[i][0].x, sides[i][0].y
            dx, dy = sides[i][1].x - x0, sides[i][1].y - y0
            off = (dx * (v.y - y0) - dy * (v.x - x0)) / old.length
            # Cut edge and strip together reach the finished edge, no more and no less.
            assert off == pytest.approx(away, abs=1e-6)
    bands = sum(LineString([(v.x, v.y) for v in sides[i]]).length for i in chosen)
    assert whole.area - left.area <= bands * thickness * (1 + 1e-9) + 4 * len(points) * thickness**2


@settings(max_examples=25, deadline=None)
@given(
    length=st.floats(80.0, 900.0),
    width=st.floats(80.0, 500.0),
    radius=st.floats(3.0, 25.0),
    thickness=st.floats(0.4, 2.5),
)
def test_rounded_corners_go_on_to_the_cut_edge(length, width, radius, thickness):
    loop = rounded(rectangle(length, width), radius).anticlockwise()
    straight = {i for i, (a, _) in enumerate(loop.segments()) if not a.bulge}
    cut = inset(loop, straight, thickness)
    assert cut is not None
    # Against another reckoning: the finished part less everything outside the moved edges.
    whole = Polygon(loop.chords(grows=False, sagitta=0.001))
    x0, y0, x1, y1 = thickness, thickness, length - thickness, width - thickness
    inner = whole.intersection(Polygon([(x0, y0), (x1, y0), (x1, y1), (x0, y1)]))
    assert cut.area == pytest.approx(inner.area, abs=0.5)


def test_a_finger_notch_stays_where_it_is(of):
    notch = Loop(
        (
            Vertex(0.0, 0.0),
            Vertex(700.0, 0.0),
            Vertex(700.0, 300.0),
            Vertex(400.0, 300.0, -1.0),
            Vertex(300.0, 300.0),
            Vertex(0.0, 300.0),
        )
    )
    cut = of(outline=Outline(notch))
    deepest = min(y for x, y in cut.outline.outer.chords(grows=False) if 340 < x < 360)
    assert deepest == pytest.approx(250.0, abs=0.01)
    assert len(cut.strips) == 5


def test_what_is_too_narrow_stays_bare_and_says_so(of):
    cut = of(length=200.0, width=40.0, thickness=25.0)
    assert cut.outline.size == (200.0, 40.0)
    assert cut.strips == ()
    assert cut.edging == NOT_DONE


def test_a_cut_list_tells_cut_and_finished_sizes(of):
    cuts = cut_list([of("long", name="front"), of("long", name="front 2")])
    (row,) = csv.DictReader(io.StringIO(cutlist_csv(cuts).decode("utf-8-sig")))
    assert (row["length along grain (mm)"], row["width (mm)"]) == ("700.0", "296.0")
    assert (row["finished length (mm)"], row["finished width (mm)"]) == ("700.0", "300.0")
    assert row["edging"] == "2 mm edging lower, upper edge"
    assert row["quantity"] == "2"


def test_the_cut_file_is_the_cut_shape(of):
    line = cut_list([of()]).lines[0]
    (perimeter,) = (thing for layer, thing in shapes(line.panel) if layer.startswith("PERIMETER"))
    assert Outline(perimeter).size == pytest.approx((696.0, 296.0))


def test_parts_edged_otherwise_are_other_parts(of):
    panels = [of(edge, name=edge, placement=UPRIGHT) for edge in ("left", "right", "top")]
    # One strip at either short end is the same part turned round; along a long edge it is not.
    counts = sorted(line.quantity for line in cut_list(panels).lines)
    assert counts == [1, 2]


def test_the_run_is_bought_with_its_trimming(of):
    panels = [of(price=1.5, name="a"), of("long", price=1.5, name="b")]
    plan = nest(cut_list(panels), CuttingSpec())
    (strip,) = (
        p for p in purchases(plan, BarPlan(sticks=(), uses=(), too_long=())) if p.kind == "edging"
    )
    run = (1.0 + TRIMMING) * (2 * 700.0 + 2 * 300.0 + 2 * 700.0)
    assert strip.length == pytest.approx(run)
    assert strip.price == pytest.approx(1.5 * run / 1000.0)
    assert (strip.name, strip.thickness) == ("edging 2 mm for ply 12", 2.0)


def test_it_belongs_to_its_purpose_alone():
    wish = EdgingSpec(thickness=2.0)
    wishes = {"front": BoardSpec(sheet="birch ply 12", edging=wish)}
    boards = boards_of(wishes, load())
    assert boards["front"].edging == wish
    assert boards["carcass"].edging is None


def test_edged_parts_and_bare_ones_come_of_the_same_sheets(of, make):
    lines = cut_list([of(name="a"), make(name="b", length=500.0)]).lines
    assert len({line.board for line in lines}) == 1


def test_a_part_without_edging_is_left_as_it_is(make):
    panel = make(placement=flat(0.0, 0.0, 0.0))
    assert next(edged([panel])) is panel


def test_nothing_of_the_fit_out_changes_but_what_is_cut(tmp_path):
    """A demo with edging: the same findings and bodies, smaller parts, finished as before."""
    text = (Path(__file__).parents[2] / "designs" / "small-hatch.yaml").read_text(encoding="utf-8")
    wish = "front: {sheet: birch ply 9, edging: {thickness: 2}}"
    assert "  front: birch ply 9\n" in text
    edging = text.replace("front: birch ply 9", wish)
    (tmp_path / "edged.yaml").write_text(edging, encoding="utf-8")
    (tmp_path / "bare.yaml").write_text(text, encoding="utf-8")
    whole, bare = (
        workflow.evaluate(workflow.load(tmp_path / name)) for name in ("edged.yaml", "bare.yaml")
    )
    assert whole.findings == bare.findings
    drawn = [(p.id, p.outline, p.holes, p.pockets, p.placement) for p in bare.fitout.panels()]
    assert [
        (p.id, p.outline, p.holes, p.pockets, p.placement) for p in whole.fitout.panels()
    ] == drawn
    sizes = {p.id: p.outline.size for p in bare.fitout.panels()}
    cut = [p for p in edged(whole.fitout.panels()) if p.strips]
    assert cut
    for panel in cut:
        assert panel.outline.size < sizes[panel.id]
        assert finished_size(panel) == pytest.approx(sizes[panel.id])


def test_an_edge_that_lies_in_the_strip_alone_goes():
    # The short level end that a scribed edge has before it slants.
    loop = polygon([(0, 0), (300, 0), (300, 60), (1, 50), (0, 50)])
    made = inset(loop, {4}, T)
    assert len(made.vertices) == 4
    assert made.bounds == pytest.approx((T, 0.0, 300.0, 60.0))
    corner = min(made.vertices, key=lambda v: (v.x, -v.y))
    assert corner.y == pytest.approx(50.0 + 10.0 / 299.0)
