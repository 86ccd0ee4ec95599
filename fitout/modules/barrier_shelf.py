"""The barrier's shelf for light goods: a board, a lip, brackets below."""

from __future__ import annotations

from dataclasses import dataclass

from fitout.model.module import Berth, PlateDuty
from fitout.model.outline import Outline, polygon, rectangle
from fitout.model.panel import Grain
from fitout.model.placement import across_face_rear, along, flat
from fitout.modules.barrier_frame import Frame
from fitout.modules.joinery import Draft
from fitout.modules.scribe import softened
from fitout.survey.room import clear_width, rear_face, roof_height

BRACKET_INSET = 30.0
"""From the inner face of a post, or the shelf's end, to the bracket's middle, mm."""

BRACKET_LEG = 160.0
"""Height of a bracket where there is room, mm."""

LEAST_LEG, ABOVE_RAIL = 50.0, 10.0
"""Least height of a bracket, and of its foot above the lower rail, mm."""

BRACKET_REACH = 0.7
"""How far under the shelf a bracket reaches, as a share of its depth."""

BLUNT = 20.0
"""Width of a bracket's cut-off tips, mm."""

MIDDLE_BRACKET_FROM = 700.0
"""Brackets further apart than this get one between them, mm (common practice)."""

LEAST_DEPTH = 80.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """The shelf's block, the height of its lip and brackets, and where brackets may stand."""

    x0: float
    x1: float
    y0: float
    y1: float
    z0: float
    z1: float
    lip: float
    leg: float
    between: tuple[float, float]
    load_kg: float


def place_shelf(
    draft: Draft,
    panel: Berth,
    frame: Frame,
    wish: tuple[float, float, float],
    level: float,
) -> Shelf:
    """The shelf with its top at `level`; `wish` is its depth, lip and load in kg.

    It ends short of the tailgate and under the roof, whatever was wished for.
    """
    bay, rules = draft.setting.bay, draft.setting.rules
    t = draft.board("barrier").thickness
    depth, lip, load_kg = wish
    rear = rear_face(bay, level - t, level + lip, clear=rules.wall)
    x0, x1 = max(panel.x0 - depth, min(rear, panel.x0 - LEAST_DEPTH)), panel.x0
    lip = max(0.0, min(lip, roof_height(bay, x0, x1, clear=rules.wall) - level))
    heights = (level - t, level + lip)
    right, left = clear_width(bay, (x0, x1), heights, clear=rules.wall)
    low = frame.rails[0][1] + frame.section.width + ABOVE_RAIL
    return Shelf(
        x0=x0,
        x1=x1,
        y0=max(right, panel.y0),
        y1=min(left, panel.y1),
        z0=level - t,
        z1=level,
        lip=lip,
        leg=min(BRACKET_LEG, level - t - low),
        between=frame.inner,
        load_kg=load_kg,
    )


def bracket_middles(shelf: Shelf) -> tuple[float, ...]:
    """The y of the brackets' middles, from the right."""
    y0 = max(shelf.between[0], shelf.y0) + BRACKET_INSET
    y1 = min(shelf.between[1], shelf.y1) - BRACKET_INSET
    if y1 - y0 > MIDDLE_BRACKET_FROM:
        return y0, (y0 + y1) / 2.0, y1
    return y0, y1


def build_shelf(draft: Draft, shelf: Shelf) -> None:
    """The shelf screwed on through the panel, its lip, its brackets."""
    board = draft.board("barrier")
    t = board.thickness
    depth, width = shelf.x1 - shelf.x0, shelf.y1 - shelf.y0
    middle = (shelf.z0 + shelf.z1) / 2.0
    draft.panel(
        "shelf",
        board,
        (depth, width),
        flat(shelf.x0, shelf.y0, shelf.z0),
        grain=Grain.ALONG_V,
        edging="rear edge rounded",
    )
    # Only between the posts can a screwdriver reach the panel's front.
    y0 = max(shelf.between[0], shelf.y0)
    y1 = min(shelf.between[1], shelf.y1)
    draft.screw("panel", "shelf", (shelf.x1, y0, middle), (shelf.x1, y1, middle))
    if shelf.lip > t:
        _lip(draft, shelf)
    middles = bracket_middles(shelf)
    for number, y in enumerate(reversed(middles), start=1):
        _bracket(draft, shelf, number, y)
    draft.plates.append(
        PlateDuty(
            panel=f"{draft.name}/shelf",
            load_kg=shelf.load_kg,
            spans=(depth, middles[1] - middles[0]),
            edges="v ends",
            purpose="its light goods, all of them between two brackets",
        )
    )


def _lip(draft: Draft, shelf: Shelf) -> None:
    t = draft.board("barrier").thickness
    width = shelf.y1 - shelf.y0
    outline = Outline(rectangle(width, shelf.lip))
    draft.panel(
        "shelf lip",
        draft.board("barrier"),
        outline,
        across_face_rear(shelf.x0 + t, shelf.y1, shelf.z1),
        edging="upper edge rounded",
    )
    x = shelf.x0 + t / 2.0
    draft.screw("shelf", "shelf lip", (x, shelf.y0, shelf.z0), (x, shelf.y1, shelf.z0))


def _bracket(draft: Draft, shelf: Shelf, number: int, y: float) -> None:
    """A triangle under the shelf, its tips cut off, screwed through shelf and panel."""
    t = draft.board("barrier").thickness
    depth = shelf.x1 - shelf.x0
    reach, leg = min(BRACKET_REACH * depth, depth - 2.0 * t), shelf.leg
    blunt = min(BLUNT, leg / 3.0, reach / 3.0)
    corners = [(0.0, leg), (0.0, leg - blunt), (reach - blunt, 0.0), (reach, 0.0), (reach, leg)]
    name = f"shelf bracket {number}"
    low = shelf.z0 - leg
    draft.panel(
        name,
        draft.board("barrier"),
        Outline(softened(polygon(corners), 0.0)),
        along(shelf.x1 - reach, y + t / 2.0, low),
        edging="slanting edge rounded",
    )
    draft.screw("shelf", name, (shelf.x1 - reach, y, shelf.z0), (shelf.x1, y, shelf.z0))
    draft.screw("panel", name, (shelf.x1, y, low), (shelf.x1, y, shelf.z0))
