"""Tabs: bridges left standing while a router cuts round a small part.

Two to four a part, 4 to 8 mm wide and 0.5 to 3 mm high (common practice), on straight runs,
away from corners, holes and pockets, as far from each other as they can be. A part without
straight runs has them on its arcs. A tab is told as the rectangle that the bit passes over:
it lies beside the part, as wide as the bit, and there the bit rises by the tab's height.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fitout.model.cutting import CuttingSpec
from fitout.model.outline import Loop, Point, arc_of, polygon
from fitout.model.panel import Panel

CORNER = 8.0
"""Least distance of a tab's end from the end of its run, mm (common practice)."""

FEATURE = 8.0
"""Least distance of a tab's middle from holes, pockets and cut-outs, mm (common practice)."""

MOST = 4
ROUND_TAB = 400.0
"""Beyond two tabs, one more for so much of the edge, mm."""

SHARES = (0.5, 0.2, 0.8)
"""Where along a run a tab may stand."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A place on the part's edge: the point, and the direction of the edge, anticlockwise."""

    at: Point
    along: Point
    run: float

    def loop(self, width: float, bit: float) -> Loop:
        """The rectangle of that width beside the part that the bit passes over."""
        (x, y), (dx, dy) = self.at, self.along
        half = width / 2.0
        corners = [(-half, 0.0), (half, 0.0), (half, bit), (-half, bit)]
        # Outwards lies to the right of an anticlockwise edge.
        return polygon([(x + a * dx + o * dy, y + a * dy - o * dx) for a, o in corners])


def tabs_of(panel: Panel, spec: CuttingSpec) -> tuple[Loop, ...]:
    """The panel's tabs where it lies; none for large parts, and none over an onion skin."""
    if spec.skin > 0.0 or max(panel.outline.size) >= spec.tabs.below:
        return ()
    width = spec.tabs.width
    spots = [s for s in straight(panel.outline.outer, width) if _clear(s, panel, width)]
    if len(spots) < 2:
        spots += [s for s in _round(panel.outline.outer, width) if _clear(s, panel, width)]
    if len(spots) < 2:
        spots = list(straight(panel.outline.outer, width))
    wanted = min(MOST, 2 + int(panel.outline.outer.length // (2.0 * ROUND_TAB)))
    return tuple(spot.loop(width, spec.kerf) for spot in _spread(spots, wanted))


def straight(outer: Loop, width: float) -> Iterator[Spot]:
    """Places on the straight runs where something so wide keeps off their ends."""
    for a, b in outer.anticlockwise().segments():
        run = math.hypot(b.x - a.x, b.y - a.y)
        if a.bulge or run < width + 2.0 * CORNER:
            continue
        along = ((b.x - a.x) / run, (b.y - a.y) / run)
        for share in SHARES:
            if min(share, 1.0 - share) * run >= width / 2.0 + CORNER:
                yield Spot((a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)), along, run)


def _round(outer: Loop, width: float) -> Iterator[Spot]:
    for a, b in outer.anticlockwise().segments():
        if a.bulge <= 0.0:
            continue
        arc = arc_of(a, b)
        if arc.radius * arc.sweep < 2.0 * width:
            continue
        for share in SHARES:
            angle = arc.start + share * arc.sweep
            along = (-math.sin(angle), math.cos(angle))
            yield Spot(arc.at(angle), along, arc.radius * arc.sweep)


def _clear(spot: Spot, panel: Panel, width: float) -> bool:
    """Whether nothing else is worked near the spot."""
    x, y = spot.at
    reach = FEATURE + width / 2.0
    if any(math.hypot(h.x - x, h.y - y) < h.diameter / 2.0 + reach for h in panel.holes):
        return False
    loops = [*panel.outline.inner, *(pocket.loop for pocket in panel.pockets)]
    for loop in loops:
        x0, y0, x1, y1 = loop.bounds
        if math.hypot(max(x0 - x, 0.0, x - x1), max(y0 - y, 0.0, y - y1)) < reach:
            return False
    return True


def _spread(spots: Sequence[Spot], wanted: int) -> list[Spot]:
    """The middle of the longest run, then always the spot farthest from those taken."""
    left = sorted(spots, key=lambda s: (-round(s.run, 6), s.at))
    taken = left[:1]
    while left and len(taken) < wanted:
        best = max(left, key=lambda s: min(round(math.dist(s.at, t.at), 6) for t in taken))
        if best in taken:
            break
        taken.append(best)
    return taken
