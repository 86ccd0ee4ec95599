"""A whole design, two small kinds of module and a short catalogue for the reader's tests."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, ClassVar, Literal

import pytest

from fitout.design_file import read_text
from fitout.model.design import Design, ModuleSpec
from fitout.model.spec import Angle, Length, Mass, PositiveLength, Quantity, Ref, Unit, entry


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawerEntries:
    """One drawer."""

    carries: Mass | None = entry("the load it is to carry", default=None)
    front_height: PositiveLength | None = entry("height of its front", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawersEntries(ModuleSpec):
    """Drawers in a carcass."""

    kind: ClassVar[str] = "drawers"

    stack: tuple[DrawerEntries, ...] = entry("the drawers", default=())
    columns: Annotated[int, Quantity(Unit.RATIO, least=1, most=4)] = entry("stacks", default=1)
    slides: Annotated[str, Ref("slides")] | Literal["heavy locking"] | None = entry(
        "slides", default=None
    )
    removable: bool = entry("whether it lifts out", default=False)
    rear_gap: Length = entry("room behind the fronts", default=8.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class FridgeSlideEntries(ModuleSpec):
    """A slide for a fridge."""

    kind: ClassVar[str] = "fridge slide"

    item: Annotated[str, Ref("items")] = entry("the fridge")
    tilt: Angle | Literal["none"] = entry("how far it tilts", default="none")
    between: tuple[str, ...] = entry("its neighbours", default=())
    beside: Annotated[str, Ref("modules")] | None = entry("its neighbour", default=None)


@pytest.fixture(scope="session")
def specs() -> Mapping[str, type[ModuleSpec]]:
    return {"drawers": DrawersEntries, "fridge slide": FridgeSlideEntries}


@pytest.fixture(scope="session")
def catalogue_names() -> Mapping[str, Collection[str]]:
    return {
        "sheets": ("birch ply 6.5", "birch ply 12", "birch ply 15"),
        "slides": ("full extension 500", "full extension 700"),
        "articles": (),
        "sections": (),
    }


@pytest.fixture(scope="session")
def whole() -> str:
    """The text of a design with nothing wrong in it."""
    return (Path(__file__).parent / "whole.yaml").read_text(encoding="utf-8")


@pytest.fixture(scope="session")
def read(
    specs: Mapping[str, type[ModuleSpec]], catalogue_names: Mapping[str, Collection[str]]
) -> Callable[[str], Design]:
    """Reads a text as the file van.yaml."""
    return lambda text: read_text(text, "van.yaml", specs, catalogue_names)
