"""Where a cleat's screws go, so that they miss those that are in the same board already."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from fitout.model.module import Berth
from fitout.model.panel import Panel
from fitout.model.placement import Vector
from fitout.modules.neighbours import TOUCH, box_of

BESIDE_SCREW = 8.0
"""From a cleat's screw to another in the same board, that they don't meet, mm: two shanks of 4
mm and as much for how straight they go in (common practice)."""

DRIVEN = 32.0
"""How far a joint's screw goes into the second board at most, mm: 40 through one of 8."""


def screws_met(cleat: Panel, held: Panel, panels: Iterable[Panel]) -> Iterator[float]:
    """How far along a cleat (mm) others' screws stand behind it in the panel that holds it."""
    box, height = box_of(held), cleat.outline.size[1]
    for other in panels:
        for hole in other.holes:
            if hole.purpose != "screw" or other.id == held.id:
                continue
            for w, tip in ((0.0, -DRIVEN), (other.thickness, other.thickness + DRIVEN)):
                point = other.placement.at(hole.x, hole.y, w)
                at, up = cleat.local(point)
                low, high = sorted((up, cleat.local(other.placement.at(hole.x, hole.y, tip))[1]))
                if _in(box, point) and low < height + BESIDE_SCREW and high > -BESIDE_SCREW:
                    yield at


def clear_of(at: float, screws: Sequence[float]) -> float:
    """The place nearest to `at` along a cleat that keeps clear of all the screws behind it."""
    places = [at, *(s + d for s in screws for d in (-BESIDE_SCREW, BESIDE_SCREW))]
    free = [p for p in places if all(abs(p - s) > BESIDE_SCREW - TOUCH for s in screws)]
    return min(free, key=lambda p: abs(p - at))


def _in(box: Berth, point: Vector) -> bool:
    spans = ((box.x0, box.x1), (box.y0, box.y1), (box.z0, box.z1))
    return all(a - TOUCH <= p <= b + TOUCH for p, (a, b) in zip(point, spans, strict=True))
