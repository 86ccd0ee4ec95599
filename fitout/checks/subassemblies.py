"""What is carried into the vehicle as one, and what it falls into when joints stay open.

Parts of a module that are fastened to each other in the workshop, and that move together if
they move at all, are one sub-assembly: a carcass with its slides, a drawer's box with its
front, a bin with its lids. What only rests on something goes in by itself: a fridge, a
tank, a piece of the deck. Loose things in a tray that stands outside the bay count as one.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from fitout.checks.freeing import corners_of
from fitout.checks.ledger import Load, together
from fitout.checks.subject import Subject
from fitout.clearance.body import Body
from fitout.mechanics.lifting import REFERENCE_KG, Lift, reach_for, recommended_weight
from fitout.model.item import Item
from fitout.model.module import Joint, JointKind, Module, Part

WELDED = "welded"
FOR_GOOD = (WELDED, "glued")
"""Notes of fitted joints that hold by themselves and can't be left open."""

FASTENED = (
    JointKind.SCREWED, JointKind.BOLTED, JointKind.GROOVED, JointKind.HINGED, JointKind.SLIDES,
)  # fmt: skip
"""Kinds of joint that hold two parts together when they are carried."""

UNDOABLE = (JointKind.SCREWED, JointKind.BOLTED, JointKind.HINGED)
"""Kinds of joint that may as well be made in the vehicle."""

ON_TOP = 1.0
"""A part whose underside is so near another's top, mm, stands on it."""

FIXED_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "drawers": "carcass",
        "box": "box",
        "fridge slide": "base",
        "side bin": "bin",
        "barrier": "barrier",
        "water tank": "cradle",
        "seat tray": "tray",
    }
)
"""What a builder calls the fixed part of each kind of module."""

LOOSE = "what lies in it"

FEW = 3
"""So many parts are told by name."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SubAssembly:
    """Parts carried as one. `id` is in a builder's words; `load` is empty, without hardware.

    `parts` are ids in the fit-out's order, `bodies` theirs, in the place they end up in.
    """

    id: str
    module: str
    parts: tuple[str, ...]
    load: Load
    bodies: tuple[Body, ...]

    @property
    def mass_kg(self) -> float:
        """What is to be carried, kg."""
        return self.load.mass_kg


def sub_assemblies(subject: Subject) -> tuple[SubAssembly, ...]:
    """Everything that is carried in as one, in the order of modules and their parts.

    Each part is in exactly one of them.
    """
    return tuple(
        sub for module in subject.fitout.modules for sub in _named(subject, module, _whole(module))
    )


def separable(subject: Subject, sub: SubAssembly) -> tuple[Joint, ...]:
    """The joints of a sub-assembly that can be left open and made in the vehicle."""
    inside = set(sub.parts)
    return tuple(
        joint
        for joint in subject.modules[sub.module].joints
        if joint.kind in UNDOABLE and joint.a in inside and joint.b in inside
    )


def lower_first(subject: Subject, joint: Joint) -> tuple[str, str]:
    """The two parts of a joint: what is there first, and what is then set on or fixed to it.

    A joint without such an order gives two empty ids.
    """
    a, b = joint.a, joint.b
    if joint.kind is JointKind.RESTS:
        return b, a
    if joint.kind is JointKind.SLIDES:
        return (a, b) if isinstance(subject.parts.get(a), Item) else (b, a)
    if not {a, b} <= set(subject.parts) or joint.kind not in UNDOABLE:
        return "", ""
    if subject.parts[a].module != subject.parts[b].module and joint.kind is JointKind.SCREWED:
        return b, a
    body_a, body_b = subject.bodies[a], subject.bodies[b]
    if abs(float(body_a.lo[2] - body_b.hi[2])) < ON_TOP:
        return b, a
    if abs(float(body_b.lo[2] - body_a.hi[2])) < ON_TOP:
        return a, b
    return "", ""


def split(
    subject: Subject, sub: SubAssembly, left_open: Collection[Joint]
) -> tuple[SubAssembly, ...]:
    """What a sub-assembly falls into when joints stay open, heaviest first.

    What is left open all round does not hang on by what it was only fitted against. The
    sub-assembly itself if it still holds together; ValueError for a joint that is not
    one of `separable`.
    """
    may = set(separable(subject, sub))
    if not set(left_open) <= may:
        raise ValueError(f"{sub.id}: not a joint that can be left open")
    module = subject.modules[sub.module]
    joints = [joint for joint in module.joints if joint not in set(left_open)]
    held = {id_ for j in joints if j.kind in FASTENED or j.note in FOR_GOOD for id_ in (j.a, j.b)}
    off = {id_ for j in left_open for id_ in (j.a, j.b)} - held
    joints = [j for j in joints if not {j.a, j.b} & off]
    groups = _groups([subject.parts[id_] for id_ in sub.parts], joints)
    if len(groups) == 1:
        return (sub,)
    names = _unique([f"{sub.module}: {word}" for word in _pieces(sub, groups)])
    pieces = [_made(subject, n, sub.module, g) for n, g in zip(names, groups, strict=True)]
    return tuple(sorted(pieces, key=lambda piece: (-piece.mass_kg, piece.id)))


def limit_kg(piece: SubAssembly) -> float:
    """The most one person should lift of a thing of this shape, kg.

    Held against the body by its shallowest side, raised least, straight ahead, now and then,
    with a fair grip: what NIOSH's equation allows at its best, and never more than ISO's
    reference mass.
    """
    points = corners_of(piece.bodies)
    depth_cm = float((points.max(axis=0) - points.min(axis=0)).min()) / 10.0
    lift = Lift(reach=reach_for(depth_cm), height=75.0, travel=25.0)
    return min(REFERENCE_KG, recommended_weight(lift))


def _whole(module: Module) -> list[list[Part]]:
    """The groups of parts of a module that are carried as one."""
    groups = _groups(list(module.parts()), module.joints)
    if module.berth is not None:
        return groups
    loose = [group for group in groups if all(isinstance(part, Item) for part in group)]
    fixed = [group for group in groups if group not in loose]
    if not fixed:
        return groups
    return [*fixed, [part for group in loose for part in group]] if loose else fixed


def _groups(parts: Sequence[Part], joints: Iterable[Joint]) -> list[list[Part]]:
    """Parts that hold together through the joints, in the order of their first parts."""
    by_id = {part.id: part for part in parts}
    own = [j for j in joints if j.a in by_id and j.b in by_id]
    leader = {id_: id_ for id_ in by_id}

    def head(id_: str) -> str:
        while leader[id_] != id_:
            id_ = leader[id_]
        return id_

    held: set[str] = set()
    for joint in own:
        if _holds(joint, by_id[joint.a], by_id[joint.b]):
            held |= {joint.a, joint.b}
            leader[head(joint.b)] = head(joint.a)
    # A part that is only fitted between others, such as foam in a tray, goes with them.
    for joint in own:
        if joint.kind is JointKind.FITTED and not {joint.a, joint.b} <= held:
            held |= {joint.a, joint.b}
            leader[head(joint.b)] = head(joint.a)
    groups: dict[str, list[Part]] = {}
    for part in parts:
        groups.setdefault(head(part.id), []).append(part)
    return list(groups.values())


def _holds(joint: Joint, a: Part, b: Part) -> bool:
    if joint.kind is JointKind.FITTED:
        return joint.note in FOR_GOOD
    # A drawer comes off its slides, which stay with the carcass; a lid stays on its hinge.
    return joint.kind in FASTENED and (a.moves == b.moves or joint.kind is JointKind.HINGED)


def _named(subject: Subject, module: Module, groups: list[list[Part]]) -> list[SubAssembly]:
    """The sub-assemblies of a module with their words."""
    fixed = [g for g in groups if not _is_bought(g) and g[0].moves is None]
    main = max(fixed, key=_mass, default=None)
    names: list[str] = []
    for group in groups:
        word = _word(module, group, group is main)
        names.append(module.name if word == module.name else f"{module.name}: {word}")
    return [
        _made(subject, name, module.name, group)
        for name, group in zip(_unique(names), groups, strict=True)
    ]


def _word(module: Module, group: list[Part], is_main: bool) -> str:
    if len(group) == 1 and not (is_main and module.kind in FIXED_WORDS):
        return group[0].name
    if _is_bought(group):
        return LOOSE
    if is_main and module.kind in FIXED_WORDS:
        return FIXED_WORDS[module.kind]
    moves = group[0].moves
    if moves is not None and moves != module.name:
        return moves
    return _of_many(group) if moves is None else "tray"


def _pieces(sub: SubAssembly, groups: list[list[Part]]) -> list[str]:
    """What pieces are called: the whole less what is off it, where that is little."""
    main = max(groups, key=len)
    off = [part.name for group in groups if group is not main for part in group]
    whole = sub.id.partition(": ")[2] or sub.module
    if len(off) > FEW or len(main) <= FEW:
        return [_of_many(group) for group in groups]
    less = f"{whole} without {_listed(off)}"
    return [less if group is main else _of_many(group) for group in groups]


def _of_many(group: list[Part]) -> str:
    """Few parts by their names, the heaviest first; of many that one, and how many more."""
    main = max(group, key=lambda part: part.mass_kg)
    others = [part.name for part in group if part is not main]
    if len(group) > FEW:
        return f"{main.name} and {len(others)} more"
    return _listed([main.name, *others])


def _listed(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _is_bought(group: list[Part]) -> bool:
    return all(isinstance(part, Item) for part in group)


def _mass(group: list[Part]) -> float:
    return sum(part.mass_kg for part in group)


def _unique(names: list[str]) -> list[str]:
    """Names that occur more than once get numbers."""
    counts: dict[str, int] = {}
    unique: list[str] = []
    for name in names:
        counts[name] = counts.get(name, 0) + 1
        unique.append(name if counts[name] == 1 else f"{name} {counts[name]}")
    return unique


def _made(subject: Subject, id_: str, module: str, group: list[Part]) -> SubAssembly:
    parts = tuple(part.id for part in group)
    return SubAssembly(
        id=id_,
        module=module,
        parts=parts,
        load=together(subject.loads[id_] for id_ in parts),
        bodies=tuple(subject.bodies[id_] for id_ in parts),
    )
