"""What would hold: larger washers, plates, thicker bolts, more bolts, more screws; tried in turn.

Each proposal is the same reckoning run again with it; the least work that holds is told.
"""

from __future__ import annotations

import dataclasses
import itertools
from collections.abc import Iterator, Sequence
from functools import partial

from fitout.checks.order_words import listed
from fitout.checks.restraint_cases import Case
from fitout.checks.restraint_grip import LARGE_WASHERS, Grip
from fitout.checks.restraint_held import Group, Used, worst
from fitout.checks.subject import Subject
from fitout.mechanics.bolt_group import Point

WASHERS = (0.0, 40.0, 60.0)
PLATES = (0.0, 60.0, 100.0)
MORE_BOLTS = (0, 2, 4, 6)
THICKER = "M10"
INSET = 40.0
"""How far inside the footprint's corners another bolt is proposed, mm."""

APART = 60.0
"""Least distance between two bolts, mm (common practice)."""

ANGLE_BOLTS = (4, 6, 8, 12)


def schedule(subject: Subject, group: Group, cases: Sequence[Case]) -> str:
    """The least change of a group's bolts that holds in all cases, as a sentence."""
    asked = ("fixing schedule", group, tuple(cases))
    return subject.memory.recall(asked, partial(_schedule, subject, group, tuple(cases)))


def _schedule(subject: Subject, group: Group, cases: tuple[Case, ...]) -> str:
    best: tuple[float, str] | None = None
    for words, changed in _proposals(group):
        used = worst(subject, changed, cases)
        if used is None:
            continue
        if used.share <= 1.0:
            return f"It would hold with {words} ({100.0 * used.share:.0f} %)."
        if best is None or used.share < best[0]:
            best = (used.share, words)
    if best is None:
        return "No number of bolts here would hold it that way: it needs points further apart."
    return (
        f"Even {best[1]} leave {100.0 * best[0]:.0f} %: bolt it to points that the vehicle's maker "
        f"rates for it, or carry less in it."
    )


def _proposals(group: Group) -> Iterator[tuple[str, Group]]:
    """Changes and what they are called, least work first."""
    bolted = [grip for grip in group.grips if isinstance(grip, Grip)]
    to_floor = all(grip.into is not None for grip in bolted)
    heads = any(grip.countersunk for grip in bolted)
    plates = PLATES if to_floor and any(g.into == "nut" for g in bolted) else (0.0,)
    places = _further_places(group)
    ways = itertools.product(WASHERS, plates, ("", THICKER), MORE_BOLTS)
    for washer, plate, thread, more in sorted(ways, key=_effort):
        if more > len(places) or not (washer or plate or thread or more):
            continue
        words = []
        if washer:
            kind = "steel plates let in under the heads" if heads else "washers"
            words.append(f"{washer:.0f} mm {kind}")
        if plate:
            words.append(f"{plate:.0f} mm plates beneath the floor")
        if thread:
            words.append(f"{thread} bolts")
        if more:
            words.append(f"{more} more bolts near its corners and edges")
        yield listed(words), _changed(group, (washer, plate, thread), places[:more])


def _effort(way: tuple[float, float, str, int]) -> tuple[float, float, float]:
    washer, plate, thread, more = way
    work = WASHERS.index(washer) + PLATES.index(plate) + 2.0 * bool(thread) + 1.5 * more
    return work, washer, plate


def _changed(group: Group, way: tuple[float, float, str], further: Sequence[Point]) -> Group:
    washer, plate, thread = way
    grips = []
    for grip in group.grips:
        assert isinstance(grip, Grip)
        usual = LARGE_WASHERS[round(float((thread or grip.thread)[1:]))]
        grips.append(
            dataclasses.replace(
                grip,
                thread=thread or grip.thread,
                washer=max(grip.washer, washer, usual if thread else 0.0),
                plate=max(grip.plate, plate),
            )
        )
    new = dataclasses.replace(grips[0], rating_n=None)
    return dataclasses.replace(
        group,
        points=(*group.points, *further),
        names=(*group.names, *(f"new bolt {i}" for i in range(1, len(further) + 1))),
        grips=(*grips, *(new,) * len(further)),
    )


def _further_places(group: Group) -> list[Point]:
    """Where more bolts could go: inside the footprint's corners, then along its long sides."""
    xs, ys = [x for x, _ in group.corners], [y for _, y in group.corners]
    x0, x1, y0, y1 = min(xs) + INSET, max(xs) - INSET, min(ys) + INSET, max(ys) - INSET
    xm, ym = (x0 + x1) / 2.0, (y0 + y1) / 2.0
    wanted = [(x0, y0), (x1, y1), (x0, y1), (x1, y0), (xm, y0), (xm, y1), (x0, ym), (x1, ym)]
    found: list[Point] = []
    for place in wanted:
        near = [*group.points, *found]
        if all(abs(place[0] - x) + abs(place[1] - y) >= APART for x, y in near):
            found.append(place)
    return found


def stronger_joint(subject: Subject, group: Group, cases: Sequence[Case]) -> str:
    """More screws between base and sides, or bolted angles, that hold; as a sentence."""
    asked = ("joint", group, tuple(cases))
    return subject.memory.recall(asked, partial(_stronger_joint, subject, group, tuple(cases)))


def _stronger_joint(subject: Subject, group: Group, cases: tuple[Case, ...]) -> str:
    for times, words in ((2, "twice as many screws"), (3, "three times as many screws")):
        more = dataclasses.replace(
            group,
            points=group.points * times,
            names=group.names * times,
            grips=group.grips * times,
        )
        used = worst(subject, more, cases)
        if used is not None and used.share <= 1.0:
            return f"It would hold with {words} ({100.0 * used.share:.0f} %)."
    screw = group.grips[0]
    assert not isinstance(screw, Grip)
    grip = Grip(
        thread="M6",
        grade="8.8",
        washer=LARGE_WASHERS[6],
        board=screw.through,
        density_kg_m3=screw.density_kg_m3,
        into=None,
    )
    used = None
    for count in ANGLE_BOLTS:
        changed = _angled(group, grip, count)
        used = worst(subject, changed, cases)
        if used is not None and used.share <= 1.0:
            return _angle_words(count, used)
    return _to_floor(subject, group, grip, cases)


def _to_floor(subject: Subject, group: Group, grip: Grip, cases: tuple[Case, ...]) -> str:
    """The sides bolted straight to further points of the floor by angles, base or no base."""
    floor = subject.restraint.floor
    bolt = dataclasses.replace(
        grip, thread="M8", into="nut", sheet=floor.sheet, sheet_mpa=floor.strength
    )
    bolt = dataclasses.replace(bolt, washer=WASHERS[1], plate=PLATES[1])
    places = _further_places(group)
    for more in MORE_BOLTS[1:]:
        if more > len(places):
            break
        changed = dataclasses.replace(
            group,
            points=(*group.points, *places[:more]),
            names=(*group.names, *("a new bolt",) * more),
            grips=(*group.grips, *(bolt,) * more),
        )
        used = worst(subject, changed, cases)
        if used is not None and used.share <= 1.0:
            return (
                f"It would hold with steel angles from its sides to {more} further M8 bolts in the "
                f"floor near its corners and edges, 40 mm washers above and 60 mm plates below "
                f"({100.0 * used.share:.0f} %)."
            )
    return "No more screws or steel angles here would hold it: carry less in it."


def _angled(group: Group, grip: Grip, count: int) -> Group:
    """The joint made by steel angles with bolts at an even choice of the screws' places."""
    ordered = sorted(set(group.points))
    count = min(count, len(ordered))
    step = (len(ordered) - 1) / max(1, count - 1)
    points = tuple(ordered[round(i * step)] for i in range(count))
    return dataclasses.replace(
        group, points=points, names=("an angle's bolt",) * count, grips=(grip,) * count
    )


def _angle_words(count: int, used: Used) -> str:
    return (
        f"It would hold with steel angles between base and sides, {count} M6 bolts with large "
        f"washers through the base ({100.0 * used.share:.0f} %)."
    )
