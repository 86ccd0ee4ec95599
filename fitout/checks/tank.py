"""Whether the water tank goes between seat back and what stands behind it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from fitout.checks.gaps import place, wanted
from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, ROUNDING, at_least
from fitout.clearance.body import Body
from fitout.clearance.contact import contact
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
        nearest = min(
            (p.id for p in other.parts()),
            key=lambda id_: _gap(subject, subject.bodies[tank.id], id_),
            default=None,
        )
        if nearest is not None and _gap(subject, subject.bodies[tank.id], nearest) < FAR:
            yield _finding(subject, module, tank, nearest, "stands")


def _gap(subject: Subject, body: Body, other: str) -> float:
    reckoned = contact(body, subject.bodies[other], FAR, subject.cache)
    return -reckoned.depth if reckoned.clashes else reckoned.gap


def _finding(subject: Subject, module: Module, tank: Item, other: str, word: str) -> Finding:
    gap = _gap(subject, subject.bodies[tank.id], other)
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
    return at_least(
        "tank gap",
        where,
        gap,
        limit,
        "mm",
        f"{sentence}, nearest{place(subject, tank.id, other)}.",
        COMMON_PRACTICE,
    )
