"""Grooves and rebates in a cut list and in the layers of its cut files; grain; many parts."""

import csv
import io
from pathlib import Path

import pytest

from fitout import workflow
from fitout.checks import Memory
from fitout.cutting.cut_list import cut_list
from fitout.cutting.nest import Effort, nest
from fitout.documents.dxf import shapes
from fitout.documents.tables import cutlist_csv
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Face, Grain, Panel, Pocket
from fitout.model.placement import flat
from fitout.model.stock import Board

DEMOS = sorted((Path(__file__).parents[2] / "designs").glob("*.yaml"))


def board(*, grain=True):
    return Board(
        key="sheet 12",
        nominal=12.0,
        thickness=11.8,
        thickness_tolerance=0.4,
        density_kg_m3=680.0,
        length=2440.0,
        width=1220.0,
        grain=grain,
    )


def panel(name, length, width, *pockets, grain=Grain.ALONG_U, of=None):
    return Panel(
        name=name,
        module="box",
        outline=Outline(rectangle(length, width)),
        board=of or board(),
        placement=flat(0.0, 0.0, 0.0),
        pockets=pockets,
        grain=grain,
    )


def rows(cuts):
    return list(csv.DictReader(io.StringIO(cutlist_csv(cuts).decode("utf-8-sig"))))


def test_grooves_and_rebates_are_told_with_their_depth():
    groove = Pocket(rectangle(300.0, 6.7, 50.0, 40.0), 6.0)
    rebate = Pocket(rectangle(400.0, 8.0, 0.0, 192.0), 5.0, "rebate")
    beneath = Pocket(rectangle(60.0, 60.0, 100.0, 100.0), 3.0, "pocket", Face.B)
    cuts = cut_list([panel("side", 400.0, 200.0, groove, rebate, beneath)])
    (row,) = rows(cuts)
    assert row["grooves and pockets"].split("; ") == [
        "1 x groove 6.0 deep",
        "1 x rebate 5.0 deep",
        "1 x pocket 3.0 deep from face B",
    ]
    layers = [layer for layer, _ in shapes(cuts.lines[0].panel) if layer.startswith("SINK")]
    assert layers == ["SINK_0060_FACE_A", "SINK_0050_FACE_A", "SINK_0030_FACE_B"]


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.stem)
def test_all_that_is_sunk_in_a_demo_is_told_and_has_its_layer(demo):
    subject = workflow.prepared(workflow.load(demo), Memory())
    cuts = cut_list(subject.fitout.panels())
    assert any(line.panel.pockets for line in cuts.lines)
    for line, row in zip(cuts.lines, rows(cuts), strict=True):
        told = row["grooves and pockets"]
        listed = [part.split(" x ")[0] for part in told.split("; ") if part]
        assert sum(int(count) for count in listed) == len(line.panel.pockets)
        sunk = {layer for layer, _ in shapes(line.panel) if layer.startswith("SINK")}
        depths = {f"SINK_{round(10 * p.depth):04d}_FACE_{p.face}" for p in line.panel.pockets}
        assert sunk == depths


def test_a_material_without_grain_holds_no_part_to_it():
    cuts = cut_list([panel("a", 2300.0, 300.0, of=board(grain=False))])
    (row,) = rows(cuts)
    assert row["grain"] == "either way"
    across = cut_list([panel("b", 300.0, 2300.0, of=board(grain=False))])
    assert not nest(across, CuttingSpec(), Effort(work=0)).unplaced
    # With a grain the same part lies across it and is too wide.
    (large,) = nest(cut_list([panel("b", 300.0, 2300.0)]), CuttingSpec(), Effort(work=0)).unplaced
    assert large.too_wide == pytest.approx(2300.0 - 1200.0)


@pytest.mark.parametrize(("by", "count"), [("saw", 900), ("router", 300)])
def test_very_many_parts_are_laid_each_once(by, count):
    parts = [panel(f"p{i}", 80.0 + i % 41, 60.0 + i % 29) for i in range(count)]
    cuts = cut_list(parts)
    plan = nest(cuts, CuttingSpec(by=by), Effort(work=0))
    assert not plan.unplaced
    copies = [(placed.number, placed.copy) for sheet in plan.sheets for placed in sheet.placed]
    assert len(copies) == len(set(copies)) == len(parts)
    assert sum(line.quantity for line in cuts.lines) == len(parts)
