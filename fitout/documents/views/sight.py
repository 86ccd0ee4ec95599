"""Where a body can be pointed at: places of its surface that nothing hides from the viewer."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
import shapely

from fitout.clearance.convex import Array, Indices
from fitout.documents.view import Eye
from fitout.documents.views.forms import Flags, Form
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
    for k, form in enumerate(forms):
        corners = form.corners[form.normals @ eye.to_viewer > EDGE_ON]
        flat = np.stack([corners @ eye.rightward, corners @ eye.upward], axis=2)
        ab, ac = flat[:, 1] - flat[:, 0], flat[:, 2] - flat[:, 0]
        areas = np.abs(ab[:, 0] * ac[:, 1] - ab[:, 1] * ac[:, 0]) / 2.0
        rows = np.ceil(np.sqrt(2.0 * areas) / spacing).clip(1, FINEST)
        rows[areas <= 1e-3] = 0
        for n in np.unique(rows[rows > 0]).astype(int).tolist():
            chosen, inside = corners[rows == n], _inside(n)
            places = np.einsum("pk,tkc->tpc", inside, chosen).reshape(-1, 3)
            owners.append(np.full(len(places), k, dtype=np.int64))
            found.append(places)
    return np.concatenate(owners), np.concatenate(found)


@lru_cache(maxsize=FINEST)
def _inside(rows: int) -> Array:
    """Shares of the three corners for places evenly spread in a triangle, shape (n, 3)."""
    shares = [
        ((i + 1 / 3) / rows, (j + 1 / 3) / rows) for i in range(rows) for j in range(rows - i)
    ]
    return np.array([(1.0 - a - b, a, b) for a, b in shares])


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


def _hidden(flat: Array, depth: Array, forms: Sequence[Form], eye: Eye) -> Flags:
    """Whether a face lies before each place."""
    corners, _, _ = _facing(forms, eye)
    place, _, height = _over(flat, corners, eye)
    found = np.zeros(len(flat), dtype=bool)
    found[place[height - depth[place] > BEHIND]] = True
    return found


def _facing(forms: Sequence[Form], eye: Eye) -> tuple[Array, Array, Indices]:
    """Corners, normals and owners of all triangles that look at the viewer."""
    chosen = [form.normals @ eye.to_viewer > EDGE_ON for form in forms]
    pairs = list(zip(forms, chosen, strict=True))
    corners = np.concatenate([np.empty((0, 3, 3)), *(f.corners[c] for f, c in pairs)])
    normals = np.concatenate([np.empty((0, 3)), *(f.normals[c] for f, c in pairs)])
    counts = [int(c.sum()) for c in chosen]
    return corners, normals, np.repeat(np.arange(len(forms)), counts).astype(np.int64)


def _over(flat: Array, corners: Array, eye: Eye) -> tuple[Indices, Indices, Array]:
    """Pairs of a place and a face it falls on, and how near the face is to the viewer there."""
    faces = np.stack([corners @ eye.rightward, corners @ eye.upward], axis=2)
    boxes = shapely.box(*faces.min(axis=1).T, *faces.max(axis=1).T)
    place, face = shapely.STRtree(boxes).query(shapely.points(flat))
    q, point = faces[face], flat[place]
    ab, ac, ap = q[:, 1] - q[:, 0], q[:, 2] - q[:, 0], point - q[:, 0]
    turn = ab[:, 0] * ac[:, 1] - ab[:, 1] * ac[:, 0]
    turn = np.where(np.abs(turn) < 1e-9, 1e-9, turn)
    s = (ap[:, 0] * ac[:, 1] - ap[:, 1] * ac[:, 0]) / turn
    t = (ab[:, 0] * ap[:, 1] - ab[:, 1] * ap[:, 0]) / turn
    within = np.flatnonzero((s >= 0.0) & (t >= 0.0) & (s + t <= 1.0))
    place, face, s, t = place[within], face[within], s[within], t[within]
    d = eye.nearness(corners)[face]
    height = d[:, 0] + s * (d[:, 1] - d[:, 0]) + t * (d[:, 2] - d[:, 0])
    return place.astype(np.int64), face.astype(np.int64), height
