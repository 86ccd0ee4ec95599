"""Inside corners that a round bit can't cut square, relieved where another part sits in them.

A bit of radius r leaves r(1/sin(θ/2) - 1) of an inside corner of angle θ standing along its
bisector (6 mm bit, square corner: 1.24 mm). Where a body of the fit-out lies in that corner
it would not go in, so the corner is cut out:

    dogbone: a circle of the bit's radius on the bisector, through the corner
    T-bone:  a circle on the line of the shorter wall, through the corner: r beyond that wall;
             on the longer one where the shorter has no room for two

Only such corners are relieved, in a part's edge, its cut-outs and its pockets; the part as
cut, not the part as checked, since no body comes nearer by it. Not relieved, but left to be
squared by hand and told so: corners of parts with finished edges, since these are seen and
handled; and where too little material would stay between the relief and another edge.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from fitout.cutting.bodies import TOUCH, Body, block_round, meeting
from fitout.cutting.coupon import MODULE as TEST_PIECES
from fitout.cutting.cut_list import CutLine, CutList
from fitout.cutting.distance import distance, edges
from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Loop, Outline, Point, Vertex, circle, rectangle
from fitout.model.panel import Bar, Face, Panel

LEAST_WEB = 6.0
"""Least material between a relief and another edge, mm (common practice)."""

BETWEEN = 0.5
"""Least length of a wall that stays between the reliefs at its two ends, mm."""

SHARES = (0.2, 0.5, 0.8, 0.97)
"""Where along the bisector, and through the depth, bodies are looked for in a corner."""

SQUARE = 1e-3
"""Cosine within which a corner is square; T-bones are for square corners only."""

Style = Literal["dogbone", "T-bone", "none"]


@dataclass(frozen=True, slots=True)
class Corner:
    """A sharp inside corner of a loop: the vertex's number, its place, and along both walls.

    The directions lead away from the corner, to the vertex before and the one after;
    `walls` are those walls' lengths.
    """

    index: int
    at: Point
    before: Point
    after: Point
    walls: tuple[float, float]

    @property
    def half_angle(self) -> float:
        """Half the angle between the walls, radians."""
        cos = self.before[0] * self.after[0] + self.before[1] * self.after[1]
        return math.acos(max(-1.0, min(1.0, cos))) / 2.0

    @property
    def bisector(self) -> Point:
        """From the corner into the open."""
        x, y = self.before[0] + self.after[0], self.before[1] + self.after[1]
        length = math.hypot(x, y)
        return x / length, y / length

    def left_by(self, radius: float) -> float:
        """How much of the corner a bit leaves, along the bisector."""
        return radius * (1.0 / math.sin(self.half_angle) - 1.0)


def inside_corners(loop: Loop, *, hollow: bool) -> list[Corner]:
    """The corners between straight walls that point into the material.

    `hollow` for a loop that is cut out of the part; else it is the part's outer edge. The
    numbers are of the loop's vertices as run anticlockwise.
    """
    vertices = loop.anticlockwise().vertices
    found = []
    for i, here in enumerate(vertices):
        before, after = vertices[i - 1], vertices[(i + 1) % len(vertices)]
        if before.bulge or here.bulge:
            continue
        a, b = (before.x - here.x, before.y - here.y), (after.x - here.x, after.y - here.y)
        long_a, long_b = math.hypot(*a), math.hypot(*b)
        left = (b[0] * a[1] - b[1] * a[0]) / (long_a * long_b)
        if (left if hollow else -left) > 1e-3:
            units = (a[0] / long_a, a[1] / long_a), (b[0] / long_b, b[1] / long_b)
            found.append(Corner(i, (here.x, here.y), *units, (long_a, long_b)))
    return found


def wall_of(
    corner: Corner, radius: float, style: Style
) -> Literal["both", "before", "after"] | None:
    """Which wall the bit's centre stands on: between both for a dogbone, on one for a T-bone.

    A wall holds two reliefs, one at each end. Where it is too short for dogbones a T-bone
    takes their place, and the longer wall that of the shorter; None if all are too short.
    """
    square = abs(math.cos(2.0 * corner.half_angle)) < SQUARE
    shorter: Literal["before", "after"] = (
        "before" if corner.walls[0] <= corner.walls[1] else "after"
    )
    dogbone = 2.0 * radius * math.cos(corner.half_angle)
    if (style == "dogbone" or not square) and min(corner.walls) > 2.0 * dogbone + BETWEEN:
        return "both"
    if not square or max(corner.walls) < 4.0 * radius + BETWEEN:
        return None
    if style == "T-bone" and min(corner.walls) > 4.0 * radius + BETWEEN:
        return shorter
    return "after" if shorter == "before" else "before"


def relief(corner: Corner, radius: float, style: Style) -> tuple[Vertex, Vertex] | None:
    """The vertices that take the corner's place, along its loop; None if walls are too short.

    The arc turns as the loop of a hollow does; on a part's outer edge it turns the other way.
    """
    x, y = corner.at
    wall = wall_of(corner, radius, style)
    if wall is None:
        return None
    if wall == "both":
        chord = 2.0 * radius * math.cos(corner.half_angle)
        (ax, ay), (bx, by) = corner.before, corner.after
        bulge = math.tan(math.pi / 2.0 - corner.half_angle)
        return Vertex(x + chord * ax, y + chord * ay, bulge), Vertex(x + chord * bx, y + chord * by)
    along = corner.before if wall == "before" else corner.after
    far = (x + 2.0 * radius * along[0], y + 2.0 * radius * along[1])
    if wall == "before":
        return Vertex(*far, 1.0), Vertex(x, y)
    return Vertex(x, y, 1.0), Vertex(*far)


def centre(corner: Corner, radius: float, style: Style) -> Point:
    """Where the bit's centre stands in the relief."""
    wall = wall_of(corner, radius, style)
    way = {"before": corner.before, "after": corner.after}.get(wall or "", corner.bisector)
    return corner.at[0] + radius * way[0], corner.at[1] + radius * way[1]


def relieved(cuts: CutList, bodies: Sequence[Panel | Bar], spec: CuttingSpec) -> CutList:
    """The cut list with its corners relieved; a line says how many are to square by hand.

    A part's corner is relieved if any of its panels needs it: parts stay alike. Boards that
    a saw cuts are left as they are.
    """
    held = [Body(body) for body in bodies]
    lines = []
    for line in cuts.lines:
        own = spec.of(line.board.key)
        lines.append(_relieved(line, held, own) if own.by == "router" else line)
    return dataclasses.replace(cuts, lines=tuple(lines))


def _relieved(line: CutLine, bodies: Sequence[Body], spec: CuttingSpec) -> CutLine:
    panel, radius = line.panel, spec.kerf / 2.0
    left = 0
    new: dict[int, Loop] = {}
    loops = list(_loops(panel))
    for which, (loop, hollow, depths) in enumerate(loops):
        changes = {}
        for corner in inside_corners(loop, hollow=hollow):
            if not _sat_in(corner, line, bodies, radius, depths):
                continue
            cut = relief(corner, radius, spec.corners) if spec.corners != "none" else None
            if cut is None or panel.edging or _thin(corner, panel, which, spec):
                left += 1
            else:
                changes[corner.index] = cut if hollow else _outward(cut)
        if changes:
            new[which] = _changed(loop, changes)
    if not new:
        return dataclasses.replace(line, by_hand=left) if left else line
    taken = [new.get(i, loop) for i, (loop, _, _) in enumerate(loops)]
    inner = len(panel.outline.inner)
    outline = Outline(taken[0], tuple(taken[1 : 1 + inner]))
    sinks = taken[1 + inner :]
    panels = tuple(
        dataclasses.replace(
            each,
            outline=outline,
            pockets=tuple(
                dataclasses.replace(pocket, loop=loop)
                for pocket, loop in zip(panel.pockets, sinks, strict=True)
            ),
        )
        for each in line.panels
    )
    return dataclasses.replace(line, panels=panels, by_hand=left)


def _outward(cut: tuple[Vertex, ...]) -> tuple[Vertex, ...]:
    """The same relief on the part's outer edge, where the open lies on the other side."""
    return tuple(Vertex(v.x, v.y, -v.bulge) for v in cut)


def _changed(loop: Loop, changes: dict[int, tuple[Vertex, ...]]) -> Loop:
    vertices: list[Vertex] = []
    for i, vertex in enumerate(loop.anticlockwise().vertices):
        vertices += changes.get(i, (vertex,))
    return Loop(tuple(vertices))


def _loops(panel: Panel) -> Iterator[tuple[Loop, bool, tuple[float, float]]]:
    """Each loop, whether it is cut out of the part, and from which w to which."""
    whole = (0.0, panel.thickness)
    yield panel.outline.outer, False, whole
    for loop in panel.outline.inner:
        yield loop, True, whole
    for pocket in panel.pockets:
        low = panel.thickness - pocket.depth if pocket.face is Face.A else 0.0
        yield pocket.loop, True, (low, low + pocket.depth)


def _sat_in(
    corner: Corner,
    line: CutLine,
    bodies: Sequence[Body],
    radius: float,
    depths: tuple[float, float],
) -> bool:
    """Whether a body lies in what the bit leaves of the corner, at any of the part's panels.

    A corner on the part's edge or beyond it is none: the bit runs out there. In a test piece's
    groove its board is tried.
    """
    x0, y0, x1, y1 = line.panel.outline.bounds
    x, y = corner.at
    if not (x0 + TOUCH < x < x1 - TOUCH and y0 + TOUCH < y < y1 - TOUCH):
        return False
    if line.panel.module == TEST_PIECES:
        return True
    reach, way = corner.left_by(radius), corner.bisector
    spots = [
        (x + reach * s * way[0], y + reach * s * way[1], depths[0] + d * (depths[1] - depths[0]))
        for s in SHARES
        for d in SHARES
    ]
    for panel in line.panels:
        places = [panel.placement.at(*spot) for spot in spots]
        for body in meeting(bodies, block_round(places)):
            if body.part.id != panel.id and any(body.holds(place) for place in places):
                return True
    return False


def _thin(corner: Corner, panel: Panel, which: int, spec: CuttingSpec) -> bool:
    """Whether the relief comes too near another loop, a hole or a pocket of the part."""
    radius = spec.kerf / 2.0
    spot = Outline(circle(*centre(corner, radius, spec.corners), 2.0 * radius))
    around = edges(spot)
    others = [loop for i, (loop, _, _) in enumerate(_loops(panel)) if i not in (0, which)]
    others += [hole.loop for hole in panel.holes]
    if any(distance(around, edges(Outline(loop))) < LEAST_WEB for loop in others):
        return True
    x0, y0, x1, y1 = panel.outline.bounds
    ox0, oy0, ox1, oy1 = spot.bounds
    if min(ox0 - x0, oy0 - y0, x1 - ox1, y1 - oy1) < LEAST_WEB:
        return True
    # On the outer edge the relief opens into what surrounds the part.
    beyond = rectangle(x1 - x0 + 20.0, y1 - y0 + 20.0, x0 - 10.0, y0 - 10.0)
    outside = Outline(beyond, (panel.outline.outer,))
    return which > 0 and distance(around, edges(outside)) < LEAST_WEB
