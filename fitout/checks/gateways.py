"""The bay as gateways: the opening and the convex rooms behind it that things are turned in.

Places the tape asks to keep free are not in the way while something is carried past them. The
wheel arches part the room: a body passes above both or between them, and is turned above,
between, behind or ahead of them. Where walls, roof, tailgate or jambs bulge inwards, the
planes of their pieces make the room smaller than it is, never larger.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence

import numpy as np

from fitout.clearance.convex import Array
from fitout.clearance.passage import Gateway
from fitout.clearance.passage_room import Plane, room_of
from fitout.model.bay import Bay
from fitout.model.outline import Point

INSIDE = 0.1
"""What a body keeps from walls, roof and floor while it is turned, mm: this engine's bound."""

MERGED = 0.05
"""Pieces of a wall whose planes differ by less are taken as one, this much nearer, mm."""

SIGNS = (("left", 1.0), ("right", -1.0))


def gateways(bay: Bay) -> tuple[Gateway, ...]:
    """Every gateway of the bay, with nothing kept from the opening's edges."""
    found = []
    edges, rear, across = _opening(bay), list(_rear(bay)), list(_across(bay))
    within = [*_walls(bay), *_roof(bay), _floor(bay), *rear]
    for front, (passing, standing) in itertools.product(_fronts(bay), _round_arches(bay)):
        through = room_of(edges, [*across, *rear, front, *passing], (0.0, INSIDE))
        inside = room_of([], [*within, front, *standing], (INSIDE, INSIDE))
        found.append(Gateway(through, inside))
    return tuple(found)


def _opening(bay: Bay) -> list[Plane]:
    """The opening's edges, as seen along the bay."""
    rows = bay.opening
    planes: list[Plane] = [
        ("the sill", (0.0, 0.0, -1.0), -max(rows[0][0], bay.floor)),
        ("the opening's upper edge", (0.0, 0.0, 1.0), rows[-1][0]),
    ]
    for column, (side, sign) in zip((2, 1), SIGNS, strict=True):
        for a, b in covering(_pieces([(row[0], row[column]) for row in rows]), 0.0):
            planes.append((f"the {side} jamb", (0.0, sign, -b), a))
    return planes


def covering(pieces: Sequence[tuple[Array, Array]], merged: float) -> list[list[float]]:
    """Affine bounds below a surface: the least number that make the most of the room.

    `pieces` are the surface's: corners, shape (n, k + 1), each a 1 and k coordinates, and the
    surface's values there, shape (n,). All planes of the pieces bound it from below; those
    that take most room elsewhere are left out as long as every piece still lies above
    one of the others less `merged`. Rows are the bounds' constants and slopes.
    """
    corners = np.vstack([at for at, _ in pieces])
    values = np.concatenate([held for _, held in pieces])
    planes = [np.linalg.lstsq(at, held, rcond=None)[0] for at, held in pieces]
    for plane in planes:
        plane[0] -= merged
    below = np.array([[np.all(at @ p <= v + 1e-9) for at, v in pieces] for p in planes])
    taken = [float((values - corners @ plane).max()) for plane in planes]
    kept = list(range(len(planes)))
    for i in sorted(kept, key=lambda i: -taken[i]):
        rest = [k for k in kept if k != i]
        if rest and below[rest].any(axis=0).all():
            kept = rest
    return [planes[i].tolist() for i in kept]


def _pieces(line: Sequence[Point]) -> list[tuple[Array, Array]]:
    """The pieces of a polyline as `covering` takes them."""
    return [
        (np.array([(1.0, s0), (1.0, s1)]), np.array([v0, v1]))
        for (s0, v0), (s1, v1) in itertools.pairwise(line)
        if s1 - s0 > 1e-6
    ]


def _wall_planes(bay: Bay, side: str) -> list[list[float]]:
    """(a, b, c) of the planes |y| ≤ a + b·x + c·z that bound the room on one side."""
    pieces = [
        (np.array([(1.0, x, z) for x, z in piece.corners]), np.array(piece.offsets))
        for piece in bay.walls[side]
        if min(x for x, _ in piece.corners) < bay.front
    ]
    return covering(pieces, MERGED)


def _walls(bay: Bay) -> Iterator[Plane]:
    for side, sign in SIGNS:
        for a, b, c in _wall_planes(bay, side):
            yield f"the {side} wall", (-b, sign, -c), a


def _across(bay: Bay) -> Iterator[Plane]:
    """Walls, roof and floor where they are nearest anywhere on the way in."""
    for side, sign in SIGNS:
        for a, b, c in _wall_planes(bay, side):
            yield f"the {side} wall", (0.0, sign, -c), a + min(0.0, b * bay.front)
    heights = [z for x, z in bay.roof if x < bay.front] + [
        float(np.interp(bay.front, *np.array(bay.roof).T))
    ]
    yield "the roof", (0.0, 0.0, 1.0), min(heights)
    yield _floor(bay)


def _floor(bay: Bay) -> Plane:
    return "the floor", (0.0, 0.0, -1.0), -bay.floor


def _roof(bay: Bay) -> Iterator[Plane]:
    line = [p for i, p in enumerate(bay.roof) if i == 0 or bay.roof[i - 1][0] < bay.front]
    for a, b in covering(_pieces(line), 0.0):
        yield "the roof", (-b, 0.0, 1.0), a


def _fronts(bay: Bay) -> Iterator[Plane]:
    """The wall ahead, or planes that touch the seat back as it stands with the tailgate open.

    What reaches above the seat back may do so over its upper edge: planes through that
    edge, more upright than the back, leave less room below and more above.
    """
    if bay.front_kind != "seat_back":
        yield "the wall ahead", (1.0, 0.0, 0.0), bay.front
        return
    open_at = [s.seat for s in bay.states if s.tailgate_open and s.seat in bay.seat_lean_deg]
    lean = math.radians(min((bay.seat_lean_deg[s] for s in open_at), default=0.0))
    slope, top = math.tan(lean), bay.seat_length * math.cos(lean)
    edge = bay.front - slope * top
    for share in (1.0, 0.25, 0.0):
        yield "the seat back", (1.0, 0.0, share * slope), edge + share * slope * top


def _rear(bay: Bay) -> Iterator[Plane]:
    """The inner side of the opening's frame, which follows the tailgate's inner face."""
    for a, b in covering(_pieces([(z, -x) for z, x in bay.tailgate]), 0.0):
        yield "the opening's frame", (-1.0, 0.0, -b), a


def _round_arches(bay: Bay) -> Iterator[tuple[list[Plane], list[Plane]]]:
    """How a body keeps clear of the arches on its way in, and where it is then turned."""
    if not bay.arches:
        yield [], []
        return
    profiles = [profile for profile, _ in bay.arches.values()]
    top = max(z for profile in profiles for _, z in profile)
    start = min(profile[0][0] for profile in profiles)
    end = max(profile[-1][0] for profile in profiles)
    name = "the wheel arches"
    above: list[Plane] = [(name, (0.0, 0.0, -1.0), -top)]
    between: list[Plane] = [
        (name, (0.0, sign, 0.0), bay.arches[side][1]) for side, sign in SIGNS if side in bay.arches
    ]
    behind: list[Plane] = [(name, (1.0, 0.0, 0.0), start)]
    ahead: list[Plane] = [(name, (-1.0, 0.0, 0.0), -end)]
    yield between, between
    yield above, above
    yield behind, behind
    yield [*between, *ahead], ahead
    yield [*above, *ahead], ahead
