"""Tabs: bridges left standing while a router cuts round a small part.

Two to four a part, 4 to 8 mm wide and 0.5 to 3 mm high (common practice), on straight runs,
away from corners, holes and pockets, as far from each other as they can be. A part without
straight runs has them on its arcs. A tab is told as the rectangle that the bit passes over:
it lies beside the part, as wide as the bit, and there the bit rises by the tab's height.

       firm waste              a neighbour close by
     ─────▓▓▓──────           ═════▓▓▓══════ its edge
     ═════▓▓▓══════           ═════▓▓▓══════ the part's

What lies between two parts closer than two bits and a little waste is cut away by the one
pass or the other, so there a tab reaches right to the neighbour and both passes rise over
it. Stretches of edge that meet another part of the fit-out have none if it can be helped.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import IntEnum

import numpy as np
import shapely

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
"""Where along a run a tab may stand; if that finds too few, also at `MORE_SHARES`."""

MORE_SHARES = (0.35, 0.65, 0.1, 0.9)

WEB = 4.0
"""Least waste that holds a tab, between the passes of two bits, mm (common practice)."""

EDGE_WEB = 2.0
"""The same between a pass and the sheet's edge."""

SAGITTA = 0.05
ON_EDGE = 0.01
"""What lies so near a stretch of edge is on it, mm."""

Stretch = tuple[Point, Point]


class Hold(IntEnum):
    """What a tab ties its part to, the best first."""

    FIRM = 0
    SMALL = 1
    POOR = 2


@dataclass(frozen=True, slots=True)
class Around:
    """What lies about a part: the other parts, which of them are small, and the sheet.

    Areas are of Shapely, cut-outs left open; `size` is the sheet's length and width.
    """

    others: tuple[shapely.Geometry, ...]
    small: tuple[bool, ...]
    size: tuple[float, float]


ALONE = Around((), (), (math.inf, math.inf))


@dataclass(frozen=True, slots=True)
class Spot:
    """A place on the part's edge: the point, and the direction of the edge, anticlockwise."""

    at: Point
    along: Point
    run: float
    reach: float = 0.0
    hold: Hold = Hold.FIRM

    def loop(self, width: float) -> Loop:
        """The rectangle of that width beside the part that the bit passes over."""
        (x, y), (dx, dy) = self.at, self.along
        half = width / 2.0
        corners = [(-half, 0.0), (half, 0.0), (half, self.reach), (-half, self.reach)]
        # Outwards lies to the right of an anticlockwise edge.
        return polygon([(x + a * dx + o * dy, y + a * dy - o * dx) for a, o in corners])


def tabs_of(
    panel: Panel, spec: CuttingSpec, around: Around = ALONE, mates: Sequence[Stretch] = ()
) -> tuple[Loop, ...]:
    """The panel's tabs where it lies; none for large parts, and none over an onion skin.

    `mates` are the stretches of its edge, where it lies, that meet other parts.
    """
    if spec.skin > 0.0 or max(panel.outline.size) >= spec.tabs.below:
        return ()
    width = spec.tabs.width
    outer = panel.outline.outer
    spots = [s for s in straight(outer, width, SHARES + MORE_SHARES) if _clear(s, panel, width)]
    if len(spots) < 2:
        spots += [s for s in _round(outer, width) if _clear(s, panel, width)]
    if len(spots) < 2:
        spots = list(straight(outer, width))
    spots = [_held(spot, spec, around) for spot in spots]
    free = [spot for spot in spots if not _meets(spot, width, mates)]
    wanted = min(MOST, 2 + int(outer.length // (2.0 * ROUND_TAB)))
    apart = min(max(panel.outline.size), 2.0 * min(panel.outline.size)) / 2.0
    pools = [
        [spot for spot in some if spot.hold <= worst]
        for some, worst in (
            (free, Hold.FIRM), (free, Hold.SMALL), (spots, Hold.FIRM), (spots, Hold.SMALL),
        )
    ]  # fmt: skip
    for pool in [*pools, spots]:
        taken = _spread(pool, wanted)
        if len(taken) >= 2 and math.dist(taken[0].at, taken[1].at) >= apart:
            break
    return tuple(spot.loop(width) for spot in taken)


def around(panels: Sequence[Panel], spec: CuttingSpec, size: tuple[float, float]) -> list[Around]:
    """For each of a sheet's panels, as they lie, what lies about it."""
    solid = [
        shapely.Polygon(
            p.outline.outer.chords(grows=True, sagitta=SAGITTA),
            [loop.chords(grows=False, sagitta=SAGITTA) for loop in p.outline.inner],
        )
        for p in panels
    ]
    small = [max(p.outline.size) < spec.tabs.below for p in panels]
    return [
        Around((*solid[:i], *solid[i + 1 :]), (*small[:i], *small[i + 1 :]), size)
        for i in range(len(panels))
    ]


def _held(spot: Spot, spec: CuttingSpec, around: Around) -> Spot:
    """The spot with how far its tab must reach, and what holds it there."""
    far = 2.0 * spec.kerf + WEB
    (x, y), (dx, dy) = spot.at, spot.along
    half = spec.tabs.width / 2.0
    starts = np.array([(x + a * dx, y + a * dy) for a in (-half, 0.0, half)])
    out = np.array((dy, -dx))
    rays = shapely.linestrings(np.stack([starts + 1e-3 * out, starts + far * out], axis=1))
    ends = np.vstack([starts, starts + far * out])
    box = shapely.box(*ends.min(axis=0), *ends.max(axis=0)).buffer(spec.kerf)
    close = [i for i, other in enumerate(around.others) if other.intersects(box)]
    hits = [
        min((_first(ray, around.others[i], start), i) for i in close)
        for ray, start in zip(rays, starts, strict=True)
        if any(ray.intersects(around.others[i]) for i in close)
    ]
    tips = starts + (spec.kerf + EDGE_WEB) * out
    within = bool((tips >= 0.0).all() and (tips <= np.array(around.size)).all())
    if not hits:
        # Close by, but not straight ahead: its pass may take the web away sideways.
        tip = shapely.LineString(tips[[0, 2]])
        aside = any(around.others[i].distance(tip) < spec.kerf for i in close)
        hold = Hold.FIRM if within and not aside else Hold.POOR
        return dataclasses.replace(spot, reach=spec.kerf, hold=hold)
    same = len(hits) == len(rays) and len({i for _, i in hits}) == 1
    small = any(around.small[i] for _, i in hits)
    hold = (Hold.SMALL if small else Hold.FIRM) if same else Hold.POOR
    return dataclasses.replace(spot, reach=max(gap for gap, _ in hits), hold=hold)


def _first(ray: shapely.Geometry, other: shapely.Geometry, start: np.ndarray) -> float:
    """How far from `start` the ray meets the other; infinite if it does not."""
    met = ray.intersection(other)
    return math.inf if met.is_empty else float(met.distance(shapely.Point(start)))


def _meets(spot: Spot, width: float, mates: Sequence[Stretch]) -> bool:
    """Whether the tab would stand on a stretch that meets another part."""
    if not mates:
        return False
    (x, y), (dx, dy) = spot.at, spot.along
    half = width / 2.0
    foot = shapely.LineString([(x - half * dx, y - half * dy), (x + half * dx, y + half * dy)])
    return any(foot.distance(shapely.LineString(stretch)) < ON_EDGE for stretch in mates)


def straight(outer: Loop, width: float, shares: Sequence[float] = SHARES) -> Iterator[Spot]:
    """Places on the straight runs where something so wide keeps off their ends."""
    for a, b in outer.anticlockwise().segments():
        run = math.hypot(b.x - a.x, b.y - a.y)
        if a.bulge or run < width + 2.0 * CORNER:
            continue
        along = ((b.x - a.x) / run, (b.y - a.y) / run)
        for share in shares:
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
