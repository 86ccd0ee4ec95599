"""Cut files read by GDAL (its DXF driver, through pyogrio), which shares no code with the writer.

GDAL turns arcs into chords that lie on the arc. With chords of at most `STEP` degrees a
full circle of radius r loses r² (pi - pi sin(s)/s), a share of s²/6 of its area, s in
radians; each arc loses no more than its share of that.
"""

import math

import pyogrio
import pyogrio.raw
import pytest
import shapely

from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import nest
from fitout.documents.dxf import part_dxf, sheet_dxf
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Outline, circle, polygon, rectangle, rounded, slot
from fitout.model.panel import Face, Grain, Hole, Panel, Pocket
from fitout.model.placement import Placement
from fitout.model.stock import Board

STEP = 0.5
LOST = math.radians(STEP) ** 2 / 6.0

BOARD = Board(
    key="ply 12", nominal=12.0, thickness=11.8, thickness_tolerance=0.4,
    density_kg_m3=680.0, length=2440.0, width=1220.0,
)  # fmt: skip


def panel(name, outline, **fields):
    return Panel(
        name=name, module="box", outline=outline, board=BOARD, placement=Placement(), **fields
    )


SIDE = panel(
    "side",
    Outline(
        rounded(polygon([(0, 0), (700, 0), (700, 300), (100, 300), (0, 200)]), 20.0),
        (slot(300, 240, 420, 240, 30), circle(600, 200, 60)),
    ),
    holes=(Hole(60, 100, 4.5, 10.0), Hole(660, 40, 20.0)),
    pockets=(
        Pocket(rectangle(600, 6.5, 50, 12), 5.0),
        Pocket(rounded(rectangle(60, 30, 450, 100), 4.0), 6.0, face=Face.B),
    ),
)
DISC = panel("disc", Outline(circle(200.0, 200.0, 400.0)), grain=Grain.EITHER)
NOTCHED = panel(
    "notched",
    Outline(
        rounded(
            polygon(
                [(0, 0), (400, 0), (400, 120), (800, 120), (800, 0), (900, 0), (900, 500), (0, 500)]
            ),
            25.0,
        )
    ),
    grain=Grain.ALONG_V,
)  # fmt: skip


@pytest.fixture
def gdal(tmp_path):
    """Reads DXF bytes: layer -> shapes, and the words."""
    before = pyogrio.get_gdal_config_option("OGR_ARC_STEPSIZE")
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": str(STEP)})

    def read(data):
        file = tmp_path / "cut.dxf"
        file.write_bytes(data)
        meta, _, shapes, columns = pyogrio.raw.read(file)
        fields = dict(zip(meta["fields"], columns, strict=True))
        layers = {}
        for layer, shape in zip(fields["Layer"], shapely.from_wkb(shapes), strict=True):
            layers.setdefault(layer, []).append(shape)
        return layers, [text for text in fields["Text"] if text]

    yield read
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": before})


def filled(line):
    """The area inside a ring; fails unless GDAL saw it closed and simple."""
    ring = shapely.get_exterior_ring(line) if line.geom_type == "Polygon" else line
    assert ring.is_closed
    assert ring.is_simple
    assert ring.length > 0.0
    return shapely.Polygon(ring)


def test_layers_of_a_part(gdal):
    layers, words = gdal(part_dxf(cut_list([SIDE]).lines[0]))
    assert set(layers) == {
        "PERIMETER_0118_THROUGH",
        "CUTOUT_0118_THROUGH",
        "DRILL_0118_THROUGH",
        "DRILL_0100_FACE_A",
        "SINK_0050_FACE_A",
        "SINK_0060_FACE_B",
        "TEXT",
    }
    assert words == ["P01", "side, 1 off, ply 12, 11.8 mm"]


@pytest.mark.parametrize("part", [SIDE, DISC, NOTCHED], ids=lambda part: part.name)
def test_area_and_place_of_every_ring(gdal, part):
    line = cut_list([part]).lines[0]
    layers, _ = gdal(part_dxf(line))
    (outer,) = map(filled, layers["PERIMETER_0118_THROUGH"])
    wanted = line.panel.outline
    # Round corners lose at most their own share of the whole circle's area.
    assert outer.area == pytest.approx(wanted.outer.area, rel=LOST)
    assert outer.bounds == pytest.approx((0.0, 0.0, line.length, line.width), abs=1e-6)
    cutouts = sorted(filled(ring).area for ring in layers.get("CUTOUT_0118_THROUGH", []))
    assert cutouts == pytest.approx(sorted(loop.area for loop in wanted.inner), rel=LOST)
    net = outer.area - sum(cutouts)
    assert net == pytest.approx(part.outline.area, rel=2 * LOST)


def test_holes_are_circles_of_their_diameter(gdal):
    layers, _ = gdal(part_dxf(cut_list([SIDE]).lines[0]))
    for layer, hole in (
        ("DRILL_0100_FACE_A", SIDE.holes[0]),
        ("DRILL_0118_THROUGH", SIDE.holes[1]),
    ):
        (ring,) = map(filled, layers[layer])
        middle = ring.centroid
        assert (middle.x, middle.y) == pytest.approx((hole.x, hole.y), abs=1e-6)
        assert ring.area == pytest.approx(math.pi * hole.diameter**2 / 4.0, rel=LOST)
        reach = [math.hypot(x - hole.x, y - hole.y) for x, y, *_ in ring.exterior.coords]
        assert reach == pytest.approx([hole.diameter / 2.0] * len(reach), abs=1e-6)


def test_sinks_of_both_faces_lie_where_they_are_seen_from_face_a(gdal):
    layers, _ = gdal(part_dxf(cut_list([SIDE]).lines[0]))
    (near,) = map(filled, layers["SINK_0050_FACE_A"])
    assert near.bounds == pytest.approx((50.0, 12.0, 650.0, 18.5))
    (far,) = map(filled, layers["SINK_0060_FACE_B"])
    assert far.bounds == pytest.approx((450.0, 100.0, 510.0, 130.0), abs=1e-6)
    assert far.area == pytest.approx(60 * 30 - (4 - math.pi) * 4.0**2, rel=LOST)


@pytest.mark.parametrize("by", ["saw", "router"])
def test_a_sheet_holds_its_parts_apart_within_its_border(gdal, by):
    cuts = cut_list([SIDE, DISC, NOTCHED])
    spec = CuttingSpec(by=by, kerf=4.0, trim=10.0, spacing=2.0)
    (sheet,) = nest(cuts, spec).sheets
    layers, words = gdal(sheet_dxf(sheet, nest(cuts, spec)))
    (border,) = map(filled, layers["SHEET"])
    assert border.bounds == (0.0, 0.0, 2440.0, 1220.0)
    parts = [filled(ring) for ring in layers["PERIMETER_0118_THROUGH"]]
    assert sum(p.area for p in parts) == pytest.approx(
        sum(line.panel.outline.outer.area for line in cuts.lines), rel=LOST
    )
    room = shapely.box(10.0, 10.0, 2430.0, 1210.0).buffer(1e-6, join_style="mitre")
    assert all(room.covers(part) for part in parts)
    gap = 4.0 if by == "saw" else 6.0
    for i, part in enumerate(parts):
        assert all(part.distance(other) >= gap - 1e-6 for other in parts[i + 1 :])
    # Every cut-out and hole lies inside the one part it belongs to.
    for layer in ("CUTOUT_0118_THROUGH", "DRILL_0118_THROUGH", "DRILL_0100_FACE_A"):
        for ring in map(filled, layers[layer]):
            assert sum(part.covers(ring) for part in parts) == 1
    assert {"P01", "P02", "P03"} <= set(words)
