"""What every kind of module declares, and what it may ask while it is built."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from fitout.catalogue import Catalogue
from fitout.model.bay import Bay
from fitout.model.design import ClearanceSpec, ItemSpec, ModuleSpec
from fitout.model.module import Berth, Module
from fitout.model.stock import Board


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """All a module may ask: the bay, boards by role, items, the catalogue, the others.

    `berths` is empty while needs are asked; `built` holds the modules built so far (those
    with a berth are built before those without). `deck` is the height of the one flat deck's
    surface, None where the design has no deck.
    """

    bay: Bay
    boards: Mapping[str, Board]
    items: Mapping[str, ItemSpec]
    catalogue: Catalogue
    rules: ClearanceSpec
    specs: Mapping[str, ModuleSpec]
    berths: Mapping[str, Berth] = field(default_factory=dict)
    built: Mapping[str, Module] = field(default_factory=dict)
    deck: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Extent:
    """How much of one direction a module asks for, mm.

    `least` it can't do without, `most` it can't use more than; between them it takes
    `wanted`, or with `fills` all that is left. `given` names the design entry that fixed
    it, so that a conflict can say what could give.
    """

    least: float
    wanted: float | None = None
    most: float | None = None
    fills: bool = False
    given: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Needs:
    """What a module asks of the arrangement.

    `top` says how it stands to the deck: its top is the deck, it stays below it, or it has
    nothing to do with it. `lateral` says whether it takes the middle of the bay in turn,
    lies along one wall, or goes across the bay under or over the others. `place` says
    whether it keeps to the rear (drawn out there), to the front, or has its own place.
    `opens_rear` modules must pass the opening's jambs. `ends` is what posts along both walls
    take, over the module's whole height: their width, and how far ahead of its berth they reach.
    `hollow` is how deep its front is but posts and rails, so that head restraints may stand in it.
    """

    x: Extent
    y: Extent
    z: Extent
    top: Literal["deck", "below deck", "free"] = "free"
    lateral: Literal["middle", "left wall", "right wall", "across"] = "middle"
    place: Literal["rear", "front", "own"] = "rear"
    opens_rear: bool = False
    gap: float | None = None
    ends: tuple[float, float] = (0.0, 0.0)
    hollow: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """A kind of module. `needs` returns None for one that stands outside the bay's berths."""

    kind: str
    spec: type[ModuleSpec]
    needs: Callable[[Any, Setting], Needs | None]
    build: Callable[[str, Any, Berth | None, Setting], Module]
