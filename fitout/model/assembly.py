"""Steps in which a fit-out is put together on the bench and set into the vehicle."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fitout.model.placement import Vector


@dataclass(frozen=True, slots=True)
class Task:
    """One thing done within a step, to be told in any language.

    `do` is a kind of joint, or one of "begin", "weld", "glue", "first", "halves", "latch", "stay",
    "columns", "draw", "turn", "carry", "outside", "bolt down", "tops". It is done to `parts`
    (ids), with or at `to` (ids of parts, names of groups); screws go through `parts` into `to`.
    `points` are bolts to the vehicle by name, bay frame, mm.
    """

    do: str
    parts: tuple[str, ...] = ()
    to: tuple[str, ...] = ()
    points: tuple[tuple[str, Vector], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step: parts (by id) that are added to `what`, and all it takes.

    `joins` names the pairs of parts fastened in it, `fasteners` (article, quantity) what of the
    hardware list goes into them, `uses` (purpose, article, quantity) the same by what each line
    of that list is bought for. `shifts` are the last straight moves into place, in turn, mm;
    `after` the numbers of the steps that must be done before it. `how` tells in English what
    `tasks` list one by one; `mass_kg` is what is carried into the vehicle.
    """

    number: int
    phase: Literal["bench", "vehicle"]
    what: str
    parts: tuple[str, ...]
    joins: tuple[tuple[str, str], ...]
    fasteners: tuple[tuple[str, int], ...]
    tool: str
    people: int
    how: str
    shifts: tuple[Vector, ...] = ()
    after: tuple[int, ...] = ()
    tasks: tuple[Task, ...] = ()
    mass_kg: float = 0.0
    uses: tuple[tuple[str, str, int], ...] = ()
