"""Pages of marks as PDF, by reportlab: exact scale, and the same bytes for the same pages."""

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from functools import lru_cache

from reportlab import rl_config
from reportlab.lib.rl_accel import escapePDF
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pdfgeom import bezierArc

from fitout.documents.paper.fonts import (
    BOLD,
    POINTS,
    REGULAR,
    drawable,
    register,
    size_of,
    text_width,
)
from fitout.documents.paper.marks import Arc, Area, Colour, Mark, Page, Pen, Stroke, Text
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
    lettering = _Lettering(canvas)
    for number, page in enumerate(pages, start=1):
        canvas.setPageSize((page.width * POINTS, page.height * POINTS))
        canvas.setLineCap(1)
        canvas.setLineJoin(1)
        if page.name:
            canvas.bookmarkPage(f"page {number}")
            canvas.addOutlineEntry(page.name, f"page {number}", 0)
        for mark in page.marks:
            canvas.addLiteral(_told(mark, lettering))
        canvas.showPage()
    canvas.save()


class _Lettering:
    """Texts as a page's operators, in fonts that learn which letters they need; for one file."""

    def __init__(self, canvas: Canvas) -> None:
        # Which letters a font has to carry is the document's to know, and none but it tells.
        self._document = canvas._doc
        self._shown: dict[tuple[str, float, bool], str] = {}

    def shown(self, text: str, height: float, *, bold: bool) -> str:
        """Font, size and letters of a line of text, in the document's own numbers for them."""
        key = (text, height, bold)
        if key not in self._shown:
            self._shown[key] = self._told(*key)
        return self._shown[key]

    def _told(self, text: str, height: float, bold: bool) -> str:
        font = pdfmetrics.getFont(BOLD if bold else REGULAR)
        size = size_of(height)
        sizes = f"{_number(size)} Tf {_number(1.2 * size)} TL"
        told: list[str] = []
        before = None
        for subset, letters in font.splitString(drawable(text), self._document):
            if subset != before:
                told.append(f"{font.getSubsetInternalName(subset, self._document)} {sizes}")
            told.append(f"({escapePDF(letters)}) Tj")
            before = subset
        return " ".join(told)


def _told(mark: Mark, lettering: _Lettering) -> str:
    """A mark as the page's operators (ISO 32000-1, 8 and 9)."""
    match mark:
        case Stroke(points, pen, closed):
            return f"{_pen(pen)}\nn {_path(points, closed=closed)}\nS"
        case Arc():
            return _arc(mark)
        case Area(rings, colour):
            told = " ".join([_path(ring, closed=True) for ring in rings])
            return f"{_rgb(colour)} rg\nn {told}\nf*"
        case Text():
            return _text(mark, lettering)


@lru_cache(maxsize=256)
def _pen(pen: Pen) -> str:
    dashes = " ".join(_number(length * POINTS) for length in pen.dashes)
    return f"{_number(pen.width * POINTS)} w\n{_rgb(pen.colour)} RG\n[{dashes}] 0 d"


@lru_cache(maxsize=256)
def _rgb(colour: Colour) -> str:
    return " ".join(_number(part) for part in colour)


def _path(points: tuple[Point, ...], *, closed: bool) -> str:
    """Lines from point to point."""
    told = " l ".join([f"{_number(x * POINTS)} {_number(y * POINTS)}" for x, y in points])
    # The first point is gone to, not drawn to; a point alone is but a place.
    told = told.replace(" l ", " m ", 1) + " l" if len(points) > 1 else f"{told} m"
    return f"{told} h" if closed else told


def _arc(mark: Arc) -> str:
    (x, y), r = mark.centre, mark.radius * POINTS
    x, y = x * POINTS, y * POINTS
    whole = mark.end - mark.start >= 360.0
    start, sweep = (0.0, 360.0) if whole else (mark.start, (mark.end - mark.start) % 360.0)
    curves = bezierArc(x - r, y - r, x + r, y + r, start, sweep)
    told = [f"{_number(curves[0][0])} {_number(curves[0][1])} m"]
    told += [" ".join([*map(_number, curve[2:]), "c"]) for curve in curves]
    return "\n".join([_pen(mark.pen), "n", *told, "S"])


def _number(value: float) -> str:
    """Six figures, none without need; written here since there are so many of them."""
    size = abs(value)
    if size < 1e-6:
        return "0"
    if size < 10.0:
        told = f"{value:.6f}".rstrip("0").rstrip(".")
        return told.removeprefix("0") if size < 1.0 else told
    told = f"{value:.5f}" if size < 100.0 else f"{value:.4f}" if size < 1000.0 else f"{value:.3f}"
    return told.rstrip("0").rstrip(".")


def _text(mark: Text, lettering: _Lettering) -> str:
    shown = lettering.shown(mark.text, mark.height, bold=mark.bold)
    share = {"left": 0.0, "middle": 0.5, "right": 1.0}[mark.anchor]
    wide = text_width(mark.text, mark.height, bold=mark.bold) if share else 0.0
    x, y, left = mark.at[0] * POINTS, mark.at[1] * POINTS, -share * wide * POINTS
    told = [f"{_rgb(mark.colour)} rg"]
    if mark.turned:
        angle = math.radians(mark.turned)
        cos, sin = _number(math.cos(angle)), math.sin(angle)
        turn = f"{cos} {_number(sin)} {_number(-sin)} {cos} {_number(x)} {_number(y)} cm"
        told += ["q", turn, f"BT 1 0 0 1 {_number(left)} 0 Tm {shown} T* ET", "Q"]
    else:
        told.append(f"BT 1 0 0 1 {_number(x + left)} {_number(y)} Tm {shown} T* ET")
    return "\n".join(told)
