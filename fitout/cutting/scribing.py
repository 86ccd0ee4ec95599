"""Scribe allowance: panels that follow the vehicle are cut larger there, to be fitted to it.

    wall │░┌──────────────┐    ░ is left on when the part is cut, on edges that follow wall,
         │░│  the part    │    roof, wheel arch or seat alone; the finished line is drawn on
         │░│  as designed │    the part, to be set off from the wall and cut to by hand.
         │░└──────────────┘    Everything that is checked stays as designed.

An edge follows the vehicle where all of it lies as near to it as its clearance says, or by
`BEYOND` farther, and the vehicle lies outwards of it. It gets no edging: what is scribed is cut
when the part is tried in the vehicle.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np

from fitout.cutting.edging import edged, sides_told
from fitout.cutting.outset import outset
from fitout.model.bay import Bay
from fitout.model.design import ClearanceSpec
from fitout.model.outline import Outline, Point, Vertex
from fitout.model.panel import Panel
from fitout.model.placement import Array
from fitout.model.scribing import Scribe

BEYOND = 1.5
"""What smoothing and mitres may leave beyond the clearance at an edge that is scribed, mm."""

ALONG = (0.1, 0.5, 0.9)
"""Where along an edge, as shares, the vehicle must be near."""

THROUGH = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Where through the thickness the vehicle is looked for, as shares."""

OUTWARDS = 0.3
"""Cosine of the way to the vehicle with the way out of the edge, at least."""

NOT_DONE = "no scribe allowance: its edges would run into each other"

Surface = tuple[Array, float]
"""Triangles, shape (n, 3, 3), and how near an edge that follows them lies."""


def as_cut(
    panels: Iterable[Panel], bay: Bay, rules: ClearanceSpec, allowance: float
) -> Iterator[Panel]:
    """The panels as they are cut: smaller by their edging, larger where they are scribed."""
    if allowance <= 0.0:
        return edged(panels)
    surfaces = list(_surfaces(bay, rules))
    marked = (_marked(panel, surfaces, allowance) for panel in panels)
    return (_enlarged(panel) for panel in edged(marked))


def _surfaces(bay: Bay, rules: ClearanceSpec) -> Iterator[Surface]:
    """What of the vehicle edges are scribed to; what stands on the floor is not."""
    for obstacle in bay.obstacles:
        floor = obstacle.id == "bay/floor"
        if obstacle.kind in ("surface", "arch", "seat") and not floor:
            near = rules.seat if obstacle.kind == "seat" else rules.scribed
            corners = obstacle.vertices[obstacle.triangles.astype(np.int64)]
            yield np.asarray(corners, dtype=np.float64), near + BEYOND


def _marked(panel: Panel, surfaces: Sequence[Surface], allowance: float) -> Panel:
    """The panel with its edges that follow the vehicle told, still as designed."""
    if not panel.scribed:
        return panel
    loop = panel.outline.outer.anticlockwise()
    edges = tuple(
        ((a.x, a.y), (b.x, b.y))
        for a, b in loop.segments()
        if not a.bulge and _follows(panel, a, b, surfaces)
    )
    return replace(panel, scribe=Scribe(loop, edges, allowance)) if edges else panel


def _follows(panel: Panel, a: Vertex, b: Vertex, surfaces: Sequence[Surface]) -> bool:
    """Whether a straight edge of the outline, run anticlockwise, follows the vehicle."""
    place, thick = panel.placement, panel.thickness
    length = math.hypot(b.x - a.x, b.y - a.y)
    if length == 0.0:
        return False
    flat = ((b.y - a.y) / length, (a.x - b.x) / length)
    out = np.array([flat[0] * u + flat[1] * v for u, v in zip(place.u, place.v, strict=True)])
    for share in ALONG:
        x, y = a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)
        points = np.array([place.at(x, y, w * thick) for w in THROUGH])
        if not any(_near(points, out, surface) for surface in surfaces):
            return False
    return True


def _near(points: Array, out: Array, surface: Surface) -> bool:
    """Whether the surface is near one of the points, outwards of it."""
    triangles, reach = surface
    low, high = triangles.min(axis=1), triangles.max(axis=1)
    box = (points.min(axis=0) - reach, points.max(axis=0) + reach)
    triangles = triangles[(low <= box[1]).all(axis=1) & (high >= box[0]).all(axis=1)]
    if not len(triangles):
        return False
    away = nearest(points, triangles) - points[:, None]
    apart = np.linalg.norm(away, axis=2)
    ahead = away @ out >= OUTWARDS * apart
    return bool((ahead & (apart <= reach)).any())


def nearest(points: Array, triangles: Array) -> Array:
    """The point of each triangle nearest to each point, shape (points, triangles, 3)."""
    p = points[:, None]
    a, b, c = (triangles[None, :, k] for k in range(3))
    normal = np.cross(b - a, c - a)
    squared = np.maximum((normal**2).sum(axis=2, keepdims=True), 1e-18)
    foot = p - ((p - a) * normal).sum(axis=2, keepdims=True) / squared * normal
    inside = np.ones(foot.shape[:2], dtype=bool)
    best = np.full(foot.shape[:2], np.inf)
    found = np.zeros_like(foot)
    for start, end in ((a, b), (b, c), (c, a)):
        way = end - start
        inside &= (np.cross(way, foot - start) * normal).sum(axis=2) >= 0.0
        along = ((p - start) * way).sum(axis=2) / np.maximum((way**2).sum(axis=2), 1e-18)
        spot = start + along.clip(0.0, 1.0)[..., None] * way
        apart = np.linalg.norm(spot - p, axis=2)
        closer = apart < best
        best, found = np.where(closer, apart, best), np.where(closer[..., None], spot, found)
    return np.asarray(np.where(inside[..., None], foot, found), dtype=np.float64)


def _enlarged(panel: Panel) -> Panel:
    """A marked panel, its other edges edged by now, as it is cut."""
    if panel.scribe is None:
        return panel
    loop = panel.outline.outer.anticlockwise()
    chosen = {
        i: panel.scribe.allowance
        for i, (a, b) in enumerate(loop.segments())
        if not a.bulge and any(_upon((a.x, a.y), (b.x, b.y), edge) for edge in panel.scribe.edges)
    }
    larger = outset(loop, chosen) if chosen else None
    if larger is None:
        words = "; ".join(word for word in (panel.edging, NOT_DONE) if word)
        return replace(panel, edging=words, scribe=None)
    segments = list(loop.segments())
    edges = tuple(((a.x, a.y), (b.x, b.y)) for a, b in (segments[i] for i in chosen))
    return replace(
        panel,
        outline=Outline(larger, panel.outline.inner),
        scribe=Scribe(loop, edges, panel.scribe.allowance),
    )


def _upon(start: Point, end: Point, edge: tuple[Point, Point]) -> bool:
    """Whether one edge lies on the line of another and shares some of its length."""
    (ax, ay), (bx, by) = edge
    length = math.hypot(bx - ax, by - ay)
    ux, uy = (bx - ax) / length, (by - ay) / length
    aside = max(abs(ux * (y - ay) - uy * (x - ax)) for x, y in (start, end))
    first, last = (ux * (x - ax) + uy * (y - ay) for x, y in (start, end))
    return aside < 1e-6 and min(last, length) - max(first, 0.0) > 1e-6


def once_scribed(panel: Panel) -> Panel:
    """A panel as cut, with what was left to scribe taken off."""
    if panel.scribe is None:
        return panel
    outline = Outline(panel.scribe.finished, panel.outline.inner)
    return replace(panel, outline=outline, scribe=None)


def scribe_told(panel: Panel) -> str:
    """Where how much is left to scribe, as the part is drawn: `5 mm left, upper edge`."""
    if panel.scribe is None:
        return ""
    loop = panel.scribe.finished.anticlockwise()
    sides = {_looks_to(a, b) for a, b in loop.segments() if _marks(panel.scribe, a, b)}
    return f"{panel.scribe.allowance:g} mm {sides_told(sides)}"


def _looks_to(a: Vertex, b: Vertex) -> str:
    """Which way an edge of an outline run anticlockwise faces, wherever on the part it is."""
    dx, dy = b.x - a.x, b.y - a.y
    if abs(dx) >= abs(dy):
        return "upper" if dx < 0.0 else "lower"
    return "right" if dy > 0.0 else "left"


def scribe_lines(panel: Panel) -> list[tuple[Vertex, ...]]:
    """The finished line along the edges that are scribed, in runs; a run's last bulge is 0.

    Rounded corners between two such edges belong to the run.
    """
    if panel.scribe is None:
        return []
    segments = list(panel.scribe.finished.segments())
    count = len(segments)
    kept = [_marks(panel.scribe, a, b) for a, b in segments]
    kept = [
        k or bool(segments[i][0].bulge and kept[i - 1] and kept[(i + 1) % count])
        for i, k in enumerate(kept)
    ]
    start = next((i for i in range(count) if kept[i] and not kept[i - 1]), 0)
    runs: list[list[Vertex]] = []
    for i in (*range(start, count), *range(start)):
        if not kept[i]:
            continue
        a, b = segments[i]
        if runs and kept[i - 1] and i != start:
            runs[-1][-1] = a
        else:
            runs.append([a])
        runs[-1].append(Vertex(b.x, b.y))
    return [tuple(run) for run in runs]


def _marks(scribe: Scribe, a: Vertex, b: Vertex) -> bool:
    ends = sorted([(a.x, a.y), (b.x, b.y)])
    return any(
        all(math.dist(p, q) < 1e-6 for p, q in zip(ends, sorted(edge), strict=True))
        or all(math.dist(p, q) < 1e-6 for p, q in zip(ends, sorted(edge)[::-1], strict=True))
        for edge in scribe.edges
    )
