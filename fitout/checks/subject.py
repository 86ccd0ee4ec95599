"""What is checked: the fit-out, its setting, and its bodies with how they stand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fitout.arrange import Conflict
from fitout.clearance.body import Body, body_of, body_of_obstacle
from fitout.clearance.contact import Contact, PairCache, contacts, near_pairs, near_pairs_between
from fitout.model.bay import Obstacle
from fitout.model.design import CuttingSpec
from fitout.model.module import Fitout, Module, Part
from fitout.modules.kind import Setting

REACH = 25.0
"""How far from each other bodies are looked at, mm; beyond it nothing is near."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """Everything a check may ask.

    `parts` and `obstacles` are by id; `bodies` holds both. `joined` holds the declared
    pairs of ids, both ways round. `contacts` holds every pair of parts, or of a part and an
    obstacle, that is nearer than `REACH`.
    """

    fitout: Fitout
    setting: Setting
    cutting: CuttingSpec
    conflicts: tuple[Conflict, ...]
    parts: Mapping[str, Part]
    modules: Mapping[str, Module]
    obstacles: Mapping[str, Obstacle]
    bodies: Mapping[str, Body]
    joined: frozenset[tuple[str, str]]
    contacts: Mapping[tuple[str, str], Contact]
    cache: PairCache


def subject_of(
    fitout: Fitout,
    setting: Setting,
    cutting: CuttingSpec,
    conflicts: tuple[Conflict, ...],
    cache: PairCache | None = None,
) -> Subject:
    """Build all bodies and find how every near pair stands.

    With the cache of an earlier call only what has changed is worked out again.
    """
    store = PairCache() if cache is None else cache
    parts = {p.id: p for p in fitout.parts()}
    obstacles = {o.id: o for o in fitout.bay.obstacles}
    modules = {m.name: m for m in fitout.modules}
    in_bay = [body_of(p) for p in parts.values() if modules[p.module].berth is not None]
    outside = [body_of(p) for p in parts.values() if modules[p.module].berth is None]
    vehicle = [body_of_obstacle(o) for o in obstacles.values()]
    known: dict[tuple[str, str], Contact] = {}
    for group in (in_bay, outside):
        for (i, j), contact in contacts(group, REACH, store, near_pairs(group, REACH)).items():
            known[group[i].id, group[j].id] = contact
    everything = [*in_bay, *vehicle]
    pairs = near_pairs_between(in_bay, vehicle, REACH)
    pairs[:, 1] += len(in_bay)
    for (i, j), contact in contacts(everything, REACH, store, pairs).items():
        known[everything[i].id, everything[j].id] = contact
    joined = {(j.a, j.b) for j in fitout.all_joints()}
    return Subject(
        fitout=fitout,
        setting=setting,
        cutting=cutting,
        conflicts=conflicts,
        parts=parts,
        modules=modules,
        obstacles=obstacles,
        bodies={b.id: b for b in (*in_bay, *outside, *vehicle)},
        joined=frozenset(joined | {(b, a) for a, b in joined}),
        contacts=known,
        cache=store,
    )
