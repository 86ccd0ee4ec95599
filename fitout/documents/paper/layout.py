"""A drawing being made, which knows what room is taken: no text on a text, none on a line.

Make one for each sheet, `draw` the geometry, then place dimensions (`dimension`), each by
offering ways to draw it of which the first that fits is taken.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from fitout.documents.paper.marks import Area, Mark, Stroke, Text
from fitout.documents.paper.room import Box, Shape, Taken, apart, box_of, lines_of, text_shape

AROUND = 0.5
"""Room kept around each text, mm."""

LINES_APART = 5.5
"""Least distance between a dimension line and a line that runs beside it, mm."""

PARALLEL = 0.035
"""Sine of the greatest angle at which lines count as running beside each other."""

DIMENSION, EXTENSION, LEADER = "DIMENSION", "EXTENSION", "LEADER"
"""Layers that are told apart: dimension lines keep off other lines, extension lines may lie
together, leaders don't cross dimension lines or each other."""


@dataclass(slots=True)
class Layout:
    """Marks so far and the room they take.

    Attributes:
        room: where marks may lie.
        kept: boxes within it that stay free, such as the title block.
    """

    room: Box
    kept: tuple[Box, ...] = ()
    marks: list[Mark] = field(default_factory=list)
    _texts: Taken = field(default_factory=Taken)
    _lines: Taken = field(default_factory=Taken)

    def draw(self, marks: Iterable[Mark]) -> None:
        """Add marks whatever is there: geometry, and what is known to fit."""
        for mark in marks:
            self.marks.append(mark)
            if isinstance(mark, Text):
                self._texts.add(text_shape(mark), mark)
            for shape in lines_of(mark):
                self._lines.add(shape, mark)

    def copy(self) -> Layout:
        """A layout with the same marks, to try something on."""
        return Layout(
            self.room, self.kept, list(self.marks), self._texts.copy(), self._lines.copy()
        )

    def first(self, ways: Iterable[Iterable[Mark]]) -> bool:
        """Draw the first way that fits; False if none does, and nothing is drawn.

        A way may make its marks one by one: it is asked for no more than the first that
        doesn't fit, so those that are likely not to should come first.
        """
        for way in ways:
            marks = self._fitting(way)
            if marks is not None:
                self.draw(marks)
                return True
        return False

    def fits(self, marks: Iterable[Mark]) -> bool:
        """Whether marks lie in the room, their texts clear of all else, all else of texts."""
        return self._fitting(marks) is not None

    def holds(self, shape: Shape) -> bool:
        """Whether a shape lies in the room and off what is kept free."""
        return self._inside(box_of(shape))

    def is_free(self, box: Box) -> bool:
        """Whether a rectangle lies in the room and holds no text and no line."""
        left, bottom, right, top = box
        return self._is_clear(((left, bottom), (right, bottom), (right, top), (left, top)))

    def _fitting(self, way: Iterable[Mark]) -> list[Mark] | None:
        """The marks of a way that fits; None as soon as one of them does not."""
        marks: list[Mark] = []
        lines: list[Shape] = []
        texts: list[Shape] = []
        for mark in way:
            if isinstance(mark, Text):
                shape = text_shape(mark, AROUND)
                if not self._is_clear(shape):
                    return None
                texts.append(shape)
            else:
                shapes = list(lines_of(mark))
                if not self._line_fits(mark, shapes):
                    return None
                lines += shapes
            marks.append(mark)
        own = all(apart(text, line) for text in texts for line in lines)
        return marks if own and _texts_apart(marks) else None

    def _is_clear(self, shape: Shape) -> bool:
        return self.holds(shape) and not self._texts.meets(shape) and not self._lines.meets(shape)

    def _line_fits(self, mark: Mark, shapes: Sequence[Shape]) -> bool:
        if not all(self.holds(s) and not self._texts.meets(s) for s in shapes):
            return False
        if isinstance(mark, Area):
            return True
        if mark.layer == DIMENSION:
            return not any(self._beside(shape) for shape in shapes)
        if mark.layer == LEADER:
            return not any(self._crosses_leader(shape) for shape in shapes)
        return True

    def _inside(self, box: Box) -> bool:
        left, bottom, right, top = box
        if left < self.room[0] or bottom < self.room[1]:
            return False
        if right > self.room[2] or top > self.room[3]:
            return False
        return all(
            right <= low_x or left >= high_x or top <= low_y or bottom >= high_y
            for low_x, low_y, high_x, high_y in self.kept
        )

    def _beside(self, shape: Shape) -> bool:
        """Whether a line runs along a dimension line, too near to it."""
        (ax, ay), (bx, by) = shape
        length = max(((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5, 1e-9)
        ux, uy = (bx - ax) / length, (by - ay) / length
        px, py = -uy * LINES_APART, ux * LINES_APART
        # Shortened, so that a chain's neighbour on the same line is not beside it.
        sx, sy = ux * min(0.4, length / 3.0), uy * min(0.4, length / 3.0)
        strip = (
            (ax + sx + px, ay + sy + py),
            (bx - sx + px, by - sy + py),
            (bx - sx - px, by - sy - py),
            (ax + sx - px, ay + sy - py),
        )
        for other, mark in self._lines.near(strip):
            if mark.layer == EXTENSION or not isinstance(mark, Stroke) or apart(strip, other):
                continue
            (cx, cy), (dx, dy) = other
            there = max(((dx - cx) ** 2 + (dy - cy) ** 2) ** 0.5, 1e-9)
            if abs((dx - cx) * uy - (dy - cy) * ux) <= PARALLEL * there:
                return True
        return False

    def _crosses_leader(self, shape: Shape) -> bool:
        return any(
            mark.layer in (LEADER, DIMENSION) and not apart(shape, other)
            for other, mark in self._lines.near(shape)
        )


def _texts_apart(marks: Sequence[Mark]) -> bool:
    shapes = [text_shape(mark, AROUND / 2.0) for mark in marks if isinstance(mark, Text)]
    return all(apart(a, b) for i, a in enumerate(shapes) for b in shapes[:i])
