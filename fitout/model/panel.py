"""Flat parts. Mass, centroid, bodies, solids, cut files and labels all derive from these."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from fitout.model.edging import Strip
from fitout.model.outline import Loop, Outline, Point, circle
from fitout.model.placement import Placement, Vector
from fitout.model.scribing import Scribe
from fitout.model.stock import Board, Section


class Face(StrEnum):
    """The two faces of a panel: A lies at w = thickness, B at w = 0."""

    A = "A"
    B = "B"


class Grain(StrEnum):
    """Which of the panel's own axes the face grain must follow."""

    ALONG_U = "along"
    ALONG_V = "across"
    EITHER = "either"


@dataclass(frozen=True, slots=True)
class Hole:
    """A drilled hole; `depth` None goes right through. Blind holes enter from `face`."""

    x: float
    y: float
    diameter: float
    depth: float | None = None
    purpose: str = ""
    face: Face = Face.A

    @property
    def loop(self) -> Loop:
        """The hole's circle."""
        return circle(self.x, self.y, self.diameter)


@dataclass(frozen=True, slots=True)
class Pocket:
    """A pocket, groove or rebate: a loop sunk `depth` mm into `face`.

    The loop may run over the panel's edge (an open rebate); only the part inside the
    outline counts. `holds` names the board that is pushed into a groove.
    """

    loop: Loop
    depth: float
    purpose: str = "groove"
    face: Face = Face.A
    holds: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A flat part: an outline in (u, v), a board's thickness along w, and its features.

    `name` is unique within `module`. `scribed` names the edges that follow the vehicle;
    `edging` says what is done to the edges (“” leaves them bare). `moves` names the motion
    the panel takes part in, None for a fixed part. `strips` are on the edges of a part that was
    cut smaller by them (see `fitout.cutting.edging`), `scribe` is what it was cut larger by on
    edges that follow the vehicle (see `fitout.cutting.scribing`).
    """

    name: str
    module: str
    outline: Outline
    board: Board
    placement: Placement
    holes: tuple[Hole, ...] = ()
    pockets: tuple[Pocket, ...] = ()
    grain: Grain = Grain.ALONG_U
    edging: str = ""
    scribed: bool = False
    moves: str | None = None
    strips: tuple[Strip, ...] = ()
    scribe: Scribe | None = None

    @property
    def id(self) -> str:
        """`module/name`, unique in the fit-out."""
        return f"{self.module}/{self.name}"

    @property
    def thickness(self) -> float:
        """The board's actual thickness."""
        return self.board.thickness

    @property
    def volume(self) -> float:
        """Volume in mm³, less holes and pockets.

        Features must not overlap each other or a cut-out; pockets must lie inside the
        outline (see `fitout.modules.joinery`, which trims them).
        """
        return self._moments[0]

    @property
    def mass_kg(self) -> float:
        """Mass from volume and the board's density."""
        return self.volume * self.board.density_kg_m3 * 1e-9

    @property
    def centroid(self) -> Vector:
        """Centre of gravity in bay coordinates, holes and pockets taken off."""
        volume, moment_u, moment_v, moment_w = self._moments
        return self.placement.at(moment_u / volume, moment_v / volume, moment_w / volume)

    @property
    def _moments(self) -> tuple[float, float, float, float]:
        """Volume and its first moments along u, v and w, holes and pockets taken off."""
        whole = self.thickness
        area, moment_u, moment_v = self.outline.moments
        volume, moment_w = area * whole, area * whole * whole / 2.0
        moment_u, moment_v = moment_u * whole, moment_v * whole
        for (area, area_u, area_v), depth, face in self._removed():
            volume -= area * depth
            moment_u -= area_u * depth
            moment_v -= area_v * depth
            moment_w -= area * depth * (whole - depth / 2.0 if face is Face.A else depth / 2.0)
        return volume, moment_u, moment_v, moment_w

    def _removed(self) -> Iterator[tuple[tuple[float, float, float], float, Face]]:
        """Area and first moments, depth and face of each pocket and hole."""
        for pocket in self.pockets:
            yield pocket.loop.moments, pocket.depth, pocket.face
        for hole in self.holes:
            area = math.pi / 4.0 * hole.diameter**2
            depth = self.thickness if hole.depth is None else hole.depth
            yield (area, area * hole.x, area * hole.y), depth, hole.face

    def local(self, point: Vector) -> Point:
        """The (u, v) of a point given in bay coordinates."""
        p = self.placement
        d = tuple(a - b for a, b in zip(point, p.origin, strict=True))
        return (
            sum(a * b for a, b in zip(d, p.u, strict=True)),
            sum(a * b for a, b in zip(d, p.v, strict=True)),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """A straight length of a section: its axis along u, its width along v, height along w.

    The placement's origin is a corner of the bar's bounding block. `holes` are
    (distance along u, diameter) of bolt holes right through along w, on the centre line.
    """

    name: str
    module: str
    section: Section
    length: float
    placement: Placement
    holes: tuple[tuple[float, float], ...] = ()
    moves: str | None = None

    @property
    def id(self) -> str:
        """`module/name`, unique in the fit-out."""
        return f"{self.module}/{self.name}"

    @property
    def mass_kg(self) -> float:
        """Mass of the full section over the length; holes are not taken off."""
        return self.section.area * self.length * self.section.density_kg_m3 * 1e-9

    @property
    def centroid(self) -> Vector:
        """Centre of gravity in bay coordinates."""
        return self.placement.at(
            self.length / 2.0, self.section.width / 2.0, self.section.height / 2.0
        )
