"""In which order the parts of one sub-assembly are put together on the bench.

As in the vehicle: parts are taken off one at a time in thought, each straight along an axis
past all that are still there, and the order is reversed. So a bottom goes into its grooves
before the last side closes them. What is bought is fitted to its panel first, what is welded
counts as one. Where a panel's screw heads would be covered by what stands there already, as
between two columns side by side, it is screwed together with what it holds beforehand, and
both are added as one.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np
import numpy.typing as npt

from fitout.checks.order_field import Field, Mover
from fitout.checks.subassemblies import WELDED, SubAssembly
from fitout.checks.subject import Subject
from fitout.clearance.body import Body
from fitout.model.item import Item
from fitout.model.module import Joint, JointKind
from fitout.model.panel import Bar, Panel
from fitout.model.placement import Vector

LAYER = 50.0
"""What begins within so much height counts as one layer, laid in the order it is listed, mm."""

DRIVER = 60.0
"""Room that a short screwdriver takes over a screw's head, mm (common practice)."""

TOUCHES = 1.0
"""Bodies no farther apart than this count as lying on each other, mm."""

AXES: tuple[Vector, ...] = (
    (0.0, 0.0, 1.0), (-1.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, -1.0, 0.0),
    (0.0, 0.0, -1.0),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Bench:
    """The order of a sub-assembly's parts: groups that are added together.

    `fitted` are bought parts and the panel each is fitted to first; `stuck` hold each other.
    """

    groups: tuple[tuple[str, ...], ...]
    fitted: tuple[tuple[str, str], ...]
    stuck: tuple[str, ...]


def bench_of(subject: Subject, sub: SubAssembly) -> Bench:
    """How a sub-assembly is put together; remembered by its parts and joints."""
    joints = _inside(subject, sub)
    question = ("bench", sub.parts, tuple(b.key for b in sub.bodies), joints)
    return subject.memory.recall(question, partial(_work_out, subject, sub, joints))


def _inside(subject: Subject, sub: SubAssembly) -> tuple[Joint, ...]:
    own = set(sub.parts)
    return tuple(j for j in subject.modules[sub.module].joints if j.a in own and j.b in own)


def _work_out(subject: Subject, sub: SubAssembly, joints: tuple[Joint, ...]) -> Bench:
    fitted = _fitted(subject, joints)
    before: set[tuple[str, str]] = set()
    while True:
        bench = _ordered(subject, sub, joints, fitted, before)
        covered = set(_covered(subject, sub, joints, bench)) - before
        if not covered:
            return bench
        before |= covered


def _ordered(
    subject: Subject,
    sub: SubAssembly,
    joints: tuple[Joint, ...],
    fitted: Mapping[str, str],
    before: Collection[tuple[str, str]],
) -> Bench:
    """The order in which the pairs `before` are put together first."""
    units = _units(sub, joints, fitted, before)
    field = _field(sub, units)
    movers = {
        unit: Mover(subject, field, _as_sub(subject, sub, unit, parts))
        for unit, parts in units.items()
    }
    length = np.ceil(np.ptp(np.array([[b.lo, b.hi] for b in sub.bodies]).reshape(-1, 3), axis=0))
    base = min(float(body.lo[2]) for body in sub.bodies)
    there = list(units)
    taken: list[str] = []
    while there:
        left = frozenset(there)
        ranked = sorted(there, key=lambda u: _rank(subject, sub, u, float(movers[u].low[2]) - base))
        free = (u for u in ranked if len(there) == 1 or _comes_off(movers[u], left, length))
        first = next(free, None)
        if first is None:
            break
        taken.append(first)
        there.remove(first)
    stuck = tuple(there)
    order = [*stuck, *reversed(taken)]
    apart = frozenset(itertools.chain.from_iterable(before))
    return Bench(_together(order, units, joints, apart), tuple(fitted.items()), stuck)


def _covered(
    subject: Subject, sub: SubAssembly, joints: tuple[Joint, ...], bench: Bench
) -> Iterator[tuple[str, str]]:
    """Pairs to be screwed together, one through the other, when no driver comes to the heads."""
    turn = {part: number for number, group in enumerate(bench.groups) for part in group}
    bodies = {part: subject.bodies[part] for part in sub.parts}
    for joint in joints:
        head, held = subject.parts[joint.a], joint.b
        if joint.kind is not JointKind.SCREWED or not isinstance(head, Panel):
            continue
        now = max(turn[head.id], turn[held])
        if turn[head.id] == turn[held]:
            continue
        there = [p for p in sub.parts if turn[p] < now and p not in (head.id, held)]
        in_way = [bodies[p] for p in there if not isinstance(subject.parts[p], Item)]
        if any(_over_head(head, bodies[head.id], bodies[held], body) for body in in_way):
            yield head.id, held


def _over_head(head: Panel, panel: Body, held: Body, other: Body) -> bool:
    """Whether a body lies over screws that go through a panel into what it holds."""
    axis = int(np.argmin(panel.hi - panel.lo))
    if int(np.argmin(held.hi - held.lo)) == axis:
        return False  # Face to face: such screws have no drawn places and find room beside.
    if held.lo[axis] >= panel.hi[axis] - TOUCHES:
        gap = float(panel.lo[axis] - other.hi[axis])
    elif held.hi[axis] <= panel.lo[axis] + TOUCHES:
        gap = float(other.lo[axis] - panel.hi[axis])
    else:
        return False
    if not -TOUCHES <= gap < DRIVER:
        return False
    across = [k for k in range(3) if k != axis]
    points = np.array([head.placement.at(h.x, h.y) for h in head.holes if h.purpose == "screw"])
    if not len(points):
        return False

    def within(body: Body) -> npt.NDArray[np.bool_]:
        low, high = body.lo[across] - TOUCHES, body.hi[across] + TOUCHES
        inside = (points[:, across] >= low) & (points[:, across] <= high)
        return np.asarray(inside.all(axis=1))

    return bool((within(held) & within(other)).any())


def _rank(subject: Subject, sub: SubAssembly, unit: str, height: float) -> tuple[float, ...]:
    """What comes off first: panels before the bars they hang on, from the top down."""
    is_bar = isinstance(subject.parts[unit], Bar)
    return is_bar, -(height // LAYER), -sub.parts.index(unit)


def _comes_off(mover: Mover, there: frozenset[str], length: object) -> bool:
    sizes = np.asarray(length, dtype=np.float64) + 10.0
    for axis in AXES:
        x, y, z = (np.array(axis) * sizes).tolist()
        if not mover.hits((0.0, 0.0, 0.0), (x, y, z)) & (there - {mover.sub.id}):
            return True
    return False


def _fitted(subject: Subject, joints: Sequence[Joint]) -> dict[str, str]:
    """Bought parts that are screwed to a panel before all else, and which."""
    found: dict[str, str] = {}
    for joint in joints:
        for item, panel in ((joint.a, joint.b), (joint.b, joint.a)):
            bought = isinstance(subject.parts[item], Item)
            if bought and not isinstance(subject.parts[panel], Item):
                found.setdefault(item, panel)
    return found


def _units(
    sub: SubAssembly,
    joints: Sequence[Joint],
    fitted: Mapping[str, str],
    before: Collection[tuple[str, str]],
) -> dict[str, tuple[str, ...]]:
    """Parts that are handled as one, by the first of them."""
    leader = {part: part for part in sub.parts}

    def head(part: str) -> str:
        while leader[part] != part:
            part = leader[part]
        return part

    for joint in joints:
        if joint.kind is JointKind.FITTED and joint.note == WELDED:
            leader[head(joint.b)] = head(joint.a)
    for item, panel in (*fitted.items(), *sorted(before)):
        leader[head(item)] = head(panel)
    units: dict[str, list[str]] = {}
    for part in sub.parts:
        units.setdefault(head(part), []).append(part)
    return {parts[0]: tuple(parts) for parts in units.values()}


def _field(sub: SubAssembly, units: Mapping[str, tuple[str, ...]]) -> Field:
    unit_of = {part: unit for unit, parts in units.items() for part in parts}
    covers = [body.shape.cover for body in sub.bodies]
    return Field(
        bodies=sub.bodies,
        groups=tuple(unit_of[part] for part in sub.parts),
        boxes=np.concatenate(covers),
        owners=np.repeat(np.arange(len(covers)), [len(c) for c in covers]),
    )


def _as_sub(subject: Subject, sub: SubAssembly, unit: str, parts: tuple[str, ...]) -> SubAssembly:
    return replace(sub, id=unit, parts=parts, bodies=tuple(subject.bodies[part] for part in parts))


def _together(
    order: Sequence[str],
    units: Mapping[str, tuple[str, ...]],
    joints: Sequence[Joint],
    apart: frozenset[str],
) -> tuple[tuple[str, ...], ...]:
    """Units that follow each other, are named alike and don't meet, as one; never those `apart`."""
    met = {frozenset((j.a, j.b)) for j in joints}
    groups: list[list[str]] = []
    for unit in order:
        parts = units[unit]
        last = groups[-1] if groups else []
        alike = bool(last) and plain(last[0]) == plain(parts[0])
        touching = any(frozenset(pair) in met for pair in itertools.product(last, parts))
        if alike and not touching and apart.isdisjoint((*last, *parts)):
            last += parts
        else:
            groups.append(list(parts))
    return tuple(tuple(group) for group in groups)


def plain(part: str) -> str:
    """A part's name without what tells it from its like: number, left and right."""
    name = part.partition("/")[2]
    return " ".join(re.sub(r"\b(left|right|front|rear|\d+)\b", " ", name).split()) or name
