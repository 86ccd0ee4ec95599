"""One label: number, name, size, where the part lies and which edge is up, and the code.

    ┌──────────────────────────────────────┐
    │ P07  2/3            ▲ UP             │  the small picture is the part seen on face A,
    │ S02              ┌───────┐           │  on which the label is stuck; the arrow in it is
    │ left side        │  <->  │           │  the grain, the mark outside says which edge is
    │ 786 x 501 x 12   └───────┘           │  up, or to the front on a part that lies flat
    │ this face looks left      ▒▒▒▒       │
    │ drawers                   ▒▒▒▒       │
    │ birch ply 12              ▒▒▒▒       │
    └──────────────────────────────────────┘

A label too small for all of it does without the lines of `LINES`, the last of them first, then
without the picture. Number and code always stand on it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fitout.documents.facing import Facing
from fitout.documents.labels.code import LEAST_SQUARE, QUIET, code, squares
from fitout.documents.lettering import writing_room
from fitout.documents.paper.fonts import shortened, text_width, wrapped
from fitout.documents.paper.marks import BLACK, MEDIUM, NARROW, Area, Mark, Stroke, Text
from fitout.documents.wording import Wording
from fitout.model.outline import Loop, Outline, Point

INSET = 2.5
"""What stays empty along a label's edges, since printers feed paper askew, mm."""

LARGEST_SQUARE = 0.7
LARGE, SMALL = 2.5, 1.8
LEADING, TIGHT = 1.4, 1.0
"""Between the lines, on a label of usual height and on a low one, mm."""

LOW = 30.0
"""Labels of less height have smaller numbers, tighter lines, module and material in one."""

LINES = ("name", "size", "face", "module", "material")
"""The lines below the number; of a small label the last are left out first."""

LEAST_PICTURE = (9.0, 6.0)
FLATTEST = 0.22
"""A slender part is drawn at least so high for its width: the picture is no drawing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """What a label says of one part; `outline` is None for a bar, `facing` where nothing tells.

    `copy` is which of how many alike; `sheet` is the sheet or stock length it is cut from.
    """

    number: str
    copy: tuple[int, int]
    sheet: str
    name: str
    module: str
    material: str
    size: tuple[float, ...]
    face: str
    outline: Loop | None
    grain: bool
    facing: Facing | None


def label(part: Part, size: tuple[float, float], words: Wording) -> list[Mark]:
    """The marks of one label of that width and height, from its lower left corner."""
    width, height = size
    square = _square(part.number, size)
    dark = len(squares(part.number)) * square
    edge = max(INSET, QUIET * square)
    block = dark + edge + QUIET * square
    marks: list[Mark] = [code(part.number, (width - edge - dark, edge), square)]
    room = width - INSET - block
    tall = 5.0 if height < LOW else 7.0
    while text_width(part.number, tall, bold=True) > room - 8.0 and tall > LARGE:
        tall -= 0.5
    top = height - INSET - tall
    marks.append(Text((INSET, top), part.number, tall, bold=True))
    beside = INSET + text_width(part.number, tall, bold=True) + 1.5
    marks.extend(_beside(part, (beside, top), tall))
    above = (height - edge - dark - QUIET * square - INSET, block - QUIET * square)
    if above[0] >= LEAST_PICTURE[1] and above[1] >= LEAST_PICTURE[0]:
        corner = (width - INSET - above[1], height - INSET - above[0])
        marks.extend(_picture(part, corner, (above[1], above[0]), words))
    low = height < LOW
    return [*marks, *_lines(part, (INSET, top - 1.0), room - 1.0, words, low=low)]


def _square(number: str, size: tuple[float, float]) -> float:
    """Side of the code's squares: large, but no more than six tenths of the label's height."""
    count = len(squares(number)) + 2 * QUIET
    fitting = min(0.6 * size[1], 0.45 * size[0]) / count
    return max(LEAST_SQUARE, min(LARGEST_SQUARE, fitting))


def _beside(part: Part, at: Point, tall: float) -> Iterator[Mark]:
    """Which of how many, and the sheet, small beside the number."""
    which, of = part.copy
    if of > 1:
        yield Text((at[0], at[1] + tall - SMALL), f"{which}/{of}", SMALL)
    if part.sheet:
        yield Text(at, part.sheet, SMALL)


def _lines(part: Part, at: Point, room: float, words: Wording, *, low: bool) -> Iterator[Mark]:
    """The lines below the number, as far down as there is room."""
    face = words.say("label_face", side=words.say(f"towards_{part.face}")) if part.face else ""
    texts = {
        "name": part.name,
        "size": words.size(*part.size),
        "face": face,
        "module": part.module,
        "material": part.material,
    }
    y = at[1]
    leading = TIGHT if low else LEADING
    if low and text_width(both := f"{part.module} · {part.material}", SMALL) <= room:
        texts |= {"module": both, "material": ""}
    for key in LINES:
        told, height = _fitting(texts[key], room, key)
        if y - (height + leading) * len(told) < INSET - 0.5:
            return
        for line in told:
            y -= height + leading
            yield Text((at[0], y), line, height, bold=key == "name")


def _fitting(text: str, room: float, key: str) -> tuple[list[str], float]:
    """The text in a large or small line, or two small ones; no size is shortened, but left out."""
    bold = key == "name"
    if not text:
        return [], SMALL
    if key in ("name", "size") and text_width(text, LARGE, bold=bold) <= room:
        return [text], LARGE
    if key == "size":
        # Whole inches and their fraction stay together: a line ends after a length.
        tied = text.replace(" ", "_").replace("_x_", "_x ")
        told = [line.replace("_", " ") for line in wrapped(tied, SMALL, room)]
        return (told, SMALL) if len(told) <= 3 else ([], SMALL)
    told = wrapped(text, SMALL, room, bold=bold)
    if len(told) > 2:
        told = [told[0], shortened(" ".join(told[1:]), SMALL, room, bold=bold)]
    return told, SMALL


def _picture(
    part: Part, corner: Point, size: tuple[float, float], words: Wording
) -> Iterator[Mark]:
    """The part small, its grain, and the mark at the edge that is up or to the front."""
    word = words.say(f"label_point_{part.facing.side}") if part.facing else ""
    edge = part.facing.edge if part.facing else ""
    left, bottom = corner
    right, top = left + size[0], bottom + size[1]
    # Room for the mark is taken off at its edge.
    mark = SMALL + 2.6 if edge else 0.0
    left += mark if edge == "left" else 0.0
    right -= mark if edge == "right" else 0.0
    bottom += mark if edge == "lower" else 0.0
    top -= mark if edge == "upper" else 0.0
    box = _box(part, (left, bottom, right, top))
    yield from _shape(part, box)
    if part.facing:
        yield from _pointer(edge, box, word)


Box = tuple[float, float, float, float]
"""Left, bottom, right, top."""


def _box(part: Part, room: Box) -> Box:
    """The part's bounding rectangle in the middle of the room."""
    long, wide = part.size[0], max(part.size[1], FLATTEST * part.size[0])
    long = max(long, FLATTEST * wide)
    scale = min((room[2] - room[0]) / long, (room[3] - room[1]) / wide)
    x, y = (room[0] + room[2]) / 2.0, (room[1] + room[3]) / 2.0
    half_x, half_y = long * scale / 2.0, wide * scale / 2.0
    return x - half_x, y - half_y, x + half_x, y + half_y


def _shape(part: Part, box: Box) -> Iterator[Mark]:
    left, bottom, right, top = box
    if part.outline is None:
        corners: tuple[Point, ...] = ((left, bottom), (right, bottom), (right, top), (left, top))
    else:
        x0, y0, x1, y1 = part.outline.bounds
        along, up = (right - left) / (x1 - x0), (top - bottom) / (y1 - y0)
        points = part.outline.chords(grows=False, sagitta=1.0)
        corners = tuple(
            (left + (float(x) - x0) * along, bottom + (float(y) - y0) * up) for x, y in points
        )
    yield Stroke(corners, MEDIUM, closed=True)
    if part.grain:
        free = _free(part, box)
        y = (free[1] + free[3]) / 2.0
        reach = min(0.35 * (free[2] - free[0]), 5.0)
        a, b = (free[0] + free[2]) / 2.0 - reach, (free[0] + free[2]) / 2.0 + reach
        head = min(1.0, 0.3 * reach)
        yield Stroke(((a, y), (b, y)), NARROW)
        yield Stroke(((b - head, y + head / 2), (b, y), (b - head, y - head / 2)), NARROW)
        yield Stroke(((a + head, y + head / 2), (a, y), (a + head, y - head / 2)), NARROW)


def _free(part: Part, box: Box) -> Box:
    """Where in the picture the part has room, clear of its notches."""
    assert part.outline is not None
    left, bottom, right, top = box
    x0, y0, x1, y1 = part.outline.bounds
    room = writing_room(Outline(part.outline))
    along, up = (right - left) / (x1 - x0), (top - bottom) / (y1 - y0)
    x, y = left + (room.x - x0) * along, bottom + (room.y - y0) * up
    return x, y, x + room.length * along, y + room.width * up


def _pointer(edge: str, box: Box, word: str) -> Iterator[Mark]:
    """A wedge that stands on an edge and points away from it, its word beyond or beside it."""
    left, bottom, right, top = box
    x, y = (left + right) / 2.0, (bottom + top) / 2.0
    foot, out, turn, at, turned = {
        "upper": ((x, top), (0, 1), (1, 0), (x, top + 2.4), 0.0),
        "lower": ((x, bottom), (0, -1), (1, 0), (x, bottom - 2.4 - SMALL), 0.0),
        "left": ((left, y), (-1, 0), (0, 1), (left - 2.4, y), 90.0),
        "right": ((right, y), (1, 0), (0, 1), (right + 2.4 + SMALL, y), 90.0),
    }[edge]
    gap, long, half = 0.4, 1.6, 1.4
    base = (foot[0] + gap * out[0], foot[1] + gap * out[1])
    wedge = (
        (base[0] - half * turn[0], base[1] - half * turn[1]),
        (base[0] + half * turn[0], base[1] + half * turn[1]),
        (base[0] + long * out[0], base[1] + long * out[1]),
    )
    yield Area((wedge,), BLACK)
    yield Text(at, word, SMALL, "middle", turned, bold=True)
