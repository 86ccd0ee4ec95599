"""The bay as solids, from the builder's entries: a pure function of the measured numbers."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator, Sequence
from typing import Literal

import numpy as np

from fitout.mechanics.boards import STANDARD_GRAVITY
from fitout.model.bay import AnchorPoint, Bay, Obstacle, State, WallPiece
from fitout.model.design import ArchSpec, BaySpec, KeepClearSpec, SeatBackSpec
from fitout.model.outline import Point
from fitout.model.restraint import AnchorSpec
from fitout.model.tailgate import LedgeSpec
from fitout.survey.doors import door_swings, opened
from fitout.survey.meshes import Mesh, beam, block_mesh, column, slab
from fitout.survey.seat import back_length, foot_of, raised, restraints, seat_swings
from fitout.survey.walls import WallGrid, followed, half, half_at, least_offset, wall_grid

SIDES = ("left", "right")
OUTSIDE = 250.0
"""How far obstacles reach beyond the surfaces they stand for, mm."""

FRAME_DEPTH = 40.0
"""Depth of the opening's frame rearward of the tailgate's inner face, mm."""

BEYOND_FRONT = 400.0
"""How far walls and roof are carried on ahead of the seat back's foot, mm."""


UPPER = 300.0
"""A known point this high above the floor is one of the walls or pillars, mm."""


def build_bay(spec: BaySpec) -> Bay:
    """The solid bay. Raises nothing for entries that passed `design_file`'s rules."""
    trim = spec.trim
    front = _front(spec)
    roof = _roof(spec, front)
    top = max(z for _, z in roof) + 1.0
    grids = {
        side: wall_grid(spec.sections, side, (0.0, front + BEYOND_FRONT), top, trim.walls)
        for side in SIDES
    }
    walls = {side: grids[side].pieces() for side in SIDES}
    widest = max(float(g.offsets.max()) for g in grids.values())
    arches = _arches(spec.wheel_arches, trim.walls)
    tailgate = _tailgate(spec, top)
    opening = _opening(spec)
    lip = spec.opening.lip.value if spec.opening else 0.0
    seats = _seat_leans(spec.seat_back)
    states = tuple(_states(seats, spec))
    shut, parked = (
        tuple(s.name for s in states if s.tailgate_open == is_open) for is_open in (False, True)
    )
    doors = door_swings(spec.tailgate, tailgate, opening)
    obstacles = [
        *_shell(grids, roof, front, trim.floor, widest),
        *_arch_obstacles(arches, widest),
        *_seat_obstacles(spec, seats, widest),
        *_rear_obstacles(tailgate, opening, lip, top, widest, shut),
        *_ledge(spec.ledge, widest),
        *opened(doors, parked),
        *_kept(spec, walls, widest),
    ]
    return Bay(
        walls=walls,
        arches=arches,
        roof=roof,
        front=front,
        front_kind="seat_back" if spec.seat_back else "front_wall",
        seat_length=back_length(spec.seat_back) if spec.seat_back else 0.0,
        seat_lean_deg=seats,
        tailgate=tailgate,
        opening=opening,
        lip=lip,
        floor=trim.floor,
        obstacles=tuple(obstacles),
        anchors=tuple(_anchor(a) for a in spec.anchors if a.height < UPPER),
        upper_anchors=tuple(_anchor(a) for a in spec.anchors if a.height >= UPPER),
        states=states,
        stations=tuple(sorted(s.at.value for s in spec.sections)),
        seat_raised=raised(spec.seat_back)[0],
        raised_reach=raised(spec.seat_back)[1],
        swings=(*doors, *seat_swings(spec.seat_back, seats, widest, trim.seat_back)),
    )


def _anchor(spec: AnchorSpec) -> AnchorPoint:
    return AnchorPoint(
        name=spec.name,
        x=spec.at[0],
        y=spec.at[1],
        z=spec.height,
        thread=spec.thread,
        below=spec.below,
        rating_n=None if spec.rating is None else spec.rating * STANDARD_GRAVITY,
        bolt=spec.bolt,
        floor=spec.floor,
    )


def _front(spec: BaySpec) -> float:
    if spec.seat_back is not None:
        lean = math.radians(max(0.0, *_seat_leans(spec.seat_back).values()))
        return spec.seat_back.foot.value - spec.trim.seat_back / math.cos(lean)
    assert spec.front_wall is not None
    return spec.front_wall.value - spec.trim.seat_back


def _roof(spec: BaySpec, front: float) -> tuple[Point, ...]:
    stations = sorted(spec.sections, key=lambda s: s.at.value)
    points = [(s.at.value, s.roof.value - spec.trim.roof) for s in stations]
    if points[0][0] > 0.0:
        points.insert(0, (0.0, points[0][1]))
    if points[-1][0] < front + BEYOND_FRONT:
        points.append((front + BEYOND_FRONT, points[-1][1]))
    return tuple(points)


def _arches(spec: ArchSpec | None, trim: float) -> dict[str, tuple[tuple[Point, ...], float]]:
    if spec is None:
        return {}
    if spec.profile:
        profile = _lined(sorted((float(x), float(z)) for x, z in spec.profile), trim)
    else:
        assert spec.start is not None
        assert spec.end is not None
        assert spec.height is not None
        height = spec.height.value + trim
        profile = ((spec.start.value - trim, height), (spec.end.value + trim, height))
    return {side: (profile, half(spec.between, side) - trim) for side in SIDES}


def _lined(profile: Sequence[Point], trim: float) -> tuple[Point, ...]:
    """An arch's profile with a lining over it, taken as thick straight up and to the sides."""
    if not trim:
        return tuple(profile)

    def highest(x: float) -> float:
        near = [z for s, z in profile if x - trim <= s <= x + trim]
        ends = [s for s in (x - trim, x + trim) if profile[0][0] <= s <= profile[-1][0]]
        return max([*near, *(followed(profile, s) for s in ends)]) + trim

    stations = sorted({x + d for x, _ in profile for d in (-trim, trim)})
    return tuple((x, highest(x)) for x in stations)


def _tailgate(spec: BaySpec, top: float) -> tuple[Point, ...]:
    if spec.tailgate is None:
        return ((0.0, 0.0), (top, 0.0))
    points = sorted((z, x.value) for z, x in spec.tailgate.inner_face.items())
    if points[0][0] > 0.0:
        points.insert(0, (0.0, points[0][1]))
    if points[-1][0] < top:
        points.append((top, points[-1][1]))
    return tuple(points)


def _opening(spec: BaySpec) -> tuple[tuple[float, float, float], ...]:
    """(height, right, left) of the jambs, from the lip to the opening's upper edge.

    Without an entry the bay is open over its rearmost section.
    """
    if spec.opening is None:
        rearmost = min(spec.sections, key=lambda s: s.at.value)
        widths, lip, height = rearmost.widths, 0.0, rearmost.roof.value - spec.trim.roof
    else:
        widths, lip, height = (
            spec.opening.widths,
            spec.opening.lip.value,
            spec.opening.height.value,
        )
    levels = sorted({lip, height, *(h for h in widths if lip < h < height)})
    return tuple((z, half_at(widths, "right", z), half_at(widths, "left", z)) for z in levels)


def _seat_leans(spec: SeatBackSpec | None) -> dict[str, float]:
    if spec is None:
        return {}
    usual = _usual_notch(spec)
    # Notches are a fixed number of degrees apart: all follow the one that was measured.
    shift = spec.leans.value - usual
    return {f"{notch:g}°": notch + shift for notch in sorted({usual, *spec.notches})}


def _usual_notch(spec: SeatBackSpec) -> float:
    """The notch whose lean was measured: one listed within a degree of it, else a further one."""
    lean = spec.leans.value
    nearest = min(spec.notches, key=lambda notch: abs(notch - lean), default=None)
    if nearest is None or abs(nearest - lean) > 1.0:
        return round(lean, 1)
    return nearest


def _states(seats: dict[str, float], spec: BaySpec) -> Iterator[State]:
    for notch in seats:
        yield State(f"seat at {notch}, tailgate shut", notch, False)
    if spec.seat_back is not None and spec.seat_back.folds:
        yield State("seat folded, tailgate shut", "folded", False)
    if spec.seat_back is None:
        yield State("tailgate shut", "", False)
        yield State("tailgate open", "", True)
    else:
        used = f"{_usual_notch(spec.seat_back):g}°"
        # The usual notch comes first, since people look there first.
        for notch in sorted(seats, key=lambda n: n != used):
            yield State(f"seat at {notch}, tailgate open", notch, True)
        if spec.seat_back.folds:
            yield State("seat folded, tailgate open", "folded", True)


def _obstacle(name: str, kind: str, mesh: Mesh, states: tuple[str, ...] = ()) -> Obstacle:
    return Obstacle(name, kind, mesh[0], mesh[1], states)


def _shell(
    grids: dict[str, WallGrid],
    roof: tuple[Point, ...],
    front: float,
    floor: float,
    widest: float,
) -> Iterator[Obstacle]:
    """Walls, roof, floor and, without a seat, the wall ahead (as part of the floor's reach)."""
    far = widest + OUTSIDE
    for side, sign in (("left", 1.0), ("right", -1.0)):
        grid = grids[side]
        mesh = slab(grid.xs, grid.zs, sign * grid.offsets, sign * far, (0, 2, 1))
        yield _obstacle(f"{side} wall", "surface", mesh)
    xs = [x for x, _ in roof]
    heights = np.array([[z, z] for _, z in roof])
    top = float(heights.max()) + OUTSIDE
    yield _obstacle("roof", "surface", slab(xs, (-far, far), heights, top, (0, 1, 2)))
    mesh = block_mesh((0.0, -far, -OUTSIDE), (front + BEYOND_FRONT, far, floor))
    yield _obstacle("floor", "surface", mesh)


def _arch_obstacles(
    arches: dict[str, tuple[tuple[Point, ...], float]], widest: float
) -> Iterator[Obstacle]:
    far = widest + OUTSIDE
    for side, (profile, inner) in arches.items():
        sign = 1.0 if side == "left" else -1.0
        heights = np.array([[z, z] for _, z in profile])
        mesh = slab(
            [x for x, _ in profile], (sign * inner, sign * far), heights, -OUTSIDE, (0, 1, 2)
        )
        yield _obstacle(f"{side} wheel arch", "arch", mesh)


def _seat_obstacles(spec: BaySpec, seats: dict[str, float], widest: float) -> Iterator[Obstacle]:
    far = widest + OUTSIDE
    if spec.seat_back is None:
        assert spec.front_wall is not None
        x = spec.front_wall.value - spec.trim.seat_back
        top = max(s.roof.value for s in spec.sections) + OUTSIDE
        mesh = block_mesh((x, -far, -OUTSIDE), (x + OUTSIDE, far, top))
        yield _obstacle("front wall", "surface", mesh)
        return
    seat = spec.seat_back
    for notch, lean_deg in seats.items():
        lean = math.radians(lean_deg)
        top = back_length(seat) * math.cos(lean)
        foot = foot_of(seat, lean_deg, spec.trim.seat_back)
        heights = (-OUTSIDE, top)
        face = np.array([[foot - z * math.tan(lean)] * 2 for z in heights])
        beyond = foot + OUTSIDE * math.tan(lean) + OUTSIDE
        mesh = slab(heights, (-far, far), face, beyond, (2, 1, 0))
        states = tuple(state.name for state in _states(seats, spec) if state.seat == notch)
        yield _obstacle(f"seat back at {notch}", "seat", mesh, states)
        for above in restraints(seat, notch, lean_deg, widest, spec.trim.seat_back):
            yield dataclasses.replace(above, states=states)


def _rear_obstacles(
    tailgate: tuple[Point, ...],
    opening: tuple[tuple[float, float, float], ...],
    lip: float,
    top: float,
    widest: float,
    shut: tuple[str, ...],
) -> Iterator[Obstacle]:
    """The shut tailgate and the frame of the opening, which follows its inner face."""
    far = widest + OUTSIDE
    faces = [(-OUTSIDE, tailgate[0][1]), *tailgate, (top + OUTSIDE, tailgate[-1][1])]
    zs = [z for i, (z, _) in enumerate(faces) if i == 0 or z > faces[i - 1][0]]
    xs = [followed(tailgate, z) for z in zs]
    mesh = slab(zs, (-far, far), np.array([[x, x] for x in xs]), min(xs) - OUTSIDE, (2, 1, 0))
    yield _obstacle("tailgate", "tailgate", mesh, shut)

    def ring(z: float, y0: float, y1: float) -> list[tuple[float, float, float]]:
        x = followed(tailgate, z)
        return [(x - FRAME_DEPTH, y0, z), (x, y0, z), (x, y1, z), (x - FRAME_DEPTH, y1, z)]

    head = opening[-1][0]
    between = [z for z, _ in tailgate if opening[0][0] < z < head]
    levels = sorted({*(z for z, _, _ in opening), *between})
    rows = np.array(opening)
    for index, side, sign in ((2, "left", 1.0), (1, "right", -1.0)):
        rings = [
            ring(z, sign * float(np.interp(z, rows[:, 0], rows[:, index])), sign * far)
            for z in levels
        ]
        yield _obstacle(f"{side} jamb of the opening", "aperture", column(rings))
    above = sorted({head, top + OUTSIDE, *(z for z, _ in tailgate if z > head)})
    header = column([ring(z, -far, far) for z in above])
    yield _obstacle("upper edge of the opening", "aperture", header)
    sill = block_mesh((-FRAME_DEPTH, -far, -OUTSIDE), (0.0, far, lip))
    yield _obstacle("sill", "aperture", sill)


def _ledge(spec: LedgeSpec | None, widest: float) -> Iterator[Obstacle]:
    """The bumper's upper face behind the sill."""
    if spec is not None:
        far = widest + OUTSIDE
        mesh = block_mesh((-spec.depth, -far, spec.top - OUTSIDE), (0.0, far, spec.top))
        yield _obstacle("bumper", "ledge", mesh)


def _kept(
    spec: BaySpec, walls: dict[str, tuple[WallPiece, ...]], widest: float
) -> Iterator[Obstacle]:
    """Places that must stay free, and the paths of belts and tethers."""
    for zone in spec.keep_clear:
        yield _kept_clear(zone, walls, widest)
    for strap in spec.straps:
        mesh = beam(strap.start, strap.end, strap.width)
        yield _obstacle(strap.name, "keep clear", mesh)


def _kept_clear(
    zone: KeepClearSpec, walls: dict[str, tuple[WallPiece, ...]], widest: float
) -> Obstacle:
    x0, x1 = sorted((zone.start, zone.end))
    if zone.side == "floor":
        y0, y1 = sorted((zone.left or 0.0, zone.right or 0.0))
    else:
        nearest = least_offset(walls[zone.side], x0, x1, zone.above, zone.up_to)
        inner = (nearest if nearest is not None else widest) - (zone.reach or 0.0)
        y0, y1 = (inner, widest) if zone.side == "left" else (-widest, -inner)
    mesh = block_mesh((x0, y0, zone.above), (x1, y1, zone.up_to))
    reached: Literal["hand", "out"] = "out" if zone.comes_out else "hand"
    return Obstacle(zone.name, "keep clear", mesh[0], mesh[1], reached=reached)
