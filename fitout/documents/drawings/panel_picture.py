"""A panel seen on face A with every dimension it is made by, each told once.

All is measured from the datum: the lower left corner of the blank, x along the grain. What has
few different distances has running dimensions; what has many, or is cut freely, is numbered
and told in a table.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from fitout.cutting.cut_list import CutLine
from fitout.documents.drawings.features import (
    CLOSE,
    Corner,
    HoleKind,
    Opening,
    corners,
    distinct,
    hole_kinds,
    openings,
)
from fitout.documents.drawings.ordinates import TOLD, Spot, distances, told_apart
from fitout.documents.drawings.panel_marks import finished_edges, lay_marks
from fitout.documents.paper.dimension import (
    HEIGHT,
    Ordinate,
    Side,
    leader,
    linear,
    running,
)
from fitout.documents.paper.layout import Layout
from fitout.documents.paper.marks import (
    HIDDEN,
    MEDIUM,
    NARROW,
    PHANTOM,
    WIDE,
    Anchor,
    Arc,
    Mark,
    Pen,
    Stroke,
    Text,
)
from fitout.documents.wording import Wording
from fitout.model.outline import Loop, Point, arc_of
from fitout.model.panel import Face, Panel

FARTHER = 0.6
"""What lies farther than this share of the way is dimensioned on the far side."""

CORNER = "E"
"""Before the numbers of an outline's corners: holes have bare numbers."""

LETTERS = "CDFGHJKLMNPQRSTUVWXYZ"
"""Capitals for openings: without those of corners and faces; I and O look like numbers."""

NUMBERED = 5.0
"""Corners nearer to the last numbered one have no number of their own, mm on paper."""

TINY = 13.0
"""Of an opening that is nowhere wider only the first corner is numbered, mm on paper."""

MOST_RUNNING = 16
"""With more different distances along one side, holes and then openings go into a table."""

FEW_CORNERS = 6
"""An outline with slanting sides has running dimensions up to so many corners."""

AROUND = 130.0
"""Room for dimensions around the picture, mm."""

CROSS = 1.1
"""How far a hole's centre cross reaches beyond it, mm."""

SAGITTA = 0.02
"""Arcs of outlines are drawn by chords that lie so near, mm on paper."""


@dataclass(frozen=True, slots=True)
class Plan:
    """Which features have running dimensions; the others are numbered for their table."""

    corners: tuple[Corner, ...]
    openings: tuple[Opening, ...]
    kinds: tuple[HoleKind, ...]
    corners_run: bool
    openings_run: bool
    holes_run: bool

    @property
    def free(self) -> tuple[Opening, ...]:
        """Openings whose corners have to be told one by one."""
        return tuple(one for one in self.openings if one.free)

    @property
    def plain(self) -> tuple[Opening, ...]:
        """Openings that a rectangle and a radius tell."""
        return tuple(one for one in self.openings if not one.free)


def plan_of(panel: Panel) -> Plan:
    """How the panel is dimensioned."""
    found = corners(panel.outline.outer)
    opened = openings(panel)
    kinds = hole_kinds(panel)
    plain = [one for one in opened if not one.free]
    level = all(_level(a, b) for a, b in zip(found, (*found[1:], found[0]), strict=True))
    corners_run = (level or len(found) <= FEW_CORNERS) and not any(c.arc for c in found)
    points = [(c.x, c.y) for c in found] if corners_run else []
    corners_run = corners_run and _few(points)
    points = points if corners_run else []
    edges = [point for one in plain for point in (one.box[:2], one.box[2:])]
    openings_run = _few([*points, *edges])
    points += edges if openings_run else []
    holes_run = _few([*points, *((h.x, h.y) for h in panel.holes)])
    return Plan(found, opened, kinds, corners_run, openings_run, holes_run)


def _level(a: Corner, b: Corner) -> bool:
    return abs(a.x - b.x) < CLOSE or abs(a.y - b.y) < CLOSE


def _few(points: Sequence[Point]) -> bool:
    return all(len(distinct((p[i] for p in points), TOLD)) <= MOST_RUNNING for i in (0, 1))


@dataclass(slots=True)
class Picture:
    """A panel's drawing while it is made; `scale` is paper over part."""

    line: CutLine
    plan: Plan
    scale: float
    wording: Wording
    layout: Layout

    @property
    def panel(self) -> Panel:
        """The part as it is drawn."""
        return self.line.panel

    @property
    def size(self) -> tuple[float, float]:
        """Length and width on paper."""
        return self.line.length * self.scale, self.line.width * self.scale

    def at(self, x: float, y: float) -> Point:
        """A point of the part on paper."""
        return x * self.scale, y * self.scale

    def length(self, mm: float) -> str:
        """A length as the builder reads it."""
        return self.wording.length(mm)


def picture(line: CutLine, scale: float, wording: Wording) -> list[Mark]:
    """The marks of a panel's drawing, the datum corner at the origin."""
    length, width = line.length * scale, line.width * scale
    layout = Layout((-AROUND, -AROUND, length + AROUND, width + AROUND))
    drawn = Picture(line, plan_of(line.panel), scale, wording, layout)
    layout.draw(_geometry(drawn))
    layout.draw(finished_edges(line.panel, scale))
    told = _running(drawn)
    if not told[0]:
        linear(layout, (0.0, width), (length, width), drawn.length(line.length), "above")
    if not told[1]:
        linear(layout, (length, 0.0), (length, width), drawn.length(line.width), "right")
    _corner_words(drawn)
    _opening_words(drawn)
    _hole_words(drawn)
    lay_marks(layout, line, scale, wording)
    return layout.marks


def _geometry(drawn: Picture) -> Iterator[Mark]:
    panel, scale = drawn.panel, drawn.scale
    for loop in (panel.outline.outer, *panel.outline.inner):
        yield ring(loop, scale, WIDE, "OUTLINE")
    if panel.scribe is not None:
        yield ring(panel.scribe.finished, scale, PHANTOM, "SCRIBE")
    for pocket in panel.pockets:
        hidden = pocket.face is Face.B and pocket.depth < panel.thickness
        yield ring(pocket.loop, scale, HIDDEN if hidden else MEDIUM, "HIDDEN" if hidden else "SINK")
    for hole in panel.holes:
        blind = hole.depth is not None and hole.depth < panel.thickness
        hidden = blind and hole.face is Face.B
        radius = hole.diameter / 2.0 * scale
        x, y = drawn.at(hole.x, hole.y)
        yield Arc((x, y), radius, pen=HIDDEN if hidden else MEDIUM, layer="HOLE")
        reach = radius + CROSS
        yield Stroke(((x - reach, y), (x + reach, y)), NARROW, layer="CENTRE")
        yield Stroke(((x, y - reach), (x, y + reach)), NARROW, layer="CENTRE")


def ring(loop: Loop, scale: float, pen: Pen, layer: str) -> Stroke:
    """A loop on paper, its arcs by chords."""
    points: list[Point] = []
    for a, b in loop.segments():
        points.append((a.x * scale, a.y * scale))
        if not a.bulge:
            continue
        arc = arc_of(a, b)
        reach = min(1.0, SAGITTA / max(arc.radius * scale, SAGITTA))
        count = max(2, math.ceil(abs(arc.sweep) / (2.0 * math.acos(1.0 - reach))))
        for i in range(1, count):
            x, y = arc.at(arc.start + arc.sweep * i / count)
            points.append((x * scale, y * scale))
    return Stroke(tuple(points), pen, closed=True, layer=layer)


def _running(drawn: Picture) -> tuple[bool, bool]:
    """Running dimensions of all that has them; whether they tell overall length and width."""
    plan = drawn.plan
    spots: list[Spot] = []
    if plan.corners_run:
        spots += [Spot(c.x, c.y) for c in plan.corners]
    across, up = list(spots), list(spots)
    if plan.openings_run:
        for one in plan.plain:
            x0, y0, x1, y1 = one.box
            middle = Spot((x0 + x1) / 2.0, (y0 + y1) / 2.0)
            # A round opening is told by its middle, others by their edges.
            across += [middle] if one.round else [Spot(x0, y0), Spot(x1, y0)]
            up += [middle] if one.round else [Spot(x0, y0), Spot(x0, y1)]
    if plan.holes_run:
        lettered = len(plan.kinds) > 1
        holes = [
            Spot(hole.x, hole.y, kind.letter if lettered else "")
            for kind in plan.kinds
            for hole in kind.holes
        ]
        across += holes
        up += holes
    return _ordinates(drawn, across, 0), _ordinates(drawn, up, 1)


def _ordinates(drawn: Picture, spots: Iterable[Spot], axis: int) -> bool:
    """One for each distance but nought and the whole, on the side that its points are near.

    Those on the far side end with the whole, which is returned: it then needs no dimension.
    """
    whole = (drawn.line.length, drawn.line.width)
    sides: tuple[tuple[Side, Side], ...] = (("below", "above"), ("left", "right"))
    edges = (0.0, drawn.size[1 - axis])
    listed = distances(spots, axis, whole[axis])
    away = [min(s.at(1 - axis) for s in one.spots) > FARTHER * whole[1 - axis] for one in listed]
    for far, side, edge in zip((False, True), sides[axis], edges, strict=True):
        here = [one for one, there in zip(listed, away, strict=True) if there is far]
        pick = max if far else min
        ends = [pick(one.spots, key=lambda s: s.at(1 - axis)) for one in here]
        told = told_apart(here, axis, drawn.scale, drawn.wording)
        ordinates = [
            Ordinate(drawn.at(end.x, end.y), words) for end, words in zip(ends, told, strict=True)
        ]
        if far and ordinates:
            ordinates.append(Ordinate(drawn.at(*whole), drawn.length(whole[axis])))
        if ordinates:
            running(drawn.layout, (0.0, 0.0), ordinates, side, edge)
    return any(away)


def _corner_words(drawn: Picture) -> None:
    """Roundings by their radius; the corners of free outlines by their numbers."""
    plan = drawn.plan
    if not plan.corners_run:
        _numbered(drawn, plan.corners, CORNER)
    else:
        radii: dict[float, list[Corner]] = {}
        for corner in plan.corners:
            if corner.radius:
                radii.setdefault(round(corner.radius, 3), []).append(corner)
        for radius, rounded in sorted(radii.items()):
            many = f"{len(rounded)} × " if len(rounded) > 1 else ""
            told = f"{many}R{drawn.length(radius)}"
            # The last corner of an outline that begins at the lower left is an upper one.
            leader(drawn.layout, drawn.at(rounded[-1].x, rounded[-1].y), told)
    for one, letter in zip(plan.free, letters(plan), strict=True):
        tiny = max(one.size) * drawn.scale < TINY
        _numbered(drawn, corners(one.loop)[: 1 if tiny else None], letter)


def letters(plan: Plan) -> list[str]:
    """A capital for each free opening."""
    return [_capital(i) for i in range(len(plan.free))]


def plain_letters(plan: Plan) -> list[str]:
    """A capital for each other opening that a table tells, after those of the free ones."""
    return [_capital(len(plan.free) + i) for i in range(len(plan.plain))]


def _capital(index: int) -> str:
    return LETTERS[index % len(LETTERS)] * (1 + index // len(LETTERS))


def _numbered(drawn: Picture, found: Sequence[Corner], letter: str) -> None:
    last: Point | None = None
    for i, corner in enumerate(found, start=1):
        point = drawn.at(corner.x, corner.y)
        if last is None or math.dist(point, last) >= NUMBERED:
            _beside(drawn, point, f"{letter}{i}", 0.0)
            last = point


def _beside(drawn: Picture, point: Point, told: str, radius: float) -> None:
    """A small number beside a point, or at the end of a leader where there is no room."""

    def ways() -> Iterator[list[Mark]]:
        for reach in (0.9, 1.6, 2.6):
            out = radius + reach
            for dx, dy in ((1, 1), (-1, 1), (1, -1), (-1, -1), (0, 1), (0, -1), (1, 0), (-1, 0)):
                x = point[0] + dx * out
                y = point[1] + dy * out - (0.0 if dy > 0 else HEIGHT if dy < 0 else HEIGHT / 2.0)
                anchor: Anchor = "left" if dx > 0 else "right" if dx < 0 else "middle"
                yield [Text((x, y), told, HEIGHT, anchor, layer="NUMBER")]

    if not drawn.layout.first(ways()):
        leader(drawn.layout, point, told, radius=radius)


def _opening_words(drawn: Picture) -> None:
    """What an opening is, at the end of a leader; its number where a table tells the rest."""
    plan, wording = drawn.plan, drawn.wording
    told: dict[str, list[Opening]] = {}
    for one, letter in zip(plan.plain, plain_letters(plan), strict=True):
        if plan.openings_run:
            told.setdefault(opening_told(one, wording), []).append(one)
        else:
            left, lower, right, upper = one.box
            middle = drawn.at((left + right) / 2.0, (lower + upper) / 2.0)
            _inside_or_leader(drawn, middle, letter)
    for words, same in told.items():
        many = f"{len(same)} × " if len(same) > 1 else ""
        left, lower, right, upper = same[0].box
        tip = drawn.at(right - 0.25 * (right - left), upper)
        leader(drawn.layout, tip, many + words)


def _inside_or_leader(drawn: Picture, middle: Point, told: str) -> None:
    text = Text((middle[0], middle[1] - HEIGHT / 2.0), told, HEIGHT, "middle", layer="NUMBER")
    if not drawn.layout.first([[text]]):
        leader(drawn.layout, middle, told, dot=True)


def opening_told(one: Opening, wording: Wording) -> str:
    """An opening's kind, rounding and depth: `cut-out R15`, `groove, 6 deep`."""
    name = wording.work(one.purpose)
    if one.round:
        name = f"Ø{wording.length(2.0 * one.radius)} {name}"
    elif one.radius:
        name = f"{name} R{wording.length(one.radius)}"
    return f"{name}, {depth_told(one.depth, one.face, wording)}"


def depth_told(depth: float | None, face: Face, wording: Wording) -> str:
    """How deep, and from which face if not from the one that is seen."""
    if depth is None:
        return wording.say("through")
    told = wording.length(depth)
    if face is Face.A:
        return wording.say("deep", depth=told)
    return wording.say("deep_face", depth=told, face=face.value)


def kind_told(kind: HoleKind, wording: Wording) -> str:
    """Holes of a kind: `12 × Ø4.5 through, screw`."""
    told = wording.say(
        "holes_of_kind",
        count=len(kind.holes),
        diameter=wording.tool(kind.diameter, 2),
        depth=depth_told(kind.depth, kind.face, wording),
    )
    return f"{told}, {wording.work(kind.purpose)}" if kind.purpose else told


def _hole_words(drawn: Picture) -> None:
    """One kind by a leader; several by letters; numbers where a table tells the places."""
    plan, scale = drawn.plan, drawn.scale
    if not plan.holes_run:
        number = 0
        for kind in plan.kinds:
            for hole in kind.holes:
                number += 1
                _beside(drawn, drawn.at(hole.x, hole.y), f"{number}", hole.diameter / 2.0 * scale)
        return
    if len(plan.kinds) == 1:
        kind = plan.kinds[0]
        # Rather at the end, where dimensions leave most room.
        for hole in reversed(kind.holes):
            tip, radius = drawn.at(hole.x, hole.y), hole.diameter / 2.0 * scale
            if leader(drawn.layout, tip, kind_told(kind, drawn.wording), radius=radius):
                return
    for kind in plan.kinds:
        for hole in kind.holes:
            _beside(drawn, drawn.at(hole.x, hole.y), kind.letter, hole.diameter / 2.0 * scale)
