"""Where the parts of a side bin go: uprights, and what lies between them.

    seen from above, the wall at the top

    wall  -----------------___________-----------------
          |   strip      |  strip    |     strip      |
          |--------------|-----------|----------------|  hinge line
          |u   floor    u|u  shelf  u|u    floor     u|
          +---------------------------------------------  inner wall
         x0             wheel arch                    x1

Distances `s` are from the centre line towards the bin's wall, whichever side it is on.
Uprights stand at both ends, before and after a wheel arch that leaves no room beside it,
before and after a place kept clear, and where two lids meet.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from fitout.model.bay import Bay
from fitout.model.design import ClearanceSpec
from fitout.model.module import Berth
from fitout.model.placement import Placement, Vector, along, along_face_left, flat
from fitout.modules.scribe import flat_edge
from fitout.survey.room import arch_span, arch_top

LEAST_BESIDE_ARCH = 60.0
"""With less room than this between inner wall and wheel arch the bin is parted there, mm."""

LEAST_COMPARTMENT = 100.0
"""A shorter stretch of the bin is not parted off, mm."""

LEAST_SLOT = 30.0
"""Two uprights nearer to each other than this are one too many, mm."""

LEAST_BOTTOM = 60.0
"""Where the room between inner wall and wheel arch or wall is narrower there is no bottom, mm."""

LEAST_HEIGHT = 60.0
"""A compartment lower than this over a wheel arch gets no shelf, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A block in the bin's own terms: along x, from the centre line, upwards."""

    x0: float
    x1: float
    s0: float
    s1: float
    z0: float
    z1: float

    def hits(self, other: Box) -> bool:
        """Whether two blocks share room."""
        return (
            self.x0 < other.x1
            and other.x0 < self.x1
            and self.s0 < other.s1
            and other.s0 < self.s1
            and self.z0 < other.z1
            and other.z0 < self.z1
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """What a bin is planned from. `under` is the height of its lids' underside.

    `inner` is the distance of the bin's inner face from the centre line, `t` the carcass
    board's thickness, `kept` the places to keep clear with their clearance, `above` what
    other modules have above the deck.
    """

    bay: Bay
    side: str
    rules: ClearanceSpec
    t: float
    x0: float
    x1: float
    inner: float
    z0: float
    under: float
    z1: float
    kept: tuple[Box, ...]
    above: tuple[Box, ...] = ()

    @property
    def gap(self) -> float:
        """Clearance of straight edges to the wheel arch, room for its rounding included."""
        return max(self.rules.wall, self.rules.scribed) + 1.0

    @property
    def over_arch(self) -> float:
        """Height of what lies over the wheel arch: the same along the whole bin."""
        # A steep flank is passed sideways, so look as far beyond the ends as is kept clear.
        top = arch_top(self.bay, self.side, self.x0 - self.gap, self.x1 + self.gap)
        return self.z0 if top is None else top + self.gap

    @property
    def face(self) -> float:
        """Distance of the inner wall's hidden face from the centre line."""
        return self.inner + self.t

    def y(self, s: float) -> float:
        """The bay's y at a distance from the centre line."""
        return s if self.side == "left" else -s

    @property
    def outwards(self) -> Vector:
        """The direction from the middle to the bin's wall."""
        return (0.0, self.y(1.0), 0.0)

    def at(self, x: float, s: float, z: float) -> Vector:
        """A point in bay coordinates."""
        return (x, self.y(s), z)

    def facing_middle(self, s: float, z: float, x: tuple[float, float] | None = None) -> Placement:
        """An upright panel along the bay, face A to the middle, its outer face at `s`."""
        x0, x1 = x or (self.x0, self.x1)
        if self.side == "left":
            return along(x0, s, z)
        return along_face_left(x1, -s, z)

    def lying(self, x: float, s: tuple[float, float], z: float) -> Placement:
        """A flat panel that reaches over `s`, its underside at height z."""
        return flat(x, min(self.y(s[0]), self.y(s[1])), z)

    def berth(self, box: Box) -> Berth:
        """A block in bay coordinates."""
        y0, y1 = sorted((self.y(box.s0), self.y(box.s1)))
        return Berth(x0=box.x0, x1=box.x1, y0=y0, y1=y1, z0=box.z0, z1=box.z1)

    def box(self, x: tuple[float, float], z: tuple[float, float], s0: float | None = None) -> Box:
        """A block from the inner wall's hidden face, or `s0`, right out through the wall."""
        return Box(
            x0=x[0], x1=x[1], s0=self.face if s0 is None else s0, s1=math.inf, z0=z[0], z1=z[1]
        )

    def is_kept(self, box: Box) -> bool:
        """Whether a block reaches into a place kept clear."""
        return any(zone.hits(box) for zone in self.kept)


@dataclass(frozen=True, slots=True, kw_only=True)
class Compartment:
    """The stretch between two uprights, by their faces.

    Its bottom begins at height `bottom`, on the floor or as a shelf over the wheel arch;
    None where there is none. `open_top` is set where something kept clear reaches the top.
    """

    x0: float
    x1: float
    bottom: float | None
    shelf: bool
    open_top: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Where the uprights begin along x, and the compartments between them."""

    uprights: tuple[float, ...]
    compartments: tuple[Compartment, ...]


def kept_clear(bay: Bay, side: str, gap: float) -> tuple[Box, ...]:
    """The bay's places to keep clear, `gap` larger all round."""
    boxes = []
    for obstacle in bay.obstacles:
        if obstacle.kind != "keep clear":
            continue
        low, high = (np.asarray(f(obstacle.vertices, axis=0)) for f in (np.min, np.max))
        y0, y1 = (low[1], high[1]) if side == "left" else (-high[1], -low[1])
        boxes.append(
            Box(
                x0=float(low[0]) - gap,
                x1=float(high[0]) + gap,
                s0=float(y0) - gap,
                s1=float(y1) + gap,
                z0=float(low[2]) - gap,
                z1=float(high[2]) + gap,
            )
        )
    return tuple(boxes)


def parted_arch(frame: Frame) -> tuple[float, float] | None:
    """Where the wheel arch parts the bin, along x with its clearance; None where it doesn't."""
    span = arch_span(frame.bay, frame.side, frame.z0)
    if span is None:
        return None
    beside = frame.bay.arches[frame.side][1] - frame.gap - frame.face
    if beside >= LEAST_BESIDE_ARCH:
        return None
    x0, x1 = span[0] - frame.gap, span[1] + frame.gap
    return (x0, x1) if x0 < frame.x1 and x1 > frame.x0 else None


def plan_of(frame: Frame, longest: float) -> Plan:
    """Uprights and compartments, none of them longer than `longest` where that can be."""
    arch = parted_arch(frame)
    apart = [] if arch is None else [arch]
    apart.extend((zone.x0, zone.x1) for zone in _blocking(frame))
    uprights = list(_uprights(frame, _merged(apart)))
    for a, b in itertools.pairwise(list(uprights)):
        uprights += _between(frame, a, b, longest)
    return _plan(frame, _apart(frame, sorted(uprights)))


def with_uprights(frame: Frame, plan: Plan, more: Iterable[float]) -> Plan:
    """The plan with more uprights, but for those that would stand in a place kept clear."""
    free = [x for x in more if not frame.is_kept(_slab(frame, x))]
    return _plan(frame, sorted({*plan.uprights, *free})) if free else plan


def _plan(frame: Frame, uprights: Sequence[float]) -> Plan:
    arch = parted_arch(frame)
    compartments = tuple(
        _compartment(frame, a + frame.t, b, arch) for a, b in itertools.pairwise(uprights)
    )
    return Plan(uprights=tuple(uprights), compartments=compartments)


def _slab(frame: Frame, x: float) -> Box:
    """The room an upright that begins at `x` takes, right out through the wall."""
    return frame.box((x, x + frame.t), (frame.z0, frame.under))


def bottom_reach(frame: Frame, c: Compartment) -> float | None:
    """How far from the centre line a compartment's bottom reaches; None where it has none."""
    if c.bottom is None:
        return None
    box = frame.berth(frame.box((c.x0, c.x1), (c.bottom, c.bottom + frame.t)))
    reach = max(s for _, s in flat_edge(frame.bay, frame.side, box, frame.rules.scribed))
    return None if reach - frame.face < LEAST_BOTTOM else reach


def _apart(frame: Frame, uprights: list[float]) -> list[float]:
    """The uprights without an end one that stands in something, right beside the next."""
    least = frame.t + LEAST_SLOT
    while len(uprights) > 2 and uprights[1] - uprights[0] < least:
        uprights = uprights[1:]
    while len(uprights) > 2 and uprights[-1] - uprights[-2] < least:
        uprights = uprights[:-1]
    return uprights


def _blocking(frame: Frame) -> Iterator[Box]:
    """The kept-clear places that leave no room for the floor or for the top."""
    x = (frame.x0, frame.x1)
    floor = frame.box(x, (frame.z0, frame.z0 + frame.t))
    top = frame.box(x, (frame.under, frame.z1), frame.inner)
    for zone in frame.kept:
        if zone.hits(floor) or zone.hits(top):
            yield zone


def _merged(spans: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    merged: list[tuple[float, float]] = []
    for start, end in sorted(spans):
        if merged and start <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(end, merged[-1][1]))
        else:
            merged.append((start, end))
    return merged


def _uprights(frame: Frame, apart: Sequence[tuple[float, float]]) -> Iterator[float]:
    """Where uprights begin: at both ends, and on both sides of whatever parts the bin."""
    t = frame.t
    ends = [frame.x0, *(x for span in apart for x in span), frame.x1]
    free = list(zip(ends[::2], ends[1::2], strict=True))
    for i, (start, end) in enumerate(free):
        first, last = i == 0, i == len(free) - 1
        roomy = end - start >= 2.0 * t + LEAST_COMPARTMENT
        if first or roomy:
            yield frame.x0 if first else start
        if last or roomy:
            yield frame.x1 - t if last else end - t
        if not (first or last or roomy) and end - start >= t:
            yield (start + end - t) / 2.0


def _between(frame: Frame, a: float, b: float, longest: float) -> Iterator[float]:
    """Uprights that share out a stretch longer than `longest`, but for places kept clear."""
    count = math.ceil((b - a) / longest)
    for i in range(1, count):
        x = a + i * (b - a) / count
        if not frame.is_kept(_slab(frame, x)):
            yield x


def _compartment(
    frame: Frame, x0: float, x1: float, arch: tuple[float, float] | None
) -> Compartment:
    over_arch = arch is not None and arch[0] < x1 and arch[1] > x0
    bottom: float | None = frame.z0
    if over_arch:
        bottom = frame.over_arch
        if frame.under - bottom - frame.t < LEAST_HEIGHT:
            bottom = None
    if bottom is not None:
        # A shelf must not shut off what is kept clear below it.
        low = frame.z0 if over_arch else bottom
        if frame.is_kept(frame.box((x0, x1), (low, bottom + frame.t))):
            bottom = None
    above = frame.box((x0, x1), (frame.under, frame.z1), frame.inner)
    return Compartment(x0=x0, x1=x1, bottom=bottom, shelf=over_arch, open_top=frame.is_kept(above))


def free_heights(frame: Frame, x: float, least: float = 40.0) -> list[tuple[float, float]]:
    """The heights an upright at `x` may take: all but what is kept clear there."""
    free = [(frame.z0, frame.under)]
    slab = _slab(frame, x)
    for zone in frame.kept:
        if zone.hits(slab):
            free = [
                piece
                for z0, z1 in free
                for piece in ((z0, min(z1, zone.z0)), (max(z0, zone.z1), z1))
                if piece[1] - piece[0] >= least
            ]
    return free
