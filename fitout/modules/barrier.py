r"""A cargo barrier behind the seat back: a frame, a panel scribed to the walls, a shelf.

    seen from behind                          seen from the left, rear to the left

     _______________________________          roof
    /  |=========== rail ========|  \                        #|
    |  | +---- pass-through ---+ |  |          lip |          ||
    |==#=#========= shelf =====#=#==|              +==========#|  shelf
    |  | \  window  |  window  /|  |                  bracket |#|
    |  |==\========rail=======/=|  |                          #|
    +--|------------------------|---+          deck -----------#|
       |                        |                               |  post
      ===                      ===             floor           ====  foot plate

The panel is on the rear face of the posts and follows wall and wheel arch. It begins just
above the deck where there is one, so that goods below reach through between the posts.
The shelf stands out rearward from the panel for light goods, which are reached from the
seat through the opening above it.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, ClassVar, Literal

from fitout.model.design import ModuleSpec
from fitout.model.module import Berth, JointKind, Module, Remark
from fitout.model.panel import Grain
from fitout.model.placement import across_face_rear
from fitout.model.spec import Length, Mass, PositiveLength, Ref, entry
from fitout.modules.barrier_frame import (
    ALUMINIUM_FOOT,
    FOOT_BOLTS,
    FOOT_END,
    STEEL_FOOT,
    Frame,
    bolt_points,
    bolt_through,
    build_frame,
    foot_section,
    post_extent,
    posts_pass,
)
from fitout.modules.barrier_openings import (
    WEB,
    PassThroughSpec,
    VisionSpec,
    height_for,
    keep_hand_room,
    loop_of,
    pass_through,
    windows,
)
from fitout.modules.barrier_shelf import (
    ABOVE_RAIL,
    LEAST_LEG,
    Shelf,
    build_shelf,
    place_shelf,
)
from fitout.modules.joinery import Draft
from fitout.modules.kind import Extent, Kind, Needs, Setting
from fitout.modules.scribe import across_outline, upright_edge
from fitout.survey.room import roof_height

CORNER = 25.0
"""Radius of the panel's outer corners, mm."""

BOLT_SPACING = 200.0
"""Greatest distance between the bolts that hold the panel to its frame, mm (common practice)."""

BOLT = "bolt M6"
NUT, WASHER = "lock nut M6", "large washer M6"
NUT_AND_WASHERS = 10.0
"""What a bolt needs beyond panel and tube for nut and two washers, mm."""

ABOVE_DECK = 2.0
"""Least gap between the deck and the panel's lower edge, mm."""

ABOVE_FOOT = 25.0
"""How far the lower rail stays above the foot plates, for their bolt heads, mm."""

MID_RAIL_FROM = 700.0
"""A panel higher than this gets a rail across its middle, mm (common practice)."""

BETWEEN_RAILS = 20.0
"""With less room than this between lower and upper rail there is the upper one alone, mm."""

ABOVE_SHELF = 20.0
"""Least room from the shelf's top to the upper rail and the roof, mm."""

LEAST_HEIGHT = 400.0
USUAL_BELOW_ROOF = 190.0
"""Height of the room between shelf and roof unless said, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfSpec:
    """The shelf for light goods on the barrier's rear face."""

    depth: PositiveLength = entry("how far it stands out rearward", default=250.0)
    lip: Length = entry("height of the board along its rear edge", default=50.0)
    below_roof: PositiveLength | None = entry(
        "from its top to the roof", default=None, example="180"
    )
    light_load: Mass = entry("the light goods it carries, spread", default=8.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class BarrierSpec(ModuleSpec):
    """A barrier across the bay behind the seat back."""

    kind: ClassVar[str] = "barrier"

    shelf: bool | ShelfSpec = entry(
        "a shelf for light goods, or its sizes", default=False, example="{depth: 240, lip: 50}"
    )
    vision: bool | VisionSpec = entry(
        "windows to see through, or their size",
        default=True,
        example="{width: 400, height: 150}",
    )
    pass_through: bool | PassThroughSpec | None = entry(
        "an opening to reach the shelf from the seat, or its size",
        default=None,
        example="{width: 600, height: 160}",
        otherwise="with a shelf there is one, without a shelf there is none",
    )
    frame: Annotated[str, Ref("sections")] = entry(
        "what posts and rails are made of", default="steel tube 30 x 30 x 2"
    )
    stands_on: Literal["floor", "deck"] = entry("what its posts stand on", default="floor")


def needs(spec: BarrierSpec, setting: Setting) -> Needs:
    """Room for panel and posts across the bay, from floor to roof."""
    sections = setting.catalogue.sections
    feet = max(sections[STEEL_FOOT].width, sections[ALUMINIUM_FOOT].width)
    deep = setting.boards["barrier"].thickness + sections[spec.frame].height
    depth = max(deep, feet, spec.depth or 0.0)
    frame = sections[spec.frame]
    return Needs(
        x=Extent(least=depth, most=depth, given="" if spec.depth is None else "depth"),
        y=_extent(spec.width, "width"),
        z=_extent(spec.height, "height"),
        lateral="across",
        place="front",
        ends=(max(feet, sections[spec.frame].width), FOOT_BOLTS[-1] + FOOT_END),
        hollow=frame.height if posts_pass(frame, depth, setting) else 0.0,
    )


def _extent(given: float | None, key: str) -> Extent:
    if given is None:
        return Extent(least=LEAST_HEIGHT, fills=True)
    return Extent(least=given, most=given, given=key)


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Where panel, frame, shelf and openings stand, in bay coordinates."""

    panel: Berth
    frame: Frame
    shelf: Shelf | None
    pass_through: Berth | None
    windows: tuple[Berth, ...]


def build(name: str, spec: BarrierSpec, berth: Berth | None, setting: Setting) -> Module:
    """Frame, panel with its openings and bolts, shelf and fixings in the berth."""
    assert berth is not None
    draft = Draft(name, BarrierSpec.kind, setting)
    plan = _plan(draft, spec, berth)
    _panel(draft, plan)
    _bolt_on(draft, plan)
    if plan.shelf is not None:
        build_shelf(draft, plan.shelf)
    if plan.pass_through is not None:
        keep_hand_room(draft, plan.pass_through)
    draft.needs_fixings = 4
    return draft.finish(berth, tuple(_remarks(draft, spec, plan)))


def _plan(draft: Draft, spec: BarrierSpec, berth: Berth) -> Plan:
    """The places of all parts, from the roof down and the floor up."""
    setting = draft.setting
    section = setting.catalogue.sections[spec.frame]
    t = draft.board("barrier").thickness
    x1 = berth.x1
    tube = (x1 - section.height, x1)
    foot = _foot_level(spec, berth, setting)
    feet = foot_section(draft, section).height
    bottom = foot + feet + ABOVE_DECK
    if setting.deck is not None:
        bottom = max(bottom, setting.deck + max(ABOVE_DECK, setting.rules.parts))
    roof = roof_height(setting.bay, tube[0] - t, x1, clear=setting.rules.wall)
    # The berth ends under the lowest roof of the whole bay; the panel follows the roof here.
    top = roof if spec.height is None else min(berth.z1, roof)
    half = math.inf if spec.width is None else spec.width / 2.0
    panel = Berth(x0=tube[0] - t, x1=tube[0], y0=-half, y1=half, z0=bottom, z1=top)
    posts = _posts(draft, spec, tube, (foot, top))
    left, right = (upright_edge(setting.bay, s, panel, setting.rules.scribed, half)[-1][1]
                   for s in ("left", "right"))  # fmt: skip
    spare = min(left - posts[1][1], right + posts[0][0])
    post_top = top - (5.0 if spare >= CORNER else CORNER)
    low = max(bottom, foot + feet + ABOVE_FOOT)
    rails: tuple[tuple[str, float], ...] = (("upper rail", post_top - section.width),)
    if post_top - 2.0 * section.width - low >= BETWEEN_RAILS:
        rails = (("lower rail", low), *rails)
    frame = Frame(
        section=section, x0=tube[0], x1=x1, foot=foot, top=post_top, posts=posts, rails=rails
    )
    return _with_openings(draft, spec, panel, frame)


def _foot_level(spec: BarrierSpec, berth: Berth, setting: Setting) -> float:
    """The height the foot plates stand at; a deck is another module's, so they clear it."""
    if spec.stands_on == "floor" or setting.deck is None:
        return berth.z0
    return max(berth.z0, setting.deck + max(ABOVE_DECK, setting.rules.parts))


def _posts(
    draft: Draft, spec: BarrierSpec, depth: tuple[float, float], height: tuple[float, float]
) -> tuple[tuple[float, float], tuple[float, float]]:
    section = draft.setting.catalogue.sections[spec.frame]
    right = post_extent(draft, "right", section, depth, height)
    left = post_extent(draft, "left", section, depth, height)
    if spec.width is not None:
        most = spec.width / 2.0 - draft.setting.rules.wall
        left = (min(left[1], most) - section.width, min(left[1], most))
        right = (max(right[0], -most), max(right[0], -most) + section.width)
    return right, left


def _with_openings(draft: Draft, spec: BarrierSpec, panel: Berth, frame: Frame) -> Plan:
    """Shelf, pass-through, windows and, in a high panel, a rail across the middle."""
    low, high = frame.rails[0][1] + frame.section.width, frame.rails[-1][1]
    shelf = None
    wish = _shelf_wish(spec)
    if wish is not None and _lacks_shelf_room(draft, wish, panel, frame) is None:
        lowest, highest = _shelf_levels(draft, wish, panel, frame)
        level = min(max(_shelf_level(draft, spec, wish, panel, frame), lowest), highest)
        shelf = place_shelf(draft, panel, frame, (wish.depth, wish.lip, wish.light_load), level)
    opening = _opening(draft, spec, frame, shelf)
    ceiling = high
    if shelf is not None:
        ceiling = shelf.z0
    elif opening is not None:
        ceiling = opening.z0 - 10.0
    band = (low + WEB, ceiling - WEB)
    seen: tuple[Berth, ...] = ()
    if spec.vision is not False:
        vision = VisionSpec() if spec.vision is True else spec.vision
        seen = tuple(windows(vision, frame, shelf, band, draft.board("barrier").thickness))
    if panel.z1 - panel.z0 > MID_RAIL_FROM:
        under = min([ceiling, *(w.z0 for w in seen)])
        if shelf is not None:
            under = min(under, shelf.z0 - shelf.leg)
        width = frame.section.width
        z = min((low + high - width) / 2.0, under - WEB - width)
        if z > low + width:
            rails = (frame.rails[0], ("middle rail", z), frame.rails[-1])
            frame = dataclasses.replace(frame, rails=rails)
    return Plan(panel=panel, frame=frame, shelf=shelf, pass_through=opening, windows=seen)


def _shelf_wish(spec: BarrierSpec) -> ShelfSpec | None:
    if isinstance(spec.shelf, ShelfSpec):
        return spec.shelf
    return ShelfSpec() if spec.shelf else None


def _shelf_levels(draft: Draft, wish: ShelfSpec, panel: Berth, frame: Frame) -> tuple[float, float]:
    """The lowest and highest a shelf's top may lie: over its brackets, under rail and roof."""
    setting, t = draft.setting, draft.board("barrier").thickness
    lowest = frame.rails[0][1] + frame.section.width + ABOVE_RAIL + LEAST_LEG + t
    rear = panel.x0 - wish.depth
    roof = roof_height(setting.bay, rear, panel.x0, clear=setting.rules.wall)
    return lowest, min(frame.rails[-1][1], roof) - ABOVE_SHELF


def _lacks_shelf_room(
    draft: Draft, wish: ShelfSpec, panel: Berth, frame: Frame
) -> tuple[float, float] | None:
    """The height a shelf with its brackets wants above the lower rail, and what there is.

    None where there is enough.
    """
    lowest, highest = _shelf_levels(draft, wish, panel, frame)
    if lowest <= highest:
        return None
    rail = frame.rails[0][1] + frame.section.width
    return lowest + ABOVE_SHELF - rail, max(0.0, highest + ABOVE_SHELF - rail)


def _shelf_level(
    draft: Draft, spec: BarrierSpec, wish: ShelfSpec, panel: Berth, frame: Frame
) -> float:
    """The height of the shelf's top: as told, as the pass-through needs, or as is usual."""
    roof = roof_height(draft.setting.bay, panel.x0, frame.x1)
    if wish.below_roof is not None:
        return roof - wish.below_roof
    opening = spec.pass_through
    if isinstance(opening, PassThroughSpec) and opening.height is not None:
        return height_for(frame, opening.height)
    return panel.z1 - min(USUAL_BELOW_ROOF, 0.4 * (panel.z1 - panel.z0))


def _opening(draft: Draft, spec: BarrierSpec, frame: Frame, shelf: Shelf | None) -> Berth | None:
    """The pass-through; unless it is wished for, only above a shelf and behind a seat."""
    wish = spec.pass_through
    if wish is None and (shelf is None or draft.setting.bay.front_kind != "seat_back"):
        return None
    if wish is False:
        return None
    return pass_through(
        wish if isinstance(wish, PassThroughSpec) else PassThroughSpec(), frame, shelf
    )


def _remarks(draft: Draft, spec: BarrierSpec, plan: Plan) -> Iterator[Remark]:
    """What the builder asked for and does not get."""
    if spec.vision is not False and not plan.windows:
        yield Remark(
            "barrier vision",
            "There is no room for windows in the barrier: the view to the rear is through the "
            "outer mirrors alone.",
        )
    wish = spec.pass_through
    if wish and plan.pass_through is None:
        yield Remark(
            "barrier opening",
            "There is no room for a hand between shelf and upper rail: give the shelf a greater "
            "`below_roof`.",
        )
    shelf = _shelf_wish(spec)
    lack = None if shelf is None else _lacks_shelf_room(draft, shelf, plan.panel, plan.frame)
    if lack is not None:
        yield Remark(
            "barrier shelf",
            f"The shelf is left out: with its brackets it wants {lack[0]:.0f} mm between the lower "
            f"rail and the upper one or the roof, and {lack[1]:.0f} are there. A lower deck would "
            "help.",
        )
    shelf = spec.shelf if isinstance(spec.shelf, ShelfSpec) else None
    if plan.shelf is not None and shelf is not None:
        depth = plan.shelf.x1 - plan.shelf.x0
        if depth < shelf.depth - 0.5:
            yield Remark(
                "barrier shelf",
                f"The shelf is {depth:.0f} deep instead of {shelf.depth:g}: the tailgate is in "
                "the way.",
            )


def _panel(draft: Draft, plan: Plan) -> None:
    """The scribed panel with its openings, face A to the load."""
    setting, box = draft.setting, plan.panel
    placement = across_face_rear(box.x1, 0.0, box.z0)
    outline = across_outline(setting.bay, box, placement, setting.rules.scribed, CORNER)
    start = outline.bounds[0]
    outline, placement = outline.moved(-start, 0.0), placement.moved(dy=-start)
    draft.panel(
        "panel",
        draft.board("barrier"),
        outline,
        placement,
        grain=Grain.ALONG_U,
        edging="all edges rounded",
        scribed=True,
    )
    openings = [*plan.windows, *([plan.pass_through] if plan.pass_through else [])]
    draft.cut_out("panel", [loop_of(o, placement) for o in openings])


def _bolt_on(draft: Draft, plan: Plan) -> None:
    """The frame, and the bolts through panel and tube with nut and large washers."""
    frame = plan.frame
    long = draft.board("barrier").thickness + frame.section.height + NUT_AND_WASHERS
    bolt = bolt_through(draft, BOLT, long)
    hole = bolt.clearance_hole or 6.6
    points = list(bolt_points(frame, plan.panel.z0, BOLT_SPACING))
    draft.drill_at("panel", [(plan.panel.x1, y, z) for _, y, z in points], hole, "bolt to frame")
    build_frame(draft, frame, points, hole)
    for name in dict.fromkeys(bar for bar, _, _ in points):
        draft.join("panel", name, JointKind.BOLTED)
    draft.buy(bolt.key, len(points), "panel to frame")
    draft.buy(NUT, len(points), "panel to frame")
    draft.buy(WASHER, 2 * len(points), "panel to frame")


KIND = Kind(kind=BarrierSpec.kind, spec=BarrierSpec, needs=needs, build=build)
