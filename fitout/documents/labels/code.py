"""A QR code as one filled area, its squares joined so that no seams show between them."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

import segno

from fitout.documents.paper.marks import BLACK, Area
from fitout.model.outline import Point

LEAST_SQUARE = 0.5
"""Side of a code's squares below which readers fail at 100 dots per inch, mm (measured)."""

QUIET = 4
"""Squares that stay white around a code (ISO/IEC 18004, quiet zone, from memory)."""

Cell = tuple[int, int]


@lru_cache(maxsize=512)
def squares(text: str) -> tuple[tuple[bool, ...], ...]:
    """The code's squares, dark ones true, row by row from the top; its smallest size."""
    code = segno.make_qr(text, error="m")
    return tuple(tuple(bool(cell) for cell in row) for row in code.matrix)


def code(text: str, at: Point, square: float) -> Area:
    """The code of a text with its lower left dark corner at `at`, each square of a side, mm."""
    rows = squares(text)
    count = len(rows)
    dark = {(x, count - 1 - y) for y, row in enumerate(rows) for x, cell in enumerate(row) if cell}
    rings = tuple(
        tuple((at[0] + x * square, at[1] + y * square) for x, y in ring) for ring in _rings(dark)
    )
    return Area(rings, BLACK, layer="CODE")


def _rings(dark: set[Cell]) -> Iterator[tuple[Cell, ...]]:
    """The outlines of joined cells, corners only; the even-odd rule fills them."""
    onward: dict[Cell, list[Cell]] = {}
    for x, y in sorted(dark):
        if (x, y - 1) not in dark:
            onward.setdefault((x, y), []).append((x + 1, y))
        if (x + 1, y) not in dark:
            onward.setdefault((x + 1, y), []).append((x + 1, y + 1))
        if (x, y + 1) not in dark:
            onward.setdefault((x + 1, y + 1), []).append((x, y + 1))
        if (x - 1, y) not in dark:
            onward.setdefault((x, y + 1), []).append((x, y))
    while onward:
        start = next(iter(onward))
        ring = [start]
        while True:
            ways = onward[ring[-1]]
            ring.append(ways.pop())
            if not ways:
                del onward[ring[-2]]
            if ring[-1] == start:
                break
        yield _corners(ring[:-1])


def _corners(ring: list[Cell]) -> tuple[Cell, ...]:
    """The ring without the points on its straight lines."""
    around = zip([ring[-1], *ring[:-1]], ring, [*ring[1:], ring[0]], strict=True)
    return tuple(
        b for a, b, c in around if (b[0] - a[0], b[1] - a[1]) != (c[0] - b[0], c[1] - b[1])
    )
