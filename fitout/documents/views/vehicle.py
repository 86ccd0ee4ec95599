"""The vehicle's outline around a fit-out, where a plane cuts it."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from fitout.clearance.convex import Array
from fitout.documents.view import Eye
from fitout.documents.views.forms import obstacle_form
from fitout.documents.views.section import CutFace, cut_rings
from fitout.model.bay import Bay

FIXED = ("surface", "arch", "aperture", "tailgate")
"""What always stands round the bay with the tailgate shut."""

AROUND = 45.0
"""How far beyond the floor's ends the vehicle is drawn, mm."""

BORDER = 0.5
"""Lines this near to the border of what is looked at are none of the vehicle, mm."""


def bay_outline(bay: Bay, eye: Eye, at: float, kinds: Iterable[str] = FIXED) -> tuple[Array, ...]:
    """The lines of the load space where the plane cuts it, on the sheet, true mm.

    `at` is the plane's height towards the viewer, see `section`.
    """
    window = _window(bay, eye)
    chosen = frozenset(kinds)
    solid = shapely.union_all(
        [_cut(bay, o.name, eye, at) for o in bay.obstacles if o.kind in chosen]
    )
    free = window.difference(solid)
    inside = shapely.Point(_probe(bay, eye))
    rooms = [room for room in shapely.get_parts(free) if room.distance(inside) < 1.0]
    room = rooms[0] if rooms else max(shapely.get_parts(free), key=lambda part: part.area)
    return _lines(room.boundary.difference(window.boundary.buffer(BORDER)))


def seat_lines(bay: Bay, eye: Eye, at: float) -> dict[str, tuple[Array, ...]]:
    """The outline of the seat back in each of its notches, as far as it is in the window."""
    inner = _window(bay, eye).buffer(-BORDER)
    found = {}
    for obstacle in bay.obstacles:
        if obstacle.kind == "seat":
            cut = _cut(bay, obstacle.name, eye, at)
            above = shapely.box(-1e5, bay.floor, 1e5, 1e5)
            found[obstacle.name] = _lines(cut.boundary.intersection(inner).intersection(above))
    return found


def opening_line(bay: Bay) -> Array:
    """The clear opening seen from behind: up one jamb, over and down the other, open below."""
    right = [(bay_right, z) for z, bay_right, _ in bay.opening]
    left = [(-bay_left, z) for z, _, bay_left in bay.opening]
    return np.array([*left, *reversed(right), left[0]])


def _window(bay: Bay, eye: Eye) -> BaseGeometry:
    wide = max(max(piece.offsets) for side in bay.walls.values() for piece in side) + AROUND
    roof = max(z for _, z in bay.roof) + AROUND
    xs, ys, zs = (-AROUND, bay.front + AROUND), (-wide, wide), (bay.floor - AROUND, roof)
    corners = np.array([(x, y, z) for x in xs for y in ys for z in zs])
    flat = eye.on_sheet(corners)
    return shapely.box(*flat.min(axis=0), *flat.max(axis=0))


def _probe(bay: Bay, eye: Eye) -> Array:
    """A place in the middle of the load space."""
    roof = min(z for _, z in bay.roof)
    point = (0.5 * bay.front, 0.0, bay.floor + 0.45 * (roof - bay.floor))
    return np.asarray(eye.on_sheet(np.array([point]))[0])


def _cut(bay: Bay, name: str, eye: Eye, at: float) -> BaseGeometry:
    obstacle = next(o for o in bay.obstacles if o.name == name)
    return CutFace(name, cut_rings(obstacle_form(obstacle), eye, at)).region


def _lines(geometry: BaseGeometry) -> tuple[Array, ...]:
    merged = shapely.line_merge(geometry)
    parts = shapely.get_parts(merged)
    return tuple(np.asarray(shapely.get_coordinates(part)) for part in parts if part.length > 1.0)
