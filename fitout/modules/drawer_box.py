"""A drawer: the box with its bottom in grooves, and the front screwed to it."""

from __future__ import annotations

from fitout.model.module import Berth, JointKind
from fitout.model.panel import Grain, Panel
from fitout.model.placement import across, across_face_rear, along, along_face_left, flat
from fitout.modules.carcass import FRONT_GAP, Column, Opening
from fitout.modules.joinery import (
    GROOVE_END_PLAY,
    Draft,
    face_screw,
    groove,
    groove_depth,
    hand_hole,
    spread,
)

BOTTOM_RAISED = 10.0
"""How far the groove for the bottom lies above a drawer side's lower edge, mm (common practice)."""

FINGER_HOLE = 30.0
"""Height of the hole fingers pull a drawer by, mm (common practice)."""

FINGER_INSET = 14.0
"""Wood left above that hole in the inner front, mm (common practice)."""


def drawer_box(draft: Draft, label: str, box: Berth, moves: str) -> Panel:
    """A drawer box with its bottom in grooves on all four sides; returns the bottom.

    Front and back pieces stand between the sides; screws go through the sides.
    """
    board, bottom_board = draft.board("drawer"), draft.board("bottom")
    t, cut = board.thickness, groove_depth(board)
    depth, height = box.x1 - box.x0, box.z1 - box.z0
    inner = box.y1 - box.y0 - 2.0 * t
    rim = [("left side", along(box.x0, box.y1, box.z0), depth)]
    rim.append(("right side", along_face_left(box.x1, box.y0, box.z0), depth))
    rim.append(("inner front", across(box.x0, box.y0 + t, box.z0), inner))
    rim.append(("back", across_face_rear(box.x1, box.y1 - t, box.z0), inner))
    for part, placement, length in rim:
        draft.panel(
            f"{label} {part}",
            board,
            (length, height),
            placement,
            grain=Grain.ALONG_U,
            moves=moves,
            pockets=[groove(length, BOTTOM_RAISED, bottom_board, cut)],
        )
    for end, x in (("inner front", box.x0 + t / 2.0), ("back", box.x1 - t / 2.0)):
        for side, y in (("left side", box.y1), ("right side", box.y0)):
            start, stop = (x, y, box.z0 + BOTTOM_RAISED + 10.0), (x, y, box.z1)
            draft.screw(f"{label} {side}", f"{label} {end}", start, stop)
    reach = cut - GROOVE_END_PLAY
    bottom = draft.panel(
        f"{label} bottom",
        bottom_board,
        (depth - 2.0 * t + 2.0 * reach, inner + 2.0 * reach),
        flat(
            box.x0 + t - reach,
            box.y0 + t - reach,
            box.z0 + BOTTOM_RAISED + 0.1,
        ),
        moves=moves,
    )
    for part, _, _ in rim:
        draft.join(f"{label} bottom", f"{label} {part}", JointKind.GROOVED)
    return bottom


def drawer_front(
    draft: Draft,
    finger_hole: bool,
    column: Column,
    opening: Opening,
    label: str,
    box: Berth,
) -> float:
    """The front over the carcass's rear edge, screwed to the box from inside.

    Returns half the length of its finger hole, 0 without one.
    """
    board = draft.board("front")
    t = draft.board("carcass").thickness
    gap = FRONT_GAP / 2.0
    y0, y1 = column.y0 - t + gap, column.y1 + t - gap
    name = f"{label} front"
    placement = across_face_rear(box.x0, y1, opening.front0)
    panel = draft.panel(
        name,
        board,
        (y1 - y0, opening.front1 - opening.front0),
        placement,
        grain=Grain.ALONG_U,
        edging="all edges rounded",
        moves=label,
    )
    inner = f"{label} inner front"
    draft.join(name, inner, JointKind.SCREWED)
    draft.join(name, f"{label} left side", JointKind.FITTED)
    draft.join(name, f"{label} right side", JointKind.FITTED)
    _screw_front(draft, inner, box, face_screw(draft.setting, draft.board("drawer"), board))
    if not finger_hole:
        return 0.0
    length = min(100.0, panel.outline.size[0] / 3.0)
    # Through front and inner front alike, so that fingers reach behind both.
    middle = (box.x0, (box.y0 + box.y1) / 2.0, box.z1 - FINGER_INSET - FINGER_HOLE / 2.0)
    for part in (name, inner):
        x, y = draft.panels[part].local(middle)
        draft.cut_out(part, [hand_hole(x, y, length, FINGER_HOLE)])
    return length / 2.0


def _screw_front(draft: Draft, inner: str, box: Berth, screw: str) -> None:
    """Screws from inside the drawer into its front: at both ends, clear of groove and hole."""
    width = box.y1 - box.y0
    inset = min(60.0, width / 6.0)
    low = BOTTOM_RAISED + draft.board("bottom").thickness + 12.0
    heights = spread(box.z0 + low, box.z1 - 16.0, 0.0, 2.0 * (box.z1 - box.z0))
    points = [(box.x0, y, z) for y in (box.y0 + inset, box.y1 - inset) for z in heights]
    draft.drill_at(inner, points, 4.5, "screw to front")
    draft.buy(screw, len(points), "front to drawer")
