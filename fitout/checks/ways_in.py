"""How a sub-assembly gets from outside to its place in the empty bay, or what stops it.

Read backwards, as it comes out: a straight shift frees it from what it touches and brings it
into a convex room (proved by the swept volume of every part); there it is turned; so
turned it leaves through the opening by a straight shift. Forwards it is the same way in.
"""

from __future__ import annotations

import dataclasses
import itertools
import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

import numpy as np

from fitout.checks.freeing import Freed, corners_of, shifted_out, turned_out
from fitout.checks.gateways import gateways
from fitout.checks.pitched import Pitched, pitched_in
from fitout.checks.subassemblies import FASTENED, SubAssembly, lower_first, separable, split
from fitout.checks.subject import Subject
from fitout.checks.tool_access import OWN_PANEL, ways_to_bolts
from fitout.clearance.convex import Array
from fitout.clearance.passage import (
    AXES,
    Gateway,
    Turn,
    Way,
    nearest,
    search,
    straight_gap,
    ways,
)
from fitout.clearance.passage_turn import turns
from fitout.model.module import Joint, JointKind
from fitout.model.panel import Panel

Split = tuple[tuple[Joint, ...], tuple[SubAssembly, ...]]
"""The joints left open, and the pieces carried in."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Entry:
    """What came of looking for a way in: `way` if one was found keeping `hand` mm, else None.

    `straight` is the gap that it has gone through straight, None where it can't; `pitched` the
    way in that was found only by pitching it as it passes.
    """

    hand: float
    way: Way | None
    straight: float | None = None
    pitched: Pitched | None = None

    @property
    def found(self) -> bool:
        """Whether there is a way in of either kind."""
        return self.way is not None or self.pitched is not None

    @property
    def gap(self) -> float:
        """What it keeps from the opening's edges at best, mm."""
        if self.pitched is not None:
            return self.pitched.gap
        return -math.inf if self.way is None else self.way.gap + self.hand


@dataclass(frozen=True, slots=True, kw_only=True)
class Shortfall:
    """How much is missing on every side where a body comes nearest to passing, mm.

    Below zero: so much to spare. `tight` is what is nearest there.
    """

    missing: float
    turn: Turn
    tight: tuple[str, ...]


def way_in(subject: Subject, sub: SubAssembly) -> Entry:
    """How a sub-assembly goes in, with room for hands if possible, else as tight as it must."""
    question = ("way in", *(body.key for body in sub.bodies), _bay_key(subject))
    return subject.memory.recall(question, partial(_looked_for, subject, sub))


def smallest_split(subject: Subject, sub: SubAssembly) -> Split | None:
    """The fewest pieces found to carry in so that all goes in: open joints and pieces.

    None where no way is found for a piece that can't be taken further apart.
    """
    keys = (*(body.key for body in sub.bodies), _bay_key(subject))
    question = ("split", sub.id, sub.parts, separable(subject, sub), *keys)
    return subject.memory.recall(question, partial(_split_for, subject, sub))


def _bay_key(subject: Subject) -> tuple[object, ...]:
    """What of the bay and the rules a way in depends on."""
    bay = subject.fitout.bay
    shapes = tuple(body.key for id_, body in subject.bodies.items() if id_ in subject.obstacles)
    seat = (bay.states, bay.seat_length, tuple(sorted(bay.seat_lean_deg.items())))
    edges = (bay.opening, bay.tailgate, bay.front, bay.floor)
    return (shapes, edges, seat, subject.setting.rules.hand)


def _looked_for(subject: Subject, sub: SubAssembly) -> Entry:
    hand = subject.setting.rules.hand
    for keep in (hand, 0.0):
        for start in _freed(subject, sub):
            way = _from(subject, sub, start, keep)
            if way is None:
                continue
            straight = None
            if start.turn is None and way.turn is not None:
                tighter = [gateways_of(subject, 0.0)[i] for i in start.rooms]
                straight = straight_gap(start.points, tighter)
            return Entry(hand=keep, way=way, straight=straight)
    for keep in (hand, 0.0):
        pitched = pitched_in(subject, sub.bodies, keep)
        if pitched is not None:
            return Entry(hand=keep, way=None, pitched=pitched)
    return Entry(hand=0.0, way=None)


def _freed(subject: Subject, sub: SubAssembly) -> Iterator[Freed]:
    """How it comes off its place: shifted, or else turned about one axis or another."""
    inside = [gateway.inside for gateway in gateways_of(subject, 0.0)]
    keys = (*(body.key for body in sub.bodies), _bay_key(subject))
    recall = subject.memory.recall
    shifted = recall(("shifted", *keys), partial(shifted_out, subject, sub.bodies, inside))
    if shifted is not None:
        yield shifted
        return
    for axis in (2, 0, 1):
        work_out = partial(turned_out, subject, sub.bodies, inside, axis)
        turned = recall(("turned", axis, *keys), work_out)
        if turned is not None:
            yield turned


def _from(subject: Subject, sub: SubAssembly, start: Freed, keep: float) -> Way | None:
    """The best way from where a sub-assembly is free, so much kept from the opening's edges."""
    reached = [gateways_of(subject, keep)[i] for i in start.rooms]
    way = search(start.points, reached, _aligning(subject, sub, start.turn))
    if way is None or start.turn is None:
        return way
    return dataclasses.replace(way, before=_one_after_other(start.turn, way.before))


def _goes_at_all(subject: Subject, sub: SubAssembly) -> bool:
    """Whether there is any way in, however tight."""
    for start in _freed(subject, sub):
        reached = [gateways_of(subject, 0.0)[i] for i in start.rooms]
        if any(True for _ in ways(start.points, reached, _aligning(subject, sub, start.turn))):
            return True
    return False


def _one_after_other(first: Turn, then: tuple[Turn, ...]) -> tuple[Turn, ...]:
    """Two turns about one axis are one, or none."""
    if not then or then[0].axis != first.axis:
        return (first, *then)
    both = Turn(axis=first.axis, angle_deg=first.angle_deg + then[0].angle_deg)
    return tuple(t for t in (both, *then[1:]) if abs(t.angle_deg) > 0.05)


def shortfall(subject: Subject, sub: SubAssembly) -> Shortfall:
    """How near a sub-assembly comes to passing the opening turned about one axis."""
    question = ("shortfall", *(body.key for body in sub.bodies), _bay_key(subject))
    return subject.memory.recall(question, partial(_shortfall, subject, sub))


def _shortfall(subject: Subject, sub: SubAssembly) -> Shortfall:
    first: dict[bytes, Gateway] = {}
    for gateway in gateways_of(subject, 0.0):
        # What stands ahead matters only for turning inside.
        first.setdefault(gateway.through.offsets[: gateway.through.edges].tobytes(), gateway)
    most, turn, tight = nearest(corners_of(sub.bodies), list(first.values()))
    return Shortfall(missing=-most, turn=turn, tight=tight)


def gateways_of(subject: Subject, hand: float) -> tuple[Gateway, ...]:
    """The bay's gateways, `hand` mm kept from the opening's edges."""
    key = _bay_key(subject)
    whole = subject.memory.recall(("gateways", *key), partial(gateways, subject.fitout.bay))
    if not hand:
        return whole
    question = ("gateways", hand, *key)
    return subject.memory.recall(question, lambda: tuple(g.drawn_in(hand) for g in whole))


def _aligning(subject: Subject, sub: SubAssembly, turned: Turn | None) -> tuple[Turn, ...]:
    """Turns that lay it flat or upright, square to the bay, from how it is once free."""
    panels = [p for p in map(subject.parts.get, sub.parts) if isinstance(p, Panel)]
    found = [Turn(axis=a, angle_deg=s) for a in (2, 1, 0) for s in (90.0, -90.0)]
    if panels:
        normal = np.array(max(panels, key=lambda p: p.mass_kg).placement.w)
        if turned is not None:
            normal = turns(AXES[turned.axis], np.array([turned.angle_deg]))[0] @ normal
        found += _squaring(normal)
    return tuple(dict.fromkeys(t for t in found if abs(t.angle_deg) > 0.1))


def _squaring(normal: Array) -> Iterator[Turn]:
    """Turns about each axis that bring a normal square to it onto one of the other two."""
    for axis in (1, 0, 2):
        if abs(normal[axis]) > 1e-6:
            continue
        b, c = (axis + 1) % 3, (axis + 2) % 3
        lean = math.degrees(math.atan2(normal[c], normal[b]))
        square = [round((to - lean + 180.0) % 360.0 - 180.0, 9) for to in (0.0, 90.0, 180.0, -90.0)]
        square = [angle for angle in square if abs(angle) <= 135.0]
        yield from (Turn(axis=axis, angle_deg=angle) for angle in sorted(square, key=abs))


def _split_for(subject: Subject, sub: SubAssembly) -> Split | None:
    may = separable(subject, sub)
    atoms = split(subject, sub, may)
    passing: list[frozenset[str]] = []
    stuck: list[frozenset[str]] = []

    def goes(piece: SubAssembly) -> bool:
        ids = frozenset(piece.parts)
        if any(ids <= known for known in passing):
            return True
        # What can't be carried joined can't be with more: this spares most searches.
        if any(known <= ids for known in stuck):
            return False
        found = _goes_at_all(subject, piece)
        (passing if found else stuck).append(ids)
        return found

    if len(atoms) == 1:
        return None
    best = _joined_up(subject, sub, goes)
    # What was joined goes, and so do its parts: only what stayed alone is left to ask for.
    if not all(map(goes, best[1])):
        return None
    for count in (1, 2):
        for alone in itertools.combinations(atoms, count) if len(best[1]) > count + 1 else ():
            out = {id_ for piece in alone for id_ in piece.parts}
            left_open = tuple(j for j in may if j.a in out or j.b in out)
            pieces = split(subject, sub, left_open)
            if len(pieces) < len(best[1]) and all(map(goes, pieces)):
                best = left_open, pieces
                break
    return best


def _joined_up(subject: Subject, sub: SubAssembly, goes: Callable[[SubAssembly], bool]) -> Split:
    """All joints open but for those that can be made one after the other all the same.

    Those of the lightest parts first: brackets and lips go with what they are screwed to.
    """
    left_open = list(separable(subject, sub))

    def weight(joint: Joint) -> tuple[float, str, str]:
        masses = [subject.loads[id_].mass_kg for id_ in (joint.a, joint.b)]
        return round(sum(masses), 6), joint.a, joint.b

    for joint in sorted(left_open, key=weight):
        if joint not in left_open:
            continue
        held = next(p for p in split(subject, sub, left_open) if joint.a in p.parts)
        fewer = [j for j in left_open if j is not joint]
        piece = next(p for p in split(subject, sub, fewer) if joint.a in p.parts)
        if joint.b in held.parts or goes(piece):
            inside = set(piece.parts)
            left_open = [j for j in fewer if not {j.a, j.b} <= inside]
    return tuple(left_open), split(subject, sub, left_open)


def carried_as(subject: Subject, sub: SubAssembly) -> tuple[SubAssembly, ...]:
    """What a sub-assembly is carried in as: itself, or the fewest pieces that go in."""
    if way_in(subject, sub).found:
        return (sub,)
    found = smallest_split(subject, sub)
    return (sub,) if found is None else found[1]


def bolted_first(subject: Subject, sub: SubAssembly) -> tuple[SubAssembly, ...]:
    """A sub-assembly without the panels of its own under which its bolts can't be turned.

    They, what is set on them and what hangs on one of those alone are screwed on once it is
    bolted down; itself where there are none, or where they hold otherwise than by screws.
    """
    module = subject.modules[sub.module]
    if module.berth is None:
        return (sub,)
    own = set(sub.parts)
    met = [
        way
        for way in ways_to_bolts(subject, module)
        if way.cost == OWN_PANEL and way.bolt.through in own
    ]
    barring = {
        part
        for way in met
        for part in way.blockers
        if part in own and subject.parts[part].moves is None
    }
    late = _with_what_is_on(subject, sub, barring)
    bolted = {way.bolt.through for way in met}
    hanging = {part for part in own - late - bolted if _hangs(subject, sub, part, late)}
    left_open = [
        joint
        for joint in separable(subject, sub)
        if not {joint.a, joint.b} & hanging
        and ({joint.a, joint.b} & barring or len({joint.a, joint.b} & late) == 1)
    ]
    if not left_open:
        return (sub,)
    pieces = split(subject, sub, left_open)
    after = {part for piece in pieces if set(piece.parts) & late for part in piece.parts}
    can_wait = not after & bolted and _with_what_is_on(subject, sub, after) == after
    return pieces if can_wait else (sub,)


def _with_what_is_on(subject: Subject, sub: SubAssembly, parts: set[str]) -> set[str]:
    """Parts of a sub-assembly with all that is set on them or hinged to it."""
    own, whole, size = set(sub.parts), set(parts), -1
    joints = [
        joint
        for joint in subject.modules[sub.module].joints
        if {joint.a, joint.b} <= own and joint.kind is not JointKind.SLIDES
    ]
    while len(whole) != size:
        size = len(whole)
        for joint in joints:
            below, above = lower_first(subject, joint)
            if below in whole:
                whole.add(above)
            if joint.kind is JointKind.HINGED and {joint.a, joint.b} & whole:
                whole |= {joint.a, joint.b}
    return whole


def _hangs(subject: Subject, sub: SubAssembly, part: str, others: set[str]) -> bool:
    """Whether a part of a sub-assembly is fastened to one of `others` and to nothing else."""
    held = {
        joint.b if joint.a == part else joint.a
        for joint in subject.modules[sub.module].joints
        if joint.kind in FASTENED and part in (joint.a, joint.b)
    }
    return len(held) == 1 and held <= others
