"""A panel box, so that no room is wasted: a plinth for what stands on it, or room with a lid.

    seen from behind: over the arches          seen from the left: a lid that lifts

      +==================================+       strip  lid
      +--+-------+-------+-------+-------+       +===+==============+   rear to the right
     (arch) |    |       |       |   (arch)      |   :              |
         |  |    |       |       |  |            |   :   divider    |
         +--+----+-------+-------+--+            +---+--------------+

Sides and dividers run fore and aft, ends across; base and top lie over all of them.
Dividers stand so near each other that a knee on the top does not bend it too far. With
`over_arches` the top follows the walls above the wheel arches. A box too wide for a sheet,
or for one lid, is two or more boxes side by side.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, ClassVar, Literal

from fitout.model.bay import AnchorPoint
from fitout.model.design import ModuleSpec
from fitout.model.module import Berth, Fixing, JointKind, Module, Remark
from fitout.model.outline import Outline, rectangle
from fitout.model.placement import (
    X,
    across,
    across_face_rear,
    along,
    along_face_left,
    flat,
    opposite,
)
from fitout.model.spec import Mass, Quantity, Ref, Unit, entry
from fitout.modules.box_lid import lid_place, lift_lid, loose_lid, top_duty
from fitout.modules.box_plan import BOLT_ROOM, Cell, cells_of, grain_of
from fitout.modules.joinery import (
    FLOOR_BOLT,
    Draft,
    anchors_within,
    bolt_to_anchor,
    corner_points,
    corners_left,
    fix_to_module,
)
from fitout.modules.kind import Extent, Kind, Needs, Setting
from fitout.modules.lid_latch import latch_lid
from fitout.modules.lid_stay import add_stay
from fitout.modules.lid_swing import swing_deg
from fitout.modules.scribe import flat_across_outline, flat_outline
from fitout.survey.room import arch_top, clear_width

LEAST_SIZE = 150.0
LEAST_HEIGHT = 80.0
USUAL_HEIGHT = 200.0

ABOVE_ARCH = 15.0
"""How far the top stands above the wheel arches, so that what is on it clears them, mm."""

RAIL = 60.0
"""Height of the rail that stiffens the top over an open end, mm."""

LEAST_ROW = 20.0
"""Parts that meet over no more than this get no screw, mm."""

LEAST_SWING_DEG = 15.0
"""A lid that opens less is no use hinged (common practice)."""

FIXINGS = 4
SIDE_SCREWS = 6
"""Screws that hold two boxes of a wide one together, side to side."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxSpec(ModuleSpec):
    """A box of panels: a plinth, a bin with a lid, or open at one side."""

    kind: ClassVar[str] = "box"

    lid: Literal["none", "lift", "loose"] = entry(
        "none: the top is fixed; lift: it swings up; loose: it lifts off", default="none"
    )
    latch: Annotated[str, Ref("latches")] | Literal["none"] | None = entry(
        "what holds a lid that swings up shut",
        default=None,
        example="turn latch",
        otherwise="a finger catch by its finger hole",
    )
    open_side: Literal["rear", "front", "top", "none"] = entry(
        "a side left open to put things in", default="none"
    )
    dividers: Annotated[int, Quantity(Unit.RATIO, least=0, most=11)] | None = entry(
        "uprights inside it; never fewer than keep the top stiff",
        default=None,
        example="2",
        otherwise="as many as keep the top stiff",
    )
    over_arches: bool = entry(
        "whether its top reaches out over the wheel arches to the walls", default=False
    )
    carries: Mass | None = entry(
        "goods it carries, spread, besides the module that stands on it",
        default=None,
        example="30 kg",
        otherwise="none",
    )


def needs(spec: BoxSpec, setting: Setting) -> Needs:
    """All the room there is; as high as the deck, or as what stands on it needs."""
    name = next((n for n, s in setting.specs.items() if s is spec), None)
    decked = any(s.kind == "deck" for s in setting.specs.values())
    to_deck = decked and not _is_stood_on(name, setting) and spec.height is None
    lowest = _over_arches(setting) if spec.over_arches else LEAST_HEIGHT
    if spec.height is not None:
        z = _extent(spec.height, LEAST_HEIGHT, "height")
    elif to_deck:
        z = Extent(least=lowest, wanted=lowest)
    else:
        usual = _over_arches(setting) if setting.bay.arches else USUAL_HEIGHT
        z = Extent(least=lowest, wanted=usual, most=usual)
    return Needs(
        x=_extent(spec.depth, LEAST_SIZE, "depth"),
        y=_extent(spec.width, LEAST_SIZE, "width"),
        z=z,
        top="deck" if to_deck else "free",
        lateral="middle",
    )


def _extent(given: float | None, least: float, key: str) -> Extent:
    if given is None:
        return Extent(least=least, fills=True)
    return Extent(least=given, most=given, given=key)


def _is_stood_on(name: str | None, setting: Setting) -> bool:
    return name is not None and any(s.on == name for s in setting.specs.values())


def _over_arches(setting: Setting) -> float:
    """The height whose top, and what stands on it, clears the wheel arches."""
    bay = setting.bay
    tops = [arch_top(bay, side, 0.0, bay.front) or 0.0 for side in bay.arches]
    clear = max(ABOVE_ARCH, setting.boards["deck"].thickness + setting.rules.wall)
    return max(tops, default=0.0) + clear - bay.floor


def build(name: str, spec: BoxSpec, berth: Berth | None, setting: Setting) -> Module:
    """Base, sides, ends, dividers and a top or lid; bolted down."""
    assert berth is not None
    draft = Draft(name, BoxSpec.kind, setting)
    remarks: list[Remark] = []
    lid, opening = _as_built(spec, name, berth, setting, remarks)
    cover = draft.board("deck" if lid == "none" else "lid")
    under = berth.z1 - (0.0 if opening == "top" else cover.thickness)
    dividers = spec.dividers or 0
    cells = cells_of(draft, berth, under, _widest(draft, spec, berth), lid, dividers)
    load_kg = (spec.carries or 0.0) / len(cells)
    for cell in cells:
        _walls(draft, cell, opening, lid)
        if lid == "lift":
            lift_lid(draft, cell, load_kg)
            inside = (cell.berth.x0 + cell.wall, 0.0, cell.under), opposite(X)
            rear = (cell.end(draft, "rear"),)
            latch_lid(draft, spec.latch, f"lid{cell.suffix}", rear, inside)
            add_stay(draft, f"lid{cell.suffix}")
        elif lid == "loose":
            loose_lid(draft, cell, load_kg)
        elif opening != "top":
            _top(draft, spec, cell, cells)
            top_duty(draft, f"top{cell.suffix}", cell, load_kg, knee=True)
        elif load_kg:
            top_duty(draft, f"base{cell.suffix}", cell, load_kg, knee=False)
    for a, b in itertools.pairwise(cells):
        _side_by_side(draft, a, b)
    _fix(draft, spec, berth, cells)
    return draft.finish(berth, remarks)


def _as_built(
    spec: BoxSpec, name: str, berth: Berth, setting: Setting, remarks: list[Remark]
) -> tuple[str, str]:
    """The lid and the open side that can really be made; what can't is told."""
    lid, opening = spec.lid, spec.open_side
    above = [n for n, s in setting.specs.items() if s.on == name]
    reason = f"{above[0]} stands on it" if above else "it reaches out over the wheel arches"
    if (above or spec.over_arches) and (lid != "none" or opening == "top"):
        remarks.append(Remark("box top", f"The top of {name} is a fixed one, since {reason}."))
        return "none", "none" if opening == "top" else opening
    if lid != "none" and opening == "top":
        opening = "none"
    place = lid_place(berth, setting.boards["lid"].thickness)
    if lid == "lift" and swing_deg(setting, place) < LEAST_SWING_DEG:
        opens = swing_deg(setting, place)
        sentence = (
            f"The lid of {name} lifts off: hinged it would open only {opens:.0f}° before it met "
            "the roof or the opening's frame."
        )
        remarks.append(Remark("box lid", sentence))
        lid = "loose"
    return lid, opening


def _widest(draft: Draft, spec: BoxSpec, berth: Berth) -> tuple[float, float]:
    """The y the box reaches from and to: its berth, or the walls above the arches."""
    if not spec.over_arches:
        return berth.y0, berth.y1
    right, left = clear_width(
        draft.setting.bay, (berth.x0, berth.x1), (berth.z1 - 1.0, berth.z1), arches=False
    )
    return right, left


def _walls(draft: Draft, cell: Cell, opening: str, lid: str) -> None:
    """Base, sides, ends and dividers, screwed together."""
    b, t = cell.berth, cell.wall
    board, low = draft.board("carcass"), b.z0 + t
    base = f"base{cell.suffix}"
    depth, width = b.x1 - b.x0, b.y1 - b.y0
    draft.panel(base, board, (depth, width), flat(b.x0, b.y0, b.z0))
    high = b.z1 if lid == "loose" else cell.under
    for name, y in cell.uprights:
        inner = name in cell.dividers
        x0, x1 = (b.x0 + t, b.x1 - t) if inner else (b.x0, b.x1)
        lift = (cell.under if inner else high) - low
        faces_left = name == cell.right_side
        placement = along_face_left(x1, y, low) if faces_left else along(x0, y + t, low)
        draft.panel(name, board, (x1 - x0, lift), placement)
        middle = y + t / 2.0
        draft.screw(base, name, (x0, middle, b.z0), (x1, middle, b.z0))
    for side in ("rear", "front"):
        _end(draft, cell, side, high, opening == side)
    if b.z0 <= draft.setting.bay.floor + 1e-6:
        draft.rest(base, "bay/floor")


def _end(draft: Draft, cell: Cell, side: str, high: float, is_open: bool) -> None:
    """One end between the sides: a wall, or a rail under the top where it is open."""
    b, t = cell.berth, cell.wall
    low = b.z0 + t
    name = f"{side} {'rail' if is_open else 'end'}{cell.suffix}"
    bottom = max(low, high - min(RAIL, (high - low) / 3.0)) if is_open else low
    x = b.x0 if side == "rear" else b.x1 - t
    y0, y1 = b.y0 + t, b.y1 - t
    placement = across(x, y0, bottom) if side == "front" else across_face_rear(x + t, y1, bottom)
    draft.panel(name, draft.board("carcass"), (y1 - y0, high - bottom), placement)
    middle = x + t / 2.0
    for wall, y in ((cell.right_side, b.y0), (cell.left_side, b.y1)):
        draft.screw(wall, name, (middle, y, bottom), (middle, y, high))
    if not is_open:
        base = f"base{cell.suffix}"
        draft.screw(base, name, (middle, y0, b.z0), (middle, y1, b.z0))
    for divider, y in cell.uprights[1:-1]:
        at = y + t / 2.0
        if cell.under - bottom > LEAST_ROW:
            draft.screw(name, divider, (x, at, bottom), (x, at, cell.under))
        else:
            draft.join(name, divider, JointKind.FITTED)


def _side_by_side(draft: Draft, right: Cell, left: Cell) -> None:
    """Two boxes that stand together: screwed side to side, their bases and tops edge to edge."""
    draft.join(right.left_side, left.right_side, JointKind.SCREWED)
    draft.buy("wood screw 3.5 x 16", SIDE_SCREWS, "box to box")
    for part in ("base", "top", "strip"):
        here, there = f"{part}{right.suffix}", f"{part}{left.suffix}"
        if here in draft.panels:
            draft.join(here, there, JointKind.FITTED)
            draft.join(here, left.right_side, JointKind.FITTED)
            draft.join(right.left_side, there, JointKind.FITTED)


def _top(draft: Draft, spec: BoxSpec, cell: Cell, cells: tuple[Cell, ...]) -> None:
    """The fixed top, screwed to everything below it; over the arches it follows the walls."""
    b, board = cell.berth, draft.board("deck")
    placement = flat(b.x0, b.y0, cell.under)
    outline = Outline(rectangle(b.x1 - b.x0, b.y1 - b.y0))
    outer = (cell is cells[0], cell is cells[-1])
    scribed = spec.over_arches and any(outer)
    if scribed:
        box = Berth(x0=b.x0, x1=b.x1, y0=b.y0, y1=b.y1, z0=cell.under, z1=b.z1)
        bay, gap = draft.setting.bay, draft.setting.rules.scribed
        if all(outer):
            outline = flat_across_outline(bay, box, placement, gap)
        else:
            outline = flat_outline(bay, "right" if outer[0] else "left", box, placement, gap)
        start = outline.bounds[1]
        outline, placement = outline.moved(0.0, -start), placement.moved(dy=start)
    name = f"top{cell.suffix}"
    grain = grain_of(board, outline.size[0])
    draft.panel(name, board, outline, placement, grain=grain, scribed=scribed)
    for part, x0, x1, y0, y1 in _beneath(draft, cell):
        draft.screw(name, part, (x0, y0, cell.under), (x1, y1, cell.under))


def _beneath(draft: Draft, cell: Cell) -> Iterator[tuple[str, float, float, float, float]]:
    """The centre lines of what the top lies on: name, then x and y of both ends."""
    b, t = cell.berth, cell.wall
    for name, y in cell.uprights:
        x0, x1 = (b.x0 + t, b.x1 - t) if name in cell.dividers else (b.x0, b.x1)
        yield name, x0, x1, y + t / 2.0, y + t / 2.0
    for side, x in (("rear", b.x0 + t / 2.0), ("front", b.x1 - t / 2.0)):
        yield cell.end(draft, side), x, x, b.y0 + t, b.y1 - t


def _fix(draft: Draft, spec: BoxSpec, berth: Berth, cells: tuple[Cell, ...]) -> None:
    """Bolts through the bases: to the module below, or to the floor's known points."""
    if spec.on is not None:
        for cell in cells:
            fix_to_module(draft, f"base{cell.suffix}", cell.berth, spec.on)
        return
    draft.needs_fixings = FIXINGS
    used: list[AnchorPoint] = []
    for cell in cells:
        inset = cell.wall + BOLT_ROOM
        for anchor in anchors_within(draft.setting.bay.anchors, cell.berth, inset):
            bolt_to_anchor(draft, f"base{cell.suffix}", anchor, berth.z0)
            used.append(anchor)
    free = corners_left(corner_points(berth, cells[0].wall + 2.0 * BOLT_ROOM), used)
    for point in free[: max(0, FIXINGS - len(used))]:
        fixing = Fixing(module=draft.name, point=point, article=FLOOR_BOLT, anchor=None)
        draft.fixings.append(fixing)


KIND = Kind(kind=BoxSpec.kind, spec=BoxSpec, needs=needs, build=build)
