"""Latches: where case and striker go, their holes in both panels, what is bought for them.

    drawer, seen from the left                lid, seen along the bin

     ================== rail, top              finger hole
         |lip| #                             ====|   |=========== lid
     ||      | #                             |    case ### |bolt
     ||front |###                            |         ###  ___|
     ||      |### case                       |             |lip| wall

Case and striker are held by countersunk bolts that come through their panels: the panels are
machined on one face, and a lid or deck is held from above, its heads flush. A place is taken
when all its holes and the case itself keep clear of what is drilled or cut already; else the
next of the places offered. Where none is free there is no latch, which a check reports.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from fitout.model.fault import DesignError, Fault, Path
from fitout.model.hardware import LatchType
from fitout.model.latch import CATCH_PLAY, Latch
from fitout.model.panel import Hole, Panel
from fitout.model.placement import Vector
from fitout.modules.fitting import within
from fitout.modules.joinery import Draft
from fitout.modules.neighbours import box_of

RUN = 2.0
"""Least gap between a case's end and the striker's lip it passes, mm (common practice)."""

TIP = 0.5
"""Between the bolt's tip and the striker's panel, mm (common practice)."""

FLANGE = 1.5
"""Thickness of the ears of cases and strikers, mm (common practice)."""

EDGE = 2.0
"""Least distance of a hole's middle from an edge, as a multiple of its diameter (common
practice for boards)."""

BETWEEN = 3.0
"""Least wood between a hole and another hole, pocket or cut-out, mm (common practice)."""

HEAD = 4.5
"""Half the head of a screw that must not lie under a case, mm."""

ROUND_CASE = 3.0
"""Room kept between a case and other parts, mm (common practice)."""

LEVER_GAP = 6.0
"""From a finger hole to the case beside it, mm: its lever reaches over."""

BOLTS = tuple(f"countersunk bolt M4 x {length}" for length in (20, 25, 30, 40))
NUT = "lock nut M4"
NUT_HEIGHT = 5.0

Place = tuple[Vector, Vector | None]
"""Where the plane of the case's face meets the striker's panel, in the middle of the bolt; and
which way from there the finger hole lies, if its lever is reached through one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Catch:
    """Which panels a latch is between, and how it lies.

    `panel` carries the case, `behind` are panels behind it that its button passes too, and
    `striker_panel` the striker. `normal` points from the panel's face into the case, `throw`
    to the striker.
    """

    motion: str
    panel: str
    striker_panel: str
    normal: Vector
    throw: Vector
    behind: tuple[str, ...] = ()


def latch_type(draft: Draft, wish: str | None, usual: str) -> LatchType | None:
    """The latch asked for by name, the usual one where nothing is said, None for "none"."""
    return None if wish == "none" else draft.setting.catalogue.latches[wish or usual]


def add_latch(draft: Draft, kind: LatchType, catch: Catch, places: Iterable[Place]) -> bool:
    """Put a latch at the first of `places` that is free; returns whether there is one.

    Its holes are drilled in all panels; latch, striker, bolts and nuts are bought.
    """
    if not serves(draft, kind, catch):
        return False
    for place in places:
        latch = _latch(draft, kind, catch, place)
        if _is_free(draft, latch):
            _drill(draft, latch)
            draft.latches.append(latch)
            return True
    return False


def serves(draft: Draft, kind: LatchType, catch: Catch) -> bool:
    """Whether the panels are as thick as the latch and its striker need them."""
    striker = draft.setting.catalogue.strikers[kind.striker]
    thick = _passed(draft, kind, catch)
    held = draft.panels[catch.striker_panel].thickness >= striker.least_panel
    return held and kind.least_panel <= thick <= kind.most_panel


def refuse_thickness(draft: Draft, kind: LatchType, catch: Catch, path: Path) -> None:
    """Raise a DesignError at `path` where a latch asked for by name does not serve its panel."""
    if serves(draft, kind, catch):
        return
    striker = draft.setting.catalogue.strikers[kind.striker]
    held = draft.panels[catch.striker_panel].thickness
    found = f"{kind.key!r} on {catch.panel}, {_passed(draft, kind, catch):g} mm thick"
    expected = f"a latch for that: this one serves {kind.least_panel:g} to {kind.most_panel:g} mm"
    if held < striker.least_panel:
        found = f"{kind.key!r} with its striker on {catch.striker_panel}, {held:g} mm thick"
        expected = f"a board of {striker.least_panel:g} mm or more for the striker"
    hint = _that_serve(draft, catch)
    raise DesignError([Fault(path=path, found=found, expected=expected, hint=hint)])


def _that_serve(draft: Draft, catch: Catch) -> str:
    able = [k.key for k in draft.setting.catalogue.latches.values() if serves(draft, k, catch)]
    return f"These serve: {', '.join(able)}." if able else ""


def _passed(draft: Draft, kind: LatchType, catch: Catch) -> float:
    """Thickness of what the latch is on: with a button, of all that this passes."""
    names = (catch.panel, *catch.behind) if kind.clearance_hole else (catch.panel,)
    return sum(draft.panels[name].thickness for name in names)


def beside_finger_hole(
    kind: LatchType, middle: Vector, half: float, along: Vector
) -> Iterator[Place]:
    """Places for a latch by a finger hole with that half length `along` the panel.

    `middle` is where the plane of the case's face meets the striker's panel, over the hole's
    middle; without a hole, half length 0, the latch is there.
    """
    if half == 0.0:
        yield middle, None
        return
    near = half + LEVER_GAP + (kind.width or 0.0) / 2.0
    for side in (1.0, -1.0):
        lever = moved((0.0, 0.0, 0.0), along, -side) if kind.clearance_hole is None else None
        yield moved(middle, along, side * near), lever


def _latch(draft: Draft, kind: LatchType, catch: Catch, place: Place) -> Latch:
    striker = draft.setting.catalogue.strikers[kind.striker]
    point, lever = place
    drop = max(striker.lip + RUN, kind.throw + TIP)
    passes = (catch.panel, *catch.behind) if kind.clearance_hole else ()
    return Latch(
        motion=catch.motion,
        module=draft.name,
        type=kind,
        panel=draft.panels[catch.panel].id,
        root=moved(point, catch.throw, -drop),
        normal=catch.normal,
        throw=catch.throw,
        striker=striker,
        striker_panel=draft.panels[catch.striker_panel].id,
        strikes=moved(point, catch.normal, kind.bolt_at - CATCH_PLAY),
        passes=tuple(draft.panels[name].id for name in passes),
        lever=lever,
    )


def moved(point: Vector, along: Vector, by: float) -> Vector:
    """A point shifted by so many mm along a direction."""
    x, y, z = (p + by * a for p, a in zip(point, along, strict=True))
    return x, y, z


def _holes(draft: Draft, latch: Latch) -> Iterator[tuple[str, Vector, float, str]]:
    """Each hole: its panel's name, a point of the bay, its diameter, what for."""
    bolt = draft.setting.catalogue.articles[BOLTS[0]].clearance_hole or 4.5
    panel, striker_panel = (_name(i) for i in (latch.panel, latch.striker_panel))
    for point in latch.case_holes:
        yield panel, point, bolt, "latch"
    for point in latch.striker_holes:
        yield striker_panel, point, bolt, "striker"
    for name in latch.passes:
        yield _name(name), latch.button, latch.type.clearance_hole or 0.0, "latch button"


def _name(id_: str) -> str:
    return id_.partition("/")[2]


def _is_free(draft: Draft, latch: Latch) -> bool:
    """Whether all holes have wood about them, and nothing is where the case goes."""
    holes = _holes(draft, latch)
    if not all(_has_wood(draft.panels[name], point, d) for name, point, d, _ in holes):
        return False
    panel = draft.panels[_name(latch.panel)]
    u0, v0, u1, v1 = _spread([panel.local(corner) for corner in latch.case])
    for hole in panel.holes:
        if u0 - HEAD < hole.x < u1 + HEAD and v0 - HEAD < hole.y < v1 + HEAD:
            return False
    for loop in (*panel.outline.inner, *(p.loop for p in panel.pockets)):
        a0, b0, a1, b1 = loop.bounds
        if a0 < u1 and u0 < a1 and b0 < v1 and v0 < b1:
            return False
    return _has_room(draft, latch)


def _spread(points: Sequence[tuple[float, float]]) -> tuple[float, float, float, float]:
    us, vs = zip(*points, strict=True)
    return min(us), min(vs), max(us), max(vs)


def _has_wood(panel: Panel, point: Vector, diameter: float) -> bool:
    """Whether a hole keeps from edges, cut-outs, pockets and other holes."""
    u, v = panel.local(point)
    if not within(
        panel,
        np.array([[u, v]]),
        max(EDGE * diameter, 0.0) if diameter < 10.0 else diameter / 2.0 + BETWEEN,
    )[0]:
        return False
    reach = diameter / 2.0 + BETWEEN
    for pocket in panel.pockets:
        u0, v0, u1, v1 = pocket.loop.bounds
        if u0 - reach < u < u1 + reach and v0 - reach < v < v1 + reach:
            return False
    return all(math.hypot(h.x - u, h.y - v) >= h.diameter / 2.0 + reach for h in panel.holes)


def _has_room(draft: Draft, latch: Latch) -> bool:
    """Whether no other panel of the module, taken as its bounding block, is where the case is."""
    low = [min(c[i] for c in latch.case) - ROUND_CASE for i in range(3)]
    high = [max(c[i] for c in latch.case) + ROUND_CASE for i in range(3)]
    own = {latch.panel, latch.striker_panel, *latch.passes}
    for panel in draft.panels.values():
        box = box_of(panel)
        apart = (
            box.x0 >= high[0]
            or box.x1 <= low[0]
            or box.y0 >= high[1]
            or box.y1 <= low[1]
            or box.z0 >= high[2]
            or box.z1 <= low[2]
        )
        if not apart and panel.id not in own:
            return False
    return True


def _drill(draft: Draft, latch: Latch) -> None:
    """The holes of case, striker and button; latch, striker, bolts and nuts."""
    for name, point, diameter, purpose in _holes(draft, latch):
        panel = draft.panels[name]
        draft.drill(name, [Hole(*panel.local(point), diameter, purpose=purpose)])
    draft.buy(latch.type.key, 1, "latch")
    draft.buy(latch.striker.key, 1, "latch")
    for id_ in (latch.panel, latch.striker_panel):
        draft.buy(_bolt(draft, draft.panels[_name(id_)]), 2, "latch")
    draft.buy(NUT, 4, "latch")


def _bolt(draft: Draft, panel: Panel) -> str:
    """The shortest bolt that reaches through panel, flange and nut; else the longest."""
    articles = draft.setting.catalogue.articles
    needed = panel.thickness + FLANGE + NUT_HEIGHT
    long = [key for key in BOLTS if (articles[key].length or 0.0) >= needed]
    return (*long, BOLTS[-1])[0]
