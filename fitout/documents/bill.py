"""The bill: one table of all that the fit-out takes, with quantity, mass and price.

Boards and bars as they are bought or taken from stock (as in `purchase.csv`), edging and
hardware (as in `hardware.csv`), and the items it is built around. Two masses: of what is
bought, and of what of it ends up in the fit-out. The latter add up to the mass ledger's
fit-out as built; what lies between is waste, offcuts and test pieces.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, get_args

from fitout.cutting.bars import BarPlan, Stick, cut_bars
from fitout.cutting.plan import Origin, Sheet
from fitout.cutting.purchases import (
    MM3_PER_M3,
    Purchase,
    of_edging,
    of_sheet,
    of_stick,
    purchases,
)
from fitout.documents.dossier import Dossier
from fitout.documents.tables import Cell, kg, mm, needed, purpose_of, table, unit_of
from fitout.model.edging import Strip
from fitout.model.hardware import Slide
from fitout.model.item import Item
from fitout.model.module import Module
from fitout.model.panel import Panel

Group = Literal["sheets", "bars", "edging", "hardware", "items"]
GROUPS: tuple[Group, ...] = get_args(Group)
"""In the order in which they stand in the bill."""

STOCK_GROUPS: Mapping[str, Group] = MappingProxyType({"bar": "bars", "edging": "edging"})
"""The group of what the purchase list tells, by its kind; all else is sheets."""

EDGING = frozenset({"edge tape", "edging"})
"""Kinds of article that cover edges."""

Unit = Literal["piece", "pair", "m"]


@dataclass(frozen=True, slots=True, kw_only=True)
class BillRow:
    """So many of one thing; lengths and masses are each one's, None where not known.

    `size` is along the grain, across it and thickness for a board; length, width and height
    for a bar or a run of edging; empty for all else. `built_in_kg` is what of all of them ends
    up in the fit-out. What is on hand costs nothing. `purpose` says what it is for, in the
    modules' own words.
    """

    group: Group
    name: str
    kind: str
    quantity: int
    unit: Unit
    origin: Origin
    size: tuple[float, ...] = ()
    mass_each_kg: float | None
    built_in_kg: float
    price: float | None
    purpose: str = ""

    @property
    def mass_kg(self) -> float | None:
        """Mass of all of them."""
        return None if self.mass_each_kg is None else self.mass_each_kg * self.quantity

    @property
    def cost(self) -> float | None:
        """What all of them cost."""
        return None if self.price is None else self.price * self.quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class BillSum:
    """Rows added up: what is known, and by name what has no price or no mass.

    `group` None is the sum of all. `cost` is None where nothing has a price. `different` counts
    the things by name.
    """

    group: Group | None
    mass_kg: float
    built_in_kg: float
    cost: float | None
    different: int
    without_price: tuple[str, ...]
    without_mass: tuple[str, ...]


def bill_rows(dossier: Dossier) -> tuple[BillRow, ...]:
    """The whole bill in the order of GROUPS."""
    bars = cut_bars(dossier.cuts.cut_list, dossier.cuts.spec, dossier.design.stock)
    rows = [*_stock_rows(dossier, bars), *_hardware_rows(dossier), *_item_rows(dossier)]
    return tuple(sorted(rows, key=lambda row: GROUPS.index(row.group)))


def bill_sums(rows: Iterable[BillRow]) -> tuple[BillSum, ...]:
    """A sum for each group that has rows, then that of all."""
    listed = tuple(rows)
    groups = [group for group in GROUPS if any(row.group == group for row in listed)]
    parts = [_sum(group, [row for row in listed if row.group == group]) for group in groups]
    return (*parts, _sum(None, listed))


def _sum(group: Group | None, rows: Iterable[BillRow]) -> BillSum:
    rows = tuple(rows)
    costs = [row.cost for row in rows if row.cost is not None and row.origin == "bought"]
    return BillSum(
        group=group,
        mass_kg=sum(row.mass_kg for row in rows if row.mass_kg is not None),
        built_in_kg=sum(row.built_in_kg for row in rows),
        cost=sum(costs) if costs else None,
        different=len({row.name for row in rows}),
        without_price=tuple(dict.fromkeys(row.name for row in rows if row.cost is None)),
        without_mass=tuple(dict.fromkeys(row.name for row in rows if row.mass_kg is None)),
    )


def _stock_rows(dossier: Dossier, bars: BarPlan) -> Iterator[BillRow]:
    """One row for each line of the purchase list."""
    inside: dict[Purchase, float] = {}
    for sheet in dossier.cuts.sheets:
        line = of_sheet(sheet, dossier.cuts)
        inside[line] = inside.get(line, 0.0) + _in_sheet(dossier, sheet)
    for stick in bars.sticks:
        line = of_stick(stick)
        inside[line] = inside.get(line, 0.0) + _in_stick(dossier, stick)
    strips = _strips(dossier)
    inside.update(zip(of_edging(dossier.cuts), strips.values(), strict=True))
    for line in purchases(dossier.cuts, bars):
        yield BillRow(
            group=STOCK_GROUPS.get(line.kind, "sheets"),
            name=line.name,
            kind=line.kind,
            quantity=line.quantity,
            unit="piece",
            origin=line.origin,
            size=(line.length, line.width, line.thickness),
            mass_each_kg=line.mass_kg,
            built_in_kg=inside[dataclasses.replace(line, quantity=1)],
            price=line.price,
        )


def _in_sheet(dossier: Dossier, sheet: Sheet) -> float:
    """Mass of the sheet's parts that are built in, kg: less their edging; a test piece is none."""
    loads = dossier.subject.loads
    lines = {line.number: line for line in dossier.cuts.cut_list.lines}
    panels = [lines[placed.number].panels[placed.copy - 1] for placed in sheet.placed]
    return sum(
        loads[p.id].mass_kg - sum(_strip_kg(p, strip) for strip in p.strips)
        for p in panels
        if p.id in loads
    )


def _strips(dossier: Dossier) -> dict[tuple[str, float], float]:
    """Mass of the strips on each board's parts, by thickness, in the order they are bought."""
    found: dict[tuple[str, float], float] = {}
    for line in dossier.cuts.cut_list.lines:
        for panel in line.panels:
            for strip in panel.strips:
                key = (line.board.key, strip.thickness)
                found[key] = found.get(key, 0.0) + _strip_kg(panel, strip)
    return found


def _strip_kg(panel: Panel, strip: Strip) -> float:
    """A strip planed flush; it counts as heavy as the board it is on (see `purchases`)."""
    volume = strip.length * strip.thickness * panel.thickness
    return volume * panel.board.density_kg_m3 / MM3_PER_M3


def _in_stick(dossier: Dossier, stick: Stick) -> float:
    loads = dossier.subject.loads
    lines = {line.number: line for line in dossier.cuts.cut_list.bars}
    return sum(loads[lines[cut.number].bars[cut.copy - 1].id].mass_kg for cut in stick.cuts)


def _hardware_rows(dossier: Dossier) -> Iterator[BillRow]:
    """One row an article, as in the hardware list."""
    for key, lines in needed(dossier.hardware).items():
        article = dossier.articles.get(key)
        quantity = sum(line.quantity for line in lines)
        kind = "slide" if isinstance(article, Slide) else article.kind if article else ""
        mass_kg = None
        if isinstance(article, Slide):
            mass_kg = article.mass_pair_kg
        elif article is not None:
            mass_kg = article.mass_kg
        yield BillRow(
            group="edging" if kind in EDGING else "hardware",
            name=key,
            kind=kind,
            quantity=quantity,
            unit=unit_of(article),
            origin="bought",
            mass_each_kg=mass_kg,
            built_in_kg=(mass_kg or 0.0) * quantity,
            price=article.price if article else None,
            purpose="; ".join(dict.fromkeys(purpose_of(line) for line in lines)),
        )


def _item_rows(dossier: Dossier) -> Iterator[BillRow]:
    """Fridges, tanks, tools: what the fit-out is built around, alike ones together."""
    found: dict[tuple[object, ...], list[tuple[Module, Item]]] = {}
    for module in dossier.fitout.modules:
        for item in module.items:
            # Slides are bodies of their module and stand among the hardware.
            if not item.article:
                key = (item.name, item.mass_kg, item.price, module.kind == "seat tray")
                found.setdefault(key, []).append((module, item))
    for pairs in found.values():
        module, item = pairs[0]
        # The tools of a tray are the builder's already unless they have a price.
        yours = module.kind == "seat tray" and item.price is None
        masses = [dossier.subject.loads[one.id].mass_kg for _, one in pairs]
        yield BillRow(
            group="items",
            name=item.name,
            kind="item",
            quantity=len(pairs),
            unit="piece",
            origin="on hand" if yours else "bought",
            mass_each_kg=masses[0],
            built_in_kg=sum(masses),
            price=0.0 if yours else item.price,
            purpose="; ".join(dict.fromkeys(m.name for m, _ in pairs)),
        )


def bill_csv(dossier: Dossier) -> bytes:
    """The bill, then the sum of each group and of all; a sum's note names what is missing."""
    currency = dossier.design.stock.currency
    told = f" ({currency})" if currency else ""
    headings = (
        "group", "what", "kind", "quantity", "unit", "from", "length (mm)", "width (mm)",
        "thickness (mm)", "mass each (kg)", "mass total (kg)", "built in (kg)",
        f"price each{told}", f"price total{told}", "for",
    )  # fmt: skip
    rows = bill_rows(dossier)
    return table(headings, [*map(_row, rows), *map(_sum_row, bill_sums(rows))])


def _row(row: BillRow) -> list[Cell]:
    size = [mm(length) for length in row.size] or ["", "", ""]
    masses = [None if value is None else kg(value) for value in (row.mass_each_kg, row.mass_kg)]
    prices = [None if value is None else f"{value:.2f}" for value in (row.price, row.cost)]
    return [
        row.group,
        row.name,
        row.kind,
        row.quantity,
        row.unit,
        row.origin,
        *size,
        *masses,
        kg(row.built_in_kg),
        *prices,
        row.purpose,
    ]


def _sum_row(total: BillSum) -> list[Cell]:
    notes = [_lacking(total, "price", total.without_price)] if total.without_price else []
    notes += [_lacking(total, "mass", total.without_mass)] if total.without_mass else []
    cost = None if total.cost is None else f"{total.cost:.2f}"
    masses = [kg(total.mass_kg), kg(total.built_in_kg)]
    return [f"sum: {total.group or 'all'}", *[""] * 9, *masses, "", cost, "; ".join(notes)]


def _lacking(total: BillSum, what: str, names: tuple[str, ...]) -> str:
    """What is missing from a sum, by name; of all rows only how many, the groups say which."""
    if total.group is None:
        return f"without the {what} of {len(names)} of {total.different}"
    if len(names) == total.different:
        return f"no {what} is known"
    return f"without the {what} of {', '.join(names)}"
