"""A page as DXF: its marks in millimetres of paper, on layers by kind of line.

Format: DXF R2000, `$INSUNITS` 4. Layers are those of the marks; each line carries its own width
and type (ISO 128-2), so that a plot looks like the PDF. Text has the height of its capitals.
"""

from __future__ import annotations

import math
from functools import lru_cache

from ezdxf import colors

from fitout.documents.dxf_entities import Entities, look
from fitout.documents.dxf_file import DxfFile, plain
from fitout.documents.paper.marks import (
    BLACK,
    WHITE,
    Arc,
    Area,
    Colour,
    Mark,
    Page,
    Pen,
    Stroke,
    Text,
)

STYLE, FONT = "LETTERING", "arial.ttf"
"""Of text; a reader that lacks the font takes its own."""

WIDTHS = (13, 18, 25, 35, 50, 70, 100)
"""Line widths that the format knows and drawings use, hundredths of a mm."""


def page_dxf(page: Page) -> bytes:
    """The page's marks as a DXF file, its lower left corner at the origin."""
    file = DxfFile((
        ("$LTSCALE", 1.0),
        ("$LWDISPLAY", 1),
        ("$EXTMIN", (0.0, 0.0, 0.0)),
        ("$EXTMAX", (page.width, page.height, 0.0)),
    ))  # fmt: skip
    file.style(STYLE, FONT)
    entities = Entities(file)
    for mark in page.marks:
        file.layer(mark.layer)
        _draw(file, entities, mark)
    return entities.as_bytes()


def _draw(file: DxfFile, entities: Entities, mark: Mark) -> None:
    match mark:
        case Stroke(points, pen, closed):
            entities.polyline(points, _line(file, pen, mark.layer), closed=closed)
        case Arc(centre, radius, start, end, pen):
            drawn = _line(file, pen, mark.layer)
            if end - start >= 360.0:
                entities.circle(centre, radius, drawn)
            else:
                entities.arc(centre, radius, (start, end), drawn)
        case Area(rings, colour, layer):
            filled = look(layer, colour=_index(colour))
            if len(rings) == 1 and len(rings[0]) == 3:
                entities.triangle(rings[0], filled)
            else:
                entities.area(rings, filled)
        case Text():
            _text(entities, mark)


def _line(file: DxfFile, pen: Pen, layer: str) -> str:
    linetype = _linetype(file, pen.dashes) if pen.dashes else ""
    return look(layer, linetype, _index(pen.colour), _weight(pen.width))


@lru_cache(maxsize=64)
def _weight(width: float) -> int:
    """The nearest line width that the format knows, hundredths of a mm."""
    return min(WIDTHS, key=lambda known: abs(known - 100.0 * width))


def _linetype(file: DxfFile, dashes: tuple[float, ...]) -> str:
    """The name of the line type with those dashes and gaps, which is added at first use."""
    name = "DASH_" + "_".join(f"{round(100.0 * length)}" for length in dashes)
    file.linetype(name, [length if i % 2 == 0 else -length for i, length in enumerate(dashes)])
    return name


@lru_cache(maxsize=256)
def _index(colour: Colour) -> int:
    """The format's nearest colour; 7 is black on white paper and white on a black screen."""
    if colour == BLACK:
        return 7
    if colour == WHITE:
        return 255
    wanted = [255.0 * part for part in colour]
    return min(
        range(1, 255),
        key=lambda i: (math.dist(wanted, colors.aci2rgb(i)), i),
    )


def _text(entities: Entities, text: Text) -> None:
    told = plain("".join(letter for letter in text.text if letter.isprintable()))
    if told:
        entities.text(
            told,
            text.at,
            text.height,
            look(text.layer, colour=_index(text.colour)),
            style=STYLE,
            turned=text.turned,
            across=text.anchor,
        )
