"""How a step is done, in the builder's language: short sentences from the step's tasks.

Parts are told by number and name, as their labels and drawings have them; what a step adds and
what fastens it stand beside, so the sentences don't say it again.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from fitout.documents.dossier import Dossier
from fitout.documents.wording import Wording
from fitout.model.assembly import Step, Task
from fitout.model.module import JointKind
from fitout.model.placement import Vector

NEAR = 0.5
"""Less than this off, mm, is not told."""

AXES = (("forwards", "rearwards"), ("left", "right"), ("up", "down"))
"""What a shift along +x, -x, +y ... is called in the tables of words."""


def instructions(dossier: Dossier, step: Step, numbers: Mapping[str, str]) -> str:
    """All that is done in a step, sentence by sentence."""
    wording = dossier.wording
    found = []
    for task in _together(step.tasks, numbers):
        if task.points:
            found.append(_bolts(dossier, step, task))
        elif task.do in ("carry", "turn", "draw"):
            found += _carried(wording, step, task)
        else:
            found.append(_told(dossier, step, task, numbers))
        if task.do == "weld":
            found += _reaches(dossier, step, numbers)
    if step.phase == "vehicle" and step.mass_kg:
        found.append(wording.say("task_mass", mass=f"{step.mass_kg:.1f}"))
    return " ".join(found)


def _together(tasks: Iterable[Task], numbers: Mapping[str, str]) -> list[Task]:
    """The same slide on both sides, told once."""
    found: list[Task] = []
    for task in tasks:
        last = found[-1] if found else None
        alike = last is not None and task.do == last.do and task.do in {"first", "halves"}
        if last is not None and alike and _numbers(task, numbers) == _numbers(last, numbers):
            found[-1] = Task(task.do, last.parts, (*last.to, *task.to))
        else:
            found.append(task)
    return found


def _numbers(task: Task, numbers: Mapping[str, str]) -> list[str]:
    return [numbers.get(id_, id_) for id_ in task.parts]


def _told(dossier: Dossier, step: Step, task: Task, numbers: Mapping[str, str]) -> str:
    """One sentence about parts: to `screw to P03 base and P04 left side`."""
    say = dossier.wording.say
    module = step.parts[0].partition("/")[0] if step.parts else ""

    told = Counter(numbers.get(id_, "") for id_ in step.parts)
    # What stands beside under a number of its own needs no name, nor do slides.
    clear = {id_ for id_ in step.parts if told[numbers.get(id_, "")] == 1}
    if task.do in {"first", "halves"}:
        clear.update(task.parts)

    def named(ids: Sequence[str]) -> str:
        names = [numbers.get(i) if i in clear else None for i in ids]
        told = [name or _name(i, module, numbers) for name, i in zip(names, ids, strict=True)]
        return _listed(dossier.wording, told)

    parts, to = named(task.parts), named(task.to)
    if task.do in {"weld", "outside", "columns"}:
        return say(f"task_{task.do}")
    if task.do == "begin":
        only = set(task.parts) >= set(step.parts)
        return say("task_begin_only" if only else "task_begin", parts=parts)
    if task.do in {"first", "halves", "latch", "stay"}:
        return say(f"task_{task.do}", parts=parts, to=to)
    if step.phase == "vehicle" and task.do == JointKind.SLIDES.value:
        return say("task_engage", to=to)
    return say(f"task_{task.do}", to=to)


def _reaches(dossier: Dossier, step: Step, numbers: Mapping[str, str]) -> Iterable[str]:
    """How far the lower of two welded parts stands out beyond the other, where no jig tells."""
    bodies, wording = dossier.subject.bodies, dossier.wording
    for pair in step.joins:
        plate, post = sorted(pair, key=lambda id_: float(bodies[id_].hi[2]))
        for axis in (0, 1):
            plus, minus = AXES[axis]
            over = float(bodies[plate].hi[axis] - bodies[post].hi[axis])
            under = float(bodies[post].lo[axis] - bodies[plate].lo[axis])
            for far, way in ((over, plus), (under, minus)):
                if far > NEAR:
                    yield wording.say(
                        "weld_reach",
                        part=numbers.get(plate, plate),
                        far=f"{wording.length(far)} {wording.unit}",
                        to=numbers.get(post, post),
                        way=wording.say(f"way_{way}"),
                    )


def _name(id_: str, module: str, numbers: Mapping[str, str]) -> str:
    """Number and name of a part; the module's too where it is another one."""
    owner, _, name = id_.partition("/")
    if not name:
        return id_
    told = f"{numbers.get(id_, '')} {name}".strip()
    return told if owner == module else f"{told} ({owner})"


def _listed(wording: Wording, names: Sequence[str]) -> str:
    """`a`, `a and b`, `a, b and c` in the builder's language."""
    if len(names) < 2:
        return "".join(names)
    return wording.say("listed", some=", ".join(names[:-1]), last=names[-1])


def _bolts(dossier: Dossier, step: Step, task: Task) -> str:
    """Where the vehicle's bolts are, from the sill and from the middle."""
    wording = dossier.wording
    module = step.parts[0].partition("/")[0]
    owners = [m for m in dossier.fitout.modules if m.name == module]
    known = {fixing.anchor for m in owners for fixing in (*m.fixings, *m.tops)}
    places = []
    for name, (x, y, z) in task.points:
        side = "middle" if abs(y) < NEAR else "left" if y > 0.0 else "right"
        at = [wording.length(x, 0), wording.say(f"bolt_{side}", y=wording.length(abs(y), 0))]
        if task.do == "tops":
            at.append(wording.length(z, 0))
        places.append(f"{name if name in known else wording.say('bolt_hole')} {' | '.join(at)}")
    below = all(name not in known for name, _ in task.points)
    told = "bolt to module below" if below else task.do
    return wording.say(f"task_{told}", points="; ".join(places))


def _carried(wording: Wording, step: Step, task: Task) -> Iterable[str]:
    """How something is brought in: where it is held, and its last moves."""
    if task.do == "draw":
        return [wording.say("task_draw", to=_listed(wording, task.to))]
    turned = task.do == "turn"
    moves = step.shifts if turned else step.shifts[1:]
    if not step.shifts:
        return [wording.say("task_set")]
    if not moves:
        return [wording.say("task_straight")]
    off = [-sum(shift[k] for shift in moves) for k in range(3)]
    held = [
        wording.say(f"held_{_way(k, off[k])}", far=_far(wording, off[k]))
        for k in (2, 1, 0)
        if abs(off[k]) > NEAR
    ]
    told = wording.say("task_turned" if turned else "task_held", held=_listed(wording, held))
    return [told, wording.say("task_moves", moves=wording.say("task_then").join(
        _move(wording, shift) for shift in moves))]  # fmt: skip


def _move(wording: Wording, shift: Vector) -> str:
    axis = max(range(3), key=lambda k: abs(shift[k]))
    return wording.say(f"move_{_way(axis, shift[axis])}", far=_far(wording, shift[axis]))


def _way(axis: int, shift: float) -> str:
    plus, minus = AXES[axis]
    return plus if shift > 0.0 else minus


def _far(wording: Wording, mm: float) -> str:
    return f"{wording.length(abs(mm), 0)} {wording.unit}"
