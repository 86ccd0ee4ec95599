"""Whether a socket, its ratchet and a hand come to every bolt that holds a module down.

A way to a bolt is an extension's length, a side for the handle and a direction for the arm: up,
or level to the rear, left or right, straight out of the module and no deeper than an arm
is long. Of all ways the one is told that asks for least: nothing, drawers and lids out of the
way, a fridge or tank out, other modules out, a panel of the module itself not yet on.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from fitout.checks.subject import Subject
from fitout.checks.tool_room import (
    EXTENSIONS,
    HANDLE_HIGH,
    LEAST,
    LOOKED_AT,
    SOCKET,
    Room,
    arms_from,
    box_round,
    column_over,
    handle_of,
    reach_of,
)
from fitout.checks.verdict import COMMON_PRACTICE, at_least
from fitout.model.finding import Finding, Severity
from fitout.model.item import Item, Piece
from fitout.model.module import Module, MotionKind
from fitout.model.panel import Panel
from fitout.model.placement import Vector

HEAD = 8.0
"""Diameter a bolt is taken to have where its row does not say, mm."""

TO_MODULE = "bolt to the module below"
BESIDE_ASKS = 10
LYING = 0.7
BESIDE = ("from the left", "from the right")
SIDES = ((-1, 0), (0, -1), (0, 1), (1, 0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Bolt:
    """A bolt that holds a module down: its name, where it goes into `through`, its size."""

    name: str
    module: str
    point: Vector
    diameter: float
    through: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A way to a bolt: what stands in it, how much that is to move, the height free over it.

    `cost` is 0 for nothing, 1 drawers and lids, 2 what the module holds, 3 other modules, 4 its
    own panels, 5 the vehicle.
    """

    bolt: Bolt
    words: str
    blockers: tuple[str, ...]
    cost: int
    free: float


def check_tool_access(subject: Subject) -> Iterator[Finding]:
    """One finding for each module that is bolted down, and one for each bolt out of reach."""
    room = Room(subject)
    for module in subject.fitout.modules:
        ways = ways_to_bolts(subject, module, room)
        reached = [w for w in ways if w.cost < VEHICLE]
        for way in ways:
            if way.cost >= VEHICLE:
                yield _out_of_reach(way)
        if reached:
            yield _told(subject, module, reached)


def bolts_of(subject: Subject, module: Module) -> Iterator[Bolt]:
    """The bolts to known points of the vehicle, and those to the module below."""
    articles = subject.setting.catalogue.articles
    for fixing in module.fixings:
        if fixing.anchor is None:
            continue
        x, y, z = fixing.point
        through, top = _clamped(subject, module, fixing.point)
        size = articles[fixing.article].diameter or HEAD
        yield Bolt(
            name=fixing.anchor,
            module=module.name,
            point=(x, y, max(z, top)),
            diameter=size,
            through=through,
        )
    for panel in module.panels:
        for hole in panel.holes:
            if hole.purpose != TO_MODULE:
                continue
            x, y, _ = panel.placement.at(hole.x, hole.y)
            yield Bolt(
                name=f"the bolt {x:.0f} forward, {abs(y):.0f} {'left' if y >= 0 else 'right'}",
                module=module.name,
                point=(x, y, float(subject.bodies[panel.id].hi[2])),
                diameter=hole.diameter - 0.5,
                through=panel.id,
            )


def _clamped(subject: Subject, module: Module, point: Vector) -> tuple[str | None, float]:
    """The part a bolt goes through just above `point`, and the height of its upper face."""
    at = np.array(point)
    for part in module.parts():
        body = subject.bodies[part.id]
        over = np.all(body.lo[:2] <= at[:2] + 1e-6) and np.all(body.hi[:2] >= at[:2] - 1e-6)
        if over and abs(float(body.lo[2]) - point[2]) < 1.0 and not isinstance(part, Item):
            return part.id, float(body.hi[2])
    return None, point[2]


HELD, OTHERS, OWN_PANEL, VEHICLE = 2, 3, 4, 5
"""What it costs to get what a module holds, other modules, its own panels or the vehicle out of a
bolt's way; 1 is for what moves."""


def ways_to_bolts(subject: Subject, module: Module, room: Room | None = None) -> list[Way]:
    """The easiest way to each bolt of a module."""
    there = Room(subject) if room is None else room
    return [_easiest(subject, module, bolt, there) for bolt in bolts_of(subject, module)]


def _easiest(subject: Subject, module: Module, bolt: Bolt, room: Room) -> Way:
    question = ("way to a bolt", bolt, module.berth, room.key(reach_of(module, bolt.point)))
    return subject.memory.recall(question, partial(_search, subject, module, bolt, room))


def _search(subject: Subject, module: Module, bolt: Bolt, room: Room) -> Way:
    best: tuple[int, int, str, frozenset[str]] | None = None
    for turning, handle, side in _tools(bolt, room):
        for words, arm in arms_from(module, box_round(handle), side):
            # What is sure to stand in a way is found at once: most ways need no closer look.
            sure = turning.union(*(room.surely(box) for box in arm))
            if best is not None and best[:2] <= _asks(subject, module, sure, words):
                continue
            blockers = set(sure)
            for box in arm:
                blockers |= room.within(box, known=blockers)
            asks = _asks(subject, module, blockers, words)
            if best is None or asks < best[:2]:
                best = (*asks, words, frozenset(blockers))
        if best is not None and best[0] <= HELD and best[1] < BESIDE_ASKS:
            break
    assert best is not None
    cost, _, words, standing = best
    free = _free_height(subject, bolt, room, standing)
    return Way(bolt=bolt, words=words, blockers=tuple(sorted(standing)), cost=cost, free=free)


def _tools(bolt: Bolt, room: Room) -> Iterator[tuple[set[str], Piece, tuple[int, int]]]:
    """Each length of extension with its ratchet to each side: what stands in them, the ratchet."""
    for extension in EXTENSIONS:
        column = column_over(bolt.point, bolt.diameter, SOCKET + extension + HANDLE_HIGH)
        below = room.within(box_round(column), column) - {bolt.through}
        for side in SIDES:
            handle = handle_of(bolt.point, extension, side)
            yield below | room.within(box_round(handle), handle, below), handle, side


def _asks(subject: Subject, module: Module, blockers: set[str], words: str) -> tuple[int, int]:
    """How bad the worst is that a way asks for, and how much else it asks for."""
    # Beside a module there may be no room for a person, as there is above it; and a box that is
    # screwed together holds without its top, not without an upright.
    uprights = sum(_is_own_upright(subject, module, i) for i in blockers)
    beside = BESIDE_ASKS if words in BESIDE else 0
    return _cost(subject, module, blockers), len(_groups(subject, module, blockers)) + (
        beside + 2 * BESIDE_ASKS * uprights
    )


def _is_own_upright(subject: Subject, module: Module, id_: str) -> bool:
    part = subject.parts.get(id_)
    if part is None or part.module != module.name or not isinstance(part, Panel):
        return False
    return part.moves is None and abs(part.placement.w[2]) < LYING


def _cost(subject: Subject, module: Module, blockers: set[str]) -> int:
    return max((_rank(subject, module, i) for i in blockers), default=0)


def _rank(subject: Subject, module: Module, id_: str) -> int:
    """How much it takes to get something out of the way."""
    part = subject.parts.get(id_)
    if part is None:
        return VEHICLE
    if part.moves is not None:
        return 1
    if part.module != module.name:
        return OTHERS
    return HELD if isinstance(part, Item) and not part.article else OWN_PANEL


def _groups(subject: Subject, module: Module, blockers: Iterable[str]) -> list[str]:
    """What has to be out of the way, in words, each once."""
    parts = [subject.parts[i] for i in sorted(blockers) if i in subject.parts]
    others = {p.module for p in parts if p.module != module.name and p.moves is None}
    words = {f"{name} not in": None for name in sorted(others)}
    for part in parts:
        if part.module in others:
            continue
        if part.moves is not None:
            owner = subject.modules[part.module]
            kinds = {m.kind for m in owner.motions if m.name == part.moves}
            what = "open" if kinds == {MotionKind.HINGE} else "taken out"
            words[f"{part.module}/{part.moves} {what}"] = None
        else:
            words[f"{part.id} {'off' if isinstance(part, Panel) else 'out'}"] = None
    return list(words)


def _free_height(subject: Subject, bolt: Bolt, room: Room, gone: frozenset[str]) -> float:
    """Height over a bolt's head up to the first thing that stays, `LOOKED_AT` at most."""
    column = column_over(bolt.point, bolt.diameter, LOOKED_AT)
    left = room.within(box_round(column), column) - gone - {bolt.through}
    return min([LOOKED_AT, *(float(subject.bodies[i].lo[2]) - bolt.point[2] for i in left)])


def _out_of_reach(way: Way) -> Finding:
    inside = [i for i in way.blockers if i.startswith("bay/")]
    sentence = (
        f"{way.bolt.module}: no socket and ratchet come to the bolt at {way.bolt.name}: "
        f"{' and '.join(inside)} stand in every way. Use another point."
    )
    where = f"{way.bolt.module} – {way.bolt.name}"
    return at_least("tool access", where, 0.0, LEAST, "mm", sentence, COMMON_PRACTICE)


def _told(subject: Subject, module: Module, ways: Sequence[Way]) -> Finding:
    """How the bolts of a module are reached, and what has to wait for them."""
    way = min(ways, key=lambda w: w.free)
    late = [w for w in ways if w.cost == OWN_PANEL]
    out = _groups(subject, module, {b for w in ways if w not in late for b in w.blockers})
    count = f"the {len(ways)} bolts" if len(ways) > 1 else "the bolt"
    how = " and ".join(dict.fromkeys(w.words for w in ways if w not in late))
    sentence = f"A socket and ratchet come to {count} of {module.name} {how}"
    sentence += f" with {', '.join(out)}." if out else " as it stands."
    if late:
        panels = sorted(
            {b for w in late for b in w.blockers if _rank(subject, module, b) == OWN_PANEL}
        )
        names = ", ".join(w.bolt.name for w in late)
        which = "The bolt" if len(ways) == 1 else f"{module.name}: {len(late)} of {count}"
        them = "it" if len(panels) == 1 else "them"
        sentence = (
            f"{which} ({names}) can't be turned once {' and '.join(panels)} "
            f"{'is' if len(panels) == 1 else 'are'} on: bolt {module.name} down first, and screw "
            f"{them} on in the vehicle."
        )
    found = at_least("tool access", module.name, way.free, LEAST, "mm", sentence, COMMON_PRACTICE)
    return replace(found, severity=Severity.CAUTION) if late else found
