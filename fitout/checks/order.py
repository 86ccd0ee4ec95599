"""Whether everything can be put together and set in, in which order, and what must come out first.

On the bench and in the vehicle alike it is tried backwards: what can be taken off or out is, one
at a time, until nothing is left. What is left then holds each other.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from fitout.checks.order_bench import bench_of
from fitout.checks.order_plan import Node, Plan, must_come_out, plan_of
from fitout.checks.order_steps import steps_of
from fitout.checks.order_words import listed
from fitout.checks.subassemblies import sub_assemblies
from fitout.checks.subject import Subject
from fitout.checks.verdict import fact, remark
from fitout.model.assembly import Step
from fitout.model.finding import Finding, Severity
from fitout.model.item import Item

SOURCE = "swept volumes, exact; the ways tried: common practice"


def plan(subject: Subject) -> Plan:
    """The order in which all goes in, as worked out before for the same bodies."""
    return subject.memory.recall(("plan", *_key(subject)), partial(plan_of, subject))


def steps(subject: Subject) -> tuple[Step, ...]:
    """All steps of assembly and installation, in turn; none while wishes collide."""
    if subject.conflicts:
        return ()
    return steps_of(subject, plan(subject))


def _key(subject: Subject) -> tuple[object, ...]:
    """All that the order depends on."""
    parts = tuple((id_, subject.bodies[id_].key, subject.loads[id_]) for id_ in subject.parts)
    modules = tuple(
        (m.name, m.kind, m.berth, m.joints, m.motions, m.fixings) for m in subject.fitout.modules
    )
    return parts, modules, subject.fitout.joints, subject.setting.bay


def check_order(subject: Subject) -> Iterator[Finding]:
    """One finding for the whole order, one for whatever keeps it from being done."""
    found = plan(subject)
    faults = [*_benches(subject), *_cycles(found), *_standing(found)]
    yield from faults
    yield from _turned(found)
    if found.order and not faults:
        yield _told(subject, found)


def _told(subject: Subject, found: Plan) -> Finding:
    names = [id_ for id_, _ in found.order]
    sentence = (
        f"Everything can be put together and set in: {', then '.join(names)}. Nothing stands in "
        f"the way of what comes later, and every bolt can be reached when its turn has come."
    )
    return fact("order", subject.fitout.name, float(len(names)), "", sentence, SOURCE)


def _benches(subject: Subject) -> Iterator[Finding]:
    """Parts that can't be put together one at a time."""
    for sub in sub_assemblies(subject):
        stuck = bench_of(subject, sub).stuck
        if stuck:
            sentence = (
                f"{listed(stuck)} of {sub.id} hold each other: none of them can be put on last, "
                f"straight along an axis. Leave one open, or make it of two pieces."
            )
            yield remark("order", sub.id, Severity.FAIL, sentence, SOURCE)


def _cycles(found: Plan) -> Iterator[Finding]:
    """What holds each other in the vehicle: what is in whose way, all round."""
    left = frozenset(found.stuck)
    told: set[str] = set()
    for start in found.stuck:
        chain: list[str] = []
        at = start
        while at not in chain and at not in told:
            chain.append(at)
            at = _held_by(found.nodes[at], left)[0]
        told |= set(chain)
        if at not in chain:
            continue
        ring = chain[chain.index(at) :]
        reasons = [_held_by(found.nodes[id_], left) for id_ in ring]
        clauses = [
            f"{id_} can't come out before {other}, which {why}"
            for id_, (other, why) in zip(ring, reasons, strict=True)
        ]
        sentence = f"There is no order in which all of it goes in: {'; '.join(clauses)}."
        yield remark("order", " – ".join(ring), Severity.FAIL, sentence, SOURCE)


def _held_by(node: Node, left: frozenset[str]) -> tuple[str, str]:
    """One of those left that must be out before it, and why."""
    for those, why in (
        (node.carries, "rests on it or is fastened to it"),
        (node.bars, "keeps a hand from its bolts"),
        (node.ways[0].blockers if node.ways else frozenset[str](), "stands in its way"),
    ):
        met = sorted(those & left)
        if met:
            return met[0], why
    raise AssertionError("what is stuck is held by something that is stuck")


def _standing(found: Plan) -> Iterator[Finding]:
    """What the vehicle lets go no way that was tried."""
    for id_, node in found.nodes.items():
        if node.standing:
            sentence = (
                f"No way was found by which {id_} gets into its place: shifted straight from "
                f"behind, from above or from the middle it runs into the vehicle at once. It may "
                f"have to be put together there."
            )
            yield remark("order", id_, Severity.UNCHECKED, sentence, SOURCE)


def _turned(found: Plan) -> Iterator[Finding]:
    """What is turned to come in when something else is in already."""
    before: list[str] = []
    for id_, way in found.order:
        if way is not None and not way.turned:
            before.append(id_)
        elif before:
            sentence = (
                f"{id_} is turned on its way in when {listed(before)} stand there already: only "
                f"the room straight behind its place was proved to be free of them."
            )
            yield remark("order", id_, Severity.UNCHECKED, sentence, SOURCE)


def check_removal(subject: Subject) -> Iterator[Finding]:
    """What must come out first to get at each module, and at each thing that was bought."""
    found = plan(subject)
    for name, wanted in _wanted(subject, found):
        sequence = must_come_out(found, wanted)
        if sequence is None:
            sentence = f"{name} can't be taken out again, whatever is taken out before."
            yield remark("removal", name, Severity.FAIL, sentence, SOURCE)
            continue
        first = [id_ for id_ in sequence if id_ not in wanted]
        own = [id_ for id_ in sequence if id_ in wanted]
        sentence = f"To take {name} out, "
        sentence += f"first take out {', then '.join(first)}; then " if first else ""
        sentence += (
            f"take out {', then '.join(own)}."
            if len(own) > 1 or first
            else ("nothing else need come out.")
        )
        yield fact("removal", name, float(len(first)), "", sentence, SOURCE)


def _wanted(subject: Subject, found: Plan) -> Iterator[tuple[str, frozenset[str]]]:
    """What one may want out: bought things by themselves, then whole modules."""
    by_module: dict[str, list[str]] = {}
    for id_, node in found.nodes.items():
        by_module.setdefault(node.sub.module, []).append(id_)
        if all(isinstance(subject.parts[part], Item) for part in node.sub.parts):
            yield id_, frozenset([id_])
    for module, subs in by_module.items():
        yield f"the whole of {module}", frozenset(subs)
