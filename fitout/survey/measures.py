"""What a tape note measures, as a function of the bay's unknowns."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fitout.model.fault import Path
from fitout.model.notes import NoteSpec
from fitout.survey.adjustment import Array
from fitout.survey.points import Places, Quantity, constant
from fitout.survey.words import describe

SIDES = ("left", "right")

KINDS = ("between", "across", "up", "forward", "string", "angle")
"""What a note may measure, by its key."""

ANGLES = ("leans",)
"""Entries that are angles, by their last key."""

SAME_PLACE = 1e-6
"""mm; a note at a section's place measures that section."""


@dataclass(frozen=True, slots=True)
class Measure:
    """What a note measures, and how many of its ends may touch a soft lining.

    Notes of the same `what` measure the same, whatever they are called. `halves` names the
    entries to the left and to the right of the centre line that a width is the sum of.
    """

    quantity: Quantity
    ends: int
    what: str
    halves: tuple[str, ...] = ()


def said(note: NoteSpec) -> tuple[str, ...]:
    """The keys by which a note says what it measures."""
    return tuple(key for key in KINDS if getattr(note, key) is not None)


def entry_of(places: Places, note: NoteSpec) -> Path | None:
    """The entry, by its key path below `bay`, that a note measures by naming it alone."""
    if said(note):
        return None
    return next((path for path, name in places.names.items() if name == note.supersedes), None)


def tape_ends(path: Path) -> int:
    """How many ends of the tape touch a surface when an entry is measured; none of an angle."""
    if path[-1] in ANGLES:
        return 0
    across = ("widths" in path or "between" in path) and path[-1] not in ("left", "right")
    return 2 if across else 1


def measure(places: Places, note: NoteSpec, start: Array, pitch: int) -> Measure:
    """What a note without faults measures.

    `start` are the entries' values (offsets are counted towards the side they are on there),
    `pitch` the position of the unknown that says how far the vehicle stood out of level.
    """
    what = describe(note)
    entry = entry_of(places, note)
    if entry is not None:
        return Measure(places.entry(*entry), tape_ends(entry), what)
    if note.between is not None:
        a, b = sorted(note.between)
        width = _entry_between(places, a, b)
        name = places.names.get(width) or f"{a} to {b}"
        return Measure(_distance(places, a, b), 2, name, _halves(places, width))
    if note.across is not None:
        quantity, width = _width(places, *note.across, start)
        name = places.names.get(width) or what
        return Measure(quantity, 2, name, _halves(places, width))
    if note.up is not None:
        section = _section_at(places, note.up)
        if section is not None:
            path = ("sections", section, "roof")
            return Measure(places.entry(*path), 1, places.names[path])
        return Measure(places.roof(note.up), 1, what)
    if note.forward is not None:
        return Measure(places.front(note.forward), 1, _entry_forward(places, note.forward) or what)
    if note.string is not None:
        assert note.offset_to is not None
        return Measure(_offset(places, *note.string, note.offset_to, start=start), 1, what)
    level = Quantity(lambda unknowns: float(unknowns[pitch]), frozenset((pitch,)))
    if note.angle == "floor":
        return Measure(level, 0, what)
    return Measure(total([places.entry("seat_back", "leans"), level]), 0, what)


def total(quantities: Sequence[Quantity]) -> Quantity:
    """The sum of quantities."""
    values = [q.value for q in quantities]
    return Quantity(
        lambda unknowns: math.fsum(value(unknowns) for value in values),
        frozenset().union(*(q.on for q in quantities)),
    )


def between_arches(places: Places, x: float, z: float, start: Array) -> bool:
    """Whether a tape held across there meets the wheel arches."""
    arches = places.bay.wheel_arches
    if arches is None:
        return False
    if arches.profile:
        xs, zs = zip(*sorted(arches.profile), strict=True)
        return bool(xs[0] <= x <= xs[-1] and z < float(np.interp(x, xs, zs)))
    low, high, top = (
        places.entry("wheel_arches", key).value(start) for key in ("from", "to", "height")
    )
    return low <= x <= high and z < top


def _distance(places: Places, a: str, b: str) -> Quantity:
    p, q = places.points[a], places.points[b]
    return Quantity(
        lambda unknowns: float(np.linalg.norm(p.at(unknowns) - q.at(unknowns))), p.on | q.on
    )


def _width(places: Places, x: float, z: float, start: Array) -> tuple[Quantity, Path]:
    """A width between walls or wheel arches, and the path of an entry that says the same."""
    if between_arches(places, x, z, start):
        between = places.bay.wheel_arches
        assert between is not None
        halves = [places.half(between.between, s, "wheel_arches", "between") for s in SIDES]
        return total(halves), ("wheel_arches", "between")
    section = _section_at(places, x)
    if section is None:
        return total([places.half_at(side, constant(x), z) for side in SIDES]), ()
    halves = [places.half_at_section(section, side, z) for side in SIDES]
    return total(halves), ("sections", section, "widths", f"{z:g}")


def _halves(places: Places, width: Path) -> tuple[str, ...]:
    """The names of a width's two halves, where it was entered by them."""
    sides = [places.names.get((*width, side)) for side in SIDES]
    return tuple(name for name in sides if name is not None)


def _section_at(places: Places, x: float) -> int | None:
    for i, section in enumerate(places.bay.sections):
        if abs(section.at.value - x) < SAME_PLACE:
            return i
    return None


def _entry_between(places: Places, a: str, b: str) -> Path:
    """The path of a width's entry, if two points lie opposite each other at its place."""
    left, right = a.removeprefix("left "), b.removeprefix("right ")
    if left != right or not left.startswith("wall "):
        return ()
    number, _, height = left.removeprefix("wall ").partition("/")
    return ("sections", places.order[int(number) - 1], "widths", height)


def _entry_forward(places: Places, height: float) -> str:
    if places.bay.seat_back is None:
        return places.names[("front_wall",)]
    return places.names[("seat_back", "foot")] if height == 0.0 else ""


def _offset(places: Places, a: str, b: str, c: str, *, start: Array) -> Quantity:
    """How far a point lies from the straight line through two others.

    Counted along the direction it lies in at the start, outwards if it lies on the line: an
    unsigned distance would have a kink where the point crosses the line. The direction turns
    by a few mm in the offset's length, which matters to it in the second order only.
    """
    p, q, r = (places.points[name] for name in (a, b, c))
    outwards = square_off(q.at(start) - p.at(start), r.at(start) - p.at(start))
    if outwards is None:
        side = np.array([0.0, math.copysign(1.0, float(r.at(start)[1])), 0.0])
        along = q.at(start) - p.at(start)
        outwards = square_off(along, side)
        if outwards is None:
            outwards = square_off(along, np.array([0.0, 0.0, 1.0]))
    assert outwards is not None
    towards = outwards

    def value(unknowns: Array) -> float:
        here = p.at(unknowns)
        along, out = q.at(unknowns) - here, r.at(unknowns) - here
        off = out - along * (out @ along) / (along @ along)
        return float(off @ towards)

    return Quantity(value, p.on | q.on | r.on)


def square_off(along: Array, out: Array) -> Array | None:
    """The unit vector of `out` square to `along`; None if nothing of it is."""
    off: Array = out - along * (out @ along) / (along @ along)
    size = float(np.linalg.norm(off))
    return off / size if size > SAME_PLACE else None
