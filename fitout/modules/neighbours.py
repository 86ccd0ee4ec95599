"""Who stands next to whom: the boxes of built panels, and those that reach a place."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from fitout.model.module import Berth, Module
from fitout.model.panel import Panel

TOUCH = 1e-3
"""Faces this near (mm) touch."""


def box_of(panel: Panel) -> Berth:
    """The bounding box of a panel in the bay."""
    u0, v0, u1, v1 = panel.outline.bounds
    corners = np.array(
        [(u, v, w) for u in (u0, u1) for v in (v0, v1) for w in (0.0, panel.thickness)]
    )
    placed = panel.placement.apply(corners)
    low, high = placed.min(axis=0).tolist(), placed.max(axis=0).tolist()
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
