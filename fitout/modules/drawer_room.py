"""How much room a drawer needs: for its slides, its bottom, and fingers in its front."""

from __future__ import annotations

import math
from collections.abc import Mapping

from fitout.model.fault import DesignError, Fault, Path
from fitout.model.hardware import Slide
from fitout.model.stock import Board
from fitout.modules.carcass import FRONT_GAP
from fitout.modules.drawer_box import BOTTOM_RAISED, FINGER_HOLE, FINGER_INSET

FRONT_STANDS_OFF = 2.0
"""Gap between a shut front and the carcass's rear edges, mm (common practice)."""

BOX_RISE = 4.0
"""Least gap below a drawer box, mm (common practice)."""

BASE_RISE = 10.0
"""Least gap below the lowest drawer box: heads of bolts stand on the base, mm."""

BOX_HEADROOM = 8.0
"""Gap above a drawer box, mm (common practice)."""

BACK_GAP = 10.0
"""Gap between a shut drawer box and the carcass's back, mm (common practice)."""

LEAST_FRONT = 90.0
"""Height of the lowest front that is of use, mm (common practice)."""

LEAST_INSIDE = 60.0
"""Clear width inside the narrowest drawer that is of use, mm (common practice)."""


def least_box(boards: Mapping[str, Board], slide: Slide) -> float:
    """The lowest drawer box that the slides, the groove and a finger hole leave room for."""
    # The slides' screws stay clear of the groove, and so does the finger hole.
    groove = BOTTOM_RAISED + boards["bottom"].thickness + 8.0
    return max(slide.height, groove + slide.height / 2.0, groove + FINGER_HOLE + FINGER_INSET)


def least_front(boards: Mapping[str, Board], slide: Slide) -> float:
    """The lowest front behind which that box has room, rails above and below it."""
    rails = 1.5 * boards["carcass"].thickness - FRONT_GAP / 2.0
    return max(LEAST_FRONT, rails + BASE_RISE + BOX_HEADROOM + least_box(boards, slide))


def least_depth(boards: Mapping[str, Board], slides: list[Slide]) -> float:
    """From the fronts' faces to the carcass's back: the longest of the slides goes in."""
    longest = max(slide.length for slide in slides)
    return (
        boards["front"].thickness
        + FRONT_STANDS_OFF
        + longest
        + BACK_GAP
        + boards["carcass"].thickness
    )


def least_column(boards: Mapping[str, Board], slides: list[Slide]) -> float:
    """Width of the narrowest column: its sides, the slides, and a drawer of some use."""
    widest = max(slide.side_clearance for slide in slides)
    sides = boards["carcass"].thickness + widest + boards["drawer"].thickness
    return 2.0 * sides + LEAST_INSIDE


def refuse_too_small(path: Path, found: float, least: float, why: str) -> None:
    """Raise a DesignError when what an entry leaves room for is less than it must be."""
    if found < least - 1e-6:
        wanted = f"at least {math.ceil(least - 1e-6)}"
        fault = Fault(path=path, found=f"{found:g}", expected=wanted, hint=why)
        raise DesignError([fault])
