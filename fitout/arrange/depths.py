"""Fore and aft: rear face, seat back or front wall, what stands behind what."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from fitout.arrange.puzzle import (
    FAR,
    LIMIT_WEIGHT,
    RELATION_WEIGHT,
    Ask,
    Puzzle,
    Span,
    high,
    low,
    over,
    path,
    size_wishes,
    spans,
)
from fitout.arrange.wishes import Conflict, Goal, Line, Wish, conflicts, solve
from fitout.survey.room import clear_width, front_face, rear_face, restraint_face

BAY_ENDS = ("seat_back", "front_wall")
"""Names relations may use for what bounds the bay ahead."""


def depths(puzzle: Puzzle, z: Mapping[str, Span]) -> tuple[dict[str, Span], tuple[Conflict, ...]]:
    """Each module's rear and front end, and what collides."""
    wishes: list[Wish] = []
    goals: list[Goal] = []
    for ask in puzzle.asks:
        more, wanted = size_wishes(ask, ask.needs.x, "depth")
        wishes += more
        goals += over(puzzle, ask, wanted)
        wishes += _ends(puzzle, ask, z[ask.name])
        goals.append(_place(ask))
    for behind, ahead, reason in _order(puzzle, z):
        gap = max(2.0 * puzzle.setting.rules.parts, behind.needs.gap or 0.0, ahead.needs.gap or 0.0)
        wishes.append(
            Wish(
                text=f"{behind.name} stands behind {ahead.name}",
                line=low(ahead) - high(behind) - gap,
                weight=RELATION_WEIGHT,
                path=path(*reason),
                gives=bool(reason[1]),
            )
        )
    at = solve(wishes, goals)
    return spans(puzzle, at), conflicts("fore and aft", wishes, at)


def _ends(puzzle: Puzzle, ask: Ask, z: Span) -> Iterator[Wish]:
    bay, rules = puzzle.setting.bay, puzzle.setting.rules
    rear_gap = max(rules.wall, getattr(ask.spec, "rear_gap", 0.0))
    rear = rear_face(bay, *z, clear=rear_gap)
    seat = bay.front_kind == "seat_back"
    own_gap = max(rules.wall, ask.needs.gap or 0.0)
    front = front_face(bay, *z, clear=rules.seat if seat else own_gap)
    end = "the seat back" if seat else "the front wall"
    raised = restraint_face(bay, z[1], clear=rules.seat) + ask.needs.hollow
    if raised < front:
        front, end = raised, "the head restraints"
    yield Wish(
        text=f"{ask.name} stays {rear_gap:g} ahead of the tailgate, at {rear:.0f}",
        line=low(ask) - rear,
        weight=LIMIT_WEIGHT,
        path=("bay",),
        gives=False,
    )
    yield Wish(
        text=f"{ask.name} stays behind {end}, at {front:.0f} from the sill",
        line=Line((), front) - high(ask),
        weight=LIMIT_WEIGHT,
        path=("bay",),
        gives=False,
    )


def _place(ask: Ask) -> Goal:
    if ask.needs.place == "front":
        return Goal(high(ask) - FAR, 2.0)
    return Goal(low(ask) + FAR, 1.0)


def _order(puzzle: Puzzle, z: Mapping[str, Span]) -> Iterator[tuple[Ask, Ask, tuple[Ask, str]]]:
    """(rear, front, (who asked, by which entry)) for every pair in a known order."""
    told = set()
    for ask in puzzle.asks:
        relations = [
            ("behind", ask.spec.behind, True),
            ("in_front_of", ask.spec.in_front_of, False),
        ]
        between = getattr(ask.spec, "between", ())
        for i, name in enumerate(between):
            relations.append(("between", name, i == 0))
        for key, name, is_behind in relations:
            for other in puzzle.named(name) if name and name not in BAY_ENDS else ():
                pair = (ask, other) if is_behind else (other, ask)
                told.update({(ask.name, other.name), (other.name, ask.name)})
                yield (*pair, (ask, key))
    for ahead in puzzle.asks:
        if ahead.needs.place != "front":
            continue
        for behind in puzzle.asks:
            known = (ahead.name, behind.name) in told
            if behind.needs.place == "rear" and not known and _in_the_way(puzzle, ahead, behind, z):
                yield behind, ahead, (ahead, "")


def _in_the_way(puzzle: Puzzle, ahead: Ask, behind: Ask, z: Mapping[str, Span]) -> bool:
    """Whether a module at the front leaves no room for one at the rear to reach past it."""
    a, b = z[ahead.name], z[behind.name]
    if a[1] <= b[0] or b[1] <= a[0]:
        return False
    along_wall = behind.needs.lateral in ("left wall", "right wall")
    if ahead.needs.z.fills:
        # A barrier: its posts stand near the walls, its panel only above the deck.
        return along_wall or not puzzle.deck_is_wished
    if not along_wall:
        return True
    bay = puzzle.setting.bay
    right, left = clear_width(bay, (0.0, bay.front), b)
    width = ahead.needs.y.wanted or ahead.needs.y.least
    return width / 2.0 > min(-right, left) - behind.needs.y.least
