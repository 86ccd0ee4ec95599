"""A piece of the deck on its cleats: laid, screwed, lifted off, or left out for a reason."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from fitout.mechanics.plates import Edges
from fitout.model.module import Berth, JointKind, Motion, MotionKind, PlateDuty, Remark
from fitout.model.outline import Outline, Point, rectangle
from fitout.model.panel import Hole, Panel
from fitout.model.placement import Vector, across, along, flat
from fitout.modules.deck_bearers import (
    BESIDE_BEARER,
    ENDS,
    HEIGHTS,
    SCREW_TO_END,
    Bearers,
    Cleat,
    Lack,
    Way,
    bearers_under,
    held_sides,
    make_bearers,
)
from fitout.modules.deck_screws import clear_of, screws_met
from fitout.modules.fitting import within
from fitout.modules.joinery import Draft, face_screw, hand_hole, spread
from fitout.modules.kind import Setting
from fitout.modules.knee import bears_knee
from fitout.modules.neighbours import TOUCH, panels_reaching
from fitout.modules.scribe import flat_across_outline, flat_outline
from fitout.survey.room import half_width

CLEAT_HEIGHT = 20.0
"""Height of the cleats under the deck's pieces where no bearers end, mm."""

PIECE_GAP = 2.0
"""Gap between a piece and what is beside it, mm (common practice)."""

LEAST_PIECE = 30.0
"""A gap narrower than this stays open, mm."""

LONGEST_OVERHANG = 90.0
"""How far a piece may stand out from the one cleat that carries it, mm (common practice)."""

PIECE_SCREW = "wood screw 3.5 x 30"
PIECE_SCREWS = 4

CLEAT_INSET, CLEAT_SPACING = 30.0, 150.0
"""Of the screws that hold a cleat: the first from its end, the others from each other, mm."""

OPEN_EDGE = 100.0
"""Along a side that holds a piece no longer stretch may be without a cleat, mm."""

LIFTED = 50.0
"""How far above the deck a piece is lifted before it is tilted away, mm (common practice)."""

FINGERS_BESIDE = 10.0
"""Least distance from a finger hole to a bearer, mm (common practice)."""


@dataclass(frozen=True, slots=True)
class Hollow:
    """A part of the deck no module covers; y None means up to the wall on that side."""

    x0: float
    x1: float
    y0: float | None
    y1: float | None


def add_piece(draft: Draft, hollow: Hollow, number: int) -> list[Remark]:
    """One piece on its cleats and bearers; what to say if it can't be carried."""
    setting = draft.setting
    top = setting.deck or 0.0
    room = _room(setting, hollow, top - draft.board("deck").thickness, top)
    if room is None:
        return []
    cleats = list(_cleats(draft, hollow, room, CLEAT_HEIGHT))
    held = held_sides(cleats, room, OPEN_EDGE)
    ways = [way for way, ends in ENDS.items() if held.issuperset(ends)]
    if not ways:
        return _hung_piece(draft, hollow, room, (number, cleats))
    spans, edges = _free_spans(draft, room, ways)
    bearers: Bearers | None = None
    if bears_knee(draft.board("deck"), spans, edges) is False:
        high = {h: list(_cleats(draft, hollow, room, h)) for h in HEIGHTS}
        found = bearers_under(draft, room, high, held)
        if not isinstance(found, Bearers):
            return [_open(room, _why_open(spans, edges, found))]
        bearers = found
        beside = held - set(ENDS[bearers.way])
        cleats = [*bearers.cleats, *(c for c in cleats if c.side in beside)]
    piece = _lay(draft, hollow, room, number)
    names = _make_cleats(draft, piece, cleats, number)
    blocks = () if bearers is None else bearers.boxes
    if bearers is not None:
        make_bearers(draft, piece, bearers, (names[0], names[1]))
    for cleat, name in zip(cleats, names, strict=True):
        ends_here = bearers is not None and cleat in bearers.cleats
        _screw_on(draft, name, blocks if ends_here else ())
    _lifts(draft, piece, blocks)
    if bearers is None:
        draft.plates.append(_knee(piece, spans, edges))
    elif bearers.field is not None:
        draft.plates.append(_knee(piece, bearers.field, "all"))
    return []


def _knee(piece: Panel, spans: tuple[float, float], edges: Edges) -> PlateDuty:
    return PlateDuty(
        panel=piece.id,
        load_kg=0.0,
        spans=spans,
        edges=edges,
        purpose="a knee on the deck",
        patch=True,
    )


def _free_spans(
    draft: Draft, room: Berth, ways: Sequence[Way]
) -> tuple[tuple[float, float], Edges]:
    """A piece's free spans along x and y between its cleats, and which edges these hold."""
    cleats = 2.0 * (draft.board("carcass").thickness - PIECE_GAP)
    x, y = room.x1 - room.x0, room.y1 - room.y0
    edges: Edges = "all" if len(ways) > 1 else "u ends" if "x" in ways else "v ends"
    return (x - cleats * ("x" in ways), y - cleats * ("y" in ways)), edges


def _lay(draft: Draft, hollow: Hollow, room: Berth, number: int) -> Panel:
    """The piece itself."""
    return draft.panel(
        f"piece {number}",
        draft.board("deck"),
        _outline(draft.setting, hollow, room),
        flat(room.x0, room.y0, room.z0),
        scribed=None in (hollow.y0, hollow.y1),
    )


def _hung_piece(
    draft: Draft, hollow: Hollow, room: Berth, where: tuple[int, Sequence[Cleat]]
) -> list[Remark]:
    """A narrow piece screwed to the cleats of its neighbours; what to say if it's too wide."""
    number, cleats = where
    sides = {c.side for c in cleats}
    overhang = room.y1 - room.y0 if sides & {"left", "right"} else room.x1 - room.x0
    if not sides or overhang > LONGEST_OVERHANG:
        return [_open(room, "nothing beside it can carry a piece there. A box below it would.")]
    piece = _lay(draft, hollow, room, number)
    for cleat, name in zip(cleats, _make_cleats(draft, piece, cleats, number), strict=True):
        _screw_on(draft, name, ())
        _screw_down(draft, piece.name, cleat, max(2, math.ceil(PIECE_SCREWS / len(cleats))))
    return []


def _open(room: Berth, why: str) -> Remark:
    """The remark on a part of the deck that stays open."""
    size_x, size_y = room.x1 - room.x0, room.y1 - room.y0
    where = f"{room.x0:.0f} to {room.x1:.0f} forward, {size_x:.0f} × {size_y:.0f} mm"
    return Remark("open deck", f"The deck stays open at {where}: {why}")


def _why_open(spans: tuple[float, float], edges: Edges, lack: Lack | None) -> str:
    span = min(spans) if edges == "all" else spans[0 if edges == "u ends" else 1]
    why = f"a piece there does not bear a knee over {span:.0f} mm, and "
    if lack is None:
        why += "no bearer reaches from cleat to cleat below it"
    else:
        why += f"bearers below it want {lack.wanted:.0f} mm where {lack.free:.0f} are free"
    return f"{why}. A thicker deck board, a higher deck or a box below it would help."


def _make_cleats(draft: Draft, piece: Panel, cleats: Sequence[Cleat], number: int) -> list[str]:
    """The cleats as panels, joined to their neighbours and to the piece; their names."""
    setting = draft.setting
    names: list[str] = []
    for cleat in cleats:
        same = sum(name.startswith(f"cleat {number} {cleat.side}") for name in names)
        name = f"cleat {number} {cleat.side}" + (f" {same + 1}" if same else "")
        box = cleat.box
        if cleat.side in ("left", "right"):
            placement, length = along(box.x0, box.y1, box.z0), box.size[0]
        else:
            placement, length = across(box.x0, box.y0, box.z0), box.size[1]
        draft.panel(name, draft.board("carcass"), (length, box.size[2]), placement)
        draft.join(name, cleat.panel, JointKind.SCREWED)
        for other, _ in panels_reaching(setting.built.values(), box, setting.rules.parts):
            if other.id != cleat.panel:
                draft.join(name, other.id, JointKind.FITTED)
        draft.rest(piece.name, name)
        names.append(name)
    return names


def _screw_on(draft: Draft, cleat: str, bearers: Sequence[Berth]) -> None:
    """The screws that hold a cleat to the panel it is joined to.

    They keep clear of bearers' ends, and of screws that are in that panel from elsewhere.
    """
    panel = draft.panels[cleat]
    held = next(j.b for j in draft.joints if j.a == panel.id and j.kind is JointKind.SCREWED)
    there = {p.id: p for m in draft.setting.built.values() for p in m.panels}
    screw = face_screw(draft.setting, panel.board, there[held].board)
    hole = draft.setting.catalogue.articles[screw].clearance_hole or 4.0
    length, height = panel.outline.size
    ends = [sorted(panel.local(p)[0] for p in _corners(b)) for b in bearers]
    shut = [(min(e) - BESIDE_BEARER, max(e) + BESIDE_BEARER) for e in ends]
    others = tuple(screws_met(panel, there[held], there.values()))
    places: list[float] = []
    for at in spread(0.0, length, CLEAT_INSET, CLEAT_SPACING):
        beside = next(((a, b) for a, b in shut if a < at < b), (at,))
        clear = (clear_of(p, others) for p in beside)
        inside = [p for p in clear if SCREW_TO_END <= p <= length - SCREW_TO_END]
        free = [p for p in inside if not any(a < p < b for a, b in shut)]
        places += [p for p in free if all(abs(p - other) > SCREW_TO_END for other in places)]
    holes = [Hole(at, height / 2.0, hole, purpose="screw") for at in places]
    draft.drill(cleat, holes)
    draft.buy(screw, len(holes), "cleats")


def _corners(box: Berth) -> list[Vector]:
    return [(x, y, box.z0) for x in (box.x0, box.x1) for y in (box.y0, box.y1)]


def _screw_down(draft: Draft, piece: str, cleat: Cleat, count: int) -> None:
    """Screws through a piece into the upper edge of a cleat, where that lies under the piece."""
    box, panel = cleat.box, draft.panels[piece]
    article = draft.setting.catalogue.articles[PIECE_SCREW]
    hole = article.clearance_hole or 4.0
    # The piece stays short of the neighbour the cleat is on.
    dx = {"rear": PIECE_GAP / 2.0, "front": -PIECE_GAP / 2.0}.get(cleat.side, 0.0)
    dy = {"right": PIECE_GAP / 2.0, "left": -PIECE_GAP / 2.0}.get(cleat.side, 0.0)
    middle = (box.x0 + box.x1) / 2.0 + dx, (box.y0 + box.y1) / 2.0 + dy
    lengthwise = cleat.side in ("left", "right")
    start, end = cleat.reach("y" if lengthwise else "x")
    inset = min(CLEAT_INSET, (end - start) / 4.0)
    steps = np.linspace(start + inset, end - inset, count).tolist()
    points = [(s, middle[1], box.z1) if lengthwise else (middle[0], s, box.z1) for s in steps]
    local = np.array([panel.local(p) for p in points])
    free = within(panel, local, hole / 2.0 + 1.0)
    kept = [p for p, ok in zip(points, free.tolist(), strict=True) if ok]
    draft.drill_at(piece, kept, hole, "screw")
    draft.buy(PIECE_SCREW, len(kept), "deck piece to cleat")


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


def _cleats(draft: Draft, hollow: Hollow, room: Berth, height: float) -> Iterator[Cleat]:
    """Cleats of a height on every neighbour's side the piece can rest on."""
    t = draft.board("carcass").thickness
    z0 = room.z0 - height
    edges = {"rear": hollow.x0, "front": hollow.x1}
    edges |= {s: y for s, y in (("right", hollow.y0), ("left", hollow.y1)) if y is not None}
    for side, edge in edges.items():
        near, far = (edge, edge + t) if side in ("rear", "right") else (edge - t, edge)
        lengthwise = side in ("left", "right")
        for x0, x1, y0, y1, panel in _walls_at(draft, side, edge, room, z0):
            xs = (x0, x1) if lengthwise else (near, far)
            ys = (near, far) if lengthwise else (y0, y1)
            box = Berth(x0=xs[0], x1=xs[1], y0=ys[0], y1=ys[1], z0=z0, z1=room.z0)
            yield Cleat(side=side, box=box, panel=panel)


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


def _lifts(draft: Draft, piece: Panel, bearers: Sequence[Berth]) -> None:
    """The finger hole of a piece that lifts off, clear of the bearers below, and its motion."""
    width, height = piece.outline.size
    if min(width, height) <= 110.0:
        return
    # Near the rear edge, where it is reached first; across if the piece is wide enough.
    lengthwise = height < 160.0
    size_x, size_y = (100.0, 32.0) if lengthwise else (32.0, 100.0)
    for x, y in _hole_places(width, height):
        at = piece.placement.at(x, y)
        reach_x, reach_y = size_x / 2.0 + FINGERS_BESIDE, size_y / 2.0 + FINGERS_BESIDE
        over = any(
            b.x0 < at[0] + reach_x
            and at[0] - reach_x < b.x1
            and b.y0 < at[1] + reach_y
            and at[1] - reach_y < b.y1
            for b in bearers
        )
        inside = reach_x <= x <= width - reach_x and reach_y <= y <= height - reach_y
        if inside and not over:
            hole = hand_hole(0.0, 0.0) if lengthwise else hand_hole(0.0, 0.0).turned(1)
            draft.cut_out(piece.name, [hole.moved(x, y)])
            _lifts_off(draft, piece)
            return


def _lifts_off(draft: Draft, piece: Panel) -> None:
    draft.panels[piece.name] = dataclasses.replace(draft.panels[piece.name], moves=piece.name)
    draft.motions.append(
        Motion(
            name=piece.name,
            module=draft.name,
            kind=MotionKind.REMOVE,
            direction=(0.0, 0.0, 1.0),
            travel=piece.thickness + LIFTED,
        )
    )


def _hole_places(width: float, height: float) -> Iterator[Point]:
    """Where a finger hole may go, the best place first."""
    first = min(90.0, width / 2.0)
    for x in (first, *(first + 20.0 * i for i in range(1, 8))):
        for share in (0.5, 0.35, 0.65, 0.25, 0.75):
            yield x, share * height
