"""A measuring sheet to print: the bay drawn with numbers, and a box for every reading.

A4 portrait, Bitstream Vera embedded (it ships with reportlab), the same bytes for the same
bay. Needs no readings: only where they are to be taken.
"""

from __future__ import annotations

import io
import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from reportlab.lib.pagesizes import A4
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfgen.canvas import Canvas

from fitout.documents.paper.fonts import BOLD, POINTS, register
from fitout.documents.paper.fonts import REGULAR as FONT
from fitout.model.outline import Point
from fitout.survey.sheet import Ask, Sheet
from fitout.survey.sheet_views import PLAN, SIDE, View

mm = POINTS

WIDTH, HEIGHT = float(A4[0]) / mm, float(A4[1]) / mm
MARGIN = 12.0
LEFT, RIGHT, TOP = MARGIN, WIDTH - MARGIN, HEIGHT - MARGIN
GREY, RED = 0.55, (0.75, 0.1, 0.1)
BUBBLE = 2.1
"""Radius of a number's circle, mm on paper."""

ROW = 7.0
COLUMNS = (("", 8.0), ("measure", 55.0), ("how", 58.0), ("reads", 21.0), ("again", 21.0))
"""Headings and widths of the table, mm; the last box, for a pressed lining, takes the rest."""

HOW_TO = (
    "Stand the vehicle level, the seat back where it is used, and take out what is loose.",
    "Lay a straight batten across the sill: the sill's line. Every depth starts at it. Mark the "
    "middle of the floor at the sill and at the front: the centre line.",
    "Mark each section on both walls and the floor with tape, square to the centre line.",
    "Work down the list. Pull the tape tight, read to half a millimetre, and write what you "
    "read, not what you expect. What the bay has not, cross out.",
    "Soft lining: under “reads” the tape only touches it; under “pressed” push it down hard at "
    "both ends. Hard surfaces need no “pressed”.",
    "Read as much as you can a second time (“again”), on another round, with the first covered.",
    "Type the readings into the design file under bay: the small print of each row says where; "
    "what stands in braces goes under survey: notes. "
    "The command “fitout survey” then tells which looks wrong and what to measure once more.",
)

Box = tuple[float, float, float, float]
"""Left, bottom, width, height on paper, mm."""


def measuring_sheet_pdf(sheet: Sheet, name: str) -> bytes:
    """The sheet as PDF: a page of drawings, then the pages of the table."""
    register()
    target = io.BytesIO()
    canvas = Canvas(target, pagesize=A4, invariant=1, initialFontName=FONT)
    canvas.setTitle(f"Measuring sheet: {name}")
    canvas.setCreator("fitout")
    canvas.setAuthor("")
    _front_page(canvas, sheet, name)
    _table_pages(canvas, sheet, name)
    canvas.save()
    return target.getvalue()


def _text(  # over budget: what, where and how large is what a text is
    canvas: Canvas, x: float, y: float, text: str, size: float, *, bold: bool = False, at: str = "l"
) -> None:
    canvas.setFont(BOLD if bold else FONT, size)
    draw = {"l": canvas.drawString, "m": canvas.drawCentredString, "r": canvas.drawRightString}[at]
    draw(x * mm, y * mm, text)


def _wrapped(text: str, size: float, width: float) -> list[str]:
    """The text in lines no wider than `width` mm."""
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and _width(longer, size) > width:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def _front_page(canvas: Canvas, sheet: Sheet, name: str) -> None:
    _text(canvas, LEFT, TOP - 5.0, "Measuring sheet", 15.0, bold=True)
    _text(canvas, RIGHT, TOP - 5.0, _wrapped(name, 9.0, 90.0)[0], 9.0, at="r")
    y = _about(canvas, TOP - 13.0)
    y = _how_to(canvas, y - 5.0)
    below = _drawings(canvas, sheet, y - 2.0)
    _key(canvas, sheet, below - 5.0)
    _footer(canvas, 1)
    canvas.showPage()


def _about(canvas: Canvas, y: float) -> float:
    """What the builder fills in once: when, who, which vehicle, tape, lining."""
    x = LEFT
    for label, width in (("date", 28.0), ("by", 40.0), ("vehicle", 70.0)):
        _text(canvas, x, y, label, 8.0)
        start = x + _width(label, 8.0) + 1.5
        canvas.line(start * mm, (y - 0.5) * mm, (x + width) * mm, (y - 0.5) * mm)
        x += width + 4.0
    x, y = LEFT, y - 6.5
    choices = (
        ("tape's class (printed on it)", ("I", "II", "III")),
        ("hook held to an edge", ("yes", "no")),
        ("lining", ("hard", "soft")),
    )
    for label, options in choices:
        _text(canvas, x, y, label, 8.0)
        x += _width(label, 8.0) + 2.0
        for option in options:
            canvas.rect(x * mm, (y - 0.4) * mm, 3.0 * mm, 3.0 * mm)
            _text(canvas, x + 4.0, y, option, 8.0)
            x += 6.5 + _width(option, 8.0)
        x += 5.0
    return y


def _how_to(canvas: Canvas, y: float) -> float:
    for number, sentence in enumerate(HOW_TO, start=1):
        _text(canvas, LEFT, y, f"{number}.", 7.5)
        for line in _wrapped(sentence, 7.5, RIGHT - LEFT - 5.0):
            _text(canvas, LEFT + 5.0, y, line, 7.5)
            y -= 3.5
    return y


def _drawings(canvas: Canvas, sheet: Sheet, top: float) -> float:
    """Plan and side in one row, sections and opening below; returns where they end."""
    first = [view for view in sheet.views if view.name in (PLAN, SIDE)]
    rest = [view for view in sheet.views if view.name not in (PLAN, SIDE)]
    across = max(2, math.ceil(len(rest) / 2))
    rows = [first, *(rest[i : i + across] for i in range(0, len(rest), across))]
    scales = [_scale(first, FIRST_ROW), *[_scale(rest, FURTHER_ROW, across)] * (len(rows) - 1)]
    for row, scale in zip(rows, scales, strict=True):
        height = FIRST_ROW if row is first else FURTHER_ROW
        width = (RIGHT - LEFT) / (len(row) if row is first else across)
        for i, view in enumerate(row):
            box = (LEFT + i * width, top - height, width, height)
            _drawing(canvas, view, sheet.asks, box, scale)
        top -= height + 1.0
    return top


def _extent(view: View) -> Box:
    xs, ys = zip(*(p for line in view.outlines for p in line), strict=True)
    return min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)


PAD = 7.0
"""Room around an outline for letters and numbers, mm on paper."""

FIRST_ROW, FURTHER_ROW = 82.0, 45.0
"""Height of the drawings: plan and side; sections and opening in up to two rows, mm."""


def _scale(views: Sequence[View], height: float, across: int = 2) -> float:
    """The largest scale at which every view fits its place, so many in a row."""
    width = (RIGHT - LEFT) / across
    sizes = [_extent(view) for view in views]
    return min(
        min((width - 2.0 * PAD) / max(w, 1.0), (height - 5.0 - 2.0 * PAD) / max(h, 1.0))
        for _, _, w, h in sizes
    )


@dataclass(slots=True)
class _Placer:
    """Finds places for numbers that are not on each other nor on a letter."""

    taken: list[Point] = field(default_factory=list)

    def place(self, wished: Iterable[Point], apart: float) -> Point:
        """The first wish far enough from what is there, else the one farthest from it."""
        best, widest = (0.0, 0.0), -1.0
        for point in wished:
            room = min((math.dist(point, other) for other in self.taken), default=math.inf)
            if room > widest:
                best, widest = point, room
            if room >= apart:
                break
        self.taken.append(best)
        return best


def _drawing(canvas: Canvas, view: View, asks: Sequence[Ask], box: Box, scale: float) -> None:
    x0, y0, width, height = _extent(view)
    left = box[0] + (box[2] - scale * width) / 2.0
    bottom = box[1] + (box[3] - 5.0 - scale * height) / 2.0

    def on_paper(point: Point) -> Point:
        return left + scale * (point[0] - x0), bottom + scale * (point[1] - y0)

    _text(canvas, box[0] + box[2] / 2.0, box[1] + box[3] - 4.0, view.title, 7.5, bold=True, at="m")
    canvas.setLineWidth(0.9)
    for outline in view.outlines:
        _polyline(canvas, [on_paper(p) for p in outline])
    middle = (left + scale * width / 2.0, bottom + scale * height / 2.0)
    placer = _Placer()
    for letter, point in view.points:
        _letter(canvas, placer, letter, on_paper(point), middle)
    canvas.setLineWidth(0.35)
    canvas.setStrokeColorRGB(*RED)
    numbered = [
        (ask.number, on_paper(line.start), on_paper(line.end))
        for ask in asks
        for line in ask.lines
        if line.view == view.name
    ]
    for _, a, b in numbered:
        canvas.line(a[0] * mm, a[1] * mm, b[0] * mm, b[1] * mm)
    # No line may cross a number; those with the least room choose first.
    for number, a, b in sorted(numbered, key=lambda one: math.dist(one[1], one[2])):
        _number(canvas, placer, number, a, b)
    canvas.setStrokeGray(0.0)


def _polyline(canvas: Canvas, points: Sequence[Point]) -> None:
    path = canvas.beginPath()
    path.moveTo(points[0][0] * mm, points[0][1] * mm)
    for x, y in points[1:]:
        path.lineTo(x * mm, y * mm)
    canvas.drawPath(path)


def _letter(canvas: Canvas, placer: _Placer, letter: str, point: Point, middle: Point) -> None:
    """A dot, and its letter on the side away from the drawing's middle."""
    x, y = point
    canvas.circle(x * mm, y * mm, 0.6 * mm, stroke=0, fill=1)
    away = math.atan2(y - middle[1], x - middle[0])
    turns = (0.0, 0.6, -0.6, 1.2, -1.2, 2.0, -2.0, math.pi)
    wished = (
        (x + r * math.cos(away + t), y + r * math.sin(away + t)) for r in (3.0, 4.5) for t in turns
    )
    at = placer.place(wished, 3.4)
    _text(canvas, at[0], at[1] - 1.0, letter, 6.5, bold=True, at="m")


def _number(canvas: Canvas, placer: _Placer, number: int, a: Point, b: Point) -> None:
    """The number of a line somewhere on it; beside it if the line is short or only a place."""
    length = math.dist(a, b)
    shares = (0.5, 0.36, 0.64, 0.25, 0.75, 0.15, 0.85)
    wished: Iterator[Point] = ((a[0] + s * (b[0] - a[0]), a[1] + s * (b[1] - a[1])) for s in shares)
    if length < 4.0 * BUBBLE:
        middle = ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)
        turns = [math.radians(d) for d in (180, 0, 90, 270, 135, 225, 45, 315)]
        wished = (
            (middle[0] + r * math.cos(t), middle[1] + r * math.sin(t))
            for r in (4.0, 6.5)
            for t in turns
        )
    x, y = placer.place(wished, 2.2 * BUBBLE)
    canvas.setFillGray(1.0)
    canvas.circle(x * mm, y * mm, BUBBLE * mm, stroke=1, fill=1)
    canvas.setFillGray(0.0)
    _text(canvas, x, y - 0.8, str(number), 6.0, at="m")


def _key(canvas: Canvas, sheet: Sheet, y: float) -> None:
    """Which letter is which point, in columns."""
    _text(canvas, LEFT, y, "Points, as the design file calls them", 7.5, bold=True)
    explained = "“wall 2/240” lies on the wall at section 2, 240 above the floor"
    _text(canvas, RIGHT, y, explained, 6.5, at="r")
    columns = 6
    rows = math.ceil(len(sheet.letters) / columns)
    for i, (name, letter) in enumerate(sheet.letters.items()):
        x = LEFT + (i // rows) * (RIGHT - LEFT) / columns
        line = y - 4.0 - 3.1 * (i % rows)
        _text(canvas, x, line, letter, 6.0, bold=True)
        _text(canvas, x + 5.0, line, name, 6.0)


def _footer(canvas: Canvas, page: int) -> None:
    canvas.setFillGray(GREY)
    text = "Lengths in mm, angles in degrees. The drawings are to no particular scale."
    _text(canvas, LEFT, MARGIN - 5.0, text, 6.5)
    _text(canvas, RIGHT, MARGIN - 5.0, f"page {page}", 6.5, at="r")
    canvas.setFillGray(0.0)


def _table_pages(canvas: Canvas, sheet: Sheet, name: str) -> None:
    page, y = 2, _heading(canvas, name)
    part = ""
    for ask in sheet.asks:
        needed = ROW + (6.0 if ask.part != part else 0.0)
        if y - needed < MARGIN + 2.0:
            _footer(canvas, page)
            canvas.showPage()
            page, y, part = page + 1, _heading(canvas, name), ""
        if ask.part != part:
            part = ask.part
            _text(canvas, LEFT, y - 4.5, part, 8.0, bold=True)
            y -= 6.0
        _row(canvas, sheet, ask, y)
        y -= ROW
    _footer(canvas, page)
    canvas.showPage()


def _edges() -> list[float]:
    """Where the table's columns begin, and where the last ends."""
    edges = [LEFT]
    for _, width in COLUMNS:
        edges.append(edges[-1] + width)
    return [*edges, RIGHT]


def _heading(canvas: Canvas, name: str) -> float:
    _text(canvas, LEFT, TOP - 4.0, "What to measure", 11.0, bold=True)
    _text(canvas, RIGHT, TOP - 4.0, _wrapped(name, 8.0, 90.0)[0], 8.0, at="r")
    for (label, _), x in zip((*COLUMNS, ("pressed", 0.0)), _edges(), strict=False):
        _text(canvas, x + 1.0, TOP - 10.0, label, 7.0)
    return TOP - 11.5


def _row(canvas: Canvas, sheet: Sheet, ask: Ask, y: float) -> None:
    edges = _edges()
    canvas.setLineWidth(0.3)
    canvas.setStrokeGray(GREY)
    canvas.line(LEFT * mm, (y - ROW) * mm, edges[3] * mm, (y - ROW) * mm)
    canvas.setStrokeGray(0.0)
    _text(canvas, edges[0] + 3.5, y - 4.5, str(ask.number), 8.0, bold=True, at="m")
    ends = "–".join(sheet.letters[name] for name in ask.ends)
    what = f"{ends}: {ask.what}" if ends else ask.what
    size = _fitting(what, COLUMNS[1][1] - 2.0, 7.5)
    _text(canvas, edges[1] + 1.0, y - 3.0, what, size)
    canvas.setFillGray(GREY)
    goes_to = ask.goes_to
    _text(canvas, edges[1] + 1.0, y - 5.9, goes_to, _fitting(goes_to, COLUMNS[1][1] - 2.0, 5.5))
    canvas.setFillGray(0.0)
    for i, line in enumerate(_wrapped(ask.how, 6.5, COLUMNS[2][1] - 2.0)[:2]):
        _text(canvas, edges[2] + 1.0, y - 3.0 - 2.9 * i, line, 6.5)
    for left, right in list(itertools.pairwise(edges[3:]))[: 3 if ask.repeats else 1]:
        canvas.rect((left + 0.7) * mm, (y - ROW + 0.6) * mm, (right - left - 1.4) * mm, 5.8 * mm)
        if ask.degrees:
            _text(canvas, right - 1.5, y - 4.5, "°", 8.0, at="r")


def _fitting(text: str, width: float, most: float) -> float:
    """The largest type size, at most `most`, at which a text is no wider than `width` mm."""
    return most * min(1.0, width / _width(text, most))


def _width(text: str, size: float) -> float:
    """How wide a text is on paper, mm."""
    return float(pdfmetrics.stringWidth(text, FONT, size)) / mm
