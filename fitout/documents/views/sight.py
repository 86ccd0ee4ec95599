"""Where a body can be pointed at: places of its surface that nothing hides from the viewer."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
import shapely

from fitout.clearance.convex import Array, Indices
from fitout.documents.view import Eye
from fitout.documents.views.forms import Crowd, Flags, Form
from fitout.documents.views.hidden_lines import EDGE_ON

FINEST = 14
"""A triangle is looked at in at most so many rows of places."""

BEHIND = 0.05
"""How far (mm) behind a face a place is hidden by it."""


def seen_places(
    forms: Sequence[Form], eye: Eye, spacing: float, of: Sequence[Form] | None = None
) -> tuple[Array, ...]:
    """Of each form the places on the sheet, shape (n, 2), that are seen, about evenly spread.

    Each stands for about `spacing` mm squared on the sheet, so their number tells how much of
    a form is seen; on large faces they are fewer. With `of`, places of these alone, hidden by all.
    """
    asked = forms if of is None else of
    owners, points = _places(asked, eye, spacing)
    flat = eye.on_sheet(points)
    free = ~_hidden(flat, eye.nearness(points), forms, eye)
    return tuple(flat[free & (owners == k)] for k in range(len(asked)))


def _places(forms: Sequence[Form], eye: Eye, spacing: float) -> tuple[Indices, Array]:
    """Places on the faces that look at the viewer, with the number of their form."""
    owners: list[Indices] = [np.empty(0, dtype=np.int64)]
    found: list[Array] = [np.empty((0, 3))]
    corners, _, own = _facing(forms, eye)
    flat = np.stack([corners @ eye.rightward, corners @ eye.upward], axis=2)
    ab, ac = flat[:, 1] - flat[:, 0], flat[:, 2] - flat[:, 0]
    areas = np.abs(ab[:, 0] * ac[:, 1] - ab[:, 1] * ac[:, 0]) / 2.0
    rows = np.ceil(np.sqrt(2.0 * areas) / spacing).clip(1, FINEST)
    rows[areas <= 1e-3] = 0
    for n in np.unique(rows[rows > 0]).astype(int).tolist():
        chosen, inside = np.flatnonzero(rows == n), _inside(n)
        found.append(np.einsum("pk,tkc->tpc", inside, corners[chosen]).reshape(-1, 3))
        owners.append(np.repeat(own[chosen], len(inside)))
    order = np.argsort(np.concatenate(owners), kind="stable")
    return np.concatenate(owners)[order], np.concatenate(found)[order]


@lru_cache(maxsize=FINEST)
def _inside(rows: int) -> Array:
    """Shares of the three corners for places evenly spread in a triangle, shape (n, 3)."""
    shares = [
        ((i + 1 / 3) / rows, (j + 1 / 3) / rows) for i in range(rows) for j in range(rows - i)
    ]
    return np.array([(1.0 - a - b, a, b) for a, b in shares])


def _in_boxes(flat: Array, x: Array, y: Array) -> tuple[Indices, Indices]:
    """Pairs of a place and a triangle whose box on the sheet it lies in."""
    if not len(flat) or not len(x):
        return np.empty(0, dtype=np.int64), np.empty(0, dtype=np.int64)
    x, y = x.T.copy(), y.T.copy()
    left, low, right, high = x.min(axis=0), y.min(axis=0), x.max(axis=0), y.max(axis=0)
    (x0, y0), (x1, y1) = flat.min(axis=0), flat.max(axis=0)
    # Most are far from the places where these are those of one part among many.
    near = np.flatnonzero((left <= x1) & (right >= x0) & (low <= y1) & (high >= y0))
    boxes = shapely.box(left[near], low[near], right[near], high[near])
    place, face = shapely.STRtree(boxes).query(shapely.points(flat))
    return place, near[face]


def nearest_faces(points: Array, forms: Sequence[Form], eye: Eye) -> tuple[Indices, Array]:
    """Which form is seen at points of the sheet, shape (n, 2), and the normal of its face.

    -1 where there is none.
    """
    corners, normals, owners = _facing(forms, eye)
    place, face, height = _over(points, corners, eye)
    order = np.lexsort((face, height, place))
    last = np.flatnonzero(np.diff(place[order], append=-1))
    found = np.full(len(points), -1, dtype=np.int64)
    outward = np.zeros((len(points), 3))
    best = order[last]
    found[place[best]] = owners[face[best]]
    outward[place[best]] = normals[face[best]]
    return found, outward


def seen_counts(
    of: Sequence[Form], others: Sequence[Form], eye: Eye, spacing: float
) -> tuple[Indices, Indices]:
    """Of each form how many such places are seen without the others, and how many with them."""
    owners, points = _places(of, eye, spacing)
    flat, depth = eye.on_sheet(points), eye.nearness(points)
    alone = np.flatnonzero(~_hidden(flat, depth, of, eye))
    seen = alone[~_hidden(flat[alone], depth[alone], others, eye)]
    count = len(of)
    return np.bincount(owners[alone], minlength=count), np.bincount(owners[seen], minlength=count)


def _hidden(flat: Array, depth: Array, forms: Sequence[Form], eye: Eye) -> Flags:
    """Whether a face lies before each place."""
    corners, _, _ = _facing(forms, eye)
    place, _, height = _over(flat, corners, eye, depth + BEHIND)
    found = np.zeros(len(flat), dtype=bool)
    found[place[height - depth[place] > BEHIND]] = True
    return found


def _facing(forms: Sequence[Form], eye: Eye) -> tuple[Array, Array, Indices]:
    """Corners, normals and owners of all triangles that look at the viewer."""
    crowd = Crowd(forms)
    chosen = crowd.toward(eye.to_viewer, EDGE_ON)
    return crowd.corners[chosen], crowd.normals[chosen], crowd.owners[chosen]


def _over(
    flat: Array, corners: Array, eye: Eye, least: Array | None = None
) -> tuple[Indices, Indices, Array]:
    """Pairs of a place and a face it falls on, and how near the face is to the viewer there.

    Faces that lie nowhere nearer than `least` at a place may be left out there.
    """
    x, y, depths = corners @ eye.rightward, corners @ eye.upward, eye.nearness(corners)
    place, face = _in_boxes(flat, x, y)
    if least is not None:
        nearer = np.flatnonzero(depths.T.copy().max(axis=0)[face] >= least[place])
        place, face = place[nearer], face[nearer]
    # What is a face's own is worked out once for each, not for each pair.
    abx, aby, acx, acy = x[:, 1] - x[:, 0], y[:, 1] - y[:, 0], x[:, 2] - x[:, 0], y[:, 2] - y[:, 0]
    turn = abx * acy - aby * acx
    turn = np.where(np.abs(turn) < 1e-9, 1e-9, turn)[face]
    apx, apy = flat[place, 0] - x[face, 0], flat[place, 1] - y[face, 0]
    s = (apx * acy[face] - apy * acx[face]) / turn
    t = (abx[face] * apy - aby[face] * apx) / turn
    within = np.flatnonzero((s >= 0.0) & (t >= 0.0) & (s + t <= 1.0))
    place, face, s, t = place[within], face[within], s[within], t[within]
    d = depths[face]
    height = d[:, 0] + s * (d[:, 1] - d[:, 0]) + t * (d[:, 2] - d[:, 0])
    return place.astype(np.int64), face.astype(np.int64), height
