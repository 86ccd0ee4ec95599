"""What cutting takes: sheets, part sheets, foam blocks and bars, bought or on hand."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass, replace

from fitout.cutting.bars import BarPlan, SectionUse, Stick
from fitout.cutting.edging import OVERHANG, strip_run
from fitout.cutting.plan import ORIGINS, BoardUse, CutPlan, Origin, Sheet
from fitout.model.cutting import OffcutSpec, StockSpec
from fitout.model.panel import Panel
from fitout.model.stock import Board, Section

MM3_PER_M3 = 1e9


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchase:
    """So many pieces alike; `width` and `thickness` are the section's for a bar.

    What is on hand has the price 0; `price` None is not known. `mass_kg` is of one.
    """

    name: str
    kind: str
    origin: Origin
    length: float
    width: float
    thickness: float
    quantity: int
    price: float | None
    mass_kg: float

    @property
    def cost(self) -> float | None:
        """What all of them cost."""
        return None if self.price is None else self.price * self.quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardWaste:
    """Where the sheets of a board go, in mm²: parts, offcuts kept, and all else is waste."""

    board: Board
    taken: float
    parts: float
    kept: float

    @property
    def waste_share(self) -> float:
        """The share of what is taken that is neither part nor kept."""
        return 1.0 - (self.parts + self.kept) / self.taken if self.taken else 0.0


def purchases(plan: CutPlan, bars: BarPlan) -> tuple[Purchase, ...]:
    """One line for what is alike: boards in the plan's order, then bars; bought before on hand."""
    sheets = [of_sheet(sheet, plan) for sheet in plan.sheets]
    each = [*sheets, *(of_stick(stick) for stick in bars.sticks), *of_edging(plan)]
    counts: dict[Purchase, int] = {}
    for one in each:
        counts[one] = counts.get(one, 0) + 1
    names = list(dict.fromkeys(one.name for one in each))
    found = [replace(one, quantity=count) for one, count in counts.items()]
    found.sort(key=lambda p: (names.index(p.name), -ORIGINS.index(p.origin)))
    return tuple(found)


def of_sheet(sheet: Sheet, plan: CutPlan) -> Purchase:
    """One sheet as a line of its own."""
    board = sheet.board
    whole = next(use.board for use in plan.boards if use.board.key == board.key)
    part = board.length * board.width < 0.99 * whole.length * whole.width
    return Purchase(
        name=board.key,
        kind=_kind(sheet, part=part),
        origin=sheet.origin,
        length=board.length,
        width=board.width,
        thickness=board.thickness,
        quantity=1,
        price=board.price if sheet.origin in ("bought", "missing") else 0.0,
        mass_kg=sheet_kg(board),
    )


def _kind(sheet: Sheet, *, part: bool) -> str:
    if sheet.origin == "offcut":
        return "offcut"
    if sheet.board.kind == "foam":
        return "block"
    return "part sheet" if part else "sheet"


def sheet_kg(board: Board) -> float:
    """Mass of a whole sheet, kg."""
    return board.length * board.width * board.thickness * board.density_kg_m3 / MM3_PER_M3


def of_stick(stick: Stick) -> Purchase:
    """One stock length as a line of its own."""
    section = stick.section
    return Purchase(
        name=section.key,
        kind="bar",
        origin=stick.origin,
        length=stick.length,
        width=section.width,
        thickness=section.height,
        quantity=1,
        price=stick.price,
        mass_kg=section.area * stick.length * section.density_kg_m3 / MM3_PER_M3,
    )


def of_edging(plan: CutPlan) -> Iterator[Purchase]:
    """The strips for the edges of each board's parts, by thickness: one run with its trimming.

    They count as heavy as the board they go on.
    """
    panels: dict[tuple[str, float], list[Panel]] = {}
    for line in plan.cut_list.lines:
        for thickness in dict.fromkeys(strip.thickness for strip in line.panel.strips):
            panels.setdefault((line.board.key, thickness), []).extend(line.panels)
    for (key, thickness), edged in panels.items():
        board, run = edged[0].board, strip_run(edged, thickness)
        width = board.thickness + OVERHANG
        prices = [s.price for p in edged for s in p.strips if s.thickness == thickness]
        price = None if None in prices else max(p for p in prices if p is not None)
        yield Purchase(
            name=f"edging {thickness:g} mm for {key}",
            kind="edging",
            origin="bought",
            length=run,
            width=width,
            thickness=thickness,
            quantity=1,
            price=None if price is None else price * run / 1000.0,
            mass_kg=run * width * thickness * board.density_kg_m3 / MM3_PER_M3,
        )


def wastes(plan: CutPlan) -> tuple[BoardWaste, ...]:
    """For each board what of it ends in parts and in offcuts kept."""
    return tuple(_waste(use.board, plan) for use in plan.boards if use.sheets)


def _waste(board: Board, plan: CutPlan) -> BoardWaste:
    sheets = [sheet for sheet in plan.sheets if sheet.board.key == board.key]
    parts = [plan.cut_list.line(p.number).panel for sheet in sheets for p in sheet.placed]
    return BoardWaste(
        board=board,
        taken=sum(sheet.board.length * sheet.board.width for sheet in sheets),
        parts=sum(panel.outline.moments[0] for panel in parts),
        kept=sum(rect.area for sheet in sheets for rect in sheet.offcuts),
    )


def left_over(plan: CutPlan, stock: StockSpec, name: str) -> tuple[OffcutSpec, ...]:
    """The offcuts there are once all is cut: those not used, then what the sheets leave.

    `name` stands before each new one's label, as the sheet and a number: `name S02-1`. Where
    an offcut on hand has such a label already, from an earlier build, it is `name 2 S02-1`.
    Sizes are rounded down to tenths of a millimetre.
    """
    written = {each.label for each in stock.offcuts if not isinstance(each, str)}
    for again in itertools.count(1):
        called = name if again == 1 else f"{name} {again}"
        new = tuple(_new(plan, called))
        if written.isdisjoint(offcut.label for offcut in new):
            break
    return (*_unused(plan, stock), *new)


def _unused(plan: CutPlan, stock: StockSpec) -> Iterator[OffcutSpec]:
    taken = [
        (s.board.key, (s.board.length, s.board.width), s.label)
        for s in plan.sheets
        if s.origin == "offcut"
    ]
    for offcut in stock.offcuts:
        if isinstance(offcut, str):
            continue
        key = (offcut.sheet, offcut.size, offcut.label or "")
        left = offcut.quantity
        while left and key in taken:
            taken.remove(key)
            left -= 1
        if left:
            yield replace(offcut, quantity=left)


def _new(plan: CutPlan, name: str) -> Iterator[OffcutSpec]:
    for sheet in plan.sheets:
        if sheet.origin == "missing":
            continue
        for i, rect in enumerate(sheet.offcuts, start=1):
            yield OffcutSpec(
                sheet=sheet.board.key,
                size=(_down(rect.length), _down(rect.width)),
                thickness=round(sheet.board.thickness, 2),
                label=f"{name} {sheet.number}-{i}",
            )


def _down(length: float) -> float:
    return int(length * 10.0 + 1e-6) / 10.0


def sheets_sentence(use: BoardUse, currency: str = "") -> str:
    """How many sheets or what they cost, and whether that is proven least."""
    unit = "block" if use.board.kind == "foam" else "sheet"
    count = f"{use.sheets} {unit}{'' if use.sheets == 1 else 's'}"
    if use.cost is None:
        if use.proven_least:
            return f"{count}, proven least"
        return f"{count}; no fewer than {use.least_sheets} by bound"
    return _by_cost(count, (use.cost, use.least_cost), currency if use.priced else "m²")


def bars_sentence(use: SectionUse, currency: str = "") -> str:
    """How many stock lengths and what they cost, and whether that is proven least."""
    count = f"{use.sticks} length{'' if use.sticks == 1 else 's'}"
    return _by_cost(count, (use.cost, use.least_cost), currency if use.priced else "m")


def _by_cost(count: str, costs: tuple[float, float], unit: str) -> str:
    cost, least = (f"{value:.2f} {unit}".strip() for value in costs)
    if costs[0] <= costs[1] + 1e-6:
        return f"{count}, {cost} to buy, proven least"
    return f"{count}, {cost} to buy; no less than {least} by bound"


def short_of(plan: CutPlan, bars: BarPlan) -> tuple[tuple[Board | Section, int], ...]:
    """What is not to be had: boards and sections, and how many more of each are needed."""
    wanted: dict[Board | Section, int] = {}
    for sheet in plan.sheets:
        if sheet.origin == "missing":
            wanted[sheet.board] = wanted.get(sheet.board, 0) + 1
    for stick in bars.sticks:
        if stick.origin == "missing":
            wanted[stick.section] = wanted.get(stick.section, 0) + 1
    return tuple(wanted.items())
