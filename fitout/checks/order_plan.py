"""In which order the sub-assemblies go in: taken out one at a time in thought, then reversed.

Something can be taken out when nothing still there rests on it, nothing still there keeps a
hand from its bolts, and one of its ways is free. Taking something out never bars another's way,
so if any order exists, taking out whatever can be taken out finds one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from fitout.checks.order_field import Field, field_of
from fitout.checks.order_ways import Way, ways_of
from fitout.checks.subassemblies import UNDOABLE, SubAssembly, lower_first, sub_assemblies
from fitout.checks.subject import Subject
from fitout.checks.tool_access import ways_to_bolts
from fitout.checks.ways_in import bolted_first, carried_as
from fitout.model.item import Item
from fitout.model.panel import Bar


@dataclass(frozen=True, slots=True, kw_only=True)
class Node:
    """A sub-assembly, its ways out, and who must be out (in: not yet in) before it.

    `carries` rest on it or slide in it; `bars` keep tools from its bolts. `standing` says that
    the vehicle lets it neither out nor off its place along any way tried.
    """

    sub: SubAssembly
    ways: tuple[Way, ...]
    carries: frozenset[str]
    bars: frozenset[str]

    @property
    def standing(self) -> bool:
        """Whether no way was found at all."""
        return not self.ways

    @property
    def held(self) -> frozenset[str]:
        """All that must be out before it, whichever way it goes."""
        return self.carries | self.bars

    def way_past(self, there: frozenset[str]) -> Way | None:
        """The simplest way that nothing of `there` stands in."""
        return next((way for way in self.ways if not way.blockers & there), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The order in which sub-assemblies go in, each with its way, and what has none.

    `stuck` hold each other: none of them can be the first to be taken out.
    """

    nodes: Mapping[str, Node]
    order: tuple[tuple[str, Way | None], ...]
    stuck: tuple[str, ...]
    outside: tuple[SubAssembly, ...]


def plan_of(subject: Subject, subs: Sequence[SubAssembly] | None = None) -> Plan:
    """The order of a fit-out, of its sub-assemblies or of `subs` in their place.

    What only goes through the opening in pieces, or is bolted down before its top is on, counts
    as those pieces; but nothing is taken apart for its bolts where that leaves no order.
    """
    listed = list(sub_assemblies(subject) if subs is None else subs)
    inside = [sub for sub in listed if is_inside(subject, sub)]
    nodes = nodes_of(subject, inside, field_of(subject, inside))
    carried = [
        piece
        for sub in inside
        for piece in (carried_as(subject, sub) if is_doubtful(nodes[sub.id]) else (sub,))
    ]
    first = {sub.id: bolted_first(subject, sub) for sub in carried}
    while True:
        apart = [piece for sub in carried for piece in first[sub.id]]
        there = nodes
        if len(apart) != len(inside):
            known = _unaffected(nodes, apart)
            there = nodes_of(subject, apart, field_of(subject, apart), known)
        taken, stuck = _taken_out(subject, there)
        whole = _locked(subject, there, stuck, first)
        if not whole:
            break
        first.update({sub.id: (sub,) for sub in carried if sub.id in whole})
    return Plan(
        nodes=there,
        order=tuple(reversed(taken)),
        stuck=stuck,
        outside=tuple(sub for sub in listed if sub not in inside),
    )


def _locked(
    subject: Subject,
    nodes: Mapping[str, Node],
    stuck: Sequence[str],
    first: Mapping[str, Sequence[SubAssembly]],
) -> list[str]:
    """What is stuck because it is in pieces: what its own pieces hold, else whatever is."""
    held = {id_: [p.id for p in pieces if p.id in stuck] for id_, pieces in first.items()}
    apart = [id_ for id_, pieces in first.items() if len(pieces) > 1 and held[id_]]
    alone = [id_ for id_ in apart if _taken_out(subject, {p: nodes[p] for p in held[id_]})[1]]
    return alone or apart


def is_doubtful(node: Node) -> bool:
    """Whether it goes in turned or in pieces, if at all."""
    return node.standing or node.ways[0].turned


def is_inside(subject: Subject, sub: SubAssembly) -> bool:
    """Whether it stands in the bay: the deck has no berth, and yet it does."""
    module = subject.modules[sub.module]
    return module.berth is not None or module.kind == "deck"


def _unaffected(
    nodes: Mapping[str, Node], carried: Sequence[SubAssembly]
) -> dict[str, tuple[Way, ...]]:
    """The ways of what stays whole and in whose ways nothing stands that is now in pieces."""
    there = {sub.id for sub in carried}
    return {
        id_: node.ways
        for id_, node in nodes.items()
        if id_ in there and all(way.blockers <= there for way in node.ways)
    }


def nodes_of(
    subject: Subject,
    subs: Sequence[SubAssembly],
    field: Field,
    known: Mapping[str, tuple[Way, ...]] = MappingProxyType({}),
) -> dict[str, Node]:
    """Each sub-assembly with its ways, as far as they are not `known`, and what depends on it."""
    owner = {part: sub.id for sub in subs for part in sub.parts}
    carries: dict[str, set[str]] = {sub.id: set() for sub in subs}
    for joint in subject.fitout.all_joints():
        below, above = lower_first(subject, joint)
        if below in owner and above in owner and owner[below] != owner[above]:
            carries[owner[below]].add(owner[above])
    bars = _bars(subject, owner)
    return {
        sub.id: Node(
            sub=sub,
            ways=known[sub.id] if sub.id in known else ways_of(subject, field, sub),
            carries=frozenset(carries[sub.id]),
            bars=frozenset(bars.get(sub.id, set()) - {sub.id}),
        )
        for sub in subs
    }


def _bars(subject: Subject, owner: Mapping[str, str]) -> dict[str, set[str]]:
    """For each bolted sub-assembly, those that keep tools from its bolts."""
    found: dict[str, set[str]] = {}
    for module in subject.fitout.modules:
        if module.berth is None:
            continue
        for way in ways_to_bolts(subject, module):
            through = owner.get(way.bolt.through or "")
            if through is not None:
                met = {owner[part] for part in way.blockers if part in owner}
                found.setdefault(through, set()).update(met)
    return found


def _taken_out(
    subject: Subject, nodes: Mapping[str, Node]
) -> tuple[list[tuple[str, Way | None]], tuple[str, ...]]:
    """What is taken out in turn, each with its way; and what can't be."""
    there = set(nodes)
    taken: list[tuple[str, Way | None]] = []
    ranks = {id_: _rank(subject, node) for id_, node in nodes.items()}
    while there:
        free = sorted(_free(nodes, frozenset(there)), key=lambda id_: (ranks[id_], id_))
        if not free:
            break
        first = free[0]
        taken.append((first, nodes[first].way_past(frozenset(there - {first}))))
        there.remove(first)
    return taken, tuple(id_ for id_ in nodes if id_ in there)


def _free(nodes: Mapping[str, Node], there: frozenset[str]) -> Iterator[str]:
    for id_ in there:
        node = nodes[id_]
        if not node.held & there and (node.standing or node.way_past(there) is not None):
            yield id_


def _rank(subject: Subject, node: Node) -> tuple[float, ...]:
    """What is taken out first where there is a choice, so that the order reads naturally.

    Loose deck pieces, then what is bought, drawers, small fittings, then what stands fixed:
    from the rear forward, from the middle to the walls, from the top down. What must be turned
    to come in comes in while there is most room.
    """
    sub = node.sub
    parts = [subject.parts[id_] for id_ in sub.parts]
    if subject.modules[sub.module].kind == "deck":
        kind = 3 if is_fastened(subject, sub) else 0
    elif all(isinstance(part, Item) for part in parts):
        kind = 1
    elif any(part.moves for part in parts) and all(part.moves for part in parts):
        kind = 2
    else:
        kind = 4
    metal = int(all(isinstance(part, Bar) for part in parts))
    turned = int(kind == 4 and is_doubtful(node))
    low = np.min([body.lo for body in sub.bodies], axis=0)
    high = np.max([body.hi for body in sub.bodies], axis=0)
    aside = float(low[1] + high[1]) / 2.0
    return kind, turned, metal, round(float(high[0]), -2), round(abs(aside), -1), -low[2], aside


def is_fastened(subject: Subject, sub: SubAssembly) -> bool:
    """Whether a sub-assembly is screwed or bolted to another."""
    inside = set(sub.parts)
    return any(
        joint.kind in UNDOABLE and len({joint.a, joint.b} & inside) == 1
        for joint in subject.fitout.all_joints()
    )


def must_come_out(plan: Plan, wanted: frozenset[str]) -> tuple[str, ...] | None:
    """The fewest sub-assemblies to take out so that those `wanted` are, in turn; else None.

    The wanted ones are among them.
    """
    pending = [_closed(plan, wanted)]
    seen: set[frozenset[str]] = set()
    while pending:
        pending.sort(key=lambda s: (-len(s), sorted(s)))
        chosen = pending.pop()
        if chosen in seen:
            continue
        seen.add(chosen)
        sequence, left = _sequence(plan, chosen)
        if not left:
            return sequence
        for id_ in sorted(left):
            met = [way.blockers for way in plan.nodes[id_].ways if not way.blockers <= chosen]
            pending += [_closed(plan, chosen | blockers) for blockers in met]
    return None


def _closed(plan: Plan, chosen: frozenset[str]) -> frozenset[str]:
    """With all that must be out before any of them."""
    whole, size = set(chosen), -1
    while len(whole) != size:
        size = len(whole)
        for id_ in tuple(whole):
            whole |= plan.nodes[id_].held
    return frozenset(whole)


def _sequence(plan: Plan, chosen: frozenset[str]) -> tuple[tuple[str, ...], frozenset[str]]:
    """In which turn those chosen come out while all others stay, and which don't."""
    there, left = set(plan.nodes), set(chosen)
    natural = [id_ for id_, _ in reversed(plan.order)]
    sequence: list[str] = []
    while left:
        free = set(_free(plan.nodes, frozenset(there))) & left
        if not free:
            break
        first = min(free, key=lambda id_: (natural.index(id_) if id_ in natural else -1, id_))
        sequence.append(first)
        there.remove(first)
        left.remove(first)
    return tuple(sequence), frozenset(left)
