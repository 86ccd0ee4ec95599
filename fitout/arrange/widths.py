"""Across: walls, wheel arches, the opening's jambs, who is left or right of whom."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Set

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
from fitout.survey.room import half_width, opening_half_width

TOP_BAND = 40.0
"""The uppermost part of a bin along the wall, whose wall distance is the bin's width, mm."""

EASE = 8.0
"""What stands in the middle gets the width it likes before what lies along a wall."""


def widths(
    puzzle: Puzzle, z: Mapping[str, Span], x: Mapping[str, Span]
) -> tuple[dict[str, Span], tuple[Conflict, ...]]:
    """Each module's right and left end (y), and what collides."""
    wishes: list[Wish] = []
    goals: list[Goal] = []
    for ask in puzzle.asks:
        more, wanted = size_wishes(ask, ask.needs.y, "width")
        wishes += more
        # What lies along a wall takes what the middle leaves.
        ease = 1.0 if ask.needs.lateral in ("left wall", "right wall") else EASE
        goals += over(puzzle, ask, wanted, ease)
        wishes += _limits(puzzle, ask, z[ask.name], x[ask.name])
        wishes += _between_posts(puzzle, ask, z, x)
    for left, right, (who, key) in _order(puzzle, z, x):
        gap = max(2.0 * puzzle.setting.rules.parts, left.needs.gap or 0.0, right.needs.gap or 0.0)
        wishes.append(
            Wish(
                text=f"{right.name} stands to the right of {left.name}",
                line=low(left) - high(right) - gap,
                weight=RELATION_WEIGHT,
                path=path(who, key),
                gives=bool(key),
            )
        )
    goals += _balance(puzzle, z, x)
    at = solve(wishes, goals)
    return spans(puzzle, at), conflicts("across", wishes, at)


def _limits(puzzle: Puzzle, ask: Ask, z: Span, x: Span) -> Iterator[Wish]:
    bay, rules = puzzle.setting.bay, puzzle.setting.rules
    lateral = ask.needs.lateral
    for side, end, sign in (("left", high(ask), 1.0), ("right", low(ask), -1.0)):
        if lateral == f"{side} wall":
            outer = half_width(bay, side, x, (z[1] - TOP_BAND, z[1]), arches=False)
            yield Wish(
                text=f"{ask.name} reaches to the {side} wall, {outer:.0f} from the centre line",
                line=(Line((), sign * (outer - rules.scribed)) - end),
                equal=True,
                weight=LIMIT_WEIGHT,
                path=("bay",),
                gives=False,
            )
            continue
        arches = lateral != "across" or not ask.needs.z.fills
        clear = max(rules.wall, ask.needs.gap or 0.0)
        offset = half_width(bay, side, x, z, arches=arches, clear=clear)
        text = f"the {side} wall or wheel arch, {offset + clear:.0f} from the centre line"
        if ask.needs.opens_rear:
            jamb = opening_half_width(bay, side, *z) - 2.0 * rules.moving
            if jamb < offset:
                offset = jamb
                text = f"the opening's {side} jamb, {jamb + 2.0 * rules.moving:.0f} from the centre"
        line = Line((), offset) - end if side == "left" else end + offset
        yield Wish(
            text=f"{ask.name} stays clear of {text}",
            line=line,
            weight=LIMIT_WEIGHT,
            path=("bay",),
            gives=False,
        )


def _between_posts(
    puzzle: Puzzle, ask: Ask, z: Mapping[str, Span], x: Mapping[str, Span]
) -> Iterator[Wish]:
    """What stands where a barrier's posts do stays between them."""
    bay, rules = puzzle.setting.bay, puzzle.setting.rules
    for other in puzzle.asks:
        width, ahead = other.needs.ends
        rear, front = x[other.name]
        beside = min(x[ask.name][1], front + ahead) - max(x[ask.name][0], rear) > 1e-6
        if other is ask or not width or not beside or not _overlap(z, ask, other):
            continue
        for side, end, sign in (("left", high(ask), 1.0), ("right", low(ask), -1.0)):
            wall = half_width(bay, side, (rear, front + ahead), z[other.name], clear=rules.wall)
            inner = wall - width - 2.0 * rules.parts
            yield Wish(
                text=f"{ask.name} stays between the posts of {other.name}, {inner:.0f} from the "
                f"centre line on the {side}",
                line=Line((), inner) - end if sign > 0.0 else end + inner,
                weight=RELATION_WEIGHT,
                path=("bay",),
                gives=False,
            )


def _order(
    puzzle: Puzzle, z: Mapping[str, Span], x: Mapping[str, Span]
) -> Iterator[tuple[Ask, Ask, tuple[Ask, str]]]:
    """(left, right, (who asked, by which entry)) for every pair side by side."""
    told: set[tuple[str, str]] = set()
    for ask in puzzle.asks:
        for key, name, is_left in (
            ("left_of", ask.spec.left_of, True),
            ("right_of", ask.spec.right_of, False),
        ):
            for other in puzzle.named(name) if name else ():
                left, right = (ask, other) if is_left else (other, ask)
                told.add((left.name, right.name))
                yield left, right, (ask, key)
    rank = _ranks(puzzle, told)
    listed = [a for a in puzzle.asks if a.needs.lateral != "across"]
    for first, second in itertools.combinations(listed, 2):
        beside = _overlap(z, first, second) and _overlap(x, first, second)
        left, right = sorted((first, second), key=lambda a: rank[a.name])
        if beside and not {(left.name, right.name), (right.name, left.name)} & told:
            yield left, right, (first, "")


def _ranks(puzzle: Puzzle, told: Set[tuple[str, str]]) -> dict[str, tuple[int, ...]]:
    """Who is further left: smaller first.

    What lies along a wall is outermost; the others follow the design's order, what is told
    to stand left of a module just before it; what stands on a module keeps its place.
    """
    base = {a.name: _base(puzzle, a) for a in puzzle.asks}
    before: dict[str, list[str]] = {a.name: [] for a in puzzle.asks}
    for left, right in sorted(told):
        on_one = base[left] is base[right]
        before[right if on_one else base[right].name].append(left if on_one else base[left].name)
    sequence: dict[str, int] = {}

    def visit(name: str, waiting: tuple[str, ...]) -> None:
        for left in before[name]:
            if left not in sequence and left not in waiting:
                visit(left, (*waiting, name))
        sequence.setdefault(name, len(sequence))

    for ask in puzzle.asks:
        visit(ask.name, ())
    walls = {"left wall": 0, "right wall": 2}
    own = {a.name: (walls.get(a.needs.lateral, 1), sequence[a.name]) for a in puzzle.asks}
    return {name: (*own[base[name].name], *place) for name, place in own.items()}


def _base(puzzle: Puzzle, ask: Ask) -> Ask:
    """What a module stands on, down to the floor."""
    passed = [ask.name]
    below = puzzle.below(ask)
    while below and below[0].name not in passed:
        ask = below[0]
        passed.append(ask.name)
        below = puzzle.below(ask)
    return ask


def _overlap(spans_of: Mapping[str, Span], a: Ask, b: Ask) -> bool:
    (a0, a1), (b0, b1) = spans_of[a.name], spans_of[b.name]
    return min(a1, b1) - max(a0, b0) > 1e-6


def _along_walls(puzzle: Puzzle) -> Iterator[Goal]:
    """What lies along a wall reaches for the middle, both sides alike."""
    for ask in puzzle.asks:
        if ask.needs.lateral == "left wall":
            yield Goal(low(ask) + FAR, 0.25)
        elif ask.needs.lateral == "right wall":
            yield Goal(high(ask) - FAR, 0.25)
    for a, b in itertools.combinations(puzzle.asks, 2):
        if {a.needs.lateral, b.needs.lateral} == {"left wall", "right wall"}:
            yield Goal((high(a) - low(a)) - (high(b) - low(b)), 0.125)


def _balance(puzzle: Puzzle, z: Mapping[str, Span], x: Mapping[str, Span]) -> Iterator[Goal]:
    """The whole stands in the middle; modules that fill share evenly."""
    middle = [a for a in puzzle.asks if a.needs.lateral == "middle" and not puzzle.below(a)]
    for ask in puzzle.asks:
        if ask.needs.lateral == "across":
            yield Goal(low(ask) + high(ask), 1.0)
        elif puzzle.below(ask):
            below = puzzle.below(ask)
            yield Goal(low(ask) + high(ask) - low(below[-1]) - high(below[0]), 0.5)
    total = Line(())
    for ask in middle:
        total = total + low(ask) + high(ask)
    if middle:
        yield Goal(total, 0.5)
    yield from _along_walls(puzzle)
    fillers = [a for a in middle if a.needs.y.fills]
    for a, b in itertools.combinations(fillers, 2):
        if _overlap(z, a, b) and _overlap(x, a, b):
            yield Goal((high(a) - low(a)) - (high(b) - low(b)), 16.0)
