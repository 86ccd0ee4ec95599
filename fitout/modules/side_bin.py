r"""Side bin: the corner between the load and one wall, lids flush with the deck.

    seen from behind, left side

      lid            strip
    ============o=========\    the lid is hinged (o) to a strip that follows the wall; its
    #           #r         \   inner edge swings up; a rail (r) under the hinge line carries
    #            wheel      |   strip and lid
    #  end       arch ______|
    #              |
    ################  floor

The inner wall runs the whole length. Uprights, scribed to wall and wheel arch, stand at both
ends, beside whatever parts the bin, under every seam between lids, and so near each other that
shelves and tops bear a knee; see `bin_supports`. The hinge must be straight and the wall is not:
so the strip takes up the wall's curve and the lids stay plain rectangles. The strip hinge lies
open on the upper faces of lid and strip; see `strip_hinge`. Where something must be kept clear
there is no floor and no rail, and parts that would stand in it are cut back or left out; the lid
above stays, so that a jack is reached from above.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, ClassVar, Literal

from fitout.clearance.body import bounds_of
from fitout.model.design import ModuleSpec
from fitout.model.module import Berth, Module, PlateDuty, Remark
from fitout.model.panel import Grain
from fitout.model.placement import Placement, across, across_face_rear, opposite
from fitout.model.spec import Mass, Ref, entry
from fitout.modules.bin_fixing import fix_bin
from fitout.modules.bin_lids import LONGEST_LID, stretches, tops_of
from fitout.modules.bin_plan import (
    Box,
    Frame,
    Plan,
    bottom_reach,
    free_heights,
    kept_clear,
    plan_of,
)
from fitout.modules.bin_supports import Bearing, stiffened
from fitout.modules.bin_top import Parts, add_rails, add_top, arch_beneath
from fitout.modules.fitting import Rectangle, meet, rectangle_less
from fitout.modules.joinery import CARCASS_SCREW, Draft
from fitout.modules.kind import Extent, Kind, Needs, Setting
from fitout.modules.lid_latch import latch_lid
from fitout.modules.lid_stay import add_stay
from fitout.modules.scribe import end_outline, flat_outline
from fitout.survey.room import arch_span, half_width

LEAST_LENGTH = 150.0
LEAST_WIDTH = 60.0
MOST_WIDTH = 400.0
"""A bin along a wall is no wider unless its width is given, mm (common practice)."""

LEAST_HEIGHT = 120.0

LEAST_UPRIGHT = 30.0
"""Over a wheel arch an upright lower than this could not be screwed on, mm; it is left out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SideBinSpec(ModuleSpec):
    """A bin along one wall or both, wheel arch and all."""

    kind: ClassVar[str] = "side bin"

    sides: Literal["both", "left", "right"] = entry("which walls it lies along", default="both")
    lids: Literal["flush", "none"] = entry("lids flush with the deck, or none", default="flush")
    latch: Annotated[str, Ref("latches")] | Literal["none"] | None = entry(
        "what holds a lid shut",
        default=None,
        example="turn latch",
        otherwise="a finger catch by its finger hole",
    )
    carries: Mass = entry(
        "what a shelf over the wheel arch is to carry, where there is one", default=10.0
    )


def needs(spec: SideBinSpec, setting: Setting) -> Needs:
    """What the middle leaves along the wall, from the floor to the deck."""
    del setting
    return Needs(
        x=_extent(spec.depth, LEAST_LENGTH, "depth"),
        y=_extent(spec.width, LEAST_WIDTH, "width", MOST_WIDTH),
        z=_extent(spec.height, LEAST_HEIGHT, "height"),
        top="deck",
        lateral="right wall" if spec.sides == "right" else "left wall",
    )


def _extent(given: float | None, least: float, key: str, most: float | None = None) -> Extent:
    if given is None:
        return Extent(least=least, most=most, fills=True)
    return Extent(least=given, most=given, given=key)


def build(name: str, spec: SideBinSpec, berth: Berth | None, setting: Setting) -> Module:
    """Inner wall, uprights, bottoms, lids and fixings between the berth's inner side and wall."""
    assert berth is not None
    draft = Draft(name, SideBinSpec.kind, setting)
    frame = _frame(spec, berth, setting)
    boards, covered = setting.boards, spec.lids == "flush"
    bearing = Bearing(
        top=boards["lid"], shelf=boards["carcass"], carries_kg=spec.carries, covered=covered
    )
    plan = stiffened(frame, plan_of(frame, LONGEST_LID), bearing)
    walls = tuple(_inner_wall(draft, frame))
    uprights = tuple(tuple(_upright(draft, frame, plan, i)) for i in range(len(plan.uprights)))
    parts = Parts(walls=walls, uprights=uprights)
    for pieces, x in zip(uprights, plan.uprights, strict=True):
        _stand(draft, frame, walls, pieces, x)
    bottoms = tuple(_bottom(draft, spec, frame, plan, parts, i) for i in range(len(uprights) - 1))
    remarks = list(_cover(draft, frame, plan, parts)) if covered else []
    inside = frame.at(frame.x0, frame.face, frame.under), opposite(frame.outwards)
    for lid in [n for n, panel in draft.panels.items() if panel.moves == n]:
        latch_lid(draft, spec.latch, lid, walls, inside)
        add_stay(draft, lid)
    _on_the_floor(draft, frame)
    fix_bin(draft, frame, walls, [b for b in bottoms if b])
    return draft.finish(berth, remarks)


def _frame(spec: SideBinSpec, berth: Berth, setting: Setting) -> Frame:
    side = "right" if spec.sides == "right" else "left"
    lid = setting.boards["lid"].thickness if spec.lids == "flush" else 0.0
    frame = Frame(
        bay=setting.bay,
        side=side,
        rules=setting.rules,
        t=setting.boards["carcass"].thickness,
        x0=berth.x0,
        x1=berth.x1,
        inner=berth.y0 if side == "left" else -berth.y1,
        z0=berth.z0,
        under=berth.z1 - lid,
        z1=berth.z1,
        # What lies in a place kept clear is drawn out past the bin.
        kept=kept_clear(setting.bay, side, setting.rules.moving),
    )
    return dataclasses.replace(frame, above=tuple(_above(setting, frame)))


def _above(setting: Setting, frame: Frame) -> Iterator[Box]:
    """What modules built before this one have above its top, as blocks."""
    for name in setting.built:
        tall = name in setting.berths and setting.berths[name].z1 > frame.z1
        for part in setting.built[name].parts() if tall else ():
            low, high = (corner.tolist() for corner in bounds_of(part))
            if high[2] > frame.z1:
                s0, s1 = sorted((frame.y(low[1]), frame.y(high[1])))
                yield Box(x0=low[0], x1=high[0], s0=s0, s1=s1, z0=low[2], z1=high[2])


def _cover(draft: Draft, frame: Frame, plan: Plan, parts: Parts) -> Iterator[Remark]:
    """Rails, strips, lids and fixed pieces; says where the top stays open."""
    for stretch in stretches(frame, plan):
        held = add_rails(draft, frame, plan, parts, stretch)
        for top in tops_of(frame, plan, *stretch):
            barred = top.lids and arch_beneath(frame, top)
            if barred or not add_top(draft, frame, plan, held, top, stretch):
                yield Remark(
                    "open bin",
                    f"{draft.name} has no top from {top.x0:.0f} to {top.x1:.0f} forward: the "
                    f"{frame.side} wheel arch stands too high for the deck there. A higher deck "
                    "or a narrower load beside it would make room.",
                )


def _inner_wall(draft: Draft, frame: Frame) -> Iterator[str]:
    """The wall towards the middle, cut back where the vehicle or a kept-clear place is."""
    length, height = frame.x1 - frame.x0, frame.under - frame.z0
    pieces = rectangle_less((0.0, 0.0, length, height), list(_bites(frame)))
    for number, outline in enumerate(pieces, start=1):
        name = "inner wall" if len(pieces) == 1 else f"inner wall {number}"
        placement = frame.facing_middle(frame.face, frame.z0)
        draft.panel(name, draft.board("carcass"), outline, placement, grain=Grain.ALONG_U)
        yield name


def _bites(frame: Frame) -> Iterator[Rectangle]:
    """What the inner wall must leave out, in its own axes."""
    bay, side = frame.bay, frame.side
    slab = Box(x0=frame.x0, x1=frame.x1, s0=frame.inner, s1=frame.face, z0=frame.z0, z1=frame.under)
    for zone in frame.kept:
        if zone.hits(slab):
            more = 1.0  # The bit leaves its radius in the corners.
            yield _bite(frame, zone.x0 - more, zone.x1 + more, zone.z0 - more, zone.z1 + more)
    span = arch_span(bay, side, frame.z0)
    if span is not None and bay.arches[side][1] < frame.face + frame.gap:
        yield _bite(frame, span[0] - frame.gap, span[1] + frame.gap, frame.z0, frame.over_arch)
    low = frame.z0
    while low < frame.under and _wall_intrudes(frame, low):
        low += 10.0
    if low > frame.z0:
        yield _bite(frame, frame.x0, frame.x1, frame.z0, low)


def _wall_intrudes(frame: Frame, z: float) -> bool:
    """Whether the vehicle's wall stands in the inner wall's way somewhere above a height."""
    x, above = (frame.x0, frame.x1), (z, frame.under)
    offset = half_width(frame.bay, frame.side, x, above, arches=False)
    return offset < frame.face + frame.rules.wall


def _bite(frame: Frame, x0: float, x1: float, z0: float, z1: float) -> Rectangle:
    """A rectangle in x and z in the inner wall's own axes; the right one runs rearward."""
    if frame.side == "left":
        return x0 - frame.x0, z0 - frame.z0, x1 - frame.x0, z1 - frame.z0
    return frame.x1 - x1, z0 - frame.z0, frame.x1 - x0, z1 - frame.z0


def _upright(draft: Draft, frame: Frame, plan: Plan, index: int) -> Iterator[str]:
    """One upright, scribed to the wall; two pieces where something is kept clear between."""
    x, t = plan.uprights[index], frame.t
    name = f"divider {index}"
    if index in (0, len(plan.uprights) - 1):
        name = "front end" if index else "rear end"
    heights = free_heights(frame, x)
    for number, (z0, z1) in enumerate(heights, start=1):
        piece = name if len(heights) == 1 else f"{name} {number}"
        box = frame.berth(frame.box((x, x + t), (z0, z1)))
        placement = _facing(frame, x, z0)
        gap = frame.rules.scribed
        try:
            outline = end_outline(frame.bay, frame.side, box, placement, gap)
        except ValueError:
            continue
        low, high = outline.bounds[1], outline.bounds[3]
        if high - low < LEAST_UPRIGHT:
            continue
        draft.panel(
            piece,
            draft.board("carcass"),
            outline,
            placement,
            grain=Grain.ALONG_V,
            scribed=True,
        )
        yield piece


def _facing(frame: Frame, x: float, z: float) -> Placement:
    """An upright's placement, its own u from the inner wall outwards."""
    if frame.side == "left":
        return across(x, frame.y(frame.face), z)
    return across_face_rear(x + frame.t, frame.y(frame.face), z)


def _stand(
    draft: Draft, frame: Frame, walls: tuple[str, ...], pieces: tuple[str, ...], x: float
) -> None:
    """Uprights are screwed to through the inner wall."""
    middle = x + frame.t / 2.0
    line = frame.at(middle, frame.face, frame.z0), frame.at(middle, frame.face, frame.under)
    for wall in walls:
        for piece in pieces:
            meet(draft, (wall, piece), line, frame.outwards)


def _bottom(
    draft: Draft, spec: SideBinSpec, frame: Frame, plan: Plan, parts: Parts, index: int
) -> str | None:
    """The floor panel or shelf of a compartment, screwed to through wall and uprights."""
    here = plan.compartments[index]
    widest = bottom_reach(frame, here)
    if here.bottom is None or widest is None:
        return None
    t, gap = frame.t, frame.rules.scribed
    box = frame.berth(frame.box((here.x0, here.x1), (here.bottom, here.bottom + t)))
    name = f"{'shelf' if here.shelf else 'floor'} {index + 1}"
    placement = frame.lying(here.x0, (frame.face, widest), here.bottom)
    outline = flat_outline(frame.bay, frame.side, box, placement, gap)
    panel = draft.panel(
        name, draft.board("carcass"), outline, placement, grain=Grain.ALONG_U, scribed=True
    )
    z = here.bottom + t / 2.0
    along_wall = frame.at(here.x0, frame.face, z), frame.at(here.x1, frame.face, z)
    for wall in parts.walls:
        meet(draft, (wall, name), along_wall, frame.outwards)
    for beside, x, into in ((index, here.x0, 1.0), (index + 1, here.x1, -1.0)):
        # From a neighbour at the same height no screw can be driven into this one.
        other = index - 1 if beside == index else index + 1
        free = True
        if 0 <= other < len(plan.compartments):
            bottom = plan.compartments[other].bottom
            free = bottom is None or abs(bottom - here.bottom) > 2.0 * t
        for upright in parts.uprights[beside]:
            line = frame.at(x, frame.face, z), frame.at(x, widest, z)
            screw = CARCASS_SCREW if free else None
            meet(draft, (upright, name), line, (into, 0.0, 0.0), screw)
    if here.shelf:
        draft.plates.append(
            PlateDuty(
                panel=panel.id,
                load_kg=spec.carries,
                spans=(here.x1 - here.x0, widest - frame.face),
                edges="u ends",
                purpose="what lies over the wheel arch, spread, and a knee",
                patch=True,
            )
        )
    return name


def _on_the_floor(draft: Draft, frame: Frame) -> None:
    """Declare what stands on the vehicle's floor."""
    if frame.z0 > frame.bay.floor + 1e-6:
        return
    for name, panel in list(draft.panels.items()):
        if panel.placement.origin[2] + panel.outline.bounds[1] * panel.placement.v[2] < (
            frame.z0 + 1e-3
        ):
            draft.rest(name, "bay/floor")


KIND = Kind(kind=SideBinSpec.kind, spec=SideBinSpec, needs=needs, build=build)
