"""One tile: a cutting of a part at full size, with all that is needed to lay and drill it.

Each tile tells its part and place, on which edges it is laid, and which tiles it joins. Tiles
that overlap show the same crosses, told in distances from the part's left and lower edge.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from fitout.cutting.cut_list import CutLine
from fitout.documents.facing import side_of_edge
from fitout.documents.paper.fonts import wrapped
from fitout.documents.paper.layout import Layout
from fitout.documents.paper.marks import (
    HIDDEN,
    MEDIUM,
    NARROW,
    PHANTOM,
    WIDE,
    Arc,
    Mark,
    Pen,
    Stroke,
    Text,
)
from fitout.documents.paper.marks import box as framed
from fitout.documents.paper.marks import line as straight
from fitout.documents.paper.room import extent
from fitout.documents.templates.clip import clipped, inside, ring
from fitout.documents.templates.content import Span
from fitout.documents.templates.crosses import CROSS, Edge, crosses, edges_in, stretches
from fitout.documents.templates.cuttings import Cutting
from fitout.documents.wording import Wording
from fitout.model.outline import Loop, Point, circle
from fitout.model.panel import Face, Hole, Panel

NUMBER_HEIGHT, TEXT_HEIGHT = 3.5, 1.8
HEAD_LINE = 2.9

WORDS_APART = 2.5
"""Room kept beside what is told of a hole or cross, mm."""


@dataclass(frozen=True, slots=True)
class Tile:
    """A part's cutting, and what stands above it."""

    line: CutLine
    cutting: Cutting
    head: tuple[str, ...]

    @property
    def name(self) -> str:
        """`P06-A1`."""
        return f"{self.line.number}-{self.cutting.name}"

    @property
    def size(self) -> tuple[float, float]:
        """Width and height on paper, with its head."""
        width, height = self.cutting.size
        return width, height + head_height(len(self.head))


def head_height(lines: int) -> float:
    """Height of a head: the tile's name, and lines below it, mm."""
    return NUMBER_HEIGHT + 2.0 + HEAD_LINE * lines


def tiles(line: CutLine, found: Sequence[Cutting], words: Wording) -> tuple[Tile, ...]:
    """The tiles of a part."""
    result = []
    for cutting in found:
        joined = [f"{line.number}-{other.name}" for other in found if _neighbours(cutting, other)]
        edges = [_edge_named(line.panel, edge, words) for edge in edges_in(line.panel, cutting)]
        told = [words.say("templates_lay", edges=", ".join(edges))] if edges else []
        told += [] if edges else [words.say("templates_no_edge")]
        told += [words.say("templates_join", others=", ".join(joined))] if joined else []
        sentence = f"{line.panel.name} · {' · '.join(told)}"
        head = wrapped(sentence, TEXT_HEIGHT, cutting.size[0] - 3.0)
        result.append(Tile(line, cutting, tuple(head)))
    return tuple(result)


def _neighbours(a: Cutting, b: Cutting) -> bool:
    """Whether two cuttings overlap in one band."""
    if a.name.rstrip("0123456789") != b.name.rstrip("0123456789") or a == b:
        return False
    k = 1 if a.upright else 0
    return a.span[k] < b.span[k + 2] and b.span[k] < a.span[k + 2]


def _edge_named(panel: Panel, edge: Edge, words: Wording) -> str:
    side = side_of_edge(panel.placement, edge)
    return f"{words.say(f'templates_edge_{edge}')} ({words.say(f'towards_{side}')})"


def marks_of(tile: Tile, words: Wording) -> list[Mark]:
    """The tile from its lower left corner: frame, head, contours, holes, crosses."""
    cutting, panel = tile.cutting, tile.line.panel
    left, bottom = cutting.span[0], cutting.span[1]
    width, height = cutting.size
    marks: list[Mark] = [framed(0.0, 0.0, width, height, Pen(0.18), "TILE")]
    marks += _head(tile, height)
    layout = Layout((0.0, 0.0, width, height))

    def here(point: Point) -> Point:
        return point[0] - left, point[1] - bottom

    layout.draw(_contours(panel, cutting.span, here))
    for edge in edges_in(panel, cutting):
        for a, b in stretches(panel, cutting, edge):
            layout.draw([straight(here(a), here(b), WIDE, "EDGE")])
    holes = [h for h in panel.holes if inside((h.x, h.y), cutting.span)]
    for hole in holes:
        layout.draw(_hole(hole, here((hole.x, hole.y)), layout.room))
    places = crosses(tile.cutting, panel, words)
    for place in places:
        layout.draw(_cross(here(place)))
    for hole in holes:
        _write(layout, _drill(hole, words), here((hole.x, hole.y)), hole.diameter / 2.0)
    x0, y0 = panel.outline.bounds[:2]
    for place in places:
        told = f"{words.length(place[0] - x0)} | {words.length(place[1] - y0)}"
        _write(layout, told, here(place), CROSS)
    for pocket in panel.pockets:
        x1, y1, x2, y2 = pocket.loop.bounds
        middle = ((x1 + x2) / 2.0, (y1 + y2) / 2.0)
        if inside(middle, cutting.span):
            told = words.say("templates_deep", depth=words.length(pocket.depth))
            layout.first(_beside(told, here(middle), 0.0))
    return [*marks, *layout.marks]


def _head(tile: Tile, bottom: float) -> Iterator[Mark]:
    """The tile's name and what it is laid on, above its frame."""
    width = tile.cutting.size[0]
    high = head_height(len(tile.head))
    yield framed(0.0, bottom, width, high, Pen(0.18), "TILE")
    y = bottom + high - NUMBER_HEIGHT - 1.0
    yield Text((1.5, y), tile.name, NUMBER_HEIGHT, bold=True)
    for told in tile.head:
        y -= HEAD_LINE
        yield Text((1.5, y), told, TEXT_HEIGHT)


def _contours(panel: Panel, span: Span, here: Callable[[Point], Point]) -> Iterator[Mark]:
    loops: list[tuple[Loop, Pen]] = [(panel.outline.outer, MEDIUM)]
    loops += [(loop, MEDIUM) for loop in panel.outline.inner]
    loops += [(pocket.loop, HIDDEN) for pocket in panel.pockets]
    if panel.scribe is not None:
        # Cut larger to be fitted by hand: the line it should come down to.
        loops.append((panel.scribe.finished, PHANTOM))
    for loop, pen in loops:
        points = ring(loop)
        for piece in clipped((*points, points[0]), span):
            yield Stroke(tuple(map(here, piece)), pen, layer="CONTOUR")


def _hole(hole: Hole, at: Point, room: Span) -> Iterator[Mark]:
    """A hole's edge, and strokes through its centre to prick it by, cut off at the frame."""
    radius = hole.diameter / 2.0
    reach = max(radius + 1.5, 2.5)
    level = ((at[0] - reach, at[1]), (at[0] + reach, at[1]))
    upright = ((at[0], at[1] - reach), (at[0], at[1] + reach))
    for stroke in (*clipped(level, room), *clipped(upright, room)):
        yield Stroke(stroke, Pen(0.18), layer="HOLE")
    pen = HIDDEN if hole.depth is not None and hole.face is Face.B else NARROW
    if min(at[0] - room[0], at[1] - room[1], room[2] - at[0], room[3] - at[1]) >= radius:
        yield Arc(at, radius, pen=pen, layer="HOLE")
        return
    edge = ring(circle(*at, hole.diameter))
    for stroke in clipped((*edge, edge[0]), room):
        yield Stroke(stroke, pen, layer="HOLE")


def _cross(at: Point) -> Iterator[Mark]:
    """A cross in a diamond, since one in a circle would be drilled."""
    yield straight((at[0] - CROSS, at[1]), (at[0] + CROSS, at[1]), NARROW, "CROSS")
    yield straight((at[0], at[1] - CROSS), (at[0], at[1] + CROSS), NARROW, "CROSS")
    half = 0.55 * CROSS
    tips = ((half, 0.0), (0.0, half), (-half, 0.0), (0.0, -half))
    yield Stroke(tuple((at[0] + x, at[1] + y) for x, y in tips), NARROW, closed=True, layer="CROSS")


def _drill(hole: Hole, words: Wording) -> str:
    size = words.tool(hole.diameter)
    if hole.depth is None:
        return words.say("templates_drill", size=size)
    return words.say("templates_drill_deep", size=size, depth=words.length(hole.depth))


def _write(layout: Layout, text: str, at: Point, off: float) -> None:
    """Write something near a point: well clear of other words, lest two be read as one."""
    ways = list(_beside(text, at, off))
    spaced = [way for way in ways if layout.is_free(_around(way))]
    layout.first([*spaced, *ways])


def _around(way: Sequence[Mark]) -> Span:
    left, bottom, right, top = extent(way)
    return left - WORDS_APART, bottom, right + WORDS_APART, top


def _beside(text: str, at: Point, off: float) -> Iterator[list[Mark]]:
    """Ways to write something near a point."""
    for further in (1.0, 3.0, 6.0, 10.0):
        gap = off + further
        low, high = at[1] - gap - TEXT_HEIGHT, at[1] + gap
        middle = at[1] - TEXT_HEIGHT / 2.0
        diagonal = 0.7 * gap
        yield [Text((at[0] + diagonal, at[1] + diagonal), text, TEXT_HEIGHT)]
        yield [Text((at[0] + gap + 1.5, middle), text, TEXT_HEIGHT)]
        yield [Text((at[0] - diagonal, at[1] + diagonal), text, TEXT_HEIGHT, "right")]
        yield [Text((at[0] + diagonal, at[1] - diagonal - TEXT_HEIGHT), text, TEXT_HEIGHT)]
        yield [Text((at[0] - diagonal, at[1] - diagonal - TEXT_HEIGHT), text, TEXT_HEIGHT, "right")]
        yield [Text((at[0], high), text, TEXT_HEIGHT, "middle")]
        yield [Text((at[0], low), text, TEXT_HEIGHT, "middle")]
        yield [Text((at[0] - gap - 1.5, middle), text, TEXT_HEIGHT, "right")]
