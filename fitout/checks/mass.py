"""What everything weighs, where its centre of gravity lies, what a person must lift."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

from fitout.checks.ledger import LedgerSum, Load, summed, together
from fitout.checks.mass_lines import (
    contents_lines,
    empty_lines,
    hardware_lines,
    held_lines,
    part_lines,
)
from fitout.checks.subject import Subject
from fitout.checks.verdict import fact, remark
from fitout.model.finding import Finding, Severity
from fitout.model.module import Module, MotionKind

LIFT_KG = 25.0
"""Reference mass one adult may lift: ISO 11228-1."""

COMPUTED = (
    "computed: outline × thickness × density, items as entered or weighed, hardware by catalogue; "
    "uncertainty: JCGM 100, shares by common practice"
)


def parts_of(subject: Subject, module: Module) -> Load:
    """Panels, bars and empty items of a module."""
    return together(subject.loads[p.id] for p in module.parts())


def contents_of(subject: Subject, module: Module) -> Load:
    """What a module carries: in its items, in its drawers, on its panels."""
    return together(line.load for line in contents_lines(subject, module))


def hardware_kg(subject: Subject, module: Module) -> float:
    """Screws, bolts and other articles of a module, by catalogue."""
    goods = subject.setting.catalogue.goods
    return sum(goods[h.article].mass_kg * h.quantity for h in module.hardware)


def empty_of(subject: Subject, module: Module) -> Load:
    """A module as built: its parts, and its hardware spread over them."""
    built = parts_of(subject, module)
    return Load(built.mass_kg + hardware_kg(subject, module), built.centre)


def _built(subject: Subject, module: Module) -> LedgerSum:
    return summed([*part_lines(subject, module), *hardware_lines(subject, module)])


def check_mass(subject: Subject) -> Iterator[Finding]:
    """Each module's empty and carried mass; the whole and its centre; lifts over 25 kg."""
    empty, carried = [], []
    for module in subject.fitout.modules:
        built, contents = empty_of(subject, module), contents_of(subject, module)
        empty.append(built)
        carried.append(contents)
        sentence = (
            f"{module.name} weighs {built.mass_kg:.1f} kg empty and carries "
            f"{contents.mass_kg:.1f} kg."
        )
        told = fact("module mass", module.name, built.mass_kg, "kg", sentence, COMPUTED)
        yield dataclasses.replace(told, u=round(_built(subject, module).u_kg, 4))
        yield from _lift(module, built.mass_kg)
    whole, laden = together(empty), together([*empty, *carried])
    known = summed(empty_lines(subject)), summed([*empty_lines(subject), *held_lines(subject)])
    x, y, z = laden.centre
    side = "left" if y >= 0 else "right"
    sentence = (
        f"The fit-out weighs {whole.mass_kg:.1f} kg empty (standard uncertainty "
        f"{known[0].u_kg:.1f} kg) and {laden.mass_kg:.1f} kg laden ({known[1].u_kg:.1f} kg); "
        f"laden, its centre of gravity lies {x:.0f} mm forward of the sill, {abs(y):.0f} mm {side} "
        f"of the centre line and {z:.0f} mm above the floor."
    )
    told = fact("total mass", subject.fitout.name, laden.mass_kg, "kg", sentence, COMPUTED)
    yield dataclasses.replace(told, u=round(known[1].u_kg, 4))


def _lift(module: Module, mass_kg: float) -> Iterator[Finding]:
    lifts = any(m.kind is MotionKind.REMOVE for m in module.motions)
    if lifts and mass_kg > LIFT_KG:
        sentence = (
            f"{module.name} is to be lifted out and weighs {mass_kg:.1f} kg empty; above "
            f"{LIFT_KG:g} kg two people should lift it."
        )
        yield remark("lift", module.name, Severity.CAUTION, sentence, "ISO 11228-1 reference mass")
