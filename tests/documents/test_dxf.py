"""DXF files: layers as documented, geometry once and true, the same bytes every time."""

import dataclasses
import io
import os
import subprocess
import sys
import textwrap

import ezdxf
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fitout.cutting.cut_list import cut_list
from fitout.documents.dxf import grain_arrow, part_dxf, shapes, sheet_dxf
from fitout.model.outline import Loop, Outline, Vertex, circle, rectangle, rounded
from fitout.model.panel import Face, Grain, Hole, Pocket


def opened(data):
    return ezdxf.read(io.StringIO(data.decode("cp1252")))


def entities(drawing, layer):
    return drawing.modelspace().query(f'*[layer=="{layer}"]')


def area_of(polyline):
    return Loop(tuple(Vertex(x, y, b) for x, y, b in polyline.get_points("xyb"))).area


@pytest.fixture
def drawing(panel):
    return opened(part_dxf(cut_list([panel]).lines[0]))


def test_format_and_units(drawing):
    assert drawing.dxfversion == "AC1015"
    assert drawing.header["$INSUNITS"] == 4
    assert drawing.header["$MEASUREMENT"] == 1


def test_layers_name_work_depth_and_face(drawing):
    used = {entity.dxf.layer for entity in drawing.modelspace()}
    assert used == {
        "PERIMETER_0118_THROUGH",
        "CUTOUT_0118_THROUGH",
        "DRILL_0118_THROUGH",
        "DRILL_0100_FACE_A",
        "SINK_0050_FACE_A",
        "SINK_0060_FACE_B",
        "TEXT",
    }
    assert all(drawing.layers.has_entry(layer) for layer in used)


def test_cut_layers_hold_closed_outlines_and_circles_only(drawing):
    for entity in drawing.modelspace():
        if entity.dxf.layer == "TEXT":
            continue
        assert entity.dxftype() in {"LWPOLYLINE", "CIRCLE"}
        if entity.dxftype() == "LWPOLYLINE":
            assert entity.closed


def test_geometry_is_the_panels(drawing, panel):
    (outer,) = entities(drawing, "PERIMETER_0118_THROUGH")
    assert area_of(outer) == pytest.approx(panel.outline.outer.area, rel=1e-12)
    inner = entities(drawing, "CUTOUT_0118_THROUGH")
    assert sorted(map(area_of, inner)) == pytest.approx(
        sorted(loop.area for loop in panel.outline.inner)
    )
    circles = {
        (c.dxf.center.x, c.dxf.center.y, c.dxf.radius) for c in drawing.modelspace().query("CIRCLE")
    }
    assert circles == {(h.x, h.y, h.diameter / 2.0) for h in panel.holes}
    (blind,) = entities(drawing, "DRILL_0100_FACE_A")
    assert (blind.dxf.center.x, blind.dxf.center.y) == (60.0, 100.0)
    (far,) = entities(drawing, "SINK_0060_FACE_B")
    # Seen through the board: not mirrored.
    assert min(x for x, *_ in far.get_points("xyb")) == 450.0


def test_the_drawing_passes_an_audit(drawing):
    audit = drawing.audit()
    assert not audit.errors
    assert not audit.fixes


def test_number_name_and_grain_arrow_are_on_the_text_layer(drawing):
    texts = [e.dxf.text for e in entities(drawing, "TEXT") if e.dxftype() == "TEXT"]
    assert texts == ["P01", "side, 1 off, birch ply 12, 11.8 mm"]
    assert len(entities(drawing, "TEXT").query("LWPOLYLINE")) == 3


def test_free_grain_has_no_arrow(panel):
    free = dataclasses.replace(panel, grain=Grain.EITHER)
    drawing = opened(part_dxf(cut_list([free]).lines[0]))
    assert not entities(drawing, "TEXT").query("LWPOLYLINE")


def test_depths_at_or_beyond_the_thickness_go_through(panel):
    deep = dataclasses.replace(
        panel,
        holes=(Hole(60, 60, 5.0, 11.8), Hole(90, 60, 5.0, 99.0)),
        pockets=(Pocket(rectangle(30, 30, 200, 100), 11.8),),
        outline=Outline(panel.outline.outer),
    )
    assert {layer for layer, _ in shapes(deep)} == {
        "DRILL_0118_THROUGH",
        "CUTOUT_0118_THROUGH",
        "PERIMETER_0118_THROUGH",
    }


def test_nothing_is_drawn_twice(panel):
    hole, pocket = Hole(60, 60, 5.0), Pocket(rectangle(30, 30, 200, 100), 5.0)
    turned = Pocket(Loop(pocket.loop.vertices[2:] + pocket.loop.vertices[:2]), 5.0)
    back = Pocket(pocket.loop.reversed(), 5.0, "other purpose")
    twice = dataclasses.replace(
        panel,
        holes=(hole, hole, Hole(60, 60, 5.0, purpose="again")),
        pockets=(pocket, turned, back),
        outline=Outline(panel.outline.outer),
    )
    assert len(shapes(twice)) == 3


def test_the_same_place_at_another_depth_is_other_work(panel):
    holes = (Hole(60, 60, 20.0, 3.0), Hole(60, 60, 5.0), Hole(60, 60, 5.0, 4.0, face=Face.B))
    assert len([1 for layer, _ in shapes(dataclasses.replace(panel, holes=holes))
                if layer.startswith("DRILL")]) == 3  # fmt: skip


def test_segments_of_no_length_are_left_out(panel):
    corners = [Vertex(0, 0), Vertex(100, 0), Vertex(100, 0), Vertex(100, 50), Vertex(0, 50)]
    stutter = Loop((*corners, Vertex(0, 0)))
    odd = dataclasses.replace(panel, outline=Outline(stutter), holes=(), pockets=())
    (_, loop), = shapes(odd)  # fmt: skip
    assert len(loop.vertices) == 4


def test_outlines_run_anticlockwise(panel):
    odd = dataclasses.replace(
        panel, outline=Outline(panel.outline.outer.reversed()), holes=(), pockets=()
    )
    (_, loop), = shapes(odd)  # fmt: skip
    assert loop.signed_area > 0


def note(panel, name):
    data = part_dxf(cut_list([dataclasses.replace(panel, name=name)]).lines[0])
    texts = [e.dxf.text for e in opened(data).modelspace().query("TEXT")]
    return ezdxf.decode_dxf_unicode(texts[1]).removesuffix(", 1 off, birch ply 12, 11.8 mm")


def test_of_many_names_the_first_is_written(panel):
    named = [dataclasses.replace(panel, name=name) for name in ("a", "b", "c", "d")]
    for count, words in ((2, "a / b, 2 off"), (4, "a and 3 more, 4 off")):
        data = part_dxf(cut_list(named[:count]).lines[0])
        texts = [e.dxf.text for e in opened(data).modelspace().query("TEXT")]
        assert texts[1].startswith(words)


def test_names_outside_the_code_page_survive(panel):
    assert note(panel, "Bö 棚") == "Bö 棚"


@pytest.mark.parametrize(
    ("name", "written"),
    [("two\r\nlines", "two lines"), ("50 %%d", "50 % %d"), ("a^Jb", "a Jb"), ("0\nEOF", "0 EOF")],
)
def test_names_hold_no_codes(panel, name, written):
    assert note(panel, name) == written


def test_a_sheet_holds_every_part_in_its_place(plan):
    for sheet in plan.sheets:
        drawing = opened(sheet_dxf(sheet, plan))
        (border,) = entities(drawing, "SHEET")
        assert area_of(border) == pytest.approx(sheet.board.length * sheet.board.width)
        outlines = entities(drawing, "PERIMETER_0118_THROUGH")
        found = sorted(
            (
                round(min(x for x, *_ in p.get_points("xyb")), 4),
                round(min(y for _, y, _ in p.get_points("xyb")), 4),
                round(area_of(p), 3),
            )
            for p in outlines
        )
        wanted = sorted(
            (
                round(placed.x, 4),
                round(placed.y, 4),
                round(plan.cut_list.line(placed.number).panel.outline.outer.area, 3),
            )
            for placed in sheet.placed
        )
        assert found == wanted
        texts = {e.dxf.text for e in drawing.modelspace().query("TEXT")}
        assert texts >= {placed.number for placed in sheet.placed}


def test_a_turned_part_takes_its_features_along(plan, panel):
    sheet = next(s for s in plan.sheets if any(p.number == number(plan) for p in s.placed))
    placed = next(p for p in sheet.placed if p.number == number(plan))
    upright = dataclasses.replace(placed, quarter_turns=1)
    drawing = opened(sheet_dxf(dataclasses.replace(sheet, placed=(upright,)), plan))
    (blind,) = entities(drawing, "DRILL_0100_FACE_A")
    # The hole at (60, 100) of a 300 wide part turned anticlockwise lies at (300 - 100, 60).
    assert (blind.dxf.center.x - placed.x, blind.dxf.center.y - placed.y) == pytest.approx(
        (200.0, 60.0)
    )


def number(plan):
    return next(line.number for line in plan.cut_list.lines if line.panel.pockets)


def test_arrow_strokes_point_along_the_grain():
    lengthwise = list(grain_arrow((10.0, 20.0), 5.0, lengthwise=True))
    assert lengthwise[0] == [(5.0, 20.0), (15.0, 20.0)]
    upright = list(grain_arrow((10.0, 20.0), 5.0, lengthwise=False))
    assert upright[0] == [(10.0, 15.0), (10.0, 25.0)]


@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    length=st.floats(60.0, 1500.0),
    width=st.floats(60.0, 900.0),
    radius=st.floats(0.5, 29.0),
    hole=st.floats(3.0, 25.0),
    grain=st.sampled_from(Grain),
)
def test_area_read_back_equals_the_panels(panel, length, width, radius, hole, grain):
    part = dataclasses.replace(
        panel,
        outline=Outline(
            rounded(rectangle(length, width), radius), (circle(length / 2, width / 2, 50.0),)
        ),
        holes=(Hole(30.0 + hole, 15.0, hole),),
        pockets=(),
        grain=grain,
    )
    drawing = opened(part_dxf(cut_list([part]).lines[0]))
    solid = sum(map(area_of, entities(drawing, "PERIMETER_0118_THROUGH")))
    cut = sum(map(area_of, entities(drawing, "CUTOUT_0118_THROUGH")))
    assert solid - cut == pytest.approx(part.outline.area, rel=1e-9)


def test_bytes_do_not_follow_the_hash_seed(tmp_path):
    script = textwrap.dedent(
        """
        import hashlib
        from fitout.cutting.cut_list import cut_list
        from fitout.cutting.nest import nest
        from fitout.documents.dxf import part_dxf, sheet_dxf
        from fitout.model.cutting import CuttingSpec
        from fitout.model.outline import Outline, circle, rectangle
        from fitout.model.panel import Hole, Panel, Pocket
        from fitout.model.placement import Placement
        from fitout.model.stock import Board

        board = Board(key="ply", nominal=12.0, thickness=12.0, thickness_tolerance=0.5,
                      density_kg_m3=680.0, length=2440.0, width=1220.0)
        panels = [
            Panel(name=f"n{i}", module="m", board=board, placement=Placement(),
                  outline=Outline(rectangle(300.0 + 10 * i, 200.0), (circle(80, 80, 40),)),
                  holes=(Hole(20, 20, 5), Hole(40, 20, 5, 6.0)),
                  pockets=(Pocket(rectangle(90, 6, 120, 30), 5.0),))
            for i in range(6)
        ]
        cuts = cut_list(panels)
        plan = nest(cuts, CuttingSpec())
        for data in [part_dxf(cuts.lines[0])] + [sheet_dxf(s, plan) for s in plan.sheets]:
            print(hashlib.sha256(data).hexdigest())
        """
    )
    printed = {
        subprocess.run(
            [sys.executable, "-c", script],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
            text=True,
        ).stdout
        for seed in ("0", "1", "4242")
    }
    assert len(printed) == 1
    assert printed.pop().strip()


def test_writing_leaves_the_librarys_options_alone(panel):
    before = ezdxf.options.write_fixed_meta_data_for_testing
    part_dxf(cut_list([panel]).lines[0])
    assert ezdxf.options.write_fixed_meta_data_for_testing == before
