"""The lines of bodies that are seen from one direction, as polylines in true mm.

Every edge, as a stretch from 0 to 1, is held against every face that looks at the viewer: the
stretch that lies within the face on paper and behind its plane is hidden. Faces are triangles,
so both are straight bounds on the stretch, worked out for all pairs at once, and no order of
painting is needed: bodies may stand round each other as they like.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from fitout.clearance.convex import Array, Indices
from fitout.documents.view import Eye
from fitout.documents.views.forms import Crowd, Form

BEHIND = 0.05
"""How far (mm) behind a face an edge is hidden by it: edges that lie on it are seen."""

ON_EDGE = 1e-4
"""How far (mm) beside a face on paper an edge still counts as within it."""

EDGE_ON = 1e-3
"""Faces whose normal is turned towards the viewer by less than this are seen edge on."""

ROUNDING = 1e-6
"""By how much (mm) a plane's depth may be reckoned wrong."""

SHORTEST = 0.05
"""Shorter stretches (mm) are not drawn."""

Segments = tuple[Indices, Array]
"""The position of the form each segment is of, and its ends, shape (n, 2, 2)."""


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """What is seen of one form: polylines on the sheet, x rightward, y upward, true mm."""

    id: str
    lines: tuple[Array, ...]


def visible_lines(forms: Sequence[Form], eye: Eye) -> tuple[Seen, ...]:
    """The lines seen of each form, in the forms' order; a line that two share counts once.

    Drawn are true edges and silhouettes; where coplanar faces of two forms meet, the joint's
    line stays. A line that several forms have is told of the first.
    """
    owners, segments = visible_segments(forms, eye)
    owners, segments = once(owners, segments)
    return tuple(Seen(form.id, _chained(segments[owners == k])) for k, form in enumerate(forms))


def visible_segments(forms: Sequence[Form], eye: Eye) -> Segments:
    """The stretches of edges that are seen, one by one."""
    crowd = Crowd(forms)
    owners, ends = _edges(crowd, eye)
    flat = np.stack([ends @ eye.rightward, ends @ eye.upward], axis=2)
    keep = np.linalg.norm(flat[:, 1] - flat[:, 0], axis=1) > SHORTEST
    owners, flat, depth = owners[keep], flat[keep], eye.nearness(ends[keep])
    faces, depths = _faces(crowd, eye)
    edge, low, high = _hidden(flat, depth, faces, depths)
    edge, start, end = _left(len(flat), edge, low, high)
    along = flat[edge, 1] - flat[edge, 0]
    a = flat[edge, 0] + start[:, None] * along
    b = flat[edge, 0] + end[:, None] * along
    long = np.linalg.norm(b - a, axis=1) > SHORTEST
    return owners[edge[long]], np.stack([a, b], axis=1)[long]


def _edges(crowd: Crowd, eye: Eye) -> tuple[Indices, Array]:
    """Edges that could be seen: on a face that looks here, and true or in the silhouette."""
    first, second, ends, true = crowd.edges
    toward = crowd.toward(eye.to_viewer, EDGE_ON)
    one, other = toward[first], toward[second]
    drawn = np.flatnonzero((one | other) & (true | (one != other)))
    return crowd.owners[first[drawn]], ends[drawn]


def _faces(crowd: Crowd, eye: Eye) -> tuple[Array, Array]:
    """Triangles that look at the viewer on paper, (n, 3, 2) anticlockwise, and their depths."""
    corners = crowd.corners[crowd.toward(eye.to_viewer, EDGE_ON)]
    flat = np.stack([corners @ eye.rightward, corners @ eye.upward], axis=2)
    return flat, eye.nearness(corners)


def _hidden(flat: Array, depth: Array, faces: Array, depths: Array) -> tuple[Indices, Array, Array]:
    """Which stretch of which edge a face hides: the edge's number, from where, to where."""
    edge, face = _near(flat, depth, faces, depths)
    before = _not_behind(flat, depth, faces, depths, edge, face)
    edge, face = edge[before], face[before]
    sides = np.roll(faces, -1, axis=1) - faces
    sides /= np.maximum(np.linalg.norm(sides, axis=2), 1e-12)[:, :, None]
    # There are many more pairs than edges and faces: columns are quicker to pick from than rows.
    x0, y0, x1, y1 = flat.reshape(-1, 4).T.copy().take(edge, axis=1)
    some = np.ones(len(edge), dtype=bool)
    inward: list[tuple[Array, Array]] = []
    for side in np.concatenate([sides, faces], axis=2).transpose(1, 2, 0).copy():
        u, v, x, y = side.take(face, axis=1)
        at_start = u * (y0 - y) - v * (x0 - x) + ON_EDGE
        at_end = u * (y1 - y) - v * (x1 - x) + ON_EDGE
        some &= (at_start >= 0.0) | (at_end >= 0.0)
        inward.append((at_start, at_end))
    left = np.flatnonzero(some)
    edge, face = edge[left], face[left]
    low, high = np.zeros(len(edge)), np.ones(len(edge))
    for at_start, at_end in inward:
        low, high = _within(low, high, at_start[left], at_end[left])
    left = np.flatnonzero(high > low)
    edge, face, low, high = edge[left], face[left], low[left], high[left]
    low, high = _within(low, high, *_ahead(flat, depth, faces, depths, edge, face))
    real = high > low
    return edge[real], low[real], high[real]


def _not_behind(  # over budget: edges and faces with their depths, and which to hold together
    flat: Array, depth: Array, faces: Array, depths: Array, edge: Indices, face: Indices
) -> Indices:
    """Those pairs whose face's plane may lie before an end of the edge; a few more than do."""
    (x, x1, x2), (y, y1, y2), (d, d1, d2) = faces[:, :, 0].T, faces[:, :, 1].T, depths.T
    turn = (x1 - x) * (y2 - y) - (y1 - y) * (x2 - x)
    along_x = ((d1 - d) * (y2 - y) - (d2 - d) * (y1 - y)) / turn
    along_y = ((d2 - d) * (x1 - x) - (d1 - d) * (x2 - x)) / turn
    level = d - along_x * x - along_y * y - BEHIND + ROUNDING
    a, b, c = along_x.take(face), along_y.take(face), level.take(face)
    ends = np.concatenate([flat, depth[:, :, None]], axis=2).transpose(1, 2, 0).copy()
    behind = np.ones(len(edge), dtype=bool)
    for end in ends:
        x, y, d = end.take(edge, axis=1)
        behind &= a * x + b * y + c <= d
    return np.flatnonzero(~behind)


def _ahead(  # over budget: edges and faces with their depths, and which to hold against which
    flat: Array, depth: Array, faces: Array, depths: Array, edge: Indices, face: Indices
) -> Iterator[Array]:
    """How far the face of each pair lies before either end of its edge, less what it may."""
    (x0, x1, x2), (y0, y1, y2) = faces[:, :, 0].T[:, face], faces[:, :, 1].T[:, face]
    d0, d1, d2 = depths.T[:, face]
    turn = (x1 - x0) * (y2 - y0) - (y1 - y0) * (x2 - x0)
    for end in (0, 1):
        x, y = flat[edge, end, 0] - x0, flat[edge, end, 1] - y0
        s = (x * (y2 - y0) - y * (x2 - x0)) / turn
        t = ((x1 - x0) * y - (y1 - y0) * x) / turn
        yield d0 + s * (d1 - d0) + t * (d2 - d0) - depth[edge, end] - BEHIND


def _near(flat: Array, depth: Array, faces: Array, depths: Array) -> tuple[Indices, Indices]:
    """Pairs of an edge and a face whose boxes overlap on paper, the face not wholly behind."""
    edge, face = shapely.STRtree(boxes(faces)).query(boxes(flat))
    before = depths.T.copy().max(axis=0)[face] > depth.T.copy().min(axis=0)[edge] + BEHIND
    return edge[before].astype(np.int64), face[before].astype(np.int64)


def boxes(shapes: Array) -> npt.NDArray[np.object_]:
    """The rectangles around shapes on the sheet, each of as many points, shape (n, k, 2)."""
    x, y = shapes[:, :, 0].T.copy(), shapes[:, :, 1].T.copy()
    return np.asarray(shapely.box(x.min(axis=0), y.min(axis=0), x.max(axis=0), y.max(axis=0)))


def _within(low: Array, high: Array, at_start: Array, at_end: Array) -> tuple[Array, Array]:
    """The stretch where also a value that runs from `at_start` to `at_end` is not negative."""
    change = at_end - at_start
    steady = np.abs(change) < 1e-12
    root = -at_start / np.where(steady, 1.0, change)
    low = np.where(~steady & (change > 0.0), np.maximum(low, root), low)
    high = np.where(~steady & (change < 0.0), np.minimum(high, root), high)
    return low, np.where(steady & (at_start < 0.0), -1.0, high)


def _left(count: int, edge: Indices, low: Array, high: Array) -> tuple[Indices, Array, Array]:
    """What is left of each of `count` edges: its number, from where, to where."""
    numbers = np.arange(count)
    # Each edge has a place of its own on one long line, bounded by a point at either end.
    edge = np.concatenate([numbers, edge, numbers])
    low = np.concatenate([np.zeros(count), low.clip(0.0, 1.0), np.ones(count)]) + 2.0 * edge
    high = np.concatenate([np.zeros(count), high.clip(0.0, 1.0), np.ones(count)]) + 2.0 * edge
    order = np.lexsort((high, low))
    edge, low, high = edge[order], low[order], high[order]
    reach = np.maximum.accumulate(high)
    free = np.flatnonzero((low[1:] > reach[:-1]) & (edge[1:] == edge[:-1]))
    found = edge[free + 1]
    return found, reach[free] - 2.0 * found, low[free + 1] - 2.0 * found


def once(owners: Indices, segments: Array) -> Segments:
    """The segments without those stretches that lie on one of an earlier form."""
    if not len(segments):
        return owners, segments
    along = segments[:, 1] - segments[:, 0]
    unit = along / np.linalg.norm(along, axis=1)[:, None]
    # All run rightward, and upward where they are as good as upright.
    upright = np.abs(unit[:, 0]) <= 1e-4
    turned = np.where(upright, unit[:, 1] < 0.0, unit[:, 0] < 0.0)
    segments = np.where(turned[:, None, None], segments[:, ::-1], segments)
    unit = np.where(turned[:, None], -unit, unit)
    key = np.round(np.column_stack([unit * 1e4, _cross(unit, segments[:, 0]) * 20.0]))
    _, line = np.unique(key + 0.0, axis=0, return_inverse=True)
    line = line.reshape(-1)
    kept: list[tuple[int, Array]] = []
    for group in np.split(np.argsort(line, kind="stable"), np.cumsum(np.bincount(line))[:-1]):
        kept += _apart(owners[group], segments[group], unit[group[0]])
    return np.array([k for k, _ in kept], dtype=np.int64), np.array([s for _, s in kept])


def _apart(owners: Indices, segments: Array, unit: Array) -> list[tuple[int, Array]]:
    """Segments on one line: joined where they are of one form, told of the first that has it."""
    if len(owners) == 1:
        return [(int(owners[0]), segments[0])]
    spans = np.sort(segments @ unit, axis=1)
    taken: list[tuple[float, float]] = []
    found: list[tuple[int, Array]] = []
    base = segments[0, 0] - float(segments[0, 0] @ unit) * unit
    for owner in np.unique(owners).tolist():
        own = _joined(spans[owners == owner].tolist())
        for start, end in _less(own, taken):
            found.append((owner, np.array([base + start * unit, base + end * unit])))
        taken = _joined([*taken, *own])
    return found


def _joined(spans: Iterable[Sequence[float]]) -> list[tuple[float, float]]:
    """Spans that overlap or touch as one."""
    found: list[tuple[float, float]] = []
    for start, end in sorted((a, b) for a, b in spans):
        if found and start <= found[-1][1] + 1e-3:
            found[-1] = (found[-1][0], max(end, found[-1][1]))
        else:
            found.append((start, end))
    return found


def _less(
    spans: Iterable[tuple[float, float]], taken: Sequence[tuple[float, float]]
) -> list[tuple[float, float]]:
    """What is left of spans outside those taken, which are sorted and apart."""
    found = []
    for start, end in spans:
        at = start
        for low, high in taken:
            if low - at > SHORTEST and low < end:
                found.append((at, low))
            at = max(at, min(high, end)) if high > at and low < end else at
        if end - at > SHORTEST:
            found.append((at, end))
    return found


def _chained(segments: Array) -> tuple[Array, ...]:
    """Segments as polylines, joined where just two of them end."""
    if not len(segments):
        return ()
    lines = shapely.multilinestrings(shapely.linestrings(np.round(segments, 3) + 0.0))
    merged = shapely.line_merge(lines)
    parts: npt.NDArray[np.object_] = shapely.get_parts(merged)
    return tuple(np.asarray(shapely.get_coordinates(part)) for part in parts)


def _cross(u: Array, v: Array) -> Array:
    return np.asarray(u[..., 0] * v[..., 1] - u[..., 1] * v[..., 0])
