"""What a sheet's cut file holds for a router besides the parts."""

import dataclasses
import io

import ezdxf
import pytest

from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import Effort, nest
from fitout.documents.dxf import part_dxf, sheet_dxf
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Loop, Outline, Vertex, circle, rectangle
from fitout.model.panel import Face, Pocket

ROUTER = CuttingSpec(by="router", kerf=6.0)


def drawn(panels, spec):
    plan = nest(cut_list(panels), spec, Effort(work=0))
    data = sheet_dxf(plan.sheets[0], plan)
    return ezdxf.read(io.StringIO(data.decode("cp1252"))).modelspace()


def layers(space):
    return {entity.dxf.layer for entity in space}


@pytest.fixture
def small(panel):
    return dataclasses.replace(
        panel, outline=Outline(rectangle(200, 120)), holes=(), pockets=(), name="small"
    )


def test_tabs_leads_and_screws(small):
    space = drawn([small], ROUTER)
    assert {"TAB_0015_STANDING", "LEAD_IN", "HOLD_DOWN"} <= layers(space)
    assert "DATUM_PIN" not in layers(space)
    (lead,) = space.query('*[layer=="LEAD_IN"]')
    assert lead.dxf.radius == 3.0


def test_a_saw_needs_none_of_them(small):
    names = layers(drawn([small], CuttingSpec(by="saw")))
    assert names <= {"SHEET", "TEXT", "PERIMETER_0118_THROUGH"}


def test_an_onion_skin_is_told_as_depth(small):
    holed = dataclasses.replace(
        small, outline=Outline(rectangle(200, 120), (circle(100, 60, 40.0),))
    )
    names = layers(drawn([holed], dataclasses.replace(ROUTER, skin=0.3)))
    assert {"PERIMETER_0115_FACE_A", "CUTOUT_0115_FACE_A"} <= names
    assert not any(name.startswith("TAB") or name.endswith("THROUGH") for name in names)


def test_work_from_behind_asks_for_datum_pins(small):
    far = dataclasses.replace(small, pockets=(Pocket(rectangle(50, 20, 20, 20), 4.0, face=Face.B),))
    space = drawn([far], ROUTER)
    assert len(space.query('CIRCLE[layer=="DATUM_PIN"]')) == 2
    assert any("turn over" in text.dxf.text for text in space.query("TEXT"))


def test_arcs_beyond_a_half_circle_are_parted(small):
    """GDAL puts some of them on the wrong side, so other readers may."""
    key = Loop(
        (Vertex(60.0, 40.0), Vertex(90.0, 40.0), Vertex(90.0, 70.0, 1.6), Vertex(60.0, 70.0))
    )
    holed = dataclasses.replace(small, outline=Outline(rectangle(200, 120), (key,)))
    data = part_dxf(cut_list([holed]).lines[0])
    space = ezdxf.read(io.StringIO(data.decode("cp1252"))).modelspace()
    (line,) = space.query('LWPOLYLINE[layer=="CUTOUT_0118_THROUGH"]')
    points = [tuple(map(float, p)) for p in line.get_points("xyb")]
    assert max(abs(bulge) for _, _, bulge in points) <= 1.0
    assert Loop(tuple(Vertex(*p) for p in points)).area == pytest.approx(key.area)
