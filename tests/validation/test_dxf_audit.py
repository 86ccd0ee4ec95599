"""Cut files pass the audit of ezdxf's forgiving reader, which repairs what it finds wrong."""

import io

import pytest
from ezdxf import recover

from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import nest
from fitout.documents.dxf import part_dxf, sheet_dxf
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Outline, circle, rectangle, rounded
from fitout.model.panel import Grain, Hole, Panel, Pocket
from fitout.model.placement import Placement
from fitout.model.stock import Board

BOARD = Board(
    key="ply 12", nominal=12.0, thickness=11.8, thickness_tolerance=0.4,
    density_kg_m3=680.0, length=2440.0, width=1220.0,
)  # fmt: skip
PANELS = [
    Panel(
        name=f"Fach {i}, größer",
        module="box",
        outline=Outline(rounded(rectangle(300.0 + 60 * i, 200.0), 12.0), (circle(90, 90, 40),)),
        board=BOARD,
        placement=Placement(),
        holes=(Hole(150, 30, 5.0), Hole(180, 30, 5.0, 8.0)),
        pockets=(Pocket(rectangle(120, 6.5, 60, 150), 5.0),),
        grain=grain,
    )
    for i, grain in enumerate([*Grain, *Grain])
]
CUTS = cut_list(PANELS)
PLAN = nest(CUTS, CuttingSpec())


def files():
    parts = [(line.number, part_dxf(line)) for line in CUTS.lines]
    return parts + [(sheet.number, sheet_dxf(sheet, PLAN)) for sheet in PLAN.sheets]


@pytest.mark.parametrize(
    ("name", "data"), files(), ids=lambda value: value if isinstance(value, str) else ""
)
def test_nothing_to_repair(name, data):
    drawing, audit = recover.read(io.BytesIO(data))
    assert not audit.errors
    assert not audit.fixes
    assert drawing.units == 4
    assert any(text.dxf.text in {name, "P01"} for text in drawing.modelspace().query("TEXT"))
