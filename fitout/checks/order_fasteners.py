"""Which of a module's hardware goes into which joint, so that each step says what it takes.

Screws and bolts are counted by the holes that lie where two parts meet. Nuts and washers go
with the bolts of their purpose, everything else to the last step on the bench or in the
vehicle, as its purpose asks. Nothing is counted twice and nothing is left over.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from types import MappingProxyType

from fitout.checks.subject import Subject
from fitout.clearance.body import Body
from fitout.model.hardware import Article
from fitout.model.module import Joint, JointKind, Module, Part
from fitout.model.panel import Hole, Panel

MEETS = 0.6
"""A hole belongs to a joint when it is no further than this off the other part, mm."""

ROUNDING = 1e-6
"""What a share of whole pieces may lie above their number by reckoning alone."""

DOWN = ("floor fixing", "down to", "inner wall to floor")
"""How the purposes begin of what fixes a module to the vehicle or to the one below."""

TOPS = "post tops"

IN_THE_VEHICLE = (*DOWN, TOPS, "tap to", "hose", "tank", "lowest point")
"""How the purposes begin of all hardware that is fitted in the vehicle; straps are too."""

PURPOSES: Mapping[str, str] = MappingProxyType(
    {
        "slide": "slides",
        "hinge screw": "lid hinge",
        "bolt to frame": "panel to frame",
        "screw to front": "front to drawer",
    }
)
"""What the hardware for a hole is bought for, by the hole's purpose; screws for anything else."""

COLUMNS = ("column to column", "box to box")
"""Purposes of screws from side to side, for which no holes are drawn."""

FITTINGS = ("lid stay", "latch", "latch button", "striker", "tie-down eye")
"""Purposes of holes for what is bolted to one part alone, even if another lies behind it."""

GLUED, GLUING = "glued", "foam layers"
"""The note of joints that are glued, and what the glue is bought for."""

JOINING = ("joints", "panel to frame", "rails on posts", *COLUMNS)
"""Purposes of what joins parts that may be joined in the vehicle as well."""

FREE = ("lid hinge", "front to drawer")
"""Purposes whose holes leave play for setting, and so tell nothing by their diameter."""

OTHERS = frozenset({"latch", *PURPOSES.values()})

SCREWS = ("screw", "bolt")

Fasteners = tuple[tuple[str, int], ...]

Uses = tuple[tuple[str, str, int], ...]
"""Purpose, article and quantity."""


class UnusedHardware:
    """A module's hardware that no step has used yet. Lives only while steps are written."""

    def __init__(self, subject: Subject, module: Module) -> None:
        self.subject = subject
        self.module = module
        self.left: Counter[tuple[str, str]] = Counter()
        for line in module.hardware:
            self.left[line.article, line.purpose] += line.quantity

    def for_joints(self, joints: Iterable[Joint]) -> Fasteners:
        """What goes into some joints; taken from what is left."""
        used: Counter[str] = Counter()
        driven: Counter[str] = Counter()
        for joint in joints:
            for article, purpose, count in self._holes(joint):
                used[article] += count
                driven[purpose] += count
            # What a lid is hinged with is counted by lids.
            shared = () if joint.kind is JointKind.HINGED else self._shared(joint)
            for article, count in shared:
                used[article] += count
            if joint.note == GLUED:
                used.update(dict(self._take(lambda _, purpose: purpose == GLUING)))
        used.update(self._beside(driven))
        return tuple(used.items())

    def for_latches(self, parts: Iterable[str]) -> Fasteners:
        """The latches whose cases are on some parts, with their strikers, bolts and nuts."""
        there = set(parts)
        mine = sum(latch.panel in there for latch in self.module.latches)
        return self._share(("latch",), mine, len(self.module.latches))

    def for_lids(self, joints: Iterable[Joint]) -> Fasteners:
        """What hinges and holds the lids that are hinged by some joints of the module."""
        mine, all_ = (
            len({j.a for j in some if j.kind is JointKind.HINGED})
            for some in (joints, self.module.joints)
        )
        purposes = {line.purpose for line in self.module.hardware if line.purpose.startswith("lid")}
        return self._share(tuple(sorted(purposes)), mine, all_)

    def _share(self, purposes: Collection[str], mine: int, all_: int) -> Fasteners:
        """Of what is bought for some purposes so many of `all_` shares, as far as there is any."""
        if not mine:
            return ()
        total: Counter[tuple[str, str]] = Counter()
        for line in self.module.hardware:
            total[line.article, line.purpose] += line.quantity
        used: Counter[str] = Counter()
        for (article, purpose), count in self.left.items():
            if purpose in purposes and count:
                taken = min(count, math.ceil(total[article, purpose] * mine / all_ - ROUNDING))
                used[article] += taken
                self.left[article, purpose] -= taken
        return tuple(used.items())

    def for_bench(self, *, whole: bool) -> Fasteners:
        """Everything left that is fitted on the bench.

        Unless the module is carried in `whole`, what joins its pieces is kept for the vehicle.
        """
        rows = self.subject.setting.catalogue.articles
        straps = {key for key, row in rows.items() if row.kind == "strap"}
        later = IN_THE_VEHICLE if whole else (*IN_THE_VEHICLE, *JOINING)
        return self._take(lambda a, p: a not in straps and not p.startswith(later))

    def for_vehicle(self) -> Fasteners:
        """Everything left."""
        return self._take(lambda _, __: True)

    def for_floor(self, share: float) -> Fasteners:
        """What bolts down a piece that has so great a share of the module's bolts."""
        used: Counter[str] = Counter()
        for line in self.module.hardware:
            key = (line.article, line.purpose)
            if line.purpose.startswith(DOWN) and self.left[key]:
                count = min(self.left[key], math.ceil(line.quantity * share))
                self.left[key] -= count
                used[line.article] += count
        return tuple(used.items())

    def count(self) -> Mapping[tuple[str, str], int]:
        """How much is left of each article for each purpose, as it is now."""
        return Counter(self.left)

    def used_since(self, before: Mapping[tuple[str, str], int]) -> Uses:
        """Purpose, article and quantity of all that was taken since it was counted."""
        return tuple(
            (purpose, article, count - self.left[article, purpose])
            for (article, purpose), count in before.items()
            if count > self.left[article, purpose]
        )

    def left_for(self, begins: str) -> int:
        """How many pieces are left of what is bought for purposes that begin so."""
        return sum(n for (_, purpose), n in self.left.items() if purpose.startswith(begins))

    def _take(self, wanted: Callable[[str, str], bool]) -> Fasteners:
        used: Counter[str] = Counter()
        for (article, purpose), count in self.left.items():
            if count and wanted(article, purpose):
                used[article] += count
                self.left[article, purpose] = 0
        return tuple(used.items())

    def _holes(self, joint: Joint) -> Iterator[tuple[str, str, int]]:
        """Article, purpose and quantity for the holes of a joint."""
        parts = self.subject.parts
        if not {joint.a, joint.b} <= set(parts):
            return
        for mine, other in ((joint.a, joint.b), (joint.b, joint.a)):
            panel = parts[mine]
            if not isinstance(panel, Panel):
                continue
            met = Counter((h.diameter, h.purpose) for h in self._drilled(joint, panel, other))
            facing = faces(panel, parts[other])
            for hole, count in met.items():
                yield from self._articles(hole, count, panel.thickness, facing)

    def _drilled(self, joint: Joint, panel: Panel, other: str) -> Iterator[Hole]:
        """The holes of a panel for a joint with another part.

        Where that lies face to face, screws into an edge on the near side come out towards it.
        """
        subject = self.subject
        facing = faces(panel, subject.parts[other])
        edges = [
            subject.bodies[j.b]
            for j in self.module.joints
            if facing and j.a == panel.id and j.kind is JointKind.SCREWED
            if not faces(panel, subject.parts[j.b])
        ]
        for hole in panel.holes:
            mine = _belongs(joint, hole) and reaches(panel, hole, subject.bodies[other])
            if mine and not any(reaches(panel, hole, body) for body in edges):
                yield hole

    def _shared(self, joint: Joint) -> Iterator[tuple[str, int]]:
        """What is bought so many a joint, without holes: brackets, screws from side to side."""
        if self.is_side_by_side(joint):
            alike = sum(self.is_side_by_side(j) for j in self.module.joints)
            purposes = set(COLUMNS)
        else:
            alike = sum(j.note == joint.note for j in self.module.joints)
            purposes = {line.purpose for line in self.module.hardware if line.article == joint.note}
        for line in self.module.hardware:
            key = (line.article, line.purpose)
            if line.purpose in purposes and self.left[key]:
                count = min(self.left[key], math.ceil(line.quantity / alike))
                self.left[key] -= count
                yield line.article, count

    def is_side_by_side(self, joint: Joint) -> bool:
        """Whether a joint screws two sides to each other face to face, neither drilled for it."""
        a, b = (self.subject.parts.get(id_) for id_ in (joint.a, joint.b))
        if joint.kind is not JointKind.SCREWED or a is None or b is None:
            return False
        if a.moves is not None or b.moves is not None or not faces(a, b):
            return False
        pairs = ((a, joint.b), (b, joint.a))
        return not any(
            isinstance(part, Panel) and any(self._drilled(joint, part, other))
            for part, other in pairs
        )

    def _articles(
        self, hole: tuple[float, str], count: int, t: float, facing: bool
    ) -> Iterator[tuple[str, str, int]]:
        """The lines of the hardware list that fit so many holes through a panel `t` thick."""
        diameter, purpose = hole
        rows = self.subject.setting.catalogue.articles
        wanted = PURPOSES.get(purpose)
        fitting = [
            (article, line)
            for (article, line), left in self.left.items()
            if left
            and article in rows
            and _is_screw(rows[article])
            and (line == wanted if wanted else line not in OTHERS)
            and (wanted in FREE or diameter in _holes_for(rows[article]))
            and not line.startswith(DOWN)
            and line not in COLUMNS
        ]
        # Into an edge as far again as into two boards more, face to face the shortest.
        fitting.sort(key=lambda f: abs((rows[f[0]].length or 0.0) - (0.0 if facing else 3.0 * t)))
        for article, line in fitting:
            taken = min(count, self.left[article, line])
            if taken:
                self.left[article, line] -= taken
                count -= taken
                yield article, line, taken

    def _beside(self, driven: Mapping[str, int]) -> Counter[str]:
        """Nuts, washers and the like that go with so many screws or bolts of each purpose."""
        rows = self.subject.setting.catalogue.articles
        used: Counter[str] = Counter()
        all_: Counter[str] = Counter()
        beside: Counter[tuple[str, str]] = Counter()
        for line in self.module.hardware:
            if line.article in rows and _is_screw(rows[line.article]):
                all_[line.purpose] += line.quantity
            elif line.purpose in driven:
                beside[line.article, line.purpose] += line.quantity
        for (article, purpose), quantity in beside.items():
            share = driven[purpose] / all_[purpose]
            count = min(self.left[article, purpose], math.ceil(quantity * share - ROUNDING))
            if count:
                used[article] += count
                self.left[article, purpose] -= count
        return used


def _is_screw(article: Article) -> bool:
    return article.kind.endswith(SCREWS)


def _holes_for(article: Article) -> tuple[float | None, ...]:
    return article.clearance_hole, article.pilot_hole


def _belongs(joint: Joint, hole: Hole) -> bool:
    """Whether a hole can be one of a joint of that kind; a hinge's screws go with its hinge."""
    return hole.purpose not in ("hinge screw", *FITTINGS) and (
        (hole.purpose == "slide") == (joint.kind is JointKind.SLIDES)
    )


def reaches(panel: Panel, hole: Hole, other: Body) -> bool:
    """Whether a hole comes out of one of the panel's faces against the other body."""
    for w in (0.0, panel.thickness):
        point = panel.placement.at(hole.x, hole.y, w)
        low, high = other.lo.tolist(), other.hi.tolist()
        if all(low[k] - MEETS <= point[k] <= high[k] + MEETS for k in range(3)):
            return True
    return False


def faces(panel: Part, other: Part) -> bool:
    """Whether two parts are panels that lie face to face."""
    if not isinstance(panel, Panel) or not isinstance(other, Panel):
        return False
    a, b = panel.placement.w, other.placement.w
    return abs(abs(sum(x * y for x, y in zip(a, b, strict=True))) - 1.0) < 1e-6
