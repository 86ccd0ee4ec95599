"""A page of paper as an SVG picture, for the README: what is on the page and nothing else."""

from __future__ import annotations

import math
from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

from fitout.documents.paper.fonts import CAPITALS, drawable, text_width
from fitout.documents.paper.marks import Arc, Area, Colour, Mark, Page, Pen, Stroke, Text
from fitout.model.outline import Point

FONT = "Bitstream Vera Sans, DejaVu Sans, Verdana, sans-serif"
"""What looks like the PDF's font where that is not installed; widths are kept all the same."""

ANCHORS = {"left": "start", "middle": "middle", "right": "end"}


def page_svg(page: Page, title: str) -> bytes:
    """The page in its own size, mm, on white."""
    size = f"{_number(page.width)} {_number(page.height)}"
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size}" role="img"'
        f" font-family={quoteattr(FONT)}"
        ' fill="none" stroke-linecap="round" stroke-linejoin="round">'
    )
    paper = '<rect width="100%" height="100%" fill="#ffffff"/>'
    # Marks are told with y upward.
    upward = f'<g transform="matrix(1 0 0 -1 0 {_number(page.height)})">'
    body = "\n".join(_shape(mark) for mark in page.marks)
    parts = (head, f"<title>{escape(title)}</title>", paper, upward, body, "</g>", "</svg>\n")
    return "\n".join(parts).encode()


def _shape(mark: Mark) -> str:
    match mark:
        case Stroke(points, pen, closed):
            return f'<path d="{_ring(points)}{"Z" if closed else ""}"{_pen(pen)}/>'
        case Area(rings, colour):
            data = "".join(f"{_ring(ring)}Z" for ring in rings)
            return f'<path d="{data}" fill="{_colour(colour)}" fill-rule="evenodd"/>'
        case Arc():
            return _arc(mark)
        case Text():
            return _text(mark)


def _arc(arc: Arc) -> str:
    (x, y), r = arc.centre, arc.radius
    if arc.end - arc.start >= 360.0:
        place = f'cx="{_number(x)}" cy="{_number(y)}" r="{_number(r)}"'
        return f"<circle {place}{_pen(arc.pen)}/>"

    def at(degrees: float) -> str:
        angle = math.radians(degrees)
        return _point((x + r * math.cos(angle), y + r * math.sin(angle)))

    extent = (arc.end - arc.start) % 360.0
    radii = f"{_number(r)} {_number(r)}"
    large = int(extent > 180.0)
    data = f"M{at(arc.start)}A{radii} 0 {large} 1 {at(arc.start + extent)}"
    return f'<path d="{data}"{_pen(arc.pen)}/>'


def _text(text: Text) -> str:
    shown = drawable(text.text)
    if not shown.strip():
        return ""
    cos, sin = math.cos(math.radians(text.turned)), math.sin(math.radians(text.turned))
    # Turned as told, and its own y downward again.
    place = " ".join(_number(v) for v in (cos, sin, sin, -cos, *text.at))
    wide = _number(text_width(text.text, text.height, bold=text.bold))
    bold = ' font-weight="bold"' if text.bold else ""
    return (
        f'<text transform="matrix({place})" font-size="{_number(text.height / CAPITALS)}"{bold}'
        f' text-anchor="{ANCHORS[text.anchor]}" textLength="{wide}"'
        f' lengthAdjust="spacingAndGlyphs" fill="{_colour(text.colour)}"'
        f' xml:space="preserve">{escape(shown)}</text>'
    )


def _pen(pen: Pen) -> str:
    dashes = " ".join(_number(length) for length in pen.dashes)
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return f' stroke="{_colour(pen.colour)}" stroke-width="{_number(pen.width)}"{dashed}'


def _ring(points: Iterable[Point]) -> str:
    return "M" + " ".join(_point(point) for point in points)


def _point(point: Point) -> str:
    return f"{_number(point[0])},{_number(point[1])}"


def _colour(colour: Colour) -> str:
    return "#" + "".join(f"{round(255 * part):02x}" for part in colour)


def _number(value: float) -> str:
    """Hundredths of a mm, as short as it goes."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
