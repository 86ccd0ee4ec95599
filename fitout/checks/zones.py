"""Room that must stay free: air to vents, a lid's swing, hands at taps, a tray's void."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from fitout.checks.gaps import place_between
from fitout.checks.probe import free_depth
from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, at_least
from fitout.clearance.body import Body, body_of_pieces
from fitout.clearance.contact import contacts, near_pairs_between
from fitout.model.bay import State
from fitout.model.finding import Finding
from fitout.model.item import Zone
from fitout.model.module import Module, MotionKind
from fitout.model.placement import Placement, Vector

DEPTHS = 3.0
"""How much deeper than asked for the air before a vent is looked at."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """A zone in its place: whose it is, who may be in it, and in which states it must be free.

    `one_is_enough`: a hand needs the room in one state of the vehicle only.
    """

    owner: str
    zone: Zone
    placement: Placement
    skip: frozenset[str]
    states: tuple[State, ...]
    one_is_enough: bool = False


def check_zones(subject: Subject) -> Iterator[Finding]:
    """Each kept-free zone against every body but its owner and those it may meet."""
    for module in subject.fitout.modules:
        if module.berth is None:
            continue
        for room in (*_item_rooms(subject, module), *_hand_rooms(subject, module)):
            yield _free(subject, room)


def _item_rooms(subject: Subject, module: Module) -> Iterator[Room]:
    """Air, bulge and lids: in every state, or drawn out with the tailgate open."""
    states = subject.fitout.bay.states
    for item in module.items:
        for zone in item.zones:
            skip = {item.id, *(b for a, b in subject.joined if a == item.id)}
            placement, held = item.placement, states
            if zone.when == "out":
                placement = placement.moved(dx=-_travel(module, item.moves))
                skip |= {p.id for p in module.parts() if p.moves == item.moves}
                held = tuple(s for s in states if s.tailgate_open)
            yield Room(
                owner=item.id,
                zone=zone,
                placement=placement,
                skip=frozenset(skip),
                states=held,
                one_is_enough=zone.hand,
            )


def _hand_rooms(subject: Subject, module: Module) -> Iterator[Room]:
    for access in module.accesses:
        yield Room(
            owner=module.name,
            zone=access.zone,
            placement=access.placement,
            skip=frozenset(access.except_ids),
            states=subject.fitout.bay.states,
            one_is_enough=True,
        )


def _travel(module: Module, motion: str | None) -> float:
    for m in module.motions:
        if m.name == motion and m.kind is MotionKind.SLIDE:
            return m.travel
    return 0.0


def _free(subject: Subject, room: Room) -> Finding:
    zone = room.zone
    body = body_of_pieces(f"{room.owner}: {zone.name}", [zone.piece], room.placement)
    others = [subject.bodies[i] for i in _in_bay(subject) if i not in room.skip]
    pairs = near_pairs_between([body], others, 0.0)
    pairs[:, 1] += 1
    found = contacts([body, *others], 0.5, subject.memory.pairs, pairs)
    inside = [(c.depth, others[j - 1]) for (_, j), c in found.items() if c.clashes]
    worst = [(_deepest(subject, inside, state), state) for state in room.states]
    choose = min if room.one_is_enough else max
    (depth, other), state = choose(worst, key=lambda pair: pair[0][0])
    where = f"{room.owner}: {zone.name}"
    if other is None and zone.towards is not None:
        return _air(subject, room, zone.towards)
    if other is None:
        when = f" ({state.name})" if room.one_is_enough and inside else ""
        sentence = f"{room.owner}: the room for {zone.name} is free{when}."
        return at_least("kept free", where, 0.0, 0.0, "mm", sentence, COMMON_PRACTICE)
    sentence = (
        f"{room.owner}: {other.id} stands {depth:.1f} mm in the room for {zone.name}"
        f"{place_between(subject, body, other)} ({state.name})."
    )
    return at_least("kept free", where, -depth, 0.0, "mm", sentence, COMMON_PRACTICE)


def _air(subject: Subject, room: Room, towards: Vector) -> Finding:
    """How deep the room is that a zone found free has before its owner, in its worst state."""
    piece = room.placement.apply(np.array(room.zone.piece))
    axes = room.placement.matrix[:, :3]
    way = axes @ np.array(towards)
    along = piece @ way
    limit = float(along.max() - along.min())
    face = [(float(x), float(y), float(z)) for x, y, z in piece[along < along.min() + 1e-6]]
    others = [
        subject.bodies[i]
        for i in _in_bay(subject)
        if i not in room.skip and any(_stands(subject, i, s) for s in room.states)
    ]
    direction = (float(way[0]), float(way[1]), float(way[2]))
    depth, met = free_depth(face, direction, DEPTHS * limit, others)
    up_to = f"up to {met.id}" if met else "or more"
    sentence = (
        f"{room.owner}: {depth:.0f} mm {up_to} are free for {room.zone.name}; {limit:g} mm are "
        "wanted."
    )
    where = f"{room.owner}: {room.zone.name}"
    return at_least("kept free", where, depth, limit, "mm", sentence, COMMON_PRACTICE)


def _deepest(
    subject: Subject, inside: list[tuple[float, Body]], state: State
) -> tuple[float, Body | None]:
    """What reaches furthest into a zone in one state of the vehicle."""
    there = [(depth, body) for depth, body in inside if _stands(subject, body.id, state)]
    return max(there, key=lambda pair: pair[0], default=(0.0, None))


def _stands(subject: Subject, id_: str, state: State) -> bool:
    obstacle = subject.obstacles.get(id_)
    return obstacle is None or not obstacle.states or state.name in obstacle.states


def _in_bay(subject: Subject) -> Iterator[str]:
    for id_, part in subject.parts.items():
        if subject.modules[part.module].berth is not None:
            yield id_
    yield from subject.obstacles


def check_voids(subject: Subject) -> Iterator[Finding]:
    """What lies outside the bay against its own measured void."""
    for module in subject.fitout.modules:
        for void in module.voids:
            for word, needed, available in zip(
                ("fore and aft", "across", "upwards"), void.needed, void.available, strict=True
            ):
                sentence = (
                    f"{void.name} takes {needed:.1f} mm {word} of the {available:.1f} mm its void "
                    f"has."
                )
                yield at_least(
                    "void",
                    f"{void.name}: {word}",
                    available - needed,
                    0.0,
                    "mm",
                    sentence,
                    COMMON_PRACTICE,
                )
