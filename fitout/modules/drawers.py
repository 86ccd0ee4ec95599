"""Drawers: a carcass with drawers stacked (heavy below, light above), one or more columns.

    seen from behind                      seen from the left, rear to the left

    +--------------------------+ top      +----------------------------+ top
    | +----------------------+ |          | front  | drawer box     |  | back
    | | front of drawer 2    | |          |        +----------------+  |
    | +----------------------+ |          | front  | drawer box     |  |
    | | front of drawer 1    | |          |        +----------------+  |
    +--------------------------+ base     +----------------------------+ base

The top lies over the fronts, so that it makes one deck up to the rear edge. Fronts lie
over the carcass's rear edges. Bottoms sit in grooves of all four drawer sides.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, ClassVar, Literal

from fitout.model.design import ModuleSpec
from fitout.model.fault import Path
from fitout.model.hardware import Slide
from fitout.model.module import (
    Berth,
    Module,
    Motion,
    MotionKind,
    PlateDuty,
    SlideDuty,
)
from fitout.model.spec import Length, Mass, PositiveLength, Quantity, Ref, Unit, entry
from fitout.model.stock import Board
from fitout.modules.carcass import FRONT_GAP, Column, Opening, carcass, columns_of, rails, toe_board
from fitout.modules.drawer_box import BOTTOM_RAISED, drawer_box
from fitout.modules.drawer_latch import Pull, add_front
from fitout.modules.drawer_room import (
    BACK_GAP,
    BASE_RISE,
    BOX_HEADROOM,
    BOX_RISE,
    FRONT_STANDS_OFF,
    least_box,
    least_column,
    least_depth,
    least_front,
    refuse_too_small,
)
from fitout.modules.joinery import (
    Draft,
    fix_to_floor,
    fix_to_module,
    hand_hole,
    sheet_room,
)
from fitout.modules.kind import Extent, Kind, Needs, Setting
from fitout.modules.knee import bears_knee
from fitout.modules.slides import add_slide, choose_slide, least_slide, runs_out

USUAL_OPENING = 215.0
LEAST_COLUMN = 220.0
USUAL_COLUMN = 480.0
MOST_COLUMNS = 4
USUAL_LOADS_KG = (40.0, 20.0)
"""What the lowest drawer and the others are taken to carry unless said (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawerSpec:
    """One drawer of the stack."""

    carries: Mass | None = entry(
        "the load it is to carry",
        default=None,
        example="45 kg",
        otherwise="40 kg for the lowest drawer, 20 kg for the others",
    )
    front_height: PositiveLength | None = entry("height of its front", default=None, example="140")


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawersSpec(ModuleSpec):
    """Drawers in a carcass, drawn out at the tailgate."""

    kind: ClassVar[str] = "drawers"

    stack: tuple[DrawerSpec, ...] = entry(
        "the drawers from the lowest up",
        default=(DrawerSpec(), DrawerSpec()),
        example="[{carries: 45 kg}, {carries: 18 kg, front_height: 140}]",
        otherwise="two drawers",
    )
    columns: Annotated[int, Quantity(Unit.RATIO, least=1, most=4)] | None = entry(
        "how many stacks side by side",
        default=None,
        example="2",
        otherwise="as many as keep the top stiff",
    )
    slides: Annotated[str, Ref("slides")] | Literal["full extension", "heavy locking"] | None = (
        entry(
            "slides, or only their sort: then the longest that fits is taken",
            default=None,
            example="full extension 700",
        )
    )
    pull: Literal["finger hole", "latch"] | None = entry(
        "what a front is pulled by",
        default=None,
        example="latch",
        otherwise="the latch's button where it has one, else a finger hole",
    )
    latch: Annotated[str, Ref("latches")] | Literal["none"] | None = entry(
        "what holds each drawer shut",
        default=None,
        example="push-button latch",
        otherwise="a finger catch by the finger hole, unless the slides lock; with `pull: latch` "
        "a push-button latch",
    )
    one_at_a_time: bool = entry(
        "whether only one of its drawers is to be out at a time; a rule for people, no lock",
        default=False,
    )
    removable: bool = entry("whether the module lifts out as a whole", default=False)
    rear_gap: Length = entry("room kept between its fronts and the shut tailgate", default=8.0)


def needs(spec: DrawersSpec, setting: Setting) -> Needs:
    """Room for the columns side by side and the drawers above each other."""
    boards = setting.boards
    rise = _rise(setting, setting.bay.floor if spec.on is None else None)
    drawers = spec.stack
    slides = [least_slide(spec.slides, setting, carried(spec, i)) for i in range(len(drawers))]
    fixed = sum(d.front_height for d in drawers if d.front_height)
    free = [s for s, d in zip(slides, drawers, strict=True) if not d.front_height]
    frame = max(FRONT_GAP, rise) + boards["deck"].thickness + FRONT_GAP * len(drawers)
    shallowest = least_depth(boards, slides)
    column = max(2.0 * boards["carcass"].thickness + LEAST_COLUMN, least_column(boards, slides))
    return Needs(
        x=_depth(spec, setting, shallowest),
        y=_extent(spec.width, column * (spec.columns or 1), None, "width"),
        z=_extent(
            spec.height,
            frame + fixed + sum(least_front(boards, s) for s in free),
            frame + fixed + len(free) * USUAL_OPENING,
            "height",
        ),
        top="deck",
        opens_rear=True,
    )


def carried(spec: DrawersSpec, index: int) -> float:
    """What a drawer of the stack, counted from 0 at the lowest, is to carry, kg."""
    wish = spec.stack[index].carries
    return USUAL_LOADS_KG[min(index, 1)] if wish is None else wish


def columns_for(setting: Setting, width: float, depth: float) -> int:
    """The fewest columns between whose sides the top bears a knee."""
    board, t = setting.boards["deck"], setting.boards["carcass"].thickness
    for count in range(1, MOST_COLUMNS):
        clear = width / count - 2.0 * t
        bears = bears_knee(board, (depth, clear), "v ends", grain_along_u=False)
        if bears is None:
            return max(1, round(width / USUAL_COLUMN))
        if bears or width / (count + 1) - 2.0 * t < LEAST_COLUMN:
            return count
    return MOST_COLUMNS


def _extent(given: float | None, least: float, wanted: float | None, key: str) -> Extent:
    if given is not None:
        return Extent(least=given, most=given, given=key)
    return Extent(least=least, wanted=wanted, fills=wanted is None)


def _depth(spec: DrawersSpec, setting: Setting, least: float) -> Extent:
    """The depth given, or all there is that sheets give the top and the base for."""
    if spec.depth is not None:
        return _extent(spec.depth, least, None, "depth")
    boards = setting.boards
    width = spec.width or max(right + left for _, right, left in setting.bay.opening)
    base = _deepest(boards["carcass"], width) + boards["front"].thickness + FRONT_STANDS_OFF
    deck = boards["deck"]
    # The top's grain runs across the bay, so that its depth lies across the sheet.
    top = sheet_room(deck)[1] if deck.grain else _deepest(deck, width)
    return Extent(least=least, most=max(least, min(top, base)), fills=True)


def _deepest(board: Board, width: float) -> float:
    """The greatest depth of a piece that wide, turned on its sheet as it fits."""
    length, across = sheet_room(board)
    return length if width <= across else across


def _rise(setting: Setting, floor: float | None) -> float:
    """How far above the carcass's underside the lowest drawer must start to clear the lip."""
    if floor is None:
        return 0.0
    return setting.bay.lip - floor + 2.0 * setting.rules.moving


def build(name: str, spec: DrawersSpec, berth: Berth | None, setting: Setting) -> Module:
    """Carcass, drawer boxes, fronts, slides and fixings in the berth."""
    assert berth is not None
    draft = Draft(name, DrawersSpec.kind, setting)
    t = draft.board("carcass").thickness
    front = draft.board("front").thickness
    shell = Berth(
        x0=berth.x0 + front + FRONT_STANDS_OFF,
        x1=berth.x1,
        y0=berth.y0,
        y1=berth.y1,
        z0=berth.z0,
        z1=berth.z1,
    )
    _refuse_small_sizes(name, spec, setting)
    count = spec.columns or columns_for(setting, berth.y1 - berth.y0, berth.x1 - berth.x0)
    columns = tuple(columns_of(count, berth, t))
    openings = tuple(_openings(spec, berth, setting))
    carcass(draft, shell, berth, columns)
    for column in columns:
        rails(draft, shell, column, openings)
        toe_board(draft, shell, column, openings[0])
        for opening in openings:
            _drawer(draft, spec, shell, column, opening)
    if spec.one_at_a_time:
        _one_at_a_time(draft)
    _fix(draft, spec, shell)
    return draft.finish(berth)


def _one_at_a_time(draft: Draft) -> None:
    """Each drawer runs out only while all others are shut."""
    ids = [motion.id for motion in draft.motions]
    draft.motions[:] = [
        dataclasses.replace(motion, shut=tuple(i for i in ids if i != motion.id))
        for motion in draft.motions
    ]


def _refuse_small_sizes(name: str, spec: DrawersSpec, setting: Setting) -> None:
    """Raise a DesignError for a depth or width given that no drawer has room in."""
    count = spec.columns or 1
    drawers = range(len(spec.stack))
    slides = [least_slide(spec.slides, setting, carried(spec, i)) for i in drawers]
    if spec.depth is not None:
        least = least_depth(setting.boards, slides)
        why = f"Slides {max(slides, key=lambda s: s.length).key} go in no less."
        refuse_too_small(("modules", name, "depth"), spec.depth, least, why)
    if spec.width is not None:
        least = count * least_column(setting.boards, slides)
        why = f"That leaves no room in {'a drawer' if count == 1 else f'{count} columns'}."
        refuse_too_small(("modules", name, "width"), spec.width, least, why)


def _refuse_low_box(draft: Draft, spec: DrawersSpec, number: int, box: float, slide: Slide) -> None:
    """Raise a DesignError when a drawer's box would be too low for its slides."""
    least = least_box(draft.setting.boards, slide)
    given = spec.stack[number - 1].front_height
    why = f"Slides {slide.key}, bottom and finger hole of drawer {number} go in no less."
    if given is not None:
        path: Path = ("modules", draft.name, "stack", number - 1, "front_height")
        refuse_too_small(path, given, given + least - box, why)
    elif spec.height is not None:
        free = sum(1 for d in spec.stack if d.front_height is None)
        wanted = spec.height + (least - box) * free
        refuse_too_small(("modules", draft.name, "height"), spec.height, wanted, why)


def _openings(spec: DrawersSpec, berth: Berth, setting: Setting) -> Iterator[Opening]:
    floor = setting.bay.floor if spec.on is None else None
    low = berth.z0 + max(FRONT_GAP, _rise(setting, floor))
    high = berth.z1 - setting.boards["deck"].thickness
    drawers = spec.stack
    fixed = sum(d.front_height for d in drawers if d.front_height)
    free = [d for d in drawers if not d.front_height]
    share = (high - low - FRONT_GAP * len(drawers) - fixed) / max(1, len(free))
    bottom = low
    for number, drawer in enumerate(drawers, start=1):
        height = drawer.front_height or share
        carries = carried(spec, number - 1)
        yield Opening(number=number, front0=bottom, front1=bottom + height, carries_kg=carries)
        bottom += height + FRONT_GAP


def _drawer(
    draft: Draft, spec: DrawersSpec, shell: Berth, column: Column, opening: Opening
) -> None:
    """One drawer: box, bottom, front, slides, and what it carries."""
    setting = draft.setting
    t = draft.board("carcass").thickness
    if opening.number == 1:
        low = max(shell.z0 + t + BASE_RISE, opening.front0)
    else:
        low = opening.front0 - FRONT_GAP / 2.0 + t / 2.0 + BOX_RISE
    last = opening.number == len(spec.stack)
    high = opening.front1 - (0.0 if last else t / 2.0 - FRONT_GAP / 2.0) - BOX_HEADROOM
    depth = shell.x1 - t - BACK_GAP - shell.x0
    rear = shell.x0 - FRONT_STANDS_OFF
    slide = choose_slide(spec.slides, setting, depth, opening.carries_kg, high - low)
    _refuse_low_box(draft, spec, opening.number, high - low, slide)
    label = f"drawer {opening.number}{column.suffix}"
    box = Berth(
        x0=rear,
        x1=shell.x0 + depth,
        y0=column.y0 + slide.side_clearance,
        y1=column.y1 - slide.side_clearance,
        z0=low,
        z1=high,
    )
    bottom = drawer_box(draft, label, box, label)
    above = "top" if last else f"rear rail {opening.number}{column.suffix}"
    wish = Pull(pull=spec.pull, latch=spec.latch, slide_locks=slide.locks, above=above)
    add_front(draft, wish, column, opening, (label, box))
    _slides(draft, label, box, column, slide, shell.x0)
    moving = tuple(p.id for p in draft.panels.values() if p.moves == label)
    draft.slides.append(
        SlideDuty(
            name=f"{draft.name}/{label}",
            slide=slide,
            moving=moving,
            contents_kg=opening.carries_kg,
        )
    )
    runs_out(draft, label, slide)
    inner = bottom.outline.size
    draft.plates.append(
        PlateDuty(
            panel=bottom.id,
            load_kg=opening.carries_kg,
            spans=inner,
            edges="all",
            purpose="its contents, spread",
            most_sag=(BOTTOM_RAISED + BOX_RISE) / 2.0,
        )
    )


def _slides(
    draft: Draft, label: str, box: Berth, column: Column, slide: Slide, rear: float
) -> None:
    """A pair of slides between a drawer box and the column's sides."""
    z = box.z0 + BOTTOM_RAISED + draft.board("bottom").thickness + 12.0
    z = min(z, box.z1 - slide.height)
    add_slide(
        draft, f"{label} left slide", slide, (rear, box.y1, z),
        (f"left side{column.suffix}", f"{label} left side"),
    )  # fmt: skip
    add_slide(
        draft, f"{label} right slide", slide, (rear, column.y0, z),
        (f"right side{column.suffix}", f"{label} right side"),
    )  # fmt: skip


def _fix(draft: Draft, spec: DrawersSpec, shell: Berth) -> None:
    """Down to the floor or to the module below; hand holes if it lifts out."""
    if spec.removable:
        for side in ("left side", "right side"):
            names = [n for n in draft.panels if n.startswith(side)]
            panel = draft.panels[names[0] if side == "left side" else names[-1]]
            width, height = panel.outline.size
            draft.cut_out(panel.name, [hand_hole(width / 2.0, height - 40.0, 110.0, 36.0)])
        lift = Motion(
            name="lift out",
            module=draft.name,
            kind=MotionKind.REMOVE,
            direction=(-1.0, 0.0, 0.0),
            travel=shell.x1,
        )
        draft.motions.append(lift)
    if spec.on is None:
        fix_to_floor(draft, "base", shell, count=2 if spec.removable else 4)
        return
    fix_to_module(draft, "base", shell, spec.on)


KIND = Kind(kind=DrawersSpec.kind, spec=DrawersSpec, needs=needs, build=build)
