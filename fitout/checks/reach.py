"""Whether the barrier's shelf is within arm's reach, from the seat and from the tailgate."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from fitout.checks.subject import Subject
from fitout.checks.verdict import at_least, at_most
from fitout.clearance.body import body_of_pieces
from fitout.model.finding import Finding, Severity
from fitout.model.module import Access, Module
from fitout.survey.room import front_face

ARMS_REACH = 650.0
"""How far a small adult's hand grips ahead of the shoulder, mm (from memory; common practice)."""

SHOULDER_AHEAD = 100.0
"""How far ahead of the seat back's upper edge, and level with it, the shoulder of someone turned
round on the seat is, mm (common practice)."""

GRIP = 100.0
"""How far beyond an edge a hand must come to take what lies there, mm (common practice)."""

HAND_HIGH = 60.0
"""Height of an opening that a flat hand in a sleeve goes through, mm (common practice)."""

SOURCE = "arm's reach: from memory, common practice"


def check_reach(subject: Subject) -> Iterator[Finding]:
    """Each barrier's shelf, and the opening above it."""
    for module in subject.fitout.modules:
        shelf = subject.bodies.get(f"{module.name}/shelf")
        if module.kind != "barrier" or module.berth is None:
            continue
        for access in module.accesses:
            yield _aperture(subject, module, access)
        if shelf is None:
            continue
        x0, x1 = float(shelf.lo[0]), float(shelf.hi[0])
        sill = x0 + GRIP
        ways = [("the tailgate, the shoulder over the sill", sill)]
        if module.accesses and subject.fitout.bay.seat_length:
            ways.append(("the seat", _from_seat(subject, x1, float(shelf.hi[2]))))
        yield _reached(f"{module.name}/shelf", ways)


def _from_seat(subject: Subject, x: float, z: float) -> float:
    """From a shoulder at the seat back's upper edge to goods at the shelf's front edge."""
    top = _seat_top(subject)
    shoulder = front_face(subject.fitout.bay, top, top) + SHOULDER_AHEAD
    return math.hypot(shoulder - x + GRIP, z - top)


def _seat_top(subject: Subject) -> float:
    """Height of the seat back's upper edge where it leans least."""
    bay = subject.fitout.bay
    lean = min(bay.seat_lean_deg.values())
    return bay.seat_length * math.cos(math.radians(lean)) - 1.0


def _reached(where: str, ways: list[tuple[str, float]]) -> Finding:
    place, distance = min(ways, key=lambda way: way[1])
    others = "".join(f"; from {p} it is {d:.0f} mm" for p, d in ways if p != place)
    sentence = (
        f"What lies on {where} is taken from {place}, over {distance:.0f} mm{others}. A small "
        f"adult reaches {ARMS_REACH:.0f} mm."
    )
    found = at_most("reach", where, distance, ARMS_REACH, "mm", sentence, SOURCE)
    if found.severity is Severity.FAIL:
        return replace(found, severity=Severity.CAUTION)
    return found


def _aperture(subject: Subject, module: Module, access: Access) -> Finding:
    """The opening's height that the seat back, in its highest notch, leaves free."""
    body = body_of_pieces(access.zone.name, [access.zone.piece], access.placement)
    low, high = float(body.lo[2]), float(body.hi[2])
    seats = [o.id for o in subject.obstacles.values() if o.kind == "seat"]
    edge = max((float(subject.bodies[i].hi[2]) for i in seats), default=0.0)
    free = high - max(low, edge)
    over = f" above the seat back's {edge:.0f} mm" if seats else ""
    sentence = (
        f"The opening of {module.name} has {max(0.0, free):.0f} mm of height for a hand, from "
        f"{max(low, edge):.0f} to {high:.0f} up{over}; {HAND_HIGH:g} mm are wanted."
    )
    where = f"{module.name}: {access.zone.name}"
    return at_least("hand aperture", where, free, HAND_HIGH, "mm", sentence, SOURCE)
