"""The steps of an assembly in plain words: what is added, joined with what, by whom and how."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence

import numpy as np

from fitout.checks.order_bench import bench_of
from fitout.checks.order_fasteners import Fasteners, Stock
from fitout.checks.order_plan import Node, Plan
from fitout.checks.order_ways import Way
from fitout.checks.subassemblies import WELDED, SubAssembly
from fitout.checks.subject import Subject
from fitout.checks.tool_access import ways_to_bolts
from fitout.model.assembly import Step
from fitout.model.item import Item
from fitout.model.module import Joint, JointKind, Module
from fitout.model.placement import Vector

ONE_PERSON_KG = 25.0
"""The most one person lifts: reference mass, ISO 11228-1."""

UNWIELDY = (1200.0, 600.0)
"""Longer and wider than this, mm, a thing is carried by two (common practice)."""

JOINED: Mapping[JointKind, str] = {
    JointKind.SCREWED: "screw {it} to {to}",
    JointKind.BOLTED: "bolt {it} to {to}",
    JointKind.GROOVED: "slide {it} into the groove of {to}",
    JointKind.HINGED: "hinge {it} to {to}",
    JointKind.SLIDES: "screw {it} to {to}",
    JointKind.RESTS: "lay {it} on {to}",
    JointKind.FITTED: "fit {it} against {to}",
}

IN_PLACE: Mapping[JointKind, str] = {
    JointKind.SCREWED: "Screw it to {to}",
    JointKind.BOLTED: "Bolt it to {to}",
    JointKind.HINGED: "Hinge it to {to}",
    JointKind.SLIDES: "Let it engage in {to}",
    JointKind.RESTS: "It rests on {to}",
}

TOOLS: Mapping[JointKind, str] = {
    JointKind.SCREWED: "driver",
    JointKind.BOLTED: "spanners",
    JointKind.HINGED: "driver",
    JointKind.SLIDES: "driver",
}


def steps_of(subject: Subject, plan: Plan) -> tuple[Step, ...]:
    """Every step: each sub-assembly on the bench, then everything into the vehicle.

    The hardware of the steps together is the whole hardware list.
    """
    return _Writer(subject, plan).steps()


class _Writer:
    """Writes the steps down one after the other. Lives only inside `steps_of`."""

    def __init__(self, subject: Subject, plan: Plan) -> None:
        self.subject, self.plan = subject, plan
        self.stocks = {m.name: Stock(subject, m) for m in subject.fitout.modules}
        self.written: list[Step] = []
        self.ready: dict[str, int] = {}
        self.owner = {
            part: sub.id
            for sub in (*(n.sub for n in plan.nodes.values()), *plan.outside)
            for part in sub.parts
        }

    def steps(self) -> tuple[Step, ...]:
        subs = [*(node.sub for node in self.plan.nodes.values()), *self.plan.outside]
        last = {sub.module: sub.id for sub in subs if self._is_made(sub)}
        for sub in subs:
            self._bench(sub, is_last=last.get(sub.module) == sub.id)
        order = [*((id_, None) for id_ in self.plan.stuck), *self.plan.order]
        going = [(self.plan.nodes[id_], way) for id_, way in order]
        final = {node.sub.module: node.sub.id for node, _ in going}
        for node, way in going:
            self._vehicle(node, way, is_last=final[node.sub.module] == node.sub.id)
        for sub in self.plan.outside:
            self._outside(sub, is_last=sub is self._last_outside(sub.module))
        return tuple(self.written)

    def _last_outside(self, module: str) -> SubAssembly:
        return [sub for sub in self.plan.outside if sub.module == module][-1]

    def _is_made(self, sub: SubAssembly) -> bool:
        return not all(isinstance(self.subject.parts[id_], Item) for id_ in sub.parts)

    def _bench(self, sub: SubAssembly, *, is_last: bool) -> None:
        """The steps in which one sub-assembly is put together."""
        if len(sub.parts) < 2 or not self._is_made(sub):
            return
        bench = bench_of(self.subject, sub)
        fitted = dict(bench.fitted)
        groups = list(bench.groups)
        if len(groups) > 1:
            groups[:2] = [(*groups[0], *groups[1])]
        done: set[str] = set()
        for number, group in enumerate(groups):
            first = [] if done else [part for part in bench.groups[0] if part in group]
            joints = self._joints(sub, set(group), done)
            fasteners = self._bench_hardware(sub, group, joints)
            if is_last and number == len(groups) - 1:
                fasteners = _sum(fasteners, self.stocks[sub.module].for_bench())
            before = self.ready.get(sub.id)
            self.ready[sub.id] = self._write(
                phase="bench",
                what=sub.id,
                parts=group,
                joins=tuple((joint.a, joint.b) for joint in joints),
                fasteners=fasteners,
                tool=_tool(joints) or "by hand",
                people=1,
                how=self._added(group, first, joints, fitted) + _with(fasteners) + ".",
                after=() if before is None else (before,),
            )
            done |= set(group)

    def _bench_hardware(
        self, sub: SubAssembly, group: Sequence[str], joints: Sequence[Joint]
    ) -> Fasteners:
        stock = self.stocks[sub.module]
        fasteners = _sum(stock.for_joints(joints), stock.for_latches(group))
        if any(joint.kind is JointKind.HINGED for joint in joints):
            fasteners = _sum(fasteners, stock.for_lids())
        return fasteners

    def _added(
        self,
        group: Sequence[str],
        first: Sequence[str],
        joints: Sequence[Joint],
        fitted: Mapping[str, str],
    ) -> str:
        """What is added to what, and how it is joined, in words."""
        laid = [part for part in first if part not in fitted]
        rest = [part for part in group if part not in fitted and part not in laid]
        begun = f"Begin with {self._names(laid)}" if laid else ""
        welded = ": weld them to each other" if any(j.note == WELDED for j in joints) else ""
        if not rest:
            return begun + welded
        bought = self._fitted_first(rest, joints, fitted)
        added = f"{begun}; add" if begun else "Add"
        there = {i for j in joints for i in (j.a, j.b)} - set(rest) - set(fitted)
        return f"{added} {self._names(rest)}{bought}" + self._clauses(rest, joints, there)

    def _fitted_first(
        self, rest: Sequence[str], joints: Sequence[Joint], fitted: Mapping[str, str]
    ) -> str:
        """What is screwed to the added panels beforehand: slides, and their other halves."""
        own = [item for item, panel in fitted.items() if panel in rest]
        halves = [
            item
            for joint in joints
            for item, panel in ((joint.a, joint.b), (joint.b, joint.a))
            if joint.kind is JointKind.SLIDES and panel in rest and item not in fitted
        ]
        it = "it" if len(rest) == 1 else "them"
        words = f", first {self._names(own)} on {it}" if own else ""
        return words + (
            f", first the drawer's halves of {self._names(halves)} on {it}" if halves else ""
        )

    def _joints(self, sub: SubAssembly, added: set[str], done: set[str]) -> list[Joint]:
        """The joints that a group makes with what is there, within itself, and with slides."""
        both = added | done
        found = []
        for joint in self.subject.modules[sub.module].joints:
            ends = {joint.a, joint.b}
            outer = ends - set(sub.parts)
            half = joint.kind is JointKind.SLIDES and any(self._is_item(i) for i in outer)
            if added & ends and (ends <= both or half):
                found.append(joint)
        return found

    def _is_item(self, part: str) -> bool:
        return isinstance(self.subject.parts.get(part), Item)

    def _names(self, parts: Iterable[str]) -> str:
        return listed([part.partition("/")[2] for part in parts])

    def _clauses(self, rest: Sequence[str], joints: Sequence[Joint], there: set[str]) -> str:
        """How what is added is joined to what is there, one clause a kind of joint."""
        it = "it" if len(rest) == 1 else "them"
        clauses: list[str] = []
        for kind, words in JOINED.items():
            met = [j for j in joints if j.kind is kind and {j.a, j.b} & set(rest)]
            to = dict.fromkeys(i for j in met for i in (j.a, j.b) if i in there)
            if to and kind is not JointKind.SLIDES:
                clauses.append(words.format(it=it, to=self._names(to)))
        return f": {', '.join(clauses)}" if clauses else ""

    def _vehicle(self, node: Node, way: Way | None, *, is_last: bool) -> None:
        """The step that sets one sub-assembly into the vehicle."""
        sub = node.sub
        stock = self.stocks[sub.module]
        joints = self._outer_joints(sub)
        fasteners = stock.for_joints(joints)
        module = self.subject.modules[sub.module]
        bolted, words = self._bolts(module, sub)
        if bolted:
            fasteners = _sum(fasteners, stock.for_floor())
        if is_last:
            fasteners = _sum(fasteners, stock.for_vehicle())
        people = people_for(sub)
        tool = ", ".join(filter(None, [words, _tool(joints, in_place=True)])) or "by hand"
        how = how_in(sub, way, people) + self._fastened(sub, joints, bolted=bolted)
        number = self._write(
            phase="vehicle",
            what=sub.id,
            parts=sub.parts,
            joins=tuple((joint.a, joint.b) for joint in joints),
            fasteners=fasteners,
            tool=tool,
            people=people,
            how=how + (f" It takes {quantities(fasteners)}." if fasteners else ""),
            shifts=() if way is None else _inwards(way),
            after=self._before(sub),
        )
        self.ready[sub.id] = number

    def _fastened(self, sub: SubAssembly, joints: Sequence[Joint], *, bolted: bool) -> str:
        """How it is held once it stands in its place, one sentence a kind of joint."""
        sentences = [" Bolt it down."] if bolted else []
        for kind, words in IN_PLACE.items():
            met = dict.fromkeys(
                i
                for joint in joints
                for i in (joint.a, joint.b)
                if joint.kind is kind and i not in sub.parts and not i.startswith("bay/")
            )
            if met and not (bolted and kind is JointKind.BOLTED):
                sentences.append(f" {words.format(to=listed(list(met)))}.")
        return "".join(sentences)

    def _before(self, sub: SubAssembly) -> tuple[int, ...]:
        """The steps before this one: its own on the bench, and what it would else bar.

        Whatever it rests on, whatever it would keep a hand or the way in from. Steps that come
        before one of these anyhow are left out.
        """
        own = {self.ready[sub.id]} if sub.id in self.ready else set()
        for id_, way in self.plan.order:
            node = self.plan.nodes[id_]
            bars = node.held | (way.blockers if way is not None else frozenset())
            if sub.id in bars and id_ != sub.id and id_ in self.ready:
                own.add(self.ready[id_])
        earlier: set[int] = set()
        for number in own:
            earlier |= self._earlier(number)
        return tuple(sorted(own - earlier))

    def _earlier(self, number: int) -> set[int]:
        """All steps that come before a step."""
        after = self.written[number - 1].after
        return set(after).union(*(self._earlier(n) for n in after))

    def _outer_joints(self, sub: SubAssembly) -> list[Joint]:
        """Joints to what is there already, and to the vehicle."""
        inside = set(sub.parts)
        placed = {part for step in self.written if step.phase == "vehicle" for part in step.parts}
        return [
            joint
            for joint in self.subject.fitout.all_joints()
            if (joint.a in inside and (joint.b in placed or joint.b.startswith("bay/")))
            or (joint.b in inside and joint.a in placed)
        ]

    def _bolts(self, module: Module, sub: SubAssembly) -> tuple[bool, str]:
        """Whether the sub-assembly is bolted down, and how the bolts are reached."""
        if module.berth is None:
            return False, ""
        ways = [w for w in ways_to_bolts(self.subject, module) if w.bolt.through in sub.parts]
        words = " and ".join(dict.fromkeys(way.words for way in ways))
        return bool(ways), f"ratchet {words}" if ways else ""

    def _outside(self, sub: SubAssembly, *, is_last: bool) -> None:
        """The step that puts something into its place outside the bay."""
        stock = self.stocks[sub.module]
        fasteners = stock.for_vehicle() if is_last else ()
        people = people_for(sub)
        how = f"Put {sub.id} into its place ({sub.mass_kg:.1f} kg)"
        if not self._is_made(sub):
            how += f": {self._names(sub.parts)}"
        before = [step.number for step in self.written if step.what == sub.id]
        self._write(
            phase="vehicle",
            what=sub.id,
            parts=sub.parts,
            joins=(),
            fasteners=fasteners,
            tool="by hand",
            people=people,
            how=how + _with(fasteners) + ".",
            after=tuple(before[-1:]),
        )

    def _write(self, **entries: object) -> int:
        number = len(self.written) + 1
        self.written.append(Step(number=number, **entries))  # type: ignore[arg-type]
        return number


def people_for(sub: SubAssembly) -> int:
    """How many carry a sub-assembly, by its mass and its size."""
    sizes = np.sort(
        np.max([b.hi for b in sub.bodies], axis=0) - np.min([b.lo for b in sub.bodies], axis=0)
    )
    unwieldy = sizes[2] > UNWIELDY[0] and sizes[1] > UNWIELDY[1]
    return max(math.ceil(sub.mass_kg / ONE_PERSON_KG), 2 if unwieldy else 1)


def _inwards(way: Way) -> tuple[Vector, ...]:
    return tuple((0.0 - x, 0.0 - y, 0.0 - z) for x, y, z in reversed(way.shifts))


def how_in(sub: SubAssembly, way: Way | None, people: int) -> str:
    """How a sub-assembly goes in, in words: the way out, backwards."""
    who = "" if people == 1 else f", {people} people"
    weighs = f"{sub.mass_kg:.1f} kg{who}"
    if way is None:
        return f"Set {sub.id} into its place ({weighs})."
    if way.drawn:
        carriers = listed(sorted(way.drawn))
        return f"Draw {carriers} out, set {sub.id} down on it and push it in ({weighs})."
    held = _held(way.shifts[:-1])
    if way.turned:
        return (
            f"Bring {sub.id} in turned or tilted ({weighs}) and straighten it {_held(way.shifts)} "
            f"its place; then {_moves(_inwards(way))}."
        )
    if not held:
        return f"Slide {sub.id} straight in through the tailgate ({weighs})."
    return (
        f"Bring {sub.id} in through the tailgate ({weighs}), held {held} its place; "
        f"then {_moves(_inwards(way)[1:])}."
    )


def _held(shifts: Sequence[Vector]) -> str:
    """Where something is held beside its place."""
    x, y, z = (sum(shift[k] for shift in shifts) for k in range(3))
    words = []
    if z:
        words.append(f"{abs(z):.0f} mm {'above' if z > 0 else 'below'}")
    if y:
        words.append(f"{abs(y):.0f} mm {'left of' if y > 0 else 'right of'}")
    if x:
        words.append(f"{abs(x):.0f} mm {'ahead of' if x > 0 else 'behind'}")
    return " and ".join(words)


def _moves(shifts: Sequence[Vector]) -> str:
    return ", then ".join(_move(shift) for shift in shifts)


def _move(shift: Vector) -> str:
    x, y, z = shift
    if z:
        return "set it down" if z < 0 else f"lift it {z:.0f} mm"
    if y:
        return f"push it {abs(y):.0f} mm to the {'left' if y > 0 else 'right'}"
    return f"push it {abs(x):.0f} mm {'forwards' if x > 0 else 'rearwards'}"


def listed(names: Sequence[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def quantities(fasteners: Fasteners) -> str:
    """`4 bolt M8 x 40 and 4 large washer M8`."""
    return listed([f"{count} × {article}" for article, count in fasteners])


def _with(fasteners: Fasteners) -> str:
    return f", with {quantities(fasteners)}" if fasteners else ""


def _sum(first: Fasteners, second: Fasteners) -> Fasteners:
    found = dict(first)
    for article, count in second:
        found[article] = found.get(article, 0) + count
    return tuple(found.items())


def _tool(joints: Iterable[Joint], *, in_place: bool = False) -> str:
    """The tools that joints ask for; a drawer engages in its slides without any."""
    tools = dict.fromkeys(
        {"welded": "welder", "glued": "glue"}.get(j.note, TOOLS.get(j.kind, ""))
        for j in joints
        if not (in_place and j.kind is JointKind.SLIDES)
    )
    return ", ".join(tool for tool in tools if tool)
