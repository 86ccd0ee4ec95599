"""What a finding or a part hangs on: every number of the design that moves it, and by how much.

No formula is taken apart: the check is run again with one number a little larger, then a
little smaller, so the answer is true of all that lies between them, arrangement included. Numbers
that have no bearing are found in groups: a whole section is shaken at once, and looked into
only where that is felt.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from fitout.answers.numbers import Figure, changed, figures
from fitout.checks.findings import Check
from fitout.checks.gaps import at_rest, check_gaps
from fitout.checks.memory import Memory
from fitout.checks.subject import Subject
from fitout.clearance.contact import APART
from fitout.model.design import Design
from fitout.model.fault import DesignError
from fitout.model.panel import Bar, Panel
from fitout.model.spec import Unit

Values = Mapping[str, float]
"""What is asked about, each number by its name; empty where it isn't there any more."""

Measure = Callable[[Subject], Values]
Prepare = Callable[[Design, Memory], Subject]
Told = Callable[[int, int], None]

BETWEEN = " – "
"""Stands between the two bodies that a finding on a gap is about."""

FELT = 1e-6
"""A smaller change (in the number's own unit) is none."""

STEPS: Mapping[Unit, float] = {Unit.RATIO: 0.01, Unit.MONEY: 1.0, Unit.STRESS: 0.1}
STEP = 1.0
"""One mm, kg, degree, litre: what a builder can picture."""


@dataclass(frozen=True, slots=True)
class Influence:
    """How far one number moves what was asked about, larger and smaller by `step`.

    `up` and `down` hold the change of each asked number; None where the design can't be
    built, or the finding isn't told, with that step.
    """

    figure: Figure
    step: float
    up: Values | None
    down: Values | None

    @property
    def size(self) -> float:
        """The largest change it makes."""
        changes = [abs(v) for told in (self.up, self.down) if told for v in told.values()]
        return max(changes, default=float("inf"))


@dataclass(frozen=True, slots=True)
class Answer:
    """What was asked about, as it is, and all it hangs on, the largest first."""

    values: Values
    influences: tuple[Influence, ...]
    tried: int


def influences(
    design: Design, prepare: Prepare, measure: Measure, told: Told, memory: Memory | None = None
) -> Answer:
    """Every number that moves what `measure` tells; `told` hears how many of how many are done.

    With the memory of an earlier evaluation what that worked out is not worked out again.

    Raises:
        DesignError: when the design itself can't be used.
    """
    known = Memory() if memory is None else memory
    subject = prepare(design, known)
    base = measure(subject)
    boards = {role: board.thickness for role, board in subject.setting.boards.items()}
    every = figures(design, boards)

    def after(other: Design) -> Values | None:
        try:
            found = measure(prepare(other, known))
        except DesignError:
            return None
        if not base.keys() <= found.keys():
            return None
        return {name: found[name] - base[name] for name in base}

    felt = list(_felt(design, every, after))
    kept = []
    for done, figure in enumerate(felt):
        told(done, len(felt))
        step = STEPS.get(figure.unit, STEP)
        up, down = (after(changed(design, figure, by)) for by in (step, -step))
        one = Influence(figure, step, up, down)
        if up is None or down is None or one.size > FELT:
            kept.append(one)
    kept.sort(key=lambda one: (-one.size, one.figure.name))
    return Answer(base, tuple(kept), len(every))


def _felt(
    design: Design, group: Sequence[Figure], after: Callable[[Design], Values | None]
) -> Iterator[Figure]:
    """Those of a group that may have a bearing, by halving."""
    shaken = design
    for i, figure in enumerate(group):
        # Unequal amounts, so that no two of them cancel.
        share = 0.35 + 0.6 * math.modf(0.618034 * (i + 1))[0]
        by = share * STEPS.get(figure.unit, STEP)
        full = figure.ends is not None and figure.value + by > figure.ends[1]
        shaken = changed(shaken, figure, -by if full else by)
    told = after(shaken)
    if told is not None and all(abs(change) <= FELT for change in told.values()):
        return
    if len(group) == 1:
        yield group[0]
        return
    middle = len(group) // 2
    yield from _felt(design, group[:middle], after)
    yield from _felt(design, group[middle:], after)


def finding_values(check: Check, code: str, where: str, place: int = 0) -> Measure:
    """The number of one finding that a check tells: its margin, else its value.

    `where` may name what changes, such as an angle; then it is the one at the same `place`
    among those of its code. A gap is that of the same two bodies, be it the tightest or not.
    """
    first, _, second = where.partition(BETWEEN)

    def measure(subject: Subject) -> Values:
        if check is check_gaps and first in subject.bodies and second in subject.bodies:
            limit, contact = at_rest(subject).get((first, second), (0.0, APART))
            gap = -contact.depth if contact.clashes else contact.gap
            return {} if math.isinf(gap) else {"margin": gap - limit}
        found = [f for f in check(subject) if f.code == code]
        same = [f for f in found if f.where == where] or found[place : place + 1]
        for finding in same[:1]:
            if finding.margin is not None:
                return {"margin": finding.margin}
            if finding.value is not None:
                return {"value": finding.value}
        return {}

    return measure


def part_values(part: str) -> Measure:
    """Length, width, thickness (mm) and mass (kg) of a panel; length and mass of a bar."""

    def measure(subject: Subject) -> Values:
        found = subject.parts.get(part)
        if isinstance(found, Panel):
            x0, y0, x1, y1 = found.outline.bounds
            sizes = {"length": x1 - x0, "width": y1 - y0, "thickness": found.thickness}
            return {**sizes, "mass": subject.loads[part].mass_kg}
        if isinstance(found, Bar):
            return {"length": found.length, "mass": subject.loads[part].mass_kg}
        return {}

    return measure
