"""A stay that holds a lid open: where its two plates go on lid and upright, holes drilled.

    seen along the hinge, shut                      open

    ====================O  lid, hinge               | lid
       [p]                 plate under the lid      |[p]
          `._                                       |  :
             [q]           plate on an upright      O  [q]
     -----upright-----

The stay folds or slides in a plane beside an upright. Its pivots are set so that it is as
good as fully out when the lid is open: it then ends the movement. Both plates are bolted
through, heads flush. Where no upright has room for it the stay is bought and left to be
placed by hand.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from fitout.mechanics.lids import Pivot
from fitout.model.hardware import Article
from fitout.model.module import Motion, Stay
from fitout.model.panel import Panel
from fitout.model.placement import Vector
from fitout.modules.fitting import within
from fitout.modules.joinery import Draft
from fitout.modules.latches import BOLTS, NUT, NUT_HEIGHT
from fitout.modules.neighbours import box_of

STAND = 12.0
"""From a lid's underside to the pivot on it, mm (common practice)."""

BESIDE = 10.0
"""From an upright's face to the plane the stay moves in, mm (common practice)."""

HALF_PITCH = 10.0
"""Half the distance of the two bolts of a plate, mm (common practice)."""

PLATE = 2.0
HEAD = 4.5
"""Half the width of a countersunk M4 head, mm."""

TO_EDGE, BETWEEN = 10.0, 3.0
"""Least wood from a bolt's middle to an edge, and between a head and another hole, mm (common
practice)."""

TAUT = 4.0
"""How much less than fully out the stay may be with the lid open, mm."""

SPARE = 0.5
STEP = 5.0
LEAST_OUT = 25.0
LOWEST = 120.0
PLAIN_SCREW = "wood screw 3.5 x 16"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """The plane a stay moves in: on which upright, how far along the hinge."""

    upright: str
    along: float


def add_stay(draft: Draft, lid: str) -> None:
    """Buy a lid's stay and drill for it; `lid` names a level panel and its hinge motion."""
    motion = next(m for m in draft.motions if m.name == lid)
    rows = draft.setting.catalogue.articles
    kinds = sorted((a for a in rows.values() if a.kind == "lid stay"), key=lambda a: -_long(a))
    places = list(_places(draft, motion))
    wood: dict[tuple[_Place, Pivot], bool] = {}
    for article in kinds:
        for pivots in _pivots(draft.panels[lid].thickness, motion, article):
            for place in places:
                if _fits(draft, (motion, place), pivots, wood):
                    _drill(draft, (motion, place), article, pivots)
                    return
    usual = kinds[0].key
    draft.buy(usual, 1, "lid stay")
    draft.buy(PLAIN_SCREW, 4, "lid stay")


def _long(article: Article) -> float:
    return article.length or 0.0


def _out(motion: Motion) -> Vector:
    """The level direction from the hinge to the shut lid's free edge."""
    x, y, _ = motion.direction
    return (-y, x, 0.0)


def _places(draft: Draft, motion: Motion) -> Iterator[_Place]:
    """Beside each face of each upright that stands across the hinge under the lid."""
    lid = box_of(draft.panels[motion.name])
    axis = 0 if abs(motion.direction[0]) > abs(motion.direction[1]) else 1
    start, end = ((lid.x0, lid.x1), (lid.y0, lid.y1))[axis]
    for panel in draft.panels.values():
        if panel.moves is not None or abs(panel.placement.w[axis]) < 1.0 - 1e-9:
            continue
        box = box_of(panel)
        faces = ((box.x0, box.x1), (box.y0, box.y1))[axis]
        if box.z1 > lid.z0 + 1.0 or box.z1 < lid.z0 - 1.0:
            continue
        for at in (faces[1] + BESIDE, faces[0] - BESIDE):
            if start + TO_EDGE <= at <= end - TO_EDGE:
                yield _Place(upright=panel.name, along=at)


def _pivots(thickness: float, motion: Motion, article: Article) -> Iterator[tuple[Pivot, Pivot]]:
    """Pivots, on the lid and on the upright, that leave the stay as good as fully out."""
    longest = _long(article)
    shortest = longest - (longest if article.stroke is None else article.stroke)
    low = -thickness - STAND
    out, aside, down = (
        grid.ravel()
        for grid in np.meshgrid(
            np.arange(longest, LEAST_OUT, -STEP),
            np.arange(LEAST_OUT, longest, 2.0 * STEP),
            np.arange(low, -LOWEST, -2.0 * STEP),
            indexing="ij",
        )
    )
    angles = np.radians(motion.travel * np.linspace(0.0, 1.0, 9))[:, None]
    # As `mechanics.lids.stay_length`, for all pivots and angles at once.
    lengths = np.hypot(
        out * np.cos(angles) - low * np.sin(angles) - aside,
        out * np.sin(angles) + low * np.cos(angles) - down,
    )
    good = (lengths[-1] >= longest - TAUT) & (lengths.max(axis=0) <= longest - SPARE)
    good &= (lengths.min(axis=0) >= shortest + SPARE) & (aside <= out)
    for i in np.flatnonzero(good).tolist():
        yield (float(out[i]), low), (float(aside[i]), float(down[i]))


def _fits(
    draft: Draft,
    at: tuple[Motion, _Place],
    pivots: tuple[Pivot, Pivot],
    wood: dict[tuple[_Place, Pivot], bool],
) -> bool:
    """Whether lid and upright have wood for the plates, and nothing is in the stay's plane.

    `wood` keeps what is known of single plates.
    """
    motion, place = at
    for panel, pivot, points in zip(
        (motion.name, place.upright), pivots, _bolts(at, pivots), strict=True
    ):
        if (place, pivot) not in wood:
            wood[place, pivot] = all(_has_wood(draft.panels[panel], p) for p in points)
        if not wood[place, pivot]:
            return False
    return _is_clear(draft, at, pivots)


def _bolts(
    at: tuple[Motion, _Place], pivots: tuple[Pivot, Pivot]
) -> tuple[tuple[Vector, Vector], tuple[Vector, Vector]]:
    """Where the two bolts of the plate on the lid go, and of the one on the upright."""
    (out, _), (aside, down) = pivots
    top = _point(*at, (out - HALF_PITCH, 0.0)), _point(*at, (out + HALF_PITCH, 0.0))
    low, high = (_point(*at, (aside, down + d)) for d in (-HALF_PITCH, HALF_PITCH))
    return top, (low, high)


def _drill(
    draft: Draft, at: tuple[Motion, _Place], article: Article, pivots: tuple[Pivot, Pivot]
) -> None:
    """Drill lid and upright for a stay, buy it and its bolts."""
    motion, place = at
    diameter = draft.setting.catalogue.articles[BOLTS[0]].clearance_hole or 4.5
    for panel, points in zip((motion.name, place.upright), _bolts(at, pivots), strict=True):
        draft.drill_at(panel, points, diameter, "lid stay")
        draft.buy(_bolt(draft, panel), len(points), "lid stay")
        draft.buy(NUT, len(points), "lid stay")
    draft.buy(article.key, 1, "lid stay")
    index = draft.motions.index(motion)
    draft.motions[index] = dataclasses.replace(motion, stop="the stay")
    on_lid, on_side = (_point(*at, pivot) for pivot in pivots)
    draft.stays.append(
        Stay(
            motion=motion.name,
            article=article.key,
            lid=f"{draft.name}/{motion.name}",
            side=f"{draft.name}/{place.upright}",
            on_lid=on_lid,
            on_side=on_side,
        )
    )


def _point(motion: Motion, place: _Place, pivot: Pivot) -> Vector:
    """A point (out, up) from the hinge, in the stay's plane, in bay coordinates."""
    x, y, _ = _out(motion)
    px, py, pz = motion.point
    out, up = pivot
    if abs(x) > abs(y):
        return px + out * x, place.along, pz + up
    return place.along, py + out * y, pz + up


def _has_wood(panel: Panel, point: Vector) -> bool:
    """Whether a bolt keeps from edges, cut-outs, pockets and other holes."""
    u, v = panel.local(point)
    if not within(panel, np.array([[u, v]]), TO_EDGE)[0]:
        return False
    for pocket in panel.pockets:
        u0, v0, u1, v1 = pocket.loop.bounds
        if u0 - HEAD < u < u1 + HEAD and v0 - HEAD < v < v1 + HEAD:
            return False
    return all(
        math.hypot(h.x - u, h.y - v) >= h.diameter / 2.0 + HEAD + BETWEEN for h in panel.holes
    )


def _is_clear(draft: Draft, at: tuple[Motion, _Place], pivots: tuple[Pivot, Pivot]) -> bool:
    """Whether no other panel, taken as its bounding block, is where the shut stay lies."""
    own = at[0].name, at[1].upright
    corners = [
        _point(*at, (out, up))
        for out in (min(p[0] for p in pivots) - HALF_PITCH, max(p[0] for p in pivots) + HALF_PITCH)
        for up in (min(p[1] for p in pivots) - HALF_PITCH, -draft.panels[own[0]].thickness)
    ]
    low, high = np.min(corners, axis=0), np.max(corners, axis=0)
    axis = int(np.argmin(high - low))
    low[axis], high[axis] = low[axis] - BESIDE + 1.0, high[axis] + BESIDE - 1.0
    for panel in draft.panels.values():
        box = box_of(panel)
        least, most = np.array([box.x0, box.y0, box.z0]), np.array([box.x1, box.y1, box.z1])
        if panel.name not in own and np.all((least < high) & (most > low)):
            return False
    return True


def _bolt(draft: Draft, panel: str) -> str:
    """The shortest bolt that reaches through a panel, a plate and its nut; else the longest."""
    rows = draft.setting.catalogue.articles
    wanted = draft.panels[panel].thickness + PLATE + NUT_HEIGHT
    return next((key for key in BOLTS if (rows[key].length or 0.0) >= wanted), BOLTS[-1])
