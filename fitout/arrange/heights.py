"""Upwards: what stands on what, one deck, the roof and the opening's upper edge."""

from __future__ import annotations

from fitout.arrange.puzzle import (
    LIMIT_WEIGHT,
    RELATION_WEIGHT,
    SIZE_WEIGHT,
    Ask,
    Puzzle,
    Span,
    high,
    low,
    path,
    size_wishes,
    spans,
)
from fitout.arrange.wishes import Conflict, Goal, Line, Wish, conflicts, solve, variable
from fitout.modules.deck_piece import CLEAT_HEIGHT
from fitout.survey.room import opening_top, roof_height

DECK = "deck surface"
BELOW_DECK_GAP = CLEAT_HEIGHT + 2.0
"""Room under the deck's underside for the cleats that carry it, mm."""


def heights(puzzle: Puzzle) -> tuple[dict[str, Span], float | None, tuple[Conflict, ...]]:
    """Each module's underside and top, the deck's height, and what collides."""
    wishes: list[Wish] = []
    goals: list[Goal] = []
    for ask in puzzle.asks:
        more, wanted = size_wishes(ask, ask.needs.z, "height")
        wishes += more
        if ask.needs.z.fills and ask.needs.top == "deck":
            # The deck decides how high it goes; without one, the tops beside it.
            wanted = [] if puzzle.deck_is_wished else _level_with_others(puzzle, ask)
        goals += wanted
    wishes += _stands(puzzle)
    wishes += _under_roof(puzzle)
    deck = puzzle.deck_is_wished
    if deck:
        more, wanted = _deck(puzzle)
        wishes += more
        goals += wanted
    at = solve(wishes, goals)
    return spans(puzzle, at), at[DECK] if deck else None, conflicts("upwards", wishes, at)


def _level_with_others(puzzle: Puzzle, ask: Ask) -> list[Goal]:
    others = [o for o in puzzle.asks if o.needs.top == "deck" and not o.needs.z.fills]
    return [Goal(high(ask) - high(other), 1.0) for other in others]


def _stands(puzzle: Puzzle) -> list[Wish]:
    wishes = []
    for ask in puzzle.asks:
        below = puzzle.below(ask)
        floor = puzzle.setting.bay.floor
        stand = high(below[0]) if below else Line((), floor)
        wishes.append(
            Wish(
                text=f"{ask.name} stands on {ask.spec.on or 'the floor'}",
                line=low(ask) - stand,
                equal=True,
                weight=SIZE_WEIGHT,
                path=path(ask, "on" if ask.spec.on else ""),
                gives=False,
            )
        )
    return wishes


def _under_roof(puzzle: Puzzle) -> list[Wish]:
    setting = puzzle.setting
    bay, rules = setting.bay, setting.rules
    roof = roof_height(bay, 0.0, bay.front, clear=rules.wall)
    edge = opening_top(bay) - 2.0 * rules.moving
    wishes = []
    for ask in puzzle.asks:
        if ask.needs.opens_rear:
            limit, text = edge, f"the opening's upper edge at {opening_top(bay):g}"
        else:
            limit, text = roof, f"the roof, lowest at {roof_height(bay, 0.0, bay.front):g}"
        wishes.append(
            Wish(
                text=f"{ask.name} stays under {text}",
                line=Line((), limit) - high(ask),
                weight=LIMIT_WEIGHT,
                path=("bay",),
                gives=False,
            )
        )
    return wishes


def _deck(puzzle: Puzzle) -> tuple[list[Wish], list[Goal]]:
    level = variable(DECK)
    thickness = puzzle.setting.boards["deck"].thickness
    wishes: list[Wish] = []
    for name, spec in puzzle.setting.specs.items():
        wished = getattr(spec, "level", None)
        if spec.kind == "deck" and isinstance(wished, float):
            text = f"{name}'s level of {wished:g}"
            where = ("modules", name, "level")
            line = level - wished
            wishes.append(
                Wish(text=text, line=line, equal=True, weight=RELATION_WEIGHT, path=where)
            )
    bearing = {below.name for ask in puzzle.asks for below in puzzle.below(ask)}
    for ask in puzzle.asks:
        if ask.needs.top == "deck" and ask.name not in bearing:
            text, line, equal = f"{ask.name}'s top is the deck", high(ask) - level, True
        elif ask.needs.top == "below deck":
            text, equal = f"{ask.name} stays below the deck", False
            line = level - (thickness + BELOW_DECK_GAP) - high(ask)
        else:
            continue
        wishes.append(
            Wish(
                text=text,
                line=line,
                equal=equal,
                weight=RELATION_WEIGHT,
                path=path(ask, ""),
                gives=False,
            )
        )
    # The deck lies as low as what is under it allows: more room above, a lower load.
    return wishes, [Goal(level, 1.0)]
