"""What is held by which fasteners: a module and all on it by its bolts, its sides by screws.

Each group is a rigid body on fasteners in one plane, with a footprint that may be pressed and
never pulls. What stands beside a module is not counted on, nor is friction.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from fitout.checks.ledger import Load, together
from fitout.checks.mass import contents_of, empty_of
from fitout.checks.restraint_cases import Case
from fitout.checks.restraint_grip import LARGE_WASHERS, Grip, Screws
from fitout.checks.subject import Subject
from fitout.mechanics import fasteners
from fitout.mechanics.boards import STANDARD_GRAVITY
from fitout.mechanics.bolt_group import GroupForces, Point, bolt_forces
from fitout.mechanics.bolt_group import Load as Push
from fitout.mechanics.bolts import PITCHES
from fitout.model.bay import AnchorPoint
from fitout.model.design import ModuleSpec
from fitout.model.hardware import Article
from fitout.model.module import Berth, Fixing, JointKind, Module
from fitout.model.panel import Panel
from fitout.modules.neighbours import box_of

FLOOR_BOLT, TO_BELOW = "floor bolt", "bolt to the module below"
ON_HOLE = 1.0
"""How far a fixing may lie from the hole that is its own, mm."""

LEAST_SCREWS = 3
INSERT = "insert nut M6"
Fastener = Grip | Screws


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """A load held by fasteners at `points`, each with its `grips`, on the plane at `level`.

    `names` are what to call the points; `corners` those of the footprint.
    """

    where: str
    load: Load
    points: tuple[Point, ...]
    names: tuple[str, ...]
    grips: tuple[Fastener, ...]
    corners: tuple[Point, ...]
    level: float


@dataclass(frozen=True, slots=True)
class Used:
    """The part of a group that a case uses most: its share, and the forces there, N."""

    share: float
    part: str
    fastener: str
    tension_n: float
    shear_n: float
    case: Case


def worst(subject: Subject, group: Group, cases: Iterable[Case]) -> Used | None:
    """What governs a group over all cases; None where one of them leaves it unheld."""
    found = [used_by(subject, group, case) for case in cases]
    held = [used for used in found if used is not None]
    return max(held, key=lambda used: used.share) if len(held) == len(found) else None


def used_by(subject: Subject, group: Group, case: Case) -> Used | None:
    """What governs a group in a case; None where its fasteners can't hold it that way."""
    forces = forces_of(subject, group, case)
    if forces is None:
        return None
    most = Used(-1.0, "", "", 0.0, 0.0, case)
    limits = {grip: grip.limits(case.basis) for grip in set(group.grips)}
    for index, grip in enumerate(group.grips):
        tension, shear = forces.tension[index], forces.shear_n(index)
        for part, share in limits[grip].shares(tension, shear):
            if share > most.share:
                most = Used(share, part, group.names[index], tension, shear, case)
    return most


def forces_of(subject: Subject, group: Group, case: Case) -> GroupForces | None:
    """The forces on a group's fasteners in a case."""
    weight = group.load.mass_kg * STANDARD_GRAVITY
    x, y, z = group.load.centre
    thrown = [weight * case.g * way for way in case.way]
    push = Push((thrown[0], thrown[1], thrown[2] - case.weight * weight), (x, y, z - group.level))
    asked = (group.points, group.corners, push)
    return subject.memory.recall(("bolt group", *asked), partial(bolt_forces, *asked))


def bolted(subject: Subject, module: Module) -> Group | None:
    """A module with its contents and all that stands on it, on its bolts to the vehicle.

    None where no known point of the vehicle holds it.
    """
    anchors = {a.name: a for a in subject.fitout.bay.anchors}
    known = [(f, anchors[f.anchor]) for f in module.fixings if f.anchor in anchors]
    if not known or module.berth is None:
        return None
    return Group(
        where=module.name,
        load=together(_with_all_on_it(subject, module)),
        points=tuple((f.point[0], f.point[1]) for f, _ in known),
        names=tuple(a.name for _, a in known),
        grips=tuple(grip_of(subject, module, f, a) for f, a in known),
        corners=footprint(module),
        level=known[0][0].point[2],
    )


def on_module(subject: Subject, module: Module) -> Group | None:
    """A module on the bolts and insert nuts that hold it to the module below."""
    base = next((p for p in module.panels if _holes(p, TO_BELOW)), None)
    spec: ModuleSpec | None = subject.setting.specs.get(module.name)
    below = None if spec is None or spec.on is None else subject.modules.get(spec.on)
    if base is None or below is None or below.berth is None:
        return None
    points = [(x, y) for x, y, _ in _holes(base, TO_BELOW)]
    under, box = below.berth, box_of(base)
    sunk = _sunk_bolt(subject, module)
    grip = Grip(
        thread="M6",
        grade=_grade(subject, None),
        washer=LARGE_WASHERS[6] if sunk is None else sunk.width or LARGE_WASHERS[6],
        countersunk=sunk is not None,
        board=base.thickness,
        density_kg_m3=base.board.density_kg_m3,
        into=None,
        insert_n=_insert_n(subject, below),
    )
    corners = [
        (x, y)
        for x in (max(box.x0, under.x0), min(box.x1, under.x1))
        for y in (max(box.y0, under.y0), min(box.y1, under.y1))
    ]
    return Group(
        where=module.name,
        load=together(_with_all_on_it(subject, module)),
        points=tuple(points),
        names=tuple(f"bolt {i} to {below.name}" for i in range(1, len(points) + 1)),
        grips=(grip,) * len(points),
        corners=tuple(corners),
        level=box.z0,
    )


def _sunk_bolt(subject: Subject, module: Module) -> Article | None:
    """The countersunk bolt that holds a module to the one below; None where it has a washer."""
    rows = subject.setting.catalogue.articles
    down = [rows[h.article] for h in module.hardware if h.purpose.startswith("down to")]
    return next((row for row in down if row.kind == "countersunk bolt"), None)


def _insert_n(subject: Subject, below: Module) -> float | None:
    """What an insert nut holds in the top of the module below: as a wood screw of its hole's size.

    Makers state more for their own; no public standard does.
    """
    nut = subject.setting.catalogue.articles[INSERT]
    top = max(below.panels, key=lambda p: box_of(p).z1, default=None)
    if top is None or not nut.pilot_hole or not nut.length:
        return None
    deep = min(nut.length, top.thickness)
    return fasteners.withdrawal_n(top.board.density_kg_m3 / 1000.0, nut.pilot_hole, deep)


def screwed(subject: Subject, module: Module) -> Group | None:
    """All of a module but its bolted base, on the screws between that base and the rest."""
    bases = [p for p in module.panels if _holes(p, FLOOR_BOLT) or _holes(p, TO_BELOW)]
    if len(bases) != 1:
        return None
    base, box = bases[0], box_of(bases[0])
    article = _joint_screw(subject, module)
    if article is None:
        return None
    found: list[tuple[Point, bool, float]] = []
    for joint in module.joints:
        if joint.kind is not JointKind.SCREWED or base.id not in (joint.a, joint.b):
            continue
        other = subject.parts.get(joint.b if joint.a == base.id else joint.a)
        if isinstance(other, Panel):
            found += _screws_between(base, box, other)
    if len(found) < LEAST_SCREWS:
        return None
    shank, length = article
    own = subject.loads[base.id]
    # Walls that stand on the floor themselves press on it where the base does not reach.
    resting = [j.a for j in module.joints if j.kind is JointKind.RESTS and j.b == "bay/floor"]
    feet = list(footprint(module)) if len(resting) > 1 else []
    whole = together(_with_all_on_it(subject, module))
    grips = {
        key: Screws(
            shank=shank,
            length=length,
            through=key[1],
            density_kg_m3=base.board.density_kg_m3,
            upright=key[0],
        )
        for key in {(upright, through) for _, upright, through in found}
    }
    return Group(
        where=module.name,
        load=_less(whole, own),
        points=tuple(point for point, _, _ in found),
        names=("one screw",) * len(found),
        grips=tuple(grips[upright, through] for _, upright, through in found),
        corners=hull([(x, y) for x in (box.x0, box.x1) for y in (box.y0, box.y1)] + feet),
        level=box.z1,
    )


def grip_of(subject: Subject, module: Module, fixing: Fixing, anchor: AnchorPoint) -> Grip:
    """A bolt to the vehicle, with what it was said to be and what it goes through."""
    wish, floor = subject.restraint.bolt, anchor.floor or subject.restraint.floor
    own = anchor.bolt
    article = subject.setting.catalogue.articles[fixing.article]
    d = article.diameter or 8.0
    panel = panel_at(module, fixing)
    countersunk = article.kind == "countersunk bolt"
    told = (own and own.washer) or wish.washer
    usual = article.width if countersunk and article.width else LARGE_WASHERS.get(round(d), 3.0 * d)
    return Grip(
        thread=f"M{d:g}" if f"M{d:g}" in PITCHES else "M8",
        grade=_grade(subject, anchor),
        washer=max(told or 0.0, usual) if countersunk else told or usual,
        board=0.0 if panel is None else panel.thickness,
        density_kg_m3=0.0 if panel is None else panel.board.density_kg_m3,
        countersunk=countersunk,
        into=(own and own.into) or wish.into or "nut",
        tested_n=(own and own.tested) or wish.tested,
        sheet=floor.sheet,
        sheet_mpa=floor.strength,
        plate=floor.plate or 0.0,
        plate_thickness=floor.plate_thickness,
        rating_n=anchor.rating_n,
    )


def panel_at(module: Module, fixing: Fixing) -> Panel | None:
    """The panel that a bolt to the vehicle goes through; None where it holds steel."""
    for panel in module.panels:
        for x, y, _ in _holes(panel, FLOOR_BOLT):
            if abs(x - fixing.point[0]) + abs(y - fixing.point[1]) < ON_HOLE:
                return panel
    return None


def footprint(module: Module) -> tuple[Point, ...]:
    """The corners of what stands on the vehicle's floor, as seen from above."""
    resting = {j.a for j in module.joints if j.kind is JointKind.RESTS and j.b == "bay/floor"}
    boxes = [box_of(p) for p in module.panels if p.id in resting]
    for bar in module.bars:
        if bar.id in resting:
            u = [bar.placement.at(a, b, 0.0) for a in (0.0, bar.length)
                 for b in (0.0, bar.section.width)]  # fmt: skip
            xs, ys = [p[0] for p in u], [p[1] for p in u]
            boxes.append(Berth(x0=min(xs), x1=max(xs), y0=min(ys), y1=max(ys), z0=0.0, z1=0.0))
    if not boxes and module.berth is not None:
        boxes = [module.berth]
    return hull([(x, y) for b in boxes for x in (b.x0, b.x1) for y in (b.y0, b.y1)])


def hull(points: Sequence[Point]) -> tuple[Point, ...]:
    """The corners of the least convex polygon round points, counter-clockwise."""
    ordered = sorted(set(points))
    sides: list[list[Point]] = []
    for listed in (ordered, ordered[::-1]):
        side: list[Point] = []
        for p in listed:
            while len(side) >= 2 and _turn(side[-2], side[-1], p) <= 0.0:
                side.pop()
            side.append(p)
        sides.append(side[:-1])
    return tuple(sides[0] + sides[1])


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _with_all_on_it(subject: Subject, module: Module) -> Iterator[Load]:
    """A module's own load, laden, what stands on it, and the cleats and pieces it bears."""
    yield empty_of(subject, module)
    yield contents_of(subject, module)
    for other in subject.fitout.modules:
        spec = subject.setting.specs.get(other.name)
        if spec is not None and spec.on == module.name and other is not module:
            yield from _with_all_on_it(subject, other)
        if other.kind == "deck":
            yield from _borne(subject, other, module)


def _borne(subject: Subject, deck: Module, module: Module) -> Iterator[Load]:
    """A module's even share of each part of the deck that leads to it by joints."""
    for part in deck.parts():
        holders = bearers_of(subject, deck, part.id)
        if module.name in holders:
            load = subject.loads[part.id]
            yield Load(load.mass_kg / len(holders), load.centre)


def bearers_of(subject: Subject, deck: Module, part: str) -> frozenset[str]:
    """The modules that a part of the deck is joined to, straight or through other parts of it."""
    seen, found, todo = {part}, set[str](), [part]
    while todo:
        here = todo.pop()
        for joint in deck.joints:
            if here not in (joint.a, joint.b):
                continue
            other = joint.b if joint.a == here else joint.a
            owner = subject.parts.get(other)
            if owner is not None and owner.module != deck.name:
                found.add(owner.module)
            elif owner is not None and other not in seen and joint.kind is not JointKind.FITTED:
                seen.add(other)
                todo.append(other)
    return frozenset(found)


def _holes(panel: Panel, purpose: str) -> list[tuple[float, float, float]]:
    """Where holes of a purpose lie, in the bay, in the middle of the panel's thickness."""
    return [
        panel.placement.at(h.x, h.y, panel.thickness / 2.0)
        for h in panel.holes
        if h.purpose == purpose
    ]


def _screws_between(base: Panel, box: Berth, other: Panel) -> Iterator[tuple[Point, bool, float]]:
    """The screws of a joint at the base: place, whether upright, the thickness they pass."""
    beside = box_of(other)
    for x, y, _ in _holes(base, "screw"):
        if beside.x0 <= x <= beside.x1 and beside.y0 <= y <= beside.y1:
            yield (x, y), True, base.thickness
    for x, y, z in _holes(other, "screw"):
        across = box.x0 - other.thickness <= x <= box.x1 + other.thickness
        along = box.y0 - other.thickness <= y <= box.y1 + other.thickness
        if across and along and box.z0 <= z <= box.z1:
            yield (x, y), False, other.thickness


def _joint_screw(subject: Subject, module: Module) -> tuple[float, float] | None:
    """Shank and length of the weakest screw that a module's joints are made with."""
    articles = subject.setting.catalogue.articles
    found = [articles[h.article] for h in module.hardware if h.purpose == "joints"]
    sizes = [(a.diameter, a.length) for a in found if a.diameter and a.length]
    return min(sizes, key=lambda s: s[0] * s[1]) if sizes else None


def _grade(subject: Subject, anchor: AnchorPoint | None) -> str:
    own = None if anchor is None or anchor.bolt is None else anchor.bolt.grade
    return own or subject.restraint.bolt.grade or "8.8"


def _less(whole: Load, part: Load) -> Load:
    """A load with a part of it taken off."""
    mass = whole.mass_kg - part.mass_kg
    x, y, z = (
        (whole.mass_kg * a - part.mass_kg * b) / mass
        for a, b in zip(whole.centre, part.centre, strict=True)
    )
    return Load(mass, (x, y, z))
