"""Drawers, bins and boxes of any size: every latch meets its striker, every hole has its wood."""

import dataclasses
import math

from hypothesis import given, settings
from hypothesis import strategies as st

from fitout.catalogue import DEFAULT_BOARDS, load
from fitout.checks.latch_fit import faults, meeting
from fitout.model.design import BaySpec, ClearanceSpec, SectionSpec
from fitout.model.module import Berth, Module, MotionKind
from fitout.model.panel import Panel
from fitout.model.spec import Measured
from fitout.modules.box import BoxSpec
from fitout.modules.box import build as build_box
from fitout.modules.drawers import DrawerSpec, DrawersSpec
from fitout.modules.drawers import build as build_drawers
from fitout.modules.kind import Setting
from fitout.modules.side_bin import SideBinSpec
from fitout.modules.side_bin import build as build_bin
from fitout.survey.bay import build_bay

CATALOGUE = load()
BAY = build_bay(
    BaySpec(
        sections=(
            SectionSpec(
                at=Measured(0.0),
                widths={0.0: Measured(1500.0), 700.0: Measured(1400.0)},
                roof=Measured(1200.0),
            ),
        ),
        front_wall=Measured(1900.0),
    )
)
THICKNESS = st.integers(90, 183).map(lambda n: n / 10.0)
LEAST_WOOD = 2.0
"""Between any two holes, mm: less splits off."""


def setting(thickness: float, lid: float) -> Setting:
    boards = {role: CATALOGUE.sheets[key] for role, key in DEFAULT_BOARDS.items()}
    for role in ("carcass", "drawer", "front", "deck", "lid"):
        thick = lid if role in ("lid", "deck") else thickness
        boards[role] = dataclasses.replace(boards[role], thickness=thick)
    return Setting(
        bay=BAY, boards=boards, items={}, catalogue=CATALOGUE, rules=ClearanceSpec(), specs={}
    )


def judge(module: Module) -> None:
    motions = {m.name: m for m in module.motions}
    parts = {p.id: p for p in module.parts()}
    for latch in module.latches:
        assert list(faults(latch, motions[latch.motion], parts)) == []
        met = meeting(latch)
        assert met.engagement >= 5.0
        assert met.run >= 1.5
        for id_ in (latch.panel, latch.striker_panel):
            panel = parts[id_]
            assert isinstance(panel, Panel)
            holes = [h for h in panel.holes if h.purpose in ("latch", "striker", "latch button")]
            assert holes
            for hole in holes:
                for other in panel.holes:
                    if other is not hole:
                        apart = math.hypot(hole.x - other.x, hole.y - other.y)
                        assert apart >= (hole.diameter + other.diameter) / 2.0 + LEAST_WOOD


@settings(deadline=None, max_examples=25)
@given(
    THICKNESS,
    THICKNESS,
    st.integers(300, 1200),
    st.integers(140, 260),
    st.integers(1, 3),
    st.sampled_from([None, "latch"]),
)
def test_drawers(t, deck, width, height, count, pull) -> None:
    spec = DrawersSpec(pull=pull, slides="full extension", stack=(DrawerSpec(),) * count)
    berth = Berth(
        x0=60.0, x1=850.0, y0=-width / 2.0, y1=width / 2.0, z0=0.0, z1=float(count * height + 30)
    )
    module = build_drawers("drawers", spec, berth, setting(t, deck))
    assert {latch.motion for latch in module.latches} == {m.name for m in module.motions}
    judge(module)


@settings(deadline=None, max_examples=25)
@given(THICKNESS, THICKNESS, st.integers(200, 900), st.integers(200, 800))
def test_lids_of_boxes(t, lid, width, length) -> None:
    berth = Berth(x0=50.0, x1=50.0 + length, y0=-width / 2.0, y1=width / 2.0, z0=0.0, z1=300.0)
    module = build_box("box", BoxSpec(lid="lift"), berth, setting(t, lid))
    swings = {m.name for m in module.motions if m.kind is MotionKind.HINGE}
    assert {latch.motion for latch in module.latches} == swings
    judge(module)


@settings(deadline=None, max_examples=25)
@given(
    THICKNESS,
    THICKNESS,
    st.sampled_from(["left", "right"]),
    st.integers(380, 560),
    st.integers(300, 500),
    st.integers(500, 1700),
)
def test_lids_of_bins(t, lid, side, inner, deck, length) -> None:
    y0, y1 = (inner, 700.0) if side == "left" else (-700.0, -inner)
    berth = Berth(x0=20.0, x1=20.0 + length, y0=y0, y1=y1, z0=0.0, z1=float(deck))
    module = build_bin("bin", SideBinSpec(sides=side), berth, setting(t, lid))
    assert {latch.motion for latch in module.latches} == {m.name for m in module.motions}
    judge(module)
