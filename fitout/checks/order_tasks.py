"""What is done in a step one by one, without words, so that a guide can tell it in any language."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from fitout.checks.order_ways import Way
from fitout.checks.order_words import IN_PLACE, JOINED
from fitout.checks.subassemblies import WELDED, SubAssembly
from fitout.checks.tool_access import Bolt
from fitout.model.assembly import Task
from fitout.model.latch import Latch
from fitout.model.module import Fixing, Joint, JointKind, Stay

GLUED = "glued"


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


def _joined(joints: Iterable[Joint], rest: Iterable[str], there: set[str]) -> Iterator[Task]:
    """One task for each kind of joint that what is added makes with what is there."""
    added = set(rest)
    met: dict[str, dict[str, None]] = {}
    for joint in joints:
        to = {joint.a, joint.b} & there
        if {joint.a, joint.b} & added and to and joint.kind is not JointKind.SLIDES:
            kind = "glue" if joint.note == GLUED else joint.kind.value
            met.setdefault(kind, {}).update(dict.fromkeys(to))
    kinds = ("glue", *(kind.value for kind in JOINED))
    return (Task(kind, to=tuple(met[kind])) for kind in kinds if kind in met)


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
    for kind in IN_PLACE:
        met = dict.fromkeys(
            id_
            for joint in joints
            for id_ in (joint.a, joint.b)
            if joint.kind is kind and id_ not in sub.parts and not id_.startswith("bay/")
        )
        if met and not (points and kind is JointKind.BOLTED):
            found.append(Task(kind.value, to=tuple(met)))
    return tuple(found)


def top_task(tops: Iterable[Fixing]) -> Task:
    """Where the upper ends of posts are bolted to the vehicle's walls."""
    return Task("tops", points=tuple((top.anchor or "", top.point) for top in tops))
