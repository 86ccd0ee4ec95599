"""The fixing schedule: each bolt to the vehicle, what is round it, and how far it is used."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fitout.checks.restraint import bodies_of
from fitout.checks.restraint_barrier import barrier_of, thrown_forward
from fitout.checks.restraint_cases import Case, crash, everyday
from fitout.checks.restraint_grip import Grip
from fitout.checks.restraint_held import Group, Used, forces_of
from fitout.checks.subject import Subject
from fitout.model.module import Module


@dataclass(frozen=True, slots=True, kw_only=True)
class FixingRow:
    """A bolt at (x, y, z) of the bay with its grip; the worst of the road and of the crash.

    `road` and `crash` are None where the bolts don't hold the module that way.
    """

    module: str
    point: str
    at: tuple[float, float, float]
    grip: Grip
    road: Used | None
    crash: Used | None


def fixing_rows(subject: Subject) -> tuple[FixingRow, ...]:
    """Every bolt that holds a module to the vehicle or to the module below."""
    return tuple(row for module in subject.fitout.modules for row in _rows(subject, module))


def _rows(subject: Subject, module: Module) -> Iterator[FixingRow]:
    if module.kind == "barrier":
        yield from _barrier(subject, module)
        return
    bodies = bodies_of(subject, module)
    if bodies is None:
        return
    group = bodies.bolts
    road, thrown = everyday(subject), crash(subject)
    for index, grip in enumerate(group.grips):
        assert isinstance(grip, Grip)
        x, y = group.points[index]
        yield FixingRow(
            module=module.name,
            point=group.names[index],
            at=(x, y, group.level),
            grip=grip,
            road=_most(subject, group, index, road),
            crash=_most(subject, group, index, thrown),
        )


def _most(subject: Subject, group: Group, index: int, cases: Sequence[Case]) -> Used | None:
    """What one bolt of a group is used most over cases; None where one is not held."""
    grip, worst = group.grips[index], None
    for case in cases:
        forces = forces_of(subject, group, case)
        if forces is None:
            return None
        pull, push = forces.tension[index], forces.shear_n(index)
        used = _used(grip, group.names[index], (pull, push), case)
        if worst is None or used.share > worst.share:
            worst = used
    return worst


def _used(grip: object, name: str, forces: tuple[float, float], case: Case) -> Used:
    assert isinstance(grip, Grip)
    part, share = max(grip.limits(case.basis).shares(*forces), key=lambda pair: pair[1])
    return Used(share, part, name, *forces, case)


def _barrier(subject: Subject, module: Module) -> Iterator[FixingRow]:
    """The barrier's bolts straight ahead: its own goods on the road, what flies in a crash."""
    barrier = barrier_of(subject, module)
    if barrier is None:
        return
    road = max((c for c in everyday(subject) if c.way[0] > 0.0), key=lambda c: c.g)
    ahead = [c for c in crash(subject) if c.way[0] > 0.0]
    fixings = [*(f for f in module.fixings if f.anchor), *module.tops]
    on_road = thrown_forward(subject, barrier, road.g, 0.0)
    in_crash = (
        thrown_forward(subject, barrier, ahead[0].g, subject.restraint.loose) if ahead else ()
    )
    for index, (fixing, grip) in enumerate(
        zip(fixings, (*barrier.feet, *barrier.tops), strict=True)
    ):
        name = fixing.anchor or ""
        yield FixingRow(
            module=module.name,
            point=name,
            at=fixing.point,
            grip=grip,
            road=_used(grip, name, on_road[index], road),
            crash=_used(grip, name, in_crash[index], ahead[0]) if in_crash else None,
        )
