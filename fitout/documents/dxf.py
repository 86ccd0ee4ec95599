"""DXF cut files: one for each part, one for each nested sheet.

Format: DXF R2000, millimetres (`$INSUNITS` 4). Parts are seen on face A; x runs along the
face grain; a part's origin is the lower left corner of its bounding rectangle.

Layers name the work, how deep in tenths of a millimetre (four digits), and from where:

    PERIMETER_0118_THROUGH    the part's outer edge, board 11.8 mm thick
    CUTOUT_0118_THROUGH       an opening right through
    DRILL_0118_THROUGH        a hole right through (CIRCLE of the hole's diameter)
    DRILL_0100_FACE_A         a hole 10.0 mm deep from the face that is drawn
    SINK_0060_FACE_A          a pocket, groove or rebate 6.0 mm deep from that face
    SINK_0060_FACE_B          the same from the far face: drawn where it lies as seen
                              through the board from face A, so mirror it when the part
                              is turned over
    SHEET                     the sheet's own border (sheet files only)
    TAB_.., LEAD_IN, HOLD_DOWN, DATUM_PIN
                              marks for a router (sheet files only, see `router_marks`)
    SCRIBE_LINE               finished line along edges that were cut larger to be scribed to the
                              vehicle: to be drawn on the part, not cut; open LWPOLYLINE
    TEXT                      part number, name, grain arrow; nothing to cut

Cut layers hold nothing but closed LWPOLYLINE (arcs as bulges, each less than a half circle) and
CIRCLE, each once. Lines
are the finished edge: the cutter's radius is the machine program's business. A sink that
is open at an edge is drawn beyond it by a router's radius, so that the bit runs out; only
what lies inside the perimeter counts.
Where an onion skin is left, perimeters and cut-outs of a sheet file are not THROUGH: 0.3 mm
under 11.8 mm make it PERIMETER_0115_FACE_A.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from fitout.cutting.cut_list import CutLine
from fitout.cutting.edging import strips_told
from fitout.cutting.holding import lying, lying_mates
from fitout.cutting.plan import CutPlan, Sheet
from fitout.cutting.run_out import run_out
from fitout.cutting.scribing import scribe_lines
from fitout.documents.dxf_entities import Entities, look
from fitout.documents.dxf_file import DxfFile, plain
from fitout.documents.lettering import writing_room
from fitout.documents.router_marks import marks
from fitout.model.outline import Loop, Point, Vertex, arc_of
from fitout.model.panel import Hole, Panel, Pocket

TEXT_LAYER = "TEXT"
SHEET_LAYER = "SHEET"
SCRIBE_LAYER = "SCRIBE_LINE"

COLOURS = {
    "PERIMETER": 7, "CUTOUT": 5, "DRILL": 1, "SINK": 3, TEXT_LAYER: 8, SHEET_LAYER: 9,
    "TAB": 6, "LEAD": 4, "HOLD": 2, "DATUM": 2, "SCRIBE": 30,
}  # fmt: skip
"""Colour index of each kind of layer, for the eye only."""

NO_LENGTH = 1e-6
HALF_CIRCLE = 1.0 - 1e-6
"""Bulge of a half circle, less what rounding may add to it."""

LETTER_WIDTH = 0.9
"""Width of a letter over its height, on the safe side for the plain stroke fonts."""

Shape = tuple[str, Loop | Hole]
"""A layer and what is drawn on it."""


class CutFile:
    """A drawing to which layers are added as they are first drawn on; lives for one file."""

    def __init__(self) -> None:
        self._file = DxfFile()
        self.entities = Entities(self._file)

    def on(self, layer: str) -> str:
        """What an entity says to lie on a layer."""
        self._file.layer(layer, COLOURS[layer.split("_")[0]])
        return look(layer)


def part_dxf(line: CutLine, bit: float = 0.0) -> bytes:
    """The cut file of one part, at the origin; `bit` is a router's, for open ends."""
    drawing = CutFile()
    _draw_shapes(drawing, shapes(line.panel, bit=bit))
    _draw_scribe_lines(drawing, line.panel)
    _draw_text(drawing, line.panel, line, _note(line))
    return drawing.entities.as_bytes()


def sheet_dxf(sheet: Sheet, plan: CutPlan) -> bytes:
    """The cut file of one nested sheet: every part in its place, the border as a guide.

    Small parts come first: what lies in a larger part's cut-out is to be cut before it.
    KeyError if the plan's cut list lacks a placed part.
    """
    drawing = CutFile()
    board = sheet.board
    border = [(0.0, 0.0), (board.length, 0.0), (board.length, board.width), (0.0, board.width)]
    drawing.entities.polyline(border, drawing.on(SHEET_LAYER), closed=True)
    spec = plan.spec.of(board.key)
    routed = spec.by == "router"
    lines = [(plan.cut_list.line(placed.number), placed) for placed in sheet.placed]
    lines.sort(key=lambda pair: pair[0].length * pair[0].width)
    panels = [lying(placed, plan.cut_list) for _, placed in lines]
    for panel, (line, placed) in zip(panels, lines, strict=True):
        _draw_shapes(drawing, shapes(panel, spec.skin, spec.kerf) if routed else shapes(panel))
        _draw_scribe_lines(drawing, panel)
        _draw_text(drawing, panel, line, _called(line), placed.quarter_turns)
    if routed:
        mates = [lying_mates(placed, plan.cut_list) for _, placed in lines]
        found, notes = marks(sheet, panels, mates, spec)
        _draw_shapes(drawing, found)
        _draw_notes(drawing, notes, board.width)
    return drawing.entities.as_bytes()


def shapes(panel: Panel, skin: float = 0.0, bit: float = 0.0) -> list[Shape]:
    """What a panel's cut file holds: layer and geometry, each thing once, inside work first.

    What is cut out stops `skin` mm above the far face. What is sunk runs out over open ends
    by the radius of the `bit`.
    """
    thick = panel.thickness
    through = f"{_tenths(thick - skin)}_FACE_A" if skin > 0.0 else f"{_tenths(thick)}_THROUGH"
    outer = panel.outline.outer
    result: list[Shape] = [
        (_sink_layer(p, thick), _tidy(run_out(p.loop, outer, bit / 2.0) if bit else p.loop))
        for p in panel.pockets
    ]
    result += [(_drill_layer(hole, thick), hole) for hole in panel.holes]
    result += [(f"CUTOUT_{through}", _tidy(loop)) for loop in panel.outline.inner]
    result.append((f"PERIMETER_{through}", _tidy(outer)))
    once: dict[object, Shape] = {}
    for layer, thing in result:
        once.setdefault((layer, _same(thing)), (layer, thing))
    return list(once.values())


def _same(thing: Loop | Hole) -> object:
    """What two drawn things must share for the second to be left out."""
    if isinstance(thing, Hole):
        return round(thing.x, 6), round(thing.y, 6), round(thing.diameter, 6)
    return frozenset((round(v.x, 6), round(v.y, 6), round(v.bulge, 6)) for v in thing.vertices)


def _tenths(depth: float) -> str:
    return f"{round(depth * 10.0):04d}"


def _sink_layer(pocket: Pocket, thickness: float) -> str:
    if pocket.depth >= thickness:
        return f"CUTOUT_{_tenths(thickness)}_THROUGH"
    return f"SINK_{_tenths(pocket.depth)}_FACE_{pocket.face.value}"


def _drill_layer(hole: Hole, thickness: float) -> str:
    if hole.depth is None or hole.depth >= thickness:
        return f"DRILL_{_tenths(thickness)}_THROUGH"
    return f"DRILL_{_tenths(hole.depth)}_FACE_{hole.face.value}"


def _tidy(loop: Loop) -> Loop:
    """The loop run anticlockwise, without segments of no length or arcs of a half circle or more.

    Some readers put such arcs on the wrong side, half circles too as soon as they are rounded.
    """
    kept = [a for a, b in loop.segments() if math.hypot(b.x - a.x, b.y - a.y) > NO_LENGTH]
    parted: list[Vertex] = []
    for a, b in Loop(tuple(kept)).anticlockwise().segments():
        if abs(a.bulge) < HALF_CIRCLE:
            parted.append(a)
            continue
        arc = arc_of(a, b)
        bulge = math.tan(arc.sweep / 8.0)
        middle = arc.at(arc.start + arc.sweep / 2.0)
        parted += (Vertex(a.x, a.y, bulge), Vertex(*middle, bulge))
    return Loop(tuple(parted))


def _draw_shapes(drawing: CutFile, drawn: Iterable[Shape]) -> None:
    for layer, thing in drawn:
        own = drawing.on(layer)
        if isinstance(thing, Hole):
            drawing.entities.circle((thing.x, thing.y), thing.diameter / 2.0, own)
        else:
            points = [(v.x, v.y, v.bulge) for v in thing.vertices]
            drawing.entities.polyline(points, own, closed=True)


def _draw_scribe_lines(drawing: CutFile, panel: Panel) -> None:
    """Where the part's finished edge lies, along edges that are scribed to the vehicle."""
    for run in scribe_lines(panel):
        points = [(v.x, v.y, v.bulge) for v in run]
        drawing.entities.polyline(points, drawing.on(SCRIBE_LAYER), closed=False)


def _draw_notes(drawing: CutFile, notes: Sequence[str], top: float) -> None:
    """What is to be said of the whole sheet, above it."""
    own = drawing.on(TEXT_LAYER)
    for i, words in enumerate(notes):
        drawing.entities.text(plain(words), (0.0, top + 15.0 + 35.0 * i), 20.0, own)


def _note(line: CutLine) -> str:
    note = f"{_called(line)}, {line.quantity} off, {line.board.key}, {line.thickness:g} mm"
    if line.panel.strips:
        length, width = line.finished
        note += f", {strips_told(line.panel)}, {length:.1f} x {width:.1f} with it"
    if line.scribe:
        length, width = line.finished
        note += f", {line.scribe} to be scribed, {length:.1f} x {width:.1f} then"
    return note + (f", square {line.by_hand} inside corners by hand" if line.by_hand else "")


def _called(line: CutLine) -> str:
    """The part's name; of many, the first and how many more."""
    names = dict.fromkeys(panel.name for panel in line.panels)
    return line.name if len(names) <= 2 else f"{line.panel.name} and {len(names) - 1} more"


def _draw_text(
    drawing: CutFile, panel: Panel, line: CutLine, note: str, quarter_turns: int = 0
) -> None:
    """Number and note in the middle of the room to write, the grain arrow near its end."""
    own, entities = drawing.on(TEXT_LAYER), drawing.entities
    box = writing_room(panel.outline)
    along, across = box.length, box.width
    upright = across > along
    room, high = max(along, across), min(along, across)

    def spot(forward: float, upward: float) -> Point:
        """The point so far from the middle, along and across the writing."""
        middle = (box.x + along / 2.0, box.y + across / 2.0)
        if upright:
            return middle[0] - upward, middle[1] + forward
        return middle[0] + forward, middle[1] + upward

    for text, offset, tallest in ((line.number, 0.14, 20.0), (note, -0.12, 10.0)):
        words = plain(text)
        height = min(tallest, 0.18 * high, 0.6 * room / (LETTER_WIDTH * max(len(words), 1)))
        at, turned = spot(0.0, offset * min(high, 120.0)), 90.0 if upright else 0.0
        entities.text(words, at, height, own, turned=turned, across="middle", centred=True)
    if line.grain_locked:
        lengthwise = quarter_turns % 2 == 0
        with_writing = lengthwise != upright
        reach = min(50.0, 0.08 * room if with_writing else 0.3 * high)
        for stroke in grain_arrow(spot(-0.4 * room, 0.0), reach, lengthwise):
            entities.polyline(stroke, own, closed=False)


def grain_arrow(at: Point, reach: float, lengthwise: bool) -> Iterator[list[Point]]:
    """The strokes of a two-headed arrow of half length `reach` along x, or along y."""
    head = 0.2 * reach
    strokes = [
        [(-reach, 0.0), (reach, 0.0)],
        [(reach - head, head / 2.0), (reach, 0.0), (reach - head, -head / 2.0)],
        [(-reach + head, head / 2.0), (-reach, 0.0), (-reach + head, -head / 2.0)],
    ]
    for stroke in strokes:
        if lengthwise:
            yield [(at[0] + x, at[1] + y) for x, y in stroke]
        else:
            yield [(at[0] - y, at[1] + x) for x, y in stroke]
