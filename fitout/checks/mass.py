"""What everything weighs, where its centre of gravity lies, what a person must lift."""

from __future__ import annotations

from collections.abc import Iterator

from fitout.checks.ledger import Load, together
from fitout.checks.subject import Subject
from fitout.checks.verdict import fact, remark
from fitout.model.finding import Finding, Severity
from fitout.model.item import Item
from fitout.model.module import Module, MotionKind
from fitout.model.panel import Panel

LIFT_KG = 25.0
"""Reference mass one adult may lift: ISO 11228-1."""

COMPUTED = "computed: outline × thickness × density, items as entered, hardware by catalogue"


def parts_of(subject: Subject, module: Module) -> Load:
    """Panels, bars and empty items of a module."""
    return together(subject.loads[p.id] for p in module.parts())


def contents_of(subject: Subject, module: Module) -> Load:
    """What a module carries: in its items, in its drawers, on its panels."""
    loads = [Load(i.contents_kg, subject.loads[i.id].centre) for i in module.items]
    for duty in module.slides:
        moving = [subject.parts[i] for i in duty.moving]
        held = sum(p.contents_kg + p.mass_kg for p in moving if isinstance(p, Item))
        centre = together(subject.loads[i] for i in duty.moving).centre
        loads.append(Load(max(0.0, duty.contents_kg - held), centre))
    on_slides = {i for duty in module.slides for i in duty.moving}
    for plate in module.plates:
        panel = subject.parts[plate.panel]
        assert isinstance(panel, Panel)
        resting = any(
            (item.id, panel.id) in subject.joined and item.contents_kg for item in module.items
        )
        if panel.id not in on_slides and not resting:
            loads.append(Load(plate.load_kg, subject.loads[panel.id].centre))
    return together(loads)


def hardware_kg(subject: Subject, module: Module) -> float:
    """Screws, bolts and other articles of a module, by catalogue."""
    goods = subject.setting.catalogue.goods
    return sum(goods[h.article].mass_kg * h.quantity for h in module.hardware)


def empty_of(subject: Subject, module: Module) -> Load:
    """A module as built: its parts, and its hardware spread over them."""
    built = parts_of(subject, module)
    return Load(built.mass_kg + hardware_kg(subject, module), built.centre)


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
        yield fact("module mass", module.name, built.mass_kg, "kg", sentence, COMPUTED)
        yield from _lift(module, built.mass_kg)
    whole, laden = together(empty), together([*empty, *carried])
    x, y, z = laden.centre
    side = "left" if y >= 0 else "right"
    sentence = (
        f"The fit-out weighs {whole.mass_kg:.1f} kg empty and {laden.mass_kg:.1f} kg laden; laden, "
        f"its centre of gravity lies {x:.0f} mm forward of the sill, {abs(y):.0f} mm {side} of the "
        f"centre line and {z:.0f} mm above the floor."
    )
    yield fact("total mass", subject.fitout.name, laden.mass_kg, "kg", sentence, COMPUTED)
    sentence = (
        "Axle loads, payload and gross vehicle mass were not checked: that needs the vehicle's own "
        "figures. Weigh the vehicle; its maker's limits and local law decide."
    )
    yield remark("axle loads", subject.fitout.name, Severity.UNCHECKED, sentence)


def _lift(module: Module, mass_kg: float) -> Iterator[Finding]:
    lifts = any(m.kind is MotionKind.REMOVE for m in module.motions)
    if lifts and mass_kg > LIFT_KG:
        sentence = (
            f"{module.name} is to be lifted out and weighs {mass_kg:.1f} kg empty; above "
            f"{LIFT_KG:g} kg two people should lift it."
        )
        yield remark("lift", module.name, Severity.CAUTION, sentence, "ISO 11228-1 reference mass")
