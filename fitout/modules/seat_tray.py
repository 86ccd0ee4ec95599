"""Seat tray: a low tray of tools in foam, for the dead space under the rear seat.

    seen from above, the front above          seen from the left, the front to the right

    +---------[ pull hole ]---------+          rear                        front
    | trough for the fingers        |           |  tool stands proud  |         |
    | +---------------------------+ |           |[foam layers, cut   ]|         |
    | |  pockets in rows          | |           |[foam floor         ]| trough  o
    | +---------------------------+ |           +===============================+
    +-------------------------------+              glide                glide

The tray lies in a measured void of its own, outside the bay: it takes the largest
rectangle that keeps out of seat legs and anchors, less the clearance. Foam layers make up
six tenths of the tallest tool; what stands proud must stay under the void's top where the
tool lies. In a void that slopes, tall tools lie at its high end. The void is taken
to begin just ahead of the seat back: there the tray is drawn and there it weighs.
"""

from __future__ import annotations

import dataclasses
import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, ClassVar, Literal

from fitout.model.bay import Bay
from fitout.model.design import ModuleSpec
from fitout.model.fault import DesignError, Fault, Path
from fitout.model.item import Item
from fitout.model.module import Berth, JointKind, Module, PlateDuty, VoidFit
from fitout.model.outline import Outline, rectangle
from fitout.model.placement import (
    Placement,
    Vector,
    X,
    Y,
    across,
    across_face_rear,
    along,
    along_face_left,
    flat,
    opposite,
)
from fitout.model.spec import Length, Ref, entry
from fitout.model.stock import Board
from fitout.modules.foam import (
    HELD_SHARE,
    Laid,
    ToolSpec,
    body_pieces,
    choose_layers,
    lay_out,
    layers_for,
    tools_of,
)
from fitout.modules.joinery import BATTEN_SCREW, CARCASS_SCREW, Draft, hand_hole
from fitout.modules.kind import Kind, Needs, Setting
from fitout.modules.void import Area, VoidSpec, free_area

SIDE_HEIGHT = 60.0
"""Height of the tray's sides, less where the void is low, mm (common practice)."""

LEAST_SIDE = 30.0
"""Least height of a side that still takes a pull hole, mm."""

TROUGH = 30.0
"""Room for fingers between the pull hole and the foam, mm (common practice)."""

LEAST_INSIDE = 80.0
"""Least room for foam, fore and aft and across, mm."""

AHEAD = 60.0
"""How far ahead of the seat back's foot the void is taken to begin, mm: there its mass counts."""

THIN_BASE = 10.0
"""Greatest thickness of a base that the shorter screws hold, mm."""

GLIDES = 4
GLUE_AREA = 2.0
"""Area that a can of contact adhesive glues, m² (common practice)."""

FINGERS = {"both sides": 2, "one side": 1, "none": 0}


@dataclass(frozen=True, slots=True, kw_only=True)
class SeatTraySpec(ModuleSpec):
    """A tray of tools in foam under the rear seat, drawn out forwards."""

    kind: ClassVar[str] = "seat tray"

    void: VoidSpec = entry(
        "the space it goes into, as measured", example="{across: 980, depth: 360, height: 120}"
    )
    tools: tuple[ToolSpec, ...] = entry(
        "the tools it holds",
        example="[{name: ring spanner 19, size: [232, 42], height: 14, mass: 0.21 kg}]",
    )
    clearance: Length = entry("gap kept to the void all round and above", default=3.0)
    play: Length = entry("gap between a tool and its pocket", default=2.0)
    fingers: Literal["both sides", "one side", "none"] = entry(
        "where a pocket is cut round for fingers", default="both sides"
    )
    foams: tuple[Annotated[str, Ref("sheets")], ...] = entry(
        "foam sheets to make the layers of",
        default=(),
        otherwise="every foam of the catalogue",
        example="[closed-cell foam 20, closed-cell foam 30]",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Tray:
    """The tray worked out: where it lies in the void, its levels above the void's floor."""

    outside: Area
    foam: Area
    base: float
    top_of_base: float
    side: float
    floor: Board
    layers: tuple[Board, ...]

    @property
    def foam_top(self) -> float:
        """Height of the foam's upper face."""
        return self.top_of_base + self.floor.thickness + sum(b.thickness for b in self.layers)


def needs(_spec: SeatTraySpec, _setting: Setting) -> Needs | None:
    """No room of the bay: it lies in a void of its own."""
    return None


def build(name: str, spec: SeatTraySpec, berth: Berth | None, setting: Setting) -> Module:
    """The tray with its foam and tools.

    Raises:
        DesignError: where the void takes no tray, a shape is none, or a tool does not fit:
            at the entry, with the millimetres that are missing.
    """
    path: Path = ("modules", name)
    draft = Draft(name, SeatTraySpec.kind, setting)
    tools = tools_of(spec.tools, spec.play, FINGERS[spec.fingers], (*path, "tools"))
    tray = tray_in(spec, setting, path)
    room = (tray.foam.x1 - tray.foam.x0, tray.foam.y1 - tray.foam.y0)
    ahead = spec.void.height_at(spec.void.depth) >= spec.void.height_at(0.0)
    laid = lay_out(tools, room, (*path, "tools"), tall_ahead=ahead)
    _check_heights(spec, tray, laid, path)
    origin = origin_of(spec.void, setting.bay)
    _box(draft, tray, origin)
    _foam(draft, tray, laid, origin)
    _tools(draft, spec, tray, laid, origin)
    draft.buy("felt glide", GLIDES, "under the base")
    draft.plates.append(
        PlateDuty(
            panel=f"{name}/base",
            load_kg=sum(tool.mass_kg for tool in tools),
            spans=(room[0] + TROUGH, room[1]),
            edges="all",
            purpose="its tools, when it is lifted",
        )
    )
    return dataclasses.replace(draft.finish(berth), voids=(_fit(spec, tray, laid, name),))


def origin_of(void: VoidSpec, bay: Bay) -> Vector:
    """Where the void's rear right corner at its floor is shown, in bay coordinates."""
    return bay.front + AHEAD, -void.across / 2.0, bay.floor


def tray_in(spec: SeatTraySpec, setting: Setting, path: Path) -> Tray:
    """The tray's sizes and levels.

    Raises:
        DesignError: where the void leaves too little room, or a foam is none.
    """
    free = free_area(spec.void, spec.clearance)
    if free is None:
        raise DesignError([_no_room(path, "no room", "room between what it keeps out of")])
    depth, width = spec.depth or free.x1 - free.x0, spec.width or free.y1 - free.y0
    middle = (free.y0 + free.y1) / 2.0
    # A tray made smaller than its room lies at the front, where the hand is.
    outside = Area(x0=free.x1 - depth, x1=free.x1, y0=middle - width / 2.0, y1=middle + width / 2.0)
    t = setting.boards["drawer"].thickness
    foam = Area(
        x0=outside.x0 + t,
        x1=outside.x1 - t - TROUGH,
        y0=outside.y0 + t,
        y1=outside.y1 - t,
    )
    inside = min(foam.x1 - foam.x0, foam.y1 - foam.y0)
    base = setting.catalogue.articles["felt glide"].length or 0.0
    top_of_base = base + setting.boards["tray"].thickness
    low = spec.void.lowest(outside) - spec.clearance
    side = min(SIDE_HEIGHT, low - top_of_base) if spec.height is None else spec.height - top_of_base
    faults = []
    if inside < LEAST_INSIDE:
        found = f"room for a tray {depth:.0f} mm fore and aft by {width:.0f} mm across"
        expected = f"{LEAST_INSIDE - inside:.0f} mm more, {LEAST_INSIDE:g} mm for foam"
        faults.append(_no_room(path, found, expected))
    if side < LEAST_SIDE:
        found = f"room for sides {side:.0f} mm high"
        faults.append(_no_room(path, found, f"sides of {LEAST_SIDE:g} mm or more"))
    if faults:
        raise DesignError(faults)
    foams = _foams(spec, setting, path)
    tallest = max((tool.height for tool in spec.tools), default=0.0)
    tray = Tray(
        outside=outside,
        foam=foam,
        base=base,
        top_of_base=top_of_base,
        side=side,
        floor=foams[0],
        layers=choose_layers(HELD_SHARE * tallest, foams),
    )
    if tray.foam_top > low:
        found = f"foam up to {tray.foam_top:.0f} mm above the void's floor"
        expected = f"at most {low:.0f} mm: thinner foams, or tools that lie lower"
        raise DesignError([_no_room(path, found, expected)])
    return tray


def _no_room(path: Path, found: str, expected: str) -> Fault:
    return Fault(path=(*path, "void"), found=found, expected=expected)


def _foams(spec: SeatTraySpec, setting: Setting, path: Path) -> list[Board]:
    """The foams to choose from, thinnest first; the one the design measured as measured."""
    sheets = dict(setting.catalogue.sheets)
    role = setting.boards["foam"]
    sheets[role.key] = role
    faults = [
        Fault(path=(*path, "foams", i), found=f"{key}, a {sheets[key].kind}", expected="a foam")
        for i, key in enumerate(spec.foams)
        if sheets[key].kind != "foam"
    ]
    if faults:
        raise DesignError(faults)
    keys = spec.foams or tuple(k for k, b in sheets.items() if b.kind == "foam")
    return sorted((sheets[k] for k in keys), key=lambda b: (b.thickness, b.key))


def _tool_level(tray: Tray, laid: Laid) -> float:
    """Height of a tool's underside above the void's floor."""
    count = layers_for(laid.tool.height, tray.layers)
    return tray.foam_top - sum(b.thickness for b in tray.layers[:count])


def _heights(spec: SeatTraySpec, tray: Tray, laid: Laid) -> tuple[float, float]:
    """How high a tool reaches, clearance included, and how high the void is above it."""
    x0, _, x1, _ = laid.placed(laid.tool.shape).bounds
    start = tray.foam.x0
    over = Area(x0=start + x0, x1=start + x1, y0=0.0, y1=0.0)
    reach = _tool_level(tray, laid) + laid.tool.height + spec.clearance
    return reach, spec.void.lowest(over)


def _check_heights(spec: SeatTraySpec, tray: Tray, laid: Sequence[Laid], path: Path) -> None:
    faults: dict[int, Fault] = {}
    for one in laid:
        reach, there = _heights(spec, tray, one)
        if reach > there + 1e-6:
            faults[one.tool.index] = Fault(
                path=(*path, "tools", one.tool.index),
                found=f"{one.tool.name}, {one.tool.height:g} mm tall, which reaches {reach:.1f} mm "
                "above the void's floor with its clearance",
                expected=f"at most {there:.1f} mm, the void's height there",
                hint=f"It is {reach - there:.1f} mm too high.",
            )
    if faults:
        raise DesignError([faults[i] for i in sorted(faults)])


def _fit(spec: SeatTraySpec, tray: Tray, laid: Sequence[Laid], name: str) -> VoidFit:
    """What the tray takes of the room it has, upwards where it is tightest."""
    c, free, outside = spec.clearance, free_area(spec.void, spec.clearance), tray.outside
    assert free is not None
    top = max(tray.foam_top, tray.top_of_base + tray.side)
    levels = [(top + c, spec.void.lowest(outside))]
    levels += [_heights(spec, tray, one) for one in laid]
    high, room = min(levels, key=lambda pair: (pair[1] - pair[0], pair))
    return VoidFit(
        name=name,
        needed=(outside.x1 - outside.x0 + 2.0 * c, outside.y1 - outside.y0 + 2.0 * c, high),
        available=(free.x1 - free.x0 + 2.0 * c, free.y1 - free.y0 + 2.0 * c, room),
    )


def _box(draft: Draft, tray: Tray, origin: Vector) -> None:
    """Base, sides, front with the pull hole, back."""
    base, board = draft.board("tray"), draft.board("drawer")
    t, height = board.thickness, tray.side
    x0, x1 = origin[0] + tray.outside.x0, origin[0] + tray.outside.x1
    y0, y1 = origin[1] + tray.outside.y0, origin[1] + tray.outside.y1
    under, z = origin[2] + tray.base, origin[2] + tray.top_of_base
    draft.panel("base", base, (x1 - x0, y1 - y0), flat(x0, y0, under))
    inner = y1 - y0 - 2.0 * t
    rim: list[tuple[str, Placement, float]] = [
        ("left side", along(x0, y1, z), x1 - x0),
        ("right side", along_face_left(x1, y0, z), x1 - x0),
        ("front", across(x1 - t, y0 + t, z), inner),
        ("back", across_face_rear(x0 + t, y1 - t, z), inner),
    ]
    for part, placement, length in rim:
        draft.panel(part, board, (length, height), placement, edging="top edge rounded")
    hole = min(32.0, 0.6 * height)
    draft.cut_out("front", [hand_hole(inner / 2.0, height / 2.0, min(110.0, inner / 2.0), hole)])
    screw = BATTEN_SCREW if base.thickness <= THIN_BASE else CARCASS_SCREW
    half = t / 2.0
    for part, start, end in (
        ("left side", (x0, y1 - half), (x1, y1 - half)),
        ("right side", (x0, y0 + half), (x1, y0 + half)),
        ("front", (x1 - half, y0 + t), (x1 - half, y1 - t)),
        ("back", (x0 + half, y0 + t), (x0 + half, y1 - t)),
    ):
        draft.screw("base", part, (*start, under), (*end, under), screw)
    for part, x in (("front", x1 - half), ("back", x0 + half)):
        for side, y in (("left side", y1), ("right side", y0)):
            draft.screw(side, part, (x, y, z), (x, y, z + height))


def _foam(draft: Draft, tray: Tray, laid: Sequence[Laid], origin: Vector) -> None:
    """The floor layer, and above it the layers with their cut-outs, glued to each other."""
    area = tray.foam
    size = rectangle(area.x1 - area.x0, area.y1 - area.y0)
    x, y, z = origin[0] + area.x0, origin[1] + area.y0, origin[2] + tray.top_of_base
    rim_top = z + tray.side
    below = "base"
    count = len(tray.layers)
    for number, board in enumerate((tray.floor, *reversed(tray.layers))):
        name = _layer_name(number)
        through = [
            one.placed(one.tool.pocket)
            for one in laid
            if number and layers_for(one.tool.height, tray.layers) > count - number
        ]
        draft.panel(name, board, Outline(size, tuple(through)), flat(x, y, z))
        draft.join(name, below, JointKind.FITTED, "glued")
        if z <= rim_top:
            for part in ("left side", "right side", "back"):
                draft.join(name, part, JointKind.FITTED)
        below = name
        z += board.thickness
    glued = size.area * (count + 1) * 1e-6
    draft.buy("foam glue", math.ceil(glued / GLUE_AREA), "foam layers")


def _layer_name(number: int) -> str:
    """Layers are counted from the floor up."""
    return f"foam layer {number}" if number else "foam floor"


def _tools(
    draft: Draft, spec: SeatTraySpec, tray: Tray, laid: Sequence[Laid], origin: Vector
) -> None:
    """The tools as they lie, each on the layer its pocket ends at."""
    count = len(tray.layers)
    for one in laid:
        through = layers_for(one.tool.height, tray.layers)
        place = Placement(
            (
                origin[0] + tray.foam.x0 + one.x,
                origin[1] + tray.foam.y0 + one.y,
                origin[2] + _tool_level(tray, one),
            ),
            Y if one.turned else X,
            opposite(X) if one.turned else Y,
        )
        name = _unused(draft, one.tool.name)
        draft.items.append(
            Item(
                name=name,
                module=draft.name,
                pieces=body_pieces(one.tool),
                mass_kg=one.tool.mass_kg,
                placement=place,
            )
        )
        # By its whole id, since a tool's name may hold a stroke.
        tool = f"{draft.name}/{name}"
        draft.rest(tool, _layer_name(count - through))
        if spec.play < 1.0:
            for number in range(count - through + 1, count + 1):
                draft.join(tool, _layer_name(number), JointKind.FITTED)


def _unused(draft: Draft, wish: str) -> str:
    """A name no part of the module has yet."""
    taken = {*draft.panels, *(item.name for item in draft.items)}
    candidates = itertools.chain([wish], (f"{wish} ({n})" for n in itertools.count(2)))
    return next(name for name in candidates if name not in taken)


KIND = Kind(kind=SeatTraySpec.kind, spec=SeatTraySpec, needs=needs, build=build)
