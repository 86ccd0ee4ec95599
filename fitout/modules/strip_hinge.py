"""A strip hinge on the upper faces of two boards that lie level, its screw holes drilled.

    seen along the hinge

          leaf  o  leaf         the knuckle (o) stands over the gap; each leaf is screwed down
       ========   ========      into its board's upper face
         lid   gap  strip

The hinge lies open on the upper faces, which are those that are machined: lid and strip get a
blind pilot hole under every hole of its leaves. A place where something else is drilled is
passed by.
"""

from __future__ import annotations

import math

import numpy as np

from fitout.model.panel import Hole, Panel
from fitout.model.placement import Vector
from fitout.modules.fitting import HOLE_TO_EDGE, within
from fitout.modules.joinery import Draft, spread

HINGE = "strip hinge"
SCREWS = tuple(f"wood screw 3.5 x {length}" for length in (16, 12))
"""Screws for its leaves, the longest first."""

LEAF = 1.0
"""Thickness of a leaf, mm (common practice)."""

POINT_STAYS_IN, PILOT_STAYS_IN = 1.0, 2.0
"""How far a screw's point, and its pilot hole, stay short of the far face, mm (common
practice)."""

SPACING = 60.0
"""Distance between the screws of each leaf, mm (common practice)."""

INSET = 20.0
"""Distance of the first screw from the hinge's end, mm (common practice)."""

BETWEEN_HOLES = 2.0
"""Least wood between a pilot hole and another hole, mm (common practice)."""

SHIFTS = (0.0, 4.0, -4.0, 8.0, -8.0, 12.0, -12.0)
"""How far along the hinge a pair of screws may be shifted to pass what is drilled already, mm."""


def drill_hinge(
    draft: Draft, parts: tuple[str, str], axis: tuple[Vector, Vector], towards: Vector
) -> float:
    """Drill a lid and the strip it is hinged to; returns the hinge's length, mm.

    `axis` runs along the middle of the gap, `towards` points from it to the lid (parts[0]).
    The screws are bought here; the hinge itself is counted over all lids, see `buy_hinges`.
    """
    article = draft.setting.catalogue.articles[HINGE]
    row = (article.width or 32.0) / 4.0
    start, end = axis
    length = math.dist(start, end)
    along = [(b - a) / length for a, b in zip(start, end, strict=True)]
    rows = {parts[0]: row, parts[1]: -row}
    holes: dict[str, list[Hole]] = {name: [] for name in parts}
    for place in spread(0.0, length, INSET, SPACING):
        for shift in SHIFTS:
            middle = [a + (place + shift) * d for a, d in zip(start, along, strict=True)]
            pair = {
                name: _pilot(draft, name, _aside(middle, towards, reach))
                for name, reach in rows.items()
            }
            if all(_is_free(draft.panels[name], hole) for name, hole in pair.items()):
                for name, hole in pair.items():
                    holes[name].append(hole)
                break
    for name, found in holes.items():
        draft.drill(name, found)
        if found:
            draft.buy(_screw(draft, name), len(found), "lid hinge")
    return length


def buy_hinges(draft: Draft, length: float) -> None:
    """Count the pieces of strip hinge that make up a length, mm."""
    article = draft.setting.catalogue.articles[HINGE]
    draft.buy(HINGE, math.ceil(length / (article.length or 1000.0)), "lid")


def _aside(point: list[float], towards: Vector, reach: float) -> Vector:
    x, y, z = (a + reach * b for a, b in zip(point, towards, strict=True))
    return x, y, z


def _screw(draft: Draft, panel: str) -> str:
    """The longest screw that does not come out below, else the shortest."""
    articles = draft.setting.catalogue.articles
    room = draft.panels[panel].thickness - POINT_STAYS_IN + LEAF
    fitting = [key for key in SCREWS if (articles[key].length or 0.0) <= room]
    return (*fitting, SCREWS[-1])[0]


def _pilot(draft: Draft, panel: str, point: Vector) -> Hole:
    """The pilot hole for a screw at a point of the bay, as deep as the screw goes."""
    articles = draft.setting.catalogue.articles
    part = draft.panels[panel]
    deep = (articles[_screw(draft, panel)].length or 16.0) - LEAF
    depth = min(deep, part.thickness - PILOT_STAYS_IN)
    diameter = articles[HINGE].pilot_hole or 2.0
    return Hole(*part.local(point), diameter, depth=depth, purpose="hinge screw")


def _is_free(panel: Panel, hole: Hole) -> bool:
    """Whether a hole lies well inside its panel and clear of every other hole."""
    if not within(panel, np.array([[hole.x, hole.y]]), HOLE_TO_EDGE)[0]:
        return False
    return all(
        math.hypot(h.x - hole.x, h.y - hole.y) >= (h.diameter + hole.diameter) / 2.0 + BETWEEN_HOLES
        for h in panel.holes
    )
