"""Which bodies of the picture a finding is about, and the point it speaks of."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import partial

from fitout.checks.courses import moved_by
from fitout.checks.subject import Subject
from fitout.clearance.witness import closest
from fitout.model.module import Module
from fitout.model.placement import Vector

PAIR = " – "
"""What stands between the two parts that a gap lies between."""


class Places:
    """Looks up what `where` names: parts, modules, motions, boards and surfaces of the bay."""

    def __init__(self, subject: Subject) -> None:
        self._subject = subject
        self._motions = {m.id: m for mod in subject.fitout.modules for m in mod.motions}
        self._swings = {f"bay/{s.name}": s for s in subject.fitout.bay.swings}
        self._boards: dict[str, list[str]] = {}
        for panel in subject.fitout.panels():
            self._boards.setdefault(panel.board.key, []).append(panel.id)

    def ids(self, where: str) -> tuple[str, ...]:
        """The ids of parts and surfaces, each once; none where it is about the whole."""
        found = (id_ for word in where.split(PAIR) for id_ in self._named(word.strip()))
        return tuple(dict.fromkeys(found))

    def point(self, where: str) -> Vector | None:
        """Where the two bodies of a gap come nearest; None where it is not about two."""
        pair = where.split(PAIR)
        bodies = self._subject.bodies
        if len(pair) != 2 or not all(id_ in bodies for id_ in pair):
            return None
        a, b = (bodies[id_] for id_ in pair)
        # Asked for as the checks ask, which have mostly looked it up before.
        return self._subject.memory.recall(
            ("closest", a.key, b.key), partial(closest, a, b)
        ).point_a

    def _named(self, word: str) -> Iterable[str]:
        subject = self._subject
        if word in subject.parts or word in subject.obstacles:
            return [word]
        if word in self._motions:
            return self._of_motion(word)
        if word in subject.modules:
            return _ids(subject.modules[word])
        if word in self._boards:
            return self._boards[word]
        if word in self._swings:
            return [leaf.id for leaf in self._swings[word].leaves]
        if f"bay/{word}" in subject.obstacles:
            return [f"bay/{word}"]
        head, colon, rest = word.removeprefix("the whole of ").partition(": ")
        if colon and head in subject.modules:
            named = [i for i in _ids(subject.modules[head]) if i.partition("/")[2] == rest]
            motion = f"{head}/{rest}"
            return named or (
                self._of_motion(motion) if motion in self._motions else self._named(head)
            )
        return self._named(head) if head != word else []

    def _of_motion(self, id_: str) -> Iterator[str]:
        motion = self._motions[id_]
        if motion.of:
            yield motion.of
        for part in moved_by(self._subject, motion):
            yield part.id


def _ids(module: Module) -> list[str]:
    return [part.id for part in module.parts()]


def numbered(ids: Iterable[str], numbers: Mapping[str, int]) -> list[int]:
    """The bodies' numbers in the picture; surfaces that it leaves out are left out."""
    return [numbers[id_] for id_ in ids if id_ in numbers]
