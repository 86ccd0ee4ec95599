"""A page as DXF: its marks in millimetres of paper, on layers by kind of line.

Format: DXF R2000, `$INSUNITS` 4. Layers are those of the marks; each line carries its own width
and type (ISO 128-2), so that a plot looks like the PDF. Text has the height of its capitals.
"""

from __future__ import annotations

import math

from ezdxf import colors
from ezdxf.document import Drawing
from ezdxf.enums import TextEntityAlignment
from ezdxf.layouts.layout import Modelspace

from fitout.documents.dxf_file import as_bytes, new_drawing, plain, plain_metadata
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

ALIGN = {
    "left": TextEntityAlignment.LEFT,
    "middle": TextEntityAlignment.CENTER,
    "right": TextEntityAlignment.RIGHT,
}

Attributes = dict[str, object]


def page_dxf(page: Page) -> bytes:
    """The page's marks as a DXF file, its lower left corner at the origin."""
    with plain_metadata():
        drawing = new_drawing()
        drawing.styles.add(STYLE, font=FONT)
        drawing.header["$LTSCALE"] = 1.0
        drawing.header["$LWDISPLAY"] = 1
        drawing.header["$EXTMIN"] = (0.0, 0.0, 0.0)
        drawing.header["$EXTMAX"] = (page.width, page.height, 0.0)
        space = drawing.modelspace()
        for mark in page.marks:
            if mark.layer not in drawing.layers:
                drawing.layers.add(mark.layer)
            _draw(drawing, space, mark)
        return as_bytes(drawing)


def _draw(drawing: Drawing, space: Modelspace, mark: Mark) -> None:
    match mark:
        case Stroke(points, pen, closed):
            attributes = _line(drawing, pen, mark.layer)
            space.add_lwpolyline(points, close=closed, dxfattribs=attributes)
        case Arc(centre, radius, start, end, pen):
            attributes = _line(drawing, pen, mark.layer)
            if end - start >= 360.0:
                space.add_circle(centre, radius, dxfattribs=attributes)
            else:
                space.add_arc(centre, radius, start, end, dxfattribs=attributes)
        case Area():
            _area(space, mark)
        case Text():
            _text(space, mark)


def _line(drawing: Drawing, pen: Pen, layer: str) -> Attributes:
    nearest = min(WIDTHS, key=lambda width: abs(width - 100.0 * pen.width))
    found: Attributes = {"layer": layer, "lineweight": nearest, "color": _index(pen.colour)}
    if pen.dashes:
        found["linetype"] = _linetype(drawing, pen.dashes)
    return found


def _linetype(drawing: Drawing, dashes: tuple[float, ...]) -> str:
    """The name of the line type with those dashes and gaps, which is added at first use."""
    name = "DASH_" + "_".join(f"{round(100.0 * length)}" for length in dashes)
    if name not in drawing.linetypes:
        signed = [length if i % 2 == 0 else -length for i, length in enumerate(dashes)]
        drawing.linetypes.add(name, [sum(dashes), *signed])
    return name


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


def _area(space: Modelspace, area: Area) -> None:
    attributes: Attributes = {"layer": area.layer, "color": _index(area.colour)}
    ring = area.rings[0]
    if len(area.rings) == 1 and len(ring) == 3:
        space.add_solid(ring, dxfattribs=attributes)
        return
    hatch = space.add_hatch(color=_index(area.colour), dxfattribs={"layer": area.layer})
    for one in area.rings:
        hatch.paths.add_polyline_path(one, is_closed=True)


def _text(space: Modelspace, text: Text) -> None:
    told = plain("".join(letter for letter in text.text if letter.isprintable()))
    if not told:
        return
    attributes: Attributes = {
        "layer": text.layer, "style": STYLE, "color": _index(text.colour),
    }  # fmt: skip
    entity = space.add_text(told, height=text.height, rotation=text.turned, dxfattribs=attributes)
    entity.set_placement(text.at, align=ALIGN[text.anchor])
