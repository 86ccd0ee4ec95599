"""How far a point of a part may lie from where it was drawn: the chain of parts that bear it.

From a part to the vehicle's floor through the joints: each part passed adds what of it lies
between the joint it is entered and the joint it is left by, along one axis of the bay. Across
a panel that is the board's thickness (one variable for all parts of that board); along it,
a cut length; each joint that could slide adds an assembly error; and where the module is
bolted adds a placing error.
"""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Mapping
from dataclasses import dataclass

from fitout.checks.subject import Subject
from fitout.model.item import Item
from fitout.model.module import Part
from fitout.model.panel import Bar, Panel
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

SLIPS = 2.0
"""Parts that share more than this along an axis could slip along it when joined, mm."""


@dataclass(frozen=True, slots=True)
class Source:
    """What may be other than drawn: its name in words and half the width of its range, mm."""

    name: str
    half_width: float


Shifts = Mapping[Source, float]
"""By how many mm a point moves for each mm a source is off."""


def shifts_of(
    subject: Subject, part: str, point: Vector, axis: int, placing: float | None = None
) -> Shifts:
    """How a point of a part moves along one axis (0 x, 1 y, 2 z) with each source.

    `placing` is how well the module is placed along it (half width, mm) if not as usual.
    """
    chain = _chain(subject, part)
    found: dict[Source, float] = defaultdict(float)
    here = point[axis]
    for k, id_ in enumerate(chain):
        body = subject.bodies[id_]
        if k + 1 < len(chain):
            following = subject.bodies[chain[k + 1]]
            low = max(body.lo[axis], following.lo[axis])
            high = min(body.hi[axis], following.hi[axis])
            leave = float(low + high) / 2.0
            if high - low > SLIPS:
                found[Source(f"how {id_} and {chain[k + 1]} are joined", ASSEMBLY)] += 1.0
        else:
            leave = float(body.lo[2]) if axis == 2 else float(body.lo[axis] + body.hi[axis]) / 2.0
        for source, share in _extent(subject, subject.parts[id_], here - leave, axis):
            found[source] += share
        here = leave
    module = subject.parts[chain[-1]].module
    width = PLACING[axis] if placing is None else placing
    found[Source(f"where {module} is fixed", width)] += 1.0
    return found


def _extent(subject: Subject, part: Part, length: float, axis: int) -> list[tuple[Source, float]]:
    """What of a part's extent along an axis may be other than drawn, and how it counts."""
    if abs(length) < 1.0:
        return []
    sign = 1.0 if length > 0.0 else -1.0
    if isinstance(part, Item):
        return [(Source(f"size of {part.id}", ITEM), sign)]
    if isinstance(part, Bar):
        return [(Source(f"length of {part.id}", CUT["saw"]), sign)]
    assert isinstance(part, Panel)
    across = abs(part.placement.w[axis])
    if across > 0.9:
        board = part.board
        source = Source(f"thickness of {board.key}", board.thickness_tolerance)
        return [(source, length / board.thickness)]
    return [(Source(f"cut of {part.id}", CUT[subject.cutting.by]), sign)]


def _chain(subject: Subject, part: str) -> list[str]:
    """The parts from one to the first that rests on the floor, nearest way through joints."""
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
