"""What the kinds share: a draft that collects a module's parts, screw rows, grooves, holes."""

from __future__ import annotations

import dataclasses
import math
from collections import Counter
from collections.abc import Iterable, Sequence

from fitout.model.bay import AnchorPoint
from fitout.model.hardware import HardwareLine
from fitout.model.item import Item
from fitout.model.latch import Latch
from fitout.model.module import (
    Access,
    Berth,
    Fixing,
    Joint,
    JointKind,
    Module,
    Motion,
    PlateDuty,
    Remark,
    SlideDuty,
    Stay,
)
from fitout.model.outline import Loop, Outline, rectangle, rounded, slot
from fitout.model.panel import Bar, Grain, Hole, Panel, Pocket
from fitout.model.placement import Placement, Vector
from fitout.model.stock import Board
from fitout.modules.kind import Setting
from fitout.modules.neighbours import box_of

SCREW_SPACING = 150.0
"""Greatest distance between screws of a butt joint, mm (common practice)."""

SCREW_INSET = 40.0
"""Distance of the first screw from the joint's end, mm (common practice)."""

GROOVE_PLAY = 0.2
"""How much wider a groove is than the board it holds, mm (common practice)."""

GROOVE_END_PLAY = 0.5
"""How far a board stays short of the groove's floor, mm (common practice)."""

BOLT_HEAD = 8.0
"""Height of an M8 bolt's head and washer above the panel it holds, mm (common practice)."""

WASHER = 13.0
"""Half a large M8 washer and a little more, mm."""

FACE_SCREWS = tuple(f"wood screw 3.5 x {length}" for length in (30, 25, 20, 16))
"""Screws for two boards lying face to face, the longest first."""

SCREW_STAYS_IN = 1.5
"""How far a screw's point stays short of the far face, mm (common practice)."""

SHEET_EDGE = 15.0
"""Lost along each edge of a sheet, at most, mm (common practice)."""

CARCASS_SCREW = "wood screw 4 x 40"
THIN_EDGE_SCREW = "wood screw 3.5 x 35"

THIN_EDGE = 11.0
"""The edge of a thinner board takes the thinner screw: no shank is then much more than a third
of the thickness (common practice)."""

LEAST_EDGE = 7.5
"""The edge of a thinner board splits round any screw: glue and cleats hold it instead
(common practice)."""

BATTEN_SCREW = "wood screw 4 x 30"
FLOOR_BOLT = "bolt M8 x 40"


class Draft:
    """A module while it is being built: parts by name, joints, hardware, duties.

    Lives only inside one `build`; `finish` gives the frozen record.
    """

    def __init__(self, name: str, kind: str, setting: Setting) -> None:
        self.name = name
        self.kind = kind
        self.setting = setting
        self.panels: dict[str, Panel] = {}
        self.bars: list[Bar] = []
        self.items: list[Item] = []
        self.joints: list[Joint] = []
        self.motions: list[Motion] = []
        self.plates: list[PlateDuty] = []
        self.slides: list[SlideDuty] = []
        self.fixings: list[Fixing] = []
        self.tops: list[Fixing] = []
        self.accesses: list[Access] = []
        self.stays: list[Stay] = []
        self.latches: list[Latch] = []
        self.needs_fixings = 0
        self._thin_edges: dict[str, float] = {}
        self._hardware: Counter[tuple[str, str]] = Counter()

    def board(self, role: str) -> Board:
        """The board the design uses for a role."""
        return self.setting.boards[role]

    def panel(  # over budget: a panel's own fields, each named where it is called
        self,
        name: str,
        board: Board,
        shape: Outline | tuple[float, float],
        placement: Placement,
        *,
        grain: Grain = Grain.EITHER,
        edging: str = "",
        scribed: bool = False,
        moves: str | None = None,
        pockets: Sequence[Pocket] = (),
    ) -> Panel:
        """Add a panel; `shape` is an outline or (length along u, length along v)."""
        outline = shape if isinstance(shape, Outline) else Outline(rectangle(*shape))
        part = Panel(
            name=name,
            module=self.name,
            outline=outline,
            board=board,
            placement=placement,
            grain=grain if board.grain else Grain.EITHER,
            edging=edging,
            scribed=scribed,
            moves=moves,
            pockets=tuple(pockets),
        )
        self.panels[name] = part
        return part

    def drill(self, panel: str, holes: Iterable[Hole]) -> None:
        """Add holes to a panel; a hole that stands there already is not drilled twice."""
        part = self.panels[panel]
        taken = {(round(h.x, 3), round(h.y, 3)) for h in part.holes}
        fresh = [h for h in holes if (round(h.x, 3), round(h.y, 3)) not in taken]
        self.panels[panel] = dataclasses.replace(part, holes=(*part.holes, *fresh))

    def drill_at(
        self,
        panel: str,
        points: Iterable[Vector],
        diameter: float,
        purpose: str,
        depth: float | None = None,
    ) -> None:
        """Drill a panel at points given in bay coordinates."""
        part = self.panels[panel]
        self.drill(
            panel, [Hole(*part.local(p), diameter, depth=depth, purpose=purpose) for p in points]
        )

    def cut_out(self, panel: str, loops: Iterable[Loop]) -> None:
        """Cut loops right through a panel."""
        part = self.panels[panel]
        outline = Outline(part.outline.outer, (*part.outline.inner, *loops))
        self.panels[panel] = dataclasses.replace(part, outline=outline)

    def join(self, a: str, b: str, kind: JointKind, note: str = "") -> None:
        """Declare that two bodies meet; a plain name is one of this module's."""
        self.joints.append(Joint(self._id(a), self._id(b), kind, note))

    def rest(self, part: str, on: str) -> None:
        """Declare that a part stands on another body."""
        self.join(part, on, JointKind.RESTS)

    def screw(
        self, through: str, into: str, start: Vector, end: Vector, screw: str | None = None
    ) -> None:
        """A row of screws through one panel's face into another, from `start` to `end`.

        The points are the joint's ends in bay coordinates, on the centre line of the panel
        that is screwed into. Only the panel passed through is drilled. Unless a `screw` is
        chosen they go into an edge, and its thickness decides; one too thin is noted.
        """
        points = screw_points(start, end)
        if screw is None:
            screw = self._edge_screw(into)
        article = self.setting.catalogue.articles[screw]
        self.drill_at(through, points, article.clearance_hole or 4.5, "screw")
        self.join(through, into, JointKind.SCREWED)
        self.buy(screw, len(points), "joints")

    def buy(self, article: str, quantity: int, purpose: str) -> None:
        """Count bought hardware."""
        self._hardware[(article, purpose)] += quantity

    def withdraw(self, panel: str) -> None:
        """Take a panel out again, with its joints."""
        id_ = self.panels.pop(panel).id
        self.joints = [j for j in self.joints if id_ not in (j.a, j.b)]

    def finish(self, berth: Berth | None, remarks: Sequence[Remark] = ()) -> Module:
        """The module as a frozen record."""
        return Module(
            name=self.name,
            kind=self.kind,
            berth=berth,
            panels=tuple(self.panels.values()),
            bars=tuple(self.bars),
            items=tuple(self.items),
            joints=tuple(self.joints),
            motions=tuple(self.motions),
            hardware=tuple(
                HardwareLine(article=a, quantity=n, module=self.name, purpose=p)
                for (a, p), n in self._hardware.items()
            ),
            plates=tuple(self.plates),
            slides=tuple(self.slides),
            fixings=tuple(self.fixings),
            tops=tuple(self.tops),
            accesses=tuple(self.accesses),
            stays=tuple(self.stays),
            latches=tuple(self.latches),
            needs_fixings=self.needs_fixings,
            remarks=(*remarks, *self._thin_edges_told()),
        )

    def _edge_screw(self, into: str) -> str:
        """The screw for a panel's edge."""
        thickness = self.panels[into].thickness
        if thickness < LEAST_EDGE:
            self._thin_edges.setdefault(into, thickness)
        return CARCASS_SCREW if thickness >= THIN_EDGE else THIN_EDGE_SCREW

    def _thin_edges_told(self) -> list[Remark]:
        """What to say of edges too thin for screws, once for all of the module."""
        if not self._thin_edges:
            return []
        names = ", ".join(self._thin_edges)
        sentence = (
            f"{self.name} has screws into edges of {min(self._thin_edges.values()):g} mm, which "
            f"split: fasten {names} with glue and cleats instead, or take a thicker board."
        )
        return [Remark("thin edge", sentence)]

    def _id(self, name: str) -> str:
        return name if "/" in name else f"{self.name}/{name}"


def spread(start: float, end: float, inset: float, spacing: float) -> tuple[float, ...]:
    """Positions from `start` to `end`, `inset` from both, evenly no more than `spacing` apart."""
    length = end - start
    if length <= 2.0 * inset:
        return ((start + end) / 2.0,)
    gaps = max(1, math.ceil((length - 2.0 * inset) / spacing))
    step = (length - 2.0 * inset) / gaps
    return tuple(start + inset + i * step for i in range(gaps + 1))


def screw_points(start: Vector, end: Vector) -> list[Vector]:
    """Where the screws of a butt joint go, on the line from `start` to `end`."""
    length = math.dist(start, end)
    inset = min(SCREW_INSET, length / 4.0)
    return [
        (
            start[0] + s / length * (end[0] - start[0]),
            start[1] + s / length * (end[1] - start[1]),
            start[2] + s / length * (end[2] - start[2]),
        )
        for s in spread(0.0, length, inset, SCREW_SPACING)
    ]


def sheet_room(board: Board) -> tuple[float, float]:
    """Length along and width across the grain that a part may have to be cut from a sheet."""
    return board.length - 2.0 * SHEET_EDGE, board.width - 2.0 * SHEET_EDGE


def face_screw(setting: Setting, through: Board, into: Board) -> str:
    """The longest screw that holds two boards face to face and does not come out."""
    room = through.thickness + into.thickness - SCREW_STAYS_IN
    articles = setting.catalogue.articles
    fitting = [s for s in FACE_SCREWS if (articles[s].length or 0.0) <= room]
    return fitting[0] if fitting else FACE_SCREWS[-1]


def groove(length: float, at: float, board: Board, depth: float) -> Pocket:
    """A groove along u over a panel's whole length, its lower edge at height v = `at`."""
    loop = rectangle(length, groove_width(board), 0.0, at)
    return Pocket(loop, depth, "groove", holds=board.key)


def groove_width(board: Board) -> float:
    """How wide a groove is that holds a board."""
    return board.thickness + GROOVE_PLAY


def groove_depth(board: Board) -> float:
    """How deep a groove goes into a board: half of it, at most 6 mm (common practice)."""
    return min(6.0, round(board.thickness / 2.0, 1))


def hand_hole(x: float, y: float, length: float = 100.0, width: float = 32.0) -> Loop:
    """A hand hole with round ends, centred on (x, y), its length along the panel's x."""
    reach = (length - width) / 2.0
    return slot(x - reach, y, x + reach, y, width)


def window(x0: float, y0: float, x1: float, y1: float, radius: float) -> Loop:
    """A rectangular opening with rounded corners."""
    return rounded(rectangle(x1 - x0, y1 - y0, x0, y0), radius)


def anchors_within(anchors: Iterable[AnchorPoint], berth: Berth, inset: float) -> list[AnchorPoint]:
    """The vehicle's known points under a berth, at least `inset` inside its edges."""
    return [
        a
        for a in anchors
        if berth.x0 + inset <= a.x <= berth.x1 - inset
        and berth.y0 + inset <= a.y <= berth.y1 - inset
    ]


def corner_points(berth: Berth, inset: float) -> list[Vector]:
    """Four points near a berth's corners at its floor: where fixings go if none are known."""
    return [
        (x, y, berth.z0)
        for x in (berth.x0 + inset, berth.x1 - inset)
        for y in (berth.y0 + inset, berth.y1 - inset)
    ]


def bolt_to_anchor(draft: Draft, panel: str, anchor: AnchorPoint, z: float) -> None:
    """Bolt a panel that lies at height `z` to one of the vehicle's known points."""
    articles = draft.setting.catalogue.articles
    article = f"bolt {anchor.thread} x 40"
    washer = f"large washer {anchor.thread}"
    if article not in articles:
        article = FLOOR_BOLT
    point = (anchor.x, anchor.y, z)
    draft.drill_at(panel, [point], articles[article].clearance_hole or 9.0, "floor bolt")
    draft.fixings.append(
        Fixing(module=draft.name, point=point, article=article, anchor=anchor.name)
    )
    draft.buy(article, 1, "floor fixing")
    draft.buy(washer if washer in articles else "large washer M8", 1, "floor fixing")


def fix_to_floor(draft: Draft, panel: str, berth: Berth, count: int = 4) -> None:
    """Bolt a base panel to the floor: known points first, else near its corners.

    At known points the panel is drilled for the bolt; elsewhere the fixing is only
    proposed, and a check asks what lies beneath.
    """
    draft.needs_fixings = count
    known = [
        anchor
        for anchor in anchors_within(draft.setting.bay.anchors, berth, 25.0)
        if _is_free(draft, panel, anchor)
    ]
    for anchor in known:
        bolt_to_anchor(draft, panel, anchor, berth.z0)
    free = corners_left(corner_points(berth, 40.0), known)
    for point in free[: max(0, count - len(known))]:
        draft.fixings.append(
            Fixing(module=draft.name, point=point, article=FLOOR_BOLT, anchor=None)
        )


def corners_left(corners: Sequence[Vector], known: Iterable[AnchorPoint]) -> list[Vector]:
    """The corners that no known point serves: each serves the nearest that is left."""
    left = list(corners)
    for anchor in known:
        if left:
            spots = [(math.dist(corner[:2], (anchor.x, anchor.y)), corner) for corner in left]
            left.remove(min(spots)[1])
    return left


def _is_free(draft: Draft, panel: str, anchor: AnchorPoint) -> bool:
    """Whether nothing fixed stands on the base panel where a bolt's washer would lie."""
    top = box_of(draft.panels[panel]).z1
    for other in draft.panels.values():
        box = box_of(other)
        beside = other.name == panel or other.moves is not None or box.z0 > top + BOLT_HEAD
        near_x = box.x0 - WASHER < anchor.x < box.x1 + WASHER
        if not beside and near_x and box.y0 - WASHER < anchor.y < box.y1 + WASHER:
            return False
    return True


def fix_to_module(draft: Draft, panel: str, berth: Berth, below: str) -> None:
    """Bolt a base panel to the top of the module below, near the berth's corners."""
    points = corner_points(berth, 60.0)
    draft.drill_at(panel, points, 6.6, "bolt to the module below")
    draft.buy("bolt M6 x 30", len(points), f"down to {below}")
    draft.buy("large washer M6", len(points), f"down to {below}")
    draft.buy("insert nut M6", len(points), f"down to {below}")
