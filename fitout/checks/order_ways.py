"""The ways a sub-assembly can leave its place, and what stands in each of them.

A way is a row of straight shifts along the bay's axes, from the place it ends up in to the
open air behind the sill: the way in, backwards. Sweeps are exact, so a way that is free is
free; that none is free says only that none of the ways tried is. What the opening is too
small for has a way off its place only, and the room behind it must be empty: it is turned
there, which `going in` judges.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from fitout.checks.order_field import Field, Mover, Shift
from fitout.checks.subassemblies import SubAssembly
from fitout.checks.subject import Subject
from fitout.model.module import MotionKind
from fitout.survey.room import half_width

ROOM = 5.0
"""How far what is carried keeps from sill, arch and jamb when it is set in, mm (common
practice)."""

OFF = 40.0
"""So far something must come off its place before it can be turned there, mm (common
practice)."""

BEHIND = 60.0
"""What has gone so far behind the sill is out, mm."""

CENTRED = 20.0
"""What lies no further off the centre line is not shifted sideways, mm."""


@dataclass(frozen=True, slots=True)
class Way:
    """Shifts that take a sub-assembly out, in turn, and the ids of those in their way.

    `turned` says that the vehicle lets it off its place but not out as it stands. `drawn` names
    those that it is drawn out on first, along the first shift.
    """

    shifts: tuple[Shift, ...]
    blockers: frozenset[str]
    turned: bool = False
    drawn: frozenset[str] = frozenset()


def ways_of(subject: Subject, field: Field, sub: SubAssembly) -> tuple[Way, ...]:
    """The ways out the vehicle allows, simplest first; none in whose way stands more.

    Empty when the vehicle allows none of those tried.
    """
    mover = Mover(subject, field, sub)
    found: list[Way] = []
    for way in (*_straight(subject, mover), *_drawn_out(subject, mover)):
        if any(known.blockers <= way.blockers for known in found):
            continue
        found = [known for known in found if not way.blockers < known.blockers]
        found.append(way)
    return tuple(found) or _turned(mover)


def _straight(subject: Subject, mover: Mover) -> Iterator[Way]:
    for shifts in _rows(subject, mover):
        blockers = _blockers(mover, shifts)
        if blockers is not None:
            yield Way(shifts, blockers)
            if not blockers:
                return


def _blockers(
    mover: Mover, shifts: Sequence[Shift], drawn: frozenset[str] = frozenset()
) -> frozenset[str] | None:
    """Who is in the way of a row of shifts; None if the vehicle is.

    Those it is `drawn` out on go along with the first shift and then stay where they are.
    """
    start: Shift = (0.0, 0.0, 0.0)
    on: Shift = (0.0, 0.0, 0.0)
    found: set[str] = set()
    for number, shift in enumerate(shifts):
        met = mover.hits(start, shift) - drawn
        if drawn and number:
            met |= mover.hits(on, shift) & drawn
            on = _sum(on, shift)
        if "" in met:
            return None
        found |= met
        start = _sum(start, shift)
    return frozenset(found)


def _sum(a: Shift, b: Shift) -> Shift:
    return a[0] + b[0], a[1] + b[1], a[2] + b[2]


def _drawn_out(subject: Subject, mover: Mover) -> Iterator[Way]:
    """Out on what slides, then up and off it: a fridge on its tray."""
    sub = mover.sub
    moves = {subject.parts[id_].moves for id_ in sub.parts}
    motions = [m for m in subject.modules[sub.module].motions if m.kind is MotionKind.SLIDE]
    for motion in motions:
        parts = {p.id for p in subject.modules[sub.module].parts() if p.moves == motion.name}
        carriers = parts - set(sub.parts)
        if moves != {motion.name} or not carriers or not mover.rests_on(carriers):
            continue
        drawn = frozenset(
            group
            for body, group in zip(mover.field.bodies, mover.field.groups, strict=True)
            if body.id in carriers
        )
        out: Shift = (-round(float(mover.high[0]) + BEHIND), 0.0, 0.0)
        x, y, z = motion.direction
        slide = (x * motion.travel, y * motion.travel, z * motion.travel)
        tops = {float(subject.bodies[id_].hi[2] - mover.low[2]) for id_ in carriers}
        for top in sorted(tops):
            shifts: tuple[Shift, ...] = (slide, (0.0, 0.0, float(np.ceil(top + ROOM))), out)
            blockers = _blockers(mover, shifts, drawn)
            if top > 0.0 and blockers is not None and not blockers & drawn:
                yield Way(shifts, blockers, drawn=drawn)
                return


def _rows(subject: Subject, mover: Mover) -> Iterator[tuple[Shift, ...]]:
    """Rows of shifts worth trying, the simplest first."""
    out: Shift = (-round(float(mover.high[0]) + BEHIND), 0.0, 0.0)
    ups = [(0.0, 0.0, lift) for lift in _lifts(subject, mover)]
    sides = [(0.0, side, 0.0) for side in _sides(subject, mover)]
    yield (out,)
    for up in ups:
        yield up, out
    for side in sides:
        yield side, out
        for up in ups:
            yield side, up, out
            yield up, side, out


def _lifts(subject: Subject, mover: Mover) -> list[float]:
    """How far up may help: over the sill, over the arches, over what lies behind, to the top."""
    bay = subject.fitout.bay
    low, high = float(mover.low[2]), float(mover.high[2])
    roof = min((z for _, z in bay.roof), default=high)
    upper = max((z for z, _, _ in bay.opening), default=roof)
    headroom = min(roof, upper) - high - ROOM
    arches = [z for profile, _ in bay.arches.values() for _, z in profile]
    over = [bay.lip, *arches, *(float(z) for z in _tops(mover))]
    wanted = {float(np.ceil(top - low + ROOM)) for top in over}
    if headroom >= 1.0:
        wanted.add(float(np.floor(headroom)))
    return sorted(lift for lift in wanted if 0.0 < lift <= max(headroom, ROOM))


def _tops(mover: Mover) -> list[float]:
    """Heights of what lies rearward of it and higher than its underside: the lowest and highest."""
    field = mover.field
    inside = np.array([bool(group) for group in field.groups])[field.owners]
    boxes = field.boxes[inside & mover.foreign]
    behind = boxes[(boxes[:, 0, 0] < mover.low[0]) & (boxes[:, 1, 2] > mover.low[2])]
    return [float(behind[:, 1, 2].max())] if len(behind) else []


def _sides(subject: Subject, mover: Mover) -> list[float]:
    """How far towards the centre line may help: past the wall, the arch, the jamb."""
    bay = subject.fitout.bay
    middle = float(mover.low[1] + mover.high[1]) / 2.0
    if abs(middle) < CENTRED:
        return []
    left = middle > 0.0
    side, reach = ("left", float(mover.high[1])) if left else ("right", -float(mover.low[1]))
    x = (0.0, float(mover.high[0]))
    z = (float(mover.low[2]), float(mover.high[2]))
    least = [half_width(bay, side, x, z, arches=arches) for arches in (False, True)]
    jambs = [(at_left if left else at_right) for _, at_right, at_left in bay.opening]
    least += [min([least[0], *jambs]), min([least[1], *jambs])]
    wanted = {float(np.ceil(reach - width + ROOM)) for width in least}
    return [(-by if left else by) for by in sorted(wanted) if by > 0.0]


def _turned(mover: Mover) -> tuple[Way, ...]:
    """Ways off its place only, with all that stands behind it in the way."""
    out: Shift = (-round(float(mover.high[0]) + BEHIND), 0.0, 0.0)
    inward = -OFF if mover.low[1] + mover.high[1] > 0.0 else OFF
    found: list[Way] = []
    offs: tuple[Shift, ...] = ((-OFF, 0.0, 0.0), (0.0, 0.0, OFF), (0.0, inward, 0.0))
    for off in offs:
        met = mover.hits((0.0, 0.0, 0.0), off)
        if "" in met:
            continue
        blockers = met | mover.hits(off, out, vehicle=False)
        if not any(way.blockers <= blockers for way in found):
            found.append(Way((off,), blockers, turned=True))
    return tuple(found)
