"""The steps of an assembly in plain words: what is added, joined with what, by whom and how."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from fitout.checks.order_bench import bench_of
from fitout.checks.order_fasteners import COLUMNS, TOPS, Fasteners, UnusedHardware, Uses
from fitout.checks.order_plan import Node, Plan
from fitout.checks.order_tasks import (
    bench_tasks,
    latch_tasks,
    screwed_before,
    stay_tasks,
    top_task,
    vehicle_tasks,
)
from fitout.checks.order_ways import Way
from fitout.checks.order_words import (
    IN_PLACE,
    JOINED,
    both,
    how_in,
    inwards,
    listed,
    people_for,
    quantities,
    tool_for,
    with_these,
)
from fitout.checks.subassemblies import UNDOABLE, WELDED, SubAssembly
from fitout.checks.subject import Subject
from fitout.checks.tool_access import Bolt, ways_to_bolts
from fitout.model.assembly import Step, Task
from fitout.model.item import Item
from fitout.model.module import Joint, JointKind, Module


def steps_of(subject: Subject, plan: Plan) -> tuple[Step, ...]:
    """Every step: each sub-assembly on the bench, then everything into the vehicle.

    The hardware of the steps together is the whole hardware list.
    """
    return _Writer(subject, plan).steps()


class _Writer:
    """Writes the steps down one after the other. Lives only inside `steps_of`."""

    def __init__(self, subject: Subject, plan: Plan) -> None:
        self.subject, self.plan = subject, plan
        self.unused = {m.name: UnusedHardware(subject, m) for m in subject.fitout.modules}
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
        laid = self._begun(sub, groups)
        done: set[str] = set()
        for number, group in enumerate(groups):
            first = [] if done else laid
            joints = self._joints(sub, set(group), done)
            there = self.unused[sub.module].count()
            fasteners = self._bench_hardware(sub, group, joints)
            if is_last and number == len(groups) - 1:
                whole = self._is_whole(sub.module)
                fasteners = both(fasteners, self.unused[sub.module].for_bench(whole=whole))
            uses = self.unused[sub.module].used_since(there)
            latched = latch_tasks(self.subject.modules[sub.module].latches, group)
            before = self.ready.get(sub.id)
            self.ready[sub.id] = self._write(
                phase="bench",
                what=sub.id,
                parts=group,
                joins=tuple((joint.a, joint.b) for joint in joints),
                fasteners=fasteners,
                tool=self._tools(joints, uses) or "by hand",
                people=1,
                how=self._added(group, first, joints, fitted) + with_these(fasteners) + ".",
                after=() if before is None else (before,),
                tasks=(
                    *bench_tasks(group, first, joints, fitted, self._halves(group, joints, fitted)),
                    *self._columns(uses, joints),
                    *latched,
                    *stay_tasks(self.subject.modules[sub.module].stays, group),
                ),
                uses=uses,
            )
            done |= set(group)

    def _begun(self, sub: SubAssembly, groups: list[tuple[str, ...]]) -> list[str]:
        """Draw the first groups together until something is joined; all but the last of them."""
        laid = list(groups[0])
        if len(groups) > 1 and not self._is_welded(sub, groups[0]):
            groups[:2] = [(*groups[0], *groups[1])]
        while len(groups) > 1 and not self._joints(sub, set(groups[0]), set()):
            laid = list(groups[0])
            groups[:2] = [(*groups[0], *groups[1])]
        return laid

    def _bench_hardware(
        self, sub: SubAssembly, group: Sequence[str], joints: Sequence[Joint]
    ) -> Fasteners:
        unused = self.unused[sub.module]
        fasteners = both(unused.for_joints(joints), unused.for_latches(group))
        return both(fasteners, unused.for_lids(joints))

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
        halves = list(self._halves(rest, joints, fitted))
        it = "it" if len(rest) == 1 else "them"
        words = f", first {self._names(own)} on {it}" if own else ""
        for head, held in screwed_before(joints, rest).items():
            words += f", first {self._names(held)} screwed to {self._names([head])}"
        return words + (
            f", first the drawer's halves of {self._names(halves)} on {it}" if halves else ""
        )

    def _halves(
        self, group: Sequence[str], joints: Sequence[Joint], fitted: Mapping[str, str]
    ) -> dict[str, str]:
        """The slides whose other halves go on the parts of a group, and on which."""
        return {
            item: panel
            for joint in joints
            for item, panel in ((joint.a, joint.b), (joint.b, joint.a))
            if joint.kind is JointKind.SLIDES and panel in group and item not in fitted
            if self._is_item(item)
        }

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

    def _columns(self, uses: Uses, joints: Iterable[Joint]) -> Iterator[Task]:
        """The sides that are screwed to each other, for which no holes are drawn."""
        if any(purpose in COLUMNS for purpose, _, _ in uses):
            unused = self.unused
            for joint in joints:
                if unused[self.subject.parts[joint.a].module].is_side_by_side(joint):
                    yield Task("columns", (joint.a,), (joint.b,))

    def _is_whole(self, module: str) -> bool:
        """Whether no joint of a module is made in the vehicle."""
        return all(
            self.owner[joint.a] == self.owner[joint.b]
            for joint in self.subject.modules[module].joints
            if joint.kind in UNDOABLE and {joint.a, joint.b} <= set(self.owner)
        )

    def _is_welded(self, sub: SubAssembly, group: Sequence[str]) -> bool:
        joints = self.subject.modules[sub.module].joints
        return any(j.note == WELDED and {j.a, j.b} <= set(group) for j in joints)

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
        unused = self.unused[sub.module]
        joints = self._outer_joints(sub)
        there = unused.count()
        fasteners = unused.for_joints(joints)
        module = self.subject.modules[sub.module]
        bolted, words, bolts = self._bolts(module, sub)
        if bolted:
            fasteners = both(fasteners, unused.for_floor(bolted))
        if is_last:
            fasteners = both(fasteners, unused.for_vehicle())
        uses = unused.used_since(there)
        people = people_for(self.subject, sub)
        tool = ", ".join(filter(None, [words, self._tools(joints, uses, in_place=True)]))
        how = how_in(sub, way, people) + self._fastened(sub, joints, bolted=bolted > 0.0)
        number = self._write(
            phase="vehicle",
            what=sub.id,
            parts=sub.parts,
            joins=tuple((joint.a, joint.b) for joint in joints),
            fasteners=fasteners,
            tool=tool or "by hand",
            people=people,
            how=how + (f" It takes {quantities(fasteners)}." if fasteners else ""),
            shifts=() if way is None else inwards(way),
            after=self._before(sub),
            tasks=vehicle_tasks(sub, way, joints, bolts)
            + ((top_task(module.tops),) if any(p.startswith(TOPS) for p, _, _ in uses) else ()),
            mass_kg=sub.mass_kg,
            uses=uses,
        )
        self.ready[sub.id] = number

    def _tools(self, joints: Iterable[Joint], uses: Uses, *, in_place: bool = False) -> str:
        rows = self.subject.setting.catalogue.articles
        articles = [rows[article] for _, article, _ in uses if article in rows]
        return tool_for(joints, articles, in_place=in_place)

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

    def _bolts(self, module: Module, sub: SubAssembly) -> tuple[float, str, tuple[Bolt, ...]]:
        """The share of its module's bolts that hold it, how they are reached, and these bolts."""
        if module.berth is None:
            return 0.0, "", ()
        known = ways_to_bolts(self.subject, module)
        ways = [way for way in known if way.bolt.through in sub.parts]
        words = " and ".join(dict.fromkeys(way.words for way in ways))
        bolts = tuple(way.bolt for way in ways)
        return len(ways) / max(1, len(known)), f"ratchet {words}" if ways else "", bolts

    def _outside(self, sub: SubAssembly, *, is_last: bool) -> None:
        """The step that puts something into its place outside the bay."""
        unused = self.unused[sub.module]
        there = unused.count()
        fasteners = unused.for_vehicle() if is_last else ()
        uses = unused.used_since(there)
        people = people_for(self.subject, sub)
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
            tool=self._tools((), uses) or "by hand",
            people=people,
            how=how + with_these(fasteners) + ".",
            after=tuple(before[-1:]),
            tasks=(Task(do="outside"),),
            mass_kg=sub.mass_kg,
            uses=uses,
        )

    def _write(self, **entries: object) -> int:
        number = len(self.written) + 1
        self.written.append(Step(number=number, **entries))  # type: ignore[arg-type]
        return number
