"""The room a socket, its ratchet and an arm take, and what stands in it.

seen from the side            seen from above

    |arm |                      +-------------+
    +----+-----+                +-            |   narrow at the ratchet's head, as wide at
    | handle   |  HANDLE_HIGH    o  handle    |   the hand as it swings, to one of four sides
    +-+  +-----+                +-            |
      |  |        extension     +-------------+
      |__|        socket on the bolt's head
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterator, Sequence
from functools import cached_property, partial

import numpy as np

from fitout.checks.subject import Subject
from fitout.clearance.body import Body, body_of_pieces
from fitout.clearance.contact import common_solid
from fitout.clearance.convex import Array, Indices
from fitout.clearance.halfspaces import Halfspaces, halfspaces_of
from fitout.clearance.shape import NO_BLOCKS, Hulls, Mesh
from fitout.model.item import Piece, block
from fitout.model.module import Module
from fitout.model.placement import Placement, Vector

Box = tuple[Vector, Vector]
"""Least and greatest corner of a block."""

SOCKET_SHARE = 2.75
"""Outer diameter of a socket over its bolt's: 22 mm for M8 (common practice)."""

SOCKET = 30.0
"""From a bolt's head to the underside of the ratchet on its socket, mm (common practice)."""

EXTENSIONS = (0.0, 75.0, 150.0, 250.0, 500.0)
"""Lengths of extension a workshop has or puts together, mm (common practice)."""

HANDLE, HANDLE_HIGH = 180.0, 45.0
"""Length of a ratchet from its square, and height it takes with fingers round it, mm (common
practice)."""

RATCHET_HEAD = 15.0
"""Half the width of a ratchet's head, mm (common practice)."""

SWING_DEG = 30.0
"""How far a ratchet must swing, degrees (common practice)."""

ARM = 90.0
"""Width and height of the room a fist and forearm go through, mm (common practice)."""

REACH = 650.0
"""How deep an arm goes into an opening that a shoulder does not, mm (common practice)."""

ELBOW = 150.0
"""How far an arm goes on along the handle before it turns aside, mm (common practice)."""

BEYOND = 100.0
"""How far outside a module its arm's way is looked at, mm."""

SLACK = 0.05
"""What comes less far into a way is not in it, mm."""

SURE = 1e-3
"""What comes this far into a way, mm, does so whatever rounding does."""

LEAST = SOCKET + HANDLE_HIGH
"""Free height over a bolt's head that a ratchet asks for, mm."""

LOOKED_AT = 300.0


class Room:
    """All that could stand in a way, as blocks round its pieces, looked through at once."""

    def __init__(self, subject: Subject) -> None:
        self.subject = subject
        state = next((s for s in subject.fitout.bay.states if s.tailgate_open), None)
        self.ids = [
            id_
            for id_, part in subject.parts.items()
            if subject.modules[part.module].berth is not None
        ]
        for id_, obstacle in subject.obstacles.items():
            there = state is None or not obstacle.states or state.name in obstacle.states
            if there and obstacle.kind not in ("keep clear", "tailgate"):
                self.ids.append(id_)
        bodies = [subject.bodies[i] for i in self.ids]
        self.walls = [body.id for body in bodies if isinstance(body.shape, Mesh)]
        self.covers = _listed(
            [b.shape.extents if isinstance(b.shape, Hulls) else b.shape.cover for b in bodies]
        )
        self.cores = _listed(
            [NO_BLOCKS if isinstance(b.shape, Hulls) else b.shape.core for b in bodies]
        )

    @cached_property
    def _spaces(self) -> Halfspaces:
        """The half-spaces of the walls."""
        walls = [self.subject.bodies[i] for i in self.walls]
        question = ("half-spaces", *(wall.key for wall in walls))
        work_out = partial(halfspaces_of, [wall.pieces for wall in walls])
        return self.subject.memory.recall(question, work_out)

    def key(self, box: Box | None = None) -> tuple[tuple[str, bytes, str], ...]:
        """What answers about a block (or all) depend on: every body, and whether it moves."""
        parts, bodies = self.subject.parts, self.subject.bodies
        return tuple(
            (i, bodies[i].key, (parts[i].moves or "") if i in parts else "")
            for i in (self.ids if box is None else self.near(box))
        )

    def near(self, box: Box) -> list[str]:
        """What comes into a block, or could."""
        return self._hit(self.covers, box)

    def surely(self, box: Box) -> set[str]:
        """Some of what comes into a block: all that shows at once."""
        return set(self._hit(self.cores, box))

    def _hit(self, listed: tuple[Array, Array, Indices], box: Box) -> list[str]:
        lows, highs, owners = listed
        low, high = box
        hit = lows[0] < high[0] - SLACK
        for axis in range(3):
            hit &= lows[axis] < high[axis] - SLACK
            hit &= highs[axis] > low[axis] + SLACK
        return [self.ids[i] for i in dict.fromkeys(owners[hit].tolist())]

    def within(self, box: Box, piece: Piece | None = None, known: Collection[str] = ()) -> set[str]:
        """What really comes into a block, or into an upright prism inside it.

        The prism is given as its lower corners anticlockwise, then the upper ones. What is
        `known` to stand in the way already is not looked at again.
        """
        bodies = self.subject.bodies
        sure = set() if piece else self.surely(box)
        doubtful = [bodies[i] for i in self.near(box) if i not in sure and i not in known]
        if piece and doubtful:
            gaps = _gaps_from(piece)
            sure |= {body.id for body in doubtful if (gaps(body.shape.core) < -SURE).any()}
            doubtful = [body for body in doubtful if (gaps(body.shape.cover) < 0.0).any()]
        if doubtful:
            length, width, height = np.subtract(box[1], box[0]).tolist()
            corners = piece or block(length, width, height, box[0])
            sure |= self._entered(corners, [body for body in doubtful if body.id not in sure])
        return sure

    def _entered(self, corners: Piece, doubtful: Sequence[Body]) -> set[str]:
        """Which bodies a convex piece really shares room with."""
        found: set[str] = set()
        walls = [body for body in doubtful if isinstance(body.shape, Mesh)]
        if walls:
            # Half-spaces decide most of what there is to say of walls.
            points = np.array(corners)
            # What lies between a block's corners lies in it too; the prisms have more corners.
            middles = (points[:, None] + points[None]).reshape(-1, 3) / 2.0
            near, deep = self._spaces.standing(points if len(points) > 8 else middles, SURE)
            entered = {self.walls[i] for i in deep}
            unsure = {self.walls[i] for i in near} - entered
            found = {wall.id for wall in walls if wall.id in entered}
            doubtful = [body for body in doubtful if body not in walls or body.id in unsure]
        if doubtful:
            asked = body_of_pieces("room", [corners], Placement())
            found |= {body.id for body in doubtful if common_solid(asked, body, SLACK) is not None}
        return found


def _gaps_from(piece: Piece) -> Callable[[Array], Array]:
    """How far blocks, shape (n, 2, 3), stay from an upright prism, mm; below zero: how deep.

    By separating axes: those of the blocks and the prism's sides are all there are.
    """
    corners = np.array(piece)
    low, high = corners.min(axis=0), corners.max(axis=0)
    ring = corners[: len(piece) // 2, :2]
    along = np.roll(ring, -1, axis=0) - ring
    out = np.column_stack([along[:, 1], -along[:, 0]]) / np.hypot(*along.T)[:, None]
    reach = (out * ring).sum(axis=1)

    def gaps(blocks: Array) -> Array:
        beside = np.maximum(low - blocks[:, 1], blocks[:, 0] - high).max(axis=1)
        # The least of each block along each side's normal.
        least = np.minimum(blocks[:, None, 0, :2] * out, blocks[:, None, 1, :2] * out).sum(axis=2)
        return np.asarray(np.maximum(beside, (least - reach).max(axis=1)))

    return gaps


def _listed(blocks: Sequence[Array]) -> tuple[Array, Array, Indices]:
    """Blocks of several bodies: least corners, greatest corners, shape (3, n), and whose."""
    boxes = np.concatenate(blocks) if blocks else NO_BLOCKS
    owners = np.repeat(np.arange(len(blocks), dtype=np.int64), [len(b) for b in blocks])
    return boxes[:, 0].T.copy(), boxes[:, 1].T.copy(), owners


def column_over(point: Vector, diameter: float, height: float) -> Piece:
    """The socket, ratchet head and extension, a prism round their cylinder."""
    count = 16
    radius = SOCKET_SHARE * diameter / 2.0 / math.cos(math.pi / count)
    x, y, z = point
    turns = [2.0 * math.pi * k / count for k in range(count)]
    return tuple(
        (x + radius * math.cos(t), y + radius * math.sin(t), z + up)
        for up in (0.1, height)
        for t in turns
    )


def box_round(piece: Piece) -> Box:
    """The block round a piece."""
    points = np.array(piece)
    (x0, y0, z0), (x1, y1, z1) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    return (x0, y0, z0), (x1, y1, z1)


def handle_of(point: Vector, extension: float, side: tuple[int, int]) -> Piece:
    """The ratchet to one side, as far as it swings: narrow at its head, wide at the hand."""
    x, y, z = point
    half = HANDLE * math.sin(math.radians(SWING_DEG / 2.0)) + RATCHET_HEAD
    left = [(HANDLE, half), (0.0, RATCHET_HEAD), (-RATCHET_HEAD, 0.7 * RATCHET_HEAD)]
    outline = [*left, *((along, -across) for along, across in reversed(left))]
    low = z + SOCKET + extension
    return tuple(
        (x + side[0] * a - side[1] * b, y + side[1] * a + side[0] * b, up)
        for up in (low, low + HANDLE_HIGH)
        for a, b in outline
    )


def reach_of(module: Module, point: Vector) -> Box:
    """A block round every way to a bolt at `point`."""
    assert module.berth is not None
    b, far = module.berth, HANDLE + ELBOW + ARM + BEYOND
    low = np.minimum((b.x0, b.y0, b.z0), np.array(point)) - far
    high = np.maximum((b.x1, b.y1, b.z1), np.array(point) + EXTENSIONS[-1]) + far
    (x0, y0, z0), (x1, y1, z1) = low.tolist(), high.tolist()
    return (x0, y0, z0), (x1, y1, z1)


def arms_from(
    module: Module, handle: Box, side: tuple[int, int]
) -> Iterator[tuple[str, tuple[Box, ...]]]:
    """The arm's ways from the handle's end out of the module, where it is long enough.

    The forearm goes straight out, or first on along the handle as far as to the elbow.
    """
    assert module.berth is not None
    b = module.berth
    (x0, y0, z0), (x1, y1, _) = handle
    middle = ARM / 2.0
    hx = x0 + middle if side[0] < 0 else x1 - middle if side[0] > 0 else (x0 + x1) / 2.0
    hy = y0 + middle if side[1] < 0 else y1 - middle if side[1] > 0 else (y0 + y1) / 2.0
    for bend in (0.0, ELBOW):
        x, y = hx + bend * side[0], hy + bend * side[1]
        along = _corridor((hx, hy, z0), (x, y, z0))
        for words, end, depth in (
            ("from above", (x, y, b.z1 + BEYOND), b.z1 - z0),
            ("from behind", (b.x0 - BEYOND, y, z0), x - b.x0),
            ("from the left", (x, b.y1 + BEYOND, z0), b.y1 - y),
            ("from the right", (x, b.y0 - BEYOND, z0), y - b.y0),
        ):
            if depth <= REACH - bend:
                out = _corridor((x, y, z0), end)
                yield words, (along, out) if bend else (out,)


def _corridor(start: Vector, end: Vector) -> Box:
    """The block an arm takes from one point to another straight along an axis, from z up."""
    low, high = np.minimum(start, end), np.maximum(start, end)
    half = ARM / 2.0
    (x0, y0, z0), (x1, y1, z1) = low.tolist(), high.tolist()
    return (x0 - half, y0 - half, z0), (x1 + half, y1 + half, max(z1, z0 + ARM))
