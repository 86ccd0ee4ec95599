"""The bay as a solid: named surfaces the vehicle puts in the way, and its states."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from fitout.model.outline import Point
from fitout.model.placement import Vector
from fitout.model.restraint import BoltSpec, FloorSpec

Mesh = tuple[npt.NDArray[np.float64], npt.NDArray[np.uint32]]
"""Vertices, shape (n, 3), and triangles, shape (m, 3), of a closed surface."""


@dataclass(frozen=True, slots=True)
class State:
    """How the vehicle stands: which seat notch, folded or not, tailgate open or shut."""

    name: str
    seat: str
    tailgate_open: bool


@dataclass(frozen=True, slots=True, eq=False)
class Obstacle:
    """A closed solid that parts may not enter: a wall, an arch, the seat, a kept-clear zone.

    `states` names the states it is there in; empty means all. `kind` is one of
    "surface" (wall, roof, floor), "arch", "seat", "tailgate", "aperture", "keep clear",
    "ledge" (behind the sill), "door" (a leaf of the open tailgate and what hangs on it).
    `reached` says of a kept-clear place whether a "hand" must come to it, or what is there must
    come "out" at the tailgate.
    """

    name: str
    kind: str
    vertices: npt.NDArray[np.float64]
    triangles: npt.NDArray[np.uint32]
    states: tuple[str, ...] = ()
    reached: Literal["", "hand", "out"] = ""

    @property
    def id(self) -> str:
        """`bay/name`, as joints refer to it."""
        return f"bay/{self.name}"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Swing:
    """Something of the vehicle that turns: a leaf of the tailgate, the back of the seat.

    `leaves` are its solids where it starts, `travel` the degrees it turns about the axis
    through `point` along `direction` (right-hand rule). `kind` is "door" or "seat".
    """

    name: str
    kind: str
    leaves: tuple[Obstacle, ...]
    point: Vector
    direction: Vector
    travel: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AnchorPoint:
    """A known point of the floor or wall that a bolt may use; `below` says what lies there.

    `bolt` and `floor` are what was entered for this point alone.
    """

    name: str
    x: float
    y: float
    z: float
    thread: str
    below: str
    rating_n: float | None = None
    bolt: BoltSpec | None = None
    floor: FloorSpec | None = None


@dataclass(frozen=True, slots=True)
class WallPiece:
    """One triangle of a wall: corners in (x, z) and the wall's |y| there; affine between."""

    corners: tuple[Point, Point, Point]
    offsets: tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bay:
    """The measured load space. Built by `fitout.survey`; asked through `fitout.survey.room`.

    `walls` holds, for "left" and "right", the triangles of the wall as distances from the
    centre line. `arches` holds for each side the arch's (x, z) profile and the distance of
    its inner face from the centre line. `roof`, `tailgate` and `opening` are polylines:
    roof (x, z); tailgate inner face (z, x); opening (z, right, left), the distances of its jambs
    from the centre line. `seat_lean_deg` maps each notch to its lean, `seat_length` is how
    long the seat back is from foot to upper edge, 0 where there is none, `seat_raised` how far its
    head restraints stand out beyond that, along it, and `raised_reach` how far they reach from the
    centre line. `swings` are the vehicle's own movements. `anchors` are the known points in or
    near the floor, `upper_anchors` those high on walls and pillars.
    """

    walls: dict[str, tuple[WallPiece, ...]]
    arches: dict[str, tuple[tuple[Point, ...], float]]
    roof: tuple[Point, ...]
    front: float
    seat_length: float
    seat_lean_deg: dict[str, float]
    front_kind: str
    tailgate: tuple[Point, ...]
    opening: tuple[tuple[float, float, float], ...]
    lip: float
    floor: float
    obstacles: tuple[Obstacle, ...]
    anchors: tuple[AnchorPoint, ...]
    states: tuple[State, ...]
    stations: tuple[float, ...]
    swings: tuple[Swing, ...] = ()
    upper_anchors: tuple[AnchorPoint, ...] = ()
    seat_raised: float = 0.0
    raised_reach: float = 0.0
