"""Entries for room that must stay free: paths of belts, places a hand must come to."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fitout.model.spec import Coordinate, Length, PositiveLength, entry


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapSpec:
    """The straight path of a belt or tether, kept free of everything."""

    name: str = entry("what it is", example="centre tether")
    start: tuple[Coordinate, Coordinate, Coordinate] = entry(
        "[forward of the sill, left of the centre line, above the floor]; right is negative",
        key="from",
        example="[1150, 0, 610]",
    )
    end: tuple[Coordinate, Coordinate, Coordinate] = entry(
        "its other end, the same way", key="to", example="[480, 0, 2]"
    )
    width: PositiveLength = entry("how wide the free path is, and how high", default=60.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class ReachSpec:
    """A place of an item that a hand must come to: a plug, a fuse, a filler, a valve."""

    name: str = entry("what it is", example="plug")
    side: Literal["left", "right", "rear", "front", "top"] = entry("which side it is on")
    height: Length | None = entry(
        "its middle above the item's underside",
        default=None,
        example="60",
        otherwise="half way up; on the top it means nothing",
    )
    along: Coordinate = entry(
        "its middle from the middle of that side, towards the left or the front; right and "
        "rear are negative. On the top: towards the front",
        default=0.0,
        example="-120",
    )
    room: PositiveLength = entry("how far from the side must stay free", default=80.0)
    hand: PositiveLength = entry("width and height of the room the hand needs", default=90.0)
    drawn_out: bool = entry(
        "whether it is enough to come to it with the item drawn out", default=False
    )
