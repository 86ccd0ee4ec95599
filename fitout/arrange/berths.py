"""Berths for every module: heights first, then fore and aft, then across."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fitout.arrange.depths import depths
from fitout.arrange.heights import heights
from fitout.arrange.puzzle import Ask, Puzzle
from fitout.arrange.widths import widths
from fitout.arrange.wishes import Conflict
from fitout.model.design import ModuleSpec
from fitout.model.module import Berth
from fitout.modules.kind import Setting
from fitout.modules.registry import BY_NAME


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrangement:
    """A berth for every module that has one, the deck's height, and what collides."""

    berths: Mapping[str, Berth]
    deck: float | None
    conflicts: tuple[Conflict, ...]


def expanded(modules: Mapping[str, ModuleSpec]) -> dict[str, tuple[str, ModuleSpec]]:
    """Each module to build: its name, the name the design gives it, and its entries.

    A module wished for on both sides becomes one on each.
    """
    result: dict[str, tuple[str, ModuleSpec]] = {}
    for name, spec in modules.items():
        if getattr(spec, "sides", None) == "both":
            for side in ("left", "right"):
                one_side: Any = {"sides": side}
                changed: ModuleSpec = dataclasses.replace(spec, **one_side)
                result[f"{name} {side}"] = (name, changed)
        else:
            result[name] = (name, spec)
    return result


def arrange(setting: Setting) -> Arrangement:
    """Solve the wishes of all modules in `setting.specs` (already expanded names)."""
    asks = []
    for name, spec in setting.specs.items():
        needs = BY_NAME[spec.kind].needs(spec, setting)
        if needs is not None:
            asks.append(Ask(name=name, spec=spec, needs=needs))
    puzzle = Puzzle(setting=setting, asks=tuple(asks))
    z, deck, collide_z = heights(puzzle)
    x, collide_x = depths(puzzle, z)
    y, collide_y = widths(puzzle, z, x)
    berths = {
        a.name: Berth(
            x0=x[a.name][0],
            x1=x[a.name][1],
            y0=y[a.name][0],
            y1=y[a.name][1],
            z0=z[a.name][0],
            z1=z[a.name][1],
        )
        for a in puzzle.asks
    }
    return Arrangement(berths=berths, deck=deck, conflicts=(*collide_z, *collide_x, *collide_y))
