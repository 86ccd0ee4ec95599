"""Lids of a box: one that swings up on a strip hinge, one that lifts off.

The hinge lies open on the upper faces of lid and strip, its screws' holes drilled there; see
`strip_hinge`; its stay is drilled for too, see `lid_stay`.
"""

from __future__ import annotations

from fitout.model.module import Berth, JointKind, Motion, MotionKind, PlateDuty
from fitout.model.outline import Loop
from fitout.model.placement import along, along_face_left, flat
from fitout.modules.box_plan import Cell, grain_of
from fitout.modules.joinery import BATTEN_SCREW, CARCASS_SCREW, Draft, hand_hole
from fitout.modules.lid_swing import swing_deg
from fitout.modules.strip_hinge import buy_hinges, drill_hinge

STRIP = 60.0
"""Width of the fixed strip a lid is hinged to, mm."""

HINGE_GAP = 1.0
"""Between lid and strip, for the hinge's knuckle, mm (common practice)."""

EDGE_PLAY = 1.5
"""Between a lid and the edge of the box it lies on, left and right, mm (common practice)."""

LID_PLAY = 1.5
"""Between a loose lid and the sides around it, mm (common practice)."""

CLEAT = 20.0
"""Height of the cleats under a loose lid, mm."""

LIFTS = 100.0
"""How far a loose lid is lifted before it is taken aside, mm."""

FINGER_INSET = 35.0
"""From the rear end's face to the middle of a lid's finger hole, mm."""

LEAST_FINGERS = 60.0
"""Length of a finger hole that takes three fingers, mm."""

BESIDE_FINGERS = 51.0
"""What a catch takes beside a finger hole, mm."""

THIN_SCREW = "wood screw 3.5 x 16"
THICK_PAIR = 31.0
"""A 30 mm screw stays inside two boards together thicker than this, mm."""


def top_duty(draft: Draft, panel: str, cell: Cell, load_kg: float, *, knee: bool) -> None:
    """What a top, lid or base bears between two uprights: its goods, and a knee."""
    b = cell.berth
    widest = max(y1 - y0 for y0, y1 in cell.fields)
    draft.plates.append(
        PlateDuty(
            panel=f"{draft.name}/{panel}",
            load_kg=load_kg,
            spans=(b.x1 - b.x0, widest),
            edges="v ends",
            purpose="a knee on it" if knee else "its goods, spread",
            patch=knee,
        )
    )


def lid_place(box: Berth, thickness: float) -> Berth:
    """Where the lid of a box lies: to the hinge ahead of it, a little in from its sides."""
    return Berth(
        x0=box.x0,
        x1=box.x1 - min(STRIP, (box.x1 - box.x0) / 3.0) - HINGE_GAP,
        y0=box.y0 + EDGE_PLAY,
        y1=box.y1 - EDGE_PLAY,
        z0=box.z1 - thickness,
        z1=box.z1,
    )


def lift_lid(draft: Draft, cell: Cell, load_kg: float) -> None:
    """A lid over the walls, hinged at a strip along the front end."""
    b, board, t = cell.berth, draft.board("lid"), cell.wall
    wide = b.y1 - b.y0 - 2.0 * EDGE_PLAY
    place = lid_place(b, board.thickness)
    hinge, length = place.x1 + HINGE_GAP, place.x1 - place.x0
    strip, lid = f"strip{cell.suffix}", f"lid{cell.suffix}"
    draft.panel(strip, board, (b.x1 - hinge, b.y1 - b.y0), flat(hinge, b.y0, cell.under))
    draft.panel(
        lid,
        board,
        (length, wide),
        flat(b.x0, b.y0 + EDGE_PLAY, cell.under),
        grain=grain_of(board, length),
        edging="rear edge rounded",
        moves=lid,
    )
    at, z = b.x1 - t / 2.0, cell.under
    draft.screw(strip, cell.end(draft, "front"), (at, b.y0 + t, z), (at, b.y1 - t, z))
    draft.rest(lid, cell.end(draft, "rear"))
    for name, y in cell.uprights:
        end = b.x1 - t if name in cell.dividers else b.x1
        # One screw is enough, between the hinge's and the one into the front end.
        middle = ((hinge + end) / 2.0, y + t / 2.0, z)
        draft.drill_at(strip, [middle], 4.5, "screw")
        draft.join(strip, name, JointKind.SCREWED)
        draft.buy(CARCASS_SCREW, 1, "joints")
        draft.rest(lid, name)
    draft.join(lid, strip, JointKind.HINGED, "strip hinge")
    draft.cut_out(lid, [_finger_hole(cell, b.y0 + EDGE_PLAY)])
    draft.motions.append(
        Motion(
            name=lid,
            module=draft.name,
            kind=MotionKind.HINGE,
            # Seen along the axis the lid's rear edge rises.
            direction=(0.0, 1.0, 0.0),
            point=(hinge - HINGE_GAP, b.y0, b.z1),
            travel=swing_deg(draft.setting, place),
            stop="the lid stay",
        )
    )
    at = hinge - HINGE_GAP / 2.0
    ends = (at, b.y0 + EDGE_PLAY, b.z1), (at, b.y1 - EDGE_PLAY, b.z1)
    buy_hinges(draft, drill_hinge(draft, (lid, strip), ends, (-1.0, 0.0, 0.0)))
    top_duty(draft, lid, cell, load_kg, knee=True)


def _finger_hole(cell: Cell, edge: float) -> Loop:
    """A finger hole near a lid's rear edge, over the middle of the box's middle field."""
    y0, y1 = cell.fields[len(cell.fields) // 2]
    inset = cell.wall + FINGER_INSET
    wide = y1 - y0
    # In a narrow box it leaves room for a catch beside it, as long as fingers pass.
    length = min(100.0, wide / 2.0, max(LEAST_FINGERS, wide - 2.0 * BESIDE_FINGERS))
    return hand_hole(0.0, 0.0, length).turned(1).moved(inset, (y0 + y1) / 2.0 - edge)


def loose_lid(draft: Draft, cell: Cell, load_kg: float) -> None:
    """A lid between the walls on cleats along the sides, lifted off by a finger hole."""
    b, board, t = cell.berth, draft.board("lid"), cell.wall
    lid = f"lid{cell.suffix}"
    y0, y1 = b.y0 + t + LID_PLAY, b.y1 - t - LID_PLAY
    depth = b.x1 - b.x0 - 2.0 * (t + LID_PLAY)
    draft.panel(
        lid,
        board,
        (depth, y1 - y0),
        flat(b.x0 + t + LID_PLAY, y0, cell.under),
        grain=grain_of(board, depth),
        moves=lid,
    )
    for side, face in (("right", b.y0 + t), ("left", b.y1 - t)):
        draft.rest(lid, _cleat(draft, cell, side, face))
    for name in cell.dividers:
        draft.rest(lid, name)
    draft.cut_out(lid, [_finger_hole(cell, y0)])
    draft.motions.append(
        Motion(
            name=lid,
            module=draft.name,
            kind=MotionKind.REMOVE,
            direction=(0.0, 0.0, 1.0),
            travel=LIFTS,
        )
    )
    top_duty(draft, lid, cell, load_kg, knee=True)


def _cleat(draft: Draft, cell: Cell, side: str, face: float) -> str:
    """A cleat along a side's inner face, its top at the lid's underside; returns its name."""
    b, board = cell.berth, draft.board("carcass")
    t = board.thickness
    low, x0, x1 = cell.under - CLEAT, b.x0 + t, b.x1 - t
    name = f"{side} cleat{cell.suffix}"
    right = side == "right"
    # A cleat's face A is the one seen from inside the box.
    placement = along_face_left(x1, face, low) if right else along(x0, face, low)
    draft.panel(name, board, (x1 - x0, CLEAT), placement)
    middle = cell.under - CLEAT / 2.0
    screw = BATTEN_SCREW if 2.0 * t > THICK_PAIR else THIN_SCREW
    inner = face + t if right else face - t
    wall = cell.right_side if right else cell.left_side
    draft.screw(name, wall, (x0, inner, middle), (x1, inner, middle), screw)
    for end in ("rear", "front"):
        draft.join(name, cell.end(draft, end), JointKind.FITTED)
    return name
