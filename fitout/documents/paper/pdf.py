"""Pages of marks as PDF, by reportlab: exact scale, and the same bytes for the same pages."""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from fitout.documents.paper.fonts import BOLD, POINTS, REGULAR, drawable, register, size_of
from fitout.documents.paper.marks import Arc, Area, Mark, Page, Pen, Stroke, Text
from fitout.model.outline import Point


def pdf(pages: Iterable[Page], title: str) -> bytes:
    """The pages as one PDF, each of its own size; `title` is what a reader's window shows.

    Raises:
        FontError: when the font can't be read.
    """
    register()
    target = io.BytesIO()
    with _binary():
        _made(pages, title, target)
    return target.getvalue()


@contextmanager
def _binary() -> Iterator[None]:
    """Packed streams as they are: written as letters they take a quarter more, and long."""
    before = rl_config.useA85
    rl_config.useA85 = 0
    try:
        yield
    finally:
        rl_config.useA85 = before


def _made(pages: Iterable[Page], title: str, target: io.BytesIO) -> None:
    canvas = Canvas(target, invariant=1, initialFontName=REGULAR, pageCompression=1)
    canvas.setTitle(title)
    canvas.setCreator("fitout")
    canvas.setAuthor("")
    for number, page in enumerate(pages, start=1):
        canvas.setPageSize((page.width * POINTS, page.height * POINTS))
        canvas.setLineCap(1)
        canvas.setLineJoin(1)
        if page.name:
            canvas.bookmarkPage(f"page {number}")
            canvas.addOutlineEntry(page.name, f"page {number}", 0)
        for mark in page.marks:
            _draw(canvas, mark)
        canvas.showPage()
    canvas.save()


def _draw(canvas: Canvas, mark: Mark) -> None:
    match mark:
        case Stroke():
            _pen(canvas, mark.pen)
            canvas.addLiteral(f"n {_path(mark.points, closed=mark.closed)}\nS")
        case Arc(centre, radius, start, end, pen):
            _pen(canvas, pen)
            x, y, r = centre[0] * POINTS, centre[1] * POINTS, radius * POINTS
            if end - start >= 360.0:
                canvas.circle(x, y, r)
            else:
                canvas.arc(x - r, y - r, x + r, y + r, start, (end - start) % 360.0)
        case Area(rings, colour):
            canvas.setFillColorRGB(*colour)
            told = " ".join(_path(ring, closed=True) for ring in rings)
            canvas.addLiteral(f"n {told}\nf*")
        case Text():
            _text(canvas, mark)


def _pen(canvas: Canvas, pen: Pen) -> None:
    canvas.setLineWidth(pen.width * POINTS)
    canvas.setStrokeColorRGB(*pen.colour)
    canvas.setDash([length * POINTS for length in pen.dashes])


def _path(points: tuple[Point, ...], *, closed: bool) -> str:
    """Lines from point to point as the page's operators (ISO 32000-1, 8.5.2)."""
    ends = [f"{_number(x * POINTS)} {_number(y * POINTS)}" for x, y in points]
    told = " ".join([f"{ends[0]} m", *(f"{end} l" for end in ends[1:])])
    return f"{told} h" if closed else told


def _number(value: float) -> str:
    """Six figures, none without need; written here since there are so many of them."""
    size = abs(value)
    places = 6 if size < 10.0 else 5 if size < 100.0 else 4 if size < 1000.0 else 3
    told = f"{value:.{places}f}".rstrip("0").rstrip(".")
    if size < 1e-6:
        return "0"
    return told.removeprefix("0") if size < 1.0 else told


def _text(canvas: Canvas, mark: Text) -> None:
    canvas.setFillColorRGB(*mark.colour)
    canvas.setFont(BOLD if mark.bold else REGULAR, size_of(mark.height))
    draw = {
        "left": canvas.drawString,
        "middle": canvas.drawCentredString,
        "right": canvas.drawRightString,
    }[mark.anchor]
    if mark.turned:
        canvas.saveState()
        canvas.translate(mark.at[0] * POINTS, mark.at[1] * POINTS)
        canvas.rotate(mark.turned)
        draw(0.0, 0.0, drawable(mark.text))
        canvas.restoreState()
    else:
        draw(mark.at[0] * POINTS, mark.at[1] * POINTS, drawable(mark.text))
