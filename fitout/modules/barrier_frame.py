"""The barrier's frame: two posts on foot plates, rails between them, bolts to the vehicle."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fitout.model.bay import AnchorPoint
from fitout.model.hardware import Article
from fitout.model.module import Berth, Fixing, JointKind
from fitout.model.panel import Bar
from fitout.model.placement import Placement, Vector, Y, Z
from fitout.model.stock import Section
from fitout.modules.barrier_tops import hold_tops
from fitout.modules.joinery import FLOOR_BOLT, Draft, spread
from fitout.modules.kind import Setting
from fitout.survey.room import front_face, half_width, roof_height

STEEL_FOOT = "steel flat 40 x 10"
ALUMINIUM_FOOT = "aluminium flat 40 x 10"
STEEL_FROM_KG_M3 = 5000.0
"""Sections heavier than this are steel: the foot plate must weld to the post."""

FOOT_BEHIND = 15.0
"""How far a foot plate reaches past the post's middle, away from its bolts, mm."""

FOOT_BOLTS = (40.0, 80.0)
"""Where its two bolts stand, from the post's middle: room for a socket beside the post, mm."""

BOLT_PITCH = 33.0
"""Least distance between two bolts of a foot plate, mm."""

BESIDE = 12.0
"""Least distance of a bolt from the post's face, mm: half a socket of 22, and to get past."""

FOOT_END = 20.0
"""From the last bolt to the plate's end, mm (common practice: twice the bolt's diameter)."""

FOOT_REACH = 110.0
"""How far from a post's middle a known point may lie for its plate to reach it, mm."""

ON_LINE = 5.0
"""How far a plate may be shifted under its post to bring a bolt over a known point, mm."""

LEVEL = 10.0
"""How much higher or lower than the foot a known point may lie, mm."""

BRACKET_AND_NUT = 14.0
"""What the bolt of a rail's bracket needs beyond the rail: 4 mm of bracket, lock nut, thread."""


BoltPoint = tuple[str, float, float]
"""A bolt of the panel: the bar it goes through, its y and z."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Where the frame stands. `posts` are the y extents of the right and the left post."""

    section: Section
    x0: float
    x1: float
    foot: float
    top: float
    posts: tuple[tuple[float, float], tuple[float, float]]
    rails: tuple[tuple[str, float], ...]

    @property
    def inner(self) -> tuple[float, float]:
        """The y of the two posts' inner faces."""
        return self.posts[0][1], self.posts[1][0]

    @property
    def middles(self) -> tuple[float, float]:
        """The y of the two posts' middles."""
        return (sum(self.posts[0]) / 2.0, sum(self.posts[1]) / 2.0)


def foot_section(draft: Draft, frame: Section) -> Section:
    """The flat bar for the foot plates, of the frame's own metal."""
    steel = frame.density_kg_m3 > STEEL_FROM_KG_M3
    return draft.setting.catalogue.sections[STEEL_FOOT if steel else ALUMINIUM_FOOT]


def post_extent(
    draft: Draft, side: str, frame: Section, depth: tuple[float, float], height: tuple[float, float]
) -> tuple[float, float]:
    """The y extent of a post as near the wall as wall, arch and its foot plate allow."""
    setting = draft.setting
    foot = foot_section(draft, frame)
    wall = setting.rules.wall
    along = half_width(setting.bay, side, depth, height, clear=wall)
    ends = (depth[0] - foot.width / 2.0, depth[1] + FOOT_BOLTS[-1] + FOOT_END)
    low = (height[0], height[0] + foot.height)
    below = half_width(setting.bay, side, ends, low, clear=wall)
    outer = math.floor(min(along, below - (foot.width - frame.width) / 2.0))
    return (outer - frame.width, outer) if side == "left" else (-outer, frame.width - outer)


def posts_pass(frame: Section, depth: float, setting: Setting) -> bool:
    """Whether the posts, near the walls, pass the head restraints at their sides."""
    bay, rules = setting.bay, setting.rules
    if not bay.seat_raised:
        return True
    roof = roof_height(bay, 0.0, bay.front, clear=rules.wall)
    x1 = front_face(bay, bay.floor, roof, clear=rules.seat)
    x, z = (x1 - depth, x1 + FOOT_BOLTS[-1]), (bay.floor, roof)
    sides = [half_width(bay, side, x, z, clear=rules.wall) for side in ("left", "right")]
    return bay.raised_reach + rules.seat <= min(sides) - frame.width


def bolt_through(draft: Draft, thread: str, long: float) -> Article:
    """The shortest bolt that is `long` enough, in mm; the longest there is if none is.

    `thread` is how the bolts' names begin, such as `bolt M8`.
    """
    articles = draft.setting.catalogue.articles.values()
    bolts = [a for a in articles if a.key.startswith(f"{thread} x") and a.length]
    enough = [a for a in bolts if (a.length or 0.0) >= long]
    return min(enough or bolts, key=lambda a: abs((a.length or 0.0) - long))


def build_frame(draft: Draft, frame: Frame, points: Sequence[BoltPoint], hole: float) -> None:
    """Posts with their foot plates welded on, rails bolted between, drilled for the panel's bolts.

    The frame is wider than most openings and higher than many: its rails are bolted to brackets
    on the posts once it stands in the bay.
    """
    section = frame.section
    foot = foot_section(draft, section)
    for side, (y0, y1) in zip(("right", "left"), frame.posts, strict=True):
        lift = frame.foot + foot.height
        post = Bar(
            name=f"{side} post",
            module=draft.name,
            section=section,
            length=frame.top - lift,
            placement=Placement((frame.x1, y0, lift), Z, Y),
            holes=tuple((z - lift, hole) for bar, _, z in points if bar == f"{side} post"),
        )
        draft.bars.append(post)
        _foot(draft, frame, side, (y0 + y1) / 2.0)
    y0, y1 = frame.inner
    # The panel lies on the rails' rear faces: the brackets lie on them from above or below.
    thick = section.height if section.wall is None else section.width
    rail_bolt = bolt_through(draft, "bolt M8", thick + BRACKET_AND_NUT)
    for name, z in frame.rails:
        rail = Bar(
            name=name,
            module=draft.name,
            section=section,
            length=y1 - y0,
            placement=Placement((frame.x0, y0, z), Y, Z),
            holes=tuple((y - y0, hole) for bar, y, _ in points if bar == name),
        )
        draft.bars.append(rail)
        for side in ("right", "left"):
            draft.join(name, f"{side} post", JointKind.BOLTED, "frame bracket")
            draft.buy("frame bracket", 1, "rails on posts")
            draft.buy(rail_bolt.key, 1, "rails on posts")
            draft.buy("lock nut M8", 1, "rails on posts")
    middle = (frame.x0 + frame.x1) / 2.0
    hold_tops(draft, [(middle, y) for y in frame.middles], (lift, frame.top))


def _foot(draft: Draft, frame: Frame, side: str, y: float) -> None:
    """A plate under a post with two bolts, laid towards the known points it can reach."""
    section = foot_section(draft, frame.section)
    middle = ((frame.x0 + frame.x1) / 2.0, y)
    plan = choose_foot(draft, frame, section, side, middle)
    (dx, dy), (x, y) = plan.along, plan.middle
    half = section.width / 2.0
    origin = (
        x - FOOT_BEHIND * dx + half * dy,
        y - FOOT_BEHIND * dy - half * dx,
        frame.foot,
    )
    bolts = [draft.setting.catalogue.articles[_bolt(draft, a)] for _, a in plan.bolts]
    name = f"{side} foot plate"
    draft.bars.append(
        Bar(
            name=name,
            module=draft.name,
            section=section,
            length=plan.length,
            placement=Placement(origin, (dx, dy, 0.0), (-dy + 0.0, dx, 0.0)),
            holes=tuple(
                (FOOT_BEHIND + at, bolt.clearance_hole or 9.0)
                for (at, _), bolt in zip(plan.bolts, bolts, strict=True)
            ),
        )
    )
    draft.join(name, f"{side} post", JointKind.FITTED, "welded")
    if frame.foot <= draft.setting.bay.floor + 1e-6:
        draft.rest(name, "bay/floor")
    for (at, anchor), bolt in zip(plan.bolts, bolts, strict=True):
        point = (x + at * dx, y + at * dy, frame.foot)
        _bolt_down(draft, bolt.key, point, anchor)


def _bolt(draft: Draft, anchor: AnchorPoint | None) -> str:
    article = FLOOR_BOLT if anchor is None else f"bolt {anchor.thread} x 40"
    return article if article in draft.setting.catalogue.articles else FLOOR_BOLT


def _bolt_down(draft: Draft, article: str, point: Vector, anchor: AnchorPoint | None) -> None:
    name = None if anchor is None else anchor.name
    draft.fixings.append(Fixing(module=draft.name, point=point, article=article, anchor=name))
    if anchor is not None:
        washer = f"large washer {anchor.thread}"
        known = washer in draft.setting.catalogue.articles
        draft.buy(article, 1, "floor fixing")
        draft.buy(washer if known else "large washer M8", 1, "floor fixing")


@dataclass(frozen=True, slots=True, kw_only=True)
class FootPlan:
    """A foot plate's place: a point under the post, its direction, its bolts along it."""

    middle: tuple[float, float]
    along: tuple[float, float]
    bolts: tuple[tuple[float, AnchorPoint | None], ...]

    @property
    def length(self) -> float:
        """From behind the post to past the last bolt."""
        return FOOT_BEHIND + max(at for at, _ in self.bolts) + FOOT_END

    @property
    def hits(self) -> int:
        """How many known points its bolts use."""
        return sum(1 for _, anchor in self.bolts if anchor is not None)

    def box(self, z0: float, section: Section) -> Berth:
        """The block it takes up."""
        half = section.width / 2.0
        (dx, dy), (x, y) = self.along, self.middle
        ends = (-FOOT_BEHIND, self.length - FOOT_BEHIND)
        corners = [(x + s * dx + t * dy, y + s * dy - t * dx) for s in ends for t in (-half, half)]
        xs, ys = [p for p, _ in corners], [q for _, q in corners]
        return Berth(x0=min(xs), x1=max(xs), y0=min(ys), y1=max(ys), z0=z0, z1=z0 + section.height)


def choose_foot(
    draft: Draft, frame: Frame, section: Section, side: str, middle: tuple[float, float]
) -> FootPlan:
    """The plate that uses most known points; else forward, outwards, inwards or rearward.

    A plate must stay in the bay and out of the other modules' berths. Across, its front edge
    is the post's front face. Where none is free it lies inwards, and the checks say what it
    meets.
    """
    outward = 1.0 if side == "left" else -1.0
    x, y = middle
    half = max(frame.section.width, frame.section.height) / 2.0

    def laid(middle: tuple[float, float], way: tuple[float, float]) -> FootPlan:
        # Towards a corner of the post it is farther to its face.
        return _laid(middle, way, near, half / max(map(abs, way)) + BESIDE)

    near = [
        a
        for a in draft.setting.bay.anchors
        if abs(a.z - frame.foot) <= LEVEL and math.dist((a.x, a.y), middle) <= FOOT_REACH
    ]
    across = (frame.x1 - section.width / 2.0, y)
    inwards = laid(across, (0.0, -outward))
    plans = [
        laid(middle, (1.0, 0.0)),
        laid(across, (0.0, outward)),
        inwards,
        laid(middle, (-1.0, 0.0)),
    ]
    for anchor in near:
        away = math.dist((anchor.x, anchor.y), middle)
        if away >= half + BESIDE:
            plans.append(laid(middle, ((anchor.x - x) / away, (anchor.y - y) / away)))
    free = [plan for plan in plans if _is_free(draft, plan.box(frame.foot, section))]
    return max(free or [inwards], key=lambda plan: plan.hits)


def _laid(
    middle: tuple[float, float],
    way: tuple[float, float],
    anchors: Sequence[AnchorPoint],
    least: float,
) -> FootPlan:
    """A plate in one direction, its bolts over the known points on its line if there are any.

    No bolt stands nearer to the post's middle than `least`.
    """
    found = []
    for anchor in anchors:
        dx, dy = anchor.x - middle[0], anchor.y - middle[1]
        at, aside = dx * way[0] + dy * way[1], dy * way[0] - dx * way[1]
        if abs(aside) <= ON_LINE and at >= least:
            found.append((at, aside, anchor))
    found.sort(key=lambda f: (f[0], f[2].name))
    if not found:
        return FootPlan(middle=middle, along=way, bolts=tuple((at, None) for at in FOOT_BOLTS))
    # The plate is shifted under its post so that its centre line meets the first point; a
    # second one must then lie on the line within what the bolt's hole leaves.
    first, shift, anchor = found[0]
    shifted = (middle[0] - shift * way[1], middle[1] + shift * way[0])
    for at, aside, other in found[1:]:
        if at - first >= BOLT_PITCH - 1.0 and abs(aside - shift) <= 1.0:
            return FootPlan(middle=shifted, along=way, bolts=((first, anchor), (at, other)))
    before = first - BOLT_PITCH
    second = before if before >= least else first + BOLT_PITCH
    return FootPlan(middle=shifted, along=way, bolts=((first, anchor), (second, None)))


def _is_free(draft: Draft, box: Berth) -> bool:
    """Whether a plate lies within the walls, behind the seat and out of other berths."""
    setting = draft.setting
    bay, rules = setting.bay, setting.rules
    ahead = rules.seat if bay.front_kind == "seat_back" else rules.wall
    if box.x1 > front_face(bay, box.z0, box.z1, clear=ahead) or box.x0 < rules.wall:
        return False
    for side, reach in (("left", box.y1), ("right", -box.y0)):
        most = half_width(bay, side, (box.x0, box.x1), (box.z0, box.z1), clear=rules.wall)
        if reach > most:
            return False
    others = (b for name, b in setting.berths.items() if name != draft.name)
    return not any(_meet(box, b, rules.parts) for b in others)


def _meet(a: Berth, b: Berth, gap: float) -> bool:
    return (
        min(a.x1, b.x1) - max(a.x0, b.x0) > -gap
        and min(a.y1, b.y1) - max(a.y0, b.y0) > -gap
        and min(a.z1, b.z1) - max(a.z0, b.z0) > -gap
    )


def bolt_points(frame: Frame, start: float, spacing: float) -> Iterator[BoltPoint]:
    """Where the panel is bolted on, from height `start` up, no more than `spacing` apart."""
    for side, y in zip(("right", "left"), frame.middles, strict=True):
        for z in spread(start, frame.top, 30.0, spacing):
            yield f"{side} post", y, z
    y0, y1 = frame.inner
    for name, z in frame.rails:
        for y in spread(y0, y1, 40.0, spacing):
            yield name, y, z + frame.section.width / 2.0
