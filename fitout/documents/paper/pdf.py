"""Pages of marks as PDF, by reportlab: exact scale, and the same bytes for the same pages."""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from reportlab import rl_config
from reportlab.pdfgen.canvas import FILL_EVEN_ODD, Canvas

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
            path = canvas.beginPath()
            _ring(path, mark.points)
            if mark.closed:
                path.close()
            canvas.drawPath(path)
        case Arc(centre, radius, start, end, pen):
            _pen(canvas, pen)
            x, y, r = centre[0] * POINTS, centre[1] * POINTS, radius * POINTS
            if end - start >= 360.0:
                canvas.circle(x, y, r)
            else:
                canvas.arc(x - r, y - r, x + r, y + r, start, (end - start) % 360.0)
        case Area(rings, colour):
            canvas.setFillColorRGB(*colour)
            path = canvas.beginPath()
            for ring in rings:
                _ring(path, ring)
                path.close()
            canvas.drawPath(path, stroke=0, fill=1, fillMode=FILL_EVEN_ODD)
        case Text():
            _text(canvas, mark)


def _pen(canvas: Canvas, pen: Pen) -> None:
    canvas.setLineWidth(pen.width * POINTS)
    canvas.setStrokeColorRGB(*pen.colour)
    canvas.setDash([length * POINTS for length in pen.dashes])


def _ring(path: object, points: tuple[Point, ...]) -> None:
    move, on = path.moveTo, path.lineTo  # type: ignore[attr-defined]
    move(points[0][0] * POINTS, points[0][1] * POINTS)
    for x, y in points[1:]:
        on(x * POINTS, y * POINTS)


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
