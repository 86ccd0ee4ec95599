"""The ledger's lines of a fit-out: panels, bars, items, hardware, and what all of it holds."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from types import MappingProxyType

from fitout.checks.ledger import Known, LedgerLine, Load, together
from fitout.checks.subject import Subject
from fitout.checks.vehicle_lines import ENTERED_SHARE
from fitout.model.item import Item
from fitout.model.module import Module
from fitout.model.panel import Bar, Panel

DENSITY_SHARE: Mapping[str, float] = MappingProxyType(
    {"plywood": 0.045, "mdf": 0.03, "metal": 0.01, "foam": 0.1}
)
"""Standard uncertainty of a board's density as a share of it: birch plywood's mean 680 and
characteristic 630 kg/m³ (Handbook of Finnish Plywood, from memory) are 1.645 of it apart; the
rest common practice."""

SECTION_SHARE = 0.03
"""The same of a bar's mass by the metre: walls within 5 % (common practice)."""

CATALOGUE_SHARE = 0.03
"""The same of an article's mass by catalogue: within 5 % (common practice)."""

WATER_SHARE = 0.01
"""The same of a tank's filling: full within 2 % (common practice)."""


def part_lines(subject: Subject, module: Module) -> Iterator[LedgerLine]:
    """Panels, bars and empty items, each with its own centre of gravity."""
    for panel in module.panels:
        yield _panel(subject, panel)
    for bar in module.bars:
        yield _bar(subject, bar)
    for item in module.items:
        yield _item(subject, item)


def _panel(subject: Subject, panel: Panel) -> LedgerLine:
    board, load = panel.board, subject.loads[panel.id]
    thickness = board.thickness_tolerance / math.sqrt(3.0) / board.thickness
    share = math.hypot(thickness, DENSITY_SHARE.get(board.kind, DENSITY_SHARE["plywood"]))
    return LedgerLine(
        name=panel.name,
        group=panel.module,
        kind="panel",
        mass_kg=load.mass_kg,
        centre=load.centre,
        known=Known.COMPUTED,
        u_kg=share * load.mass_kg,
        basis=f"{board.key}: volume x {board.density_kg_m3:g} kg/m³",
        shared=f"sheet {board.key}",
    )


def _bar(subject: Subject, bar: Bar) -> LedgerLine:
    load = subject.loads[bar.id]
    return LedgerLine(
        name=bar.name,
        group=bar.module,
        kind="bar",
        mass_kg=load.mass_kg,
        centre=load.centre,
        known=Known.COMPUTED,
        u_kg=SECTION_SHARE * load.mass_kg,
        basis=f"{bar.section.key}: volume x {bar.section.density_kg_m3:g} kg/m³",
        shared=f"section {bar.section.key}",
    )


def _item(subject: Subject, item: Item) -> LedgerLine:
    spec = subject.setting.items.get(item.name)
    known, share, basis = Known.ENTERED, ENTERED_SHARE, "as entered"
    u_kg = share * item.mass_kg
    if item.article:
        known, u_kg = Known.CATALOGUE, CATALOGUE_SHARE * item.mass_kg
        basis = f"catalogue: {item.article}"
    elif spec is not None and spec.mass == item.mass_kg and spec.weighed_to is not None:
        known, u_kg = Known.WEIGHED, spec.weighed_to / math.sqrt(3.0)
        basis = f"weighed, ± {spec.weighed_to:g} kg"
    load = subject.loads[item.id]
    return LedgerLine(
        name=item.name,
        group=item.module,
        kind="item",
        mass_kg=load.mass_kg,
        centre=load.centre,
        known=known,
        u_kg=u_kg,
        basis=basis,
        # A pair of slides is too heavy on both sides, or on neither.
        shared=f"article {item.article}" if item.article else "",
    )


def hardware_lines(subject: Subject, module: Module) -> Iterator[LedgerLine]:
    """Screws, bolts and other articles by catalogue, taken as spread over the module's parts."""
    goods = subject.setting.catalogue.goods
    centre = together(subject.loads[part.id] for part in module.parts()).centre
    counts: dict[str, int] = {}
    for line in module.hardware:
        counts[line.article] = counts.get(line.article, 0) + line.quantity
    for article, count in counts.items():
        mass = goods[article].mass_kg * count
        yield LedgerLine(
            name=f"{count} x {article}",
            group=module.name,
            kind="hardware",
            mass_kg=mass,
            centre=centre,
            known=Known.CATALOGUE,
            u_kg=CATALOGUE_SHARE * mass,
            basis="catalogue; spread over the module's parts",
            shared=f"article {article}",
        )


def empty_lines(subject: Subject) -> tuple[LedgerLine, ...]:
    """The fit-out as built, with nothing in it."""
    return tuple(
        line
        for module in subject.fitout.modules
        for line in (*part_lines(subject, module), *hardware_lines(subject, module))
    )


def held_lines(subject: Subject) -> tuple[LedgerLine, ...]:
    """What the fit-out holds when full."""
    return tuple(
        line for module in subject.fitout.modules for line in contents_lines(subject, module)
    )


def contents_lines(subject: Subject, module: Module) -> Iterator[LedgerLine]:
    """What a module carries: in its items, in its drawers, on its panels; each thing once."""
    for item in module.items:
        if item.contents_kg:
            load = Load(item.contents_kg, subject.loads[item.id].centre)
            yield _content(module, f"in {item.name}", load, _litres(subject, item))
    for duty in module.slides:
        moving = [subject.parts[i] for i in duty.moving]
        held = sum(p.contents_kg + p.mass_kg for p in moving if isinstance(p, Item))
        rest = max(0.0, duty.contents_kg - held)
        if rest:
            centre = together(subject.loads[i] for i in duty.moving).centre
            yield _content(module, f"in {duty.name.rpartition('/')[2]}", Load(rest, centre))
    on_slides = {i for duty in module.slides for i in duty.moving}
    bearing = _bearing(subject, module)
    for plate in module.plates:
        panel = subject.parts[plate.panel]
        assert isinstance(panel, Panel)
        if plate.load_kg and panel.id not in on_slides | bearing:
            load = Load(plate.load_kg, subject.loads[panel.id].centre)
            yield _content(module, f"on {panel.name}", load)


def _bearing(subject: Subject, module: Module) -> set[str]:
    """Panels whose load is the module's own items, which are told by themselves.

    An item rests on a panel, or on foam that does.
    """
    foam = [p.id for p in module.panels if p.board.kind == "foam"]
    reached = {item.id for item in module.items if not item.article}
    while more := {f for f in foam if f not in reached and _meets(subject, f, reached)}:
        reached |= more
    return {p.id for p in module.panels if _meets(subject, p.id, reached)}


def _meets(subject: Subject, part: str, others: set[str]) -> bool:
    return any((part, other) in subject.joined for other in others)


def _litres(subject: Subject, item: Item) -> float | None:
    """The litres of water in an item; None where it holds something else."""
    spec = subject.setting.items.get(item.name)
    return None if spec is None or spec.contents is not None else spec.holds


def _content(module: Module, name: str, load: Load, litres: float | None = None) -> LedgerLine:
    return LedgerLine(
        name=name if litres is None else f"{litres:g} l of water {name}",
        group=module.name,
        kind="contents" if litres is None else "water",
        mass_kg=load.mass_kg,
        centre=load.centre,
        known=Known.ENTERED if litres is None else Known.COMPUTED,
        u_kg=(ENTERED_SHARE if litres is None else WATER_SHARE) * load.mass_kg,
        basis="what it is to carry" if litres is None else "litres x density of water at 20 °C",
        loose=True,
        kg_per_litre=None if litres is None else load.mass_kg / litres,
    )
