"""How parts are fastened to each other: from which side, through what, and where.

Screws are told by the panel they are driven through, for that is the one that is drilled and
has their heads. Where nothing is drilled, or two panels meet face to face, lengths tell the place.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

import numpy as np

from fitout.checks.order_fasteners import faces, reaches
from fitout.documents.dossier import Dossier
from fitout.documents.facing import SIDES, Side
from fitout.documents.guide.bought import on_bracket
from fitout.documents.guide.naming import Names
from fitout.documents.guide.side_screws import side_screws
from fitout.model.assembly import Step, Task
from fitout.model.module import Joint, JointKind
from fitout.model.panel import Panel

LEVEL = 0.9
"""A panel whose face looks along an axis to this share is told to lie square to it."""

NEAR = 0.5
"""Edges no farther apart than this, mm, are flush."""

EDGES: Mapping[int, tuple[str, str, str]] = MappingProxyType(
    {
        2: ("edge_upper", "held_up", "held_down"),
        1: ("edge_left", "held_left", "held_right"),
        0: ("edge_rear", "held_rearwards", "held_forwards"),
    }
)
"""By axis: the edge that is told, and what it is if it lies beyond the other's, and if not."""

HOLDING = (JointKind.SCREWED, JointKind.BOLTED, JointKind.HINGED, JointKind.SLIDES)


@dataclass(frozen=True, eq=False)
class Fastening:
    """How what a step adds is fastened; without slots, for what is worked out once."""

    dossier: Dossier
    step: Step
    names: Names

    @cached_property
    def _pairs(self) -> list[tuple[str, str]]:
        """The panels that screws are driven through, each with a part they go into."""
        told = (task for task in self.step.tasks if task.do == JointKind.SCREWED.value)
        return [self._driven(a, b) for task in told for a in task.parts for b in task.to]

    def sentences(self, task: Task) -> Iterator[str]:
        """What a task about a joint says; all screws are told with the first such task."""
        if task.do == JointKind.SCREWED.value:
            screws = [t for t in self.step.tasks if t.do == task.do]
            if task is screws[0]:
                yield from self._face_to_face(self._pairs)
                yield from self._screwed("task_screwed", self._pairs)
        elif task.do == "first":
            pairs = [self._driven(a, b) for a in task.to for b in task.parts]
            yield from self._screwed("task_first_through", pairs)
        elif task.do == JointKind.BOLTED.value:
            yield from self._bolted(task)
        elif task.do == JointKind.GROOVED.value:
            yield from self._grooved(task)
        elif task.do == "columns":
            for a in task.parts:
                yield from side_screws(self.dossier, a, task.to[0], self.names)
        else:
            named = self.names.listed
            yield self.names.say(f"task_{task.do}", parts=named(task.parts), to=named(task.to))

    def from_seats(self) -> Iterator[str]:
        """That what is driven from the front or held there is reached from the seats."""
        if self.step.phase != "vehicle" or self.dossier.fitout.bay.front_kind != "seat_back":
            return
        screwed = any(self._head_side(head, held) == "front" for head, held in self._pairs)
        bolted = any(
            self._beyond(a, b) in ("rear", "front")
            for task in self.step.tasks
            if task.do == JointKind.BOLTED.value
            for a in task.parts
            for b in task.to
        )
        if screwed or bolted:
            yield self.names.say("task_from_seats")

    def loose(self) -> Iterator[str]:
        """Which of the new parts nothing holds before a later step."""
        if self.step.phase != "bench":
            return
        later: dict[int, list[str]] = {}
        for id_ in self.step.parts:
            joints = [j for j in self._joints(id_) if j.kind in HOLDING or j.note in WORDLESS]
            steps = [n for n in map(self._made_in, joints) if n]
            grooved = any(j.kind is JointKind.GROOVED for j in self._joints(id_))
            if steps and not grooved and min(steps) > self.step.number:
                later.setdefault(min(steps), []).append(id_)
        for number, ids in later.items():
            yield self.names.say("task_loose", parts=self.names.listed(ids), step=number)

    def _joints(self, id_: str) -> list[Joint]:
        return [j for j in self.dossier.fitout.all_joints() if id_ in (j.a, j.b)]

    def _made_in(self, joint: Joint) -> int:
        """The step in which a joint is made, 0 for none."""
        pair = (joint.a, joint.b)
        return next((s.number for s in self.dossier.steps if pair in s.joins), 0)

    def _driven(self, a: str, b: str) -> tuple[str, str]:
        """The two parts of a joint with the one that is drilled first."""
        parts, bodies = self.dossier.subject.parts, self.dossier.subject.bodies
        for head, held in ((a, b), (b, a)):
            panel = parts[head]
            if isinstance(panel, Panel) and any(
                hole.purpose.startswith("screw") and reaches(panel, hole, bodies[held])
                for hole in panel.holes
            ):
                return head, held
        return a, b

    def _screwed(self, key: str, pairs: Sequence[tuple[str, str]]) -> Iterator[str]:
        """One sentence for all panels whose screws go into the same parts."""
        into: dict[str, dict[tuple[str, str], None]] = {}
        for head, held in pairs:
            into.setdefault(head, {})[held, self._head_side(head, held)] = None
        alike: dict[tuple[str, ...], dict[str, list[str]]] = {}
        for head, met in into.items():
            for side in dict.fromkeys(side for _, side in met):
                helds = tuple(held for held, at in met if at == side)
                alike.setdefault(helds, {}).setdefault(side, []).append(head)
        for helds, ways in alike.items():
            told = [self._way(side, self.names.listed(heads)) for side, heads in ways.items()]
            yield self.names.say(key, ways=self.names.joined(told), to=self.names.listed(helds))

    def _way(self, side: str, heads: str) -> str:
        """`from below through P05 base`."""
        if not side:
            return self.names.say("through_panel", parts=heads)
        return self.names.say(f"through_panel {side}", parts=heads)

    def _head_side(self, head: str, held: str) -> Side | str:
        """The side from which screws are driven through a panel into another part."""
        panel = self.dossier.subject.parts[head]
        if not isinstance(panel, Panel):
            return ""
        side = self._beyond(held, head)
        opposite = {"front": "rear", "rear": "front", "left": "right", "right": "left"}
        opposite |= {"top": "bottom", "bottom": "top"}
        axis = next(np.array(vector) for name, vector in SIDES if name == side)
        square = abs(float(np.array(panel.placement.w) @ axis)) > LEVEL
        return opposite[side] if square else ""

    def _beyond(self, one: str, other: str) -> Side:
        """On which side of another part a part lies: where the gap between them is largest."""
        bodies = self.dossier.subject.bodies
        a, b = bodies[one], bodies[other]
        gaps = {
            name: float((a.lo - b.hi)[k] if vector[k] > 0.0 else (b.lo - a.hi)[k])
            for name, vector in SIDES
            for k in range(3)
            if vector[k]
        }
        return max(gaps, key=lambda name: gaps[name])

    def _face_to_face(self, pairs: Iterable[tuple[str, str]]) -> Iterator[str]:
        """Where panels that meet face to face lie on each other, by an edge each way."""
        parts = self.dossier.subject.parts
        columns = {frozenset((*t.parts, *t.to)) for t in self.step.tasks if t.do == "columns"}
        for a, b in pairs:
            if not faces(parts[a], parts[b]) or frozenset((a, b)) in columns:
                continue
            new, there = (a, b) if a in self.step.parts else (b, a)
            told = [self._edge(new, there, axis) for axis in (2, 1, 0) if self._lies_in(new, axis)]
            part, to = self.names.listed([new]), self.names.listed([there])
            yield self.names.say("edge_places", part=part, edges=", ".join(told), to=to)

    def _lies_in(self, id_: str, axis: int) -> bool:
        part = self.dossier.subject.parts[id_]
        assert isinstance(part, Panel)
        return abs(part.placement.w[axis]) < LEVEL

    def _edge(self, new: str, there: str, axis: int) -> str:
        """How far an edge of a part lies from the same edge of the other."""
        edge, beyond, short = EDGES[axis]
        a, b = (self.dossier.subject.bodies[id_] for id_ in (new, there))
        off = float(b.lo[0] - a.lo[0]) if axis == 0 else float(a.hi[axis] - b.hi[axis])
        if abs(off) <= NEAR:
            return self.names.say("edge_flush", edge=self.names.say(edge))
        far = self.names.say(beyond if off > 0.0 else short, far=self.names.far(off))
        return self.names.say("edge_off", edge=self.names.say(edge), far=far)

    def _bolted(self, task: Task) -> Iterator[str]:
        """What is bolted to what, and on which side of it; not what lies on brackets."""
        ends = set(task.to)
        hung = {j.a for j in self.dossier.fitout.all_joints() if on_bracket(j) and j.b in ends}
        parts = [id_ for id_ in task.parts if id_ not in hung]
        if not parts:
            return
        sides = {self._beyond(a, b) for a in parts for b in task.to}
        names, told = self.names, self.names.listed(task.to)
        to = names.say("bolted", to=told)
        if len(sides) == 1:
            to = names.say(f"bolted {sides.pop()}", to=told)
        yield names.say("task_bolted", parts=names.listed(parts), to=to)

    def _grooved(self, task: Task) -> Iterator[str]:
        """What slides into whose groove: the one of the two that has any."""
        parts, names = self.dossier.subject.parts, self.names
        have = [id_ for id_ in task.to if getattr(parts[id_], "pockets", ())]
        rest = [id_ for id_ in task.to if id_ not in have]
        told = names.listed(task.parts)
        if have:
            yield names.say("task_in a groove", parts=told, to=names.listed(have))
        if rest:
            yield names.say("task_groove over", parts=told, to=names.listed(rest))


WORDLESS = ("welded", "glued")
"""Notes of fitted joints that hold by themselves."""
