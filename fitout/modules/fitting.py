"""Panels of odd shape: where two really meet, and what a rectangle keeps of itself."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from fitout.model.module import JointKind
from fitout.model.outline import Loop, Outline, Point, polygon
from fitout.model.panel import Panel
from fitout.model.placement import Vector
from fitout.modules.joinery import CARCASS_SCREW, Draft
from fitout.modules.scribe import BIT_RADIUS, softened

Array = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]
Rectangle = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y."""

SAMPLE = 2.0
"""How closely a line is looked at for where two panels meet, mm."""

HOLE_TO_EDGE = 4.0
"""Least distance of a screw hole's centre from its panel's edges, mm (common practice)."""

SHORTEST_ROW = 12.0
"""On a shorter line there is no room for a screw, mm."""

LEAST_PIECE = 40.0
"""What is left of a rectangle is kept if it is at least so long and wide, mm."""


def within(panel: Panel, points: Array, margin: float = 0.0) -> Flags:
    """Whether points, in the panel's own axes, shape (n, 2), lie in its outline.

    With a `margin` they must also keep that far from every edge.
    """
    edges = _edges(panel.outline)
    inside = _inside(edges, points)
    return inside & (_to_edge(edges, points) >= margin) if margin > 0.0 else inside


@lru_cache(maxsize=256)
def _edges(outline: Outline) -> tuple[Array, Array]:
    """Starts and ends, shape (n, 2) each, of the chords of all the outline's loops."""
    loops = (outline.outer, *outline.inner)
    chords = [loop.chords(grows=False) for loop in loops]
    ends = [np.concatenate([a[1:], a[:1]]) for a in chords]
    return np.concatenate(chords), np.concatenate(ends)


def _inside(edges: tuple[Array, Array], points: Array) -> Flags:
    """Whether points lie in an outline: the number of edges on one side of them is odd."""
    a, b = edges
    x, y = points[:, :1], points[:, 1:]
    rises = (a[:, 1] > y) != (b[:, 1] > y)
    with np.errstate(divide="ignore", invalid="ignore"):
        crossing = a[:, 0] + (y - a[:, 1]) * (b[:, 0] - a[:, 0]) / (b[:, 1] - a[:, 1])
    crossed = np.count_nonzero(rises & (x < crossing), axis=1)
    return np.asarray(crossed % 2 == 1, dtype=bool)


def _to_edge(edges: tuple[Array, Array], points: Array) -> Array:
    """How far each point is from the nearest edge of an outline, mm."""
    (ax, ay), (bx, by) = edges[0].T, edges[1].T
    along_x, along_y = bx - ax, by - ay
    away_x, away_y = points[:, :1] - ax, points[:, 1:] - ay
    share = (away_x * along_x + away_y * along_y) / (along_x * along_x + along_y * along_y)
    share = share.clip(0.0, 1.0)
    near = np.hypot(away_x - share * along_x, away_y - share * along_y)
    return np.asarray(near.min(axis=1))


def meet(
    draft: Draft,
    pair: tuple[str, str],
    line: tuple[Vector, Vector],
    into: Vector,
    screw: str | None = CARCASS_SCREW,
    otherwise: JointKind = JointKind.FITTED,
) -> bool:
    """Join two panels along a line, with screws where there is room for them.

    `pair` names the panel screwed through and the one screwed into; `line` lies on the face
    where they meet, in the middle of the second one's thickness, and `into` points from that
    face into it. Without a `screw`, or room for one, they meet as `otherwise` says. Nothing
    is joined where the outlines don't meet; returns whether they do.
    """
    through, second = (draft.panels[name] for name in pair)
    start, end = np.array(line[0]), np.array(line[1])
    length = float(np.linalg.norm(end - start))
    if length < 2.0 * SAMPLE:
        return False
    shares = (np.arange(math.ceil(length / SAMPLE)) + 0.5) / math.ceil(length / SAMPLE)
    points = start + shares[:, None] * (end - start)
    beyond = _local(second, points + np.array(into))
    here = _local(through, points)
    meets = _in_thickness(through, points) & _in_thickness(second, points + np.array(into))
    meets &= _in_bounds(through, here) & _in_bounds(second, beyond)
    if not meets.any():
        return False
    edges = _edges(through.outline)
    meets &= _inside(edges, here) & within(second, beyond)
    if not meets.any():
        return False
    runs = list(_runs(meets & (_to_edge(edges, here) >= HOLE_TO_EDGE))) if screw else []
    longest = max(runs, key=lambda r: r[1] - r[0], default=(0, 0))
    if screw is None or (longest[1] - longest[0]) * SAMPLE < SHORTEST_ROW:
        draft.join(*pair, otherwise)
        return True
    first, last = points[longest[0]], points[longest[1] - 1]
    draft.screw(*pair, _vector(first), _vector(last), screw)
    return True


def _vector(point: Array) -> Vector:
    return float(point[0]), float(point[1]), float(point[2])


def _local(panel: Panel, points: Array) -> Array:
    """The (u, v), shape (n, 2), of points given in bay coordinates."""
    place = panel.placement
    return np.asarray((points - np.array(place.origin)) @ np.array([place.u, place.v]).T)


def _in_bounds(panel: Panel, points: Array) -> Flags:
    """Whether points, in the panel's own axes, lie in its outline's bounding rectangle."""
    x0, y0, x1, y1 = panel.outline.bounds
    x, y = points[:, 0], points[:, 1]
    return np.asarray((x >= x0) & (x <= x1) & (y >= y0) & (y <= y1), dtype=bool)


def _in_thickness(panel: Panel, points: Array) -> Flags:
    """Whether points of the bay lie between the planes of a panel's two faces, or on them."""
    depth = (points - np.array(panel.placement.origin)) @ np.array(panel.placement.w)
    return np.asarray((depth > -1e-3) & (depth < panel.thickness + 1e-3), dtype=bool)


def _runs(flags: Flags) -> Iterator[tuple[int, int]]:
    """Where consecutive flags are set: from the first of them to one past the last."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], flags, [False]]).astype(np.int8)))
    yield from zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True)


def rectangle_less(whole: Rectangle, bites: Sequence[Rectangle]) -> tuple[Outline, ...]:
    """What is left of a rectangle when others are cut out of it, inner corners for the bit."""
    x0, y0, x1, y1 = whole
    clipped = [(max(a, x0), max(b, y0), min(c, x1), min(d, y1)) for a, b, c, d in bites]
    bites = [b for b in clipped if b[0] < b[2] and b[1] < b[3]]
    xs = sorted({x0, x1, *(x for b in bites for x in (b[0], b[2]))})
    ys = sorted({y0, y1, *(y for b in bites for y in (b[1], b[3]))})
    cells = {
        (i, j)
        for i in range(len(xs) - 1)
        for j in range(len(ys) - 1)
        if not any(
            b[0] <= xs[i] and xs[i + 1] <= b[2] and b[1] <= ys[j] and ys[j + 1] <= b[3]
            for b in bites
        )
    }
    outlines = []
    while cells:
        piece = _connected(cells)
        cells -= piece
        loops = [polygon([(xs[i], ys[j]) for i, j in loop]) for loop in _loops(piece)]
        loops.sort(key=lambda loop: -loop.area)
        outline = Outline(
            softened(_unbroken(loops[0]), 0.0),
            tuple(softened(_unbroken(loop), BIT_RADIUS) for loop in loops[1:]),
        )
        if min(outline.size) >= LEAST_PIECE:
            outlines.append(outline)
    return tuple(sorted(outlines, key=lambda o: o.bounds))


Cell = tuple[int, int]


def _connected(cells: set[Cell]) -> set[Cell]:
    """One set of cells that hang together side by side."""
    found: set[Cell] = set()
    left = [min(cells)]
    while left:
        i, j = cell = left.pop()
        if cell in cells and cell not in found:
            found.add(cell)
            left += [(i + 1, j), (i - 1, j), (i, j + 1), (i, j - 1)]
    return found


def _loops(cells: set[Cell]) -> Iterator[list[Cell]]:
    """The borders of a set of cells as loops of grid corners, the cells on their left."""
    steps: dict[Cell, list[Cell]] = {}
    for i, j in sorted(cells):
        corners = [(i, j), (i + 1, j), (i + 1, j + 1), (i, j + 1)]
        beyond = [(i, j - 1), (i + 1, j), (i, j + 1), (i - 1, j)]
        for k, other in enumerate(beyond):
            if other not in cells:
                steps.setdefault(corners[k], []).append(corners[(k + 1) % 4])
    while steps:
        start = min(steps)
        loop, here, heading = [start], start, (1, 0)
        while True:
            ways = steps[here]
            # Where two cells only share a corner, turning left stays with the same cell.
            turns = [
                (heading[0] * (w[1] - here[1]) - heading[1] * (w[0] - here[0]), w) for w in ways
            ]
            ahead = max(turns)[1]
            ways.remove(ahead)
            if not ways:
                del steps[here]
            heading = (ahead[0] - here[0], ahead[1] - here[1])
            if ahead == start:
                break
            loop.append(ahead)
            here = ahead
        yield loop


def _unbroken(loop: Loop) -> Loop:
    """A loop of straight edges without corners that do not turn."""
    corners: list[Point] = [(v.x, v.y) for v in loop.vertices]
    kept = []
    for i, (x, y) in enumerate(corners):
        a, b = corners[i - 1], corners[(i + 1) % len(corners)]
        if abs((x - a[0]) * (b[1] - y) - (y - a[1]) * (b[0] - x)) > 1e-9:
            kept.append((x, y))
    return polygon(kept)
