"""Bodies: what the clearance engine compares, made from parts, items, zones and obstacles."""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from hashlib import blake2b
from typing import Any

import numpy as np
import numpy.typing as npt

from fitout.clearance.convex import Array, Indices, Solid
from fitout.clearance.grid import Cut, core_and_cover
from fitout.clearance.shape import (
    NO_BLOCKS,
    Blocks,
    Hulls,
    Mesh,
    Prism,
    Shape,
    rounded,
    solid_of_mesh,
)
from fitout.model.bay import Obstacle
from fitout.model.item import Piece, block
from fitout.model.module import Part
from fitout.model.outline import CHORD_SAGITTA, Loop
from fitout.model.panel import Bar, Face, Panel, Pocket
from fitout.model.placement import Placement


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """A solid in bay coordinates, mm, to 1e-6.

    `key` is a digest of everything that shapes it: bodies of equal key are the same solid
    in the same place, whatever their `id`. `lo` and `hi` are the corners of its bounding
    box, shape (3,).
    """

    id: str
    key: bytes
    lo: Array
    hi: Array
    shape: Shape

    @property
    def pieces(self) -> list[Array]:
        """Its convex pieces, each the corners, shape (n, 3)."""
        return self.shape.pieces

    @property
    def manifold(self) -> Solid:
        """Its solid, built when first asked for."""
        return self.shape.manifold

    @property
    def growth(self) -> float:
        """By how much (mm) it may exceed what it stands for: the chords of arcs."""
        return self.shape.growth

    @property
    def is_block(self) -> bool:
        """Whether it is one block along the bay's axes."""
        return isinstance(self.shape, Blocks) and len(self.shape.boxes) == 1


def body_of_shape(name: str, shape: Shape, key: bytes) -> Body:
    """The body of a shape whose content `key` stands for."""
    lo, hi = shape.bounds
    return Body(name, key, lo, hi, shape)


def key_of_arrays(kind: str, arrays: Iterable[npt.NDArray[Any]]) -> bytes:
    """A digest of arrays: their shapes and values."""
    digest = blake2b(kind.encode(), digest_size=16)
    for values in arrays:
        digest.update(repr(values.shape).encode())
        digest.update(values.tobytes())
    return digest.digest()


def key_of(part: Part) -> bytes:
    """A digest of everything that shapes the part's body; equal keys mean equal bodies."""
    p = part.placement
    numbers = [*p.origin, *p.u, *p.v]
    if isinstance(part, Panel):
        for loop in (part.outline.outer, *part.outline.inner):
            _append(numbers, loop)
        numbers.append(part.thickness)
        for pocket in part.pockets:
            numbers += [pocket.depth, float(pocket.face is Face.A)]
            _append(numbers, pocket.loop)
    elif isinstance(part, Bar):
        numbers += [part.length, part.section.width, part.section.height]
    else:
        for piece in part.pieces:
            numbers.append(len(piece))
            numbers += [value for corner in piece for value in corner]
    kind = type(part).__name__.encode()
    return blake2b(kind + array("d", numbers).tobytes(), digest_size=16).digest()


def _append(numbers: list[float], loop: Loop) -> None:
    numbers.append(len(loop.vertices))
    for vertex in loop.vertices:
        numbers += [vertex.x, vertex.y, vertex.bulge]


def body_of(part: Part) -> Body:
    """The body of a panel, bar or item.

    A panel is the prism of its outline less cut-outs and pockets; drill holes are left out
    (a screw fills most of them), arcs become chords that contain the part within
    0.004 mm. A bar is its whole bounding block, hollow or not. An item is its pieces;
    ValueError if one of them is flat.
    """
    if isinstance(part, Panel):
        return _panel(part)
    if isinstance(part, Bar):
        corners = block(part.length, part.section.width, part.section.height)
        return body_of_shape(part.id, _pieces([corners], part.placement), key_of(part))
    return body_of_shape(part.id, _pieces(part.pieces, part.placement), key_of(part))


def bounds_of(part: Part) -> tuple[Array, Array]:
    """Least and greatest corner of a block round the part's body, which is not made for it."""
    if not isinstance(part, Panel):
        body = body_of(part)
        return body.lo, body.hi
    outer = rounded(part.outline.outer.chords(grows=True))
    return _bounds(outer, part.thickness, part.placement.matrix)


def _bounds(outer: Array, thickness: float, matrix: Array) -> tuple[Array, Array]:
    """Corners of a block round the prism over a loop, placed in the bay."""
    turn, shift = matrix[:, :3], matrix[:, 3]
    low = np.column_stack([outer, np.zeros(len(outer))]) @ turn.T + shift
    points = rounded(np.vstack([low, low + thickness * turn[:, 2]]))
    return points.min(axis=0), points.max(axis=0)


def body_of_pieces(name: str, pieces: Sequence[Piece], placement: Placement) -> Body:
    """The body of convex pieces given in the axes of `placement`, such as a kept-clear zone."""
    shape = _pieces(pieces, placement)
    return body_of_shape(name, shape, key_of_arrays("pieces", shape.pieces))


def _pieces(pieces: Sequence[Piece], placement: Placement) -> Blocks | Hulls:
    placed = [rounded(placement.apply(np.array(piece, dtype=np.float64))) for piece in pieces]
    boxes = [_box_of(points) for points in placed]
    if all(box is not None for box in boxes):
        return Blocks(np.array(boxes))
    if any(np.linalg.matrix_rank(points - points[0], tol=1e-5) < 3 for points in placed):
        raise ValueError("a convex piece encloses no volume")
    return Hulls(placed)


def _box_of(points: Array) -> Array | None:
    """The block, shape (2, 3), whose eight corners the points are; None if they are not."""
    box = np.array([points.min(axis=0), points.max(axis=0)])
    if len(points) != 8 or np.any(box[0] == box[1]):
        return None
    at_corner = (points == box[0]) | (points == box[1])
    upper = (points == box[1]) @ np.array([4, 2, 1])
    return box if bool(at_corner.all()) and len(set(upper.tolist())) == 8 else None


def _panel(panel: Panel) -> Body:
    outline, matrix = panel.outline, panel.placement.matrix
    loops = (
        rounded(outline.outer.chords(grows=True)),
        *(rounded(loop.chords(grows=False)) for loop in outline.inner),
    )
    cuts = tuple(_cut(pocket, panel.thickness) for pocket in panel.pockets)
    core, cover = _placed_blocks(loops, panel.thickness, cuts, matrix)
    if core is cover:
        return body_of_shape(panel.id, Blocks(cover), key_of(panel))
    curved = (outline.outer, *outline.inner, *(pocket.loop for pocket in panel.pockets))
    growth = CHORD_SAGITTA if any(v.bulge for loop in curved for v in loop.vertices) else 0.0
    shape = Prism(loops, panel.thickness, cuts, matrix, core, cover, growth)
    return body_of_shape(panel.id, shape, key_of(panel))


def _placed_blocks(
    loops: Sequence[Array], thickness: float, cuts: Sequence[Cut], matrix: Array
) -> tuple[Array, Array]:
    """Core and cover in bay coordinates; one and the same if they are the panel itself."""
    turn, shift = matrix[:, :3], matrix[:, 3]
    if not np.all((turn == 0.0) | (np.abs(turn) == 1.0)):
        return NO_BLOCKS, np.array([_bounds(loops[0], thickness, matrix)])
    placed: list[Array] = []
    core, cover = core_and_cover(loops, thickness, cuts)
    for blocks in (cover,) if core is cover else (core, cover):
        corners = blocks @ turn.T + shift
        boxes = rounded(np.stack([corners.min(axis=1), corners.max(axis=1)], axis=1))
        placed.append(boxes[np.all(boxes[:, 1] > boxes[:, 0], axis=1)])
    return placed[0], placed[-1]


def _cut(pocket: Pocket, thickness: float) -> Cut:
    loop: Loop = pocket.loop
    chords = rounded(loop.chords(grows=False))
    if pocket.face is Face.A:
        return chords, 0.0, thickness - pocket.depth
    return chords, pocket.depth, thickness


def body_of_obstacle(obstacle: Obstacle) -> Body:
    """The body of something in the bay's way.

    Raises:
        ValueError: the obstacle's surface is not closed, or crosses itself.
    """
    key = key_of_arrays("obstacle", [obstacle.vertices, obstacle.triangles])
    points = rounded(obstacle.vertices)
    vertices, places = np.unique(points, axis=0, return_inverse=True)
    triangles: Indices = places.reshape(-1)[obstacle.triangles.astype(np.int64)]
    a, b, c = triangles.T
    triangles = triangles[(a != b) & (b != c) & (c != a)]
    corners = vertices[triangles]
    volume = float(np.einsum("ij,ij->", corners[:, 0], np.cross(corners[:, 1], corners[:, 2]))) / 6
    if volume < 0.0:
        triangles = triangles[:, ::-1]
    box = _box_of(vertices)
    if box is not None and abs(abs(volume) - float(np.prod(box[1] - box[0]))) < 1e-9 * abs(volume):
        return body_of_shape(obstacle.id, Blocks(box[None]), key)
    solid = solid_of_mesh(vertices, triangles)
    if volume == 0.0 or str(solid.status()) != "Error.NoError" or solid.is_empty():
        raise ValueError(f"obstacle {obstacle.name}: not a closed surface ({solid.status()})")
    return body_of_shape(obstacle.id, Mesh(vertices, triangles), key)
