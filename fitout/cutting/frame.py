"""The drawing frame of a panel, and when two panels are one and the same part.

Drawing frame: x along the face grain (along the longer side where the grain is free), the
outline's bounding rectangle with its lower left corner at the origin, face A up.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterable

from fitout.model.edging import Strip
from fitout.model.outline import Loop, Outline, Point, Vertex, arc_of
from fitout.model.panel import Face, Grain, Hole, Panel, Pocket
from fitout.model.placement import Placement, opposite
from fitout.model.scribing import Scribe
from fitout.model.stock import Board

COORDINATE_DIGITS = 6
"""Panels that differ by less than a millionth of a millimetre are the same part."""

SHIFT = 0.29
"""By how much of the last digit values are shifted before they are rounded."""

BULGE_DIGITS = 9

TWO_FACED_ALIKE = frozenset({"plywood", "mdf", "hardboard", "foam", "metal", "plastic"})
"""Kinds of board whose faces can change places without anybody noticing (common practice)."""

Key = tuple[object, ...]


@dataclasses.dataclass(frozen=True, slots=True)
class Turn:
    """Turned over about the y axis (if `flipped`), then turned by quarter turns anticlockwise."""

    quarters: int = 0
    flipped: bool = False

    def after(self, first: Turn) -> Turn:
        """The turn that does `first` and then this one."""
        sign = -1 if self.flipped else 1
        return Turn((self.quarters + sign * first.quarters) % 4, self.flipped != first.flipped)

    def undone(self) -> Turn:
        """The turn that takes this one back."""
        return self if self.flipped else Turn(-self.quarters % 4)


def grain_locked(panel: Panel) -> bool:
    """Whether the panel must follow the sheet's face grain."""
    return panel.board.grain and panel.grain is not Grain.EITHER


def drawing_turn(panel: Panel) -> Turn:
    """How the panel's own (u, v) is turned to lie as it is drawn."""
    if grain_locked(panel):
        return Turn(3 if panel.grain is Grain.ALONG_V else 0)
    along, across = panel.outline.size
    return Turn(3 if across > along else 0)


def may_be_flipped(panel: Panel) -> bool:
    """Whether the panel turned over is as good: every feature goes through, faces alike."""
    blind_holes = any(h.depth is not None and h.depth < panel.thickness for h in panel.holes)
    return not panel.pockets and not blind_holes and faces_alike(panel.board)


def faces_alike(board: Board) -> bool:
    """Whether the board's two faces are as good as each other."""
    return board.kind in TWO_FACED_ALIKE


def reframed(panel: Panel, turn: Turn, at: Point = (0.0, 0.0)) -> Panel:
    """The same part told in turned coordinates, its bounding rectangle's corner at `at`.

    The placement changes with the coordinates, so the part stays where it is in the bay.
    Where the part is turned over, blind features change face.
    """
    outline = _turned_outline(panel.outline, turn)
    left, lower, _, _ = outline.bounds
    x0, y0 = left - at[0], lower - at[1]
    sign = -1.0 if turn.flipped else 1.0
    holes = []
    for hole in panel.holes:
        x, y = _turned_point(sign * hole.x, hole.y, turn.quarters)
        holes.append(
            dataclasses.replace(hole, x=x - x0, y=y - y0, face=_face(hole.face, turn.flipped))
        )
    pockets = [
        dataclasses.replace(
            pocket,
            loop=_turned_loop(pocket.loop, turn).moved(-x0, -y0),
            face=_face(pocket.face, turn.flipped),
        )
        for pocket in panel.pockets
    ]
    return dataclasses.replace(
        panel,
        outline=outline.moved(-x0, -y0),
        holes=tuple(holes),
        pockets=tuple(pockets),
        strips=tuple(_turned_strip(strip, turn, (x0, y0)) for strip in panel.strips),
        scribe=panel.scribe and _turned_scribe(panel.scribe, turn, (x0, y0)),
        grain=Grain.ALONG_U if grain_locked(panel) else Grain.EITHER,
        placement=_turned_placement(panel, turn, (x0, y0)),
    )


def carried(panel: Panel, turn: Turn, at: Point, points: Iterable[Point]) -> list[Point]:
    """Points of the panel's frame, told in the frame that `reframed` gives it."""
    left, lower, _, _ = _turned_outline(panel.outline, turn).bounds
    sign = -1.0 if turn.flipped else 1.0
    turned = [_turned_point(sign * x, y, turn.quarters) for x, y in points]
    return [(x - left + at[0], y - lower + at[1]) for x, y in turned]


def _turned_strip(strip: Strip, turn: Turn, corner: Point) -> Strip:
    start, end = _turned_edge((strip.start, strip.end), turn, corner)
    return dataclasses.replace(strip, start=start, end=end)


def _turned_scribe(scribe: Scribe, turn: Turn, corner: Point) -> Scribe:
    return Scribe(
        _turned_loop(scribe.finished, turn).moved(-corner[0], -corner[1]),
        tuple(_turned_edge(edge, turn, corner) for edge in scribe.edges),
        scribe.allowance,
    )


def _turned_edge(edge: tuple[Point, Point], turn: Turn, corner: Point) -> tuple[Point, Point]:
    sign = -1.0 if turn.flipped else 1.0
    start, end = (_turned_point(sign * x, y, turn.quarters) for x, y in edge)
    return (start[0] - corner[0], start[1] - corner[1]), (end[0] - corner[0], end[1] - corner[1])


def _face(face: Face, flipped: bool) -> Face:
    if not flipped:
        return face
    return Face.B if face is Face.A else Face.A


def _turned_point(x: float, y: float, quarters: int) -> tuple[float, float]:
    cos, sin = ((1, 0), (0, 1), (-1, 0), (0, -1))[quarters % 4]
    return cos * x - sin * y, sin * x + cos * y


def _turned_loop(loop: Loop, turn: Turn) -> Loop:
    return (loop.mirrored() if turn.flipped else loop).turned(turn.quarters)


def _turned_outline(outline: Outline, turn: Turn) -> Outline:
    return Outline(
        _turned_loop(outline.outer, turn),
        tuple(_turned_loop(loop, turn) for loop in outline.inner),
    )


def _turned_placement(panel: Panel, turn: Turn, corner: tuple[float, float]) -> Placement:
    """Where the drawing's axes lie in the bay; `corner` is the drawing's origin, turned."""
    place = panel.placement
    across = opposite(place.u) if turn.flipped else place.u
    axes = (across, place.v, opposite(across), opposite(place.v))
    u, v = axes[-turn.quarters % 4], axes[(1 - turn.quarters) % 4]
    x, y = _turned_point(*corner, -turn.quarters)
    origin = place.at(-x if turn.flipped else x, y, panel.thickness if turn.flipped else 0.0)
    return Placement(origin, u, v)


def part_key(panel: Panel) -> tuple[Key, Turn]:
    """What two panels must share to be the same part, and the turn that brings it out.

    The key is the least of the panel's description over all turns that leave the part as
    good: half turns, quarter turns too where the grain is free, and turning over where
    nothing would show it.
    """
    tidy = dataclasses.replace(
        panel,
        outline=Outline(
            simplified(panel.outline.outer), tuple(simplified(i) for i in panel.outline.inner)
        ),
        pockets=tuple(
            dataclasses.replace(pocket, loop=simplified(pocket.loop)) for pocket in panel.pockets
        ),
    )
    start = drawing_turn(panel).quarters
    quarters = (start, start + 2) if grain_locked(panel) else range(4)
    flips = (False, True) if may_be_flipped(panel) else (False,)
    turns = [Turn(q % 4, flip) for q in quarters for flip in flips]
    # The outer loop comes first in the description: only turns with the least need the rest.
    edges = [_loop_key(_framed(tidy.outline.outer, turn)) for turn in turns]
    least = min(edges)
    keyed = [
        (_features_key(reframed(tidy, turn)), turn.flipped, turn.quarters)
        for turn, edge in zip(turns, edges, strict=True)
        if edge == least
    ]
    features, flipped, turned = min(keyed)
    return (features, grain_locked(panel), panel.edging), Turn(turned, flipped)


def _framed(outer: Loop, turn: Turn) -> Loop:
    """A panel's outer loop as `reframed` tells it."""
    turned = _turned_loop(outer, turn)
    left, lower, _, _ = turned.bounds
    return turned.moved(-left, -lower)


def _features_key(panel: Panel) -> Key:
    return (
        _loop_key(panel.outline.outer),
        tuple(sorted(_loop_key(loop) for loop in panel.outline.inner)),
        tuple(sorted(_hole_key(hole, panel.thickness) for hole in panel.holes)),
        tuple(sorted(_pocket_key(pocket) for pocket in panel.pockets)),
        tuple(sorted(_strip_key(strip) for strip in panel.strips)),
        () if panel.scribe is None else _scribe_key(panel.scribe),
    )


def _rounded(value: float, digits: int = COORDINATE_DIGITS) -> float:
    # Halves, thirds and quarters of rounded sizes are common: shifted, none lies where copies
    # that differ by their last bit are rounded apart.
    return round(value + SHIFT * 10.0**-digits, digits) + 0.0


def _hole_key(hole: Hole, thickness: float) -> tuple[float, float, float, float, str]:
    depth = thickness if hole.depth is None else min(hole.depth, thickness)
    face = hole.face.value if depth < thickness else ""
    return _rounded(hole.x), _rounded(hole.y), _rounded(hole.diameter), _rounded(depth), face


def _pocket_key(pocket: Pocket) -> tuple[str, float, tuple[tuple[float, float, float], ...]]:
    return pocket.face.value, _rounded(pocket.depth), _loop_key(pocket.loop)


def _scribe_key(scribe: Scribe) -> tuple[object, ...]:
    """What is left on, and its edges, whichever way they run."""
    ends = (sorted((_rounded(x), _rounded(y)) for x, y in edge) for edge in scribe.edges)
    return _rounded(scribe.allowance), *sorted(map(tuple, ends))


def _strip_key(strip: Strip) -> tuple[object, ...]:
    """Its thickness and its ends, whichever of them comes first."""
    ends = sorted((_rounded(x), _rounded(y)) for x, y in (strip.start, strip.end))
    return _rounded(strip.thickness), *ends


def _loop_key(loop: Loop) -> tuple[tuple[float, float, float], ...]:
    """The loop's vertices, rounded, from the least one on; a circle as centre and radius."""
    loop = loop.anticlockwise()
    if is_circle(loop):
        arc = arc_of(loop.vertices[0], loop.vertices[1])
        return ((_rounded(arc.centre[0]), _rounded(arc.centre[1]), -_rounded(arc.radius)),)
    vertices = [
        (_rounded(v.x), _rounded(v.y), _rounded(v.bulge, BULGE_DIGITS)) for v in loop.vertices
    ]
    first = vertices.index(min(vertices))
    return tuple(vertices[first:] + vertices[:first])


def is_circle(loop: Loop) -> bool:
    """Whether the loop is one full circle, in however many arcs."""
    pairs = list(loop.segments())
    return all(_same_arc(pairs[0], pair) for pair in pairs)


def simplified(loop: Loop) -> Loop:
    """The same loop without needless vertices: repeated, amid a straight edge, amid an arc."""
    vertices = list(_without_repeats(loop).vertices)
    if is_circle(Loop(tuple(vertices))):
        return Loop(tuple(vertices))
    i = 0
    while i < len(vertices) and len(vertices) > 2:
        before, here, after = vertices[i - 1], vertices[i], vertices[(i + 1) % len(vertices)]
        joined = _joined(before, here, after)
        if joined is None:
            i += 1
            continue
        vertices[i - 1] = joined
        del vertices[i]
    return Loop(tuple(vertices))


def _without_repeats(loop: Loop) -> Loop:
    kept = [
        a for a, b in loop.segments() if math.hypot(b.x - a.x, b.y - a.y) > 10.0**-COORDINATE_DIGITS
    ]
    return Loop(tuple(kept))


def _joined(before: Vertex, here: Vertex, after: Vertex) -> Vertex | None:
    """`before` with the bulge that takes it to `after`, if `here` can be left out."""
    first, second = (before, here), (here, after)
    if not before.bulge and not here.bulge:
        ax, ay = here.x - before.x, here.y - before.y
        bx, by = after.x - here.x, after.y - here.y
        off = abs(ax * by - ay * bx) / max(math.hypot(ax, ay), math.hypot(bx, by))
        return before if off < 10.0**-COORDINATE_DIGITS and ax * bx + ay * by > 0 else None
    if _same_arc(first, second):
        sweep = arc_of(*first).sweep + arc_of(*second).sweep
        return Vertex(before.x, before.y, math.tan(sweep / 4.0))
    return None


def _same_arc(first: tuple[Vertex, Vertex], second: tuple[Vertex, Vertex]) -> bool:
    """Whether both segments are arcs of one circle, turning the same way."""
    if first[0].bulge * second[0].bulge <= 0.0:
        return False
    a, b = arc_of(*first), arc_of(*second)
    apart = math.hypot(a.centre[0] - b.centre[0], a.centre[1] - b.centre[1])
    return apart + abs(a.radius - b.radius) < 10.0**-COORDINATE_DIGITS
