"""How a step is done, in the builder's language: short sentences from the step's tasks.

Parts are told by number and name, as their labels and drawings have them; what a step adds and
what fastens it stand beside, so the sentences don't say it again.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from fitout.documents.dossier import Dossier
from fitout.documents.guide.bought import bought, brackets_on, inserts
from fitout.documents.guide.fastening import Fastening
from fitout.documents.guide.naming import Names
from fitout.documents.wording import Wording
from fitout.model.assembly import Step, Task
from fitout.model.item import Item
from fitout.model.module import Fixing, JointKind, Module
from fitout.model.placement import Vector

FASTENED = frozenset({
    "first", "columns", "glue", "screwed", "bolted", "in a groove", "hinged", "rests on", "fitted",
})  # fmt: skip
"""Tasks that join parts."""

NEAR = 0.5
"""Less than this off, mm, is not told."""

AXES = (("forwards", "rearwards"), ("left", "right"), ("up", "down"))
"""What a shift along +x, -x, +y ... is called in the tables of words."""


def instructions(dossier: Dossier, step: Step, numbers: Mapping[str, str]) -> str:
    """All that is done in a step, as one text."""
    return " ".join(sentences(dossier, step, numbers))


def sentences(dossier: Dossier, step: Step, numbers: Mapping[str, str]) -> list[str]:
    """All that is done in a step, one thing after the other."""
    names = Names(dossier.wording, step, numbers)
    fastening = Fastening(dossier, step, names)
    found = list(inserts(dossier, step, names))
    for task in _together(step.tasks, numbers):
        if task.points:
            found += _bolts(dossier, step, task)
        elif task.do in ("carry", "turn", "draw"):
            found += _carried(names, step, task)
        elif task.do in FASTENED and not _is_bought_first(dossier, task):
            found += fastening.sentences(task)
        else:
            found.append(_told(dossier, step, task, names))
        if task.do == "weld":
            found += _reaches(dossier, step, names)
    found += fastening.from_seats()
    found += brackets_on(dossier, step, names)
    found += _undecided(dossier, step, names)
    found += bought(dossier, step, names)
    found += fastening.loose()
    if step.phase == "vehicle" and step.mass_kg:
        found.append(names.say("task_mass", mass=f"{step.mass_kg:.1f}"))
    return found


def _is_bought_first(dossier: Dossier, task: Task) -> bool:
    """Whether a task screws something bought, such as a slide, to a panel beforehand."""
    parts = dossier.subject.parts
    return task.do == "first" and any(isinstance(parts.get(id_), Item) for id_ in task.parts)


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


def _told(dossier: Dossier, step: Step, task: Task, names: Names) -> str:
    """One sentence about parts that are handled, or fitted with something bought."""
    bought = task.do in {"first", "halves"}
    parts = names.short(task.parts) if bought else names.listed(task.parts)
    to = names.listed(task.to)
    if task.do in {"weld", "outside"}:
        loose = task.do == "outside" and _is_laid_in(dossier, step)
        return names.say("task_laid_in" if loose else f"task_{task.do}")
    if task.do == JointKind.SLIDES.value:
        return names.say("task_engage", to=to)
    if task.do == "halves":
        earlier = [s.number for s in dossier.steps if set(task.parts) & set(s.parts)]
        key = "task_halves_off" if earlier and earlier[0] < step.number else "task_halves"
        return names.say(key, parts=parts, to=to, step=earlier[0] if earlier else 0)
    return names.say(f"task_{task.do}", parts=parts, to=to)


def _is_laid_in(dossier: Dossier, step: Step) -> bool:
    """Whether it is what lies in a tray: all of it bought, the tray made before."""
    return all(isinstance(dossier.subject.parts[id_], Item) for id_ in step.parts)


def _reaches(dossier: Dossier, step: Step, names: Names) -> Iterable[str]:
    """How far the lower of two welded parts stands out beyond the other, where no jig tells."""
    bodies = dossier.subject.bodies
    for pair in step.joins:
        plate, post = sorted(pair, key=lambda id_: float(bodies[id_].hi[2]))
        for axis in (0, 1):
            plus, minus = AXES[axis]
            over = float(bodies[plate].hi[axis] - bodies[post].hi[axis])
            under = float(bodies[post].lo[axis] - bodies[plate].lo[axis])
            for far, way in ((over, plus), (under, minus)):
                if far > NEAR:
                    yield names.say(
                        "weld_reach",
                        part=names.numbers.get(plate, plate),
                        far=names.far(far, 1),
                        to=names.numbers.get(post, post),
                        way=names.say(f"way_{way}"),
                    )


def _bolts(dossier: Dossier, step: Step, task: Task) -> list[str]:
    """Where the vehicle's bolts are, from the sill and from the middle, one after the other."""
    wording = dossier.wording
    module = step.parts[0].partition("/")[0]
    owners = [m for m in dossier.fitout.modules if m.name == module]
    known = {fixing.anchor for m in owners for fixing in (*m.fixings, *m.tops)}
    places = []
    for name, point in task.points:
        place = _place(wording, point, high=task.do == "tops")
        places.append(f"{place}: {name}" if name in known else place)
    below = all(name not in known for name, _ in task.points)
    told = "bolt to module below" if below else task.do
    return _lined(wording.say(f"task_{told}"), places)


def _lined(begun: str, places: Sequence[str]) -> list[str]:
    """A sentence whose places each have a line of their own."""
    return [begun, *(f"{place};" for place in places[:-1]), f"{places[-1]}."]


def _place(wording: Wording, point: Vector, *, high: bool) -> str:
    """`120 | 330 left`, and the height where it is no floor's."""
    x, y, z = point
    side = "middle" if abs(y) < NEAR else "left" if y > 0.0 else "right"
    at = [wording.length(x, 0), wording.say(f"bolt_{side}", y=wording.length(abs(y), 0))]
    return " | ".join([*at, wording.length(z, 0)] if high else at)


def _undecided(dossier: Dossier, step: Step, names: Names) -> Iterable[str]:
    """Bolts that the module needs at no known point, and brackets that go beside its panels.

    They are told when the part they go through is set into the vehicle, or with the module's
    first step there if they go through none.
    """
    module = dossier.subject.modules.get(step.parts[0].partition("/")[0]) if step.parts else None
    if step.phase != "vehicle" or module is None:
        return
    points = {name for task in step.tasks for name, _ in task.points}
    free, beside = [], []
    for fixing in module.fixings:
        if fixing.anchor in points or _holder(dossier, module, fixing) != step.number:
            continue
        place = _place(dossier.wording, fixing.point, high=False)
        if fixing.anchor is None:
            free.append(place)
        elif not any(fixing.anchor == n for s in dossier.steps for t in s.tasks
                     for n, _ in t.points):  # fmt: skip
            beside.append(f"{place}: {fixing.anchor}")
    if beside:
        yield from _lined(names.say("task_bolt down"), beside)
    if free:
        yield from _lined(names.say("task_undecided"), free)
        yield names.say("look_beneath")


def _holder(dossier: Dossier, module: Module, fixing: Fixing) -> int:
    """The number of the step in the vehicle that sets the part in which a bolt goes through."""
    own = [s for s in dossier.steps if s.phase == "vehicle"
           and s.parts[0].startswith(f"{module.name}/")]  # fmt: skip
    x, y, z = fixing.point
    for step in own:
        for body in (dossier.subject.bodies[id_] for id_ in step.parts):
            over = body.lo[0] <= x <= body.hi[0] and body.lo[1] <= y <= body.hi[1]
            if over and abs(float(body.lo[2]) - z) < 1.0:
                return step.number
    return own[0].number if own else 0


def _carried(names: Names, step: Step, task: Task) -> Iterable[str]:
    """How something is brought in: where it is held, and its last moves."""
    wording = names.wording
    if task.do == "draw":
        return [wording.say("task_draw", to=names.joined(task.to))]
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
    told = wording.say("task_turned" if turned else "task_held", held=names.joined(held))
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
