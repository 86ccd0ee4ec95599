"""What to buy as CSV, and what is left over as YAML for the next design."""

from __future__ import annotations

import json

from fitout.cutting.bars import BarPlan
from fitout.cutting.plan import CutPlan
from fitout.cutting.purchases import (
    Purchase,
    bars_sentence,
    left_over,
    purchases,
    sheets_sentence,
    wastes,
)
from fitout.documents.tables import Cell, kg, mm, table
from fitout.model.cutting import OffcutSpec, StockSpec


def purchase_csv(plan: CutPlan, bars: BarPlan, stock: StockSpec) -> bytes:
    """One row for what is alike, bought or on hand; a board's note says if it is the least."""
    unit = f" ({stock.currency})" if stock.currency else ""
    headings = (
        "what", "kind", "from", "quantity", "length (mm)", "width (mm)", "thickness (mm)",
        f"price each{unit}", f"price total{unit}", "mass each (kg)", "mass total (kg)", "note",
    )  # fmt: skip
    lines = purchases(plan, bars)
    notes = _notes(plan, bars, stock.currency)
    rows = [_row(line, notes.pop(line.name, "")) for line in lines]
    return table(headings, [*rows, _total(lines)])


def _row(line: Purchase, note: str) -> list[Cell]:
    return [
        line.name,
        line.kind,
        line.origin,
        line.quantity,
        mm(line.length),
        mm(line.width),
        mm(line.thickness),
        _money(line.price),
        _money(line.cost),
        kg(line.mass_kg),
        kg(line.mass_kg * line.quantity),
        note,
    ]


def _total(lines: tuple[Purchase, ...]) -> list[Cell]:
    """What is bought, together; what has no price is named."""
    bought = [line for line in lines if line.origin == "bought"]
    unknown = dict.fromkeys(line.name for line in bought if line.cost is None)
    cost = sum(line.cost for line in bought if line.cost is not None)
    mass_kg = sum(line.mass_kg * line.quantity for line in bought)
    note = f"without the price of {', '.join(unknown)}" if unknown else ""
    known = None if len(unknown) == len({line.name for line in bought}) else cost
    count = sum(line.quantity for line in bought)
    return ["total bought", "", "", count, "", "", "", "", _money(known), "", kg(mass_kg), note]


def _notes(plan: CutPlan, bars: BarPlan, currency: str) -> dict[str, str]:
    """What to say of each material, by its name; it stands in its first row."""
    shares = {waste.board.key: waste for waste in wastes(plan)}
    notes: dict[str, list[str]] = {}
    for use in plan.boards:
        if not use.sheets:
            continue
        waste = shares[use.board.key]
        kept = waste.kept / waste.taken
        told = f"{100.0 * waste.waste_share:.0f} % waste, {100.0 * kept:.0f} % offcuts to keep"
        notes.setdefault(use.board.key, []).append(f"{sheets_sentence(use, currency)}; {told}")
    for section in bars.uses:
        notes.setdefault(section.section.key, []).append(bars_sentence(section, currency))
    return {name: "; ".join(told) for name, told in notes.items()}


def _money(value: float | None) -> str | None:
    return None if value is None else f"{value:.2f}"


def offcuts_yaml(plan: CutPlan, stock: StockSpec, name: str) -> bytes:
    """The offcuts there are once all is cut, as another design reads them.

    In `stock: {offcuts: FILE}`; see `fitout.model.cutting.OffcutsFile`.
    """
    found = left_over(plan, stock, name)
    head = (
        "# What is left over once this is cut: sizes along the face grain, then across it, mm.\n"
        "# Copy it beside another design and write there: stock: {offcuts: offcuts.yaml}\n"
    )
    if not found:
        return f"{head}offcuts: []\n".encode()
    return f"{head}offcuts:\n{''.join(map(_entry, found))}".encode()


def _entry(offcut: OffcutSpec) -> str:
    length, width = offcut.size
    entries = [
        f"sheet: {json.dumps(offcut.sheet, ensure_ascii=False)}",
        f"size: [{length:g}, {width:g}]",
        f"thickness: {offcut.thickness:g}",
    ]
    if offcut.quantity > 1:
        entries.append(f"quantity: {offcut.quantity}")
    if offcut.label:
        entries.append(f"label: {json.dumps(offcut.label, ensure_ascii=False)}")
    return f"  - {{{', '.join(entries)}}}\n"
