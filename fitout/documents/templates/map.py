"""The map of the tiles: each part small, where its tiles lie, and what lies on none."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from fitout.documents.facing import looks, pointed
from fitout.documents.paper.fonts import wrapped
from fitout.documents.paper.marks import (
    BLACK,
    FAINT,
    MEDIUM,
    NARROW,
    WIDE,
    Arc,
    Area,
    Mark,
    Pen,
    Stroke,
    Text,
    moved,
)
from fitout.documents.paper.marks import box as framed
from fitout.documents.paper.marks import line as straight
from fitout.documents.templates.content import Span
from fitout.documents.templates.sheet import Sheet
from fitout.documents.templates.tile import Tile
from fitout.documents.wording import Wording
from fitout.model.outline import Point
from fitout.model.panel import Hole, Panel

PICTURE = (82.0, 46.0)
"""The room for a part's small picture, mm."""

HEIGHT, LINE = 1.8, 3.0
APART = 4.0
STEPS = 6
TILE_PEN = Pen(0.25, (2.0, 1.0))


def map_pages(
    made: Mapping[str, tuple[Sheet, tuple[Tile, ...]]],
    pages: Mapping[str, tuple[int, ...]],
    sheet: Sheet,
    words: Wording,
    rest: Sequence[str] = (),
) -> Iterator[list[Mark]]:
    """Pages of marks: what to do, then a strip for each part with tiles.

    `rest` are the numbers of parts that are drilled and have no tile.
    """
    marks, y = _steps(sheet, words, rest, any_part=bool(made))
    for number, (_, tiles) in made.items():
        strip, high = _strip(tiles, pages[number], sheet.room[0], words)
        if y - high < sheet.corner[1]:
            yield marks
            marks, y = [], sheet.corner[1] + sheet.room[1]
        marks += moved(strip, (sheet.corner[0], y))
        y -= high + APART
    yield marks


def _steps(
    sheet: Sheet, words: Wording, rest: Sequence[str], *, any_part: bool
) -> tuple[list[Mark], float]:
    """What to do, in steps, and how far down that reaches."""
    x, y = sheet.corner[0], sheet.corner[1] + sheet.room[1]
    marks: list[Mark] = []
    if not any_part:
        return [Text((x, y - 5.0), words.say("templates_none"), 2.5)], y - 8.0
    sentences = [words.say(f"templates_step_{step}") for step in range(1, STEPS + 1)]
    if rest:
        sentences.append(words.say("templates_rest_by_rule", parts=", ".join(rest)))
    for step, sentence in enumerate(sentences, start=1):
        for i, told in enumerate(wrapped(sentence, 2.5, sheet.room[0] - 6.0)):
            y -= 4.2
            if i == 0:
                marks.append(Text((x, y), f"{step}", 2.5, bold=True))
            marks.append(Text((x + 5.0, y), told, 2.5))
    return marks, y - 6.0


def _strip(
    tiles: Sequence[Tile], pages: Sequence[int], width: float, words: Wording
) -> tuple[list[Mark], float]:
    """A part's picture and words, their upper left corner at the origin, and their height."""
    line = tiles[0].line
    panel = line.panel
    picture, high = _picture(panel, tiles)
    x = PICTURE[0] + 5.0
    marks: list[Mark] = [*picture, Text((x, -5.0), line.number, 5.0, bold=True)]
    y = -5.0
    told = [(line.name, True)]
    if line.quantity > 1:
        told.append((words.say("templates_pieces", count=line.quantity), False))
    told.append((words.size(line.length, line.width, line.thickness), False))
    side = words.say(f"towards_{looks(panel)}")
    mark = pointed(panel.placement)
    up = f"{words.say(f'templates_edge_{mark.edge}')}: {words.say(f'towards_{mark.side}')}"
    told.append((f"{words.say('templates_face', side=side)}; {up}", False))
    where = words.say("templates_on_page", pages=", ".join(map(str, pages)))
    told.append((f"{', '.join(tile.cutting.name for tile in tiles)} {where}", False))
    rest = list(unseen(panel, tiles, words))
    told += [(words.say("templates_rest"), True)] if rest else []
    told += [(one, False) for one in rest]
    for text, bold in told:
        for part in wrapped(text, HEIGHT, width - x, bold=bold):
            y -= LINE
            marks.append(Text((x, y), part, HEIGHT, bold=bold))
    high = max(high, -y)
    marks.append(straight((0.0, -high - APART / 2.0), (width, -high - APART / 2.0), FAINT))
    return marks, high


def unseen(panel: Panel, tiles: Sequence[Tile], words: Wording) -> Iterator[str]:
    """Holes on no tile: what to drill, and where from the datum corner, row by row."""
    left, bottom = panel.outline.bounds[:2]
    spans = [tile.cutting.span for tile in tiles]
    rest = [hole for hole in panel.holes if not any(_in(hole, span) for span in spans)]
    kinds: dict[tuple[float, float | None], list[Hole]] = {}
    for hole in rest:
        kinds.setdefault((hole.diameter, hole.depth), []).append(hole)
    for (size, depth), holes in sorted(
        kinds.items(), key=lambda kind: (kind[0][0], kind[0][1] or 0.0)
    ):
        told = words.say("templates_drill", size=words.tool(size))
        if depth is not None:
            told = words.say(
                "templates_drill_deep", size=words.tool(size), depth=words.length(depth)
            )
        yield f"{told}: {'; '.join(_rows(holes, (left, bottom), words))}"


def _rows(holes: Sequence[Hole], datum: Point, words: Wording) -> Iterator[str]:
    """Holes by rows that share x, or y, whichever makes fewer rows."""
    places = sorted(
        {(words.length(h.x - datum[0]), words.length(h.y - datum[1])): h for h in holes}.items(),
        key=lambda one: (one[1].y, one[1].x),
    )
    by_y: dict[str, list[str]] = {}
    by_x: dict[str, list[str]] = {}
    for (x, y), _ in places:
        by_y.setdefault(y, []).append(x)
        by_x.setdefault(x, []).append(y)
    if len(by_y) <= len(by_x):
        yield from (f"y {y}: x {', '.join(xs)}" for y, xs in by_y.items())
    else:
        yield from (f"x {x}: y {', '.join(ys)}" for x, ys in by_x.items())


def _in(hole: Hole, span: Span) -> bool:
    return span[0] <= hole.x <= span[2] and span[1] <= hole.y <= span[3]


def _picture(panel: Panel, tiles: Sequence[Tile]) -> tuple[list[Mark], float]:
    """The part with its tiles, its upper left corner at the origin, and the height it takes."""
    x0, y0, x1, y1 = panel.outline.bounds
    margin = 4.0
    scale = min((PICTURE[0] - margin) / (x1 - x0), (PICTURE[1] - margin) / (y1 - y0), 0.5)

    def at(x: float, y: float) -> Point:
        return margin / 2.0 + (x - x0) * scale, (y - y1) * scale - margin / 2.0

    marks: list[Mark] = []
    for loop, pen in [(panel.outline.outer, MEDIUM), *((i, NARROW) for i in panel.outline.inner)]:
        points = loop.chords(grows=False, sagitta=0.5)
        marks.append(Stroke(tuple(at(float(x), float(y)) for x, y in points), pen, closed=True))
    marks += [
        Arc(at(h.x, h.y), max(h.diameter / 2.0 * scale, 0.3), pen=NARROW) for h in panel.holes
    ]
    for tile in tiles:
        a, b, c, d = tile.cutting.span
        corner, (wide, high) = at(a, b), ((c - a) * scale, (d - b) * scale)
        marks.append(framed(*corner, wide, high, TILE_PEN, "TILE"))
        middle = (corner[0] + wide / 2.0, corner[1] + high / 2.0 - HEIGHT / 2.0)
        marks.append(Text(middle, tile.cutting.name, HEIGHT, "middle", bold=True))
    marks += _datum(at(x0, y0))
    return marks, (y1 - y0) * scale + margin


def _datum(at: Point) -> Iterator[Mark]:
    """Two arrows from the corner that distances are told from."""
    for x, y in ((1.0, 0.0), (0.0, 1.0)):
        tip = (at[0] + 9.0 * x, at[1] + 9.0 * y)
        yield straight(at, tip, WIDE)
        back = (tip[0] - 2.0 * x, tip[1] - 2.0 * y)
        head = (tip, (back[0] - 0.9 * y, back[1] + 0.9 * x), (back[0] + 0.9 * y, back[1] - 0.9 * x))
        yield Area((head,), BLACK)
