"""What a tape note measures, as a function of the bay's unknowns."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fitout.model.notes import NoteSpec
from fitout.model.spec import Measured
from fitout.survey.adjustment import Array
from fitout.survey.points import Places, Quantity, constant
from fitout.survey.words import describe

SIDES = ("left", "right")

SAME_PLACE = 1e-6
"""mm; a note at a section's place measures that section."""


@dataclass(frozen=True, slots=True)
class Measure:
    """What a note measures, and how many of its ends may touch a soft lining.

    Notes of the same `what` measure the same, whatever they are called.
    """

    quantity: Quantity
    ends: int
    what: str


def measure(places: Places, note: NoteSpec, start: Array, pitch: int) -> Measure:
    """What a note without faults measures.

    `start` are the entries' values (offsets are counted towards the side they are on there),
    `pitch` the position of the unknown that says how far the vehicle stood out of level.
    """
    what = describe(note)
    if note.between is not None:
        a, b = sorted(note.between)
        return Measure(_distance(places, a, b), 2, _entry_between(places, a, b) or f"{a} to {b}")
    if note.across is not None:
        quantity, entry = _width(places, *note.across, start)
        return Measure(quantity, 2, entry or what)
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


def _width(places: Places, x: float, z: float, start: Array) -> tuple[Quantity, str]:
    """A width between walls or wheel arches, and the entry's name if one says the same."""
    if between_arches(places, x, z, start):
        between = places.bay.wheel_arches
        assert between is not None
        halves = [places.half(between.between, s, "wheel_arches", "between") for s in SIDES]
        whole = isinstance(between.between, Measured)
        return total(halves), places.names[("wheel_arches", "between")] if whole else ""
    section = _section_at(places, x)
    if section is None:
        return total([places.half_at(side, constant(x), z) for side in SIDES]), ""
    halves = [places.half_at_section(section, side, z) for side in SIDES]
    return total(halves), places.names.get(("sections", section, "widths", f"{z:g}"), "")


def _section_at(places: Places, x: float) -> int | None:
    for i, section in enumerate(places.bay.sections):
        if abs(section.at.value - x) < SAME_PLACE:
            return i
    return None


def _entry_between(places: Places, a: str, b: str) -> str:
    """The entry's name, if two points lie opposite each other at its place."""
    left, right = a.removeprefix("left "), b.removeprefix("right ")
    if left != right or not left.startswith("wall "):
        return ""
    number, _, height = left.removeprefix("wall ").partition("/")
    return places.names.get(("sections", places.order[int(number) - 1], "widths", height), "")


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
