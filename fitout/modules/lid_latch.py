"""What holds a hinged lid shut: a latch under it by its finger hole, the striker on the wall.

    seen along the hinge                       seen from above

       lid                                     |  +------+  finger hole
    ===o======================|  |====         |  +------+
    #                    case ### |bolt        | ###       case beside it
    #                         ###  ___|        |  #        its bolt, to the wall
    #                             |lip| wall

Case and striker are bolted from outside through lid and wall, heads flush. Where there is no
room for a catch beside the finger hole, a latch with a button takes its place anywhere along
the lid.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from fitout.model.panel import Panel
from fitout.model.placement import Vector, Z, opposite
from fitout.modules.joinery import Draft
from fitout.modules.latches import (
    Catch,
    Place,
    add_latch,
    beside_finger_hole,
    moved,
    refuse_thickness,
)

USUAL = "finger catch"
INSTEAD = ("push-button latch", "turn latch")
"""Taken where nothing is asked for and the usual one has no room, the first that has."""

STEP = 20.0
"""How closely places along a lid are tried, mm."""


def latch_lid(
    draft: Draft, wish: str | None, lid: str, walls: Sequence[str], face: tuple[Vector, Vector]
) -> bool:
    """A latch under a lid that lies level, face A up; returns whether there was room for it.

    The striker goes on the first of `walls` that has wood where it meets the bolt. `face` is a
    point of the walls' inner face and the direction, level, that points into them.

    Raises:
        DesignError: for a latch asked for by name that does not serve lid or wall.
    """
    panel = draft.panels[lid]
    if wish == "none" or not panel.outline.inner:
        return False
    x0, y0, x1, y1 = panel.outline.inner[0].bounds
    place = panel.placement
    point, throw = face
    along = _across(throw)
    middle = place.at((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    size = [(x1 - x0) * u + (y1 - y0) * v for u, v in zip(place.u, place.v, strict=True)]
    half = abs(_dot((size[0], size[1], size[2]), along)) / 2.0
    to_wall = _dot(throw, (point[0] - middle[0], point[1] - middle[1], 0.0))
    over = moved(middle, throw, to_wall)
    for name in (USUAL, *INSTEAD) if wish is None else (wish,):
        kind = draft.setting.catalogue.latches[name]
        places = [*beside_finger_hole(kind, over, half, along)]
        if kind.clearance_hole is not None:
            places += _anywhere(over, along, _reach(panel, along))
        for wall in walls:
            catch = Catch(
                motion=lid, panel=lid, striker_panel=wall, normal=opposite(Z), throw=throw
            )
            if wish is not None:
                refuse_thickness(draft, kind, catch, ("modules", draft.name, "latch"))
            if add_latch(draft, kind, catch, places):
                return True
    return False


def _anywhere(over: Vector, along: Vector, reach: float) -> Iterator[Place]:
    """Places along a lid for a latch with a button, which needs no finger hole by it."""
    for step in range(1, math.ceil(reach / STEP)):
        for side in (1.0, -1.0):
            yield moved(over, along, side * step * STEP), None


def _reach(panel: Panel, along: Vector) -> float:
    """A lid's length along a direction: no place on it is farther off."""
    length, width = panel.outline.size
    return length if abs(_dot(panel.placement.u, along)) > 0.5 else width


def _across(throw: Vector) -> Vector:
    """The level direction square to one along or across the bay: the same for either side."""
    return abs(throw[1]), abs(throw[0]), 0.0


def _dot(a: Vector, b: Vector) -> float:
    return sum(p * q for p, q in zip(a, b, strict=True))
