"""Tables as CSV: cut list, nesting, saw cuts, hardware.

UTF-8 with a byte order mark (spreadsheets then read names rightly), commas, decimal point,
one heading row that carries the units. Text that a spreadsheet would take for a formula is
led by an apostrophe.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from typing import Literal

from fitout.cutting.bars import BarPlan
from fitout.cutting.cut_list import BarLine, CutLine, CutList
from fitout.cutting.plan import CutPlan, Sheet
from fitout.cutting.purchases import bars_sentence, sheets_sentence
from fitout.cutting.sequence import FATES, Piece, SawStep, saw_order
from fitout.model.hardware import Article, HardwareLine, Slide
from fitout.model.panel import Face

FORMULA_STARTS = ("=", "+", "-", "@")
"""Leading characters on which spreadsheets start to calculate."""

BY_THE_METRE = frozenset({"edge tape", "felt", "hose", "strip hinge"})
"""Kinds of article sold by length: in pieces of 1000 mm they are counted in metres."""

CUTLIST_HEADINGS = (
    "part", "name", "quantity", "length along grain (mm)", "width (mm)", "thickness (mm)",
    "finished length (mm)", "finished width (mm)", "board", "grain", "edging", "scribed",
    "grooves and pockets", "mass each (kg)", "mass total (kg)", "share of sheet price",
    "modules", "panels",
)  # fmt: skip

NESTING_HEADINGS = (
    "sheet", "board", "part", "copy", "name", "x (mm)", "y (mm)", "turned (deg)",
    "along sheet (mm)", "across sheet (mm)", "of this material",
)  # fmt: skip

SAW_HEADINGS = (
    "sheet", "board", "step", "where", "piece", "along sheet (mm)", "across sheet (mm)", "cut",
    "set", "to (mm)", "at the fence", "fence piece along (mm)", "fence piece across (mm)",
    "fence piece goes", "falls off", "falling piece along (mm)", "falling piece across (mm)",
    "falling piece goes",
)  # fmt: skip

HARDWARE_HEADINGS = (
    "article", "kind", "quantity", "unit", "mass each (kg)", "mass total (kg)",
    "price each", "price total", "for",
)  # fmt: skip

Cell = str | int | float | None


def cutlist_csv(cuts: CutList) -> bytes:
    """One row a part: panels first, then bars (their width and thickness are the section's)."""
    rows = [_panel_row(line) for line in cuts.lines] + [_bar_row(line) for line in cuts.bars]
    return table(CUTLIST_HEADINGS, rows)


def _panel_row(line: CutLine) -> list[Cell]:
    return [
        line.number,
        line.name,
        line.quantity,
        mm(line.length),
        mm(line.width),
        mm(line.thickness),
        *map(mm, line.finished),
        line.board.key,
        "along length" if line.grain_locked else "either way",
        line.edging,
        line.scribe or ("yes" if line.scribed else "no"),
        _sunk(line),
        kg(line.mass_each_kg),
        kg(line.mass_kg),
        None if line.price is None else f"{line.price:.2f}",
        "; ".join(line.modules),
        "; ".join(panel.id for panel in line.panels),
    ]


def _sunk(line: CutLine) -> str:
    """What is sunk into a part: `2 x groove 6.0 deep`, with the face if it is the far one."""
    counts: dict[str, int] = {}
    for pocket in line.panel.pockets:
        face = "" if pocket.face is Face.A else " from face B"
        told = f"{pocket.purpose} {mm(pocket.depth)} deep{face}"
        counts[told] = counts.get(told, 0) + 1
    return "; ".join(f"{count} x {told}" for told, count in counts.items())


def _bar_row(line: BarLine) -> list[Cell]:
    return [
        line.number,
        line.name,
        line.quantity,
        mm(line.length),
        mm(line.section.width),
        mm(line.section.height),
        mm(line.length),
        mm(line.section.width),
        line.section.key,
        "",
        "",
        "no",
        "",
        kg(line.mass_each_kg),
        kg(line.mass_kg),
        None,
        "; ".join(dict.fromkeys(bar.module for bar in line.bars)),
        "; ".join(bar.id for bar in line.bars),
    ]


def nesting_csv(plan: CutPlan, bars: BarPlan | None = None, currency: str = "") -> bytes:
    """One row a placed copy: the lower left corner of its bounding rectangle on the sheet.

    Stock lengths of bars follow as T01, T02 and on, x from the end that is cut first. In the first
    row of each material stands how much of it is taken, and whether that is proven the least.
    """
    told = {use.board.key: sheets_sentence(use, currency) for use in plan.boards}
    for section in bars.uses if bars else ():
        told[section.section.key] = bars_sentence(section, currency)
    rows: list[list[Cell]] = []
    for sheet in plan.sheets:
        for placed in sheet.placed:
            line = plan.cut_list.line(placed.number)
            size = (line.length, line.width)
            along, across = size if placed.quarter_turns % 2 == 0 else size[::-1]
            rows.append(
                [
                    sheet.number,
                    sheet.board.key,
                    placed.number,
                    placed.copy,
                    line.name,
                    mm(placed.x),
                    mm(placed.y),
                    90 * placed.quarter_turns,
                    mm(along),
                    mm(across),
                    told.pop(sheet.board.key, ""),
                ]
            )
    names = {line.number: line.name for line in plan.cut_list.bars}
    for stick in bars.sticks if bars else ():
        for cut in stick.cuts:
            name = names[cut.number]
            place = (mm(cut.start), mm(0.0), 0, mm(cut.length), mm(stick.section.width))
            what = (stick.number, stick.section.key, cut.number, cut.copy, name)
            rows.append([*what, *place, told.pop(stick.section.key, "")])
    return table(NESTING_HEADINGS, rows)


def saw_csv(plan: CutPlan) -> bytes:
    """One row a saw cut, in the order they are made (see `fitout.cutting.sequence`).

    The sheets of one material are sawn together, so that each setting is needed but seldom.

    What is set, or marked for a track saw, is the size of what lies against the fence; the
    rest less the kerf falls off. Sheets that a router cuts have no rows.
    """
    sheets = {sheet.number: sheet for sheet in plan.sheets}
    rows = [_saw_row(sheets[step.sheet], step) for own in saw_order(plan).values() for step in own]
    return table(SAW_HEADINGS, rows)


def _saw_row(sheet: Sheet, step: SawStep) -> list[Cell]:
    return [
        sheet.number,
        sheet.board.key,
        step.number,
        "timber yard" if step.yard else "saw",
        step.piece.name,
        mm(step.piece.length),
        mm(step.piece.width),
        "across the sheet" if step.across else "along the sheet",
        step.tool,
        mm(step.measure),
        *_piece_cells(step.gives),
        *_piece_cells(step.rest),
    ]


def _piece_cells(piece: Piece | None) -> list[Cell]:
    if piece is None:
        return ["", "", "", ""]
    return [piece.name, mm(piece.length), mm(piece.width), FATES[piece.fate]]


def hardware_csv(lines: Iterable[HardwareLine], articles: Mapping[str, Article | Slide]) -> bytes:
    """One row an article, in the order first needed; slides count in pairs, hose in metres.

    Mass and price stay empty where the article is not among `articles` or has no price.
    """
    rows = [_hardware_row(key, group, articles.get(key)) for key, group in needed(lines).items()]
    return table(HARDWARE_HEADINGS, rows)


def needed(lines: Iterable[HardwareLine]) -> dict[str, list[HardwareLine]]:
    """The lines of each article, in the order first needed."""
    wanted: dict[str, list[HardwareLine]] = {}
    for line in lines:
        wanted.setdefault(line.article, []).append(line)
    return wanted


def _hardware_row(
    key: str, lines: Sequence[HardwareLine], article: Article | Slide | None
) -> list[Cell]:
    quantity = sum(line.quantity for line in lines)
    mass_kg: float | None = None
    kind = ""
    if isinstance(article, Slide):
        mass_kg, kind = article.mass_pair_kg, "slide"
    elif article is not None:
        mass_kg, kind = article.mass_kg, article.kind
    price = None if article is None else article.price
    purposes = dict.fromkeys(purpose_of(line) for line in lines)
    return [
        key,
        kind,
        quantity,
        unit_of(article),
        None if mass_kg is None else kg(mass_kg),
        None if mass_kg is None else kg(mass_kg * quantity),
        None if price is None else f"{price:.2f}",
        None if price is None else f"{price * quantity:.2f}",
        "; ".join(purposes),
    ]


def purpose_of(line: HardwareLine) -> str:
    """What hardware is for, its module first: `drawers: drawer 1`."""
    return f"{line.module}: {line.purpose.removeprefix(f'{line.module}/')}"


def unit_of(article: Article | Slide | None) -> Literal["piece", "pair", "m"]:
    """What an article is counted in."""
    if isinstance(article, Slide):
        return "pair"
    metres = article is not None and article.kind in BY_THE_METRE and article.length == 1000.0
    return "m" if metres else "piece"


def mm(value: float) -> str:
    """A length as the tables write it."""
    return f"{value + 0.0:.1f}"


def kg(value: float) -> str:
    """A mass as the tables write it."""
    return f"{value:.3f}"


def _safe(cell: Cell) -> str:
    """The cell as one line; text that a spreadsheet would calculate is led by an apostrophe."""
    if cell is None:
        return ""
    text = " ".join(str(cell).split())
    if isinstance(cell, str) and text.startswith(FORMULA_STARTS) and not _is_number(text):
        return f"'{text}"
    return text


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True


def table(headings: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """A table as bytes: its one heading row, then its rows."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(headings)
    writer.writerows([_safe(cell) for cell in row] for row in rows)
    return stream.getvalue().encode("utf-8-sig")
