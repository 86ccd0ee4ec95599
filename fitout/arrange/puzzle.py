"""What the three directions share: who asks for what, sizes as wishes, spans as answers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from fitout.arrange.wishes import Goal, Line, Wish, variable
from fitout.model.design import ModuleSpec
from fitout.model.fault import Path
from fitout.modules.kind import Extent, Needs, Setting

Span = tuple[float, float]

SIZE_WEIGHT = 100.0
"""Sizes are kept before relations, relations before the bay's limits: a conflict then shows
as a module that sticks out of the bay by as many mm as the wishes collide."""

RELATION_WEIGHT = 10.0
LIMIT_WEIGHT = 1.0

SIZE_GOAL = 4.0
"""How much a module wants the size it likes, or all there is."""

FAR = 1.0e4
"""A length no bay reaches, for goals such as "as long as possible", mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """One module's entries and needs."""

    name: str
    spec: ModuleSpec
    needs: Needs


@dataclass(frozen=True, slots=True, kw_only=True)
class Puzzle:
    """All modules that need a berth, in the design's order, and their setting."""

    setting: Setting
    asks: tuple[Ask, ...]

    def named(self, name: str) -> tuple[Ask, ...]:
        """The modules a relation's name stands for: itself, or its left and right halves."""
        return tuple(a for a in self.asks if a.name in (name, f"{name} left", f"{name} right"))

    def below(self, ask: Ask) -> tuple[Ask, ...]:
        """What a module stands on; nothing where that is the floor."""
        return self.named(ask.spec.on) if ask.spec.on else ()

    @property
    def deck_is_wished(self) -> bool:
        """Whether the design asks for a deck."""
        return any(spec.kind == "deck" for spec in self.setting.specs.values())


def low(ask: Ask) -> Line:
    """The module's lower end in this direction."""
    return variable(f"{ask.name}.low")


def high(ask: Ask) -> Line:
    """The module's upper end in this direction."""
    return variable(f"{ask.name}.high")


def path(ask: Ask, key: str) -> Path:
    """Where the design file says it; the halves of a module on both sides share one place."""
    name = ask.name
    return ("modules", name, key) if key else ("modules", name)


def size_wishes(ask: Ask, extent: Extent, word: str) -> tuple[list[Wish], list[Goal]]:
    """An extent as wishes and goals on the module's size."""
    size = high(ask) - low(ask)
    given = bool(extent.given)
    wishes: list[Wish] = []
    goals: list[Goal] = []
    if extent.most is not None and extent.most == extent.least:
        text = f"{ask.name}'s {word} of {extent.least:g}"
        wishes.append(
            Wish(
                text=text,
                line=size - extent.least,
                equal=True,
                weight=SIZE_WEIGHT,
                path=path(ask, extent.given),
                gives=given,
            )
        )
        return wishes, goals
    wishes.append(
        Wish(
            text=f"{ask.name} needs at least {extent.least:.0f} of {word}",
            line=size - extent.least,
            weight=SIZE_WEIGHT,
            path=path(ask, extent.given),
            gives=False,
        )
    )
    if extent.most is not None:
        wishes.append(
            Wish(
                text=f"{ask.name} can use at most {extent.most:.0f} of {word}",
                line=Line(()) + extent.most - size,
                weight=SIZE_WEIGHT,
                gives=False,
            )
        )
    if extent.fills:
        goals.append(Goal(size - FAR, SIZE_GOAL))
    elif extent.wanted is not None:
        goals.append(Goal(size - extent.wanted, SIZE_GOAL))
    return wishes, goals


def over(puzzle: Puzzle, ask: Ask, sizes: Iterable[Goal], ease: float = 1.0) -> list[Goal]:
    """A module's goals for its size, and to lie over what it stands on.

    It would rather lie over that than fill the bay; what it stands on doesn't shrink for it.
    Where a smaller one stands on a larger is left open.
    """
    below = puzzle.below(ask)
    if not below:
        return [Goal(g.line, g.weight * ease) for g in sizes]
    return [
        *(Goal(g.line, g.weight * ease / 4.0) for g in sizes),
        Goal(low(ask) - low(below[-1]), ease * SIZE_GOAL / 2.0),
        Goal(high(ask) - high(below[0]), ease * SIZE_GOAL / 2.0),
    ]


def spans(puzzle: Puzzle, at: Mapping[str, float]) -> dict[str, Span]:
    """The modules' ends from the solver's answer."""
    return {a.name: (at[f"{a.name}.low"], at[f"{a.name}.high"]) for a in puzzle.asks}
