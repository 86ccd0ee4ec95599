"""A view laid on a sheet: from true mm of a view to mm of paper, at a scale of ISO 5455."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from fitout.clearance.convex import Array
from fitout.documents.paper.marks import MEDIUM, Pen, Stroke
from fitout.documents.view import Eye
from fitout.documents.views.hidden_lines import Seen
from fitout.model.outline import Point
from fitout.model.placement import Vector

SCALES = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0)
"""Reductions of ISO 5455: full size and 1 : n."""


@dataclass(frozen=True, slots=True)
class Window:
    """What of a view is shown, true mm on the view's sheet: left, bottom, right, top."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """From left to right."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From bottom to top."""
        return self.top - self.bottom


def window_of(points: Iterable[Array]) -> Window:
    """The window round points on a view's sheet, each array of shape (n, 2)."""
    every = np.vstack(list(points))
    (left, bottom), (right, top) = every.min(axis=0).tolist(), every.max(axis=0).tolist()
    return Window(left, bottom, right, top)


@dataclass(frozen=True, slots=True, eq=False)
class Port:
    """A view on paper: `window`'s lower left corner lies at `corner`, 1 : `reduced`."""

    eye: Eye
    window: Window
    reduced: float
    corner: Point

    def flat(self, points: Array) -> list[Point]:
        """Points of the view's sheet, shape (n, 2), on paper."""
        x, y = self.corner
        return [
            (x + (a - self.window.left) / self.reduced, y + (b - self.window.bottom) / self.reduced)
            for a, b in points.tolist()
        ]

    def at(self, point: Vector) -> Point:
        """A point of the bay on paper."""
        return self.flat(self.eye.on_sheet(np.array([point])))[0]

    def strokes(
        self, lines: Iterable[Array], pen: Pen = MEDIUM, layer: str = "OUTLINE"
    ) -> Iterator[Stroke]:
        """Polylines of the view on paper."""
        for line in lines:
            yield Stroke(tuple(self.flat(line)), pen, layer=layer)

    def seen(self, seen: Iterable[Seen], pen: Pen = MEDIUM) -> Iterator[Stroke]:
        """Visible lines on paper."""
        for one in seen:
            yield from self.strokes(one.lines, pen)

    @property
    def top(self) -> float:
        """The window's upper edge on paper."""
        return self.corner[1] + self.window.height / self.reduced

    @property
    def right(self) -> float:
        """The window's right edge on paper."""
        return self.corner[0] + self.window.width / self.reduced


def told(reduced: float) -> str:
    """A scale as it is written: `1:10`."""
    return f"1:{reduced:g}"


def scale_for(width: float, height: float, room: tuple[float, float]) -> float:
    """The largest scale, as 1 : n, at which so much (true mm) fits a room on paper."""
    for reduced in SCALES:
        if width <= room[0] * reduced and height <= room[1] * reduced:
            return reduced
    return SCALES[-1]
