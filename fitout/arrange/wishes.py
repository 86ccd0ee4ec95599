"""Wishes along one direction, as labelled inequalities, and their best compromise."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import kiwisolver

from fitout.model.fault import Path

TOLERANCE = 1e-5
"""A wish broken by no more than this (mm) is met: the solver's answers are rounded to 1e-6."""

OVER_GOALS = 2000.0
"""How much more a wish of weight 1 counts than a goal of weight 1: more than all goals together
pull, and no more, since the solver takes objectives within 1e-8 of nothing for nothing, and
strengths from 1e8 on leave rounding of that size."""

Axis = Literal["upwards", "fore and aft", "across"]


@dataclass(frozen=True, slots=True)
class Line:
    """A sum of variables with coefficients, plus a constant, in mm."""

    terms: tuple[tuple[str, float], ...]
    constant: float = 0.0

    def value(self, at: Mapping[str, float]) -> float:
        """The sum for given values of the variables."""
        return self.constant + sum(factor * at[name] for name, factor in self.terms)

    def __add__(self, other: Line | float) -> Line:
        if isinstance(other, Line):
            return Line((*self.terms, *other.terms), self.constant + other.constant)
        return Line(self.terms, self.constant + other)

    def __sub__(self, other: Line | float) -> Line:
        if isinstance(other, Line):
            return self + Line(
                tuple((name, -factor) for name, factor in other.terms), -other.constant
            )
        return self + -other


def variable(name: str) -> Line:
    """One variable by itself."""
    return Line(((name, 1.0),))


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """`line` must be at least zero (or equal to zero). `text` says it in words.

    `weight` decides which wish is broken when not all can be met: the lightest. `path` is
    where the design file asks for it; `gives` marks a wish the builder could relax.
    """

    text: str
    line: Line
    equal: bool = False
    weight: float = 1.0
    path: Path = ()
    gives: bool = True

    def broken_by(self, at: Mapping[str, float]) -> float:
        """By how many mm the wish is broken."""
        value = self.line.value(at)
        return abs(value) if self.equal else max(0.0, -value)


@dataclass(frozen=True, slots=True)
class Goal:
    """Where `line` should be as near zero as the wishes leave room for."""

    line: Line
    weight: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Conflict:
    """Wishes that can't all be met: by how many mm they collide, and which could give."""

    axis: str
    by: float
    wishes: tuple[Wish, ...]

    @property
    def sentence(self) -> str:
        """The conflict in words."""
        listed = "; ".join(w.text for w in self.wishes)
        gives = [w.text for w in self.wishes if w.gives]
        cure = f" One of these could give: {'; '.join(gives)}." if gives else ""
        return (
            f"{self.axis.capitalize()}, these wishes collide by {self.by:.1f} mm: {listed}.{cure}"
        )


def solve(wishes: Sequence[Wish], goals: Sequence[Goal]) -> dict[str, float]:
    """Values of all variables: least total violation of wishes, then of goals."""
    solver = kiwisolver.Solver()
    variables: dict[str, kiwisolver.Variable] = {}

    def expression(line: Line) -> kiwisolver.Expression:
        terms = []
        for name, factor in line.terms:
            known = variables.setdefault(name, kiwisolver.Variable(name))
            terms.append(kiwisolver.Term(known, factor))
        # The solver ends the whole program on a constant that is no number.
        assert math.isfinite(line.constant), line
        return kiwisolver.Expression(terms, line.constant)

    for wish in wishes:
        relation: Literal["==", ">="] = "==" if wish.equal else ">="
        strength = wish.weight * OVER_GOALS
        solver.addConstraint(kiwisolver.Constraint(expression(wish.line), relation, strength))
    for goal in goals:
        solver.addConstraint(kiwisolver.Constraint(expression(goal.line), "==", goal.weight))
    solver.updateVariables()
    # Rounded so that the same wishes give the same bytes however the solver got there.
    return {name: round(v.value(), 6) + 0.0 for name, v in variables.items()}


def conflicts(axis: Axis, wishes: Sequence[Wish], at: Mapping[str, float]) -> tuple[Conflict, ...]:
    """The conflicts of a solution, each with the fewest wishes that can't all be met.

    The wishes that are met can all be met together; the broken ones are added to them one
    by one, and each that does not go with them is a conflict of its own.
    """
    met = [w for w in wishes if w.broken_by(at) <= TOLERANCE]
    found = []
    for wish in wishes:
        if wish.broken_by(at) <= TOLERANCE:
            continue
        together = _linked(wish, met)
        if not _collide_by([wish, *together]):
            met.append(wish)
            continue
        for other in list(together):
            without = [w for w in together if w is not other]
            if _collide_by([wish, *without]):
                together = without
        needed = [w for w in wishes if w is wish or any(w is t for t in together)]
        found.append(Conflict(axis=axis, by=_collide_by(needed), wishes=tuple(needed)))
    return tuple(found)


def _collide_by(wishes: Sequence[Wish]) -> float:
    """By how many mm wishes miss being met together; 0 when they can be."""
    at = solve(wishes, ())
    by = sum(w.broken_by(at) for w in wishes)
    return by if by > TOLERANCE else 0.0


def _linked(wish: Wish, others: Sequence[Wish]) -> list[Wish]:
    """The other wishes that share a variable with a wish, directly or through others."""
    known = {name for name, _ in wish.line.terms}
    linked: list[Wish] = []
    waiting = list(others)
    while True:
        near = [w for w in waiting if any(name in known for name, _ in w.line.terms)]
        if not near:
            return [w for w in others if any(w is t for t in linked)]
        linked += near
        waiting = [w for w in waiting if not any(w is t for t in near)]
        known.update(name for w in near for name, _ in w.line.terms)
