"""The barrier's openings: windows for the view to the rear, a pass-through above the shelf."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from fitout.model.item import Zone, block
from fitout.model.module import Access, Berth
from fitout.model.outline import Loop
from fitout.model.placement import Placement
from fitout.model.spec import PositiveLength, entry
from fitout.modules.barrier_frame import Frame
from fitout.modules.barrier_shelf import Shelf, bracket_middles
from fitout.modules.joinery import Draft, window

CORNER = 30.0
"""Radius of an opening's corners, mm."""

WEB = 30.0
"""What is left of the panel beside its openings, mm (common practice)."""

PASS_SHARE = 0.6
"""Share of the frame's width the pass-through takes unless said."""

SILL = 12.0
"""What stands above the shelf below the pass-through, so that nothing slides forward, mm."""

UNDER_RAIL = 8.0
"""From the pass-through's upper edge to the rail above it, mm."""

LEAST_PASS = 60.0
"""A pass-through lower than this is no use to a hand, mm."""

WINDOW_SHARE = 0.3
"""Share of the frame's width each window takes unless said."""

WINDOW_HEIGHT = 200.0
LEAST_WINDOW = (80.0, 60.0)
"""Windows smaller than this (width, height) are left out, mm."""

HAND_ROOM = 150.0
"""How far ahead of and behind the pass-through stays free for a hand, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class VisionSpec:
    """The windows for the view to the rear, left and right of the middle."""

    width: PositiveLength | None = entry("width of each", default=None, example="400")
    height: PositiveLength | None = entry("height of each", default=None, example="150")


@dataclass(frozen=True, slots=True, kw_only=True)
class PassThroughSpec:
    """The opening through which light goods are reached from the seat."""

    width: PositiveLength | None = entry("its width", default=None, example="600")
    height: PositiveLength | None = entry("its height", default=None, example="160")


def height_for(frame: Frame, opening: float) -> float:
    """The height of the shelf's top that leaves a pass-through of height `opening` above it."""
    return frame.rails[-1][1] - UNDER_RAIL - opening - SILL


def pass_through(wish: PassThroughSpec, frame: Frame, shelf: Shelf | None) -> Berth | None:
    """The opening under the upper rail, as high as there is room; None if no hand gets in."""
    top = frame.rails[-1][1] - UNDER_RAIL
    low = frame.rails[0][1] + frame.section.width + WEB
    if shelf is not None:
        z0 = shelf.z1 + SILL
        z1 = top if wish.height is None else min(top, z0 + wish.height)
    else:
        z0, z1 = max(low, top - (wish.height or WINDOW_HEIGHT)), top
    if z1 - z0 < LEAST_PASS:
        return None
    y0, y1 = frame.inner[0] + WEB, frame.inner[1] - WEB
    usual = PASS_SHARE * (frame.posts[1][1] - frame.posts[0][0])
    half = min(wish.width or usual, y1 - y0) / 2.0
    middle = (y0 + y1) / 2.0
    return Berth(x0=frame.x0, x1=frame.x1, y0=middle - half, y1=middle + half, z0=z0, z1=z1)


def windows(
    wish: VisionSpec,
    frame: Frame,
    shelf: Shelf | None,
    band: tuple[float, float],
    board_thickness: float,
) -> Iterator[Berth]:
    """A window left and right of the middle, between the brackets, high in the band."""
    web = WEB + board_thickness / 2.0
    y0, y1 = frame.inner[0] + WEB, frame.inner[1] - WEB
    if shelf is not None:
        middles = bracket_middles(shelf)
        y0, y1 = middles[0] + web, middles[-1] - web
    middle = (y0 + y1) / 2.0
    room = (y1 - y0) / 2.0 - web
    usual = WINDOW_SHARE * (frame.posts[1][1] - frame.posts[0][0])
    width = min(wish.width or usual, room)
    tall = band[1] - band[0]
    usual_height = min(WINDOW_HEIGHT, max(LEAST_WINDOW[1], 0.6 * tall))
    height = min(wish.height or usual_height, tall)
    if width < LEAST_WINDOW[0] or height < LEAST_WINDOW[1]:
        return
    for sign in (1.0, -1.0):
        centre = middle + sign * (web + room / 2.0)
        yield Berth(
            x0=frame.x0,
            x1=frame.x1,
            y0=centre - width / 2.0,
            y1=centre + width / 2.0,
            z0=band[1] - height,
            z1=band[1],
        )


def loop_of(opening: Berth, placement: Placement) -> Loop:
    """The opening in the axes of a panel that faces rearward, its corners rounded."""
    _, y, z = placement.origin
    radius = _radius(opening)
    return window(y - opening.y1, opening.z0 - z, y - opening.y0, opening.z1 - z, radius)


def _radius(opening: Berth) -> float:
    return min(CORNER, (opening.z1 - opening.z0) / 3.0, (opening.y1 - opening.y0) / 3.0)


def keep_hand_room(draft: Draft, opening: Berth) -> None:
    """Room for a hand from the seat, through the opening, to what lies on the shelf."""
    # A block that passes the rounded corners, which stand r (1 - 1/√2) into the opening.
    inset = 2.0 + _radius(opening) * (1.0 - math.sqrt(0.5))
    piece = block(
        opening.x1 - opening.x0 + 2.0 * HAND_ROOM,
        opening.y1 - opening.y0 - 2.0 * inset,
        opening.z1 - opening.z0 - 2.0 * inset,
    )
    origin = (opening.x0 - HAND_ROOM, opening.y0 + inset, opening.z0 + inset)
    zone = Zone(name="a hand through the barrier", piece=piece)
    draft.accesses.append(Access(zone=zone, placement=Placement(origin)))
