"""The overview picture: the whole fit-out, shaded, seen from the rear right, above."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from fitout.documents import svg
from fitout.documents.view import (
    THREE_QUARTER,
    Body,
    box_body,
    convex_body,
    paint_order,
    panel_body,
)
from fitout.model.bay import Bay
from fitout.model.module import Fitout, Module
from fitout.model.placement import Array
from fitout.survey.room import half_width, wall_line_along

WIDTH = 1000.0
MARGIN = 24.0
LEGEND_ROW = 24.0
LEGEND_COLUMN = 236.0

MODULE_COLOURS = (
    "#c9a876",
    "#8fa9a0",
    "#b98b7a",
    "#93a3bd",
    "#b7ab6f",
    "#a68fae",
    "#88a877",
    "#c2957f",
)
ITEM_COLOUR = "#b9bec4"
BAR_COLOUR = "#8d949c"
ARCH_COLOUR = "#d6d2c9"
FLOOR_COLOUR = "#eceae4"


def overview_svg(fitout: Fitout) -> bytes:
    """The fit-out in its bay: floor and wheel arches pale, one colour for each module."""
    bodies = [body for i, module in enumerate(fitout.modules) for body in _bodies(module, i)]
    bodies += [
        convex_body(corners, ARCH_COLOUR, opacity=0.55) for corners in arch_corners(fitout.bay)
    ]
    floor = THREE_QUARTER.on_paper(floor_corners(fitout.bay))
    reach = np.vstack([floor, *(THREE_QUARTER.on_paper(body.corners) for body in bodies)])
    low, high = reach.min(axis=0), reach.max(axis=0)
    scale = (WIDTH - 2.0 * MARGIN) / float(high[0] - low[0])
    height = float(high[1] - low[1]) * scale + 2.0 * MARGIN

    def laid(ring: Array) -> Array:
        return np.asarray((ring - low) * scale + MARGIN, dtype=np.float64)

    shapes = [
        svg.path([laid(floor)], fill=FLOOR_COLOUR, stroke="#b3afa4", stroke_dasharray="6 4"),
        *(_painted(bodies[i], laid) for i in paint_order(bodies)),
    ]
    legend = _legend(fitout, height)
    rows = -(-len(fitout.modules) // int(WIDTH // LEGEND_COLUMN))
    total = height + rows * LEGEND_ROW + MARGIN / 2.0
    ground = svg.rect(0.0, 0.0, WIDTH, total, fill=svg.PAPER)
    return svg.picture(WIDTH, total, fitout.name, [ground, *shapes, *legend])


def floor_corners(bay: Bay) -> Array:
    """The floor's outline between the walls, from the sill to the seat back's foot."""
    rows = {
        side: wall_line_along(bay, side, bay.floor, bay.floor, 0.0, bay.front)
        for side in ("left", "right")
    }
    around = [(x, offset, bay.floor) for x, offset in rows["left"]]
    around += [(x, -offset, bay.floor) for x, offset in reversed(rows["right"])]
    return np.array(around)


def arch_corners(bay: Bay) -> list[Array]:
    """Each wheel arch's corners, from its inner face to the wall, shape (n, 3)."""
    found = []
    for side, (profile, inner) in bay.arches.items():
        start, end = profile[0][0], profile[-1][0]
        top = max(z for _, z in profile)
        wall = half_width(bay, side, (start, end), (bay.floor, top), arches=False)
        sign = 1.0 if side == "left" else -1.0
        edge = {(start, bay.floor), *profile, (end, bay.floor)}
        found.append(
            np.array([(x, sign * y, z) for x, z in sorted(edge) for y in (inner, max(inner, wall))])
        )
    return found


def _bodies(module: Module, position: int) -> list[Body]:
    colour = MODULE_COLOURS[position % len(MODULE_COLOURS)]
    bodies = [panel_body(panel, colour) for panel in module.panels]
    for bar in module.bars:
        size = (bar.length, bar.section.width, bar.section.height)
        bodies.append(box_body(*size, bar.placement, BAR_COLOUR))
    bodies += [convex_body(piece, ITEM_COLOUR) for item in module.items for piece in item.corners()]
    return bodies


def _painted(body: Body, laid: Callable[[Array], Array]) -> str:
    """One body as a group of filled patches with fine edges."""
    patches = (
        svg.path(
            [laid(ring) for ring in patch.rings], fill=svg.dimmed(body.colour, patch.brightness)
        )
        for patch in body.patches
    )
    look: dict[str, str | float] = {
        "stroke": svg.dimmed(body.colour, 0.55),
        "stroke_width": "0.6",
        "stroke_linejoin": "round",
        "fill_rule": "evenodd",
    }
    if body.opacity < 1.0:
        look["opacity"] = f"{body.opacity:g}"
    return svg.group(patches, **look)


def _legend(fitout: Fitout, top: float) -> list[str]:
    """Each module's name beside its colour, in columns below the picture."""
    columns = int(WIDTH // LEGEND_COLUMN)
    shapes = []
    for i, module in enumerate(fitout.modules):
        x = MARGIN + (i % columns) * LEGEND_COLUMN
        y = top + (i // columns) * LEGEND_ROW
        colour = MODULE_COLOURS[i % len(MODULE_COLOURS)]
        shapes.append(svg.rect(x, y, 14.0, 14.0, fill=colour, stroke=svg.dimmed(colour, 0.55)))
        shapes.append(svg.text(x + 22.0, y + 12.0, module.name, font_size=14.0, fill=svg.INK))
    return shapes
