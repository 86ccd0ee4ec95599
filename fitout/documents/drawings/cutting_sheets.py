"""Cutting plans: each sheet with its parts, offcuts and cuts.

The cuts bear the numbers of the saw's order, in which the sheets of a material are sawn together.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from fitout.cutting.holding import lying
from fitout.cutting.plan import CutPlan, Placed, Rect, Sheet
from fitout.cutting.sequence import SawStep, saw_order
from fitout.documents.dossier import Dossier
from fitout.documents.drawings.packing import packed
from fitout.documents.drawings.panel_picture import ring
from fitout.documents.drawings.panel_sheets import SCALES, with_heading
from fitout.documents.drawings.saw_sheets import sequence_sheets
from fitout.documents.drawings.sketch import Sketch
from fitout.documents.lettering import writing_room
from fitout.documents.paper.dimension import leader, linear
from fitout.documents.paper.fonts import text_width
from fitout.documents.paper.layout import Layout
from fitout.documents.paper.marks import (
    MEDIUM,
    PHANTOM,
    WIDE,
    Mark,
    Pen,
    Text,
    box,
    line,
)
from fitout.documents.paper.table import Block, Column, Table, blocks
from fitout.documents.wording import Wording, decimal
from fitout.model.outline import Point

LARGEST = (300.0, 165.0)
"""A sheet's picture is no larger than this, mm on paper."""

AROUND = 60.0
"""Room for dimensions and leaders around it, mm."""

PARTED = (200.0, 150.0, 110.0, 80.0, 60.0, 45.0)
"""Its table is parted to be no higher than one of these, mm."""

CUT = Pen(0.25, (4.0, 1.0))
"""The line a saw cuts along."""

LETTERS = ((3.5, 2.5), (2.5, 2.5), (2.5, 1.8), (1.8, 1.8))
"""Heights that a part's number and its size are tried in, mm."""

GOLDEN = 0.6180339887
"""Shares of a line that are multiples of this, less whole numbers, lie well apart."""

TRIES = 24


def cutting_sheets(dossier: Dossier) -> tuple[Sketch, ...]:
    """Every nested sheet, then the saw's sequences."""
    order = saw_order(dossier.cuts)
    layouts = [
        sketch for sheet in dossier.cuts.sheets for sketch in _layouts(sheet, order, dossier)
    ]
    return (*layouts, *sequence_sheets(order, dossier))


def steps_of(sheet: Sheet, order: Mapping[str, Sequence[SawStep]]) -> tuple[SawStep, ...]:
    """The cuts of one sheet among those of its material."""
    return tuple(step for step in order.get(sheet.board.key, ()) if step.sheet == sheet.number)


def _layouts(
    sheet: Sheet, order: Mapping[str, Sequence[SawStep]], dossier: Dossier
) -> Iterator[Sketch]:
    wording = dossier.wording
    first = sheet_block(sheet, steps_of(sheet, order), dossier.cuts, wording)
    # Without names, which the cut list has as well, a long table may fit beside the plan.
    tables = [_parts_table(sheet, dossier, named=named) for named in (True, False)]
    ways = [[first, *blocks(table, high)] for table in tables for high in PARTED]
    for i, page in enumerate(packed([ways])):
        title = wording.say("sheet_titled", number=sheet.number)
        yield Sketch(
            title=title if i == 0 else wording.say("continued", title=title),
            kind=wording.say("cutting_plan"),
            name=f"sheet-{sheet.number}" + (f"-{i + 1}" if i else ""),
            marks=tuple(page.marks),
            number=sheet.number,
            scale=f"1:{scale_of(sheet)}",
            material=f"{sheet.board.key}, {wording.size(sheet.board.thickness)}",
        )


def scale_of(sheet: Sheet) -> int:
    """The reduction a sheet is drawn at."""
    board = sheet.board
    return next(
        (s for s in SCALES if board.length <= LARGEST[0] * s and board.width <= LARGEST[1] * s),
        SCALES[-1],
    )


def sheet_block(sheet: Sheet, steps: Sequence[SawStep], plan: CutPlan, wording: Wording) -> Block:
    """A sheet's picture with heading and notes: parts by number and size, offcuts, cuts."""
    scale = 1.0 / scale_of(sheet)
    length, width = sheet.board.length * scale, sheet.board.width * scale
    layout = Layout((-AROUND, -AROUND, length + AROUND, width + AROUND))
    layout.draw([box(0.0, 0.0, length, width, WIDE, "OUTLINE")])
    for offcut in sheet.offcuts:
        layout.draw([_rect(offcut, scale, PHANTOM, "OFFCUT")])
    for placed in sheet.placed:
        outline = lying(placed, plan.cut_list).outline
        for loop in (outline.outer, *outline.inner):
            layout.draw([ring(loop, scale, MEDIUM, "PART")])
    for step in steps:
        start, end = step.line
        layout.draw([line(_at(start, scale), _at(end, scale), CUT, "CUT")])
    linear(layout, (0.0, width), (length, width), wording.length(sheet.board.length), "above")
    linear(layout, (length, 0.0), (length, width), wording.length(sheet.board.width), "right")
    _labels(layout, sheet, plan, wording)
    for step in steps:
        _cut_number(layout, step, scale)
    return with_heading(layout.marks, _heading(sheet), _notes(sheet, plan, wording))


def _at(point: Point, scale: float) -> Point:
    return point[0] * scale, point[1] * scale


def _rect(rect: Rect, scale: float, pen: Pen, layer: str) -> Mark:
    return box(rect.x * scale, rect.y * scale, rect.length * scale, rect.width * scale, pen, layer)


def _labels(layout: Layout, sheet: Sheet, plan: CutPlan, wording: Wording) -> None:
    """Number and size on each part and offcut, the large ones first."""
    scale = 1.0 / scale_of(sheet)
    told: list[tuple[Rect, str, str]] = []
    for placed in sheet.placed:
        one = plan.cut_list.line(placed.number)
        room = writing_room(lying(placed, plan.cut_list).outline)
        size = " x ".join(wording.length(s) for s in (one.length, one.width))
        told.append((room, placed.number, size))
    for i, offcut in enumerate(sheet.offcuts, start=1):
        size = " x ".join(wording.length(s) for s in (offcut.length, offcut.width))
        told.append((offcut, f"{sheet.number}-{i}", size))
    for rect, number, size in sorted(told, key=lambda one: (-one[0].area, one[1], one[0].x)):
        if not layout.first(_written(rect, number, size, scale)):
            middle = (rect.x + rect.length / 2.0, rect.y + rect.width / 2.0)
            leader(layout, _at(middle, scale), number, dot=True)


def _written(rect: Rect, number: str, size: str, scale: float) -> Iterator[list[Mark]]:
    """Ways to write on a part: two lines, one, the number alone; level or upright."""
    x, y = (rect.x + rect.length / 2.0) * scale, (rect.y + rect.width / 2.0) * scale
    long, high = rect.length * scale, rect.width * scale
    turns = (0.0, 90.0) if rect.length >= rect.width else (90.0, 0.0)
    shifts = (0.0, 0.2, -0.2, 0.35, -0.35)
    for tall, small in LETTERS:
        for words in ((number, size), (f"{number}  {size}",)):
            for turned in turns:
                for shift in shifts:
                    along = long if turned == 0.0 else high
                    dx, dy = (shift * along, 0.0) if turned == 0.0 else (0.0, shift * along)
                    yield _lines((x + dx, y + dy), words, (tall, small), turned)
    for turned in turns:
        for height in (2.5, 1.8):
            yield _lines((x, y), (number,), (height, height), turned)


def _lines(
    middle: Point, words: Sequence[str], heights: tuple[float, float], turned: float
) -> list[Mark]:
    """One or two lines of text around a point; level, or to be read from the right."""
    tall, small = heights
    gap = 1.4
    if len(words) == 1:
        drops = [(words[0], small if " " in words[0] else tall, -0.5)]
        offsets = [-drops[0][1] / 2.0]
    else:
        drops = [(words[0], tall, 0.0), (words[1], small, 0.0)]
        offsets = [gap / 2.0, -gap / 2.0 - small]
    marks: list[Mark] = []
    for (told, height, _), offset in zip(drops, offsets, strict=True):
        x, y = middle
        at = (x, y + offset) if turned == 0.0 else (x - offset, y)
        marks.append(Text(at, told, height, "middle", turned, bold=height == tall, layer="NUMBER"))
    return marks


def _cut_number(layout: Layout, step: SawStep, scale: float) -> None:
    """A step's number beside its line, at a share of it that shifts from step to step."""
    (ax, ay), (bx, by) = (_at(end, scale) for end in step.line)
    told = str(step.number)
    wide = text_width(told, 1.8)

    def ways() -> Iterator[list[Mark]]:
        for i in range(TRIES):
            share = 0.03 + 0.94 * ((step.number + i) * GOLDEN % 1.0)
            x, y = ax + share * (bx - ax), ay + share * (by - ay)
            for side in (1.0, -1.0):
                if step.across:
                    at = (x + side * (wide / 2.0 + 0.8), y - 0.9)
                else:
                    at = (x, y + (0.8 if side > 0.0 else -0.8 - 1.8))
                yield [Text(at, told, 1.8, "middle", layer="CUT")]

    if not layout.first(ways()):
        leader(layout, ((ax + bx) / 2.0, (ay + by) / 2.0), told)


def _heading(sheet: Sheet) -> str:
    board = sheet.board
    return f"{sheet.number}  {board.key}" + (f"  {sheet.label}" if sheet.label else "")


def _notes(sheet: Sheet, plan: CutPlan, wording: Wording) -> list[str]:
    say, spec, board = wording.say, plan.spec_of(sheet), sheet.board
    used = sum(plan.cut_list.line(p.number).panel.outline.area for p in sheet.placed)
    share = decimal(100.0 * used / (board.length * board.width), 0)
    notes = [
        f"{say(f'origin_{sheet.origin}')} · {wording.size(board.length, board.width)} · "
        + say("sheet_used", share=share),
        say("sheet_saw" if sheet.cuts is not None else "sheet_router",
            kerf=wording.tool(spec.kerf), trim=wording.length(spec.trim)),
    ]  # fmt: skip
    if board.grain:
        notes[-1] += " " + say("sheet_grain")
    return notes


def _parts_table(sheet: Sheet, dossier: Dossier, *, named: bool) -> Table:
    """The parts in the order they are cut by a router: small ones first; by number for a saw."""
    wording, cuts = dossier.wording, dossier.cuts.cut_list
    placed = list(sheet.placed)
    if sheet.cuts is None:
        placed.sort(key=lambda p: (_area(p, dossier), p.number, p.copy))
    else:
        placed.sort(key=lambda p: (p.number, p.copy))
    rows = []
    for i, one in enumerate(placed, start=1):
        cut = cuts.line(one.number)
        place = (one.x, one.y)
        rows.append(
            (
                f"{i}",
                one.number,
                *([cut.panels[one.copy - 1].name] if named else []),
                *(wording.length(value) for value in (cut.length, cut.width, *place)),
                f"{90 * one.quarter_turns}°",
            )
        )
    say = wording.say
    columns = (
        Column(say("column_number"), "right"),
        Column(say("part")),
        *([Column(say("name"), most=42.0)] if named else []),
        Column(say("column_length"), "right"),
        Column(say("column_width"), "right"),
        Column("x", "right"),
        Column("y", "right"),
        Column(say("column_turned"), "right"),
    )
    key = "sheet_order" if sheet.cuts is None else "sheet_parts"
    return Table(columns, tuple(rows), say(key, number=sheet.number))


def _area(placed: Placed, dossier: Dossier) -> float:
    cut = dossier.cuts.cut_list.line(placed.number)
    return cut.length * cut.width
