"""The ways a sub-assembly can leave its place, and what stands in each of them.

A way is a row of straight shifts along the bay's axes, from the place it ends up in to the
open air behind the sill: the way in, backwards. Sweeps are exact, so a way that is free is
free; that none is free says only that none of the ways tried is. What the opening is too
small for has a way off its place only, and the room behind it must be empty: it is turned
there, which `going in` judges.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
import numpy.typing as npt

from fitout.checks.subassemblies import SubAssembly
from fitout.checks.subject import Subject
from fitout.clearance.body import Body, body_of_shape
from fitout.clearance.contact import TOUCH, contact
from fitout.clearance.convex import Array
from fitout.clearance.shape import Blocks, Hulls, Mesh, Prism, rounded
from fitout.clearance.sweep import sweep
from fitout.model.bay import State
from fitout.model.module import JointKind, MotionKind
from fitout.model.placement import Vector
from fitout.survey.room import SIDES, half_width

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

JAMB = "jamb of the opening"

Shift = Vector
Bools = npt.NDArray[np.bool_]


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


@dataclass(frozen=True, slots=True, eq=False)
class Field:
    """All that may be in the way: the blocks that contain each body, and whose they are.

    `owners` holds for each block the index of its body in `bodies`; `groups` for each body
    the sub-assembly it belongs to, "" for the vehicle.
    """

    bodies: tuple[Body, ...]
    groups: tuple[str, ...]
    boxes: Array
    owners: npt.NDArray[np.int64]


def field_of(subject: Subject, subs: Sequence[SubAssembly]) -> Field:
    """The sub-assemblies in the bay and the vehicle as it stands while they are set in.

    The tailgate is open and the seat as usual. What is to be kept clear when all is done may
    be passed through.
    """
    state = parked(subject)
    bodies = [(body, sub.id) for sub in subs for body in sub.bodies]
    for obstacle in subject.obstacles.values():
        there = not obstacle.states or (state is not None and state.name in obstacle.states)
        if there and obstacle.kind != "keep clear":
            bodies.append((subject.bodies[obstacle.id], ""))
    covers = [body.shape.cover for body, _ in bodies]
    return Field(
        bodies=tuple(body for body, _ in bodies),
        groups=tuple(group for _, group in bodies),
        boxes=np.concatenate(covers),
        owners=np.repeat(np.arange(len(covers)), [len(c) for c in covers]),
    )


def parked(subject: Subject) -> State | None:
    """The state of the vehicle in which things are carried in: the tailgate open."""
    return next((s for s in subject.fitout.bay.states if s.tailgate_open), None)


class Mover:
    """One sub-assembly against the field; remembers the sweeps it was asked for."""

    def __init__(self, subject: Subject, field: Field, sub: SubAssembly) -> None:
        self.subject, self.field, self.sub = subject, field, sub
        covers = [body.shape.cover for body in sub.bodies]
        self.boxes = np.concatenate(covers)
        self.owners = np.repeat(np.arange(len(covers)), [len(c) for c in covers])
        self.low = self.boxes[:, 0].min(axis=0)
        self.high = self.boxes[:, 1].max(axis=0)
        self.foreign = np.array([group != sub.id for group in field.groups])[field.owners]
        self._seen: dict[tuple[Shift, Shift], frozenset[str]] = {}

    def hits(self, start: Shift, shift: Shift) -> frozenset[str]:
        """What it runs into when it has been shifted by `start` and goes on by `shift`.

        Ids of sub-assemblies, "" for the vehicle.
        """
        key = (start, shift)
        if key not in self._seen:
            self._seen[key] = frozenset(self._hits(np.array(start), np.array(shift)))
        return self._seen[key]

    def _hits(self, start: Array, shift: Array) -> Iterator[str]:
        beside = np.stack([start + shift.clip(max=0.0), start + shift.clip(min=0.0)])
        boxes = self.boxes + beside
        places = self._near(boxes)
        if not len(places):
            return
        i, j = np.nonzero(_overlap(boxes, self.field.boxes[places]))
        others = self.field.owners[places[j]].tolist()
        pairs = set(zip(self.owners[i].tolist(), others, strict=True))
        found: set[str] = set()
        # The vehicle comes first: what it does not allow need not be looked at further.
        # What blocks decide is decided at once.
        ranked = sorted(pairs, key=lambda p: (self.field.groups[p[1]], not self._plain(*p), p))
        for mine, other in ranked:
            group = self.field.groups[other]
            if group not in found and self._clashes(mine, other, start, shift):
                found.add(group)
                yield group
                if not group:
                    return

    def _near(self, boxes: Array) -> npt.NDArray[np.int64]:
        """Blocks of others that the bounds of the whole sweep meet."""
        least, most = boxes[:, 0].min(axis=0), boxes[:, 1].max(axis=0)
        field = self.field.boxes
        met = np.all((least < field[:, 1] - TOUCH) & (most > field[:, 0] + TOUCH), axis=1)
        return np.flatnonzero(met & self.foreign)

    def rests_on(self, parts: Collection[str]) -> bool:
        """Whether it is declared to rest on one of those parts."""
        return any(
            joint.kind is JointKind.RESTS and joint.a in self.sub.parts and joint.b in parts
            for joint in self.subject.modules[self.sub.module].joints
        )

    def _plain(self, mine: int, other: int) -> bool:
        shapes = self.sub.bodies[mine].shape, self.field.bodies[other].shape
        return all(isinstance(shape, Blocks) for shape in shapes)

    def _clashes(self, mine: int, other: int, start: Array, shift: Array) -> bool:
        body, still = self.sub.bodies[mine], self.field.bodies[other]
        if self._plain(mine, other):
            return True
        beside = np.stack([start + shift.clip(max=0.0), start + shift.clip(min=0.0)])
        # The blocks inside both, swept along an axis, lie inside the sweep.
        if _overlap(body.shape.core + beside, still.shape.core).any():
            return True
        if self._clears_wall(mine, still.id, start, shift):
            return False
        question = ("way", body.key, still.key, tuple(start.tolist()), tuple(shift.tolist()))
        work_out = partial(_runs_into, body, still, start, shift)
        return self.subject.memory.recall(question, work_out)

    def _clears_wall(self, mine: int, other: str, start: Array, shift: Array) -> bool:
        """Whether a wall or jamb is sure to be passed: inwards, or within its least half width.

        A wall is a depth over (x, z), so what does not run into it never does on its way to
        the centre line.
        """
        side, _, what = other.removeprefix("bay/").partition(" ")
        if side not in SIDES or what not in ("wall", JAMB):
            return False
        body = self.sub.bodies[mine]
        inwards = shift[1] < 0.0 if side == "left" else shift[1] > 0.0
        if what == "wall" and inwards and not start.any():
            return True
        low = body.lo + start + shift.clip(max=0.0)
        high = body.hi + start + shift.clip(min=0.0)
        x, z = (float(low[0]), float(high[0])), (float(low[2]), float(high[2]))
        bay = self.subject.fitout.bay
        if what == JAMB:
            if x[0] >= -_least([(at, -face) for at, face in bay.tailgate], z):
                return True
            least = _least(
                [(at, (right, left)[side == "left"]) for at, right, left in bay.opening], z
            )
        else:
            question = ("half width", bay, side, x, z)
            least = self.subject.memory.recall(
                question, lambda: half_width(bay, side, x, z, arches=False)
            )
        return float(high[1] if side == "left" else -low[1]) <= least


def _least(line: Sequence[tuple[float, float]], span: tuple[float, float]) -> float:
    """The least value of a polyline of (height, value) between two heights."""
    heights, values = zip(*line, strict=True)
    ends = np.interp(span, heights, values).tolist()
    return float(min([*ends, *(v for at, v in line if span[0] < at < span[1])]))


def _overlap(first: Array, second: Array) -> Bools:
    """Which blocks share room with which, shape (n, m); touching is none."""
    low = first[:, None, 0] < second[None, :, 1] - TOUCH
    high = first[:, None, 1] > second[None, :, 0] + TOUCH
    return np.asarray(np.all(low & high, axis=2))


def _runs_into(body: Body, still: Body, start: Array, shift: Array) -> bool:
    length = float(np.linalg.norm(shift))
    direction = tuple((shift / length).tolist())
    passed = sweep(shifted(body, start), (direction[0], direction[1], direction[2]), length)
    return contact(passed, still, 0.0).clashes


def shifted(body: Body, by: Array) -> Body:
    """The body `by` so much further on."""
    if not by.any():
        return body
    shape = body.shape
    moved: Blocks | Prism | Hulls | Mesh
    if isinstance(shape, Blocks):
        moved = Blocks(rounded(shape.boxes + by), shape.growth)
    elif isinstance(shape, Prism):
        matrix = shape.matrix.copy()
        matrix[:, 3] += by
        moved = Prism(
            loops=shape.loops,
            thickness=shape.thickness,
            cuts=shape.cuts,
            matrix=matrix,
            core=rounded(shape.core + by),
            cover=rounded(shape.cover + by),
            growth=shape.growth,
        )
    elif isinstance(shape, Hulls):
        moved = Hulls([rounded(piece + by) for piece in shape.pieces], shape.growth)
    else:
        moved = Mesh(rounded(shape.vertices + by), shape.triangles, shape.growth)
    return body_of_shape(body.id, moved, body.key + rounded(by).tobytes())


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
        blockers = frozenset((met | mover.hits(off, out)) - {""})
        if not any(way.blockers <= blockers for way in found):
            found.append(Way((off,), blockers, turned=True))
    return tuple(found)
