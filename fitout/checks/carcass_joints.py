"""Screws and glue that carry a panel by its edges, or the cleats and bearers beneath it.

What lies on something needs no screw to stay up; what hangs between uprights on screws driven
sideways does, and so do the strips a deck lies on. The panel counts as stiff and its screws as
alike; a knee is put where it loads one of them most.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from fitout.checks.detail import Detail
from fitout.checks.order_fasteners import MEETS, OTHERS
from fitout.checks.remedies import board_entry, thicker_sheets
from fitout.checks.restraint_grip import EDGE_SHARE, SCREW_STEEL_MPA
from fitout.checks.subject import Subject
from fitout.checks.verdict import at_most
from fitout.mechanics import fasteners
from fitout.mechanics.boards import BUMP_G, KNEE_N, STANDARD_GRAVITY
from fitout.mechanics.screws import GLUE_SHARE, ROLLING_SHEAR_MPA, effective_diameter
from fitout.mechanics.timber import GAMMA_LOAD, METHOD, Duration, joint_share, strength_share
from fitout.model.finding import Severity
from fitout.model.hardware import Article
from fitout.model.module import Joint, JointKind, Module, PlateDuty
from fitout.model.panel import Panel

LOAD_STEP_KG = 0.1
"""How finely the load that a joint bears is looked for."""

KNEE_INSET = 50.0
"""A knee's middle comes no nearer to an edge, mm: half of 100."""

Spot = tuple[float, float]
Array = npt.NDArray[np.float64]

LEVEL = 0.9
CARRIES = (JointKind.GROOVED, JointKind.HINGED, JointKind.BOLTED, JointKind.SLIDES)

SOURCE = (
    f"screws across: EN 1995-1-1 eq. 8.6 and 8.20, from memory, {METHOD}, loads × {GAMMA_LOAD:g}; "
    "glue: rolling shear of plywood from a materials database, half of it; forces: statics of a "
    "stiff panel on like screws"
)


@dataclass(frozen=True, slots=True)
class _Hung:
    """What hangs on screws: the part, where they are (x, y), what the weakest bears, the glue.

    `glued` is the area of all edges that meet, mm²; `screw` the article in words. `fitted` is
    where it meets others without screws: glue bears its share there, twice a screw's. `spread` and
    `knee` are the shares of what is spread and of a knee that it may have to carry, `beside` the
    plans of what else the panel on it lies on.
    """

    part: Panel
    places: tuple[Spot, ...]
    each_n: float
    glued: float
    screw: str
    fitted: tuple[Spot, ...] = ()
    spread: float = 1.0
    knee: float = 1.0
    beside: tuple[tuple[Spot, Spot], ...] = ()


@dataclass(frozen=True, slots=True)
class _Loaded:
    """What hangs, its load, also in words, and how much of its screws and its glue that uses.

    `each_n` is what a screw may bear while that load lies on it.
    """

    hung: _Hung
    duty: PlateDuty
    load: str
    each_n: float
    worst_n: float
    screws: float
    glue: float

    @property
    def share(self) -> float:
        """The better of the two: screws alone, else glue too."""
        return self.screws if self.screws <= 1.0 else min(self.screws, self.glue)


def joint_details(subject: Subject, module: Module) -> Iterator[Detail]:
    """The joint of a module that uses most of what it holds, if its panels hang on any."""
    found = [
        _loaded(duty, hung)
        for duty in module.plates
        if isinstance(panel := subject.parts[duty.panel], Panel)
        for hung in _hanging(subject, panel)
    ]
    if found:
        yield _told(subject, max(found, key=lambda f: (f.share, f.screws)))


def _told(subject: Subject, worst: _Loaded) -> Detail:
    hung, count = worst.hung, len(worst.hung.places)
    part = hung.part
    sentence = (
        f"Of the joints in {part.module} that carry a panel, {part.name}'s is used most: "
        f"{worst.load} at the worst place presses with {worst.worst_n:.0f} N across one of its "
        f"{count} screws ({hung.screw}), which may bear {worst.each_n:.0f} N"
    )
    cure = ""
    if worst.screws <= 1.0:
        sentence += "."
    elif worst.glue <= 1.0:
        more = math.ceil(count * worst.screws)
        cure = f"Glue it as well, or drive {more} screws in place of {count}."
        sentence += f"; glued too, its {hung.glued / 100.0:.0f} cm² of edge hold. {cure}"
    else:
        cure = _cure(subject, worst)
        sentence += f", nor would it hold if it were glued as well. {cure}"
    value = 100.0 * worst.share
    finding = at_most("carcass joint", part.id, value, 100.0, "%", sentence, SOURCE)
    if worst.screws > 1.0 and finding.severity is Severity.PASS:
        finding = dataclasses.replace(finding, severity=Severity.CAUTION)
    return Detail(finding, f"joint of {part.name}", cure)


def _cure(subject: Subject, worst: _Loaded) -> str:
    """What would hold, each reckoned anew: a thicker sheet, glued as well; less to carry."""
    hung, duty = worst.hung, worst.duty
    told = []
    for sheet in thicker_sheets(subject, hung.part.board):
        part = dataclasses.replace(hung.part, board=sheet)
        glued = hung.glued * sheet.thickness / hung.part.thickness
        if _loaded(duty, dataclasses.replace(hung, part=part, glued=glued)).share <= 1.0:
            told.append(f"{sheet.key}, glued as well, would do ({board_entry(subject, hung.part)})")
            break
    low, high = 0.0, duty.load_kg
    while high - low > LOAD_STEP_KG:
        middle = (low + high) / 2.0
        holds = _loaded(dataclasses.replace(duty, load_kg=middle), hung).share <= 1.0
        low, high = (middle, high) if holds else (low, middle)
    if low > 0.0:
        told.append(f"carry {math.ceil(duty.load_kg - low):.0f} kg less on it and glue it as well")
    if not told:
        return (
            "No thicker sheet of its sort would do, nor less to carry: it takes a support of its "
            "own beneath it, or a smaller panel (a narrower module)."
        )
    # A sheet's name is told as the design has to write it.
    return f"{'; or '.join(told)}." if len(told) > 1 or low == 0.0 else f"{told[0].capitalize()}."


def _hanging(subject: Subject, panel: Panel) -> Iterator[_Hung]:
    """What carries a panel by screws alone: the panel itself, or strips it lies on."""
    if abs(panel.placement.w[2]) < LEVEL:
        return
    joints = list(_joints(subject, panel.id))
    below = [_other(j, panel.id) for j in joints if _bears(subject, panel, j)]
    if not below:
        hung = _hung(subject, panel, joints)
        if hung is not None:
            yield hung
        return
    for id_ in below:
        strip = subject.parts.get(id_)
        if not isinstance(strip, Panel):
            continue
        theirs = [j for j in _joints(subject, id_) if _other(j, id_) != panel.id]
        if any(_bears(subject, strip, j) for j in theirs):
            continue
        hung = _hung(subject, strip, theirs)
        if hung is not None:
            yield dataclasses.replace(
                hung,
                spread=1.0 / len(below),
                knee=_knee_share(subject, panel, strip),
                beside=tuple(_plan(subject, other) for other in below if other != id_),
            )


def _knee_share(subject: Subject, panel: Panel, strip: Panel) -> float:
    """The most of a knee that a strip gets: all of it, unless it lies by the panel's edge.

    A knee's middle comes no nearer to the edge than `KNEE_INSET`; the lever rule tells the rest.
    """
    body, lies = subject.bodies[panel.id], subject.bodies[strip.id]
    k = 0 if lies.hi[0] - lies.lo[0] < lies.hi[1] - lies.lo[1] else 1
    middle = float(lies.lo[k] + lies.hi[k]) / 2.0
    low, high = float(body.lo[k]), float(body.hi[k])
    inside = max(0.0, min(middle - low, high - middle))
    span = high - low - 2.0 * inside
    off = max(0.0, KNEE_INSET - inside)
    return max(0.5, 1.0 - off / span) if span > 0.0 else 1.0


def _plan(subject: Subject, part: str) -> tuple[Spot, Spot]:
    """The least and greatest corner of what a part covers, seen from above."""
    body = subject.bodies[part]
    return (float(body.lo[0]), float(body.lo[1])), (float(body.hi[0]), float(body.hi[1]))


def _joints(subject: Subject, part: str) -> Iterator[Joint]:
    return (j for j in subject.fitout.all_joints() if part in (j.a, j.b))


def _other(joint: Joint, part: str) -> str:
    return joint.b if joint.a == part else joint.a


def _bears(subject: Subject, part: Panel, joint: Joint) -> bool:
    """Whether a joint carries the part by what is beneath it, or in a groove."""
    other = _other(joint, part.id)
    if joint.kind in CARRIES:
        return True
    if joint.kind is JointKind.RESTS:
        return joint.a == part.id
    body = subject.bodies.get(other)
    if joint.kind is not JointKind.SCREWED or body is None:
        return False
    return float(body.hi[2]) <= float(subject.bodies[part.id].lo[2]) + MEETS


def _hung(subject: Subject, part: Panel, joints: Sequence[Joint]) -> _Hung | None:
    """The screws driven sideways that carry a part; None without any, or where not known."""
    places: list[Spot] = []
    fitted: list[Spot] = []
    bears: list[tuple[float, str]] = []
    glued = 0.0
    for joint in joints:
        other = subject.parts.get(_other(joint, part.id))
        if not isinstance(other, Panel) or joint.kind is JointKind.RESTS:
            continue
        area, middle = _meeting(subject, part.id, other.id)
        glued += area
        if area and joint.kind is JointKind.FITTED:
            fitted.append(middle)
        for through, into in ((other, part), (part, other)):
            here = _screws_between(subject, through, into)
            screw = _screw_of(subject, (through, into), {d for _, d in here})
            if here and screw is not None:
                places += [place for place, _ in here]
                bears.append((_each_n((through, into), screw), screw.key))
    if not bears:
        return None
    each, key = min(bears)
    return _Hung(part, tuple(places), each, glued, key, tuple(fitted))


def _screws_between(subject: Subject, through: Panel, into: Panel) -> list[tuple[Spot, float]]:
    """Where screws go sideways through one panel into another, and the holes' diameters."""
    if abs(through.placement.w[2]) > 1.0 - LEVEL or through.board.kind != "plywood":
        return []
    low, high = subject.bodies[into.id].lo, subject.bodies[into.id].hi
    found = []
    for hole in through.holes:
        if hole.purpose != "screw":
            continue
        for w in (0.0, through.thickness):
            point = through.placement.at(hole.x, hole.y, w)
            if all(low[k] - MEETS <= point[k] <= high[k] + MEETS for k in range(3)):
                found.append(((point[0], point[1]), hole.diameter))
                break
    return found


def _screw_of(
    subject: Subject, panels: tuple[Panel, Panel], diameters: set[float]
) -> Article | None:
    """The shortest screw on the hardware lists that such holes are drilled for.

    Those bought for hinges, fronts and the like go into holes of their own.
    """
    rows = subject.setting.catalogue.articles
    through, into = panels
    room = through.thickness + into.thickness if _faces(*panels) else math.inf
    modules = [subject.modules[p.module] for p in panels]
    lines = (line for module in modules for line in module.hardware)
    keys = {line.article for line in lines if line.purpose not in OTHERS}
    fitting = [
        rows[key]
        for key in keys
        if key in rows
        and rows[key].kind == "wood screw"
        and rows[key].clearance_hole in diameters
        and through.thickness + 1.0 < (rows[key].length or 0.0) <= room
    ]
    return min(fitting, key=lambda s: (s.length or 0.0, s.key), default=None)


def _faces(a: Panel, b: Panel) -> bool:
    dot = sum(x * y for x, y in zip(a.placement.w, b.placement.w, strict=True))
    return abs(dot) > LEVEL


def _each_n(panels: tuple[Panel, Panel], screw: Article) -> float:
    """What a screw across two panels bears, characteristic, N."""
    through = panels[0]
    d = effective_diameter(screw.diameter or 1.0)
    share = 1.0 if _faces(*panels) else EDGE_SHARE
    embeds = tuple(
        fasteners.screw_embedment_mpa(fasteners.LEAST_OVER_MEAN * p.board.density_kg_m3, d)
        for p in panels
    )
    depths = through.thickness, (screw.length or 0.0) - through.thickness
    bends = fasteners.yield_moment_nmm(SCREW_STEEL_MPA, d)
    return fasteners.lateral_screw_n((embeds[0], share * embeds[1]), depths, d, bends)


def _meeting(subject: Subject, a: str, b: str) -> tuple[float, Spot]:
    """The standing area over which two bodies' blocks touch, mm², and its middle from above."""
    one, two = subject.bodies[a], subject.bodies[b]
    low, high = np.maximum(one.lo, two.lo), np.minimum(one.hi, two.hi)
    overlap = high - low
    middle = ((low + high) / 2.0).tolist()
    flat = int(np.argmin(overlap))
    sides = [float(overlap[k]) for k in range(3) if k != flat]
    if flat == 2 or overlap[flat] < -MEETS or min(sides) <= 0.0:
        return 0.0, (middle[0], middle[1])
    return sides[0] * sides[1], (middle[0], middle[1])


def _loaded(duty: PlateDuty, hung: _Hung) -> _Loaded:
    """The worst screw under the duty's loads, and the glue under them all."""
    spread = (hung.spread * duty.load_kg + hung.part.mass_kg) * STANDARD_GRAVITY
    factor = 1.0 if duty.patch else BUMP_G
    knee = hung.knee * KNEE_N if duty.patch else 0.0
    duration: Duration = "short" if duty.patch else "instant"
    points = _points(hung.part)
    forces = _forces(hung, points)
    knees = np.array([knee / _sharing(hung, point) for point in points])
    worst = float(np.abs(forces * knees + forces[:, :1] * factor * spread).max())
    each = hung.each_n * joint_share(duration)
    whole = knee + factor * spread
    glue = hung.glued * ROLLING_SHEAR_MPA * GLUE_SHARE * strength_share("plywood", duration)
    goods = f"{duty.load_kg * hung.spread:.1f} kg" if duty.load_kg else ""
    load = " and ".join(word for word in ("a knee" if duty.patch else "", goods) if word)
    if not duty.patch:
        load = f"a bump of {BUMP_G:g} g on {goods or 'its own weight'}"
    used = whole / glue if glue else math.inf
    return _Loaded(hung, duty, load, each, worst, worst / each, used)


def _points(part: Panel) -> list[Spot]:
    """The middle of a level or standing part, and where a knee can press on it, from above."""
    x0, y0, x1, y1 = part.outline.bounds
    t = part.thickness
    corners = [part.placement.at(u, v, w) for u in (x0, x1) for v in (y0, y1) for w in (0.0, t)]
    spans = [(min(c[k] for c in corners), max(c[k] for c in corners)) for k in (0, 1)]
    middle = tuple(sum(span) / 2.0 for span in spans)
    inset = [
        (a + KNEE_INSET, b - KNEE_INSET) if b - a > 2.0 * KNEE_INSET else ((a + b) / 2.0,)
        for a, b in spans
    ]
    return [(middle[0], middle[1]), *((x, y) for x in inset[0] for y in inset[1])]


def _sharing(hung: _Hung, point: Spot) -> int:
    """How many of the things a panel lies on are under a knee at a point, this one included."""
    return 1 + sum(
        all(low[k] < point[k] + KNEE_INSET and point[k] - KNEE_INSET < high[k] for k in (0, 1))
        for low, high in hung.beside
    )


def _forces(hung: _Hung, at: Sequence[Spot]) -> Array:
    """Shares of loads at some points on each of like screws, shape (screws, points).

    The part is stiff; off a single row of screws a load can't turn it.
    """
    points = np.array([*hung.places, *(spot for spot in hung.fitted for _ in range(2))])
    middle = points.mean(axis=0)
    arms = points - middle
    turns = np.linalg.pinv(arms.T @ arms, rcond=1e-6) @ (np.array(at) - middle).T
    shares: Array = (1.0 / len(points) + arms @ turns)[: len(hung.places)]
    return shares
