"""Bought-in things: fridges, tanks, slides. A size, a mass, keep-clear zones."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fitout.model.placement import Array, Placement, Vector

Piece = tuple[Vector, ...]
"""The corners of one convex piece, in the item's own axes."""


def block(length: float, width: float, height: float, at: Vector = (0.0, 0.0, 0.0)) -> Piece:
    """A block with its least corner at `at`."""
    x, y, z = at
    return tuple(
        (x + a * length, y + b * width, z + c * height)
        for a in (0, 1)
        for b in (0, 1)
        for c in (0, 1)
    )


def frustum(bottom: tuple[float, float], top: tuple[float, float], height: float) -> Piece:
    """A block whose sides taper evenly from `bottom` (length, width) to `top`.

    The larger of the two rectangles starts at the origin; the other is centred on it.
    """
    length, width = max(bottom[0], top[0]), max(bottom[1], top[1])
    corners: list[Vector] = []
    for size, z in ((bottom, 0.0), (top, height)):
        x0, y0 = (length - size[0]) / 2.0, (width - size[1]) / 2.0
        corners += [(x0 + a * size[0], y0 + b * size[1], z) for a in (0, 1) for b in (0, 1)]
    return tuple(corners)


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """Room that must stay free of anything but its owner: air to a vent, a lid's swing.

    `when` is "out" for room that counts once its owner is drawn out. `hand` marks room that a
    hand needs now and then: enough if it is free in one state of the vehicle. `towards` is the
    unit vector, in its owner's axes, along which the free room is to be told in mm.
    """

    name: str
    piece: Piece
    when: str = "always"
    hand: bool = False
    towards: Vector | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A bought-in body placed in the fit-out.

    `pieces` are convex and together make its shape; `mass_kg` is the empty mass and
    `contents_kg` what it holds when full. `article` is its catalogue key where it has one.
    """

    name: str
    module: str
    pieces: tuple[Piece, ...]
    mass_kg: float
    placement: Placement
    contents_kg: float = 0.0
    zones: tuple[Zone, ...] = ()
    article: str = ""
    price: float | None = None
    moves: str | None = None
    source: str = ""

    @property
    def id(self) -> str:
        """`module/name`, unique in the fit-out."""
        return f"{self.module}/{self.name}"

    @property
    def centroid(self) -> Vector:
        """Centre of gravity in bay coordinates: the middle of the bounding block.

        Bought-in items are taken as evenly filled; a maker's own figure would be better.
        """
        points = np.vstack([np.array(piece) for piece in self.pieces])
        middle = (points.min(axis=0) + points.max(axis=0)) / 2.0
        return self.placement.at(float(middle[0]), float(middle[1]), float(middle[2]))

    def corners(self) -> list[Array]:
        """Each piece's corners in bay coordinates, shape (n, 3)."""
        return [self.placement.apply(np.array(piece)) for piece in self.pieces]
