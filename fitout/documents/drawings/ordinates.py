"""Which distances a panel's running dimensions tell, and what tells two apart that lie close.

51.1 b ──┐
         ├──── two rows of holes 0.2 mm apart are one line on paper: a letter says which
50.9 a ──┘     holes are meant, or where along the other edge they are: `134.4 (x 6)`
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from fitout.documents.drawings.features import distinct
from fitout.documents.wording import Wording

TOLD = 0.051
"""Distances that differ by less are told as one, mm: the drawing tells tenths."""

ONE_LINE = 0.7
"""Extension lines that lie nearer can't be told apart by eye, mm on paper."""

MOST_PLACES = 2
"""So many places along the other edge are told with a distance."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A point to be dimensioned; `letter` is that of its kind of hole, where holes have one."""

    x: float
    y: float
    letter: str = ""

    def at(self, axis: int) -> float:
        """Its distance along an axis."""
        return self.y if axis else self.x


@dataclass(frozen=True, slots=True)
class Distance:
    """A distance from the datum along an axis, and the points that lie there."""

    value: float
    spots: tuple[Spot, ...]


def distances(spots: Iterable[Spot], axis: int, whole: float) -> list[Distance]:
    """Each different distance but nought and the whole, from the least on."""
    listed = sorted(spots, key=lambda s: (s.at(axis), s.at(1 - axis)))
    found = []
    for value in distinct((spot.at(axis) for spot in listed), TOLD):
        if TOLD < value < whole - TOLD:
            same = tuple(s for s in listed if abs(s.at(axis) - value) <= TOLD)
            found.append(Distance(value, same))
    return found


def told_apart(
    listed: Sequence[Distance], axis: int, scale: float, wording: Wording
) -> Iterator[str]:
    """Each distance as it is written, with what tells it from a neighbour on the same line.

    Args:
        listed: distances on one side of the drawing, from the least on.
        axis: 0 along the length, 1 along the width.
        scale: paper over part.
        wording: how lengths are told.
    """
    for i, one in enumerate(listed):
        near = [
            other
            for k, other in enumerate(listed)
            if k != i and abs(other.value - one.value) * scale < ONE_LINE
        ]
        told = wording.length(one.value)
        yield f"{told} {_mark(one, near, axis, wording)}" if near else told


def _mark(one: Distance, near: Sequence[Distance], axis: int, wording: Wording) -> str:
    """The letter of its holes if no neighbour has it, else where they are along the other axis."""
    own = {spot.letter for spot in one.spots}
    others = {spot.letter for other in near for spot in other.spots}
    if len(own) == 1 and own.isdisjoint(others) and "" not in own:
        return own.pop()
    places = distinct((spot.at(1 - axis) for spot in one.spots), TOLD)
    more = " …" if len(places) > MOST_PLACES else ""
    values = ", ".join(wording.length(place) for place in places[:MOST_PLACES])
    return f"({'x' if axis else 'y'} {values}{more})"
