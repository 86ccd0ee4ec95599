"""Fridge slide: a fridge strapped to a tray that runs out rearward on a pair of slides.

    seen from behind                      seen from the left, rear to the left

         +-----------+                       +-------------------+
         |  fridge   |                       |      fridge       |
      |s||           ||s|                 e #|                   |# e        rail
      |s|+-----------+|s|                 ==========tray base=========  gap   #
      |s|=============|s|                 +--------- side -----------+        #
    ===================== base            =============================== base

Cheeks stand on the base, the slides (s) hang between them and the tray's sides, and a rail
ties the cheeks together at the front. The tray's sides are the fridge's fences: high enough
to hold the slide, low enough for air to pass over them. Stops keep the fridge in place at
both ends; tie-down eyes (e) stand in the corners that the stops leave free.

The tray's base lies a little above the lower edges of its sides, which so guard the heads
of the eyes' bolts; the whole tray runs above the sill's lip. Where the berth is long enough
the tray is as long as the shortest slide that brings the whole fridge out of the module.
"""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass
from typing import Annotated, ClassVar, Literal

from fitout.model.design import ItemSpec, ModuleSpec
from fitout.model.hardware import Slide
from fitout.model.item import Item
from fitout.model.module import (
    Berth,
    JointKind,
    Module,
    PlateDuty,
    SlideDuty,
)
from fitout.model.panel import Grain, Panel
from fitout.model.placement import across, across_face_rear, along, along_face_left, flat
from fitout.model.spec import Length, Ref, Size, entry
from fitout.model.stock import Board
from fitout.modules.item_zones import add_item
from fitout.modules.joinery import BATTEN_SCREW, Draft, fix_to_floor, fix_to_module
from fitout.modules.kind import Extent, Kind, Needs, Setting
from fitout.modules.slides import add_slide, choose_slide, runs_out

PLAY = 4.0
"""Gap between the fridge and the stops and sides about it, mm (common practice)."""

STOP_HEIGHT = 40.0
"""Height of the stops that keep the fridge from sliding off the tray, mm (common practice)."""

EYE_ROOM = 36.0
"""Length and width of the tray's corner a tie-down eye takes: its plate of 30 mm and 3 about it."""

TRAY_RISE = 9.0
"""Gap between base and tray: the heads of M8 floor bolts, their washers and 1.5 mm above."""

BASE_RAISED = 8.0
"""How far the tray's base lies above its sides' lower edges: heads and washers of M6 bolts, mm."""

SLIDE_RAISED = 2.0
"""Gap between the tray base's upper face and the slides' lower edge, mm (common practice)."""

SIDE_ABOVE_SLIDE = 13.0
"""How far the tray's sides stand above the slides, mm (common practice)."""

BACK_GAP = 10.0
"""Gap between the shut tray and the rail behind it, mm (common practice)."""

HEADROOM = 10.0
"""Gap above the fridge, mm (common practice)."""

CORNERS = (("rear", "left"), ("front", "right"), ("rear", "right"), ("front", "left"))
"""Where the tie-down eyes go, in this order: two of them stand opposite each other."""

MOTION = "fridge"


@dataclass(frozen=True, slots=True, kw_only=True)
class FridgeSlideSpec(ModuleSpec):
    """A fridge on a tray that is drawn out at the tailgate."""

    kind: ClassVar[str] = "fridge slide"

    item: Annotated[str, Ref("items")] = entry("the fridge", example="fridge")
    slides: Annotated[str, Ref("slides")] | Literal["full extension", "heavy locking"] | None = (
        entry(
            "slides, or only their sort",
            default=None,
            otherwise="heavy locking, right out where they fit",
        )
    )
    tie_downs: Literal[0, 2, 4] = entry("how many eyes the fridge is strapped to", default=4)
    rear_gap: Length = entry("room kept between its tray and the shut tailgate", default=8.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tray:
    """Sizes of the tray and its slides. `end` is from the tray's end to the fridge."""

    slide: Slide
    board: Board
    end: float
    length: float
    sides: float
    fridge: ItemSpec

    @property
    def load_kg(self) -> float:
        """Mass of the full fridge."""
        return self.fridge.mass + (self.fridge.contents or 0.0)

    @property
    def inner(self) -> float:
        """Clear width between the tray's sides."""
        return self.fridge.size.width + 2.0 * PLAY

    def beside(self, cheek: float) -> float:
        """From the fridge's face to the outer face of a cheek of thickness `cheek`."""
        return PLAY + self.board.thickness + self.slide.side_clearance + cheek


def tray_sizes(spec: FridgeSlideSpec, setting: Setting, room: float = math.inf) -> Tray:
    """The tray for a berth that leaves it `room` of length; as long as is useful by default."""
    fridge = _widest(setting.items[spec.item])
    # Slides and eyes are screwed to the tray, so that a thin tray board won't do.
    board = max((setting.boards[r] for r in ("tray", "carcass")), key=lambda b: b.thickness)
    end = max(EYE_ROOM if spec.tie_downs else 0.0, board.thickness + PLAY)
    shortest = fridge.size.length + 2.0 * end
    slide = _slide(spec, setting, (shortest, end + fridge.size.length), max(room, shortest))
    return Tray(
        slide=slide,
        board=board,
        end=end,
        length=max(shortest, slide.length),
        sides=BASE_RAISED + board.thickness + SLIDE_RAISED + slide.height + SIDE_ABOVE_SLIDE,
        fridge=fridge,
    )


def _slide(
    spec: FridgeSlideSpec, setting: Setting, lengths: tuple[float, float], room: float
) -> Slide:
    """The shortest slide that brings the fridge right out; else the longest there is room for.

    `lengths` are the shortest tray's length and how far the tray must travel.
    """
    shortest, travel = lengths
    item = setting.items[spec.item]
    load_kg = item.mass + (item.contents or 0.0)
    wish = spec.slides or "heavy locking"
    if wish not in setting.catalogue.slides:
        sort = [s for s in setting.catalogue.slides.values() if s.key.startswith(wish)]
        rated = [s for s in sort if s.rating_kg >= load_kg]
        able = [s for s in rated if s.travel >= travel and s.length <= room]
        if able:
            return min(able, key=lambda s: (s.length, s.key))
    return choose_slide(wish, setting, room if room < math.inf else shortest, load_kg, math.inf)


def _widest(item: ItemSpec) -> ItemSpec:
    """The item, as long and wide all the way up as it is where it is largest."""
    top = item.top or (0.0, 0.0)
    length, width = max(item.size.length, top[0]), max(item.size.width, top[1])
    return dataclasses.replace(item, size=Size(length, width, item.size.height))


def _vent(fridge: ItemSpec, side: str, there: float) -> float:
    """Room a vent side needs beyond the `there` mm that the tray leaves it anyway."""
    return max(0.0, fridge.vent_gap - there) if side in fridge.vents else 0.0


def _tray_low(berth_z0: float, setting: Setting) -> float:
    """Height of the tray's lower edges: above the base, and above the sill's lip."""
    rules, bay = setting.rules, setting.bay
    standing = berth_z0 + setting.boards["carcass"].thickness + TRAY_RISE
    return max(standing, bay.lip + 2.0 * rules.moving)


def _rear_vent(tray: Tray) -> float:
    return _vent(tray.fridge, "rear", tray.end)


def _ahead(tray: Tray, cheek: float) -> float:
    """From the tray's front end to the module's: the gap and rail, or more for a vent."""
    spare = tray.length - tray.end - tray.fridge.size.length + BACK_GAP + cheek
    return BACK_GAP + cheek + _vent(tray.fridge, "front", spare)


def needs(spec: FridgeSlideSpec, setting: Setting) -> Needs:
    """Room for the fridge, its tray, slides and cheeks, and the air its vents need."""
    cheek = setting.boards["carcass"].thickness
    short, useful = tray_sizes(spec, setting, 0.0), tray_sizes(spec, setting)
    fridge, beside = useful.fridge, useful.beside(cheek)
    vents = sum(_vent(fridge, side, beside) for side in ("left", "right"))
    width = fridge.size.width + 2.0 * beside + vents
    least, wanted = (_rear_vent(t) + t.length + _ahead(t, cheek) for t in (short, useful))
    low = _tray_low(setting.bay.floor, setting) - setting.bay.floor
    if spec.on is not None:
        low = cheek + TRAY_RISE
    height = low + BASE_RAISED + useful.board.thickness + fridge.size.height + HEADROOM
    return Needs(
        x=_extent(spec.depth, least, max(least, wanted), "depth"),
        y=_extent(spec.width, width, width, "width"),
        z=_extent(spec.height, height, height, "height"),
        top="below deck",
        opens_rear=True,
    )


def _extent(given: float | None, least: float, wanted: float, key: str) -> Extent:
    if given is None:
        return Extent(least=least, wanted=wanted, most=least if wanted == least else None)
    # A size too small for the fridge shows as a conflict between `least` and `most`.
    return Extent(least=max(given, least), most=given, given=key)


def build(name: str, spec: FridgeSlideSpec, berth: Berth | None, setting: Setting) -> Module:
    """Base, cheeks, tray, slides, fridge and fixings in the berth."""
    assert berth is not None
    draft = Draft(name, FridgeSlideSpec.kind, setting)
    cheek = draft.board("carcass").thickness
    short = tray_sizes(spec, setting, 0.0)
    room = berth.x1 - berth.x0 - _rear_vent(short) - BACK_GAP - cheek
    tray = tray_sizes(spec, setting, room)
    shell = _shell(tray, berth, cheek)
    low = _tray_low(berth.z0, setting)
    box = Berth(
        x0=shell.x0,
        x1=shell.x0 + tray.length,
        y0=shell.y0 + cheek + tray.slide.side_clearance,
        y1=shell.y1 - cheek - tray.slide.side_clearance,
        z0=low,
        z1=low + tray.sides,
    )
    _housing(draft, berth, shell, box.z1)
    _tray(draft, spec, tray, box)
    _stops(draft, spec, tray, box)
    _hang(draft, tray, box)
    _fridge(draft, spec, tray, box)
    _duties(draft, tray, box)
    y0, y1 = shell.y0 + cheek, shell.y1 - cheek
    inside = dataclasses.replace(shell, x1=shell.x1 - cheek, y0=y0, y1=y1)
    if spec.on is None:
        fix_to_floor(draft, "base", inside)
    else:
        fix_to_module(draft, "base", inside, spec.on)
    return draft.finish(berth)


def _shell(tray: Tray, berth: Berth, cheek: float) -> Berth:
    """From cheek to cheek and over their length: the berth less the room for air."""
    beside = tray.beside(cheek)
    width = tray.fridge.size.width + 2.0 * beside
    left = _vent(tray.fridge, "left", beside)
    right = _vent(tray.fridge, "right", beside)
    spare = berth.y1 - berth.y0 - width - left - right
    y0 = berth.y0 + right + spare / 2.0
    return dataclasses.replace(berth, x0=berth.x0 + _rear_vent(tray), y0=y0, y1=y0 + width)


def _housing(draft: Draft, berth: Berth, shell: Berth, top: float) -> None:
    """The base over the berth's whole width, the cheeks on it, the rail between them."""
    board = draft.board("carcass")
    t = board.thickness
    depth, z = shell.x1 - shell.x0, shell.z0 + t
    base = (depth, berth.y1 - berth.y0)
    draft.panel("base", board, base, flat(shell.x0, berth.y0, shell.z0))
    if shell.z0 <= draft.setting.bay.floor + 1e-6:
        draft.rest("base", "bay/floor")
    left, right = along(shell.x0, shell.y1, z), along_face_left(shell.x1, shell.y0, z)
    draft.panel("left cheek", board, (depth, top - z), left, grain=Grain.ALONG_U)
    draft.panel("right cheek", board, (depth, top - z), right, grain=Grain.ALONG_U)
    rail = across_face_rear(shell.x1, shell.y1 - t, z)
    draft.panel("rail", board, (shell.y1 - shell.y0 - 2.0 * t, top - z), rail, grain=Grain.ALONG_U)
    x = shell.x1 - t / 2.0
    for cheek, y in (("left cheek", shell.y1 - t / 2.0), ("right cheek", shell.y0 + t / 2.0)):
        draft.screw("base", cheek, (shell.x0, y, shell.z0), (shell.x1, y, shell.z0))
        draft.screw(cheek, "rail", (x, y, z), (x, y, top))
    draft.join("base", "rail", JointKind.FITTED)


def _tray(draft: Draft, spec: FridgeSlideSpec, tray: Tray, box: Berth) -> None:
    """The tray's base between its sides, with the eyes' bolt holes."""
    board = tray.board
    t = board.thickness
    y0, y1, z = box.y0 + t, box.y1 - t, box.z0 + BASE_RAISED
    size = (tray.length, y1 - y0)
    # The face grain runs across, the way the base spans from side to side.
    draft.panel("tray base", board, size, flat(box.x0, y0, z), grain=Grain.ALONG_V, moves=MOTION)
    for side, placement, y in (
        ("tray left side", along_face_left(box.x1, y1, box.z0), y1),
        ("tray right side", along(box.x0, y0, box.z0), y0),
    ):
        draft.panel(
            side,
            board,
            (tray.length, tray.sides),
            placement,
            grain=Grain.ALONG_U,
            edging="upper edge rounded",
            moves=MOTION,
        )
        draft.screw(side, "tray base", (box.x0, y, z + t / 2.0), (box.x1, y, z + t / 2.0))
    eye = draft.setting.catalogue.articles["tie-down eye"]
    eyes = [
        (_eye_x(tray, box, end), y1 - EYE_ROOM / 2.0 if side == "left" else y0 + EYE_ROOM / 2.0, z)
        for end, side in CORNERS[: spec.tie_downs]
    ]
    if eyes:
        draft.drill_at("tray base", eyes, eye.clearance_hole or 6.6, "tie-down eye")
        # Board, washer, eye and nut together: 30 mm serve boards up to 18 mm.
        bolt = "bolt M6 x 30" if t <= 18.0 else "bolt M6 x 40"
        for article in ("tie-down eye", bolt, "large washer M6", "lock nut M6"):
            draft.buy(article, len(eyes), "tie-down")
        draft.buy("cam strap 25", len(eyes) // 2, "tie-down")


def _eye_x(tray: Tray, box: Berth, end: str) -> float:
    rear = box.x0 + tray.end
    if end == "rear":
        return rear - EYE_ROOM / 2.0
    return rear + tray.fridge.size.length + EYE_ROOM / 2.0


def _stops(draft: Draft, spec: FridgeSlideSpec, tray: Tray, box: Berth) -> None:
    """An upright stop at each end of the fridge, short of the corners the eyes take."""
    board = tray.board
    t = board.thickness
    z = box.z0 + BASE_RAISED + t
    eyes = CORNERS[: spec.tie_downs]
    rear = box.x0 + tray.end - PLAY - t
    front = box.x0 + tray.end + tray.fridge.size.length + PLAY
    for end, x in (("rear", rear), ("front", front)):
        y0 = box.y0 + t + (EYE_ROOM if (end, "right") in eyes else 0.0)
        y1 = box.y1 - t - (EYE_ROOM if (end, "left") in eyes else 0.0)
        stop = f"{end} stop"
        draft.panel(
            stop, board, (y1 - y0, STOP_HEIGHT), across(x, y0, z), grain=Grain.ALONG_U, moves=MOTION
        )
        middle = x + t / 2.0
        draft.screw("tray base", stop, (middle, y0, z), (middle, y1, z), BATTEN_SCREW)
        for side in ("left", "right"):
            if (end, side) not in eyes:
                draft.join(stop, f"tray {side} side", JointKind.FITTED)


def _hang(draft: Draft, tray: Tray, box: Berth) -> None:
    """The pair of slides between the tray's sides and the cheeks."""
    z = box.z0 + BASE_RAISED + tray.board.thickness + SLIDE_RAISED
    right = box.y0 - tray.slide.side_clearance
    for side, y in (("left", box.y1), ("right", right)):
        panels = (f"{side} cheek", f"tray {side} side")
        add_slide(draft, f"{side} slide", tray.slide, (box.x0, y, z), panels)


def _fridge(draft: Draft, spec: FridgeSlideSpec, tray: Tray, box: Berth) -> None:
    """The fridge on the tray, with the room its vents and its lid need."""
    t = tray.board.thickness
    y, z = box.y0 + t + PLAY, box.z0 + BASE_RAISED + t
    add_item(draft, spec.item, flat(box.x0 + tray.end, y, z), boxed=box.z1 - z, moves=MOTION)
    draft.rest(spec.item, "tray base")


def _duties(draft: Draft, tray: Tray, box: Berth) -> None:
    """What runs out, what the slides and the tray's base carry."""
    parts: list[Panel | Item] = [*draft.panels.values(), *draft.items]
    draft.slides.append(
        SlideDuty(
            name=f"{draft.name}/{MOTION}",
            slide=tray.slide,
            moving=tuple(p.id for p in parts if p.moves == MOTION),
            contents_kg=tray.fridge.contents or 0.0,
        )
    )
    runs_out(draft, MOTION, tray.slide)
    draft.plates.append(
        PlateDuty(
            panel=f"{draft.name}/tray base",
            load_kg=tray.load_kg,
            spans=(box.x1 - box.x0, tray.inner),
            edges="v ends",
            purpose="the fridge, spread",
        )
    )


KIND = Kind(kind=FridgeSlideSpec.kind, spec=FridgeSlideSpec, needs=needs, build=build)
