"""The leaves of the tailgate and what hangs on them: shut, open, and how they turn.

A leaf that opens upwards turns about the opening's upper edge, one that drops about the sill,
one that opens sideways about an upright axis at the jamb where the opening is widest. A split
one has two leaves that part at a height.

::

      roof ----+.  axis
               | `.
               |  |  leaf
      sill ----+--|

Its own outline is taken as the opening's greatest width, its outer face as the inner one,
further back by its thickness.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fitout.model.bay import Obstacle, Swing
from fitout.model.outline import Point
from fitout.model.placement import Vector, turned
from fitout.model.tailgate import DoorLoadSpec, TailgateSpec
from fitout.survey.meshes import block_mesh, column
from fitout.survey.walls import followed

Opening = tuple[tuple[float, float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """One leaf of the tailgate: between which heights, and how it turns."""

    name: str
    low: float
    high: float
    opens: str


def leaves_of(spec: TailgateSpec, opening: Opening) -> tuple[Leaf, ...]:
    """The leaves from above to below."""
    low, high = opening[0][0], opening[-1][0]
    if spec.opens != "split":
        return (Leaf(name="tailgate", low=low, high=high, opens=spec.opens),)
    part = spec.splits_at if spec.splits_at is not None else (low + high) / 2.0
    return (
        Leaf(name="upper tailgate", low=part, high=high, opens="upwards"),
        Leaf(name="lower tailgate", low=low, high=part, opens="downwards"),
    )


def hangs_on(leaf: Leaf, load: DoorLoadSpec) -> bool:
    """Whether a load's middle lies at the leaf's height; what hangs too low or high, on no leaf."""
    return leaf.low <= load.above + load.size.height / 2.0 < leaf.high


def door_swings(
    spec: TailgateSpec | None, face: Sequence[Point], opening: Opening
) -> tuple[Swing, ...]:
    """How each leaf swings open from shut, with all that hangs on it."""
    if spec is None:
        return ()
    return tuple(_swing(spec, leaf, face, opening) for leaf in leaves_of(spec, opening))


def opened(swings: Sequence[Swing], states: tuple[str, ...]) -> Iterator[Obstacle]:
    """The leaves and their loads as they stand when open, in those states."""
    for swing in swings:
        for leaf in swing.leaves:
            points = turned(leaf.vertices, swing.point, swing.direction, swing.travel)
            name = f"open {leaf.name}" if leaf.name == swing.name else leaf.name
            yield dataclasses.replace(leaf, name=name, vertices=points, states=states)


def _swing(spec: TailgateSpec, leaf: Leaf, face: Sequence[Point], opening: Opening) -> Swing:
    right, left = max(r for _, r, _ in opening), max(y for _, _, y in opening)
    inner = [(z, followed(face, z)) for z in _levels(face, leaf)]
    t = spec.thickness
    rings = [[(x - t, -right, z), (x, -right, z), (x, left, z), (x - t, left, z)] for z, x in inner]
    solids = [
        Obstacle(leaf.name, "door", *column(rings)),
        *(_load(spec, load, inner) for load in spec.carries if hangs_on(leaf, load)),
    ]
    point, direction, level = _axis(spec, leaf, (inner[0], inner[-1]), (right, left))
    drops = spec.opens == "split" and leaf.opens == "downwards"
    return Swing(
        name=leaf.name,
        kind="door",
        leaves=tuple(solids),
        point=point,
        direction=direction,
        travel=level if spec.angle is None or drops else spec.angle,
    )


def _levels(face: Sequence[Point], leaf: Leaf) -> list[float]:
    between = {z for z, _ in face if leaf.low < z < leaf.high}
    return sorted({leaf.low, leaf.high, *between})


def _load(spec: TailgateSpec, load: DoorLoadSpec, inner: Sequence[Point]) -> Obstacle:
    """A block against the leaf's face, no further from it than where the face stands out most."""
    size, half = load.size, load.size.width / 2.0
    span = (load.above, load.above + size.height)
    levels = {*span, *(z for z, _ in inner if span[0] < z < span[1])}
    xs = [followed(inner, z) for z in levels]
    if load.face == "inner":
        x0, x1 = max(xs), max(xs) + size.length
    else:
        x1 = min(xs) - spec.thickness
        x0 = x1 - size.length
    low, high = (x0, load.middle - half, span[0]), (x1, load.middle + half, span[1])
    return Obstacle(f"{load.name} on the tailgate", "door", *block_mesh(low, high))


def _axis(
    spec: TailgateSpec,
    leaf: Leaf,
    ends: tuple[Point, Point],
    jambs: tuple[float, float],
) -> tuple[Vector, Vector, float]:
    """A point of the axis, its direction, and the degrees until the leaf is level or square."""
    (z0, x0), (z1, x1) = ends
    behind, right, left = spec.turns_behind, *jambs
    rise, lean = z1 - z0, x1 - x0
    # From upright a leaf turns 90°; one that leans forward turns less upwards, more downwards.
    if leaf.opens == "upwards":
        return (x1 - behind, 0.0, z1), (0.0, 1.0, 0.0), math.degrees(math.atan2(rise, lean))
    if leaf.opens == "downwards":
        return (x0 - behind, 0.0, z0), (0.0, -1.0, 0.0), math.degrees(math.atan2(rise, -lean))
    if spec.hinged == "left":
        return (x0 - behind, left, z0), (0.0, 0.0, -1.0), 90.0
    return (x0 - behind, -right, z0), (0.0, 0.0, 1.0), 90.0
