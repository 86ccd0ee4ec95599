"""Strips glued to the edges of parts: as the builder asks for them, and on a part."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fitout.model.outline import Point
from fitout.model.spec import Money, PositiveLength, entry

Edge = Literal["all", "long", "short", "top", "bottom", "left", "right", "front", "rear"]


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgingSpec:
    """Strips of solid wood or edge band on the edges of a purpose's parts."""

    thickness: PositiveLength = entry(
        "how thick it is; parts are cut smaller by it and are as designed once it is on",
        example="2",
    )
    edges: tuple[Edge, ...] = entry(
        "the straight edges it goes on: all, the long or the short ones, or as they lie in the "
        "vehicle: top, bottom, left, right, front (forward), rear",
        default=("all",),
        example="[top, left, right]",
    )
    price: Money | None = entry(
        "what a metre costs", default=None, example="1.80", otherwise="not known"
    )


@dataclass(frozen=True, slots=True)
class Strip:
    """A strip on a part: the finished edge from `start` to `end`, and how thick it is, mm.

    `price` is that of a metre, None where it is not known.
    """

    start: Point
    end: Point
    thickness: float
    price: float | None = None

    @property
    def length(self) -> float:
        """Length of the finished edge."""
        (x0, y0), (x1, y1) = self.start, self.end
        return float(((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5)
