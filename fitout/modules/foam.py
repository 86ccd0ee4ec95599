"""Foam inserts: layers chosen to make up a depth, tools laid out in it, how deep each lies.

      tool stands proud up to the room above
    ..._______.............
    ___|     |___     ___  upper layers: cut right through
    ___|_____|__|_____|__  a thin tool's pocket goes through fewer layers
    _____________________  floor layer: whole

A pocket goes through whole layers, as few from the top as hold six tenths of the tool.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Annotated

from fitout.clearance.convex import convex_polygons
from fitout.model.fault import DesignError, Fault, Path
from fitout.model.item import Piece
from fitout.model.outline import Loop, Point, circle, polygon, rectangle
from fitout.model.spec import Coordinate, Mass, PositiveLength, Quantity, Unit, entry
from fitout.model.stock import Board
from fitout.modules.pockets import grown, is_simple, united, with_fingers
from fitout.modules.shelves import Packing, pack

WALL = 12.0
"""Least foam between two pockets, and between a pocket and the edge, mm (common practice)."""

HELD_SHARE = 0.6
"""Least share of a tool's height that lies in the foam (common practice)."""

BODY_SAGITTA = 0.2
"""How far (mm) a round tool's body may lie inside the tool: it shows where it is, no more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapeSpec:
    """A shape seen from above: one of size, diameter or points."""

    size: tuple[PositiveLength, PositiveLength] | None = entry(
        "a rectangle: [length, width]", default=None, example="[180, 32]", otherwise="none"
    )
    diameter: PositiveLength | None = entry(
        "a circle: its diameter", default=None, example="28", otherwise="none"
    )
    points: tuple[tuple[Coordinate, Coordinate], ...] = entry(
        "a polygon: its corners in turn, [x, y]",
        default=(),
        example="[[0, 0], [120, 0], [90, 40]]",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ExtraShapeSpec(ShapeSpec):
    """A further shape of a tool, such as a hammer's head."""

    at: tuple[Coordinate, Coordinate] = entry(
        "from the middle of the tool's first shape to the middle of this one",
        default=(0.0, 0.0),
        example="[150, 0]",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolSpec(ShapeSpec):
    """A tool as it lies: its shape seen from above and how tall it lies."""

    name: str = entry("what it is", example="ring spanner 19")
    height: PositiveLength = entry("how tall it lies", example="14")
    quantity: Annotated[int, Quantity(Unit.RATIO, least=1, most=50)] = entry(
        "how many alike, each in a pocket of its own", default=1
    )
    mass: Mass = entry("mass of one", default=0.0, example="0.21 kg")
    also: tuple[ExtraShapeSpec, ...] = entry(
        "further shapes that belong to it",
        default=(),
        example="[{size: [48, 96], at: [101, 0]}]",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    """One tool to be laid out: its place in the list, its shape and its pocket, own axes."""

    index: int
    name: str
    height: float
    mass_kg: float
    shape: Loop
    pocket: Loop


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """A tool in its place: turned by a quarter or not, then shifted by (x, y)."""

    tool: Tool
    turned: bool
    x: float
    y: float

    def placed(self, loop: Loop) -> Loop:
        """A loop of the tool's own axes where the tool lies."""
        return loop.turned(int(self.turned)).moved(self.x, self.y)


def tools_of(specs: Sequence[ToolSpec], play: float, fingers: int, path: Path) -> list[Tool]:
    """Every tool with its pocket: `play` all round, finger cuts at none, one or both sides.

    Raises:
        DesignError: for each shape that is none, at `path` and its place in the list.
    """
    faults = [f for i, spec in enumerate(specs) for f in _shape_faults(spec, (*path, i))]
    if faults:
        raise DesignError(faults)
    tools: list[Tool] = []
    for i, spec in enumerate(specs):
        loops = _loops(spec)
        shape, pocket = united(loops), united([grown(loop, play) for loop in loops])
        if shape is None or pocket is None:
            faults.append(
                Fault(
                    path=(*path, i, "also"),
                    found="shapes that do not touch each other",
                    expected="shapes that overlap, so that they are one tool",
                )
            )
            continue
        cut = with_fingers(pocket, fingers)
        tools.extend(
            Tool(
                index=i,
                name=spec.name if spec.quantity == 1 else f"{spec.name} {number}",
                height=spec.height,
                mass_kg=spec.mass,
                shape=shape,
                pocket=cut,
            )
            for number in range(1, spec.quantity + 1)
        )
    if faults:
        raise DesignError(faults)
    return tools


def _shape_faults(spec: ToolSpec, path: Path) -> Iterator[Fault]:
    shapes: list[tuple[ShapeSpec, Path]] = [(spec, path)]
    shapes += [(extra, (*path, "also", k)) for k, extra in enumerate(spec.also)]
    for shape, place in shapes:
        given = [n for n in ("size", "diameter", "points") if getattr(shape, n)]
        if len(given) != 1:
            found = " and ".join(given) or "no shape"
            yield Fault(path=place, found=found, expected="one of size, diameter or points")
        elif shape.points and not is_simple(shape.points):
            yield Fault(
                path=(*place, "points"),
                found=f"{len(shape.points)} points that enclose no room or cross themselves",
                expected="three corners or more, in turn round the shape",
            )


def _loops(spec: ToolSpec) -> list[Loop]:
    loops = [_centred(spec)]
    loops += [_centred(extra).moved(*extra.at) for extra in spec.also]
    return loops


def _centred(shape: ShapeSpec) -> Loop:
    """A shape about the middle of its bounding rectangle."""
    if shape.size is not None:
        length, width = shape.size
        return rectangle(length, width, -length / 2.0, -width / 2.0)
    if shape.diameter is not None:
        return circle(0.0, 0.0, shape.diameter)
    loop = polygon(shape.points)
    x0, y0, x1, y1 = loop.bounds
    return loop.moved(-(x0 + x1) / 2.0, -(y0 + y1) / 2.0)


def body_pieces(tool: Tool) -> tuple[Piece, ...]:
    """A tool's body as convex prisms, in its own axes, its underside at height 0."""
    chords = tool.shape.chords(grows=False, sagitta=BODY_SAGITTA)
    return tuple(
        tuple((float(x), float(y), z) for z in (0.0, tool.height) for x, y in piece)
        for piece in convex_polygons([chords])
    )


def choose_layers(least: float, foams: Iterable[Board]) -> tuple[Board, ...]:
    """Foam layers, topmost first, that together are at least `least` mm thick.

    The thinnest such stack, of the fewest layers; thin layers lie on top, so that low tools
    need not lie deep.
    """
    boards = sorted(foams, key=lambda b: (b.thickness, b.key))
    stacks: dict[float, tuple[Board, ...]] = {0.0: ()}
    pending = [0.0]
    enough: list[float] = []
    while pending:
        total = min(pending)
        pending.remove(total)
        if total >= least:
            enough.append(total)
            continue
        for board in boards:
            thicker = round(total + board.thickness, 6)
            stack = tuple(sorted((*stacks[total], board), key=lambda b: (b.thickness, b.key)))
            if thicker not in stacks:
                pending.append(thicker)
            elif len(stacks[thicker]) <= len(stack):
                continue
            stacks[thicker] = stack
    return stacks[min(enough)]


def layers_for(height: float, layers: Sequence[Board]) -> int:
    """Through how many layers from the top a pocket goes for a tool so tall."""
    depth = 0.0
    for count, board in enumerate(layers, start=1):
        depth += board.thickness
        if depth >= HELD_SHARE * height - 1e-6:
            return count
    return len(layers)


def lay_out(tools: Sequence[Tool], room: Point, path: Path, *, tall_ahead: bool) -> list[Laid]:
    """Lay the tools out in a room (x, y), rows across, the rows of tall tools at one end.

    Raises:
        DesignError: for each tool that finds no place, with the millimetres that are missing.
    """
    boxes = [_extent(tool.pocket) for tool in tools]
    packing = pack(boxes, room, WALL)
    if packing.left:
        raise DesignError(list(_missing(tools, boxes, packing.left, room, path)))
    return list(_spread(tools, boxes, packing, room, tall_ahead))


def _extent(loop: Loop) -> Point:
    x0, y0, x1, y1 = loop.bounds
    return x1 - x0, y1 - y0


def _missing(
    tools: Sequence[Tool], boxes: Sequence[Point], left: Sequence[int], room: Point, path: Path
) -> Iterator[Fault]:
    """What each tool that found no place lacks; once for each entry of the list."""
    short = pack(boxes, (math.inf, room[1]), WALL).depth(WALL) - room[0]
    seen: set[int] = set()
    for i in left:
        tool = tools[i]
        if tool.index in seen:
            continue
        seen.add(tool.index)
        length, width = max(boxes[i]), min(boxes[i])
        over = min(
            max(a + 2.0 * WALL - room[0], b + 2.0 * WALL - room[1])
            for a, b in (boxes[i], boxes[i][::-1])
        )
        if over > 0.0:
            hint = f"It alone is {over:.0f} mm too long or too wide."
        else:
            hint = f"All would go in if the tray were {short:.0f} mm deeper fore and aft."
        yield Fault(
            path=(*path, tool.index),
            found=f"{tool.name}, which takes {length:.0f} x {width:.0f} mm with its finger room",
            expected=f"tools that all fit into {room[0]:.0f} mm fore and aft by {room[1]:.0f} mm "
            f"across with {WALL:g} mm of foam about each",
            hint=hint,
        )


def _spread(
    tools: Sequence[Tool],
    boxes: Sequence[Point],
    packing: Packing,
    room: Point,
    tall_ahead: bool,
) -> Iterator[Laid]:
    """The rows in order of height, what room is left shared out between the walls."""
    rows = sorted(
        packing.rows,
        key=lambda row: max(tools[lying.index].height for lying in row.lying),
        reverse=not tall_ahead,
    )
    wall_x = WALL + (room[0] - packing.depth(WALL)) / (len(rows) + 1)
    x = wall_x
    for row in rows:
        used = sum(lying.along for lying in row.lying)
        wall_y = (room[1] - used) / (len(row.lying) + 1)
        y = wall_y
        for lying in row.lying:
            tool = tools[lying.index]
            x0, y0, _, _ = tool.pocket.turned(int(lying.turned)).bounds
            deep = boxes[lying.index][1 if lying.turned else 0]
            middle = x + (row.depth - deep) / 2.0
            yield Laid(tool=tool, turned=lying.turned, x=middle - x0, y=y - y0)
            y += lying.along + wall_y
        x += row.depth + wall_x
