"""Whether the water tank goes between seat back and what stands behind it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from fitout.checks.gaps import place, wanted
from fitout.checks.stack import with_certainty
from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, ROUNDING, at_least
from fitout.clearance.contact import contacts
from fitout.model.finding import Finding
from fitout.model.item import Item
from fitout.model.module import Module

FAR = 1500.0
"""How far the tank's neighbours are looked for, mm."""


def check_tank(subject: Subject) -> Iterator[Finding]:
    """The tank's gap to the seat back in every notch, to the walls, and to the other modules."""
    for module in subject.fitout.modules:
        if module.kind != "water tank":
            continue
        tank = max(module.items, key=lambda i: i.mass_kg + i.contents_kg)
        yield from _to_vehicle(subject, module, tank)
        yield from _to_modules(subject, module, tank)


def _to_vehicle(subject: Subject, module: Module, tank: Item) -> Iterator[Finding]:
    for obstacle in subject.obstacles.values():
        if obstacle.kind == "seat" or obstacle.name in ("left wall", "right wall", "front wall"):
            word = "goes" if obstacle.kind == "seat" else "stands"
            yield _finding(subject, module, tank, obstacle.id, word)


def _to_modules(subject: Subject, module: Module, tank: Item) -> Iterator[Finding]:
    for other in subject.fitout.modules:
        if other is module or other.berth is None:
            continue
        gaps = _gaps(subject, tank.id, [part.id for part in other.parts()])
        nearest = min(gaps, key=gaps.__getitem__, default=None)
        if nearest is not None and gaps[nearest] < FAR:
            yield _finding(subject, module, tank, nearest, "stands")


def _gaps(subject: Subject, tank: str, others: Sequence[str]) -> dict[str, float]:
    """The tank's gap to each of the others, minus the depth where it clashes."""
    bodies = [subject.bodies[id_] for id_ in (tank, *others)]
    pairs = np.array([(0, j) for j in range(1, len(bodies))], dtype=np.int64).reshape(-1, 2)
    found = contacts(bodies, FAR, subject.memory.pairs, pairs)
    return {bodies[j].id: -c.depth if c.clashes else c.gap for (_, j), c in found.items()}


def _finding(subject: Subject, module: Module, tank: Item, other: str, word: str) -> Finding:
    gap = _gaps(subject, tank.id, [other])[other]
    limit = wanted(subject, tank.id, other)
    name = other.removeprefix("bay/")
    where = f"{tank.id} – {other}"
    if math.isinf(gap):
        gap = FAR
    if gap < 0.0:
        sentence = f"{module.name} does not go in: it runs {-gap:.1f} mm into {name}"
    elif gap < limit - ROUNDING:
        sentence = f"{module.name} has only {gap:.1f} mm to {name}, {limit:g} mm are wanted"
    else:
        sentence = f"{module.name} {word} with {gap:.1f} mm to {name}"
    told = f"{sentence}, nearest{place(subject, tank.id, other)}."
    finding = at_least("tank gap", where, gap, limit, "mm", told, COMMON_PRACTICE)
    return with_certainty(subject, finding, tank.id, other)
