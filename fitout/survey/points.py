r"""Named points of a bay, and its surfaces, as functions of its measured numbers.

              roof 1 ......... roof 2 ......... roof 3            roof N   on the centre line
             /                                        \
  opening top   wall 1/240 ... wall 2/240 ... wall 3/240  seat top
            |   arch rear top +----------+ arch front top /
  opening foot                |          |               /        wall N/H section N, H up
            |  arch rear foot |          | arch front foot
  sill corner --- wall 2/0 ---+----------+--- wall 3/0 --- front corner
        (every point but the roof's is named with its side: left sill corner)

On the centre line lie sill middle, front middle, seat top, and of the shut tailgate a point
for each height it was measured at: tailgate 450.

Sections are numbered from the sill forward. A point's coordinates follow when a measured
number changes; nothing here keeps a second model of the bay.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from fitout.model.design import BaySpec, Sides
from fitout.model.fault import Path
from fitout.model.spec import Measured
from fitout.survey.parameters import parameters
from fitout.survey.words import entry_words

Array = npt.NDArray[np.float64]
Predict = Callable[[Array], float]
SIDES = ("left", "right")


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number that follows from the unknowns: how, and from which of them."""

    value: Predict
    on: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class NamedPoint:
    """A named point: its three coordinates in the bay."""

    name: str
    x: Quantity
    y: Quantity
    z: Quantity

    @property
    def on(self) -> frozenset[int]:
        """The unknowns its place follows from."""
        return self.x.on | self.y.on | self.z.on

    def at(self, unknowns: Array) -> Array:
        """Its coordinates, shape (3,), for given values of the unknowns."""
        return np.array([self.x.value(unknowns), self.y.value(unknowns), self.z.value(unknowns)])


def constant(value: float) -> Quantity:
    """A number that nothing changes."""
    return Quantity(lambda _unknowns: value)


class Places:
    """The points and surfaces of one bay; `index` says which unknown an entry is."""

    def __init__(self, bay: BaySpec) -> None:
        self.bay = bay
        self.index: Mapping[Path, int] = {p.path: i for i, p in enumerate(parameters(bay))}
        order = sorted(range(len(bay.sections)), key=lambda i: bay.sections[i].at.value)
        self.order = tuple(order)
        self.names: Mapping[Path, str] = {p: entry_words(p, order) for p in self.index}
        self.points: Mapping[str, NamedPoint] = {p.name: p for p in self._all_points()}

    def entry(self, *path: str | int) -> Quantity:
        """A measured number of the bay, by its key path."""
        i = self.index[path]
        return Quantity(lambda unknowns: float(unknowns[i]), frozenset((i,)))

    def half(self, width: Measured | Sides, side: str, *path: str | int) -> Quantity:
        """The distance from the centre line that a width, or its one side, gives."""
        if isinstance(width, Sides):
            return self.entry(*path, side)
        whole = self.entry(*path)
        return Quantity(lambda unknowns: whole.value(unknowns) / 2.0, whole.on)

    def half_at_section(self, section: int, side: str, height: float) -> Quantity:
        """A wall's distance from the centre line at a section (by its place in the file)."""
        widths = self.bay.sections[section].widths
        heights = sorted(widths)
        halves = [
            self.half(widths[h], side, "sections", section, "widths", f"{h:g}") for h in heights
        ]
        shares = _shares(heights, height)
        used = [(halves[k], share) for k, share in shares]
        return Quantity(
            lambda unknowns: sum(share * q.value(unknowns) for q, share in used),
            frozenset().union(*(q.on for q, _ in used)),
        )

    def half_at(self, side: str, x: Quantity, height: float) -> Quantity:
        """A wall's distance from the centre line anywhere; flat triangles as in `walls`."""
        levels = sorted({0.0, *(h for s in self.bay.sections for h in s.widths)})
        k = max(0, min(len(levels) - 2, int(np.searchsorted(levels, height, side="right")) - 1))
        low, high = (levels[k], levels[k + 1]) if len(levels) > 1 else (levels[0], levels[0] + 1.0)
        stations = [self.entry("sections", i, "at") for i in self.order]
        corners = [tuple(self.half_at_section(i, side, z) for z in (low, high)) for i in self.order]
        up = min(1.0, max(0.0, (height - low) / (high - low)))
        on = frozenset().union(
            x.on, *(s.on for s in stations), *(c.on for pair in corners for c in pair)
        )

        def value(unknowns: Array) -> float:
            at = [s.value(unknowns) for s in stations]
            here = min(max(x.value(unknowns), at[0]), at[-1])
            if len(at) == 1:
                a, d = (c.value(unknowns) for c in corners[0])
                return a + up * (d - a)
            i = max(0, min(len(at) - 2, int(np.searchsorted(at, here, side="right")) - 1))
            along = (here - at[i]) / (at[i + 1] - at[i])
            a, d = (c.value(unknowns) for c in corners[i])
            b, c = (q.value(unknowns) for q in corners[i + 1])
            if along >= up:
                return a + along * (b - a) + up * (c - b)
            return a + up * (d - a) + along * (c - d)

        return Quantity(value, on)

    def front(self, height: float) -> Quantity:
        """How far forward the seat back (in its usual notch) or front wall lies at a height."""
        if self.bay.seat_back is None:
            return self.entry("front_wall")
        foot, lean = self.entry("seat_back", "foot"), self.entry("seat_back", "leans")
        return Quantity(
            lambda unknowns: (
                foot.value(unknowns) - height * math.tan(math.radians(lean.value(unknowns)))
            ),
            foot.on | lean.on,
        )

    def roof(self, x: float) -> Quantity:
        """Height of the roof so far forward of the sill."""
        stations = [self.entry("sections", i, "at") for i in self.order]
        heights = [self.entry("sections", i, "roof") for i in self.order]
        return Quantity(
            lambda unknowns: float(
                np.interp(
                    x,
                    [s.value(unknowns) for s in stations],
                    [h.value(unknowns) for h in heights],
                )
            ),
            frozenset().union(*(q.on for q in (*stations, *heights))),
        )

    def _all_points(self) -> list[NamedPoint]:
        return [
            *self._corners(),
            *self._walls(),
            *self._arches(),
            *self._rear(),
            *self._middle(),
            *self._inner_face(),
        ]

    def _sided(self, name: str, side: str, x: Quantity, half: Quantity, z: Quantity) -> NamedPoint:
        sign = 1.0 if side == "left" else -1.0
        y = Quantity(lambda unknowns: sign * half.value(unknowns), half.on)
        return NamedPoint(f"{side} {name}", x, y, z)

    def _corners(self) -> list[NamedPoint]:
        floor, sill, front = constant(0.0), constant(0.0), self.front(0.0)
        found = []
        for side in SIDES:
            found.append(
                self._sided("sill corner", side, sill, self.half_at(side, sill, 0.0), floor)
            )
            found.append(
                self._sided("front corner", side, front, self.half_at(side, front, 0.0), floor)
            )
        return found

    def _walls(self) -> list[NamedPoint]:
        found = []
        for number, i in enumerate(self.order, start=1):
            x = self.entry("sections", i, "at")
            for side in SIDES:
                for h in sorted(self.bay.sections[i].widths):
                    half = self.half_at_section(i, side, h)
                    name = f"wall {number}/{h:g}"
                    found.append(self._sided(name, side, x, half, constant(h)))
        return found

    def _arches(self) -> list[NamedPoint]:
        arches = self.bay.wheel_arches
        if arches is None or arches.profile:
            return []
        top = self.entry("wheel_arches", "height")
        ends = {"rear": "from", "front": "to"}
        found = []
        for side in SIDES:
            half = self.half(arches.between, side, "wheel_arches", "between")
            for end, key in ends.items():
                x = self.entry("wheel_arches", key)
                found.append(self._sided(f"arch {end} foot", side, x, half, constant(0.0)))
                found.append(self._sided(f"arch {end} top", side, x, half, top))
        return found

    def _rear(self) -> list[NamedPoint]:
        opening = self.bay.opening
        if opening is None:
            return []
        found = []
        heights = sorted(opening.widths)
        for side in SIDES:
            for name, h in (("opening foot", heights[0]), ("opening top", heights[-1])):
                half = self.half(opening.widths[h], side, "opening", "widths", f"{h:g}")
                found.append(self._sided(name, side, self._tailgate(h), half, constant(h)))
        return found

    def _tailgate(self, height: float) -> Quantity:
        if self.bay.tailgate is None:
            return constant(0.0)
        heights = sorted(self.bay.tailgate.inner_face)
        faces = [self.entry("tailgate", "inner_face", f"{h:g}") for h in heights]
        used = [(faces[k], share) for k, share in _shares(heights, height)]
        return Quantity(
            lambda unknowns: sum(share * q.value(unknowns) for q, share in used),
            frozenset().union(*(q.on for q, _ in used)),
        )

    def _middle(self) -> list[NamedPoint]:
        middle, floor = constant(0.0), constant(0.0)
        found = [NamedPoint("sill middle", middle, middle, floor)]
        found.append(NamedPoint("front middle", self.front(0.0), middle, floor))
        for number, i in enumerate(self.order, start=1):
            at, roof = self.entry("sections", i, "at"), self.entry("sections", i, "roof")
            found.append(NamedPoint(f"roof {number}", at, middle, roof))
        seat = self.bay.seat_back
        if seat is not None:
            top, lean = self.entry("seat_back", "top"), self.entry("seat_back", "leans")
            foot = self.entry("seat_back", "foot")
            x = Quantity(
                lambda unknowns: (
                    foot.value(unknowns)
                    - top.value(unknowns) * math.tan(math.radians(lean.value(unknowns)))
                ),
                foot.on | top.on | lean.on,
            )
            found.append(NamedPoint("seat top", x, middle, top))
        return found

    def _inner_face(self) -> list[NamedPoint]:
        """The shut tailgate, at each height it was measured but the floor's, which is the sill."""
        if self.bay.tailgate is None:
            return []
        return [
            NamedPoint(f"tailgate {h:g}", self._tailgate(h), constant(0.0), constant(h))
            for h in sorted(self.bay.tailgate.inner_face)
            if h > 0.0
        ]


def _shares(levels: Sequence[float], level: float) -> list[tuple[int, float]]:
    """Which levels a level lies between, and how much each counts; the ends are carried on."""
    if level <= levels[0]:
        return [(0, 1.0)]
    if level >= levels[-1]:
        return [(len(levels) - 1, 1.0)]
    k = int(np.searchsorted(levels, level, side="right")) - 1
    share = (level - levels[k]) / (levels[k + 1] - levels[k])
    return [(k, 1.0 - share), (k + 1, share)]
