"""Edging: parts are cut smaller by the strips that are glued to their edges.

      ┌┬──────────────┬┐   the finished part is as designed; from each edge that gets a strip
      ││   as cut     ││   its thickness is cut off: the strip's inner face is the cut edge.
      ││              ││   Holes, pockets and cut-outs keep their places in the finished part.
      └┴──────────────┴┘

Strips go on straight edges of the outer outline, but on none that is scribed to the vehicle once
the part is cut. Where such an edge meets a curve the curve goes
on to the cut edge; where it would not reach it the edges stay bare and the part says so.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from fitout.model.edging import Edge, EdgingSpec, Strip
from fitout.model.outline import Loop, Outline, Point, Vertex, arc_of
from fitout.model.panel import Panel

LEAST_EDGE = 30.0
"""No strip goes on a shorter edge, mm (common practice)."""

TRIMMING = 0.05
"""What is bought more than the edges measure, for trimming the ends (common practice)."""

OVERHANG = 2.0
"""By how much a strip is wider than the board is thick, to be planed flush (common practice)."""

FARTHEST = 4.0
"""A corner that edging moves by more than so many thicknesses is too pointed for it."""

SIDES = ("left", "right", "lower", "upper")
"""The edges of a part as drawn, with the grain (or the longer side) to the right."""

IN_THE_BAY: tuple[tuple[Edge, Edge], ...] = (
    ("rear", "front"),
    ("right", "left"),
    ("bottom", "top"),
)
"""Edges that face against and along each axis of the bay."""

NOT_DONE = "edges too short or too pointed for edging"


def edged(panels: Iterable[Panel]) -> Iterator[Panel]:
    """The panels as they are cut, with the strips that make them whole again.

    What their boards want of edging is done with: boards of one sheet are alike after it.
    """
    for panel in panels:
        wish = panel.board.edging
        if wish is None:
            yield panel
            continue
        bare = replace(panel, board=replace(panel.board, edging=None))
        yield _edged(bare, wish)


def _edged(panel: Panel, wish: EdgingSpec) -> Panel:
    loop = panel.outline.outer.anticlockwise()
    chosen = {i for i, (a, b) in enumerate(loop.segments()) if _wanted(panel, a, b, wish.edges)}
    cut = inset(loop, chosen, wish.thickness) if chosen else None
    if cut is None:
        words = [panel.edging, NOT_DONE] if chosen else [panel.edging]
        return replace(panel, edging="; ".join(word for word in words if word))
    strips = tuple(
        Strip((a.x, a.y), (b.x, b.y), wish.thickness, wish.price)
        for i, (a, b) in enumerate(loop.segments())
        if i in chosen
    )
    return replace(panel, outline=Outline(cut, panel.outline.inner), strips=strips)


def _wanted(panel: Panel, a: Vertex, b: Vertex, edges: Iterable[Edge]) -> bool:
    """Whether a segment of the outline, run anticlockwise, is to get a strip."""
    dx, dy = b.x - a.x, b.y - a.y
    length = math.hypot(dx, dy)
    if a.bulge or length < LEAST_EDGE:
        return False
    if panel.scribe is not None and ((a.x, a.y), (b.x, b.y)) in panel.scribe.edges:
        return False
    along, across = panel.outline.size
    lengthwise = (abs(dx) >= abs(dy)) == (along >= across)
    names: set[Edge] = {"all", "long" if lengthwise else "short"}
    place = panel.placement
    out = [(dy * u - dx * v) / length for u, v in zip(place.u, place.v, strict=True)]
    axis = max(range(3), key=lambda k: abs(out[k]))
    names.add(IN_THE_BAY[axis][out[axis] > 0.0])
    return not names.isdisjoint(edges)


@dataclass(frozen=True, slots=True)
class _Line:
    """A straight line through a point, its direction of length 1."""

    at: Point
    way: Point


@dataclass(frozen=True, slots=True)
class _Circle:
    """The circle of an arc; which way it turns, and the middle of the arc."""

    centre: Point
    radius: float
    left: bool
    middle: Point


@dataclass(frozen=True, slots=True)
class _Side:
    """A segment of the finished outline and the curve its cut one lies on."""

    start: Vertex
    end: Vertex
    curve: _Line | _Circle
    moved: bool


def inset(loop: Loop, chosen: Iterable[int], depth: float) -> Loop | None:
    """A loop run anticlockwise with some straight segments moved inwards by `depth`.

    None where what stays would be no outline of the same kind: an edge used up, a corner so
    pointed that it moves far, a curve that does not reach the moved edge.
    """
    moved = set(chosen)
    sides = [
        _Side(a, b, _curve(a, b, depth if i in moved else 0.0), i in moved)
        for i, (a, b) in enumerate(loop.segments())
    ]
    around = [(sides[i - 1], s, sides[(i + 1) % len(sides)]) for i, s in enumerate(sides)]
    kept = [side for before, side, after in around if not _used_up(before, side, after)]
    while len(kept) > 2:
        points = _points(kept, depth)
        if points is None:
            return None
        ends = [*points[1:], points[0]]
        backwards = [
            side
            for side, here, there in zip(kept, points, ends, strict=True)
            if isinstance(side.curve, _Line) and not _runs_on(side, here, there)
        ]
        if not backwards:
            made = Loop(tuple(map(_vertex, kept, points, ends)))
            return made if 0.0 < made.signed_area < loop.signed_area else None
        short = [side for side in backwards if not side.moved and _length(side) <= depth]
        if not short:
            return None
        # An edge that lies in the strip alone; those beside it meet without it.
        kept = [side for side in kept if side is not short[0]]
    return None


def _points(sides: Sequence[_Side], depth: float) -> list[Point] | None:
    """Where each side begins; None where two don't meet, or far from where they did."""
    points: list[Point] = []
    for i, side in enumerate(sides):
        before, at = sides[i - 1], (side.start.x, side.start.y)
        if side.moved or before.moved or _gap(before, at) > 1e-6:
            met = _meet(before.curve, side.curve, at)
            straight = isinstance(before.curve, _Line) and isinstance(side.curve, _Line)
            if met is None or (
                straight and math.dist(met, at) > FARTHEST * depth + _gap(before, at)
            ):
                return None
            at = met
        points.append(at)
    return points


def _vertex(side: _Side, here: Point, there: Point) -> Vertex:
    ring = side.curve
    return Vertex(*here, _bulge(ring, here, there) if isinstance(ring, _Circle) else 0.0)


def _length(side: _Side) -> float:
    return math.hypot(side.end.x - side.start.x, side.end.y - side.start.y)


def _gap(before: _Side, at: Point) -> float:
    """How far a side's end lies from where the next begins: an arc between them was used up."""
    return math.dist((before.end.x, before.end.y), at)


def _runs_on(side: _Side, here: Point, there: Point) -> bool:
    """Whether a straight side still runs the way it did."""
    dx, dy = side.end.x - side.start.x, side.end.y - side.start.y
    return dx * (there[0] - here[0]) + dy * (there[1] - here[1]) > 0.0


def _used_up(before: _Side, side: _Side, after: _Side) -> bool:
    """Whether a rounded corner lies in the strips alone: the cut corner is a sharp one."""
    ring = side.curve
    if not isinstance(ring, _Circle) or not ring.left or not (before.moved and after.moved):
        return False
    corner = _meet(before.curve, after.curve, ring.middle)
    return corner is not None and math.dist(corner, ring.centre) <= ring.radius


def _curve(a: Vertex, b: Vertex, depth: float) -> _Line | _Circle:
    if a.bulge:
        arc = arc_of(a, b)
        middle = arc.at(arc.start + arc.sweep / 2.0)
        return _Circle(arc.centre, arc.radius, left=a.bulge > 0.0, middle=middle)
    length = math.hypot(b.x - a.x, b.y - a.y)
    way = ((b.x - a.x) / length, (b.y - a.y) / length)
    return _Line((a.x - depth * way[1], a.y + depth * way[0]), way)


def _meet(first: _Line | _Circle, second: _Line | _Circle, near: Point) -> Point | None:
    """Where two curves cross, nearest to a point."""
    if isinstance(first, _Circle):
        if isinstance(second, _Circle):
            return near
        first, second = second, first
    if isinstance(second, _Circle):
        return _on_circle(first, second, near)
    turn = first.way[0] * second.way[1] - first.way[1] * second.way[0]
    dx, dy = second.at[0] - first.at[0], second.at[1] - first.at[1]
    if abs(turn) < 1e-9:
        # Straight on: both moved alike, or neither.
        aside = first.way[0] * dy - first.way[1] * dx
        if abs(aside) > 1e-6:
            return None
        reach = (near[0] - first.at[0]) * first.way[0] + (near[1] - first.at[1]) * first.way[1]
    else:
        reach = (dx * second.way[1] - dy * second.way[0]) / turn
    return first.at[0] + reach * first.way[0], first.at[1] + reach * first.way[1]


def _on_circle(line: _Line, ring: _Circle, near: Point) -> Point | None:
    dx, dy = line.at[0] - ring.centre[0], line.at[1] - ring.centre[1]
    half = dx * line.way[0] + dy * line.way[1]
    inside = half * half - (dx * dx + dy * dy - ring.radius**2)
    if inside < 0.0:
        return None
    root = math.sqrt(inside)
    found = [
        (line.at[0] + reach * line.way[0], line.at[1] + reach * line.way[1])
        for reach in (-half - root, -half + root)
    ]
    # Where an arc runs out of the edge both are as near: the one towards its middle is on it.
    return min(found, key=lambda p: math.dist(p, near) + math.dist(p, ring.middle))


def _bulge(ring: _Circle, start: Point, end: Point) -> float:
    angles = [math.atan2(p[1] - ring.centre[1], p[0] - ring.centre[0]) for p in (start, end)]
    sweep = (angles[1] - angles[0]) % math.tau
    return math.tan((sweep if ring.left else sweep - math.tau) / 4.0)


def finished_size(panel: Panel) -> tuple[float, float]:
    """Length and width of a panel with its strips on, and its edges scribed."""
    whole = panel.outline if panel.scribe is None else Outline(panel.scribe.finished)
    x0, y0, x1, y1 = whole.bounds
    xs = [x0, x1, *(p[0] for s in panel.strips for p in (s.start, s.end))]
    ys = [y0, y1, *(p[1] for s in panel.strips for p in (s.start, s.end))]
    return max(xs) - min(xs), max(ys) - min(ys)


def strips_told(panel: Panel) -> str:
    """Which edges get strips, as the part is drawn: `2 mm edging left, upper edge`."""
    if not panel.strips:
        return ""
    x0, y0, x1, y1 = panel.outline.bounds
    middle = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    named: dict[float, set[str]] = {}
    for strip in panel.strips:
        named.setdefault(strip.thickness, set()).add(side_of(strip.start, strip.end, middle))
    told = (f"{thickness:g} mm edging {sides_told(sides)}" for thickness, sides in named.items())
    return "; ".join(told)


def sides_told(sides: Collection[str]) -> str:
    """Edges of a part as it is drawn: `left, upper edge`."""
    listed = [side for side in SIDES if side in sides]
    return "all round" if len(listed) == len(SIDES) else f"{', '.join(listed)} edge"


def side_of(start: Point, end: Point, middle: Point) -> str:
    """Which edge of a part round its middle a straight one belongs to."""
    (ax, ay), (bx, by) = start, end
    if abs(bx - ax) >= abs(by - ay):
        return "upper" if ay + by > 2.0 * middle[1] else "lower"
    return "right" if ax + bx > 2.0 * middle[0] else "left"


def strip_run(panels: Iterable[Panel], thickness: float) -> float:
    """How much edging of a thickness to buy for panels, mm: their edges and the trimming."""
    run = sum(s.length for p in panels for s in p.strips if s.thickness == thickness)
    return (1.0 + TRIMMING) * run
