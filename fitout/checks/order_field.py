"""What a sub-assembly runs into when it is shifted: other sub-assemblies, or the vehicle.

Most is decided by the blocks that bodies lie within or hold within them, the rest by what
sweep and body share.
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
from fitout.model.module import JointKind
from fitout.model.placement import Vector
from fitout.survey.room import SIDES, half_width

CLEARLY = 0.01
"""What shares room this thick on average, mm, does more than touch."""

JAMB = "jamb of the opening"
AHEAD = ("bay/seat back", "bay/front wall")

Shift = Vector
Bools = npt.NDArray[np.bool_]


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
        self._mine = [isinstance(body.shape, Blocks) for body in sub.bodies]
        self._theirs = [isinstance(body.shape, Blocks) for body in field.bodies]
        self._seen: dict[tuple[Shift, Shift, bool], frozenset[str]] = {}

    def hits(self, start: Shift, shift: Shift, *, vehicle: bool = True) -> frozenset[str]:
        """What it runs into when it has been shifted by `start` and goes on by `shift`.

        Ids of sub-assemblies, or "" alone for the vehicle unless that is left out.
        """
        key = (start, shift, vehicle)
        if key not in self._seen:
            found = frozenset(self._hits(np.array(start), np.array(shift), vehicle=vehicle))
            self._seen[key] = frozenset({""}) if "" in found else found
        return self._seen[key]

    def _hits(self, start: Array, shift: Array, *, vehicle: bool) -> Iterator[str]:
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
            if not group and not vehicle:
                continue
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
        return self._mine[mine] and self._theirs[other]

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
        """Whether a wall, jamb or seat is sure to be passed: away from it, or within its bounds.

        A wall is a depth over (x, z), so what does not run into it never does on its way to
        the centre line; nor does what goes rearwards run into the seat.
        """
        if other.startswith(AHEAD) and shift[0] < 0.0:
            return True
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
    """Whether a body shifted from `start` by `shift` passes through another, not just along it."""
    length = float(np.linalg.norm(shift))
    x, y, z = (shift / length).tolist()
    passed = sweep(shifted(body, start), (x, y, z), length)
    doubtful = False
    for solid, box in zip(passed.shape.solids, passed.shape.extents, strict=True):
        if not _overlap(box[None], np.array([[still.lo, still.hi]])).any():
            continue
        common = solid ^ still.manifold
        if common.is_empty():
            continue
        # How thick what they share is on average: if more than touching, no more need be known.
        if 2.0 * common.volume() > (CLEARLY + passed.growth + still.growth) * common.surface_area():
            return True
        doubtful = True
    return doubtful and contact(passed, still, 0.0).clashes


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
