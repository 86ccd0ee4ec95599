"""What is done in a step one by one, without words, so that a guide can tell it in any language."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from fitout.checks.order_ways import Way
from fitout.checks.order_words import IN_PLACE
from fitout.checks.subassemblies import WELDED, SubAssembly
from fitout.checks.tool_access import Bolt
from fitout.model.assembly import Task
from fitout.model.latch import Latch
from fitout.model.module import Fixing, Joint, JointKind, Stay

GLUED, GLUE = "glued", "glue"

DRIVEN = (JointKind.SCREWED,)
"""Kinds of joint whose first part is driven through into the second."""

ORDER = (
    JointKind.GROOVED.value, JointKind.FITTED.value, JointKind.RESTS.value, GLUE,
    JointKind.SCREWED.value, JointKind.BOLTED.value, JointKind.HINGED.value,
)  # fmt: skip
"""The kinds of what is done to a part, in turn: it is held once it is in its place."""


def bench_tasks(
    group: Sequence[str],
    first: Sequence[str],
    joints: Sequence[Joint],
    fitted: Mapping[str, str],
    halves: Mapping[str, str],
) -> tuple[Task, ...]:
    """What is done when `group` is added to what is there.

    The step begins with the parts `first`, if any. `fitted` gives the panel that each bought
    part is screwed to beforehand, `halves` the panel that takes a slide's other half.
    """
    laid = tuple(part for part in first if part not in fitted)
    rest = [part for part in group if part not in fitted and part not in laid]
    found = [Task("first", items, (panel,)) for panel, items in _by_panel(fitted, group)]
    found += [Task("first", held, (head,)) for head, held in screwed_before(joints, rest).items()]
    found += [Task("halves", items, (panel,)) for panel, items in _by_panel(halves, group)]
    if laid:
        found.insert(0, Task("begin", laid))
    if any(joint.note == WELDED for joint in joints):
        found.append(Task("weld"))
    added = set(rest)
    there = {id_ for joint in joints for id_ in (joint.a, joint.b)} - added - set(fitted)
    return (*found, *_joined(joints, rest, there))


def screwed_before(
    joints: Iterable[Joint], added: Collection[str]
) -> Mapping[str, tuple[str, ...]]:
    """What is screwed together before it is added: a panel, and all it is driven through into."""
    found: dict[str, tuple[str, ...]] = {}
    for joint in joints:
        if joint.kind is JointKind.SCREWED and {joint.a, joint.b} <= set(added):
            found[joint.a] = (*found.get(joint.a, ()), joint.b)
    return found


def _by_panel(
    fitted: Mapping[str, str], group: Sequence[str]
) -> Iterator[tuple[str, tuple[str, ...]]]:
    for panel in group:
        items = tuple(item for item, on in fitted.items() if on == panel)
        if items:
            yield panel, items


def _joined(joints: Sequence[Joint], rest: Iterable[str], there: set[str]) -> Iterator[Task]:
    """What is added is joined to what is there: grooves and faces first, then what holds."""
    added = set(rest)
    met: dict[tuple[str, str], list[str]] = {}
    for joint in joints:
        ends = {joint.a, joint.b}
        if joint.kind is JointKind.SLIDES or len(ends & added) != 1 or len(ends & there) != 1:
            continue
        kind = GLUE if joint.note == GLUED else joint.kind.value
        # A screw goes through the first part of its joint into the second.
        first = joint.a if joint.kind in DRIVEN else next(iter(ends & added))
        met.setdefault((kind, first), []).append(joint.b if first == joint.a else joint.a)
    for kind in ORDER:
        alike: dict[tuple[str, ...], list[str]] = {}
        for (other, part), to in met.items():
            if other == kind:
                alike.setdefault(tuple(dict.fromkeys(to)), []).append(part)
        yield from (Task(kind, tuple(parts), to) for to, parts in alike.items())


def latch_tasks(latches: Iterable[Latch], parts: Iterable[str]) -> tuple[Task, ...]:
    """Where the latches that are fitted along with some parts go, and their strikers."""
    there = set(parts)
    pairs = dict.fromkeys(
        (latch.panel, latch.striker_panel) for latch in latches if latch.panel in there
    )
    return tuple(Task("latch", (panel,), (striker,)) for panel, striker in pairs)


def stay_tasks(stays: Iterable[Stay], parts: Iterable[str]) -> tuple[Task, ...]:
    """Between which parts the stays of lids go that are fitted along with some parts."""
    there = set(parts)
    pairs = dict.fromkeys((stay.lid, stay.side) for stay in stays if stay.lid in there)
    return tuple(Task("stay", (lid,), (side,)) for lid, side in pairs)


def vehicle_tasks(
    sub: SubAssembly, way: Way | None, joints: Iterable[Joint], bolts: Iterable[Bolt]
) -> tuple[Task, ...]:
    """What is done to set a sub-assembly into the vehicle and to hold it there."""
    found = [Task("carry")]
    if way is not None and way.drawn:
        found = [Task("draw", to=tuple(sorted(way.drawn)))]
    elif way is not None and way.turned:
        found = [Task("turn")]
    points = tuple((bolt.name, bolt.point) for bolt in bolts)
    if points:
        found.append(Task("bolt down", points=points))
    bolted = bool(points)
    return (*found, *_joined_in_place(sub, joints, bolted=bolted))


def _joined_in_place(sub: SubAssembly, joints: Iterable[Joint], *, bolted: bool) -> Iterator[Task]:
    """How what was brought in is joined to what stands there, one task for each kind."""
    outer = [j for j in joints if not {j.a, j.b} <= set(sub.parts) and not j.b.startswith("bay/")]
    for kind in IN_PLACE:
        met = [j for j in outer if j.kind is kind]
        if kind in DRIVEN:
            for head in dict.fromkeys(j.a for j in met):
                yield Task(kind.value, (head,), tuple(j.b for j in met if j.a == head))
        elif met and kind is JointKind.SLIDES:
            ends = dict.fromkeys(i for j in met for i in (j.a, j.b))
            yield Task(kind.value, to=tuple(i for i in ends if i not in sub.parts))
        elif met and not (bolted and kind is JointKind.BOLTED):
            alike: dict[tuple[str, ...], list[str]] = {}
            for part in dict.fromkeys(i for j in met for i in (j.a, j.b) if i in sub.parts):
                to = (i for j in met if part in (j.a, j.b) for i in (j.a, j.b) if i != part)
                alike.setdefault(tuple(dict.fromkeys(to)), []).append(part)
            yield from (Task(kind.value, tuple(parts), to) for to, parts in alike.items())


def top_task(tops: Iterable[Fixing]) -> Task:
    """Where the upper ends of posts are bolted to the vehicle's walls."""
    return Task("tops", points=tuple((top.anchor or "", top.point) for top in tops))
