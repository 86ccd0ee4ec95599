"""A small fit-out of the tests' own: two arches, a carcass with a drawer, a fridge, a bar."""

import pytest

from fitout.cutting.cut_list import CutList, cut_list
from fitout.cutting.nest import nest
from fitout.cutting.plan import CutPlan
from fitout.model.cutting import CuttingSpec
from fitout.model.design import ArchSpec, BaySpec, Measured, SeatBackSpec, SectionSpec
from fitout.model.item import Item, block
from fitout.model.module import Fitout, Module
from fitout.model.outline import Outline, circle, polygon, rectangle, rounded, slot
from fitout.model.panel import Bar, Face, Hole, Panel, Pocket
from fitout.model.placement import Placement, across_face_rear, along, flat
from fitout.model.stock import Board, Section
from fitout.survey.bay import build_bay

T = 11.8


@pytest.fixture
def board() -> Board:
    return Board(
        key="birch ply 12",
        nominal=12.0,
        thickness=T,
        thickness_tolerance=0.4,
        density_kg_m3=680.0,
        length=2440.0,
        width=1220.0,
        price=90.0,
    )


@pytest.fixture
def panel(board: Board) -> Panel:
    """A panel with one of everything: arcs, cut-outs, drilled and blind holes, sinks."""
    return Panel(
        name="side",
        module="drawers",
        board=board,
        outline=Outline(
            rounded(polygon([(0, 0), (700, 0), (700, 300), (100, 300), (0, 200)]), 20.0),
            (slot(300, 240, 420, 240, 30), circle(600, 200, 60)),
        ),
        placement=along(100.0, 440.0, 0.0),
        holes=(Hole(60, 100, 4.5, 10.0), Hole(660, 40, 20.0), Hole(60, 60, 5.0)),
        pockets=(
            Pocket(rectangle(600, 6.5, 50, 12), 5.0),
            Pocket(rectangle(30, 30, 450, 100), 6.0, face=Face.B),
        ),
        edging="oiled",
    )


def _plain(module: str, name: str, size: tuple[float, float], at: Placement, board: Board) -> Panel:
    return Panel(
        name=name, module=module, outline=Outline(rectangle(*size)), board=board, placement=at
    )


def _drawers(board: Board, panel: Panel) -> Module:
    width, name = 420.0, "drawers"
    inner = width - 2 * T
    return Module(
        name=name,
        kind="drawers",
        berth=None,
        panels=(
            panel,
            Panel(
                name="side right",
                module=name,
                outline=Outline(rectangle(700.0, 300.0)),
                board=board,
                placement=along(100.0, 440.0 - width + T, 0.0),
            ),
            _plain(name, "top", (700.0, width), flat(100.0, 440.0 - width, 300.0), board),
            _plain(name, "shelf", (680.0, inner), flat(110.0, 440.0 - width + T, 140.0), board),
            _plain(name, "front", (inner - 4, 130.0), across_face_rear(112.0, 426.0, 4.0), board),
            _plain(
                name, "front 2", (inner - 4, 140.0), across_face_rear(112.0, 426.0, 156.0), board
            ),
        ),
    )


def _fridge(board: Board) -> Module:
    name = "fridge"
    body = Item(
        name="box",
        module=name,
        pieces=(block(690.0, 398.0, 470.0),),
        mass_kg=21.0,
        placement=Placement((110.0, -470.0, 20.0)),
    )
    section = Section(
        key="flat 30 x 5", width=30.0, height=5.0, wall=None, density_kg_m3=2700.0,
        stock_length=3000.0,
    )  # fmt: skip
    tray = _plain(name, "tray", (720.0, 420.0), flat(100.0, -480.0, 4.0), board)
    bar = Bar(
        name="strap",
        module=name,
        section=section,
        length=398.0,
        placement=Placement((400.0, -72.0, 490.0), (0.0, -1.0, 0.0), (1.0, 0.0, 0.0)),
        holes=((20.0, 6.0), (378.0, 6.0)),
    )
    return Module(
        name=name, kind="fridge slide", berth=None, panels=(tray,), items=(body,), bars=(bar,)
    )


@pytest.fixture
def fitout(board: Board, panel: Panel) -> Fitout:
    bay = build_bay(
        BaySpec(
            sections=(
                SectionSpec(
                    at=Measured(0.0), widths={0.0: Measured(1046.0), 620.0: Measured(1012.0)},
                    roof=Measured(846.0),
                ),
                SectionSpec(
                    at=Measured(1040.0), widths={0.0: Measured(1264.0), 620.0: Measured(1124.0)},
                    roof=Measured(868.0),
                ),
            ),
            wheel_arches=ArchSpec(
                between=Measured(968.0), start=Measured(318.0), end=Measured(842.0),
                height=Measured(262.0),
            ),
            seat_back=SeatBackSpec(
                foot=Measured(1064.0), leans=Measured(17.0), top=Measured(612.0)
            ),
        )
    )  # fmt: skip
    return Fitout(name="Sample & test", bay=bay, modules=(_drawers(board, panel), _fridge(board)))


@pytest.fixture
def cuts(fitout: Fitout) -> CutList:
    bars = [bar for module in fitout.modules for bar in module.bars]
    return cut_list(fitout.panels(), bars)


@pytest.fixture(params=["saw", "router"])
def plan(cuts: CutList, request: pytest.FixtureRequest) -> CutPlan:
    return nest(cuts, CuttingSpec(by=request.param, kerf=3.2, trim=10.0, spacing=2.0))
