"""Who stands next to whom: the boxes of built panels, and those that reach a place."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from fitout.model.module import Berth, Module
from fitout.model.panel import Panel

TOUCH = 1e-3
"""Faces this near (mm) touch."""


def box_of(panel: Panel) -> Berth:
    """The bounding box of a panel in the bay."""
    u0, v0, u1, v1 = panel.outline.bounds
    place = panel.placement
    low, high = [], []
    for origin, u, v, w in zip(place.origin, place.u, place.v, place.w, strict=True):
        ends = [(u0 * u, u1 * u), (v0 * v, v1 * v), (0.0, panel.thickness * w)]
        low.append(sum(map(min, ends)) + origin)
        high.append(sum(map(max, ends)) + origin)
    return Berth(x0=low[0], x1=high[0], y0=low[1], y1=high[1], z0=low[2], z1=high[2])


def panels_reaching(
    modules: Iterable[Module], room: Berth, near: float = TOUCH
) -> Iterator[tuple[Panel, Berth]]:
    """The panels, with their boxes, that reach into a room or come as near to it."""
    for module in modules:
        for panel in module.panels:
            box = box_of(panel)
            apart = (
                max(box.x0 - room.x1, room.x0 - box.x1),
                max(box.y0 - room.y1, room.y0 - box.y1),
                max(box.z0 - room.z1, room.z0 - box.z1),
            )
            if max(apart) <= near:
                yield panel, box
