import os
import pickle
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from fitout.documents.colours import COLOURS
from fitout.documents.solids import SolidError
from fitout.documents.step import assembly_step
from fitout.model.item import Item, block, frustum
from fitout.model.module import Fitout, Module
from fitout.model.outline import Outline, polygon, rectangle, rounded, slot
from fitout.model.panel import Bar, Face, Hole, Panel, Pocket
from fitout.model.placement import Placement, across, along, flat
from fitout.model.stock import Board, Section

ROOT = Path(__file__).parents[2]
PLY = Board(
    key="ply", nominal=12.0, thickness=11.8, thickness_tolerance=0.5, density_kg_m3=680.0,
    length=2440.0, width=1220.0,
)  # fmt: skip
FOAM = replace(PLY, key="foam", kind="foam")
TUBE = Section(
    key="tube", width=40.0, height=20.0, wall=2.0, density_kg_m3=2700.0, stock_length=6000.0
)


def drawers() -> Module:
    side = Panel(
        name="side left", module="drawers", board=PLY, placement=along(0.0, 200.0, 10.0 / 3.0),
        outline=Outline(rounded(rectangle(480.0, 160.0), 12.0), (slot(180, 120, 300, 120, 30.0),)),
        holes=(Hole(40.0, 60.0, 5.0), Hole(440.0, 60.0, 35.0, 9.0, face=Face.B)),
        pockets=(Pocket(rectangle(480.0, 6.6, 0.0, 14.0), 5.0, face=Face.B),),
    )  # fmt: skip
    return Module(
        name="drawers", kind="drawers", berth=None,
        panels=(
            side,
            replace(side, name="side right", placement=along(0.0, 0.0, 10.0 / 3.0)),
            replace(side, name="side in foam", board=FOAM, placement=along(0.0, 400.0, 0.0)),
            replace(side, name="front", holes=(), placement=across(480.0, 0.0, 0.0)),
            replace(side, name="scribed", holes=(), pockets=(),
                    outline=Outline(polygon([(0, 0), (310, 4), (300, 170), (20, 140)])),
                    placement=Placement((0.1, 0.2, 0.3), (0.6, 0.64, 0.48), (0.8, -0.48, -0.36))),
        ),
    )  # fmt: skip


@pytest.fixture
def fitout() -> Fitout:
    fridge = Item(
        name="Kühlbox '冷'", module="fridge \\ slide", mass_kg=21.0, placement=flat(0, -400, 0),
        pieces=(block(600.0, 350.0, 400.0), frustum((300, 300), (250, 250), 60.0)),
    )  # fmt: skip
    bar = Bar(
        name="leg", module="fridge \\ slide", section=TUBE, length=300.0,
        placement=across(0.0, -450.0, 0.0), holes=((30.0, 6.5),),
    )  # fmt: skip
    slide = Module(name="fridge \\ slide", kind="x", berth=None, items=(fridge,), bars=(bar,))
    empty = Module(name="nothing", kind="x", berth=None)
    return Fitout(name="Two-week tourer", bay=None, modules=(drawers(), slide, empty))  # type: ignore[arg-type]


class Read:
    """A STEP file as OCC reads it: the tree of names, and each part's solid and colour."""

    def __init__(self, content: bytes, folder: Path) -> None:
        from OCP.STEPCAFControl import STEPCAFControl_Reader
        from OCP.TCollection import TCollection_ExtendedString
        from OCP.TDocStd import TDocStd_Document
        from OCP.XCAFDoc import XCAFDoc_DocumentTool

        path = folder / "read.step"
        path.write_bytes(content)
        self.document = TDocStd_Document(TCollection_ExtendedString("XmlXCAF"))
        reader = STEPCAFControl_Reader()
        reader.SetColorMode(True)
        reader.SetNameMode(True)
        reader.ReadFile(str(path))
        assert reader.Transfer(self.document)
        self.shapes = XCAFDoc_DocumentTool.ShapeTool_s(self.document.Main())
        self.colours = XCAFDoc_DocumentTool.ColorTool_s(self.document.Main())
        self.tree: dict[str, list[str]] = {}
        self.solids: dict[str, object] = {}
        self.paints: dict[str, tuple[float, float, float]] = {}
        self.products: dict[str, str] = {}
        self._roots()

    def _roots(self) -> None:
        from OCP.TDF import TDF_LabelSequence
        from OCP.TopLoc import TopLoc_Location

        roots = TDF_LabelSequence()
        self.shapes.GetFreeShapes(roots)
        assert roots.Length() == 1
        self.root = self._name(roots.Value(1))
        self._walk(roots.Value(1), self.root, TopLoc_Location())

    def _walk(self, assembly, path, location) -> None:
        from OCP.TDF import TDF_Label, TDF_LabelSequence

        components = TDF_LabelSequence()
        self.shapes.GetComponents_s(assembly, components)
        for k in range(1, components.Length() + 1):
            component, product = components.Value(k), TDF_Label()
            self.shapes.GetReferredShape_s(component, product)
            name = self._name(component)
            self.tree.setdefault(path, []).append(name)
            placed = location.Multiplied(self.shapes.GetLocation_s(component))
            if self.shapes.IsAssembly_s(product):
                self._walk(product, name, placed)
            else:
                shape = self.shapes.GetShape_s(product)
                self.solids[name] = shape.Moved(placed)
                self.products[name] = self._name(product)
                self.paints[name] = self._paint(shape)

    def _name(self, label) -> str:
        from OCP.TDataStd import TDataStd_Name

        attribute = TDataStd_Name()
        assert label.FindAttribute(TDataStd_Name.GetID_s(), attribute)
        return attribute.Get().ToExtString()

    def _paint(self, shape) -> tuple[float, float, float]:
        from OCP.Quantity import Quantity_Color, Quantity_TypeOfColor
        from OCP.TopAbs import TopAbs_ShapeEnum
        from OCP.TopExp import TopExp_Explorer
        from OCP.XCAFDoc import XCAFDoc_ColorType

        paint = Quantity_Color()
        solid = TopExp_Explorer(shape, TopAbs_ShapeEnum.TopAbs_SOLID).Current()
        assert self.colours.GetColor(solid, XCAFDoc_ColorType.XCAFDoc_ColorSurf, paint)
        return paint.Values(Quantity_TypeOfColor.Quantity_TOC_sRGB)


def properties(shape):
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    found = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, found)
    return found


def volume(shape) -> float:
    return properties(shape).Mass()


def centroid(shape) -> tuple[float, float, float]:
    centre = properties(shape).CentreOfMass()
    return centre.X(), centre.Y(), centre.Z()


def test_the_tree_names_modules_and_parts(fitout, tmp_path):
    read = Read(assembly_step(fitout), tmp_path)
    assert read.root == "Two-week tourer"
    assert read.tree == {
        "Two-week tourer": ["drawers", "fridge \\ slide"],
        "drawers": [p.id for p in fitout.modules[0].panels],
        "fridge \\ slide": ["fridge \\ slide/leg", "fridge \\ slide/Kühlbox '冷'"],
    }


def test_every_panel_is_read_back_with_its_volume_and_place(fitout, tmp_path):
    read = Read(assembly_step(fitout), tmp_path)
    for panel in fitout.panels():
        assert volume(read.solids[panel.id]) == pytest.approx(panel.volume, rel=1e-6)
        assert centroid(read.solids[panel.id]) == pytest.approx(panel.centroid, abs=1e-4)


def test_alike_parts_of_one_material_share_a_shape(fitout, tmp_path):
    products = Read(assembly_step(fitout), tmp_path).products
    assert products["drawers/side right"] == products["drawers/side left"] == "drawers/side left"
    assert products["drawers/side in foam"] == "drawers/side in foam"
    assert products["drawers/front"] == "drawers/front"


def test_colours_follow_the_material(fitout, tmp_path):
    paints = Read(assembly_step(fitout), tmp_path).paints
    for name, kind in (
        ("drawers/side right", "plywood"),
        ("drawers/side in foam", "foam"),
        ("fridge \\ slide/leg", "metal"),
        ("fridge \\ slide/Kühlbox '冷'", "item"),
    ):
        assert paints[name] == pytest.approx(COLOURS[kind], abs=1e-5)


def test_two_processes_with_other_hash_seeds_write_the_same_bytes(fitout):
    # A first file, so that whatever the kernel counts over a process's life has moved on.
    assembly_step(fitout)
    here = assembly_step(fitout)
    program = (
        "import pickle, sys\n"
        "from fitout.documents.step import assembly_step\n"
        "sys.stdout.buffer.write(assembly_step(pickle.load(sys.stdin.buffer)))"
    )
    environment = os.environ | {"PYTHONHASHSEED": "12345", "PYTHONPATH": str(ROOT)}
    there = subprocess.run(
        [sys.executable, "-c", program],
        input=pickle.dumps(fitout), capture_output=True, check=True, env=environment, cwd=ROOT,
    )  # fmt: skip
    assert there.stdout == here


def test_the_text_is_plain_and_undated(fitout):
    text = assembly_step(fitout).decode("ascii")
    assert text.startswith("ISO-10303-21;\nHEADER;\n")
    assert "'1970-01-01T00:00:00'" in text
    assert r"K\X2\00FC\X0\hlbox ''\X2\51B7\X0\''" in text
    assert not re.search(r"E-1\d|-0\.[,)]|mark\d{6}", text)
    numbers = re.findall(r"^#(\d+) = ", text, re.MULTILINE)
    assert numbers == [str(n + 1) for n in range(len(numbers))]


def test_nothing_is_printed(fitout, capfd):
    assembly_step(fitout)
    assert capfd.readouterr() == ("", "")


def test_names_beyond_the_basic_plane_are_spelt_with_eight_digits(fitout, tmp_path):
    odd = replace(fitout.modules[0].panels[0], name="lid 🚐")
    module = replace(fitout.modules[0], panels=(odd,))
    content = assembly_step(replace(fitout, modules=(module,)))
    assert b"lid \\X4\\0001F690\\X0\\'" in content
    assert "drawers/lid 🚐" in Read(content, tmp_path).solids


def test_a_part_that_cannot_be_made_is_named(fitout):
    bad = replace(fitout.modules[0].panels[0], outline=Outline(polygon([(0, 0), (9, 0)])))
    module = replace(fitout.modules[0], panels=(bad,))
    with pytest.raises(SolidError, match="module drawers, part side left"):
        assembly_step(replace(fitout, modules=(module,)))
