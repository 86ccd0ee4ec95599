"""How far a point of a part may lie from where it was drawn: the chain of parts that bear it.

From a part to the vehicle's floor through the joints: each part passed adds what of it lies
between the joint it is entered and the joint it is left by. Across a panel that is its share
of the board's thickness (one variable for all parts of that board); along it, a cut length;
each joint that could slide adds an assembly error; and where the module is bolted adds a
placing error. Sections of bars are taken as true: metal is drawn to a tenth or two. A size
measured once the part was cut takes the place of what cutting it leaves open.
"""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from fitout.checks.subject import Subject
from fitout.clearance.body import Body
from fitout.clearance.convex import Array
from fitout.model.item import Item
from fitout.model.module import Part
from fitout.model.panel import Bar
from fitout.model.placement import Vector

CUT = {"router": 0.3, "saw": 1.0}
"""Half width of a cut length's error, mm (common practice)."""

PLACING = (1.5, 1.5, 1.0)
"""Half width of where a module ends up along x, y, z: bolted by eye, on an uneven floor, mm
(common practice)."""

BESIDE = 0.5
"""Half width of how well a module is placed to its neighbour, mm: set with a spacer between
them, within the slack of its bolt holes (common practice)."""

ASSEMBLY = 0.5
"""Half width of how far two joined parts may slip along their joint, mm (common practice)."""

ITEM = 2.0
"""Half width of a bought thing's sizes, mm (common practice; the maker may know better)."""

HARDWARE = 0.3
"""Half width of the sizes of slides and other hardware, mm (common practice)."""

SLIPS = 2.0
"""Parts that share more than this along an axis could slip along it when joined, mm."""

PASSED = 1.0
"""Less than this of a part, mm, is not passed: both joints lie at the same end of it."""

SQUARE = 1e-3
"""What moves a point by less than this share of itself is taken as square to the direction."""

AXES = "xyz"


@dataclass(frozen=True, slots=True)
class Source:
    """What may be other than drawn: its name in words and half the width of its range, mm.

    `way` tells apart what of one name may be off independently: a part's sizes (u, v, w),
    a joint or a module's place along the bay's axes (x, y, z). `off` is by how much it is
    known to be off: a part as built.
    """

    name: str
    half_width: float
    way: str = ""
    off: float = 0.0


Shifts = Mapping[Source, float]
"""By how many mm a point moves for each mm a source is off."""


def shifts_of(
    subject: Subject, part: str, point: Vector, direction: Vector, placing: float | None = None
) -> Shifts:
    """How a point of a part moves along a unit vector with each source.

    `placing` is how well the module is placed along it (half width, mm) if not as usual.
    """
    found: dict[Source, float] = defaultdict(float)
    chain = _chain(subject, part)
    here, towards = np.array(point), np.array(direction)
    for id_, following in zip(chain, [*chain[1:], None], strict=True):
        body = subject.bodies[id_]
        if following is None:
            leave = (body.lo + body.hi) / 2.0
            leave[2] = body.lo[2]
        else:
            leave, slips = _joint(body, subject.bodies[following])
            for axis in np.flatnonzero(slips).tolist():
                name = f"how {id_} and {following} are joined"
                found[Source(name, ASSEMBLY, AXES[axis])] += float(towards[axis])
        passed = here - leave
        for source, way, share in _extent(subject, subject.parts[id_], passed):
            found[source] += share * float(way @ towards)
        here = leave
    module = subject.parts[chain[-1]].module
    for axis, usual in enumerate(PLACING):
        width = usual if placing is None else placing
        found[Source(f"where {module} is fixed", width, AXES[axis])] += float(towards[axis])
    return {source: shift for source, shift in found.items() if abs(shift) > SQUARE}


def _joint(body: Body, following: Body) -> tuple[Array, npt.NDArray[np.bool_]]:
    """The middle of where two joined bodies meet, and along which axes they could slip."""
    low = np.maximum(body.lo, following.lo)
    high = np.minimum(body.hi, following.hi)
    return (low + high) / 2.0, high - low > SLIPS


def _extent(subject: Subject, part: Part, passed: Array) -> Iterator[tuple[Source, Array, float]]:
    """What of a part's sizes the way through it depends on: source, direction, share."""
    axes = part.placement.matrix[:, :3].T
    lengths = axes @ passed
    for k, (axis, length) in enumerate(zip(axes, lengths.tolist(), strict=True)):
        if abs(length) < PASSED:
            continue
        sign = 1.0 if length > 0.0 else -1.0
        way = "uvw"[k]
        built = subject.as_built.get((part.id, way))
        if built is not None:
            name = f"{built.size} of {part.id} as built"
            share = length if way == "w" else sign
            whole = built.cut if way == "w" else 1.0
            source = Source(name, built.half_width, way, built.off)
            yield source, axis, max(-1.0, min(1.0, share / whole))
        elif isinstance(part, Item):
            width = HARDWARE if part.article else ITEM
            yield Source(f"size of {part.id}", width, way), axis, sign
        elif isinstance(part, Bar):
            if way == "u":
                yield Source(f"length of {part.id}", CUT["saw"]), axis, sign
        elif way != "w":
            yield (
                Source(f"cut of {part.id}", CUT[subject.cutting.tool(part.board.key)], way),
                axis,
                sign,
            )
        else:
            board = part.board
            source = Source(f"thickness of {board.key}", board.thickness_tolerance)
            yield source, axis, max(-1.0, min(1.0, length / board.thickness))


def _chain(subject: Subject, part: str) -> list[str]:
    """The parts from one to the first that rests on the vehicle, nearest way through joints."""
    before: dict[str, str | None] = {part: None}
    waiting = deque([part])
    neighbours = _neighbours(subject)
    last = part
    while waiting:
        last = waiting.popleft()
        around = neighbours.get(last, ())
        if any(other in subject.obstacles for other in around):
            break
        for other in around:
            if other in subject.parts and other not in before:
                before[other] = last
                waiting.append(other)
    else:
        # Nothing leads to the floor: the part's own module bears it.
        last = part
    chain: list[str] = []
    step: str | None = last
    while step is not None:
        chain.append(step)
        step = before[step]
    return chain[::-1]


def _neighbours(subject: Subject) -> Mapping[str, tuple[str, ...]]:
    def find() -> Mapping[str, tuple[str, ...]]:
        found: dict[str, list[str]] = defaultdict(list)
        for a, b in sorted(subject.joined):
            found[a].append(b)
        return {id_: tuple(others) for id_, others in found.items()}

    return subject.memory.recall(("neighbours", subject.joined), find)
