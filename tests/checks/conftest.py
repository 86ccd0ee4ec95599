"""Designs as text through the whole flow, and fit-outs put together by hand."""

import dataclasses
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

import dossiers
import pytest

from fitout import catalogue, workflow
from fitout.checks import Subject, subject_of
from fitout.model.bay import Bay
from fitout.model.cutting import CuttingSpec
from fitout.model.design import BaySpec, ClearanceSpec, OpeningSpec, SectionSpec
from fitout.model.finding import Finding, Severity
from fitout.model.item import Item, block
from fitout.model.module import Berth, Fitout, Joint, JointKind, Module
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Panel
from fitout.model.placement import flat
from fitout.model.spec import Measured
from fitout.model.stock import Board
from fitout.modules.kind import Setting
from fitout.survey.bay import build_bay
from fitout.workflow import Evaluation

Span = tuple[float, float]

DESIGN = """fitout: 1
name: Test van
bay:
  sections: [{{at: 0, widths: {{0: {width}}}, roof: 900}}]
  {front}
  opening: {{height: 803, widths: {{0: {width}}}}}
  {bay}
  anchors:
    - {{name: a1, at: [150, 300], below: {below}}}
    - {{name: a2, at: [150, -300], below: clear}}
    - {{name: a3, at: [800, 300], below: clear}}
    - {{name: a4, at: [800, -300], below: clear}}
items:
  fridge: {{size: 500 x 300 x 300, mass: 15 kg, contents: {fridge}, vents: [left],
    lid: {{hinge: left, opens: 90 deg}}}}
  tank: {{size: 150 x 600 x 250, mass: 3 kg, holds: 20 l}}
{more}
modules:
  {modules}
"""

USUAL = {
    "width": "1200",
    "front": "front_wall: 1000",
    "bay": "",
    "below": "clear",
    "fridge": "10 kg",
    "more": "",
}


@pytest.fixture
def design_text() -> Callable[..., str]:
    """A design file of modules, one a line; keywords replace what is usual in it."""

    def write(*modules: str, **entries: str) -> str:
        return DESIGN.format(**{**USUAL, **entries, "modules": "\n  ".join(modules)})

    return write


@pytest.fixture
def evaluated(design_text: Callable[..., str], tmp_path: Path) -> Callable[..., Evaluation]:
    """Everything worked out from a design file; see `design_text`."""

    def evaluate(*modules: str, **entries: str) -> Evaluation:
        path = tmp_path / "design.yaml"
        path.write_text(design_text(*modules, **entries), encoding="utf-8", newline="\n")
        return workflow.evaluate(workflow.load(path))

    return evaluate


@pytest.fixture
def only() -> Callable[..., list[Finding]]:
    """The findings of a code, and of a severity if one is given."""

    def choose(found: Any, code: str, severity: Severity | None = None) -> list[Finding]:
        listed: Iterable[Finding] = getattr(found, "findings", found)
        return [f for f in listed if f.code == code and severity in (None, f.severity)]

    return choose


BOARD = Board(
    key="test ply 10",
    nominal=10.0,
    thickness=10.0,
    thickness_tolerance=0.3,
    density_kg_m3=700.0,
    length=2500.0,
    width=1250.0,
    e_along_mpa=10000.0,
    e_across_mpa=6000.0,
    shear_mpa=600.0,
    strength_along_mpa=40.0,
    strength_across_mpa=30.0,
    source="invented",
)


@pytest.fixture
def board() -> Board:
    """An invented plywood of 10 mm and 700 kg/m³."""
    return BOARD


@pytest.fixture
def panel() -> Callable[..., Panel]:
    """A panel lying flat over x and y, its underside at z, as thick as its board."""

    def make(
        id_: str, x: Span, y: Span, z: float = 0.0, board: Board = BOARD, **rest: Any
    ) -> Panel:
        module, name = id_.split("/")
        outline = Outline(rectangle(x[1] - x[0], y[1] - y[0]))
        place = flat(x[0], y[0], z)
        return Panel(
            name=name, module=module, outline=outline, board=board, placement=place, **rest
        )

    return make


@pytest.fixture
def item() -> Callable[..., Item]:
    """A block of 4 kg, bought in."""

    def make(id_: str, x: Span, y: Span, z: Span, **rest: Any) -> Item:
        module, name = id_.split("/")
        size = block(x[1] - x[0], y[1] - y[0], z[1] - z[0])
        entries = {"mass_kg": 4.0, "placement": flat(x[0], y[0], z[0]), **rest}
        return Item(name=name, module=module, pieces=(size,), **entries)

    return make


@pytest.fixture
def module() -> Callable[..., Module]:
    """A module of parts; keywords are its other entries."""

    def make(name: str, *parts: Any, kind: str = "box", in_bay: bool = True, **rest: Any) -> Module:
        whole = Berth(x0=0.0, x1=1000.0, y0=-600.0, y1=600.0, z0=0.0, z1=900.0)
        return Module(
            name=name,
            kind=kind,
            berth=whole if in_bay else None,
            panels=tuple(p for p in parts if isinstance(p, Panel)),
            items=tuple(p for p in parts if isinstance(p, Item)),
            **rest,
        )

    return make


@pytest.fixture
def plain_bay() -> Bay:
    """A box 1200 wide, 900 high, a wall ahead at 1000."""
    section = SectionSpec(at=Measured(0.0), widths={0.0: Measured(1200.0)}, roof=Measured(900.0))
    return build_bay(BaySpec(sections=(section,), front_wall=Measured(1000.0)))


@pytest.fixture
def narrow_bay() -> Bay:
    """The plain bay behind an opening 600 wide and 700 high."""
    section = SectionSpec(at=Measured(0.0), widths={0.0: Measured(1200.0)}, roof=Measured(900.0))
    opening = OpeningSpec(height=Measured(700.0), widths={0.0: Measured(600.0)})
    spec = BaySpec(sections=(section,), front_wall=Measured(1000.0), opening=opening)
    return build_bay(spec)


@pytest.fixture
def subject(plain_bay: Bay) -> Callable[..., Subject]:
    """What is checked, of hand-made modules in a plain bay."""
    rows = catalogue.load({})
    plain = Setting(
        bay=plain_bay,
        boards={role: rows.sheets[key] for role, key in catalogue.DEFAULT_BOARDS.items()},
        items={},
        catalogue=rows,
        rules=ClearanceSpec(),
        specs={},
    )

    def put_together(
        *modules: Module,
        joints: Iterable[Joint] = (),
        conflicts: Any = (),
        bay: Bay = plain_bay,
        **rules: float,
    ) -> Subject:
        setting = dataclasses.replace(plain, bay=bay, rules=ClearanceSpec(**rules))
        fitout = Fitout(name="Test van", bay=bay, modules=modules, joints=tuple(joints))
        return subject_of(fitout, setting, CuttingSpec(), tuple(conflicts))

    return put_together


@pytest.fixture(scope="session")
def demo() -> Callable[[str], Subject]:
    """What is checked of an example design, by its file's name; worked out once."""
    return lambda name: dossiers.evaluated(name).subject


def _of_blocks(id_: str, *blocks: tuple[Span, Span, Span]) -> Item:
    """A bought-in thing made of blocks."""
    module, name = id_.split("/")
    pieces = tuple(
        block(x[1] - x[0], y[1] - y[0], z[1] - z[0], (x[0], y[0], z[0])) for x, y, z in blocks
    )
    return Item(name=name, module=module, pieces=pieces, mass_kg=4.0, placement=flat(0, 0, 0))


def _ring(id_: str) -> Item:
    """A ring across the bay with a hole 100 wide and high."""
    x = (400.0, 450.0)
    sides = ((x, (50.0, 100.0), (100.0, 300.0)), (x, (-100.0, -50.0), (100.0, 300.0)))
    return _of_blocks(
        id_, *sides, (x, (-50.0, 50.0), (100.0, 150.0)), (x, (-50.0, 50.0), (250.0, 300.0))
    )


def _dumbbell(id_: str) -> Item:
    """A bar through that ring with plates at both ends that don't go through its hole."""
    bar = ((350.0, 500.0), (-20.0, 20.0), (180.0, 220.0))
    plates = [(x, (-80.0, 80.0), (120.0, 280.0)) for x in ((340.0, 350.0), (500.0, 510.0))]
    return _of_blocks(id_, bar, *plates)


@pytest.fixture
def hooked(subject: Callable[..., Subject], module: Callable[..., Module]) -> Subject:
    """A ring and a dumbbell through it, each a module of its own."""
    return subject(module("a", _ring("a/ring")), module("b", _dumbbell("b/dumbbell")))


@pytest.fixture
def hooked_in_one(subject: Callable[..., Subject], module: Callable[..., Module]) -> Subject:
    """The same two screwed to each other in one module."""
    screwed = Joint("a/ring", "a/dumbbell", JointKind.SCREWED)
    return subject(module("a", _ring("a/ring"), _dumbbell("a/dumbbell"), joints=(screwed,)))


@pytest.fixture
def block_subject(
    subject: Callable[..., Subject], module: Callable[..., Module]
) -> Callable[[list[tuple[Span, Span, Span]]], Subject]:
    """Blocks in the plain bay, each a module of its own."""

    def put_together(blocks: list[tuple[Span, Span, Span]]) -> Subject:
        return subject(
            *(module(f"m{k}", _of_blocks(f"m{k}/x", spans)) for k, spans in enumerate(blocks))
        )

    return put_together
