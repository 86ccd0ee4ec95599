"""What is checked: the fit-out, its setting, and the bodies of all that is in it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import partial

from fitout.arrange import Conflict
from fitout.checks.ledger import Load, load_of
from fitout.checks.memory import Memory
from fitout.clearance.body import Body, body_of_obstacle
from fitout.cutting.scribing import as_cut
from fitout.model.as_built import AsBuilt
from fitout.model.bay import Obstacle
from fitout.model.cutting import CuttingSpec, StockSpec
from fitout.model.fault import Path
from fitout.model.module import Fitout, Module, Motion, Part
from fitout.model.panel import Panel
from fitout.model.restraint import RestraintSpec
from fitout.model.trips import TripSpec
from fitout.model.vehicle import VehicleSpec
from fitout.modules.kind import Setting
from fitout.survey.adjusted import Survey


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """Everything a check may ask.

    `parts` and `obstacles` are by id; `bodies` holds both, `loads` what each part weighs.
    `joined` holds the declared pairs of ids, both ways round. `memory` is where answers that
    took long are kept. `survey` says how sure the bay is, None for a bay made without one;
    `sources` where entries stand in the design file, as (line, column) by key path;
    `as_built` what was measured of parts once they were cut; `vehicle` the vehicle where it was
    entered; `restraint` what all must hold against; `stock` what there is to cut from; `trips`
    each trip by its name.
    """

    fitout: Fitout
    setting: Setting
    cutting: CuttingSpec
    conflicts: tuple[Conflict, ...]
    parts: Mapping[str, Part]
    modules: Mapping[str, Module]
    obstacles: Mapping[str, Obstacle]
    bodies: Mapping[str, Body]
    loads: Mapping[str, Load]
    joined: frozenset[tuple[str, str]]
    memory: Memory
    survey: Survey | None = None
    sources: Mapping[Path, tuple[int, int]] = field(default_factory=dict)
    as_built: AsBuilt = field(default_factory=dict)
    vehicle: VehicleSpec | None = None
    restraint: RestraintSpec = field(default_factory=RestraintSpec)
    stock: StockSpec = field(default_factory=StockSpec)
    trips: Mapping[str, TripSpec] = field(default_factory=dict)

    def cut_panels(self) -> Iterator[Panel]:
        """The panels as they are cut: less their edging, more where they are to be scribed."""
        rules, allowance = self.setting.rules, self.cutting.scribe_allowance
        return as_cut(self.fitout.panels(), self.setting.bay, rules, allowance)

    def in_bay(self, part: str) -> bool:
        """Whether a part belongs to a module that stands in the bay, not in a void of its own."""
        return self.modules[self.parts[part].module].berth is not None

    def moved(self, motion: Motion) -> list[Part]:
        """The parts that move by a motion; none where its module is taken out as one."""
        return [p for p in self.modules[motion.module].parts() if p.moves == motion.name]


def subject_of(
    fitout: Fitout,
    setting: Setting,
    cutting: CuttingSpec,
    conflicts: tuple[Conflict, ...],
    memory: Memory | None = None,
    survey: Survey | None = None,
) -> Subject:
    """Everything by its id, with its body.

    With the memory of an earlier call only the bodies of what has changed are built.
    """
    kept = Memory() if memory is None else memory
    parts = {p.id: p for p in fitout.parts()}
    obstacles = {o.id: o for o in fitout.bay.obstacles}
    bodies = {id_: kept.pairs.body(part) for id_, part in parts.items()}
    for id_, obstacle in obstacles.items():
        bodies[id_] = kept.recall(("body", obstacle), partial(body_of_obstacle, obstacle))
    joined = {(j.a, j.b) for j in fitout.all_joints()}
    return Subject(
        fitout=fitout,
        setting=setting,
        cutting=cutting,
        conflicts=conflicts,
        parts=parts,
        modules={m.name: m for m in fitout.modules},
        obstacles=obstacles,
        bodies=bodies,
        loads={id_: load_of(part) for id_, part in parts.items()},
        joined=frozenset(joined | {(b, a) for a, b in joined}),
        memory=kept,
        survey=survey,
    )
