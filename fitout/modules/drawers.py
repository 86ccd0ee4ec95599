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

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, ClassVar, Literal

from fitout.model.design import ModuleSpec
from fitout.model.hardware import Slide
from fitout.model.module import (
    Berth,
    JointKind,
    Module,
    Motion,
    MotionKind,
    PlateDuty,
    SlideDuty,
)
from fitout.model.outline import circle
from fitout.model.panel import Grain, Panel
from fitout.model.placement import (
    across,
    across_face_rear,
    along,
    along_face_left,
    flat,
)
from fitout.model.spec import Length, Mass, PositiveLength, Ref, entry
from fitout.modules.joinery import (
    GROOVE_END_PLAY,
    Draft,
    fix_to_floor,
    fix_to_module,
    groove,
    groove_depth,
    hand_hole,
)
from fitout.modules.kind import Extent, Kind, Needs, Setting
from fitout.modules.slides import add_slide, choose_slide

FRONT_GAP = 3.0
"""Gap between a front and what is beside, above or below it, mm (common practice)."""

FRONT_STANDS_OFF = 2.0
"""Gap between a shut front and the carcass's rear edges, mm (common practice)."""

BOX_RISE = 4.0
"""Least gap below a drawer box, mm (common practice)."""

BOX_HEADROOM = 8.0
"""Gap above a drawer box, mm (common practice)."""

BACK_GAP = 10.0
"""Gap between a shut drawer box and the carcass's back, mm (common practice)."""

BOTTOM_RAISED = 10.0
"""How far the groove for the bottom lies above a drawer side's lower edge, mm (common practice)."""

LEAST_OPENING = 90.0
USUAL_OPENING = 215.0
LEAST_COLUMN = 220.0
LEAST_DEPTH = 340.0
USUAL_LOADS_KG = (40.0, 20.0)
"""What the lowest drawer and the others are taken to carry unless said (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawerSpec:
    """One drawer of the stack."""

    carries: Mass | None = entry("the load it is to carry", default=None)
    front_height: PositiveLength | None = entry("height of its front", default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawersSpec(ModuleSpec):
    """Drawers in a carcass, drawn out at the tailgate."""

    kind: ClassVar[str] = "drawers"

    stack: tuple[DrawerSpec, ...] = entry(
        "the drawers from the lowest up", default=(DrawerSpec(), DrawerSpec())
    )
    columns: Annotated[int, "1 to 4"] = entry("how many stacks side by side", default=1)
    slides: Annotated[str, Ref("slides")] | Literal["full extension", "heavy locking"] | None = (
        entry("slides, or only their sort; the longest that fits is taken", default=None)
    )
    pull: Literal["finger hole", "latch"] = entry("what opens a front", default="finger hole")
    removable: bool = entry("whether the module lifts out as a whole", default=False)
    rear_gap: Length = entry("room kept between its fronts and the shut tailgate", default=8.0)


def needs(spec: DrawersSpec, setting: Setting) -> Needs:
    """Room for the columns side by side and the drawers above each other."""
    t = setting.boards["carcass"].thickness
    rise = _rise(setting, setting.bay.floor if spec.on is None else None)
    fixed = sum(d.front_height for d in spec.stack if d.front_height)
    free = sum(1 for d in spec.stack if not d.front_height)
    frame = max(t, rise) + t + FRONT_GAP * len(spec.stack)
    across = 2.0 * t * spec.columns
    return Needs(
        x=_extent(spec.depth, LEAST_DEPTH, None, "depth"),
        y=_extent(spec.width, across + LEAST_COLUMN * spec.columns, None, "width"),
        z=_extent(
            spec.height,
            frame + fixed + free * LEAST_OPENING,
            frame + fixed + free * USUAL_OPENING,
            "height",
        ),
        top="deck",
        opens_rear=True,
    )


def _extent(given: float | None, least: float, wanted: float | None, key: str) -> Extent:
    if given is not None:
        return Extent(least=given, most=given, given=key)
    return Extent(least=least, wanted=wanted, fills=wanted is None)


def _rise(setting: Setting, floor: float | None) -> float:
    """How far above the carcass's underside the lowest drawer must start to clear the lip."""
    if floor is None:
        return 0.0
    return setting.bay.lip - floor + 2.0 * setting.rules.moving


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column: the clear room between its two sides, and its name's ending."""

    suffix: str
    y0: float
    y1: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """One drawer's place: heights of its front, and the lowest its box may hang."""

    number: int
    front0: float
    front1: float
    carries_kg: float


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
    columns = tuple(_columns(spec.columns, berth, t))
    openings = tuple(_openings(spec, berth, setting, t))
    _carcass(draft, shell, berth, columns)
    for column in columns:
        _rails(draft, shell, column, openings)
        for opening in openings:
            _drawer(draft, spec, shell, column, opening)
    _fix(draft, spec, shell)
    return draft.finish(berth)


def _columns(count: int, berth: Berth, t: float) -> Iterator[Column]:
    pitch = (berth.y1 - berth.y0) / count
    for i in range(count):
        # Columns are counted from the left; each has sides of its own, so that the slides'
        # screws of two neighbours never meet in one board.
        y1 = berth.y1 - i * pitch
        suffix = "" if count == 1 else f" {('left', 'right')[i]}" if count == 2 else f" {i + 1}"
        yield Column(suffix=suffix, y0=y1 - pitch + t, y1=y1 - t)


def _openings(spec: DrawersSpec, berth: Berth, setting: Setting, t: float) -> Iterator[Opening]:
    floor = setting.bay.floor if spec.on is None else None
    low = berth.z0 + max(FRONT_GAP, _rise(setting, floor))
    high = berth.z1 - t
    fixed = sum(d.front_height for d in spec.stack if d.front_height)
    free = [d for d in spec.stack if not d.front_height]
    share = (high - low - FRONT_GAP * len(spec.stack) - fixed) / max(1, len(free))
    bottom = low
    for number, drawer in enumerate(spec.stack, start=1):
        height = drawer.front_height or share
        usual = USUAL_LOADS_KG[0 if number == 1 else 1]
        carries = usual if drawer.carries is None else drawer.carries
        yield Opening(number=number, front0=bottom, front1=bottom + height, carries_kg=carries)
        bottom += height + FRONT_GAP


def _carcass(draft: Draft, shell: Berth, berth: Berth, columns: tuple[Column, ...]) -> None:
    board = draft.board("carcass")
    t = board.thickness
    depth, width = shell.x1 - shell.x0, shell.y1 - shell.y0
    draft.panel("base", board, (depth, width), flat(shell.x0, shell.y0, shell.z0))
    top_board = draft.board("deck")
    draft.panel(
        "top",
        top_board,
        (berth.x1 - berth.x0, width),
        flat(berth.x0, berth.y0, berth.z1 - top_board.thickness),
        grain=Grain.ALONG_V,
        edging="rear edge rounded",
    )
    lift = shell.z1 - shell.z0 - t - top_board.thickness
    for column in columns:
        left, right = f"left side{column.suffix}", f"right side{column.suffix}"
        z = shell.z0 + t
        draft.panel(left, board, (depth, lift), along(shell.x0, column.y1 + t, z))
        draft.panel(right, board, (depth, lift), along_face_left(shell.x1, column.y0 - t, z))
        back = f"back{column.suffix}"
        clear = column.y1 - column.y0
        draft.panel(back, board, (clear, lift), across_face_rear(shell.x1, column.y1, z))
        for side, y in ((left, column.y1 + t / 2.0), (right, column.y0 - t / 2.0)):
            for plate, height_at in (("base", shell.z0), ("top", shell.z1)):
                draft.screw(plate, side, (shell.x0, y, height_at), (shell.x1, y, height_at))
            x = shell.x1 - t / 2.0
            draft.screw(side, back, (x, y, z), (x, y, z + lift))
        for plate in ("base", "top"):
            draft.join(plate, back, JointKind.FITTED)
    for a, b in itertools.pairwise(columns):
        draft.join(f"right side{a.suffix}", f"left side{b.suffix}", JointKind.SCREWED)
        draft.buy("wood screw 3.5 x 16", 6, "column to column")
    if shell.z0 <= draft.setting.bay.floor + 1e-6:
        draft.rest("base", "bay/floor")
    clear = columns[0].y1 - columns[0].y0
    knee = PlateDuty(
        panel=f"{draft.name}/top",
        load_kg=0.0,
        spans=(depth - t, clear),
        edges="v ends",
        purpose="a knee on the deck",
        patch=True,
    )
    draft.plates.append(knee)


RAIL = 60.0
"""Width of the rails between stacked drawers, mm."""


def _rails(draft: Draft, shell: Berth, column: Column, openings: tuple[Opening, ...]) -> None:
    """Two flat rails between each pair of stacked drawers keep the carcass square."""
    board = draft.board("carcass")
    t = board.thickness
    clear = column.y1 - column.y0
    for below in openings[:-1]:
        z = below.front1 + FRONT_GAP / 2.0 - t / 2.0
        for place, x in (("rear", shell.x0), ("front", shell.x1 - t - RAIL)):
            rail = f"{place} rail {below.number}{column.suffix}"
            draft.panel(rail, board, (RAIL, clear), flat(x, column.y0, z), grain=Grain.ALONG_V)
            for side, y in (("left", column.y1 + t / 2.0), ("right", column.y0 - t / 2.0)):
                through = f"{side} side{column.suffix}"
                middle = z + t / 2.0
                draft.screw(through, rail, (x, y, middle), (x + RAIL, y, middle))
            if place == "front":
                draft.join(rail, f"back{column.suffix}", JointKind.FITTED)


def _drawer(
    draft: Draft, spec: DrawersSpec, shell: Berth, column: Column, opening: Opening
) -> None:
    """One drawer: box, bottom, front, slides, and what it carries."""
    setting = draft.setting
    t = draft.board("carcass").thickness
    if opening.number == 1:
        low = max(shell.z0 + t + BOX_RISE, opening.front0)
    else:
        low = opening.front0 - FRONT_GAP / 2.0 + t / 2.0 + BOX_RISE
    last = opening.number == len(spec.stack)
    high = opening.front1 - (0.0 if last else t / 2.0 - FRONT_GAP / 2.0) - BOX_HEADROOM
    depth = shell.x1 - t - BACK_GAP - shell.x0
    rear = shell.x0 - FRONT_STANDS_OFF
    slide = choose_slide(spec.slides, setting, depth, opening.carries_kg, high - low)
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
    _front(draft, spec, column, opening, label, box)
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
    draft.motions.append(
        Motion(
            name=label,
            module=draft.name,
            kind=MotionKind.SLIDE,
            direction=(-1.0, 0.0, 0.0),
            travel=slide.travel,
        )
    )
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


def _front(
    draft: Draft,
    spec: DrawersSpec,
    column: Column,
    opening: Opening,
    label: str,
    box: Berth,
) -> None:
    """The front over the carcass's rear edge, screwed to the box from inside."""
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
    draft.join(name, f"{label} inner front", JointKind.SCREWED)
    draft.join(name, f"{label} left side", JointKind.FITTED)
    draft.join(name, f"{label} right side", JointKind.FITTED)
    for x in (box.y0 + 60.0, box.y1 - 60.0):
        for z in (box.z0 + 35.0, box.z1 - 20.0):
            draft.drill_at(f"{label} inner front", [(box.x0, x, z)], 4.5, "screw to front")
    draft.buy("wood screw 3.5 x 16", 4, "front to drawer")
    width, height = panel.outline.size
    if spec.pull == "finger hole":
        draft.cut_out(name, [hand_hole(width / 2.0, height - 32.0, length=min(100.0, width / 3.0))])
    else:
        latch = draft.setting.catalogue.articles["push-button latch"]
        draft.cut_out(name, [circle(width / 2.0, height - 30.0, latch.clearance_hole or 22.0)])
        draft.buy("push-button latch", 1, "front")


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
        fix_to_floor(draft, "base", shell)
        return
    fix_to_module(draft, "base", shell, spec.on)


KIND = Kind(kind=DrawersSpec.kind, spec=DrawersSpec, needs=needs, build=build)
