"""What bodies are made of, in bay coordinates: blocks, prisms, hulls and closed meshes.

Each shape yields its solid (`manifold`) and its convex `pieces` when first asked; blocks
inside it (`core`) and around it (`cover`), shape (n, 2, 3); solids that together make it
(`solids`, their bounding blocks `extents`); simpler convex pieces that contain it (`eased`,
`filled`), the corners of a convex one
(`hulled`); and by how much it may exceed the part it stands for (`growth`). These classes
have no slots: `cached_property` keeps what is built in the instance, whose content never
changes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
from manifold3d import CrossSection, FillRule, Manifold, Mesh64, OpType, triangulate

from fitout.clearance.convex import (
    Array,
    Indices,
    Solid,
    blunted,
    convex_polygons,
    convex_solids,
    eased,
    hull_of,
    mesh_of,
)
from fitout.clearance.grid import Cut

DIGITS = 6
"""Vertices are rounded to this many decimals, so that faces meant to touch do touch."""

EASED = 0.1
"""By how much (mm) inward arcs are eased where a body is to move: far fewer pieces."""

BLUNTED = 0.25
"""How far (mm) rounded edges are drawn out where only a hull with few corners matters."""

NO_BLOCKS: Array = np.empty((0, 2, 3))

_BLOCK_TRIANGLES = np.array(
    [[0, 1, 3], [0, 3, 2], [4, 6, 7], [4, 7, 5], [0, 4, 5], [0, 5, 1],
     [2, 3, 7], [2, 7, 6], [0, 2, 6], [0, 6, 4], [1, 5, 7], [1, 7, 3]]
)  # fmt: skip


def rounded(points: Array) -> Array:
    """`points` to 1e-6 mm, without negative zeros."""
    return np.asarray(np.round(points, DIGITS) + 0.0, dtype=np.float64)


def solid_of_mesh(vertices: Array, triangles: Indices) -> Solid:
    """The solid within a closed surface."""
    return Manifold(
        Mesh64(np.ascontiguousarray(vertices), np.ascontiguousarray(triangles, dtype=np.uint64))
    )


def block_corners(box: Array) -> Array:
    """The eight corners, shape (8, 3), of a block given as its least and greatest corner."""
    return np.array(
        [[box[i, 0], box[j, 1], box[k, 2]] for i in (0, 1) for j in (0, 1) for k in (0, 1)]
    )


def united(solids: Sequence[Solid]) -> Solid:
    """The union of solids."""
    return solids[0] if len(solids) == 1 else Manifold.batch_boolean(list(solids), OpType.Add)


class AsItIs:
    """A shape taken as its pieces are: nothing of it is eased or filled in."""

    if TYPE_CHECKING:

        @property
        def pieces(self) -> list[Array]:
            """Its convex pieces, by their corners."""

    @property
    def eased(self) -> list[Array]:
        """The pieces themselves."""
        return self.pieces

    @property
    def filled(self) -> list[Array]:
        """The pieces themselves."""
        return self.pieces

    @property
    def hulled(self) -> Array:
        """The corners of all pieces."""
        return np.vstack(self.pieces)


class AsOne(AsItIs):
    """A shape taken as it is and in one: nothing of it is looked at apart."""

    @property
    def manifold(self) -> Solid:
        """The solid."""
        raise NotImplementedError

    @property
    def pieces(self) -> list[Array]:
        """Its convex pieces, by their corners."""
        raise NotImplementedError

    @property
    def bounds(self) -> tuple[Array, Array]:
        """Least and greatest corner."""
        raise NotImplementedError

    @property
    def solids(self) -> list[Solid]:
        """The whole solid."""
        return [self.manifold]

    @property
    def extents(self) -> Array:
        """The bounding block of the whole, shape (1, 2, 3)."""
        return np.array([self.bounds])


@dataclass(frozen=True, eq=False)
class Blocks(AsOne):
    """Blocks along the bay's axes: `boxes`, shape (n, 2, 3), least and greatest corners."""

    boxes: Array
    growth: float = 0.0

    @cached_property
    def manifold(self) -> Solid:
        """The union of the blocks."""
        return united([solid_of_mesh(p, _BLOCK_TRIANGLES) for p in self.pieces])

    @cached_property
    def pieces(self) -> list[Array]:
        """The corners of each block."""
        return [block_corners(box) for box in self.boxes]

    @property
    def bounds(self) -> tuple[Array, Array]:
        """Least and greatest corner."""
        return self.boxes[:, 0].min(axis=0), self.boxes[:, 1].max(axis=0)

    @property
    def core(self) -> Array:
        """The blocks themselves."""
        return self.boxes

    @property
    def cover(self) -> Array:
        """The blocks themselves."""
        return self.boxes


@dataclass(frozen=True, eq=False)
class Prism:
    """A panel that is no set of blocks: loops of chords, pockets, and its placement.

    `loops` are the outer loop and the cut-outs, anticlockwise; `matrix` is the placement's.
    `core` blocks lie inside it (there may be none), `cover` blocks contain it.
    """

    loops: tuple[Array, ...]
    thickness: float
    cuts: tuple[Cut, ...]
    matrix: Array
    core: Array
    cover: Array
    growth: float

    def _placed(self, points: Array) -> Array:
        return rounded(points @ self.matrix[:, :3].T + self.matrix[:, 3])

    @cached_property
    def manifold(self) -> Solid:
        """The outline's prism less its pockets."""
        loops = [self.loops[0], *(loop[::-1] for loop in self.loops[1:])]
        vertices, triangles = _prism(loops, 0.0, self.thickness)
        if self.cuts:
            body = solid_of_mesh(vertices, triangles)
            # A pocket's prism stands out of the face it is sunk into, so that nothing of
            # that face is left.
            tools = [
                solid_of_mesh(
                    *_prism(
                        [loop],
                        end if start == 0.0 else -1.0,
                        self.thickness + 1.0 if start == 0.0 else start,
                    )
                )
                for loop, start, end in self.cuts
            ]
            body = Manifold.batch_boolean([body, *tools], OpType.Subtract)
            vertices, triangles = mesh_of(body)
        return solid_of_mesh(self._placed(vertices), triangles)

    @cached_property
    def pieces(self) -> list[Array]:
        """Convex prisms that together make the panel, cut-outs and pockets taken off."""
        return self._prisms(self.loops, self.cuts)

    @cached_property
    def eased(self) -> list[Array]:
        """Fewer convex prisms that contain the panel: inward arcs are eased by up to 0.1 mm."""
        outer, *inner = self.loops
        loops = (eased(outer, EASED), *(eased(loop[::-1], EASED)[::-1] for loop in inner))
        cuts = tuple((eased(loop[::-1], EASED)[::-1], start, end) for loop, start, end in self.cuts)
        return self._prisms(loops, cuts)

    @cached_property
    def filled(self) -> list[Array]:
        """Convex prisms round the panel, inward arcs eased by 1 mm, cut-outs and pockets filled."""
        return self._prisms((eased(self.loops[0]),), ())

    @cached_property
    def hulled(self) -> Array:
        """Corners of a convex prism round the panel, rounded edges blunted by a quarter mm."""
        hull = CrossSection.hull_points(self.loops[0]).to_polygons()[0]
        polygon = blunted(np.asarray(hull), BLUNTED)
        return self._placed(np.vstack([_at(polygon, low) for low in (0.0, self.thickness)]))

    def _prisms(self, loops: tuple[Array, ...], cuts: tuple[Cut, ...]) -> list[Array]:
        return [
            self._placed(np.vstack([_at(polygon, low), _at(polygon, high)]))
            for section, low, high in self._regions(loops, cuts)
            for polygon in convex_polygons([np.asarray(p) for p in section.to_polygons()])
        ]

    def _regions(
        self, loops: tuple[Array, ...], cuts: tuple[Cut, ...]
    ) -> list[tuple[Solid, float, float]]:
        """The parts of the outline that differ in what the pockets leave of the thickness."""
        outline = CrossSection(list(loops), FillRule.EvenOdd)
        regions = [(outline, 0.0, self.thickness)]
        for loop, start, end in cuts:
            tool = CrossSection([loop], FillRule.EvenOdd)
            split: list[tuple[Solid, float, float]] = []
            for section, low, high in regions:
                split.append((section - tool, low, high))
                split.append((section ^ tool, max(low, start), min(high, end)))
            regions = [r for r in split if r[2] > r[1] and not r[0].is_empty()]
        return regions

    @property
    def solids(self) -> list[Solid]:
        """The whole solid."""
        return [self.manifold]

    @property
    def extents(self) -> Array:
        """The bounding block of the whole, shape (1, 2, 3)."""
        return np.array([self.bounds])

    @property
    def bounds(self) -> tuple[Array, Array]:
        """Least and greatest corner."""
        return self.cover[:, 0].min(axis=0), self.cover[:, 1].max(axis=0)


def _at(polygon: Array, w: float) -> Array:
    return np.column_stack([polygon, np.full(len(polygon), w)])


def _prism(loops: list[Array], low: float, high: float) -> tuple[Array, Indices]:
    """Vertices and triangles of the prism over loops, holes clockwise."""
    flat = np.vstack(loops)
    count = len(flat)
    caps = np.asarray(triangulate(loops), dtype=np.int64)
    starts = np.arange(count)
    ends = starts + 1
    first = 0
    for loop in loops:
        ends[first + len(loop) - 1] = first
        first += len(loop)
    walls = np.vstack(
        [
            np.column_stack([starts, ends, ends + count]),
            np.column_stack([starts, ends + count, starts + count]),
        ]
    )
    vertices = np.vstack([_at(flat, low), _at(flat, high)])
    return vertices, np.vstack([caps[:, ::-1], caps + count, walls])


@dataclass(frozen=True, eq=False)
class Hulls(AsItIs):
    """The union of the convex hulls of `pieces`, each shape (n, 3)."""

    pieces: list[Array]
    growth: float = 0.0

    @cached_property
    def solids(self) -> list[Solid]:
        """Each hull by itself, for uniting many of them takes long."""
        return [hull_of(piece) for piece in self.pieces]

    @cached_property
    def manifold(self) -> Solid:
        """The union of the hulls."""
        return united(self.solids)

    @property
    def core(self) -> Array:
        """None."""
        return NO_BLOCKS

    @cached_property
    def cover(self) -> Array:
        """The bounding block of each piece."""
        return np.array([[piece.min(axis=0), piece.max(axis=0)] for piece in self.pieces])

    @property
    def extents(self) -> Array:
        """The bounding block of each solid, shape (n, 2, 3)."""
        return self.cover

    @property
    def bounds(self) -> tuple[Array, Array]:
        """Least and greatest corner."""
        return self.cover[:, 0].min(axis=0), self.cover[:, 1].max(axis=0)


@dataclass(frozen=True, eq=False)
class Mesh(AsOne):
    """The solid within a closed surface of any shape."""

    vertices: Array
    triangles: Indices
    growth: float = 0.0

    @cached_property
    def manifold(self) -> Solid:
        """The solid."""
        return solid_of_mesh(self.vertices, self.triangles)

    @cached_property
    def pieces(self) -> list[Array]:
        """Convex pieces of the solid."""
        return [mesh_of(part)[0] for part in convex_solids(self.manifold)]

    @property
    def core(self) -> Array:
        """None."""
        return NO_BLOCKS

    @cached_property
    def cover(self) -> Array:
        """The bounding block."""
        return np.array([self.bounds])

    @property
    def bounds(self) -> tuple[Array, Array]:
        """Least and greatest corner."""
        return self.vertices.min(axis=0), self.vertices.max(axis=0)


Shape = Blocks | Prism | Hulls | Mesh
