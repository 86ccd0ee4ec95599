"""Panels as blocks: most of a fit-out is decided by comparing the corners of blocks.

A grid over the panel's plane sorts its cells into inside, outside and mixed. The *core*
blocks lie inside the panel and the *cover* blocks contain it; for a panel whose edges all
run along its own axes the two are one and are the panel.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]
Cut = tuple[Array, float, float]
"""A loop and the span of the thickness (from, to) that stays where the loop lies."""

_LINES = 8
"""Further grid lines a loop asks for, per axis, where not all its edges run along the axes."""

_FEWEST, _IN_ALL = 3, 40
"""So many it asks for at least, and about so many all loops together."""


def is_rectilinear(loop: Array) -> bool:
    """Whether every edge of the polygon, shape (n, 2), runs along u or v."""
    edges = np.roll(loop, -1, axis=0) - loop
    return bool(np.all((edges == 0.0).any(axis=1)))


def core_and_cover(
    loops: Sequence[Array], thickness: float, cuts: Sequence[Cut]
) -> tuple[Array, Array]:
    """Blocks inside a panel and blocks containing it, each shape (n, 2, 3), in its own axes.

    `loops` are the outer loop and the cut-outs, `cuts` the pockets. Blocks of one set share
    faces and never overlap.
    """
    outer = loops[0]
    everything = [*loops, *(cut[0] for cut in cuts)]
    exact = all(is_rectilinear(loop) for loop in everything)
    if exact and len(everything) == 1 and len(outer) == 4:
        whole = np.array([[[*outer.min(axis=0), 0.0], [*outer.max(axis=0), thickness]]])
        return whole, whole
    us, vs = (_lines(everything, axis, exact) for axis in (0, 1))
    inside, touched = _cells(outer, us, vs)
    for loop in loops[1:]:
        hole_inside, hole_touched = _cells(loop, us, vs)
        inside &= ~hole_touched
        touched &= ~hole_inside
    spans = [np.stack([np.zeros(inside.shape), np.full(inside.shape, thickness)]) for _ in "ab"]
    for loop, start, end in cuts:
        for span, where in zip(spans, _cells(loop, us, vs)[::-1], strict=True):
            span[0][where] = np.maximum(span[0][where], start)
            span[1][where] = np.minimum(span[1][where], end)
    cover = _merged(us, vs, touched, spans[1])
    return (cover if exact else _merged(us, vs, inside, spans[0])), cover


def _lines(loops: list[Array], axis: int, exact: bool) -> Array:
    """Where grid lines stand: at every corner, or at those that promise large cells."""
    if exact:
        return _distinct(np.concatenate([loop[:, axis] for loop in loops]))
    wanted: list[Array] = []
    most = max(_FEWEST, min(_LINES, _IN_ALL // len(loops)))
    for loop in loops:
        following = np.roll(loop, -1, axis=0)
        square = (loop == following).any(axis=1)
        own = _distinct(loop[:, axis])
        spread = own[np.linspace(0, len(own) - 1, min(len(own), most)).round().astype(int)]
        wanted += [loop[square, axis], following[square, axis], spread]
    return _distinct(np.concatenate(wanted))


def _distinct(values: Array) -> Array:
    """The values in rising order, each once."""
    # As numpy's `unique`, which loads all of numpy's masked arrays when first called.
    ranked = np.sort(values)
    fresh = np.concatenate([[True], ranked[1:] != ranked[:-1]])
    return np.asarray(ranked[fresh])


def _cells(loop: Array, us: Array, vs: Array) -> tuple[Bools, Bools]:
    """Which grid cells lie inside the loop, and which have any part inside it."""
    if len(loop) == 4 and is_rectilinear(loop):
        box = np.zeros((len(us) - 1, len(vs) - 1), dtype=bool)
        (i0, i1), (j0, j1) = np.searchsorted(us, loop[::2, 0]), np.searchsorted(vs, loop[::2, 1])
        box[min(i0, i1) : max(i0, i1), min(j0, j1) : max(j0, j1)] = True
        return box, box
    start, end = loop, np.roll(loop, -1, axis=0)
    low, high = np.minimum(start, end), np.maximum(start, end)
    centre_u, centre_v = (us[1:] + us[:-1]) / 2.0, (vs[1:] + vs[:-1]) / 2.0
    centre_in = np.zeros((len(centre_u), len(centre_v)), dtype=bool)
    # Odd crossings of a ray from the cell's centre towards +u.
    crossed = (centre_v[:, None] >= low[:, 1]) & (centre_v[:, None] < high[:, 1])
    for row, edge in np.argwhere(crossed).tolist():
        (u0, v0), (u1, v1) = start[edge].tolist(), end[edge].tolist()
        at = u0 + (centre_v[row] - v0) / (v1 - v0) * (u1 - u0)
        centre_in[: int(np.searchsorted(centre_u, at)), row] ^= True
    mixed = _crossed_by(start, end, us, vs)
    return centre_in & ~mixed, centre_in | mixed


def _crossed_by(start: Array, end: Array, us: Array, vs: Array) -> Bools:
    """Which cells an edge runs through; edges along their border don't count."""
    low, high = np.minimum(start, end), np.maximum(start, end)
    first = np.column_stack(
        [np.searchsorted(us, low[:, 0], "right"), np.searchsorted(vs, low[:, 1], "right")]
    )
    last = np.column_stack([np.searchsorted(us, high[:, 0]), np.searchsorted(vs, high[:, 1])])
    spans = np.maximum(last - first + 1, 0).clip(max=2).prod(axis=1)
    mixed = np.zeros((len(us) - 1, len(vs) - 1), dtype=bool)
    single = first[spans == 1] - 1
    mixed[single[:, 0], single[:, 1]] = True
    for edge in np.flatnonzero(spans > 1).tolist():
        (i0, j0), (i1, j1) = (first[edge] - 1).tolist(), last[edge].tolist()
        (u0, v0), (u1, v1) = start[edge].tolist(), end[edge].tolist()
        # The edge's line must also have corners of the cell on both its sides.
        side = (u1 - u0) * (vs[j0 : j1 + 1] - v0) - (v1 - v0) * (us[i0 : i1 + 1, None] - u0)
        corners = np.stack([side[:-1, :-1], side[1:, :-1], side[:-1, 1:], side[1:, 1:]])
        mixed[i0:i1, j0:j1] |= (corners.min(axis=0) < 0.0) & (corners.max(axis=0) > 0.0)
    return mixed


def _merged(us: Array, vs: Array, filled: Bools, span: Array) -> Array:
    """Join neighbouring cells of one height: along u as far as possible, then along v."""
    kinds = np.where(filled & (span[1] > span[0]), span[0] + 1j * span[1], -1.0).tolist()
    columns, rows = len(us) - 1, len(vs) - 1
    blocks: list[tuple[int, int, int, int, complex]] = []
    for j in range(rows):
        for i in range(columns):
            kind = kinds[i][j]
            if kind == -1.0:
                continue
            end_i = i + 1
            while end_i < columns and kinds[end_i][j] == kind:
                end_i += 1
            end_j = j + 1
            while end_j < rows and all(kinds[k][end_j] == kind for k in range(i, end_i)):
                end_j += 1
            for k in range(i, end_i):
                kinds[k][j:end_j] = [-1.0] * (end_j - j)
            blocks.append((i, j, end_i, end_j, kind))
    return np.array(
        [
            [[us[i], vs[j], kind.real], [us[end_i], vs[end_j], kind.imag]]
            for i, j, end_i, end_j, kind in blocks
        ],
        dtype=np.float64,
    ).reshape(-1, 2, 3)
