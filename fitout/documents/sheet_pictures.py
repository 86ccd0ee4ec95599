"""The nested sheets as a picture: every part in its place, with number, size and grain."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from fitout.cutting.cut_list import CutLine
from fitout.cutting.frame import Turn, reframed
from fitout.cutting.plan import CutPlan, Placed, Rect, Sheet
from fitout.cutting.purchases import sheets_sentence
from fitout.cutting.saw_words import saw_sentence, yard_sentence
from fitout.cutting.sequence import SawStep, saw_order
from fitout.documents import svg
from fitout.documents.lettering import writing_room
from fitout.model.outline import Loop
from fitout.model.panel import Panel
from fitout.model.placement import Array

WIDTH = 1000.0
MARGIN = 20.0
HEADING = 30.0
LINE = 22.0
SAGITTA = 0.5
CUT_INK = "#b3261e"
YARD_INK = "#1f5fa8"
GOLDEN = 0.6180339887
"""Shares of a line that are multiples of this, less whole numbers, lie well apart."""

LETTER_WIDTH = 0.6
"""Width of a letter over its height."""

SHEET_FILL = "#f3eee2"
PART_FILL = "#dcc9a3"
SINK_FILL = "#c9b185"
OFFCUT_FILL = "#e6ebe4"


def sheets_svg(plan: CutPlan, currency: str = "") -> bytes:
    """Every sheet, one below the other, all to one scale; offcuts pale with a dashed edge.

    On a sheet that is sawn the cuts are numbered as in the saw sequence, the timber yard's blue.
    Below them stands how many sheets of each board there are, and whether that is the least.
    """
    longest = max((sheet.board.length for sheet in plan.sheets), default=1.0)
    scale = (WIDTH - 2.0 * MARGIN) / longest
    shapes: list[str] = []
    y, order = MARGIN, saw_order(plan)
    for sheet in plan.sheets:
        steps = [s for s in order[sheet.board.key] if s.sheet == sheet.number]
        told = _heading(sheet, plan, steps)
        shapes.append(svg.text(MARGIN, y + 18.0, told, font_size=16.0, fill=svg.INK))
        frame = _Frame(MARGIN, y + HEADING, sheet.board.width, scale)
        shapes += _sheet(sheet, plan, frame)
        for step in steps:
            shapes += _cut(step, frame)
        y += HEADING + sheet.board.width * scale + MARGIN
    for use in plan.boards:
        if use.sheets:
            sawn = saw_sentence(order[use.board.key])
            told = f"{use.board.key}: {sheets_sentence(use, currency)}{f'; {sawn}' if sawn else ''}"
            shapes.append(svg.text(MARGIN, y + 14.0, told, font_size=14.0, fill=svg.INK))
            y += LINE
    total = max(y, 2.0 * MARGIN)
    ground = svg.rect(0.0, 0.0, WIDTH, total, fill=svg.PAPER)
    return svg.picture(WIDTH, total, "Nested sheets", [ground, *shapes])


@dataclass(frozen=True, slots=True)
class _Frame:
    """Where a sheet `height` mm wide lies on paper: mm, y up, to paper units, y down."""

    left: float
    top: float
    height: float
    scale: float

    def ring(self, loop: Loop) -> Array:
        return self.points(loop.chords(grows=False, sagitta=SAGITTA))

    def points(self, points: Array) -> Array:
        x = self.left + points[:, 0] * self.scale
        y = self.top + (self.height - points[:, 1]) * self.scale
        return np.column_stack([x, y])

    def rect(self, rect: Rect, **attributes: str | float) -> str:
        corner = self.points(np.array([[rect.x, rect.y + rect.width]]))[0]
        return svg.rect(
            float(corner[0]),
            float(corner[1]),
            rect.length * self.scale,
            rect.width * self.scale,
            **attributes,
        )


def _heading(sheet: Sheet, plan: CutPlan, steps: Sequence[SawStep]) -> str:
    board = sheet.board
    used = 0.0
    for placed in sheet.placed:
        line = plan.cut_list.line(placed.number)
        used += line.panel.outline.area
    share = used / (board.length * board.width)
    asked = yard_sentence(steps)
    yard = f"; timber yard: {asked}" if asked else ""
    origin = "" if sheet.origin == "bought" else f"{sheet.origin} {sheet.label}".rstrip() + ", "
    return (
        f"{sheet.number}: {board.key}, {origin}{board.length:g} × {board.width:g} mm, "
        f"{100.0 * share:.0f} % of it in parts{yard}"
    )


def _sheet(sheet: Sheet, plan: CutPlan, frame: _Frame) -> Iterator[str]:
    whole = Rect(0.0, 0.0, sheet.board.length, sheet.board.width)
    yield frame.rect(whole, fill=SHEET_FILL, stroke=svg.INK)
    for i, offcut in enumerate(sheet.offcuts, start=1):
        yield frame.rect(offcut, fill=OFFCUT_FILL, stroke="#9aa59a", stroke_dasharray="5 4")
        number = f"{sheet.number}-{i}"
        yield from _labels(offcut, number, _size(offcut.length, offcut.width), frame)
    for placed in sheet.placed:
        yield from _part(placed, plan.cut_list.line(placed.number), frame)


def _part(placed: Placed, line: CutLine, frame: _Frame) -> Iterator[str]:
    panel = reframed(line.panel, Turn(placed.quarter_turns), (placed.x, placed.y))
    yield from _shape(panel, frame)
    box = writing_room(panel.outline)
    yield from _labels(box, line.number, _size(line.length, line.width), frame)
    if line.grain_locked:
        yield _grain(box, placed.quarter_turns % 2 == 0, frame)


def _shape(panel: Panel, frame: _Frame) -> Iterator[str]:
    rings = [frame.ring(panel.outline.outer), *map(frame.ring, panel.outline.inner)]
    yield svg.path(rings, fill=PART_FILL, stroke=svg.INK, stroke_width="0.8", fill_rule="evenodd")
    sinks = [frame.ring(pocket.loop) for pocket in panel.pockets]
    if sinks:
        yield svg.path(sinks, fill=SINK_FILL)
    holes = [frame.ring(hole.loop) for hole in panel.holes]
    if holes:
        yield svg.path(holes, fill=svg.INK)


def _cut(step: SawStep, frame: _Frame) -> Iterator[str]:
    """The line a saw cuts along and the cut's number, somewhere along it that shifts with it.

    So the numbers of cuts that lie on one line don't hide each other.
    """
    ends = frame.points(np.array(step.line))
    colour = YARD_INK if step.yard else CUT_INK
    yield svg.polyline(ends, fill="none", stroke=colour, stroke_width="1", stroke_dasharray="7 3")
    share = 0.06 + 0.88 * (step.number * GOLDEN % 1.0)
    x, y = (float(value) for value in ends[0] + share * (ends[1] - ends[0]))
    told = str(step.number)
    wide = 4.0 + 5.2 * len(told)
    box = svg.rect(x - wide / 2.0, y - 6.0, wide, 12.0, fill=svg.PAPER, stroke=colour)
    yield box
    yield svg.text(x, y + 3.4, told, font_size=9.0, fill=colour, text_anchor="middle")


def _size(length: float, width: float) -> str:
    return f"{length:.0f} × {width:.0f}"


def _labels(box: Rect, number: str, size: str, frame: _Frame) -> Iterator[str]:
    """Number and size in the middle, along the longer side, no larger than there is room."""
    upright = box.width > box.length
    room = max(box.length, box.width) * frame.scale
    high = min(box.length, box.width) * frame.scale
    middle = np.array([[box.x + box.length / 2.0, box.y + box.width / 2.0]])
    x, y = (float(value) for value in frame.points(middle)[0])
    rows = [(words, share) for words, share in ((number, 1.0), (size, 0.7)) if words]
    height = min([16.0, 0.34 * high, *(0.7 * room / (LETTER_WIDTH * len(w) * s) for w, s in rows)])
    shapes = []
    for i, (words, share) in enumerate(rows):
        drop = height * (0.35 if len(rows) == 1 else (-0.15, 0.85)[i])
        shapes.append(svg.text(x, y + drop, words, font_size=height * share))
    turn = f"rotate(-90 {svg.number(x)} {svg.number(y)})" if upright else "rotate(0)"
    yield svg.group(shapes, text_anchor="middle", fill=svg.INK, transform=turn)


def _grain(box: Rect, lengthwise: bool, frame: _Frame) -> str:
    """A two-headed arrow along the grain, near the end where the writing is not."""
    along = box.length >= box.width
    x = box.x + (0.09 * box.length if along else 0.5 * box.length)
    y = box.y + (0.5 * box.width if along else 0.09 * box.width)
    room = (
        0.07 * max(box.length, box.width)
        if along == lengthwise
        else 0.3 * min(box.length, box.width)
    )
    reach = min(60.0, room)
    head = 0.25 * reach
    points = np.array(
        [
            (-reach + head, head),
            (-reach, 0.0),
            (-reach + head, -head),
            (-reach, 0.0),
            (reach, 0.0),
            (reach - head, head),
            (reach, 0.0),
            (reach - head, -head),
        ]
    )
    if not lengthwise:
        points = points[:, ::-1]
    return svg.polyline(
        frame.points(points + np.array([x, y])), fill="none", stroke=svg.INK, stroke_width="0.8"
    )
