"""Designs by their modules in a plain bay, and puzzles of hand-made needs."""

import dataclasses
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import pytest

from fitout import catalogue, design_file
from fitout.arrange import Arrangement, Conflict, expanded
from fitout.arrange import arrange as arrange_modules
from fitout.arrange.puzzle import Ask, Puzzle
from fitout.model.design import ModuleSpec
from fitout.model.module import Berth
from fitout.modules.kind import Extent, Needs, Setting
from fitout.modules.registry import KINDS
from fitout.survey.bay import build_bay

SPECS = {kind.kind: kind.spec for kind in KINDS}
NAMES = catalogue.names()
ROWS = catalogue.load({})

DESIGN = """fitout: 1
name: Test
bay:
  sections: [{{at: 0, widths: {{0: 1200}}, roof: 900}}]
  opening: {opening}
  {bay}
items:
  fridge: {{size: 500 x 300 x 300, mass: 15 kg, contents: 10 kg}}
  tank: {{size: 150 x 600 x 250, mass: 3 kg, holds: 20 l}}
  can: {{size: 200 x 300 x 300, mass: 2 kg, holds: 10 l}}
modules:
  {modules}
"""

WALL = "front_wall: 1000"
OPENING = "{height: 803, widths: {0: 1200}}"


@dataclass(frozen=True, kw_only=True)
class Arranged:
    """What a design's modules come to."""

    setting: Setting
    result: Arrangement

    @property
    def berths(self) -> Mapping[str, Berth]:
        return self.result.berths

    @property
    def conflicts(self) -> tuple[Conflict, ...]:
        return self.result.conflicts

    def span(self, name: str, axis: str) -> tuple[float, float]:
        berth = self.berths[name]
        return getattr(berth, f"{axis}0"), getattr(berth, f"{axis}1")


@pytest.fixture
def arranged() -> Callable[..., Arranged]:
    """Berths for modules given as lines of a design file, in a bay 1200 × 1000 × 900."""

    def arrange(*modules: str, bay: str = WALL, opening: str = OPENING) -> Arranged:
        text = DESIGN.format(bay=bay, opening=opening, modules="\n  ".join(modules))
        design = design_file.read_text(text, "test.yaml", SPECS, NAMES)
        setting = Setting(
            bay=build_bay(design.bay),
            boards={role: ROWS.sheets[key] for role, key in catalogue.DEFAULT_BOARDS.items()},
            items=design.items,
            catalogue=ROWS,
            rules=design.clearances,
            specs={name: spec for name, (_, spec) in expanded(design.modules).items()},
        )
        result = arrange_modules(setting)
        return Arranged(setting=setting, result=result)

    return arrange


@pytest.fixture
def setting(arranged: Callable[..., Arranged]) -> Setting:
    """The plain bay's setting, without modules."""
    whole = arranged("box: {kind: box}").setting
    return dataclasses.replace(whole, specs={}, berths={}, deck=None)


def extent(size: Any) -> Extent:
    """A fixed size from a number, a filling extent from None, an extent as it stands."""
    if size is None:
        return Extent(least=100.0, fills=True)
    return size if isinstance(size, Extent) else Extent(least=size, most=size, given="depth")


@pytest.fixture
def ask() -> Callable[..., Ask]:
    """A module by its sizes (a number is fixed, None fills) and its relations."""

    def make(
        name: str, x: Any, y: Any, z: Any, spec: ModuleSpec | None = None, **needs: Any
    ) -> Ask:
        sizes = Needs(x=extent(x), y=extent(y), z=extent(z), **needs)
        return Ask(name=name, spec=spec or ModuleSpec(), needs=sizes)

    return make


@pytest.fixture
def puzzle(setting: Setting) -> Callable[..., Puzzle]:
    return lambda *asks: Puzzle(setting=setting, asks=asks)
