"""What can't be cut with the router's bit, or at all, is told with its place and a cure."""

import dataclasses
from types import SimpleNamespace

import pytest

from fitout.checks import Memory
from fitout.checks.routing import check_routing
from fitout.model.cutting import CuttingSpec
from fitout.model.finding import Severity
from fitout.model.outline import Loop, Outline, Vertex, rectangle
from fitout.model.panel import Panel, Pocket
from fitout.model.placement import Placement
from fitout.model.stock import Board

BOARD = Board(
    key="ply", nominal=12.0, thickness=11.8, thickness_tolerance=0.4,
    density_kg_m3=680.0, length=2440.0, width=1220.0,
)  # fmt: skip
SIDE = Panel(
    name="side", module="drawers", board=BOARD, placement=Placement(),
    outline=Outline(rectangle(400, 150)), pockets=(Pocket(rectangle(400, 5.2, 0, 12), 5.0),),
)  # fmt: skip


def found(panel, spec):
    fitout = SimpleNamespace(panels=lambda: [panel])
    subject = SimpleNamespace(cutting=spec, fitout=fitout, memory=Memory())
    return list(check_routing(subject))


def test_a_groove_narrower_than_the_bit_is_a_caution_with_a_cure():
    (told,) = found(SIDE, CuttingSpec(by="router", kerf=6.0))
    assert told.severity is Severity.CAUTION
    assert told.value == 5.0
    assert told.limit == 6.0
    assert "the groove of drawers/side" in told.sentence
    assert "5 mm or less" in told.sentence


@pytest.mark.parametrize(
    "spec",
    [
        CuttingSpec(by="router", kerf=5.0),
        CuttingSpec(by="saw", kerf=6.0),
        CuttingSpec(by={"ply": "saw", "others": "router"}, kerf=6.0),
    ],
)
def test_a_finer_bit_or_a_saw_has_no_trouble(spec):
    assert found(SIDE, spec) == []


def test_a_crossed_outline_fails_however_it_is_cut():
    tie = Loop((Vertex(0, 0), Vertex(100, 60), Vertex(100, 0), Vertex(0, 60)))
    crossed = dataclasses.replace(SIDE, outline=Outline(tie), pockets=())
    for by in ("saw", "router"):
        (told,) = found(crossed, CuttingSpec(by=by))
        assert told.severity is Severity.FAIL
        assert "drawers/side crosses itself 50.0 mm along and 30.0 mm across" in told.sentence
