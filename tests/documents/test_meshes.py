"""Meshes are closed, keep the part's volume, and stand where the part does."""

from dataclasses import replace

import numpy as np
import pytest
from trimesh import Trimesh

from fitout.documents.meshes import in_order, local_mesh, part_mesh
from fitout.model.item import Item, block, frustum
from fitout.model.outline import Outline, polygon, rectangle, rounded, slot
from fitout.model.panel import Bar, Face, Hole, Panel, Pocket
from fitout.model.placement import Placement, across, flat
from fitout.model.stock import Board, Section

PLY = Board(
    key="ply", nominal=12.0, thickness=11.8, thickness_tolerance=0.5, density_kg_m3=680.0,
    length=2440.0, width=1220.0,
)  # fmt: skip
TUBE = Section(
    key="tube", width=40.0, height=20.0, wall=2.0, density_kg_m3=2700.0, stock_length=6000.0
)
SKEW = Placement((0.1, 0.2, 0.3), (0.6, 0.64, 0.48), (0.8, -0.48, -0.36))
PANEL = Panel(
    name="side", module="drawers", board=PLY, placement=SKEW,
    outline=Outline(rounded(rectangle(480.0, 160.0), 12.0), (slot(180, 120, 300, 120, 30.0),)),
    holes=(Hole(40.0, 60.0, 5.0), Hole(90.0, 60.0, 10.0, 8.0), Hole(440.0, 60.0, 35.0, 9.0,
           face=Face.B)),
    pockets=(Pocket(rectangle(480.0, 6.6, 0.0, 14.0), 5.0, face=Face.B),
             Pocket(rectangle(60.0, 6.6, 200.0, 60.0), 5.0)),
)  # fmt: skip
BAR = Bar(
    name="leg", module="frame", section=TUBE, length=300.0, placement=across(0.0, -450.0, 0.0),
    holes=((30.0, 6.5),),
)  # fmt: skip
ITEM = Item(
    name="box", module="frame", mass_kg=1.0, placement=flat(10.0, 20.0, 30.0),
    pieces=(block(600.0, 350.0, 400.0), frustum((300.0, 300.0), (250.0, 250.0), 500.0)),
)  # fmt: skip


def solid(part) -> Trimesh:
    vertices, triangles = part_mesh(part)
    mesh = Trimesh(vertices, triangles, process=False)
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    return mesh


def test_a_panel_keeps_its_volume_and_place():
    mesh = solid(PANEL)
    assert mesh.volume == pytest.approx(PANEL.volume, rel=1e-3)
    assert mesh.center_mass == pytest.approx(PANEL.centroid, abs=0.1)


def test_holes_and_pockets_are_really_there():
    for gone in ({"holes": ()}, {"pockets": ()}):
        plain = replace(PANEL, **gone)
        assert solid(plain).volume == pytest.approx(plain.volume, rel=1e-3)
        assert solid(plain).volume > solid(PANEL).volume
    undrilled = Trimesh(*part_mesh(PANEL, holes=False), process=False)
    expected = replace(PANEL, holes=()).volume
    assert undrilled.volume == pytest.approx(expected, rel=1e-4)


def test_a_rebate_open_at_the_edge_and_holes_that_overlap_are_cut():
    open_rebate = Pocket(rectangle(200.0, 30.0, -10.0, -10.0), 5.0)
    panel = replace(
        PANEL, outline=Outline(rectangle(480.0, 160.0)), pockets=(open_rebate,),
        holes=(Hole(300.0, 80.0, 30.0), Hole(310.0, 80.0, 30.0), Hole(480.0, 80.0, 20.0)),
    )  # fmt: skip
    mesh = solid(panel)
    whole = 480.0 * 160.0 * 11.8
    rebate = 190.0 * 20.0 * 5.0
    # Two circles of radius 15, 10 apart, share a lens; half of the third lies outside.
    lens = 450.0 * np.arccos(1.0 / 3.0) - 5.0 * np.sqrt(800.0)
    drilled = 11.8 * (2.0 * np.pi * 225.0 - lens + np.pi * 50.0)
    assert whole - rebate - mesh.volume == pytest.approx(drilled, rel=0.01)


def test_a_tube_is_hollow_and_drilled():
    mesh = solid(BAR)
    assert mesh.volume == pytest.approx(TUBE.area * 300.0 - 2 * 2.0 * np.pi * 3.25**2, rel=1e-3)
    assert mesh.center_mass == pytest.approx(BAR.centroid, abs=0.3)


def test_an_item_is_the_union_of_its_pieces():
    mesh = solid(ITEM)
    # The frustum stands 100 mm out of the block: its upper fifth.
    top = 100.0 / 3.0 * (250.0**2 + 260.0**2 + 250.0 * 260.0)
    assert mesh.volume == pytest.approx(600.0 * 350.0 * 400.0 + top, rel=1e-6)
    assert mesh.bounds[0] == pytest.approx((10.0, 20.0, 30.0))


def test_parts_alike_have_one_mesh_wherever_they_stand():
    other = replace(PANEL, placement=flat(1.0, 2.0, 3.0), name="other")
    for a, b in zip(local_mesh(PANEL), local_mesh(other), strict=True):
        assert np.array_equal(a, b)


def test_order_does_not_hang_on_how_the_solid_was_made():
    vertices, triangles = local_mesh(PANEL)
    shuffled = np.random.default_rng(1).permutation(len(vertices))
    back = np.argsort(shuffled)
    again = in_order(vertices[shuffled], np.roll(back[triangles], 1, axis=1)[::-1])
    assert np.array_equal(again[0], vertices)
    assert np.array_equal(again[1], triangles)


def test_what_encloses_no_volume_is_refused():
    with pytest.raises(ValueError, match="encloses no volume"):
        part_mesh(replace(PANEL, outline=Outline(polygon([(0, 0), (9, 0)])), pockets=()))
