"""The deck: one level over drawers, bins and what stands lower, closed by infill pieces.

    seen from above (rear at the bottom)

      +----------+---------------+--------+   barrier, seat back or front wall
      | bin      |  front piece  | bin    |
      | left     +-------+-------+ right  |
      |          |drawers| strip |        |   strip: lifts off over a fridge or box that
      |          |  top  |       |        |   stays below the deck
      +----------+-------+-------+--------+   rear

Modules whose top is the deck bring their own surface. What is left between them, and from
them to the walls, is covered by pieces scribed to the wall and carried on cleats that are
screwed to the neighbours' sides. A piece that nothing can carry is not made, and the
module says so.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar, Literal

from fitout.model.design import ModuleSpec
from fitout.model.module import Berth, JointKind, Module, PlateDuty
from fitout.model.outline import Outline, rectangle
from fitout.model.panel import Panel
from fitout.model.placement import across, along, flat
from fitout.model.spec import PositiveLength, entry
from fitout.modules.joinery import Draft, face_screw, hand_hole, spread
from fitout.modules.kind import Kind, Needs, Setting
from fitout.modules.neighbours import TOUCH, box_of, panels_reaching
from fitout.modules.scribe import flat_across_outline, flat_outline
from fitout.survey.room import front_face, half_width

CLEAT_HEIGHT = 20.0
"""Height of the cleats under the deck's pieces, mm."""

PIECE_GAP = 2.0
"""Gap between a piece and what is beside it, mm (common practice)."""

LEAST_PIECE = 30.0
"""A gap narrower than this stays open, mm."""

LONGEST_OVERHANG = 90.0
"""How far a piece may stand out from the one cleat that carries it, mm (common practice)."""

PIECE_SCREW = "wood screw 3.5 x 30"


@dataclass(frozen=True, slots=True, kw_only=True)
class DeckSpec(ModuleSpec):
    """One level over everything, closed up to the walls."""

    kind: ClassVar[str] = "deck"

    level: PositiveLength | Literal["fit"] = entry(
        "height of its surface; fit: as low as what is under it allows", default="fit"
    )


@dataclass(frozen=True, slots=True)
class Hollow:
    """A part of the deck no module covers; y None means up to the wall on that side."""

    x0: float
    x1: float
    y0: float | None
    y1: float | None


def needs(spec: DeckSpec, setting: Setting) -> Needs | None:
    """The deck takes no berth: it goes over the others'."""
    del spec, setting
    return None


def build(name: str, spec: DeckSpec, berth: Berth | None, setting: Setting) -> Module:
    """Pieces and cleats for every hollow between the modules whose top is the deck."""
    del spec, berth
    deck = setting.deck
    assert deck is not None
    draft = Draft(name, DeckSpec.kind, setting)
    notes: list[tuple[str, str]] = []
    for number, hollow in enumerate(hollows(setting), start=1):
        notes += _piece(draft, hollow, number)
    covered = list(_covers(setting))
    whole = Berth(
        x0=min((c.x0 for c in covered), default=0.0),
        x1=_front(setting, deck),
        y0=-half_width(setting.bay, "right", (0.0, setting.bay.front), (deck, deck)),
        y1=half_width(setting.bay, "left", (0.0, setting.bay.front), (deck, deck)),
        z0=deck - draft.board("deck").thickness - CLEAT_HEIGHT,
        z1=deck,
    )
    return draft.finish(whole, notes)


def hollows(setting: Setting) -> list[Hollow]:
    """The rectangles of the deck no module covers, the rear ones first."""
    covered = list(_covers(setting))
    if not covered:
        return []
    deck = setting.deck or 0.0
    rear = min(c.x0 for c in covered)
    front = _front(setting, deck)
    stations = sorted({rear, front, *(x for c in covered for x in (c.x0, c.x1) if x < front)})
    found: list[Hollow] = []
    for x0, x1 in itertools.pairwise(stations):
        over = sorted((c.y0, c.y1) for c in covered if c.x0 < x1 - TOUCH and c.x1 > x0 + TOUCH)
        for y0, y1 in _between(over):
            merged = next((h for h in found if (h.y0, h.y1, h.x1) == (y0, y1, x0)), None)
            if merged is not None:
                found.remove(merged)
                found.append(Hollow(merged.x0, x1, y0, y1))
            else:
                found.append(Hollow(x0, x1, y0, y1))
    return found


def _covers(setting: Setting) -> Iterator[Berth]:
    """What the modules whose top is the deck cover; a bin reaches right to its wall."""
    for name, berth in setting.berths.items():
        if abs(berth.z1 - (setting.deck or 0.0)) > TOUCH:
            continue
        y0, y1 = berth.y0, berth.y1
        if setting.specs[name].kind == "side bin":
            y0, y1 = (y0, math.inf) if y0 > 0.0 else (-math.inf, y1)
        yield Berth(x0=berth.x0, x1=berth.x1, y0=y0, y1=y1, z0=berth.z0, z1=berth.z1)


def _front(setting: Setting, deck: float) -> float:
    """How far forward the deck reaches: to the barrier, else to the seat back or wall."""
    barriers = [
        berth.x0 for n, berth in setting.berths.items() if setting.specs[n].kind == "barrier"
    ]
    if barriers:
        return min(barriers)
    thickness = setting.boards["deck"].thickness
    clear = setting.rules.seat if setting.bay.front_kind == "seat_back" else setting.rules.wall
    return front_face(setting.bay, deck - thickness, deck, clear=clear)


def _between(over: list[tuple[float, float]]) -> Iterator[tuple[float | None, float | None]]:
    """The gaps across, from wall to wall, between the covered stretches."""
    edges: list[float | None] = [None]
    for y0, y1 in over:
        last = edges.pop()
        reaches = math.isinf(y0) if last is None else y0 - last <= TOUCH
        if not reaches:
            yield last, y0
        edges.append(y1 if last is None else max(last, y1))
    last = edges.pop()
    if last is None or not math.isinf(last):
        yield last, None


def _piece(draft: Draft, hollow: Hollow, number: int) -> list[tuple[str, str]]:
    """One piece on its cleats; what to say if it can't be carried."""
    setting = draft.setting
    board = draft.board("deck")
    top = setting.deck or 0.0
    room = _room(setting, hollow, top - board.thickness, top)
    if room is None:
        return []
    name = f"piece {number}"
    placement = flat(room.x0, room.y0, room.z0)
    cleats = _cleats(draft, hollow, room, number)
    sides = {side for side, _ in cleats}
    size_x, size_y = room.x1 - room.x0, room.y1 - room.y0
    both_y = {"left", "right"} <= sides
    both_x = {"rear", "front"} <= sides
    overhang = size_y if sides & {"left", "right"} else size_x
    if not (both_x or both_y) and (not sides or overhang > LONGEST_OVERHANG):
        for _, cleat in cleats:
            draft.withdraw(cleat)
        where = f"{room.x0:.0f} to {room.x1:.0f} forward, {size_x:.0f} × {size_y:.0f} mm"
        return [
            (
                "open deck",
                f"The deck stays open at {where}: nothing beside it can carry a piece there. "
                "A box below it would.",
            )
        ]
    outline = _outline(setting, hollow, room)
    piece = draft.panel(name, board, outline, placement, scribed=None in (hollow.y0, hollow.y1))
    for _, cleat in cleats:
        draft.rest(name, cleat)
        _screw_on(draft, cleat)
    if both_x or both_y:
        _lifts(draft, piece, room, both_y)
    else:
        draft.buy(PIECE_SCREW, 4, "deck piece to cleat")
    return []


def _screw_on(draft: Draft, cleat: str) -> None:
    """The screws that hold a cleat to the panel it is joined to."""
    panel = draft.panels[cleat]
    held = next(j.b for j in draft.joints if j.a == panel.id and j.kind is JointKind.SCREWED)
    there = {p.id: p for m in draft.setting.built.values() for p in m.panels}
    screw = face_screw(draft.setting, panel.board, there[held].board)
    draft.buy(screw, len(spread(0.0, panel.outline.size[0], 30.0, 150.0)), "cleats")


def _room(setting: Setting, hollow: Hollow, z0: float, z1: float) -> Berth | None:
    """The box of a hollow's piece, its gaps taken off; None if too small for a piece."""
    x0, x1 = hollow.x0 + PIECE_GAP, hollow.x1 - PIECE_GAP
    if x1 - x0 < LEAST_PIECE:
        return None
    bay = setting.bay
    walls = {s: half_width(bay, s, (x0, x1), (z0, z1)) for s in ("left", "right")}
    y0 = -walls["right"] + setting.rules.scribed if hollow.y0 is None else hollow.y0 + PIECE_GAP
    y1 = walls["left"] - setting.rules.scribed if hollow.y1 is None else hollow.y1 - PIECE_GAP
    if y1 - y0 < LEAST_PIECE:
        return None
    return Berth(x0=x0, x1=x1, y0=y0, y1=y1, z0=z0, z1=z1)


def _outline(setting: Setting, hollow: Hollow, room: Berth) -> Outline:
    placement = flat(room.x0, room.y0, room.z0)
    gap = setting.rules.scribed
    if hollow.y0 is None and hollow.y1 is None:
        return flat_across_outline(setting.bay, room, placement, gap)
    if hollow.y1 is None:
        return flat_outline(setting.bay, "left", room, placement, gap)
    if hollow.y0 is None:
        return flat_outline(setting.bay, "right", room, placement, gap)
    return Outline(rectangle(room.x1 - room.x0, room.y1 - room.y0))


def _cleats(draft: Draft, hollow: Hollow, room: Berth, number: int) -> list[tuple[str, str]]:
    """Cleats on every neighbour's side the piece can rest on: (which side, name)."""
    setting = draft.setting
    t = draft.board("carcass").thickness
    z0 = room.z0 - CLEAT_HEIGHT
    edges = {"rear": hollow.x0, "front": hollow.x1}
    edges |= {s: y for s, y in (("right", hollow.y0), ("left", hollow.y1)) if y is not None}
    made: list[tuple[str, str]] = []
    for side, edge in edges.items():
        for i, (x0, x1, y0, y1, panel) in enumerate(_walls_at(draft, side, edge, room, z0), 1):
            name = f"cleat {number} {side}" + (f" {i}" if i > 1 else "")
            if side in ("left", "right"):
                y, length = (edge if side == "left" else edge + t), x1 - x0
                placement = along(x0, y, z0)
            else:
                x, length = (edge if side == "rear" else edge - t), y1 - y0
                placement = across(x, y0, z0)
            cleat = draft.panel(name, draft.board("carcass"), (length, CLEAT_HEIGHT), placement)
            draft.join(name, panel, JointKind.SCREWED)
            near = setting.rules.parts
            for other, _ in panels_reaching(setting.built.values(), box_of(cleat), near):
                if other.id != panel:
                    draft.join(name, other.id, JointKind.FITTED)
            made.append((side, name))
    return made


def _walls_at(
    draft: Draft, side: str, edge: float, room: Berth, z0: float
) -> Iterator[tuple[float, float, float, float, str]]:
    """Upright panels that offer a whole face at `edge`: the stretch to use, and the panel."""
    lengthwise = side in ("left", "right")
    at_y = Berth(x0=room.x0, x1=room.x1, y0=edge, y1=edge, z0=z0, z1=room.z0)
    at_x = Berth(x0=edge, x1=edge, y0=room.y0, y1=room.y1, z0=z0, z1=room.z0)
    t = draft.board("carcass").thickness
    for panel, box in panels_reaching(draft.setting.built.values(), at_y if lengthwise else at_x):
        if panel.moves is not None or box.z0 > z0 + TOUCH or box.z1 < room.z0 - TOUCH:
            continue
        if not _faces(panel, lengthwise) or not _ends_at(box, side, edge):
            continue
        # Cleats at the ends of a hollow stand between those along its sides.
        inset = 0.0 if lengthwise else t + PIECE_GAP
        x0, x1 = max(room.x0, box.x0), min(room.x1, box.x1)
        y0, y1 = max(room.y0 + inset, box.y0), min(room.y1 - inset, box.y1)
        if (x1 - x0 if lengthwise else y1 - y0) > LEAST_PIECE:
            yield x0, x1, y0, y1, panel.id


def _faces(panel: Panel, lengthwise: bool) -> bool:
    """Whether the panel stands upright, running fore and aft (or across)."""
    return abs(panel.placement.w[1 if lengthwise else 0]) > 1.0 - 1e-9


def _ends_at(box: Berth, side: str, edge: float) -> bool:
    """Whether the panel's face towards the hollow lies at the hollow's edge."""
    face = {"left": box.y0, "right": box.y1, "rear": box.x1, "front": box.x0}[side]
    return abs(face - edge) < TOUCH


def _lifts(draft: Draft, piece: Panel, room: Berth, across_y: bool) -> None:
    """A piece that lifts off: finger hole, and what it must bear."""
    width, height = piece.outline.size
    if min(width, height) > 110.0:
        # Near the rear edge, where it is reached first; across if the piece is wide enough.
        lengthwise = hand_hole(min(90.0, width / 2.0), 0.0)
        hole = lengthwise if height < 160.0 else hand_hole(0.0, -60.0).turned(1)
        draft.cut_out(piece.name, [hole.moved(0.0, height / 2.0)])
    t = draft.board("carcass").thickness
    spans = (
        (room.x1 - room.x0, room.y1 - room.y0 + 2.0 * PIECE_GAP - 2.0 * t)
        if across_y
        else (room.x1 - room.x0 + 2.0 * PIECE_GAP - 2.0 * t, room.y1 - room.y0)
    )
    draft.plates.append(
        PlateDuty(
            panel=piece.id,
            load_kg=0.0,
            spans=spans,
            edges="v ends" if across_y else "u ends",
            purpose="a knee on the deck",
            patch=True,
        )
    )


KIND = Kind(kind=DeckSpec.kind, spec=DeckSpec, needs=needs, build=build)
