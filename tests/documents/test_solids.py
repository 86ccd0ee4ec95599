import math
from dataclasses import replace

import pytest

from fitout.clearance.body import body_of
from fitout.documents.solids import SolidError, local_solid, solid_of
from fitout.model.item import Item, block, frustum
from fitout.model.outline import Loop, Outline, Vertex, circle, polygon, rectangle, rounded, slot
from fitout.model.panel import Bar, Face, Hole, Panel, Pocket
from fitout.model.placement import Placement, across, along_face_left, flat
from fitout.model.stock import Board, Section

PLY = Board(
    key="ply", nominal=12.0, thickness=11.8, thickness_tolerance=0.5, density_kg_m3=680.0,
    length=2440.0, width=1220.0,
)  # fmt: skip
TUBE = Section(
    key="tube", width=40.0, height=20.0, wall=2.0, density_kg_m3=2700.0, stock_length=6000.0
)
PLAIN = Panel(
    name="side", module="drawers", outline=Outline(rectangle(300.0, 200.0)), board=PLY,
    placement=flat(0.0, 0.0, 0.0),
)  # fmt: skip
SKEW = Placement((10.0, -20.0, 30.0), (0.6, 0.64, 0.48), (0.8, -0.48, -0.36))


def properties(shape):
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    found = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, found)
    centre = found.CentreOfMass()
    return found.Mass(), (centre.X(), centre.Y(), centre.Z())


def faces(shape) -> list[str]:
    """The kinds of surface of the solid's faces, in order."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.TopAbs import TopAbs_ShapeEnum
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    kinds = []
    explorer = TopExp_Explorer(shape, TopAbs_ShapeEnum.TopAbs_FACE)
    while explorer.More():
        kinds.append(BRepAdaptor_Surface(TopoDS.Face_s(explorer.Current())).GetType().name)
        explorer.Next()
    return sorted(kinds)


PANELS = {
    "plain": PLAIN,
    "rounded": replace(PLAIN, outline=Outline(rounded(rectangle(300.0, 200.0), 20.0))),
    "cut out": replace(
        PLAIN, outline=Outline(rectangle(300.0, 200.0), (slot(80, 100, 160, 100, 30.0),))
    ),
    "inward arc": replace(
        PLAIN,
        outline=Outline(Loop((Vertex(0, 0), Vertex(300, 0), Vertex(300, 200),
                              Vertex(200, 200, -1.0), Vertex(100, 200), Vertex(0, 200)))),
    ),
    "clockwise": replace(PLAIN, outline=Outline(rounded(rectangle(300.0, 200.0), 20.0).reversed())),
    "drilled": replace(
        PLAIN,
        holes=(
            Hole(50, 50, 8.0),
            Hole(100, 50, 5.0, depth=9.0),
            Hole(150, 50, 35.0, depth=10.0, face=Face.B),
            Hole(200, 50, 6.0, depth=20.0),
        ),
    ),
    "grooved": replace(
        PLAIN,
        pockets=(
            Pocket(rectangle(300.0, 6.6, 0.0, 20.0), 5.0),
            Pocket(slot(60, 120, 240, 120, 12.0), 4.0, face=Face.B),
            Pocket(rectangle(20.0, 60.0, 280.0, 130.0), 6.0, "rebate"),
        ),
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", PANELS)
@pytest.mark.parametrize("placement", [flat(1, 2, 3), along_face_left(1, 2, 3), SKEW])
def test_a_panels_solid_has_the_panels_volume_and_centroid(name, placement):
    panel = replace(PANELS[name], placement=placement)
    # A through hole deeper than the board would count its excess in Panel.volume.
    holes = tuple(replace(h, depth=None) if (h.depth or 0) > 11.8 else h for h in panel.holes)
    volume, centroid = properties(solid_of(panel))
    expected = replace(panel, holes=holes)
    assert volume == pytest.approx(expected.volume, rel=1e-9)
    assert centroid == pytest.approx(expected.centroid, abs=1e-6)


def test_arcs_are_true_arcs():
    assert faces(local_solid(PANELS["rounded"])).count("GeomAbs_Cylinder") == 4
    assert faces(local_solid(PANELS["drilled"])).count("GeomAbs_Cylinder") == 4
    assert len(faces(local_solid(PLAIN))) == 6


@pytest.mark.parametrize(
    ("holes", "volume"),
    [
        # Over the edge: half of it is cut.
        ((Hole(0.0, 100.0, 20.0),), 50 * math.pi),
        # Two that overlap: their union, by the lens of two circles of radius 10, 10 apart.
        (
            (Hole(100.0, 100.0, 20.0), Hole(110.0, 100.0, 20.0)),
            200 * math.pi - (200 * math.acos(0.5) - 5 * math.sqrt(300.0)),
        ),
        # Outside altogether.
        ((Hole(400.0, 100.0, 20.0),), 0.0),
    ],
)
def test_through_holes_that_do_not_stand_free_are_cut(holes, volume):
    left = properties(local_solid(replace(PLAIN, holes=holes)))[0]
    assert left == pytest.approx((300 * 200 - volume) * 11.8, rel=1e-9)


def test_a_rebate_may_run_over_the_edge():
    rebate = Pocket(rectangle(400.0, 20.0, -50.0, -10.0), 6.0)
    volume, _ = properties(local_solid(replace(PLAIN, pockets=(rebate,))))
    assert volume == pytest.approx(300 * 200 * 11.8 - 300 * 10 * 6)


def test_a_panel_cut_in_two_keeps_both_halves():
    split = Pocket(rectangle(10.0, 220.0, 145.0, -10.0), 12.0)
    volume, _ = properties(local_solid(replace(PLAIN, pockets=(split,))))
    assert volume == pytest.approx(290 * 200 * 11.8)


def test_a_tube_is_hollow_and_drilled():
    bar = Bar(
        name="leg", module="frame", section=TUBE, length=500.0, placement=across(1, 2, 3),
        holes=((50.0, 8.0), (450.0, 8.0)),
    )  # fmt: skip
    volume, centroid = properties(solid_of(bar))
    # Each hole goes through two walls of 2 mm.
    assert volume == pytest.approx(TUBE.area * 500 - 2 * 2 * 2 * math.pi * 16)
    assert centroid == pytest.approx(bar.centroid)
    solid = replace(bar, section=replace(TUBE, wall=None), holes=())
    assert properties(solid_of(solid))[0] == pytest.approx(500 * 40 * 20)


@pytest.mark.parametrize(
    ("pieces", "faces_expected"),
    [
        ((block(200.0, 100.0, 50.0),), 6),
        ((frustum((200.0, 100.0), (160.0, 80.0), 150.0),), 6),
        ((block(200.0, 100.0, 50.0), frustum((80.0, 80.0), (120.0, 120.0), 60.0)), 12),
        ((((0.0, 0.0, 0.0), (90.0, 0.0, 0.0), (0.0, 90.0, 0.0), (0.0, 0.0, 90.0)),), 4),
    ],
)
def test_an_item_has_flat_faces_and_its_bodys_place(pieces, faces_expected):
    item = Item(name="box", module="m", pieces=pieces, mass_kg=1.0, placement=SKEW)
    alone = [replace(item, pieces=(piece,)) for piece in pieces]
    solid = solid_of(item)
    volume, _ = properties(solid)
    assert volume == pytest.approx(sum(body_of(i).manifold.volume() for i in alone), rel=1e-6)
    assert faces(solid) == ["GeomAbs_Plane"] * faces_expected
    middle = body_of(alone[0])
    assert properties(solid_of(alone[0]))[1] == pytest.approx(
        tuple(middle.pieces[0].mean(axis=0)), abs=30.0
    )


def test_a_failure_names_module_part_and_operation():
    gone = replace(PLAIN, pockets=(Pocket(rectangle(400.0, 300.0, -10.0, -10.0), 12.0),))
    with pytest.raises(SolidError) as caught:
        solid_of(gone)
    error = caught.value
    assert (error.module, error.part) == ("drawers", "side")
    assert error.operation == "cut 0 holes and 1 pockets"
    assert str(error) == (
        "module drawers, part side: the geometry kernel failed to cut 0 holes and 1 pockets "
        "(nothing is left)"
    )


@pytest.mark.parametrize(
    ("part", "operation"),
    [
        (replace(PLAIN, outline=Outline(polygon([(0, 0), (50, 0)]))), "extrude the outline"),
        (replace(PLAIN, holes=(Hole(50, 50, -1.0, 5.0),)), "drill -1 mm at (50, 50)"),
        (
            replace(PLAIN, pockets=(Pocket(circle(50, 50, 0.0), 3.0),)),
            "shape a groove 3 mm deep",
        ),
        (
            Item(name="flat", module="m", pieces=(((0, 0, 0), (1, 0, 0), (0, 1, 0)),), mass_kg=1.0,
                 placement=SKEW),
            "make convex piece 1 of 1",
        ),
    ],
)  # fmt: skip
def test_the_kernels_own_errors_are_caught_at_the_border(part, operation):
    with pytest.raises(SolidError) as caught:
        local_solid(part)
    assert caught.value.operation == operation
    assert caught.value.__cause__ is not None
