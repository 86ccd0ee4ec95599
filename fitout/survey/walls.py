"""The walls as distances from the centre line over (x, z): triangles, affine on each."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from fitout.model.bay import WallPiece
from fitout.model.design import SectionSpec, Sides
from fitout.model.outline import Point
from fitout.model.spec import Measured

Array = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class WallGrid:
    """A wall's distance from the centre line at stations `xs` and heights `zs`."""

    xs: tuple[float, ...]
    zs: tuple[float, ...]
    offsets: Array

    def pieces(self) -> tuple[WallPiece, ...]:
        """The wall as triangles, each cell parted from its least corner to its greatest."""
        pieces: list[WallPiece] = []
        for i in range(len(self.xs) - 1):
            for j in range(len(self.zs) - 1):
                cell = [(i, j), (i + 1, j), (i + 1, j + 1), (i, j + 1)]
                for corners in ((0, 1, 2), (0, 2, 3)):
                    chosen = [cell[k] for k in corners]
                    points = [(self.xs[p], self.zs[q]) for p, q in chosen]
                    offsets = [float(self.offsets[p, q]) for p, q in chosen]
                    pieces.append(
                        WallPiece(
                            (points[0], points[1], points[2]),
                            (offsets[0], offsets[1], offsets[2]),
                        )
                    )
        return tuple(pieces)


def half(width: Measured | Sides, side: str) -> float:
    """The distance from the centre line to one side."""
    if isinstance(width, Measured):
        return width.value / 2.0
    return (width.left if side == "left" else width.right).value


def half_at(widths: Mapping[float, Measured | Sides], side: str, height: float) -> float:
    """The distance from the centre line at a height; straight between measured heights."""
    heights = sorted(widths)
    return float(np.interp(height, heights, [half(widths[h], side) for h in heights]))


def wall_grid(
    sections: Sequence[SectionSpec], side: str, reach: tuple[float, float], top: float, trim: float
) -> WallGrid:
    """One wall from the measured sections, carried on evenly to `reach` and up to `top`."""
    stations = sorted(sections, key=lambda s: s.at.value)
    heights = sorted({0.0, top, *(h for s in stations for h in s.widths if h < top)})
    xs = [s.at.value for s in stations]
    rows = [[half_at(s.widths, side, h) - trim for h in heights] for s in stations]
    if reach[0] < xs[0]:
        xs.insert(0, reach[0])
        rows.insert(0, rows[0])
    if reach[1] > xs[-1]:
        xs.append(reach[1])
        rows.append(rows[-1])
    return WallGrid(tuple(xs), tuple(heights), np.array(rows))


def followed(polyline: Sequence[Point], s: float) -> float:
    """The second coordinate of a polyline where its first is `s`; its ends are carried on."""
    return float(np.interp(s, [p for p, _ in polyline], [q for _, q in polyline]))


def clipped(corners: Sequence[Point], x0: float, x1: float, z0: float, z1: float) -> list[Point]:
    """The corners of a polygon cut down to a rectangle (Sutherland–Hodgman)."""
    polygon = list(corners)
    for axis, limit, sign in ((0, x0, 1.0), (0, x1, -1.0), (1, z0, 1.0), (1, z1, -1.0)):
        kept = [sign * (corner[axis] - limit) >= 0.0 for corner in polygon]
        if all(kept):
            continue
        result: list[Point] = []
        for i, current in enumerate(polygon):
            previous = polygon[i - 1]
            inside, was_inside = kept[i], kept[i - 1]
            if inside != was_inside:
                share = (limit - previous[axis]) / (current[axis] - previous[axis])
                along = previous[1 - axis] + share * (current[1 - axis] - previous[1 - axis])
                # Exactly on the limit: a rectangle without height must not lose the point.
                result.append((limit, along) if axis == 0 else (along, limit))
            if inside:
                result.append(current)
        polygon = result
        if not polygon:
            break
    return polygon


def least_offset(
    pieces: Sequence[WallPiece], x0: float, x1: float, z0: float, z1: float, clear: float = 0.0
) -> float | None:
    """The wall's least distance from the centre line over a rectangle, exact.

    With `clear`, how far a block filling the rectangle may reach and still keep that
    distance from the wall, however it leans: exact for a plane wall, never too far for one
    of several planes. None where there is no wall.
    """
    best: float | None = None
    spans_x, spans_z = _bands(x0, x1, clear), _bands(z0, z1, clear)
    for piece in pieces:
        if _misses(piece, x0 - clear, x1 + clear, z0 - clear, z1 + clear):
            continue
        slope_x, slope_z = _slopes(piece)
        (ax, az), a = piece.corners[0], piece.offsets[0]
        # A gap square to the wall is longer measured straight across.
        a -= clear * math.sqrt(1.0 + slope_x**2 + slope_z**2)
        # Nowhere over the rectangle is the plane nearer than at one of its corners.
        x, z = x0 if slope_x > 0.0 else x1, z0 if slope_z > 0.0 else z1
        nearest = a + slope_x * (x - ax) + slope_z * (z - az)
        if best is not None and best <= nearest:
            continue
        if _holds(piece, x, z):
            best = nearest
            continue
        for band_x, band_z in itertools.product(spans_x, spans_z):
            if _misses(piece, *band_x, *band_z):
                continue
            for x, z in clipped(piece.corners, *band_x, *band_z):
                # What lies beside the rectangle is held against the edge it is nearest to:
                # the piece's plane, carried on to there, is at its nearest `clear` from it.
                near_x, near_z = min(max(x, x0), x1), min(max(z, z0), z1)
                offset = a + slope_x * (near_x - ax) + slope_z * (near_z - az)
                if best is None or offset < best:
                    best = offset
    return best


def _misses(piece: WallPiece, x0: float, x1: float, z0: float, z1: float) -> bool:
    """Whether all corners of a piece lie on the far side of one edge of a rectangle."""
    (ax, az), (bx, bz), (cx, cz) = piece.corners
    return (
        (ax < x0 and bx < x0 and cx < x0)
        or (ax > x1 and bx > x1 and cx > x1)
        or (az < z0 and bz < z0 and cz < z0)
        or (az > z1 and bz > z1 and cz > z1)
    )


def _holds(piece: WallPiece, x: float, z: float) -> bool:
    """Whether a place lies on a piece, its edges included."""
    (ax, az), (bx, bz), (cx, cz) = piece.corners
    turns = (
        (bx - ax) * (z - az) - (bz - az) * (x - ax),
        (cx - bx) * (z - bz) - (cz - bz) * (x - bx),
        (ax - cx) * (z - cz) - (az - cz) * (x - cx),
    )
    return min(turns) >= 0.0 or max(turns) <= 0.0


def _slopes(piece: WallPiece) -> Point:
    """How much the wall's distance grows per mm along x and z."""
    (ax, az), (bx, bz), (cx, cz) = piece.corners
    a, b, c = piece.offsets
    double = (bx - ax) * (cz - az) - (cx - ax) * (bz - az)
    return (
        ((b - a) * (cz - az) - (c - a) * (bz - az)) / double,
        ((bx - ax) * (c - a) - (cx - ax) * (b - a)) / double,
    )


def _bands(low: float, high: float, clear: float) -> tuple[Point, ...]:
    """The span from low to high, and `clear` on either side of it."""
    if not clear:
        return ((low, high),)
    return (low - clear, low), (low, high), (high, high + clear)
