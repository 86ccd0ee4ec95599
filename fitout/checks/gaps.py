"""Gaps between parts, and between parts and the vehicle, as everything stands shut."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from fitout.checks.slips import unconfirmed
from fitout.checks.stack import Stack, judged, wider_as_built
from fitout.checks.subject import Subject
from fitout.checks.verdict import COMMON_PRACTICE, ROUNDING, at_least
from fitout.clearance.body import Body
from fitout.clearance.contact import Contact, Pairs, contacts, near_pairs
from fitout.clearance.witness import closest
from fitout.model.bay import Obstacle
from fitout.model.finding import Finding, Severity
from fitout.model.item import Item
from fitout.model.module import Part
from fitout.model.panel import Panel

REACH = 25.0
"""How far from each other bodies are looked at, mm; beyond it nothing is near."""

SAME_MODULE = 0.5
"""Least gap between parts of one module that are not declared to meet, mm (common practice)."""


def wanted(subject: Subject, a: str, b: str) -> float:
    """The least gap two bodies must keep, mm; 0 if they are declared to meet."""
    if (a, b) in subject.joined:
        return 0.0
    part, other = subject.parts[a], subject.parts.get(b)
    if other is None:
        return _to_bay(subject, part, subject.obstacles[b])
    rules = subject.setting.rules
    moves = part.moves != other.moves
    if part.module == other.module:
        return rules.moving if moves else SAME_MODULE
    if _is_tank(subject, part) or _is_tank(subject, other):
        return rules.tank
    return max(rules.parts, rules.moving) if moves else rules.parts


def _to_bay(subject: Subject, part: Part, obstacle: Obstacle) -> float:
    rules = subject.setting.rules
    if obstacle.kind == "keep clear":
        return 0.0
    if obstacle.kind == "seat":
        return rules.seat
    if _is_tank(subject, part):
        return rules.tank
    return rules.scribed if isinstance(part, Panel) and part.scribed else rules.wall


def _is_tank(subject: Subject, part: Part) -> bool:
    return isinstance(part, Item) and subject.modules[part.module].kind == "water tank"


def check_gaps(subject: Subject) -> Iterator[Finding]:
    """Every pair too near, and for what is near enough the tightest pair of each kind."""
    pairs = at_rest(subject)
    for (a, b), (limit, contact) in pairs.items():
        gap = -contact.depth if contact.clashes else contact.gap
        if gap < limit - 1e-3:
            yield _finding(subject, a, b, gap, limit)
    passing: list[Stack] = []
    for a, b in _tightest(subject, pairs):
        limit, contact = pairs[a, b]
        finding = _finding(subject, a, b, contact.gap, limit)
        told, stack = judged(subject, finding, a, b)
        yield told
        if stack is not None and told.severity is Severity.PASS:
            passing.append(stack)
    yield from unconfirmed(subject, passing)


def between_modules(subject: Subject) -> list[tuple[str, str]]:
    """The tightest pair of each module with each other and with each surface, by ids.

    Also where less is left than is wanted; not where bodies touch or clash.
    """
    return _tightest(subject, at_rest(subject), too_near=True)


def _tightest(
    subject: Subject,
    pairs: dict[tuple[str, str], tuple[float, Contact]],
    *,
    too_near: bool = False,
) -> list[tuple[str, str]]:
    """Of the pairs that keep their gap, the one with least to spare for each two groups.

    Of all that are apart, if `too_near`.
    """
    found: dict[tuple[str, str], tuple[float, tuple[str, str]]] = {}
    for (a, b), (limit, contact) in pairs.items():
        gap = -contact.depth if contact.clashes else contact.gap
        least = ROUNDING if too_near else limit - ROUNDING
        if gap < least or (a, b) in subject.joined or math.isinf(gap):
            continue
        key = (subject.parts[a].module, _group(subject, b))
        if key[0] == key[1]:
            continue
        spare = gap - limit + wider_as_built(subject, a, b)
        if key not in found or spare < found[key][0]:
            found[key] = (spare, (a, b))
    return [pair for _, (_, pair) in sorted(found.items())]


def at_rest(subject: Subject) -> dict[tuple[str, str], tuple[float, Contact]]:
    """Every pair of bodies that are near each other: the gap wanted, and how they stand.

    Parts of one module are looked at only as far as the gap they must keep, since no more
    is said of them; all others up to `REACH`.
    """
    bodies = list(subject.bodies.values())
    ids = [body.id for body in bodies]
    limits: dict[tuple[int, int], float] = {}
    by_reach: dict[float, list[tuple[int, int]]] = {}
    for i, j in _near(subject, bodies).tolist():
        limit = limits[i, j] = wanted(subject, ids[i], ids[j])
        apart = _group(subject, ids[i]) != _group(subject, ids[j])
        joined = (ids[i], ids[j]) in subject.joined
        by_reach.setdefault(REACH if apart and not joined else limit, []).append((i, j))
    found: dict[tuple[int, int], Contact] = {}
    for reach, pairs in by_reach.items():
        found |= contacts(bodies, reach, subject.memory.pairs, np.array(pairs))
    return {(ids[i], ids[j]): (limit, found[i, j]) for (i, j), limit in limits.items()}


def _near(subject: Subject, bodies: list[Body]) -> Pairs:
    """Pairs of parts in the bay, of parts outside, and of parts in the bay and the vehicle."""
    inside = np.array([b.id in subject.parts and subject.in_bay(b.id) for b in bodies])
    # Shut, no leaf of the tailgate stands open; that is looked at where things move.
    vehicle = np.array([_is_there(subject, b.id) for b in bodies])
    pairs = near_pairs(bodies, REACH)
    i, j = pairs.T
    outside = ~inside & np.array([b.id in subject.parts for b in bodies])
    kinds = (inside[i] & inside[j], outside[i] & outside[j], inside[i] & vehicle[j])
    return np.concatenate([pairs[kind] for kind in kinds])


def _is_there(subject: Subject, id_: str) -> bool:
    obstacle = subject.obstacles.get(id_)
    return obstacle is not None and obstacle.kind != "door"


def _group(subject: Subject, other: str) -> str:
    part = subject.parts.get(other)
    return other if part is None else part.module


def _finding(subject: Subject, a: str, b: str, gap: float, limit: float) -> Finding:
    code = "gap to the vehicle" if b in subject.obstacles else "gap between parts"
    where = f"{a} – {b}"
    if gap < 0.0:
        sentence = f"{a} runs {-gap:.1f} mm into {b}{place(subject, a, b)}."
        if (a, b) not in subject.joined:
            return at_least(code, where, gap, limit, "mm", sentence, COMMON_PRACTICE)
        sentence = f"{a} and {b} are to meet but overlap by {-gap:.2f} mm{place(subject, a, b)}."
    elif gap < limit - 1e-3:
        sentence = (
            f"{a} comes within {gap:.1f} mm of {b}{place(subject, a, b)}; {limit:g} mm are wanted."
        )
    else:
        sentence = f"{a} keeps {gap:.1f} mm from {b}{place(subject, a, b)}."
    return at_least(code, where, gap, limit, "mm", sentence, COMMON_PRACTICE)


def place(subject: Subject, a: str, b: str) -> str:
    """Where two bodies, by id, come nearest, in words."""
    return place_between(subject, subject.bodies[a], subject.bodies[b])


def place_between(subject: Subject, a: Body, b: Body) -> str:
    """Where two bodies come nearest (the point on the first), in words."""
    x, y, z = subject.memory.recall(("closest", a.key, b.key), lambda: closest(a, b)).point_a
    side = "left of" if y >= 0 else "right of"
    return f" at {x:.0f} forward, {abs(y):.0f} {side} the centre line, {z:.0f} up"
